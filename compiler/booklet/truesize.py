"""The true-size page: every kind of ring in outline, to lay a ring on, and bars to check the print.

In: a booklet's material, out: a page (or pages) of the flow. Each ring is drawn flat and, below, from its edge;
one millimetre of it is one millimetre on paper. So are the finished pieces, where they find room below the rings.
"""

from collections.abc import Sequence

from compiler.booklet.blocks import Notice, notice, stack
from compiler.booklet.flow import Flow, Part, height
from compiler.booklet.marks import inch_bar, scale_bar
from compiler.booklet.page import INCH, MM, Block, Circle, Group, Item, Rectangle, Role, Stroke
from compiler.booklet.setting import Material, page_title, paragraphs, section_title, short
from compiler.booklet.style import (
    CAPTION,
    HAIRLINE,
    INK,
    LABEL,
    LEAD,
    PAPER,
    SECTION_TITLE,
    SMALL,
    SPACE_1,
    SPACE_2,
    SPACE_3,
    SPACE_4,
    SPACE_5,
    THIN,
    WASH,
)
from compiler.booklet.text import Align, plain, set_text, strong
from compiler.catalogue import booklet_english as say
from compiler.catalogue import english
from compiler.catalogue import making_english as making
from compiler.catalogue.nouns import capital, typed
from compiler.weave import RingKind

NARROWEST_CELL = 100.0
_BAR_MM = 50
_BAR_INCHES = 2
_NAME = 30


def true_size(flow: Flow, material: Material) -> None:
    """The section; nothing where the pattern has no rings."""
    kinds = [row.kind for row in material.quantities.rings if row.needed]
    if not kinds:
        return
    page_title(flow, making.TRUE_SIZE, "true-size")
    paragraphs(flow, [making.TRUE_SIZE_LEAD], LEAD, first=0.0)
    drawn = [kind for kind in kinds if outer(kind) <= flow.frame.width]
    for row in _rows(drawn, flow.frame.width):
        flow.put(Part(block=_set_row(row, flow.frame.width), gap=SPACE_5))
    if len(drawn) < len(kinds):
        names = ", ".join(short(kind.plural, _NAME) for kind in kinds if kind not in drawn)
        paragraphs(flow, [f"{making.TOO_LARGE} {names}."], CAPTION, first=SPACE_4)
    tip = notice(Notice.TIP, making.PRINT_HEAD, [plain(making.TRUE_SIZE_PRINT)], flow.frame.width, SMALL)
    check = [
        Part(block=bars(flow.frame.width), gap=SPACE_3, keep=True),
        Part(block=tip, gap=SPACE_4),
    ]
    below = height(check) + 2 * (SECTION_TITLE.leading + SPACE_5)
    pieces = _pieces(material, flow.frame.width, flow.room - below - SPACE_5)
    if pieces is not None:
        section_title(flow, making.TRUE_SIZE_PIECES)
        flow.put(Part(block=pieces, gap=SPACE_3))
    section_title(flow, making.PRINT_CHECK)
    flow.together(check)


def _pieces(material: Material, width: float, tallest: float) -> Block | None:
    """The finished pieces that are small enough, side by side; None where there is none."""
    items: list[Item] = []
    notes: dict[str, None] = {}
    x = foot = 0.0
    for index, piece in enumerate(material.words.pieces):
        figure = material.figures.actual(index, width - x, tallest - 2 * (CAPTION.leading + SPACE_2))
        if figure is None:
            continue
        name = set_text(
            plain(short(english.piece_title(piece), _NAME)), CAPTION, max(figure.width, NARROWEST_CELL)
        )
        block = stack(
            [
                Block(
                    width=figure.width,
                    height=figure.height,
                    items=(Group(role=Role.FIGURE, alt=figure.alt, items=figure.items),),
                ),
                name,
            ],
            SPACE_2,
        )
        items += block.at(x, 0.0)
        x += max(figure.width, NARROWEST_CELL) + SPACE_4
        foot = max(foot, block.height)
        notes.update(dict.fromkeys([figure.caption] if figure.caption else []))
    if not items:
        return None
    row = Block(width=width, height=foot, items=tuple(items))
    told = [set_text(plain(" ".join(notes)), CAPTION, width, role=Role.CAPTION)] if notes else []
    return stack([row, *told], SPACE_2)


