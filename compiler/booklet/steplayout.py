"""A step, measured: its head, its text, the parts it takes at the right of it, its figure under either of the two.

In: a step or a fold of a piece, and the room for its figure. Out: a `StepLayout`, for `steppages` to put on a page.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from compiler.booklet.before import part_line
from compiler.booklet.blocks import DISC_RADIUS, STEP_INDENT, stack, step_head
from compiler.booklet.figuretypes import Estimate, Figure, Mark
from compiler.booklet.flow import Part, height
from compiler.booklet.fonts import metrics, text_width
from compiler.booklet.icons import Icons
from compiler.booklet.page import Block, Face, Group, Item, Line, Rectangle, Role, Stroke, Text
from compiler.booklet.setting import LONGEST_HEADING, Material, divided, short
from compiler.booklet.steptext import fold_parts, step_parts
from compiler.booklet.style import (
    ACCENT,
    BODY,
    CAPTION,
    HAIRLINE,
    LABEL,
    PAPER,
    RULE,
    SPACE_1,
    SPACE_2,
    SPACE_3,
    SPACE_4,
    STEP_TITLE,
    frame,
)
from compiler.booklet.text import Run, plain, set_text
from compiler.catalogue import english
from compiler.catalogue import making_english as making
from compiler.catalogue.nouns import unbound
from compiler.messages import KindCount, KindName
from compiler.steps import Fold, PieceWords, StepRecord

SIDE_COLUMNS = 5
"""Columns of the grid beside a step's text."""
TALLEST_SIDE = 240.0
"""Points of height up to which the list of what a step takes stands beside its text, else before it."""
CAPTION_LINES = 2
"""Lines that the caption of a figure is counted with before it is known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureRoom:
    """Where the figure of a step stands, and how tall it may be."""

    height: float
    """Points; 0 draws no figure."""
    below: bool
    """Whether it stands under text and parts, as wide as both; else in the column of the parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLayout:
    """A step, measured."""

    number: int
    entry: str
    """Its line in the contents list."""
    head: Block
    again: Block
    """Its head on a page on which it goes on."""
    text: tuple[Part, ...]
    side: Block
    side_x: float
    """From the left edge of the text area."""
    below: Block | None
    """A figure under text and side column."""
    more: tuple[Mark, ...]
    """Marks of its figure that belong to no ring."""

    @property
    def lead(self) -> float:
        """Height of what stands above the two columns."""
        return self.head.height + SPACE_2

    def height(self, figure: float = 0.0, *, below: bool = False) -> float:
        """Height of the whole step, a figure of that height and its caption added."""
        more = SPACE_2 + CAPTION_LINES * CAPTION.leading + figure if figure else 0.0
        side, under = self.side.height, 0.0 if self.below is None else SPACE_3 + self.below.height
        if more and below:
            under += SPACE_3 + more
        elif more:
            side += SPACE_4 + more
        return self.lead + max(height(self.text), side) + under


