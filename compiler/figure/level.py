"""Which way up the figures of steps stand: rows lie level in them, as the words of the steps speak of them.

In: a piece and its picture. Out: the angle by which the picture is turned for each. One view
serves all steps, until one adds rows that do not lie level in it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

from compiler.figure.picture import Picture, turned_by
from compiler.graph import Addresses
from compiler.weave import PieceWeave
from notation.statements import FamilyKind

_NEARLY_LEVEL = math.radians(12)
"""A row that slopes less than this is left as it lies."""


def row_families(piece: PieceWeave) -> tuple[int, ...]:
    """For each step, the family of rows above one another that something new belongs to, or joins; -1 for none."""
    motions = piece.motions
    found = []
    for step in piece.steps:
        made = (
            node
            for motion in range(step.first, step.stop)
            for node in (
                motions.actor[motion],
                *motions.load_node[motions.load_start[motion] : motions.load_start[motion + 1]],
            )
        )
        found.append(next((family for node in made if (family := _family(piece, node)) >= 0), -1))
    return tuple(found)


def _family(piece: PieceWeave, node: int) -> int:
    number = piece.group[node]
    while number >= 0:
        shape = piece.groups[number].shape
        if shape is not None and len(shape.widths) > 1:
            return number
        number = piece.groups[number].connector_of
    return -1


def turns(piece: PieceWeave, picture: Picture, families: Sequence[int]) -> tuple[float, ...]:
    """For each step of a piece, the angle by which its picture is turned, radians counter-clockwise.

    `families` has the family of each step, as `row_families` gives it. A piece without rows is shown as it is worn.
    """
    known = [family for family in families if family >= 0]
    if not known:
        return (picture.stand,) * len(families)
    if picture.schematic:
        return (0.0,) * len(families)
    angle = turn_to_level(piece, picture, known[0])
    more: dict[tuple[int, float], float] = {}
    found = []
    for family in families:
        if family >= 0:
            if (family, angle) not in more:
                more[family, angle] = turn_to_level(piece, turned_by(picture, angle), family)
            angle += more[family, angle]
        found.append(angle)
    return tuple(found)


def turn_to_level(piece: PieceWeave, picture: Picture, family: int) -> float:
    """By which angle the picture is turned, radians counter-clockwise, so that the rows of a flat family lie level.

    The longest row tells, by the line from its first place to its last; the turn is less than a quarter.
    """
    shape = piece.groups[family].shape
    if shape is None or shape.kind is not FamilyKind.SHEET:
        return 0.0
    addresses = Addresses(piece)
    rows: dict[int, list[int]] = defaultdict(list)
    for node, group in enumerate(piece.group):
        if group == family and piece.strand[node] == node:
            rows[addresses.of(node).row].append(node)
    longest = max(rows.values(), key=len, default=[])
    if len(longest) < 2:
        return 0.0
    (x1, y1), (x2, y2) = (picture.loops[node].centre[:2] for node in (longest[0], longest[-1]))
    slope = math.atan2(y2 - y1, x2 - x1)
    slope -= math.pi * round(slope / math.pi)
    return 0.0 if abs(slope) < _NEARLY_LEVEL else -slope
