"""The numbered steps on their pages.

In: a booklet's material, out: parts of the flow. A step is kept on one page as long as a page can hold it. The
figures of a piece are made as tall as they can be without taking more pages for it.
"""

from collections.abc import Iterable

from compiler.booklet.blocks import STEP_INDENT
from compiler.booklet.flow import Flow, height, runs_kept
from compiler.booklet.setting import Material, page_title, paragraphs, short
from compiler.booklet.steplayout import FigureRoom, StepLayout, lay_step
from compiler.booklet.style import LEAD, SPACE_2, SPACE_3, SPACE_5
from compiler.catalogue import english
from compiler.catalogue import making_english as making
from compiler.steps import PieceWords

MOST_LISTED = 30
"""Steps and folds of all pieces that the contents list still names one by one."""
WITHOUT_FIGURE = 146.0
"""Points of height that a short step takes beside its figure's: head, parts, caption."""
GROWTH = (1.6, 1.3, 1.0)
"""Heights of figures to be tried, in those of which two steps fit on a page."""
ABOVE, LOW_ABOVE = 0.8, 0.55
"""Height of figures above the text, as a share of that of figures beside it; and where that saves a page."""
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

    def laid(beside: float, above: float) -> list[StepLayout]:
        room = FigureRoom(beside=beside, above=above)
        return [lay_step(material, index, piece, shown, room) for shown in piece.shown]

    def pages(heights: Iterable[float]) -> int:
        return _pages(heights, flow.room, flow.frame.height)

    unit = (flow.frame.height - SPACE_5) / 2 - WITHOUT_FIGURE
    bare = laid(0.0, 0.0)
    counts = [pages(layout.height(growth * unit) for layout in bare) for growth in GROWTH]
    tallest = next(growth * unit for growth, count in zip(GROWTH, counts, strict=True) if count == counts[-1])
    large = laid(tallest, ABOVE * tallest)
    lower = [
        layout.height() - (1 - LOW_ABOVE / ABOVE) * (0.0 if layout.above is None else layout.above.height)
        for layout in large
    ]
    if pages(lower) < pages(layout.height() for layout in large):
        return laid(tallest, LOW_ABOVE * tallest)
    return large


def _pages(heights: Iterable[float], first: float, full: float) -> int:
    """How many pages steps of these heights take, of which the first has less height."""
    pages, room = 1, first - SPACE_5
    for each in heights:
        if each > room and room < full:
            pages, room = pages + 1, full
        room -= each + SPACE_5
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
    if layout.above is not None:
        flow.draw(layout.above, flow.frame.x + STEP_INDENT, y)
        y += layout.above.height + SPACE_3
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


def _worth_starting(flow: Flow, layout: StepLayout) -> bool:
    """Whether a step taller than a page may begin here: its side column and a part of its text must fit."""
    room = flow.room - SPACE_5
    return room > flow.frame.height / 2 and layout.lead + layout.side.height <= room