def outer(kind: RingKind) -> float:
    """Outside diameter of a ring in points."""
    return float(kind.inner_mm + 2 * kind.wire_mm) * MM


def _rows(kinds: Sequence[RingKind], width: float) -> list[list[RingKind]]:
    """The kinds in rows that fit side by side, in their order."""
    rows: list[list[RingKind]] = []
    used = 0.0
    for kind in kinds:
        cell = max(outer(kind), NARROWEST_CELL)
        if not rows or used + SPACE_4 + cell > width:
            rows.append([])
            used = -SPACE_4
        rows[-1].append(kind)
        used += SPACE_4 + cell
    return rows


def _set_row(kinds: Sequence[RingKind], width: float) -> Block:
    """A row of rings: outlines on one middle line, edges below, then name and sizes."""
    tallest = max(outer(kind) for kind in kinds)
    thickest = max(float(kind.wire_mm) * MM for kind in kinds)
    items: list[Item] = []
    x = height = 0.0
    for kind in kinds:
        cell = max(outer(kind), NARROWEST_CELL)
        middle = x + cell / 2
        inner, wire = say.mm(kind.inner_mm), say.mm(kind.wire_mm)
        drawing = outline(kind, middle, tallest, thickest)
        alt = making.ring_alt(short(typed(kind.singular), _NAME), inner, wire)
        items.append(Group(role=Role.FIGURE, alt=alt, items=drawing))
        y = tallest + SPACE_3 + thickest + SPACE_3
        name = short(capital(typed(kind.singular)), _NAME)
        text = set_text((strong(name),), SMALL, cell, align=Align.CENTRE)
        items.extend(text.at(x, y))
        y += text.height
        for line in making.ring_sizes(inner, wire, say.mm(kind.inner_mm + 2 * kind.wire_mm)):
            text = set_text(plain(line), CAPTION, cell, align=Align.CENTRE)
            items.extend(text.at(x, y))
            y += text.height
        height = max(height, y)
        x += cell + SPACE_4
    return Block(width=width, height=height, items=tuple(items))


def outline(kind: RingKind, middle: float, tallest: float, thickest: float) -> tuple[Item, ...]:
    """The ring lying flat, and standing on its edge below. The lines' outer sides are the true edges.

    It is centred on `middle`, in a height of `tallest`; below it is room for an edge as thick as `thickest`; points.
    """
    edge, inner = outer(kind) / 2, float(kind.inner_mm) * MM / 2
    wire = float(kind.wire_mm) * MM
    stroke = Stroke(color=INK, width=HAIRLINE)
    inset = HAIRLINE / 2
    y = tallest / 2
    return (
        Circle(x=middle, y=y, radius=edge - inset, fill=WASH, stroke=stroke),
        Circle(x=middle, y=y, radius=inner + inset, fill=PAPER, stroke=stroke),
        Rectangle(
            x=middle - edge + inset,
            y=tallest + SPACE_3 + (thickest - wire) / 2 + inset,
            width=2 * (edge - inset),
            height=wire - 2 * inset,
            radius=(wire - 2 * inset) / 2,
            fill=WASH,
            stroke=stroke,
        ),
    )


def bars(width: float) -> Block:
    """A bar of 50 mm and one of 2 inches, side by side where there is room."""
    items: list[Item] = []
    x = 0.0
    for bar, alt, label, length in (
        (scale_bar(0.0, 0.0, _BAR_MM, INK, THIN), making.MM_BAR_ALT, making.FIFTY_MM, _BAR_MM * MM),
        (
            inch_bar(0.0, 0.0, _BAR_INCHES, INK, THIN),
            making.INCH_BAR_ALT,
            making.TWO_INCHES,
            _BAR_INCHES * INCH,
        ),
    ):
        group = Block(width=length, height=8.0, items=(Group(role=Role.FIGURE, alt=alt, items=bar),))
        items.extend(group.at(x, 8.0))
        items.extend(set_text(plain(label), LABEL, length, align=Align.CENTRE).at(x, 8.0 + SPACE_1))
        x += length + SPACE_5 + SPACE_2
    return Block(width=width, height=8.0 + SPACE_1 + LABEL.leading, items=tuple(items))
