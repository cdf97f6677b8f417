"""The beginning of a large piece: where it ends, and the piece as it is by then.

In: a piece, how many rings at most. Out: a number of its first nodes, up to the end of a row or step; the piece cut
off behind them, which is what it is after the last motion that brings one of them in. An `Outline` is what
`compiler.outline` tells of the whole by the places of the beginning.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from itertools import accumulate

from msgspec.structs import replace

from compiler.graph import Addresses
from compiler.size import Size
from compiler.weave import Group, PieceWeave, Weave
from notation.statements import FamilyKind

PART = 600
"""Rings and eyes of the beginning of a large piece, at most."""
LARGEST_PART = 2000
"""The same, where fewer are hardly linked yet: a sheet of long rows has its first links in the second."""


Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """About where the rings of a whole piece lie, seen from the front, x to the right and y up."""

    places: tuple[Point, ...]
    """By node, mm."""
    reach: tuple[float, ...]
    """By node: outer radius, mm."""
    begun: int
    """How many of them are proved."""
    size: Size
    """Of the whole, lying flat."""


def beginning_of(piece: PieceWeave) -> PieceWeave | None:
    """The beginning of a large piece; None where it is hardly woven yet, so that its places would tell nothing."""
    for most in (PART, LARGEST_PART):
        part = cut_off(piece, part_size(piece, most))
        if 2 * len(part.link_a) >= len(part):
            return part
    return None


def with_beginning(weave: Weave, index: int) -> Weave | None:
    """The weave with the beginning of a piece in its place; None where that is hardly woven yet."""
    part = beginning_of(weave.pieces[index])
    if part is None:
        return None
    return replace(weave, pieces=(*weave.pieces[:index], part, *weave.pieces[index + 1 :]))


def part_size(piece: PieceWeave, most: int = PART) -> int:
    """How many nodes the beginning of a large piece has: whole rows or steps, if there is an end of one in reach."""
    if len(piece) <= most:
        return len(piece)
    addresses = Addresses(piece)
    starts = {step.first for step in piece.steps}
    after = list(accumulate(reversed(piece.born), min))[::-1]
    before, whole, last = -1, 0, most
    for node in range(1, most + 1):
        before = max(before, piece.born[node - 1])
        if after[node] <= before:
            continue  # what comes in with one motion, or with its twin, is not torn apart
        last = node
        begins_step = any(motion in starts for motion in range(before + 1, after[node] + 1))
        if begins_step or _row(piece, addresses, node) != _row(piece, addresses, node - 1):
            whole = node
    return whole if 2 * whole >= most else last


def _row(piece: PieceWeave, addresses: Addresses, node: int) -> tuple[int, int]:
    return (piece.group[node], addresses.of(node).row if piece.kind[node] >= 0 else 0)


def cut_off(piece: PieceWeave, count: int) -> PieceWeave:
    """The piece of its first `count` nodes, with every motion before the one that brings in another."""
    if count >= len(piece):
        return piece
    stop = min(piece.born[count:])
    last = bisect_left(piece.link_motion, stop)  # links are in order of making
    steps = [
        replace(
            step, stop=min(step.stop, stop), events=tuple(each for each in step.events if each.at <= stop)
        )
        for step in piece.steps
        if step.first < stop
    ]
    members = dict(zip(piece.group[:count], piece.member[:count], strict=True))  # the last of each group
    return replace(
        piece,
        kind=piece.kind[:count],
        group=piece.group[:count],
        member=piece.member[:count],
        companion=piece.companion[:count],
        strand=piece.strand[:count],
        born=piece.born[:count],
        link_a=piece.link_a[:last],
        link_b=piece.link_b[:last],
        link_motion=piece.link_motion[:last],
        link_sign=piece.link_sign[:last],
        relations=tuple(each for each in piece.relations if each.motion < stop),
        groups=tuple(_grown(group, members.get(number, 0)) for number, group in enumerate(piece.groups)),
        findings=tuple(each for each in piece.findings if each.motion < stop),
        steps=tuple(steps),
        companionship={lead: way for lead, way in piece.companionship.items() if lead < count},
        followers={lead: to for lead, to in piece.followers.items() if lead < count},
        poses=tuple(
            each
            for each in piece.poses
            if each.at <= stop and all(node < count for node in (*each.nodes, *each.onto))
        ),
    )


def _grown(group: Group, members: int) -> Group:
    """A group with as many members; of a sheet or tube of which only whole rows are there, those rows."""
    shape = group.shape
    if shape is None or shape.kind not in (FamilyKind.SHEET, FamilyKind.TUBE):
        return group
    for rows, places in enumerate(accumulate(shape.widths), 1):
        if places == members:
            return replace(
                group, shape=replace(shape, widths=shape.widths[:rows], offsets=shape.offsets[:rows])
            )
    return group
