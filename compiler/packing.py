"""The packing sheet: a list to pick by, and a label for each bag with its rings outlined in true size.

In: a weave and a `Plan`. Out: a `Document` for `typeset`. Labels are those of one kit; the pages are printed once for
each kit. Nothing is counted here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler.booklet.flow import Flow, Part
from compiler.booklet.materials import finding_sizes, metal_title
from compiler.booklet.page import Block, Document, Group, Item, Page, Rectangle, Role, Stroke
from compiler.booklet.setting import LONGEST_LABEL, page_title, paragraphs, section_title, short, unbroken
from compiler.booklet.style import (
    CAPTION,
    FOOTER,
    FOOTER_BASELINE,
    HAIRLINE,
    LABEL,
    RULE,
    SPACE_1,
    SPACE_2,
    SPACE_3,
    SPACE_4,
    STEP_TITLE,
    Paper,
    frame,
)
from compiler.booklet.tables import Cell, Column, set_table
from compiler.booklet.text import Align, plain, set_text, strong
from compiler.booklet.truesize import bars, outer, outline
from compiler.catalogue import booklet_english, making_english
from compiler.catalogue import kit_english as say
from compiler.catalogue.nouns import capital, typed
from compiler.price import Line, Plan
from compiler.weave import RingKind, Weave
from notation.metals import Metal, find_metal

_ACROSS = 2
"""Labels side by side."""
_LOWEST = 86.0
"""Height of a label in points, if no ring needs more."""
_TEXT_SHARE = 0.58
"""Part of a label's width that its text takes; the outline has the rest."""
_LONGEST_TITLE = 90
_RIGHT = Align.RIGHT


def packing_sheet(weave: Weave, plan: Plan, paper: Paper, created: int | None) -> Document:
    """The pages of the sheet; `created` as in a booklet's metadata."""
    flow = Flow(paper)
    sets = plan.terms.sets
    page_title(flow, say.packing_title(short(weave.title, LONGEST_LABEL)), "pick-list")
    edition = [say.with_changes(plan.terms.changes)] if plan.terms.changes else []
    paragraphs(flow, [*edition, say.packing_lead(sets)], first=0.0)
    _pick_list(flow, plan, weave.metals)
    page_title(flow, say.LABELS, "labels")
    paragraphs(flow, [say.labels_lead(sets)], first=0.0)
    title = " · ".join(part for part in (typed(weave.title), plan.terms.changes) if part)
    title = short(title, _LONGEST_TITLE)
    width = (flow.frame.width - (_ACROSS - 1) * SPACE_3) / _ACROSS
    labels = [_label(line, title, width, weave.metals) for line in plan.lines if line.count]
    for start in range(0, len(labels), _ACROSS):
        flow.put(Part(block=_beside(labels[start : start + _ACROSS]), gap=SPACE_3 if start else SPACE_4))
    section_title(flow, making_english.PRINT_CHECK)
    flow.put(Part(block=bars(flow.frame.width), gap=SPACE_3))
    return Document(
        title=say.packing_title(typed(weave.title)),
        author=typed(weave.by),
        subject=say.PACKING,
        language=booklet_english.LANGUAGE,
        keywords=booklet_english.KEYWORDS,
        created=created,
        pages=_pages(flow, paper),
    )


def _pick_list(flow: Flow, plan: Plan, metals: Mapping[str, Metal]) -> None:
    columns = [
        Column(title=say.KIND),
        Column(title=say.SIZES, grows=True),
        Column(title=say.METAL),
        Column(title=say.IN_KIT, align=_RIGHT),
        Column(title=say.WEIGHT, align=_RIGHT),
        Column(title=say.wanted(plan.terms.sets), align=_RIGHT),
        Column(title=say.TICK),
    ]
    rows: list[tuple[Cell, ...]] = []
    for line in plan.lines:
        mass = line.kit_mass_g
        rows.append(
            (
                (strong(short(capital(_noun(line)), LONGEST_LABEL)),),
                plain(_sizes(line)),
                plain(_metal(line, metals)),
                (strong(str(line.count)),),
                plain(say.NONE if mass is None else unbroken(booklet_english.grams(mass))),
                plain(str(line.total)),
                plain(""),
            )
        )
    flow.table(set_table(columns, rows, flow.frame.width, gap=SPACE_3), SPACE_4)
    paragraphs(flow, [say.WEIGHT_NOTE], CAPTION, first=SPACE_2)


