"""The figures of a pattern: `FigureSource` for the booklet.

In: a weave, proved layouts of its pieces where there are any, words. Out: figures of a given size. One view serves the
steps of a piece, in which its rows lie as the steps speak of them; the finished piece, and steps that only hang
something on it, show it as it is worn.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, hypot

from compiler.booklet.figuretypes import Estimate, Extent, Figure, Mark, MarkSample
from compiler.booklet.fonts import text_width
from compiler.booklet.page import MM, Color, Item, Path, Text, moved
from compiler.booklet.style import FIGURE_LABEL, INK, NEW, PASSED
from compiler.figure.drawing import drawn, findings, sample
from compiler.figure.footer import BAR_HEIGHT, locator, scale_bar
from compiler.figure.labels import Label, half_size, label_items
from compiler.figure.level import row_family, turn_to_level
from compiler.figure.look import blend
from compiler.figure.notes import Note
from compiler.figure.picture import Box, Picture, arcs_of, box_of, standing, turned_by, turned_over
from compiler.figure.plan import (
    GAP,
    LOCATOR_BESIDE,
    LOCATOR_HEIGHT,
    LOCATOR_TALL,
    LOCATOR_WIDTH,
    Part,
    Plan,
    fitting,
    plan_step,
)
from compiler.figure.roles import Roles, roles_at
from compiler.figure.schematic import schematic
from compiler.figure.strokes import Window
from compiler.figure.true_view import true_view
from compiler.figure.words import EnglishWords, FigureWords, leads
from compiler.layout import Layout
from compiler.weave import PieceWeave, Weave

_SEEN_TURN = 0.2
"""Radians from which on it is said that a figure is turned against the way the piece is worn."""
_EDGE = 2.0
"""Points left free round a finished piece."""
_LONG_NAME = 74.0
"""Points: a name that is longer is broken into two lines."""
_MOST_NAMES = {Mark.NEW: 16, Mark.CARRIED: 16, Mark.PASSED: 8}
"""Of more rings with one mark only the first and the last are named."""


class Figures:
    """Draws the figures of a weave when they are asked for."""

    def __init__(
        self,
        weave: Weave,
        layouts: Mapping[int, Layout] | None = None,
        words: FigureWords | None = None,
        extents: Mapping[int, Extent] | None = None,
    ) -> None:
        """Layouts and sizes by piece; a layout that is not proved is not drawn, its piece gets a schematic."""
        self._weave = weave
        self._layouts = {number: each for number, each in (layouts or {}).items() if each.verdict.proved}
        self._words: FigureWords = EnglishWords(weave) if words is None else words
        self._extents = dict(extents or {})
        self._pictures: dict[int, Picture] = {}
        self._views: dict[tuple[int, int], _View | None] = {}
        self._plans: dict[tuple[int, int, float, float], Plan] = {}
        self._steps: dict[tuple[int, int, Plan, tuple[float, float] | None], Figure] = {}
        """By what is drawn: a booklet asks for many sizes while it looks for its page ends."""

    # ------------------------------------------------------------ what the booklet asks for

    def finished(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece, in tones by kind."""
        if not len(self._weave.pieces[piece]):
            return None
        picture = standing(self.picture(piece))
        box = box_of(picture, range(len(picture.loops)))
        bar = 0.0 if picture.schematic else BAR_HEIGHT
        scale = fitting(picture, box, width - 2 * _EDGE, height - 2 * _EDGE - bar)
        return self._finished(piece, picture, box, scale)

    def actual(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece in its true size; None where it is a schematic or too large."""
        if piece not in self._layouts:
            return None
        picture = standing(self.picture(piece))
        box = box_of(picture, range(len(picture.loops)))
        figure = self._finished(piece, picture, box, MM)
        return figure if figure.width <= width and figure.height <= height else None

    def _finished(self, piece: int, picture: Picture, box: Box, scale: float) -> Figure:
        weave = self._weave.pieces[piece]
        nodes = tuple(range(len(weave)))
        bar = 0.0 if picture.schematic else BAR_HEIGHT
        window, size = _window(box, scale, _EDGE, _EDGE)
        items = drawn(picture, weave, nodes, None, window)
        if not picture.schematic:
            ruler, long = scale_bar(scale)
            items, size = (*items, *moved(ruler, _EDGE, size[1])), (max(size[0], long + 4.0), size[1] + bar)
        return self._figure(picture, items, size, self._words.finished(piece), scale, picture.notes)

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:
        """The work at the end of a step."""
        view = self._view(piece, step)
        if view is None:
            return None
        plan = self._plan(view, piece, step, width, height)
        key = piece, step, plan, (width, height) if plan.enlarged else None
        if key not in self._steps:
            self._steps[key] = self._drawn(view, plan, piece, step, (width, height))
        return self._steps[key]

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate | None:
        """How large the figure of a step comes out, by its plan alone."""
        view = self._view(piece, step)
        if view is None:
            return None
        plan = self._plan(view, piece, step, width, height)
        return Estimate(scale=plan.scale, height=min(height, plan.tall + view.bar + plan.under))

    def _plan(self, view: _View, piece: int, step: int, width: float, height: float) -> Plan:
        asked = (piece, step, width, height)
        if asked not in self._plans:
            self._plans[asked] = plan_step(view.picture, view.roles, view.longest, width, height, view.bar)
        return self._plans[asked]

    def _view(self, piece: int, step: int) -> _View | None:
        if (piece, step) not in self._views:
            self._views[piece, step] = self._viewed(piece, step)
        return self._views[piece, step]

    def _viewed(self, piece: int, step: int) -> _View | None:
        weave = self._weave.pieces[piece]
        if not 1 <= step <= len(weave.steps):
            return None
        roles = roles_at(weave, step)
        if not roles.marks:
            return None
        picture, notes = self.picture(piece), self.picture(piece).notes
        family = row_family(weave, roles)
        if family < 0 and picture.stand:
            picture, notes = standing(picture), (*notes, Note.AS_WORN)
        elif family >= 0 and not picture.schematic:
            picture = turned_by(picture, turn_to_level(weave, picture, family))
            notes = (*notes, Note.LEVEL) if abs(picture.stand) > _SEEN_TURN else notes
        if roles.turned:
            picture = turned_over(picture)
        named = tuple(self._named(piece, step, roles))
        longest = max((2 * half_size(each.text, FIGURE_LABEL.size)[0] for each in named), default=0.0)
        return _View(picture=picture, roles=roles, notes=notes, named=named, longest=longest)

    def _drawn(self, view: _View, plan: Plan, piece: int, step: int, most: tuple[float, float]) -> Figure:
        weave, picture, roles, notes = self._weave.pieces[piece], view.picture, view.roles, view.notes
        shown = {node for part in plan.parts for node in part.nodes}
        if not any(sign.node in shown for sign in picture.signs):
            notes = tuple(note for note in notes if note is not Note.SIGNS)
        panels = [self._panel(view, plan, part, weave) for part in plan.parts]
        items, size = _arranged(panels, stacked=plan.stacked)
        items, size = _with_footer(items, size, picture, roles, plan, most)
        alt = self._words.step(piece, step, roles)
        return self._figure(picture, items, size, alt, plan.scale, notes, turned=roles.turned)

    def _panel(
        self, view: _View, plan: Plan, part: Part, weave: PieceWeave
    ) -> tuple[tuple[Item, ...], tuple[float, float]]:
        """One part of a figure, its words about it, and its size."""
        picture, roles = view.picture, view.roles
        window, size = _window(part.box, plan.scale, plan.at_sides, plan.above)
        items = (
            *drawn(picture, weave, part.nodes, roles, window),
            *label_items(
                _labels(picture, view.named, part.nodes),
                [picture.loops[node] for node in part.nodes],
                window,
                *size,
                obstacles=_points(findings(picture, weave, part.nodes, roles, window)),
            ),
        )
        return _trimmed(items, window, part.box)

    def extent(self, piece: int) -> Extent | None:
        """The size of the finished piece, where it was given one."""
        return self._extents.get(piece)

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
        """The piece as it is seen while its rows are woven."""
        if piece not in self._pictures:
            layout = self._layouts.get(piece)
            true = None if layout is None else true_view(self._weave, piece, layout)
            # what would show rings the other way over each other than the words say is no figure of the piece
            shown = true if true is not None and not true.wrong_over else schematic(self._weave, piece)
            self._pictures[piece] = shown
        return self._pictures[piece]

    def _figure(
        self,
        picture: Picture,
        items: tuple[Item, ...],
        size: tuple[float, float],
        alt: str,
        scale: float,
        notes: Sequence[Note],
        *,
        turned: bool = False,
    ) -> Figure:
        return Figure(
            width=size[0],
            height=size[1],
            items=items,
            alt=alt,
            schematic=picture.schematic,
            scale=None if picture.schematic else scale / MM,
            turned=turned,
            caption=" ".join(self._words.note(note) for note in notes),
        )

    def _named(self, piece: int, step: int, roles: Roles) -> list[_Named]:
        """What is named in the figure of a step: what is new, what comes in with it, what it goes through."""
        weave = self._weave.pieces[piece]
        colors = {Mark.NEW: NEW, Mark.CARRIED: blend(NEW, INK, 0.3), Mark.PASSED: blend(PASSED, INK, 0.5)}
        chosen: list[tuple[int, Color, bool]] = []
        for mark, color in colors.items():
            found = list(dict.fromkeys(leads(weave, roles.of(mark))))
            if len(found) > _MOST_NAMES[mark]:
                found = [found[0], found[-1]]
            chosen += [
                (lead, color, mark is not Mark.PASSED or not place) for place, lead in enumerate(found)
            ]
        names = self._words.names(piece, step, [lead for lead, _, _ in chosen])
        return [
            _Named(node=node, text=_lined(text), short=self._words.short(text), color=color, needed=needed)
            for (node, color, needed), text in zip(chosen, names, strict=True)
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Named:
    """A ring that is named in a figure."""

    node: int
    text: str
    """Its lines, a line feed between them."""
    short: str
    color: Color
    needed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """What the figure of a step shows, whatever its size."""

    picture: Picture
    roles: Roles
    notes: tuple[Note, ...]
    named: tuple[_Named, ...]
    longest: float
    """Points: the width of the longest name."""

    @property
    def bar(self) -> float:
        """Points: the height of the scale bar."""
        return 0.0 if self.picture.schematic else BAR_HEIGHT


def _labels(picture: Picture, named: Sequence[_Named], nodes: Sequence[int]) -> list[Label]:
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


def _lined(text: str) -> str:
    """A long name in two lines, broken at the space nearest to its middle."""
    if text_width(text, FIGURE_LABEL.face, FIGURE_LABEL.size) <= _LONG_NAME:
        return text
    spaces = [place for place, sign in enumerate(text) if sign == " " and not text[place + 1].isdigit()]
    if not spaces:
        return text
    middle = min(spaces, key=lambda place: abs(2 * place - len(text)))
    return f"{text[:middle]}\n{text[middle + 1 :]}"


def _window(box: Box, scale: float, at_sides: float, above: float) -> tuple[Window, tuple[float, float]]:
    window = Window(scale=scale, left=box.left - at_sides / scale, top=box.top + above / scale)
    return window, (box.width * scale + 2 * at_sides, box.height * scale + 2 * above)


def _arranged(
    panels: Sequence[tuple[tuple[Item, ...], tuple[float, float]]], *, stacked: bool
) -> tuple[tuple[Item, ...], tuple[float, float]]:
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


def _trimmed(
    items: tuple[Item, ...], window: Window, box: Box
) -> tuple[tuple[Item, ...], tuple[float, float]]:
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
) -> tuple[tuple[Item, ...], tuple[float, float]]:
    """The figure with its scale bar under it, and the small whole under both or at their right."""
    width, height = size
    if not picture.schematic:
        bar, long = scale_bar(plan.scale)
        left = max(0.0, (width - long) / 2)
        items, width, height = (*items, *moved(bar, left, height)), max(width, long), height + BAR_HEIGHT
    if not plan.enlarged:
        return items, (width, height)
    if plan.footer_beside:
        room = LOCATOR_BESIDE * most[0], LOCATOR_TALL * most[1]
        small, (small_width, small_height) = locator(picture, roles, [part.box for part in plan.parts], room)
        foot = max(height, small_height)
        top = (foot - small_height) / 2
        items = (*moved(items, 0.0, (foot - height) / 2), *moved(small, width + 2 * GAP, top))
        return items, (width + 2 * GAP + small_width, foot)
    room = LOCATOR_WIDTH * most[0], LOCATOR_HEIGHT * most[1]
    small, (small_width, small_height) = locator(picture, roles, [part.box for part in plan.parts], room)
    whole = max(width, small_width)
    items = moved(items, (whole - width) / 2, 0.0)
    items = (*items, *moved(small, (whole - small_width) / 2, height + 2 * GAP))
    return items, (whole, height + 2 * GAP + small_height)


def _points(items: Iterable[Item]) -> list[tuple[float, float]]:
    """Points along the paths among some items, two points apart at most."""
    found: list[tuple[float, float]] = []
    for path in items:
        if not isinstance(path, Path):
            continue
        corners = list(zip(path.points[::2], path.points[1::2], strict=True))
        for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
            parts = max(1, ceil(hypot(x2 - x1, y2 - y1) / 2))
            found += [(x1 + (x2 - x1) * part / parts, y1 + (y2 - y1) * part / parts) for part in range(parts)]
    return found
