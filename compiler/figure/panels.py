"""The figure of a step put together: its parts with their words, the small whole, the scale bar, signs of a turn.

In: a view of a piece, a plan. Out: page items from their own top left corner, and a size in points.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, hypot

from compiler.booklet.figuretypes import Mark
from compiler.booklet.fonts import text_width
from compiler.booklet.marks import over_sign, round_sign
from compiler.booklet.page import Color, Item, Path, Rectangle, Text, moved
from compiler.booklet.paths import polyline
from compiler.booklet.style import ACCENT, FIGURE_LABEL
from compiler.figure.drawing import drawn, findings
from compiler.figure.footer import BAR_HEIGHT, frame, locator, scale_bar
from compiler.figure.labels import Label, label_items
from compiler.figure.notes import Note
from compiler.figure.picture import Box, Picture, arcs_of
from compiler.figure.plan import GAP, Part, Plan, Way
from compiler.figure.roles import Roles
from compiler.figure.strokes import Window
from compiler.figure.words import SEVERAL
from compiler.weave import PieceWeave, Pose

Sized = tuple[tuple[Item, ...], tuple[float, float]]
"""Items, and the width and height that they take."""

_LONG_NAME = 74.0
"""Points: a name that is longer is broken into two lines."""
SIGN = 22.0
"""Points: the size of a sign of a change of view."""
SIGN_ROOM = SIGN + GAP
"""Points that signs of a change of view take at the left of a figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A ring that is named in a figure."""

    node: int
    text: str
    """Its lines, a line feed between them."""
    short: str
    color: Color
    needed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """What the figure of a step shows, whatever its size."""

    picture: Picture
    roles: Roles
    notes: tuple[Note, ...]
    named: tuple[Named, ...]
    longest: float
    """Points: the width of the longest name."""
    ways: tuple[Way, ...]
    over: bool
    """The work shows its other side since the step before."""
    round: bool
    """It is turned in its plane since the step before."""
    fold: Pose | None = None
    """Rings that are folded back in the step, of a figure that shows them so."""

    @property
    def bar(self) -> float:
        """Points: the height of the scale bar."""
        return 0.0 if self.picture.schematic else BAR_HEIGHT

    @property
    def signs(self) -> bool:
        """Whether a sign of a change of view stands beside it."""
        return self.over or self.round


def step_items(
    piece: PieceWeave, view: View, plan: Plan, most: tuple[float, float]
) -> tuple[tuple[Item, ...], tuple[float, float], tuple[Mark, ...]]:
    """The figure of a step, and its marks that belong to no ring; `most` is the room that it was planned for."""
    insets = [part for part in plan.way.parts if part.inset]
    panels, tagged = zip(*(_panel(view, plan, part, piece, insets) for part in plan.way.parts), strict=True)
    items, size = _arranged(panels, stacked=plan.stacked)
    items, size = _with_signs(view, _with_footer(items, size, view.picture, view.roles, plan, most))
    more: tuple[Mark, ...] = (Mark.TAG,) if any(tagged) else ()
    shown = {node for part in plan.way.parts for node in part.nodes}
    if any(SEVERAL in each.text for each in view.named if each.node in shown):
        more = (*more, Mark.BEHIND)
    return items, size, (*more, Mark.WHERE) if plan.way.enlarged else more


def _panel(
    view: View, plan: Plan, part: Part, piece: PieceWeave, insets: Sequence[Part]
) -> tuple[Sized, bool]:
    """One part of a figure, its words about it, its scale bar under it; whether numbers stand on its rings."""
    picture, roles = view.picture, view.roles
    window, size = window_of(part.box, part.scale, plan.at_sides, plan.above)
    again = {
        node for inset in insets for node in inset.nodes if inset.box.holds(*picture.loops[node].centre[:2])
    }
    named = [each for each in view.named if (each.node in again) is part.inset]
    words = label_items(
        _labels(picture, named, part.nodes),
        [picture.loops[node] for node in part.nodes],
        window,
        *size,
        obstacles=_points(
            (_outline(part.box, window),)
            if part.inset
            else findings(picture, piece, part.nodes, roles, window)
        ),
    )
    tagged = any(isinstance(item, Rectangle) for item in words)
    items = (*drawn(picture, piece, part.nodes, roles, window, part.box if part.inset else None), *words)
    if part.inset:
        items = (*items, frame(part.box, window, 1.2))
    elif again:
        items = (*items, *(frame(inset.box, window, 0.5) for inset in insets))
    items, size = _trimmed(items, window, part.box)
    sized = _over_bar(items, size, part.scale) if insets and view.bar else (items, size)
    return sized, tagged


def _outline(box: Box, window: Window) -> Path:
    """The outline of a box."""
    left, top = window.point(box.left, box.top)
    right, bottom = window.point(box.right, box.bottom)
    return polyline((left, top), (right, top), (right, bottom), (left, bottom)).close().path()


def _over_bar(items: tuple[Item, ...], size: tuple[float, float], scale: float) -> Sized:
    """With a scale bar under it."""
    bar, long = scale_bar(scale)
    width = max(size[0], long)
    items = (*moved(items, (width - size[0]) / 2, 0.0), *moved(bar, (width - long) / 2, size[1]))
    return items, (width, size[1] + BAR_HEIGHT)


def _with_signs(view: View, figure: Sized) -> Sized:
    """With the signs of a change of view at its left."""
    if not view.signs:
        return figure
    items, (width, height) = figure
    signs: list[Item] = []
    y = SIGN / 2
    for sign, shown in ((over_sign, view.over), (round_sign, view.round)):
        if shown:
            signs += sign(SIGN / 2, y, SIGN, ACCENT)
            y += SIGN + GAP
    return (*signs, *moved(items, SIGN_ROOM, 0.0)), (width + SIGN_ROOM, max(height, y - SIGN / 2 - GAP))


def _labels(picture: Picture, named: Sequence[Named], nodes: Sequence[int]) -> list[Label]:
    _, _, cover = arcs_of(picture, nodes)
    place = {node: index for index, node in enumerate(nodes)}
    return [
        Label(
            text=each.text,
            loop=picture.loops[each.node],
            color=each.color,
            covered=cover.covered(place[each.node]),
            needed=each.needed,
            short=each.short,
        )
        for each in named
        if each.node in place
    ]


def lined(text: str) -> str:
    """A long name in two lines, broken at the space nearest to its middle."""
    if text_width(text, FIGURE_LABEL.face, FIGURE_LABEL.size) <= _LONG_NAME:
        return text
    spaces = [
        place for place, sign in enumerate(text) if sign == " " and not text[place + 1 : place + 2].isdigit()
    ]
    if not spaces:
        return text
    middle = min(spaces, key=lambda place: abs(2 * place - len(text)))
    return f"{text[:middle]}\n{text[middle + 1 :]}"


def window_of(box: Box, scale: float, at_sides: float, above: float) -> tuple[Window, tuple[float, float]]:
    window = Window(scale=scale, left=box.left - at_sides / scale, top=box.top + above / scale)
    return window, (box.width * scale + 2 * at_sides, box.height * scale + 2 * above)


def _arranged(panels: Sequence[tuple[tuple[Item, ...], tuple[float, float]]], *, stacked: bool) -> Sized:
    """The parts of a figure below one another or side by side, in line by their middles."""
    items: list[Item] = []
    across = max(size[0] for _, size in panels)
    down = max(size[1] for _, size in panels)
    at = 0.0
    for part, (width, height) in panels:
        if stacked:
            items += moved(part, (across - width) / 2, at)
            at += height + 2 * GAP
        else:
            items += moved(part, at, (down - height) / 2)
            at += width + 2 * GAP
    at -= 2 * GAP
    return tuple(items), ((across, at) if stacked else (at, down))


def _trimmed(items: tuple[Item, ...], window: Window, box: Box) -> Sized:
    """The items without the room round the picture that no word has taken, and the size that is left."""
    left, top = window.point(box.left, box.top)
    right, bottom = window.point(box.right, box.bottom)
    for item in items:
        if isinstance(item, Text):
            left, top = min(left, item.x), min(top, item.y - 0.75 * item.size)
            right = max(right, item.x + text_width(item.string, item.face, item.size))
            bottom = max(bottom, item.y + 0.3 * item.size)
    left, top, right, bottom = left - 2.0, top - 2.0, right + 2.0, bottom + 2.0
    return moved(items, -left, -top), (right - left, bottom - top)


def _with_footer(
    items: tuple[Item, ...],
    size: tuple[float, float],
    picture: Picture,
    roles: Roles,
    plan: Plan,
    most: tuple[float, float],
) -> Sized:
    """The figure with its scale bar under it, and the small whole under both or at their right."""
    frames = [part.box for part in plan.way.parts if not part.inset]
    width, height = size
    if not picture.schematic and len(frames) == len(plan.way.parts):  # else each part has its own bar
        items, (width, height) = _over_bar(items, size, plan.scale)
    if not plan.way.enlarged:
        return items, (width, height)
    small, (small_width, small_height) = locator(picture, roles, frames, plan.locator(*most))
    if plan.footer_beside:
        foot = max(height, small_height)
        top = (foot - small_height) / 2
        items = (*moved(items, 0.0, (foot - height) / 2), *moved(small, width + 2 * GAP, top))
        return items, (width + 2 * GAP + small_width, foot)
    whole = max(width, small_width)
    items = moved(items, (whole - width) / 2, 0.0)
    items = (*items, *moved(small, (whole - small_width) / 2, height + 2 * GAP))
    return items, (whole, height + 2 * GAP + small_height)


def _points(items: Iterable[Item]) -> list[tuple[float, float]]:
    """Points along the paths among some items, two points apart at most, and within those that are filled."""
    found: list[tuple[float, float]] = []
    for path in items:
        if not isinstance(path, Path):
            continue
        corners = list(zip(path.points[::2], path.points[1::2], strict=True))
        for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
            parts = max(1, ceil(hypot(x2 - x1, y2 - y1) / 2))
            found += [(x1 + (x2 - x1) * part / parts, y1 + (y2 - y1) * part / parts) for part in range(parts)]
        if path.fill is not None and corners:
            found += _inside(corners)
    return found


def _inside(corners: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Points on the lines from the corners of an outline to its middle, three points apart at most."""
    mx, my = (sum(corner[axis] for corner in corners) / len(corners) for axis in (0, 1))
    found = []
    for x, y in corners:
        parts = max(1, ceil(hypot(x - mx, y - my) / 3))
        found += [(x + (mx - x) * part / parts, y + (my - y) * part / parts) for part in range(1, parts + 1)]
    return found