def _noun(line: Line) -> str:
    return say.noun(line.kind.singular, line.kind.plural, line.count)


def _metal(line: Line, metals: Mapping[str, Metal]) -> str:
    name = line.kind.metal
    return say.NONE if name is None else metal_title(name, find_metal(name, metals))


def _sizes(line: Line) -> str:
    kind = line.kind
    if isinstance(kind, RingKind):
        return say.ring_sizes(kind.inner_mm, kind.wire_mm)
    return finding_sizes(kind)


def _label(line: Line, title: str, width: float, metals: Mapping[str, Metal]) -> Block:
    """A frame with the count, what it is, and for rings an outline where there is room for one."""
    kind = line.kind
    is_drawn = isinstance(kind, RingKind) and outer(kind) <= width * (1 - _TEXT_SHARE) - SPACE_3
    room = width * _TEXT_SHARE if is_drawn else width - 2 * SPACE_3
    texts = [
        set_text(plain(f"{line.count} {short(_noun(line), LONGEST_LABEL)}"), STEP_TITLE, room - SPACE_3),
        set_text(plain(_sizes(line)), CAPTION, room - SPACE_3),
        set_text(plain(_metal(line, metals)), CAPTION, room - SPACE_3),
        set_text(plain(title), LABEL, room - SPACE_3),
    ]
    items: list[Item] = []
    y = SPACE_3
    for text in texts:
        items.extend(text.at(SPACE_3, y))
        y += text.height + SPACE_1
    height = max(_LOWEST, y + SPACE_2)
    if is_drawn and isinstance(kind, RingKind):
        wire = float(kind.wire_mm) / float(kind.inner_mm + 2 * kind.wire_mm) * outer(kind)
        tall = outer(kind) + SPACE_3 + wire
        height = max(height, tall + 2 * SPACE_3)
        inner, thick = booklet_english.mm(kind.inner_mm), booklet_english.mm(kind.wire_mm)
        alt = making_english.ring_alt(short(typed(kind.singular), LONGEST_LABEL), inner, thick)
        drawing = Block(
            width=outer(kind),
            height=tall,
            items=(
                Group(role=Role.FIGURE, alt=alt, items=outline(kind, outer(kind) / 2, outer(kind), wire)),
            ),
        )
        middle = width * _TEXT_SHARE + (width * (1 - _TEXT_SHARE) - outer(kind)) / 2
        items.extend(drawing.at(middle, (height - tall) / 2))
    return Block(width=width, height=height, items=tuple(items))


def _beside(labels: Sequence[Block]) -> Block:
    """Labels in a row, all framed as high as the highest."""
    height = max(label.height for label in labels)
    items: list[Item] = []
    for place, label in enumerate(labels):
        x = place * (label.width + SPACE_3)
        edge = Rectangle(
            x=x,
            y=0.0,
            width=label.width,
            height=height,
            radius=3.0,
            stroke=Stroke(color=RULE, width=HAIRLINE),
        )
        items += [Group(role=Role.DECORATION, items=(edge,)), *label.at(x, 0.0)]
    width = sum(label.width for label in labels) + (len(labels) - 1) * SPACE_3
    return Block(width=width, height=height, items=tuple(items))


def _pages(flow: Flow, paper: Paper) -> tuple[Page, ...]:
    """The pages with their numbers."""
    area = frame(paper)
    pages: list[Page] = []
    for number, items in enumerate(flow.pages, start=1):
        text = plain(booklet_english.folio(number, len(flow.pages)))
        folio = set_text(text, FOOTER, area.width, align=Align.RIGHT, role=None)
        foot = folio.at(area.x, paper.height - FOOTER_BASELINE - folio.baseline)
        decoration: Item = Group(role=Role.DECORATION, items=foot)
        pages.append(
            Page(width=paper.width, height=paper.height, label=str(number), items=(*items, decoration))
        )
    return tuple(pages)