def lay_step(
    material: Material, index: int, piece: PieceWords, shown: StepRecord | Fold, room: FigureRoom
) -> StepLayout:
    """A step or fold of the piece of that index, measured."""
    area = frame(material.paper)
    if isinstance(shown, Fold):
        steps = piece.steps[shown.first - 1 : shown.last]
        title = _fold_title(shown, steps)
        takes = making.NEEDS_IN_ALL
    else:
        steps = (shown,)
        title = english.heading(shown.title)
        takes = making.NEEDS
    first, last = steps[0].number, steps[-1].number
    title = short(title, LONGEST_HEADING)
    wide = area.column(0, 12 - SIDE_COLUMNS)[1] - STEP_INDENT - SPACE_2
    side_x, side_width = area.column(12 - SIDE_COLUMNS, SIDE_COLUMNS)
    text = fold_parts(shown, piece, wide) if isinstance(shown, Fold) else step_parts(shown, wide)
    across = _across(material, room)
    figure = material.figures.step(index, last, across, room.height) if room.height else None
    needs = _needs(material, takes, steps, side_width)
    if stack(needs, SPACE_1).height > TALLEST_SIDE:
        text[:0] = [Part(block=block, gap=SPACE_1) for block in needs]
        needs = []
    if text:
        text[-1] = replace(text[-1], keep=True)
    text.extend(_tally(steps[-1], wide))
    drawing = None if figure is None else _figure_block(figure, across, last if last > first else 0)
    side = [stack(needs, SPACE_1)] if needs else []
    side += [drawing] if drawing is not None and not room.below else []
    return StepLayout(
        number=first,
        entry=making.steps_name(first, last, unbound(title)),
        head=_head(first, last, title, area.width),
        again=_head(first, last, making.continued(title), area.width),
        text=tuple(text),
        side=stack(side, SPACE_4),
        side_x=side_x - area.x,
        below=drawing if room.below else None,
        more=() if figure is None else figure.more,
    )


def figure_estimate(
    material: Material, index: int, shown: StepRecord | Fold, room: FigureRoom
) -> Estimate | None:
    """How large the figure of a step or fold would be in a room; None where it has none."""
    last = shown.last if isinstance(shown, Fold) else shown.number
    return material.figures.estimate(index, last, _across(material, room), room.height)


# ---------------------------------------------------------------- parts of a step


def _across(material: Material, room: FigureRoom) -> float:
    """The width that a figure may take."""
    area = frame(material.paper)
    return area.width - STEP_INDENT if room.below else area.column(12 - SIDE_COLUMNS, SIDE_COLUMNS)[1]


def _fold_title(fold: Fold, steps: Sequence[StepRecord]) -> str:
    """What all steps of a fold make, or else which steps they are like."""
    if fold.title is not None:
        return english.heading(fold.title)
    rows = making.rows_title([english.title(step.title) for step in steps])
    return rows or making.again(fold.model_first, fold.model_last)


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
    icons = Icons.of(material.weave)
    opens, closes = _summed(step.opens for step in steps), _summed(step.closes for step in steps)
    lines = [
        part_line(making.needs(entry, opened=opened), entry, icons, opened=opened, width=width)
        for entries, opened in ((opens, True), (closes, False))
        for entry in entries
    ]
    return [set_text(plain(head), LABEL, width), *lines] if lines else []


def _tally(after: StepRecord, width: float) -> Iterator[Part]:
    """What is in the work after a step."""
    head = making.LAID_OUT if english.all_loose(after) else making.SO_FAR
    runs = (Run(text=head, face=Face.SEMIBOLD), Run(text=f" {making.tally(english.tally(after))}"))
    for index, piece in enumerate(divided(runs)):
        yield Part(block=set_text(piece, BODY, width), gap=SPACE_2 if index else SPACE_3)


def _summed(counts: Iterable[tuple[KindCount, ...]]) -> list[KindCount]:
    """Counts of several steps together, in order of appearance."""
    total: dict[KindName, int] = {}
    for entries in counts:
        for entry in entries:
            total[entry.kind] = total.get(entry.kind, 0) + entry.count
    return [KindCount(kind=kind, count=count) for kind, count in total.items()]


def _figure_block(figure: Figure, width: float, shown: int) -> Block:
    """A figure with its caption; `shown` is the step of a repeat that it shows, or 0."""
    group: Item = Group(role=Role.FIGURE, alt=figure.alt, items=figure.items)
    drawing = Block(width=figure.width, height=figure.height, items=(group,))
    words = [making.shown(shown)] if shown else []
    words += [figure.caption] if figure.caption else []
    if figure.turned:
        words.append(making.TURNED)
    if scale := making.figure_scale(figure):
        words.append(scale)
    if not words:
        return drawing
    return stack([drawing, set_text(plain(" ".join(words)), CAPTION, width, role=Role.CAPTION)], SPACE_2)
