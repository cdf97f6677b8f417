"""The numbered steps: beside each step's text the parts it takes, its figure, and what is in the work after it.

In: a booklet's material, out: parts of the flow. A step is kept on one page as long as a page can hold it. Where
a figure is much wider than high it stands above the text, else in the column beside it.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from compiler.booklet.before import part_line
from compiler.booklet.blocks import DISC_RADIUS, STEP_INDENT, stack, step_head
from compiler.booklet.figuretypes import Figure
from compiler.booklet.flow import Flow, Part, height, runs_kept
from compiler.booklet.fonts import metrics, text_width
from compiler.booklet.icons import icon_scale, kinds_by_name
from compiler.booklet.page import Block, Face, Group, Item, Line, Rectangle, Role, Stroke, Text
from compiler.booklet.setting import LONGEST_HEADING, Material, divided, page_title, paragraphs, short
from compiler.booklet.steptext import fold_parts, step_parts
from compiler.booklet.style import (
    ACCENT,
    CAPTION,
    HAIRLINE,
    LABEL,
    LEAD,
    PAPER,
    RULE,
    SPACE_1,
    SPACE_2,
    SPACE_3,
    SPACE_4,
    SPACE_5,
    STEP_TITLE,
)
from compiler.booklet.text import Run, plain, set_text
from compiler.catalogue import english
from compiler.catalogue import making_english as making
from compiler.messages import KindCount, KindName
from compiler.steps import Fold, PieceWords, StepRecord

SIDE_COLUMNS = 4
SIDE_WITH_FIGURE = 5
"""Columns of the grid beside a step's text."""
TALLEST_SIDE = 240.0
"""Points of height up to which the list of what a step takes stands beside its text, else before it."""
TALLEST_FIGURE = 190.0
TALLEST_WIDE_FIGURE = 170.0
"""Points of height that a figure beside and above the text may take."""
WIDE = 1.6
"""Width over height from which on a figure stands above the text."""
MOST_LISTED = 30
"""Steps and folds of all pieces that the contents list still names one by one."""
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
        for each in piece.shown:
            layout = _layout(flow, material, index, piece, each)
            name = short(layout.entry, _LONGEST_ENTRY)
            flow.mark(f"{anchor}-step-{layout.number}", name, 1, listed=shown <= MOST_LISTED)
            _pour(flow, layout)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """A step, measured."""

    number: int
    entry: str
    """Its line in the contents list."""
    head: Block
    again: Block
    """Its head on a page on which it goes on."""
    above: Block | None
    """A wide figure."""
    text: tuple[Part, ...]
    side: Block
    side_x: float


def _layout(
    flow: Flow, material: Material, index: int, piece: PieceWords, shown: StepRecord | Fold
) -> _Layout:
    frame = flow.frame
    if isinstance(shown, Fold):
        first, last = shown.first, shown.last
        title = english.title(shown.title) if shown.title is not None else making.AGAIN
    else:
        first = last = shown.number
        title = english.title(shown.title)
    title = short(title, LONGEST_HEADING)
    figure = material.figures.step(index, last, frame.column(0, SIDE_WITH_FIGURE)[1], TALLEST_FIGURE)
    above: Block | None = None
    columns = SIDE_COLUMNS
    if figure is not None and figure.width > WIDE * figure.height:
        larger = material.figures.step(index, last, frame.width - STEP_INDENT, TALLEST_WIDE_FIGURE)
        above = _figure_block(larger or figure, frame.width - STEP_INDENT)
        figure = None
    elif figure is not None:
        columns = SIDE_WITH_FIGURE
    wide = frame.column(0, 12 - columns)[1] - STEP_INDENT - SPACE_2
    side_x, side_width = frame.column(12 - columns, columns)
    if isinstance(shown, Fold):
        text = fold_parts(shown, piece, wide)
        steps = piece.steps[first - 1 : last]
        needs = _needs(material, making.NEEDS_IN_ALL, steps, side_width)
    else:
        text = step_parts(shown, wide)
        needs = _needs(material, making.NEEDS, (shown,), side_width)
    side = stack(needs, SPACE_1)
    if side.height > TALLEST_SIDE:
        text[:0] = [Part(block=block, gap=SPACE_1) for block in needs]
        needs = []
    if text:
        text[-1] = replace(text[-1], keep=True)
    text.extend(_tally(piece.steps[last - 1], wide))
    drawn = [] if figure is None else [_figure_block(figure, side_width)]
    side = stack([*([stack(needs, SPACE_1)] if needs else []), *drawn], SPACE_4)
    return _Layout(
        number=first,
        entry=making.steps_name(first, last, title),
        head=_head(first, last, title, frame.width),
        again=_head(first, last, making.continued(title), frame.width),
        above=above,
        text=tuple(text),
        side=side,
        side_x=side_x - frame.x,
    )


# ---------------------------------------------------------------- parts of a step


