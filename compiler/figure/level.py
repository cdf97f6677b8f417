"""Which way up a step's figure stands: rows lie level in it, as the words of the step speak of them.

In: a piece, its picture and the roles of a step. Out: an angle by which the picture is turned for that step.
"""

from __future__ import annotations

import math
from collections import defaultdict

from compiler.booklet.figuretypes import Mark
from compiler.figure.picture import Picture
from compiler.figure.roles import Roles
from compiler.graph import Addresses
from compiler.weave import PieceWeave
from notation.statements import FamilyKind

_NEARLY_LEVEL = math.radians(12)
"""A row that slopes less than this is left as it lies."""


def row_family(piece: PieceWeave, roles: Roles) -> int:
    """The family of rows above one another that something new in a step belongs to, or joins; -1 for none."""
    for node in (*roles.of(Mark.NEW), *roles.of(Mark.CARRIED)):
        number = piece.group[node]
        while number >= 0:
            shape = piece.groups[number].shape
            if shape is not None and len(shape.widths) > 1:
                return number
            number = piece.groups[number].connector_of
    return -1


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
