"""The figures of a pattern: `FigureSource` for the booklet.

In: a weave, proved layouts of its pieces where there are any, words. Out: figures of a given size. One view and one
scale serve all figures of a piece; where its rings would come out too small to read, steps show the part that is
worked on, larger, with the whole piece small beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from compiler.booklet.figuretypes import Extent, Figure, Mark, MarkSample
from compiler.booklet.fonts import text_width
from compiler.booklet.page import MM, Color, Item, Path, Text, moved
from compiler.booklet.style import FIGURE_LABEL, INK, NEW, PASSED
from compiler.figure.drawing import BAR_HEIGHT, SMALL_HEIGHT, drawn, findings, locator, sample, scale_bar
from compiler.figure.labels import Label, label_items
from compiler.figure.look import blend
from compiler.figure.picture import Box, Picture, box_of
from compiler.figure.roles import Roles, roles_at
from compiler.figure.schematic import schematic
from compiler.figure.strokes import Window
from compiler.figure.true_view import true_view
from compiler.figure.words import FigureWords, PlainWords, leads
from compiler.layout import Layout
from compiler.weave import PieceWeave, Weave

_READABLE = 2.6
"""Points: a wire drawn thinner than this, in the median, asks for an enlarged view."""
_ENLARGED = 5.2
"""Points: the wire of an enlarged view."""
_LARGEST = 7.0
"""Points: no wire is drawn thicker than this."""
_MARGIN_X = 0.22
"""Share of the width kept free for words at each side; what they leave is cut off."""
_MOST_MARGIN = 0.34
"""Share of the width that long names may ask for at each side of an enlarged view."""
_MARGIN_Y = 16.0
"""Points kept free for words above and below."""
_LADDER = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.25, 1.0, 0.8, 0.6, 0.5, 0.4, 0.3, 0.25, 0.2)
"""Scales of true figures: mm on paper for one of the piece."""
_MOST_NAMES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """What part of the picture is shown, and how large."""

    nodes: tuple[int, ...]
    box: Box
    scale: float
    """Points per mm."""
    margin: float
    """Points kept free for words at each side."""
    enlarged: bool


class Figures:
    """Draws the figures of a weave when they are asked for."""

    def __init__(
        self,
        weave: Weave,
        layouts: Mapping[int, Layout] | None = None,
        words: FigureWords | None = None,
    ) -> None:
        """Layouts by piece; one that is not proved is not drawn, its piece gets a schematic."""
        self._weave = weave
        self._layouts = {number: each for number, each in (layouts or {}).items() if each.verdict.proved}
        self._words: FigureWords = PlainWords(weave) if words is None else words
        self._pictures: dict[int, Picture] = {}

    # ------------------------------------------------------------ what the booklet asks for

    def finished(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece, in tones by kind."""
        weave = self._weave.pieces[piece]
        if not len(weave):
            return None
        picture = self.picture(piece)
        nodes = tuple(range(len(weave)))
        box = box_of(picture, nodes)
        scale = self._fit(picture, box, width, height - _bar_room(picture), 2.0, 2.0)
        window, size = _window(box, scale, 2.0, 2.0)
        items = drawn(picture, weave, nodes, None, window)
        if not picture.schematic:
            items, size = _with_bar(items, size, scale)
        return Figure(
            width=size[0],
            height=size[1],
            items=items,
            alt=self._words.finished(piece),
            schematic=picture.schematic,
            scale=None if picture.schematic else scale / MM,
            caption=picture.caption,
        )

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:
        """The work at the end of a step."""
        weave = self._weave.pieces[piece]
        if not 1 <= step <= len(weave.steps):
            return None
        roles = roles_at(weave, step)
        if not roles.marks:
            return None
        picture = self.picture(piece)
        named = self._named(piece, roles)
        plan = self._plan(picture, weave, roles, width, height, _words_room(named, width))
        window, size = _window(plan.box, plan.scale, plan.margin, _MARGIN_Y)
        items = list(drawn(picture, weave, plan.nodes, roles, window))
        items += label_items(
            _labels(picture, named, plan.nodes),
            [picture.loops[node] for node in plan.nodes],
            window,
            *size,
            obstacles=_points(findings(picture, weave, plan.nodes, roles, window)),
        )
        items, size = _trimmed(items, window, plan.box, size)
        if not picture.schematic:
            placed, size = _with_bar(tuple(items), size, plan.scale)
            items = list(placed)
        if plan.enlarged:
            small, (small_width, small_height) = locator(picture, roles, plan.box, width, height)
            dx = max(0.0, (size[0] - small_width) / 2)
            shift = max(0.0, (small_width - size[0]) / 2)
            items = [*moved(tuple(items), shift, 0.0), *moved(small, dx, size[1] + 4.0)]
            size = (max(size[0], small_width), size[1] + 4.0 + small_height)
        return Figure(
            width=size[0],
            height=size[1],
            items=tuple(items),
            alt=self._words.step(piece, step, roles),
            schematic=picture.schematic,
            scale=None if picture.schematic else plan.scale / MM,
            caption=picture.caption,
        )

    def extent(self, piece: int) -> Extent | None:
        """The size of the finished piece, rings alone, where a layout is proved."""
        if piece not in self._layouts:
            return None
        box = box_of(self.picture(piece), range(len(self._weave.pieces[piece])), signs=False)
        return Extent(width_mm=box.width, height_mm=box.height)

    def key(self) -> tuple[MarkSample, ...]:
        """A sample of each mark that the steps of the pieces use."""
        used: dict[Mark, None] = {}
        for piece in self._weave.pieces:
            for step in range(1, len(piece.steps) + 1):
                roles = roles_at(piece, step)
                used.update(dict.fromkeys(roles.marks.values()))
                if roles.actor >= 0:
                    used[Mark.PATH] = None
                if len(used) == len(Mark):
                    break
        return tuple(MarkSample(mark=mark, sample=sample(mark)) for mark in Mark if mark in used)

    # ------------------------------------------------------------ how

    def picture(self, piece: int) -> Picture:
        """The piece as it is seen in all its figures."""
        if piece not in self._pictures:
            layout = self._layouts.get(piece)
            self._pictures[piece] = (
                schematic(self._weave, piece) if layout is None else true_view(self._weave, piece, layout)
            )
        return self._pictures[piece]

    def _fit(
        self, picture: Picture, box: Box, width: float, height: float, margin_x: float, margin_y: float
    ) -> float:
        """The scale at which a box fits, in points per mm; a true figure takes the next step of the ladder."""
        scale = min((width - 2 * margin_x) / box.width, (height - 2 * margin_y) / box.height)
        scale = min(scale, _LARGEST / _wire(picture))
        if picture.schematic:
            return scale
        return next((step * MM for step in _LADDER if step * MM <= scale), scale)

    def _plan(
        self, picture: Picture, weave: PieceWeave, roles: Roles, width: float, height: float, margin: float
    ) -> _Plan:
        """The whole piece where its rings come out large enough, else the part that is worked on, enlarged."""
        height -= _bar_room(picture)
        whole = box_of(picture, range(len(weave)))
        wire = _wire(picture)
        scale = self._fit(picture, whole, width, height, _MARGIN_X * width, _MARGIN_Y)
        present = tuple(sorted(roles.marks))
        all_of_it = _Plan(
            nodes=present, box=box_of(picture, present), scale=scale, margin=_MARGIN_X * width, enlarged=False
        )
        if scale * wire >= _READABLE:
            return all_of_it
        focus = [node for node in present if roles.marks[node] is not Mark.PLACED] or list(present)
        for nodes in (focus, _by_the_actor(picture, roles, focus)):  # both ends at once would show too little
            reach = max(max(picture.loops[node].reach) for node in nodes)
            room = box_of(picture, nodes, signs=False).grown(1.3 * reach)
            shown = tuple(node for node in present if room.holds(*picture.loops[node].centre[:2]))
            box = box_of(picture, shown)
            larger = self._fit(picture, box, width, (1 - SMALL_HEIGHT) * height - 10.0, margin, _MARGIN_Y)
            larger = min(larger, max(_ENLARGED / wire, scale))
            if not picture.schematic:
                larger = next((step * MM for step in _LADDER if step * MM <= larger), larger)
            if larger > 1.15 * scale and (larger * wire >= _READABLE or nodes is not focus):
                return _Plan(nodes=shown, box=box, scale=larger, margin=margin, enlarged=True)
        return all_of_it

    def _named(self, piece: int, roles: Roles) -> list[_Named]:
        """What is named in the figure of a step: what is new, what comes in with it, what it goes through."""
        weave = self._weave.pieces[piece]
        colors = {Mark.NEW: NEW, Mark.CARRIED: blend(NEW, INK, 0.3), Mark.PASSED: blend(PASSED, INK, 0.5)}
        chosen: list[tuple[int, Color]] = []
        for mark, color in colors.items():
            found = list(dict.fromkeys(leads(weave, roles.of(mark))))
            if len(found) > _MOST_NAMES or (mark is Mark.CARRIED and len(found) > _MOST_NAMES // 2):
                found = [found[0], found[-1]]
            chosen += [(lead, color) for lead in found]
        names = self._words.names(piece, [lead for lead, _ in chosen], leads(weave, roles.of(Mark.NEW)))
        return [
            _Named(node=n, text=text, color=color) for (n, color), text in zip(chosen, names, strict=True)
        ]


def _by_the_actor(picture: Picture, roles: Roles, focus: Sequence[int]) -> list[int]:
    """Those of some nodes that lie round the first ring that is opened, some rings' widths away at most."""
    if roles.actor < 0:
        return list(focus)
    x, y, _ = picture.loops[roles.actor].centre
    far = 5 * max(picture.loops[roles.actor].reach)
    return [node for node in focus if math.dist(picture.loops[node].centre[:2], (x, y)) <= far]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Named:
    """A ring that is named in a figure."""

    node: int
    text: str
    color: Color


def _words_room(named: Sequence[_Named], width: float) -> float:
    """Points to be kept free at each side of an enlarged view for its longest name."""
    longest = max(
        (text_width(each.text, FIGURE_LABEL.face, FIGURE_LABEL.size) for each in named), default=0.0
    )
    return min(max(longest + 10.0, _MARGIN_X * width), _MOST_MARGIN * width)


def _labels(picture: Picture, named: Sequence[_Named], nodes: Sequence[int]) -> list[Label]:
    cover = picture.cover.among(nodes, len(picture.loops))
    place = {node: index for index, node in enumerate(nodes)}
    return [
        Label(
            text=each.text,
            loop=picture.loops[each.node],
            color=each.color,
            covered=cover.covered(place[each.node]),
        )
        for each in named
        if each.node in place
    ]


def _window(box: Box, scale: float, margin_x: float, margin_y: float) -> tuple[Window, tuple[float, float]]:
    window = Window(scale=scale, left=box.left - margin_x / scale, top=box.top + margin_y / scale)
    return window, (box.width * scale + 2 * margin_x, box.height * scale + 2 * margin_y)


def _bar_room(picture: Picture) -> float:
    """Points of height that the scale bar takes."""
    return 0.0 if picture.schematic else BAR_HEIGHT


def _with_bar(
    items: tuple[Item, ...], size: tuple[float, float], scale: float
) -> tuple[tuple[Item, ...], tuple[float, float]]:
    """The figure with a scale bar under its left end."""
    bar, width = scale_bar(scale)
    return (*items, *moved(bar, 2.0, size[1])), (max(size[0], width + 4.0), size[1] + BAR_HEIGHT)


def _trimmed(
    items: list[Item], window: Window, box: Box, size: tuple[float, float]
) -> tuple[list[Item], tuple[float, float]]:
    """The items without the room at the sides that no word has taken, and the size that is left."""
    left, _ = window.point(box.left, box.top)
    right, _ = window.point(box.right, box.bottom)
    for item in items:
        if isinstance(item, Text):
            left = min(left, item.x)
            right = max(right, item.x + text_width(item.string, item.face, item.size))
    left, right = max(0.0, left - 2.0), min(size[0], right + 2.0)
    return list(moved(tuple(items), -left, 0.0)), (right - left, size[1])


def _points(items: Iterable[Item]) -> list[tuple[float, float]]:
    """The points of the paths among some items."""
    return [
        (path.points[index], path.points[index + 1])
        for path in items
        if isinstance(path, Path)
        for index in range(0, len(path.points), 2)
    ]


def _wire(picture: Picture) -> float:
    """The wire's diameter in the median, mm."""
    tubes = sorted(2 * loop.tube for loop in picture.loops)
    return tubes[len(tubes) // 2]
