"""At which scale the steps of a piece are drawn.

In: pictures of a piece and the roles of its steps. Out: the one scale, points per mm, that all of them share, and what
scales are measured by: the wire, a ladder of round scales, the room that words need.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.booklet.figuretypes import Mark
from compiler.booklet.page import MM
from compiler.figure.picture import Box, Picture, box_of
from compiler.figure.roles import Roles

_WIDTH, _PAGE, _LINE = 420.0, 560.0, 17.0
"""Points: the width that scales are chosen for, on any paper; the height of a page; what a line of text takes of it."""
_WHOLE, _PART, _OWN, _LEAST = 330.0, 250.0, 460.0, 170.0
"""Points: the most height counted with for a whole piece; for what is worked on, so that two steps may share a page;
for the few steps that work on more; a step with less than the last has its figure on the next page."""
EASY, LARGEST = 5.0, 11.0
"""Points: the wire, in the median, is drawn no thinner than the first where what is worked on can be cropped, and never
thicker than the second."""
_MUCH = 1.25
"""A piece is drawn whole where what is worked on, alone, would come out less than so many times as large."""
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
BESIDE_WIDE = 0.05
"""The same of a view that is wide: its words stand above and below."""
ABOVE, ABOVE_WIDE = 22.0, 38.0
"""Points kept free for words above and below."""
ABOUT, LITTLE = 0.9, 0.5
"""Reaches of the largest ring that are shown round what is worked on; round a part of it."""


def wire_of(picture: Picture) -> float:
    """The wire's diameter in the median, mm; of a schematic, whose wire is thin, what its rings have room for."""
    tubes = sorted(2 * loop.tube for loop in picture.loops)
    return tubes[len(tubes) // 2] * (_SCHEMATIC if picture.schematic else 1.0)


def thickness(picture: Picture, node: int) -> float:
    """A wire's diameter, as that of `wire_of`."""
    return 2 * picture.loops[node].tube * (_SCHEMATIC if picture.schematic else 1.0)


def fitting(picture: Picture, box: Box, width: float, height: float, thickest: float = LARGEST) -> float:
    """The scale at which a box fits, points per mm; for a true figure the next lower one of the ladder."""
    scale = min(max(width, 1.0) / box.width, max(height, 1.0) / box.height, thickest / wire_of(picture))
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


def shown_about(
    picture: Picture, present: Sequence[int], nodes: Sequence[int], about: float
) -> tuple[int, ...]:
    """What is there about some nodes, within so many reaches of the largest."""
    room = room_about(picture, nodes, about)
    return tuple(node for node in present if room.holds(*picture.loops[node].centre[:2]))


def piece_scale(views: Sequence[tuple[Picture, Roles]], lines: Sequence[int], bar: float) -> float:
    """The scale of all steps of a piece, points per mm, from some of them and the lines that their texts take.

    As large as what is worked on in each step has room for; in those with more than could be read so, as long rows
    have, a part of it is shown. The whole piece where that is hardly smaller.
    """
    pictures = list({id(picture): picture for picture, _ in views}.values())
    wire = wire_of(pictures[0])
    most = LARGEST / wire
    left = [_PAGE - _LINE * each for each in lines]
    rooms = [_PART if free < _LEAST else min(free, _PART) for free in left]
    boxes = [(picture, _box_worked(picture, roles)) for picture, roles in views]
    shared = [_in_room(*box, height, bar) for box, height in zip(boxes, rooms, strict=True)]
    alone = [_in_room(*box, _OWN, bar) for box in boxes]
    readable = [number for number, scale in enumerate(alone) if scale * wire >= EASY]
    part = most
    if readable:
        part = min(
            most, _low([shared[number] for number in readable]), *(alone[number] for number in readable)
        )
    tall = min(_WHOLE, _low([free for free in left if free >= _LEAST] or [_WHOLE]))
    whole = min(
        _in_room(picture, box_of(picture, range(len(picture.loops))), tall, bar) for picture in pictures
    )
    scale = min(whole, most) if whole * wire >= EASY and part < _MUCH * whole else part
    return scale if pictures[0].schematic else on_ladder(scale)


def _low(values: Sequence[float]) -> float:
    """A value that a quarter of them at most lies below."""
    return sorted(values)[len(values) // 4]


def _box_worked(picture: Picture, roles: Roles) -> Box:
    return box_of(picture, shown_about(picture, sorted(roles.marks), focus_of(roles), ABOUT))


def _in_room(picture: Picture, box: Box, height: float, bar: float) -> float:
    return max(
        fitting(picture, box, _WIDTH * (1 - 2 * sides), height - bar - 2 * above)
        for sides, above in ((SIDES, ABOVE), (BESIDE_WIDE, ABOVE_WIDE))
    )
