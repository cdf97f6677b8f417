"""The numbered steps on their pages.

In: a booklet's material, out: parts of the flow. A step is kept on one page as long as a page can hold it. As many
steps share a page as fit with figures of the least height; then the figures of a page are made as tall as it allows.
"""

import math
from collections.abc import Iterable, Sequence
from itertools import product

from compiler.booklet.blocks import STEP_INDENT
from compiler.booklet.flow import Flow, height, runs_kept
from compiler.booklet.setting import Material, page_title, paragraphs, short
from compiler.booklet.steplayout import FigureRoom, StepLayout, lay_step
from compiler.booklet.style import LEAD, SPACE_2, SPACE_3, SPACE_5
from compiler.catalogue import english
from compiler.catalogue import making_english as making
from compiler.steps import Fold, PieceWords, StepRecord

MOST_LISTED = 30
"""Steps and folds of all pieces that the contents list still names one by one."""
LEAST_BESIDE, LEAST_BELOW = 195.0, 165.0
"""Height of a figure that a step is given room for at least."""
TALLEST = 480.0
"""No figure is offered more height."""
_LEAST = 80.0
"""Nor is any made lower than this."""
_MOST_MIXED = 2
"""On a page of so many steps each figure may stand its own way."""
_WASTE = 16.0
"""Height that a page may leave free without trying larger figures."""
_TRIES = 2
"""Times that the figures of a page are drawn anew, because they came out higher or lower than expected."""
_LONGEST_ENTRY = 70


def step_pages(flow: Flow, material: Material) -> None:
    """The making of every piece."""
    shown = sum(len(piece.shown) for piece in material.words.pieces)
    for index, piece in enumerate(material.words.pieces):
        anchor = f"piece-{index + 1}"
        page_title(flow, english.piece_title(piece), anchor)
        rings = material.quantities.pieces[index].rings
        lead = making.piece_lead(len(piece.steps), rings, piece.times)
        paragraphs(flow, [lead], LEAD, first=0.0)
        for layout in _layouts(flow, material, index, piece):
            name = short(layout.entry, _LONGEST_ENTRY)
            flow.mark(f"{anchor}-step-{layout.number}", name, 1, listed=shown <= MOST_LISTED)
            _pour(flow, layout)


def _layouts(flow: Flow, material: Material, index: int, piece: PieceWords) -> list[StepLayout]:
    """All steps of a piece, measured."""
    bare = [
        lay_step(material, index, piece, shown, FigureRoom(height=0.0, below=False)) for shown in piece.shown
    ]
    rooms = FigureRoom(height=LEAST_BESIDE, below=False), FigureRoom(height=LEAST_BELOW, below=True)
    least = [
        min((lay_step(material, index, piece, shown, room) for room in rooms), key=StepLayout.height)
        for shown in piece.shown
    ]
    found: list[StepLayout] = []
    for first, stop, room in _pages(
        [each.height() for each in least], flow.room - SPACE_5, flow.frame.height
    ):
        some = piece.shown[first:stop]
        ways = [(True,) * len(some), (False,) * len(some)]
        if len(some) <= _MOST_MIXED:
            ways = list(product((True, False), repeat=len(some)))
        made = [least[first:stop]]
        for way in ways:
            tall = _tallest(bare[first:stop], way, room)
            laid = _laid(material, index, piece, some, way, tall)
            for _ in range(_TRIES):
                free = room - _sum(layout.height() for layout in laid)
                if 0 <= free < _WASTE or (free < 0 and tall <= _LEAST):
                    break
                other = min(max(math.floor(tall + free / len(laid)), _LEAST), TALLEST)
                again = _laid(material, index, piece, some, way, other)
                if free >= 0 and _sum(layout.height() for layout in again) > room:
                    break
                tall, laid = other, again
            made.append(laid)
        found += _clearer(made, room)
    return found


def _laid(
    material: Material,
    index: int,
    piece: PieceWords,
    some: Sequence[StepRecord | Fold],
    way: Sequence[bool],
    tall: float,
) -> list[StepLayout]:
    """Steps with figures of a height, below or beside."""
    return [
        lay_step(material, index, piece, shown, FigureRoom(height=tall, below=below))
        for shown, below in zip(some, way, strict=True)
    ]


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


def _clearer(made: Sequence[list[StepLayout]], room: float) -> list[StepLayout]:
    """Of the ways to lay out the steps of a page that which fits and draws its smallest figure largest, and so on."""
    fitting = [laid for laid in made if _sum(layout.height() for layout in laid) <= room] or [made[0]]
    return max(fitting, key=lambda laid: sorted(round(layout.clearness, 3) for layout in laid))


def _sum(heights: Iterable[float]) -> float:
    """Height of steps one below the other."""
    return sum(each + SPACE_5 for each in heights) - SPACE_5


def _pages(heights: Sequence[float], first: float, full: float) -> list[tuple[int, int, float]]:
    """The steps of each page, from one up to another, and the height of the page; the first has less."""
    pages: list[tuple[int, int, float]] = []
    start, whole, room = 0, first, first
    for number, each in enumerate(heights):
        if each > room and (number > start or whole < full):
            if number > start:
                pages.append((start, number, whole))
            start, whole, room = number, full, full
        room -= each + SPACE_5
    if len(heights) > start:
        pages.append((start, len(heights), whole))
    return pages


def _pour(flow: Flow, layout: StepLayout) -> None:
    """The step on this page if there is room, else on the next; broken only if it is taller than a page."""
    gap = 0.0 if flow.at_top else SPACE_5
    if layout.height() > flow.room - gap and (
        layout.height() <= flow.frame.height or not _worth_starting(flow, layout)
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
        flow.y += 0.0 if flow.at_top else SPACE_3
        flow.draw(layout.below, flow.frame.x + STEP_INDENT, flow.y)
        flow.y += layout.below.height


def _worth_starting(flow: Flow, layout: StepLayout) -> bool:
    """Whether a step taller than a page may begin here: its side column and a part of its text must fit."""
    room = flow.room - SPACE_5
    return room > flow.frame.height / 2 and layout.lead + layout.side.height <= room
