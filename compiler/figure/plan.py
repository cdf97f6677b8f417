"""What part of a picture a figure shows, and how large.

In: a picture, the roles of a step, the room on the page. Out: a `Plan`. All steps of a small
piece share the scale of the whole. A step of a larger one shows all that is there as large as it fits, or the part that
is worked on, where that comes out much larger.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from compiler.booklet.figuretypes import Mark
from compiler.booklet.page import MM
from compiler.figure.picture import Box, Picture, box_of, standing
from compiler.figure.roles import Roles

READABLE = 2.6
"""Points: a wire that is drawn thinner than this, in the median, asks for a part, and for a smaller one."""
_SMALL, _ROOM = 3.2, (190.0, 200.0)
"""Points: a piece is small if its wire comes out so thick where the whole of it is drawn in so much room."""
_EASY = 5.0
"""Points: where the wire of all that is there comes out so thick, no part is shown in its place."""
_WORTH_A_PART = 1.4
"""How much larger a part must come out to be shown in place of all that is there."""
_LARGEST = 8.5
"""Points: no wire is drawn thicker than this, in the median."""
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
_SIDES = 0.22
"""Share of the width kept free for words at each side; what they leave is cut off."""
_MOST_AT_SIDES = 0.34
"""Share of the width that long names may ask for at each side of an enlarged view."""
_BESIDE_WIDE = 0.1
"""The same of a view that is wide: its words stand above and below."""
LOCATOR_WIDTH, LOCATOR_HEIGHT = 0.9, 0.26
"""The most that the small whole takes under a figure, as shares of the figure's width and height."""
LOCATOR_BESIDE, LOCATOR_TALL = 0.36, 0.55
"""The same beside a figure."""
_WORTH_BESIDE = 1.2
"""How much larger a figure must come out for the small whole to stand beside it, where it is smaller."""
_BOTH = 0.6
"""Share of that thickness that is enough where both ends are shown."""
_MOST_PARTS, _APART = 3, 6.0
"""Parts that one figure shows side by side at most, and how many reaches of the largest ring they lie apart."""
GAP = 6.0
"""Points between a figure and what stands under it or beside it."""
_ABOVE, _ABOVE_WIDE = 22.0, 38.0
"""Points kept free for words above and below."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of a piece that is shown by itself."""

    nodes: tuple[int, ...]
    box: Box
    """Room of these nodes, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What is shown, and how large."""

    parts: tuple[Part, ...]
    """One, or several where a step works on ends that lie far apart."""
    stacked: bool
    """Several parts stand one below the other, else side by side."""
    scale: float
    """Points per mm."""
    at_sides: float
    """Points kept free for words at each side."""
    above: float
    """Points kept free for words above and below."""
    enlarged: bool
    """A part of the piece, not all that is there."""
    under: float
    """Points kept free for the small whole under it."""
    footer_beside: bool
    """What stands under other figures stands at the right of this one."""

    @property
    def tall(self) -> float:
        """Points that the parts are likely to take: words stand above or below, seldom both."""
        each = [part.box.height * self.scale + self.above for part in self.parts]
        return sum(each) + (len(each) - 1) * 2 * GAP if self.stacked else max(each)


