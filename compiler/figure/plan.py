"""What part of a picture a figure shows.

In: a picture, the roles of a step, the scale of its piece, the room on the page. Out: the `Way`s in
which the step can be shown at it, the clearest first; a `Plan`, the first of them that fits. Where the whole
does not fit, a figure is cropped to what is worked on. Only where no way fits at the shared scale it comes out smaller.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from compiler.booklet.figuretypes import Mark
from compiler.figure.picture import Box, Picture, box_of
from compiler.figure.roles import Roles
from compiler.figure.scale import (
    ABOUT,
    ABOVE,
    ABOVE_WIDE,
    BESIDE_WIDE,
    EASY,
    LITTLE,
    SIDES,
    fitting,
    focus_of,
    on_ladder,
    room_about,
    shown_about,
    thickness,
)

_TOO_SMALL = 2.2
"""Points: what takes part with a thinner wire is drawn again, enlarged."""
_MOST_AT_SIDES = 0.34
"""Share of the width that long names may ask for at each side."""
_LOCATOR_UNDER, _LOCATOR_BESIDE = (0.9, 0.26), (0.3, 0.5)
"""The most that the small whole takes under a figure or beside it, as shares of the room's width and height."""
_LOCATOR = 200.0, 80.0
"""Points: nor is it ever wider and higher."""
_MOST_PARTS, _APART = 3, 6.0
"""Parts that one figure shows side by side at most, and how many reaches of the largest ring they lie apart."""
_NEAR = (16.0, 12.0, 8.0, 5.0, 3.0, 2.0, 1.2)
"""Reaches of a ring, or of the largest it goes through, within which what is worked on is shown with it."""
_BY_INSET = 5.0
"""Reaches of the first small ring within which others are drawn enlarged with it."""
_LARGE = 3.0
"""Reaches of that ring at most: what is larger still is seen in part."""
_FOCUS, _ENDS, _FIRST_AND_LAST, _ACTOR, _SMALLER = 0.95, 0.9, 0.8, 0.6, 0.5
"""How clear a way is beside one that shows all that is there."""
_SLACK = 1e-6
"""Points by which rounding may make a figure too large."""
GAP = 6.0
"""Points between a figure and what stands under it or beside it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of a piece that is shown by itself."""

    nodes: tuple[int, ...]
    box: Box
    """Room of these nodes, mm."""
    scale: float
    """Points per mm."""
    inset: bool = False
    """It is shown in another part already, and here once more, larger."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to show a step, whatever the room."""

    parts: tuple[Part, ...]
    enlarged: bool
    """A part of the piece, not all that is there."""
    clear: float
    """How clear it is, to be compared within a step."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What is shown, and how large."""

    way: Way
    stacked: bool
    """Several parts stand one below the other, else side by side."""
    at_sides: float
    """Points kept free for words at each side."""
    above: float
    """Points kept free for words above and below."""
    under: float = 0.0
    """Points kept free for the small whole under it."""
    footer_beside: bool = False
    """What stands under other figures stands at the right of this one."""

    @property
    def scale(self) -> float:
        """Points per mm, insets left out."""
        return self.way.parts[0].scale

    def size(self, bar: float) -> tuple[float, float]:
        """Points that the parts are likely to take, their scale bars included."""
        wide = [part.box.width * part.scale + 2 * self.at_sides for part in self.way.parts]
        insets = sum(part.inset for part in self.way.parts)
        tall = [part.box.height * part.scale + 2 * self.above for part in self.way.parts]
        gaps = (len(wide) - 1) * 2 * GAP
        if self.stacked:
            return max(wide), sum(tall) + gaps + bar * (1 + insets)
        return sum(wide) + gaps, max(tall) + bar * (1 + bool(insets))

    def locator(self, width: float, height: float) -> tuple[float, float]:
        """The most that the small whole takes in width and height, of a figure in a room of these."""
        across, down = _LOCATOR_BESIDE if self.footer_beside else _LOCATOR_UNDER
        return min(_LOCATOR[0], across * width), min(_LOCATOR[1], down * height)

    def tall(self, bar: float) -> float:
        """Points of height that it takes, most likely: words stand above or below, seldom both."""
        rows = len(self.way.parts) if self.stacked else 1
        return self.size(bar)[1] - rows * self.above + self.under


# ---------------------------------------------------------------- the ways of a step


def ways_of(picture: Picture, roles: Roles, scale: float) -> tuple[Way, ...]:
    """The ways in which a step can be shown at a scale, the clearest first."""
    present = tuple(sorted(roles.marks))
    focus = focus_of(roles)
    inset = _inset(picture, roles, focus, present, scale)

    def parts(groups: Sequence[Sequence[int]], about: float = ABOUT) -> tuple[Part, ...]:
        return tuple(_part(picture, present, nodes, scale, about) for nodes in groups)

    whole = Part(nodes=present, box=box_of(picture, present), scale=scale)
    found = [Way(parts=(whole,), enlarged=False, clear=scale)]
    found.append(Way(parts=parts([focus]), enlarged=True, clear=_FOCUS * scale))
    ends = _ends(picture, focus)
    if 1 < len(ends) <= _MOST_PARTS:
        found += [
            Way(parts=parts(ends, about), enlarged=True, clear=_ENDS * scale) for about in (ABOUT, LITTLE)
        ]
    first, last = _first_and_last(roles, focus)
    reach = max(max(picture.loops[node].reach) for node in (first, *roles.through))
    reach = min(reach, _LARGE * max(picture.loops[first].reach))
    for far in (share * reach for share in _NEAR):
        if first != last:
            both = [_near_to(picture, node, focus, far) for node in (first, last)]
            if not set(both[0]) & set(both[1]):
                shown = parts(both, LITTLE)
                clear = _FIRST_AND_LAST * _share(roles, shown) * scale
                found.append(Way(parts=shown, enlarged=True, clear=clear))
    for far in (share * reach for share in _NEAR):
        near = parts([_near_to(picture, first, focus, far)], LITTLE)
        found.append(Way(parts=near, enlarged=True, clear=_ACTOR * _share(roles, near) * scale))
    if inset is not None:
        found = [replace(way, parts=(*way.parts, inset)) for way in found] + [
            replace(way, clear=_SMALLER * way.clear) for way in found
        ]
    return tuple(found)