def _head(first: int, last: int, title: str, width: float) -> Block:
    """The number and title under a hairline."""
    head = (
        step_head(str(first), title, width, role=Role.HEADING_3)
        if first == last
        else _range_head(first, last, title, width)
    )
    rule = Line(x1=0.0, y1=0.0, x2=width, y2=0.0, stroke=Stroke(color=RULE, width=HAIRLINE))
    return Block(
        width=width,
        height=head.height + SPACE_3,
        items=(Group(role=Role.DECORATION, items=(rule,)), *head.at(0.0, SPACE_3)),
        baseline=head.baseline + SPACE_3,
    )


def _range_head(first: int, last: int, title: str, width: float) -> Block:
    """The numbers of folded steps in a lozenge with round ends, the title beside it."""
    string, size = f"{first}–{last}", 1.0 * DISC_RADIUS
    wide = text_width(string, Face.SEMIBOLD, size)
    lozenge = max(2 * DISC_RADIUS, wide + 1.4 * DISC_RADIUS)
    indent = max(STEP_INDENT, lozenge + SPACE_3)
    head = set_text(plain(title), STEP_TITLE, width - indent, role=None)
    top = DISC_RADIUS - STEP_TITLE.leading / 2
    mark: tuple[Item, ...] = (
        Rectangle(x=0.0, y=0.0, width=lozenge, height=2 * DISC_RADIUS, radius=DISC_RADIUS, fill=ACCENT),
        Text(
            x=(lozenge - wide) / 2,
            y=DISC_RADIUS + metrics(Face.SEMIBOLD).cap_height * size / 2,
            string=string,
            face=Face.SEMIBOLD,
            size=size,
            color=PAPER,
        ),
    )
    return Block(
        width=width,
        height=max(top + head.height, 2 * DISC_RADIUS),
        items=(Group(role=Role.HEADING_3, items=(*mark, *head.at(indent, top))),),
        baseline=top + head.baseline,
    )


def _needs(material: Material, head: str, steps: Sequence[StepRecord], width: float) -> list[Block]:
    """What the steps take: a heading and a line for each kind, or nothing."""
    kinds = kinds_by_name(material.weave.ring_kinds)
    scale = icon_scale(material.weave.ring_kinds)
    opens, closes = _summed(step.opens for step in steps), _summed(step.closes for step in steps)
    lines = [
        part_line(making.needs(entry, opened=opened), entry, kinds, scale, opened=opened, width=width)
        for entries, opened in ((opens, True), (closes, False))
        for entry in entries
    ]
    return [set_text(plain(head), LABEL, width), *lines] if lines else []


def _tally(after: StepRecord, width: float) -> Iterator[Part]:
    """What is in the work after a step."""
    words = making.tally(english.tally(after), after.links)
    runs = (Run(text=making.SO_FAR, face=Face.SEMIBOLD), Run(text=f" {words}"))
    for index, piece in enumerate(divided(runs)):
        yield Part(block=set_text(piece, CAPTION, width), gap=SPACE_2 if index else SPACE_3)


def _summed(counts: Iterable[tuple[KindCount, ...]]) -> list[KindCount]:
    """Counts of several steps together, in order of appearance."""
    total: dict[KindName, int] = {}
    for entries in counts:
        for entry in entries:
            total[entry.kind] = total.get(entry.kind, 0) + entry.count
    return [KindCount(kind=kind, count=count) for kind, count in total.items()]


def _figure_block(figure: Figure, width: float) -> Block:
    """A figure with its caption."""
    group: Item = Group(role=Role.FIGURE, alt=figure.alt, items=figure.items)
    drawing = Block(width=figure.width, height=figure.height, items=(group,))
    words = [figure.caption] if figure.caption else []
    if figure.turned:
        words.append(making.TURNED)
    if figure.schematic:
        words.append(making.SCHEMATIC)
    elif figure.scale is not None:
        words.append(making.TRUE_SCALE if figure.scale == 1.0 else making.scale(figure.scale))
    if not words:
        return drawing
    return stack([drawing, set_text(plain(" ".join(words)), CAPTION, width, role=Role.CAPTION)], SPACE_2)


# ---------------------------------------------------------------- onto the page


def _pour(flow: Flow, layout: _Layout) -> None:
    """The step on this page if there is room, else on the next; broken only if it is taller than a page."""
    gap = 0.0 if flow.at_top else SPACE_5
    lead = _lead(layout)
    whole = lead + max(height(layout.text), layout.side.height)
    if whole > flow.room - gap and (whole <= flow.frame.height or not _worth_starting(flow, layout)):
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
    runs = runs_kept(layout.text)
    for index, run in enumerate(runs):
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


def _lead(layout: _Layout) -> float:
    """Height of what stands above the two columns."""
    above = 0.0 if layout.above is None else layout.above.height + SPACE_3
    return layout.head.height + SPACE_2 + above


def _worth_starting(flow: Flow, layout: _Layout) -> bool:
    """Whether a step taller than a page may begin here: its side column and a part of its text must fit."""
    room = flow.room - SPACE_5
    return room > flow.frame.height / 2 and _lead(layout) + layout.side.height <= room
