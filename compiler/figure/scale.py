"""At which scale the steps of a piece are drawn.

In: pictures of a piece and the roles of its steps. Out: the one scale, points per mm, that all of them share, and what
scales are measured by: the wire, a ladder of round scales, the room that words need.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.booklet.figuretypes import Mark
from compiler.booklet.page import MM
from compiler.figure.picture import Box, Picture, box_of
from compiler.figure.roles import Roles

_BESIDE, _BELOW = (190.0, 200.0), (440.0, 300.0)
"""Points: the rooms beside and below a step's text that scales are chosen for, on any paper."""
EASY, _CLEAR = 5.0, 6.5
"""Points: a piece is drawn whole where its wire, in the median, comes out so thick as the first; beside the text a
part is drawn where it comes out as thick as the second."""
_CALM, LARGEST = 7.0, 8.5
"""Points: no wire is drawn thicker than the first, in the median; than the second where the piece is small."""
_MOST_STEPS = 40
"""Steps of a piece that its scale is chosen by: some from its beginning, others spread over the rest."""
_SCHEMATIC = 1.7
"""How much thicker the wire of a schematic could be, about (see `schematic`)."""
_LADDER = (
    10.0,
    8.0,
    6.0,
    5.0,
    4.0,
    3.5,
    3.0,
    2.5,
    2.25,
    2.0,
    1.75,
    1.5,
    1.25,
    1.0,
    0.8,
    0.6,
    0.5,
    0.4,
    0.3,
    0.25,
    0.2,
)
"""Scales of true figures: mm on paper for one of the piece."""
SIDES = 0.22
"""Share of the width kept free for words at each side; what they leave is cut off."""
BESIDE_WIDE = 0.1
"""The same of a view that is wide: its words stand above and below."""
ABOVE, ABOVE_WIDE = 22.0, 38.0
"""Points kept free for words above and below."""
ABOUT, LITTLE = 1.3, 0.5
"""Reaches of the largest ring that are shown round what is worked on; round a part of it."""


def wire_of(picture: Picture) -> float:
    """The wire's diameter in the median, mm; of a schematic, whose wire is thin, what its rings have room for."""
    tubes = sorted(2 * loop.tube for loop in picture.loops)
    return tubes[len(tubes) // 2] * (_SCHEMATIC if picture.schematic else 1.0)


def thickness(picture: Picture, node: int) -> float:
    """A wire's diameter, as that of `wire_of`."""
    return 2 * picture.loops[node].tube * (_SCHEMATIC if picture.schematic else 1.0)


def fitting(picture: Picture, box: Box, width: float, height: float) -> float:
    """The scale at which a box fits, points per mm; for a true figure the next lower one of the ladder."""
    scale = min(max(width, 1.0) / box.width, max(height, 1.0) / box.height, LARGEST / wire_of(picture))
    return scale if picture.schematic else on_ladder(scale)


def on_ladder(scale: float) -> float:
    return next((step * MM for step in _LADDER if step * MM <= scale + 1e-9), scale)


def focus_of(roles: Roles) -> list[int]:
    """What a step adds or goes through; all that is there where it does neither."""
    return [node for node, mark in sorted(roles.marks.items()) if mark is not Mark.PLACED] or sorted(
        roles.marks
    )


def room_about(picture: Picture, nodes: Sequence[int], reaches: float) -> Box:
    """The room of some nodes and so many reaches of the largest round them."""
    reach = max(max(picture.loops[node].reach) for node in nodes)
    return box_of(picture, nodes, signs=False).grown(reaches * reach)


def steps_looked_at(count: int) -> list[int]:
    """Numbers of the steps that tell the scale of a piece of so many."""
    few = range(1, min(count, _MOST_STEPS // 2) + 1)
    rest = range(len(few) + 1, count + 1)
    return [*few, *rest[:: max(1, math.ceil(len(rest) / (_MOST_STEPS // 2)))]]


def piece_scale(views: Sequence[tuple[Picture, Roles]], bar: float) -> float:
    """The scale of all steps of a piece, points per mm, from some of them.

    The whole piece, beside the words of its steps or under them, where its wire is drawn clearly so; else what is
    worked on, as large as the most of the steps allow.
    """
    pictures = list({id(picture): picture for picture, _ in views}.values())
    wire = wire_of(pictures[0])
    wholes = [(picture, box_of(picture, range(len(picture.loops)))) for picture in pictures]

    def all_of(boxes: Sequence[tuple[Picture, Box]], room: tuple[float, float]) -> list[float]:
        return [_in_room(picture, box, room, bar) for picture, box in boxes]

    def rounded(scale: float) -> float:
        return scale if pictures[0].schematic else on_ladder(scale)

    whole = min(all_of(wholes, _BESIDE))
    if whole * wire >= EASY:
        return whole
    whole = min(all_of(wholes, _BELOW))
    if whole * wire >= EASY:
        return rounded(min(whole, _CALM / wire))
    worked = [(picture, room_about(picture, focus_of(roles), ABOUT)) for picture, roles in views]
    below = all_of(worked, _BELOW)
    some = [number for number, scale in enumerate(below) if scale * wire >= EASY]
    if not some:
        return rounded(_CALM / wire)
    beside = min(all_of([worked[number] for number in some], _BESIDE))
    if beside * wire >= _CLEAR:
        return rounded(min(beside, _CALM / wire))
    return rounded(min(_CALM / wire, *(below[number] for number in some)))


def _in_room(picture: Picture, box: Box, room: tuple[float, float], bar: float) -> float:
    width, height = room
    return max(
        fitting(picture, box, width * (1 - 2 * sides), height - bar - 2 * above)
        for sides, above in ((SIDES, ABOVE), (BESIDE_WIDE, ABOVE_WIDE))
    )