def _first_and_last(roles: Roles, focus: Sequence[int]) -> tuple[int, int]:
    """The first ring that is opened, and the last new one."""
    new = roles.of(Mark.NEW) or focus
    return (roles.actor if roles.actor >= 0 else new[0]), new[-1]


def _share(roles: Roles, parts: Sequence[Part]) -> float:
    """From a half to 1: the share of what comes in that is shown, half of it given to whatever is."""
    new = roles.of(Mark.NEW) or roles.of(Mark.CARRIED)
    shown = {node for part in parts for node in part.nodes}
    return 0.5 + 0.5 * sum(node in shown for node in new) / len(new) if new else 1.0


def _part(picture: Picture, present: Sequence[int], nodes: Sequence[int], scale: float, about: float) -> Part:
    """What is there about some nodes."""
    shown = shown_about(picture, present, nodes, about)
    return Part(nodes=shown, box=box_of(picture, shown), scale=scale)


def _inset(
    picture: Picture, roles: Roles, focus: Sequence[int], present: Sequence[int], scale: float
) -> Part | None:
    """What takes part in a step and is too small to be read at its scale, about the first of it; larger."""
    small = [node for node in focus if thickness(picture, node) * scale < _TOO_SMALL]
    if not small:
        return None
    first = roles.actor if roles.actor in small else small[0]
    reach = max(picture.loops[first].reach)
    room = room_about(picture, _near_to(picture, first, small, _BY_INSET * reach), ABOUT)
    shown = tuple(
        node for node in present if any(room.holds(x, y) for x, y, _ in picture.loops[node].middles())
    )
    larger = EASY / thickness(picture, first)
    larger = larger if picture.schematic else on_ladder(larger)
    return Part(nodes=shown, box=room, scale=larger, inset=True)


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


def _near_to(picture: Picture, node: int, others: Sequence[int], far: float) -> list[int]:
    """A node and those of some others that lie so far from it at most, mm."""
    x, y, _ = picture.loops[node].centre
    near = [other for other in others if math.dist(picture.loops[other].centre[:2], (x, y)) <= far]
    return near if node in near else [node, *near]


# ---------------------------------------------------------------- a step in a room


def plan_step(
    picture: Picture, ways: Sequence[Way], longest_name: float, width: float, height: float, bar: float
) -> Plan:
    """The plan of a step's figure in a room; `bar` is the height in points of its scale bar, 0 where it has none."""
    for way in ways:
        for plan in _plans(picture, way, longest_name, width, height):
            wide, tall = plan.size(bar)
            wide += plan.locator(width, height)[0] + 2 * GAP if plan.footer_beside else 0.0
            if wide <= width + _SLACK and tall + plan.under <= height + _SLACK:
                return plan
    return _smaller(picture, ways, longest_name, width, height, bar)


def _plans(picture: Picture, way: Way, longest_name: float, width: float, height: float) -> Iterator[Plan]:
    """The ways in which words and the small whole may stand about the parts."""
    beside = min(max(longest_name + 10.0, SIDES * width), _MOST_AT_SIDES * width)
    many = len(way.parts) > 1
    whole = box_of(picture, range(len(picture.loops)), signs=False)
    most = min(_LOCATOR[0], _LOCATOR_UNDER[0] * width), min(_LOCATOR[1], _LOCATOR_UNDER[1] * height)
    under = min(most[1], most[0] * whole.height / whole.width + 4.0) + 2 * GAP
    margins = (beside, ABOVE), (SIDES * width, ABOVE), (BESIDE_WIDE * width, ABOVE_WIDE)
    for footer_beside, (at_sides, above), stacked in product(
        (False, True) if way.enlarged else (False,), margins, (False, True) if many else (False,)
    ):
        yield Plan(
            way=way,
            stacked=stacked,
            at_sides=at_sides / (1 if stacked else len(way.parts)),
            above=above,
            under=under if way.enlarged and not footer_beside else 0.0,
            footer_beside=footer_beside,
        )


def _smaller(
    picture: Picture, ways: Sequence[Way], longest_name: float, width: float, height: float, bar: float
) -> Plan:
    """A plan at a smaller scale than that of the piece: that which comes out largest, rather more than less shown."""
    best: tuple[float, Plan] | None = None
    for way in (way for way in ways if len(way.parts) == 1):
        part = way.parts[0]
        for plan in _plans(picture, way, longest_name, width, height):
            free_x = width - (plan.locator(width, height)[0] + 2 * GAP if plan.footer_beside else 0.0)
            free_y = height - bar - plan.under
            size = fitting(picture, part.box, free_x - 2 * plan.at_sides, free_y - 2 * plan.above)
            size = min(size, part.scale)
            clear = _SMALLER * size * (way.clear / part.scale)
            if best is None or clear > 1.001 * best[0]:
                changed = replace(way, parts=(replace(part, scale=size),), clear=clear)
                best = clear, replace(plan, way=changed)
    assert best is not None
    return best[1]
