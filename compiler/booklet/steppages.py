"""The numbered steps on their pages.

In: a booklet's material, out: parts of the flow. A step is kept on one page as long as a page can hold it. As many
steps share a page as fit with figures of the least height; then the figures of a page are made as tall as it allows.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product

from compiler.booklet.blocks import STEP_INDENT
from compiler.booklet.figuretypes import Estimate, Mark
from compiler.booklet.flow import Flow, height, runs_kept
from compiler.booklet.setting import Material, page_title, paragraphs, short
from compiler.booklet.steplayout import CAPTION_LINES, FigureRoom, StepLayout, figure_estimate, lay_step
from compiler.booklet.style import CAPTION, LEAD, SPACE_2, SPACE_3, SPACE_5
from compiler.catalogue import english
from compiler.catalogue import making_english as making
from compiler.steps import Fold, PieceWords, StepRecord

MOST_LISTED = 30
"""Steps and folds of all pieces that the contents list still names one by one."""
LEAST_BESIDE, LEAST_BELOW = 195.0, 165.0
"""Height of a figure that a step is given room for at least."""
_MORE = (0.0, 50.0, 100.0, 150.0, 200.0, 300.0)
"""Points by which the least height may grow."""
_SHARE = 0.85
"""Of what a page of its own allows a figure is at least so clear before it shares a page."""
TALLEST = 480.0
"""No figure is offered more height."""
_OWN, _MUCH = 520.0, 1.4
"""Height of a figure on a page of its own after the text; it goes there where it comes out so many times as clear."""
_LEAST = 80.0
"""Nor is any made lower than this."""
_MOST_MIXED = 2
"""On a page of so many steps each figure may stand its own way."""
_WASTE = 16.0
"""Height that a page may leave free without trying larger figures."""
_TRIES = 6
"""Times that figures are given what lower ones than allowed have left free."""
_REDRAWN = 2
"""Times that the figures of a page are drawn anew because they are too high for it."""
_LONGEST_ENTRY = 70


def step_pages(flow: Flow, material: Material) -> frozenset[Mark]:
    """The making of every piece; gives the marks in its figures that belong to no ring."""
    more: set[Mark] = set()
    shown = sum(len(piece.shown) for piece in material.words.pieces)
    for index, piece in enumerate(material.words.pieces):
        anchor = f"piece-{index + 1}"
        page_title(flow, english.piece_title(piece), anchor)
        rings = material.quantities.pieces[index].rings
        lead = making.piece_lead(len(piece.steps), rings, piece.times)
        paragraphs(flow, [lead], LEAD, first=0.0)
        for number, layout in enumerate(_layouts(flow, material, index, piece)):
            name = short(layout.entry, _LONGEST_ENTRY)
            flow.mark(f"{anchor}-step-{layout.number}", name, 1, listed=shown <= MOST_LISTED)
            _pour(flow, layout, begins=number == 0)
            more.update(layout.more)
    return frozenset(more)


def _layouts(flow: Flow, material: Material, index: int, piece: PieceWords) -> list[StepLayout]:
    """All steps of a piece, measured. Rooms are tried by estimates; figures are drawn for those chosen."""
    steps = [_Step.of(material, index, piece, shown) for shown in piece.shown]
    leasts = [each.least() for each in steps]
    least = _heights(steps, leasts)
    found: list[StepLayout] = []
    for first, stop, room in _pages(least, flow.room - SPACE_5, flow.frame.height):
        page = steps[first:stop]
        ways = [(False,) * len(page), (True,) * len(page)]
        if len(page) <= _MOST_MIXED:
            ways = list(product((False, True), repeat=len(page)))
        rooms = [
            [FigureRoom(height=tall, below=below) for below in way]
            for way in ways
            for tall in _talls(page, way, room)
        ]
        rooms.append(leasts[first:stop])
        if len(page) == 1 and page[0].bare.height() > room:
            found.append(_tall(page[0], leasts[first], room, flow.frame.height))
            continue
        if len(page) == 1:
            rooms = [each for each in rooms if _sum(_heights(page, each)) <= room] or rooms[-1:]
            own = FigureRoom(height=_OWN, below=True)
            if page[0].clear(own) > _MUCH * max(page[0].clear(each[0]) for each in rooms):
                found.append(page[0].laid(own))
                continue
        best = max(
            (rooms_of for rooms_of in rooms if _sum(_heights(page, rooms_of)) <= room),
            key=lambda rooms_of: _clear(page, rooms_of),
            default=rooms[-1],
        )
        found += _drawn(page, best, room)
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class _Step:
    """A step whose figure has no room yet."""

    material: Material
    index: int
    piece: PieceWords
    shown: StepRecord | Fold
    bare: StepLayout
    """Without a figure."""

    @staticmethod
    def of(material: Material, index: int, piece: PieceWords, shown: StepRecord | Fold) -> "_Step":
        nothing = FigureRoom(height=0.0, below=False)
        bare = lay_step(material, index, piece, shown, nothing)
        return _Step(material=material, index=index, piece=piece, shown=shown, bare=bare)

    def estimate(self, tall: float, *, below: bool) -> Estimate | None:
        return figure_estimate(self.material, self.index, self.shown, FigureRoom(height=tall, below=below))

    def height(self, tall: float, *, below: bool) -> float:
        """Height of the step with a figure in a room so tall, most likely."""
        found = self.estimate(tall, below=below)
        return self.bare.height(0.0 if found is None else min(found.height, tall), below=below)

    def clear(self, room: FigureRoom) -> float:
        """How clear a figure is in a room; 0 without a figure."""
        found = self.estimate(room.height, below=room.below)
        return 0.0 if found is None else found.clear

    def least(self) -> FigureRoom:
        """The room in which the step is lowest among those in which its figure is clear enough."""
        best = max(self.clear(FigureRoom(height=TALLEST, below=below)) for below in (False, True))
        rooms = [
            FigureRoom(height=first + more, below=below)
            for first, below in ((LEAST_BESIDE, False), (LEAST_BELOW, True))
            for more in _MORE
        ]
        enough = [room for room in rooms if self.clear(room) >= _SHARE * best]
        return min(enough or rooms, key=lambda room: self.height(room.height, below=room.below))

    def laid(self, room: FigureRoom) -> StepLayout:
        return lay_step(self.material, self.index, self.piece, self.shown, room)


def _heights(page: Sequence[_Step], rooms: Sequence[FigureRoom]) -> list[float]:
    return [step.height(room.height, below=room.below) for step, room in zip(page, rooms, strict=True)]


def _clear(page: Sequence[_Step], rooms: Sequence[FigureRoom]) -> list[float]:
    """How clear the figures of a page are, least first: the larger list is the clearer page."""
    found = [step.estimate(room.height, below=room.below) for step, room in zip(page, rooms, strict=True)]
    return sorted(round(each.clear, 3) for each in found if each is not None)


def _talls(page: Sequence[_Step], way: Sequence[bool], room: float) -> list[float]:
    """Heights that all figures of a page may have; later ones use what earlier ones leave free."""
    talls = [_tallest([step.bare for step in page], way, room)]
    for _ in range(_TRIES):
        free = room - _sum(step.height(talls[-1], below=below) for step, below in zip(page, way, strict=True))
        if free < _WASTE:
            break
        talls.append(min(math.floor(talls[-1] + free / len(page)), TALLEST))
    return talls


def _drawn(page: Sequence[_Step], rooms: Sequence[FigureRoom], room: float) -> list[StepLayout]:
    """The steps of a page; drawn once more where the figures turn out higher or much lower than estimated."""
    laid = [step.laid(each) for step, each in zip(page, rooms, strict=True)]
    free = room - _sum(layout.height() for layout in laid)
    if free < 0:
        return _smaller(page, rooms, room, laid)
    if free < _WASTE:
        return laid
    larger = [
        replace(each, height=min(each.height + math.floor(free / len(page)), TALLEST)) for each in rooms
    ]
    if _clear(page, larger) <= _clear(page, rooms):
        return laid
    again = [step.laid(each) for step, each in zip(page, larger, strict=True)]
    return again if _sum(layout.height() for layout in again) <= room else laid


def _tall(step: _Step, least: FigureRoom, first: float, full: float) -> StepLayout:
    """A step that is taller than its page: its figure stands under the end of its text where it is clearer there."""
    free = _free(step.bare, first, full) - SPACE_3 - SPACE_2 - CAPTION_LINES * CAPTION.leading
    under = FigureRoom(height=min(free, TALLEST), below=True)
    beside = FigureRoom(height=max(least.height, LEAST_BESIDE), below=False)
    own = FigureRoom(height=_OWN, below=True)
    best = under if free > _LEAST and step.clear(under) > step.clear(beside) else beside
    return step.laid(own if step.clear(own) > _MUCH * step.clear(best) else best)


def _free(layout: StepLayout, first: float, full: float) -> float:
    """Height that a step without a figure leaves free on its last page; `first` is that of its first page."""
    y, room = layout.lead, first
    for index, run in enumerate(runs_kept(layout.text)):
        need = height(run) + (run[0].gap if index else 0.0)
        if need > room - y:
            y, room, need = layout.again.height + SPACE_2, full, height(run)
        y += need
    return room - y


def _smaller(
    page: Sequence[_Step], rooms: Sequence[FigureRoom], room: float, laid: list[StepLayout]
) -> list[StepLayout]:
    """The steps of a page with lower figures, until they fit; as they are where no figure is to blame."""
    for _ in range(_REDRAWN):
        over = _sum(layout.height() for layout in laid) - room
        rooms = [
            replace(each, height=max(each.height - math.ceil(over / len(page)), _LEAST)) for each in rooms
        ]
        laid, before = [step.laid(each) for step, each in zip(page, rooms, strict=True)], laid
        if laid == before or _sum(layout.height() for layout in laid) <= room:
            break
    return laid


def _tallest(bare: Sequence[StepLayout], way: Sequence[bool], room: float) -> float:
    """The height that all figures of a page may have, to the point; `way`: which stand below."""
    low, high = _LEAST, TALLEST
    while high - low > 1.0:
        middle = (low + high) / 2
        heights = [layout.height(middle, below=below) for layout, below in zip(bare, way, strict=True)]
        if _sum(heights) <= room:
            low = middle
        else:
            high = middle
    return math.floor(low)


def _sum(heights: Iterable[float]) -> float:
    """Height of steps one below the other."""
    return sum(each + SPACE_5 for each in heights) - SPACE_5


def _pages(heights: Sequence[float], first: float, full: float) -> list[tuple[int, int, float]]:
    """The steps of each page, from one up to another, and the height of the page; the first has less."""
    pages: list[tuple[int, int, float]] = []
    start, whole, room = 0, first, first
    for number, each in enumerate(heights):
        if each > room and number > start:
            pages.append((start, number, whole))
            start, whole, room = number, full, full
        room -= each + SPACE_5
    if len(heights) > start:
        pages.append((start, len(heights), whole))
    return pages


def _pour(flow: Flow, layout: StepLayout, *, begins: bool) -> None:
    """The step on this page if there is room, else on the next; broken only if it is taller than a page.

    The first of a piece may be broken too, so that its title does not stand alone.
    """
    gap = 0.0 if flow.at_top else SPACE_5
    if layout.height() > flow.room - gap and (
        (layout.height() <= flow.frame.height and not begins) or not _worth_starting(flow, layout)
    ):
        flow.page_break()
        gap = 0.0
    y = flow.y + gap
    flow.draw(layout.head, flow.frame.x, y)
    y += layout.head.height + SPACE_2
    top = y
    page = len(flow.pages)
    flow.y = y
    for index, run in enumerate(runs_kept(layout.text)):
        need = height(run) + (run[0].gap if index and flow.y > top else 0.0)
        if need > flow.room:
            if page == len(flow.pages):
                flow.draw(layout.side, flow.frame.x + layout.side_x, top)
            flow.page_break()
            flow.draw(layout.again, flow.frame.x, flow.y)
            flow.y += layout.again.height + SPACE_2
            top = flow.y
        for part in run:
            y = flow.y + (part.gap if flow.y > top else 0.0)
            flow.draw(part.block, flow.frame.x + STEP_INDENT, y)
            flow.y = y + part.block.height
    if page == len(flow.pages):
        flow.draw(layout.side, flow.frame.x + layout.side_x, top)
        flow.y = max(flow.y, top + layout.side.height)
    if layout.below is not None:
        if layout.below.height > flow.room - SPACE_3:
            flow.page_break()
            flow.draw(layout.again, flow.frame.x, flow.y)
            flow.y += layout.again.height
        flow.y += 0.0 if flow.at_top else SPACE_3
        flow.draw(layout.below, flow.frame.x + STEP_INDENT, flow.y)
        flow.y += layout.below.height


def _worth_starting(flow: Flow, layout: StepLayout) -> bool:
    """Whether a step taller than a page may begin here: its side column and a part of its text must fit."""
    room = flow.room - SPACE_5
    return room > flow.frame.height / 2 and layout.lead + layout.side.height <= room