def wire_of(picture: Picture) -> float:
    """The wire's diameter in the median, mm."""
    tubes = sorted(2 * loop.tube for loop in picture.loops)
    return tubes[len(tubes) // 2]


def fitting(picture: Picture, box: Box, width: float, height: float) -> float:
    """The scale at which a box fits, points per mm; for a true figure the next lower one of the ladder."""
    scale = min(max(width, 1.0) / box.width, max(height, 1.0) / box.height, _LARGEST / wire_of(picture))
    return scale if picture.schematic else _on_ladder(scale)


def _on_ladder(scale: float) -> float:
    return next((step * MM for step in _LADDER if step * MM <= scale), scale)


def plan_step(
    picture: Picture, roles: Roles, longest_name: float, width: float, height: float, bar: float
) -> Plan:
    """The plan of a step's figure; `bar` is the height in points of its scale bar, 0 where it has none."""
    wire = wire_of(picture)
    present = tuple(sorted(roles.marks))
    box = box_of(picture, present)
    whole = box_of(picture, range(len(picture.loops)))
    sides, tall = 2 * _SIDES, bar + 2 * _ABOVE
    small = wire * fitting(picture, whole, _ROOM[0] * (1 - sides), _ROOM[1] - tall) >= _SMALL

    def all_of(at_sides: float, above: float, measured: Box) -> Plan:
        scale = fitting(picture, measured, width - 2 * at_sides, height - bar - 2 * above)
        return Plan(
            parts=(Part(nodes=present, box=box),),
            stacked=False,
            scale=scale,
            at_sides=at_sides,
            above=above,
            enlarged=False,
            under=0.0,
            footer_beside=False,
        )

    if small:
        return all_of(_SIDES * width, _ABOVE, whole)
    beside = min(max(longest_name + 10.0, _SIDES * width), _MOST_AT_SIDES * width)
    margins = (beside, _ABOVE), (_BESIDE_WIDE * width, _ABOVE_WIDE)
    everything = max((all_of(*margin, box) for margin in margins), key=lambda plan: plan.scale)
    if everything.scale * wire >= _EASY:
        return everything
    focus = [node for node in present if roles.marks[node] is not Mark.PLACED] or list(present)
    worn = box_of(standing(picture), range(len(picture.loops)), signs=False)
    under = min(LOCATOR_HEIGHT * height, LOCATOR_WIDTH * width * worn.height / worn.width + 4.0) + 2 * GAP
    ways = [[focus]]
    if everything.scale * wire < READABLE:  # both ends at once would show too little
        ends = _ends(picture, focus)
        ways += [ends] if 1 < len(ends) <= _MOST_PARTS else []
        ways.append([_by_the_actor(picture, roles, focus)])
    for way in ways:
        parts = tuple(_part(picture, present, nodes) for nodes in way)
        best: Plan | None = None
        for (at_sides, above), footer_beside, stacked in product(margins, (False, True), (False, True)):
            across, down = (1, len(parts)) if stacked else (len(parts), 1)
            free_x = width - (LOCATOR_BESIDE * width + 2 * GAP if footer_beside else 0.0)
            free_x = (free_x - (across - 1) * 2 * GAP) / across - 2 * at_sides / across
            free_y = height - bar - (0.0 if footer_beside else under)
            free_y = (free_y - (down - 1) * 2 * GAP) / down - 2 * above
            size = min(fitting(picture, part.box, free_x, free_y) for part in parts)
            gain = _WORTH_BESIDE if footer_beside else 1.001
            if best is None or size > gain * best.scale:
                best = Plan(
                    parts=parts,
                    stacked=stacked,
                    scale=size,
                    at_sides=at_sides / across,
                    above=above,
                    enlarged=True,
                    under=0.0 if footer_beside else under,
                    footer_beside=footer_beside,
                )
        if (
            best is not None
            and best.scale > _WORTH_A_PART * everything.scale
            and (
                best.scale * wire >= READABLE * (_BOTH if len(way) > 1 else 1.0)
                or (way is ways[-1] and len(ways) > 1)
            )
        ):
            return best
    return everything


def _part(picture: Picture, present: Sequence[int], nodes: Sequence[int]) -> Part:
    """What is there about some nodes."""
    reach = max(max(picture.loops[node].reach) for node in nodes)
    room = box_of(picture, nodes, signs=False).grown(1.3 * reach)
    shown = tuple(node for node in present if room.holds(*picture.loops[node].centre[:2]))
    return Part(nodes=shown, box=box_of(picture, shown))


def _ends(picture: Picture, nodes: Sequence[int]) -> list[list[int]]:
    """The nodes in groups that lie some rings' widths apart, from left to right; the far eye of a chain is none."""
    eyes = {node for sign in picture.signs for node in (sign.node, sign.other)}
    rings = [node for node in nodes if node not in eyes]
    nodes = [node for node in nodes if node not in eyes or _near(picture, node, rings)]
    far = _APART * max((max(picture.loops[node].reach) for node in nodes), default=0.0) or 1.0
    # In squares of that width, only nodes in the same one or in one beside it can be so near.
    squares: dict[tuple[int, int], list[int]] = {}
    for node in nodes:
        x, y, _ = picture.loops[node].centre
        squares.setdefault((math.floor(x / far), math.floor(y / far)), []).append(node)
    groups: list[list[int]] = []
    left = dict.fromkeys(nodes)
    while left:
        group = [next(iter(left))]
        del left[group[0]]
        for node in group:
            here = picture.loops[node].centre[:2]
            column, row = (math.floor(part / far) for part in here)
            beside = [(column + across, row + along) for across in (-1, 0, 1) for along in (-1, 0, 1)]
            for one in [one for square in beside for one in squares.get(square, ()) if one in left]:
                if math.dist(picture.loops[one].centre[:2], here) < far:
                    group.append(one)
                    del left[one]
        groups.append(sorted(group))
    return sorted(groups, key=lambda group: min(picture.loops[node].centre[0] for node in group))


def _near(picture: Picture, node: int, others: Sequence[int]) -> bool:
    """Whether one of the others may hold a node: their wires meet in the picture."""
    here = picture.loops[node]
    return any(
        math.dist(picture.loops[one].centre[:2], here.centre[:2])
        <= max(picture.loops[one].reach) + max(here.reach)
        for one in others
    )


def _by_the_actor(picture: Picture, roles: Roles, focus: Sequence[int]) -> list[int]:
    """Those of some nodes that lie round the first ring that is opened, some rings' widths away at most."""
    if roles.actor < 0:
        return list(focus)
    x, y, _ = picture.loops[roles.actor].centre
    far = 5 * max(picture.loops[roles.actor].reach)
    return [node for node in focus if math.dist(picture.loops[node].centre[:2], (x, y)) <= far]
