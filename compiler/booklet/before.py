"""Before you start: what to open, close and lay out, how a ring is opened, safety, how to read steps and figures.

In: a booklet's material, out: parts of the flow.
"""

from collections.abc import Container, Sequence

from compiler.booklet.blocks import Notice, notice
from compiler.booklet.figuretypes import BESIDE_RINGS, Mark, MarkSample
from compiler.booklet.flow import Flow, Part
from compiler.booklet.icons import ICON, Icons
from compiler.booklet.page import Block, Item
from compiler.booklet.setting import (
    LONGEST_LABEL,
    Material,
    bullets,
    measure,
    page_title,
    paragraphs,
    section_title,
    short,
)
from compiler.booklet.style import (
    BODY,
    LEAD,
    SECTION_TITLE,
    SMALL,
    SPACE_1,
    SPACE_2,
    SPACE_4,
)
from compiler.booklet.tables import Column, set_table
from compiler.booklet.text import plain, set_text, strong
from compiler.catalogue import cautions_english as cautions
from compiler.catalogue import making_english as making
from compiler.messages import KindCount
from compiler.steps import Term

MOST_IN_DISH = 8
"""Kinds of ring to open, close or lay out that stand side by side; more are a table."""
_GAP = 18.0
"""Points above a heading: less than elsewhere, so that all of it stays on one page."""


def before(flow: Flow, material: Material, more: Container[Mark]) -> None:
    """The section; `more` are the marks in the figures that belong to no ring."""
    page_title(flow, making.BEFORE, "before")
    start = material.words.before
    paragraphs(flow, [making.BEFORE_LEAD], LEAD, first=0.0)
    columns = [
        (making.OPEN_HEAD, start.opens, True),
        (making.CLOSE_HEAD, start.closes, False),
        (making.LAY_OUT_HEAD, start.findings, False),
    ]
    columns = [each for each in columns if each[1]]
    if max((len(entries) for _, entries, _ in columns), default=0) <= MOST_IN_DISH:
        flow.put(Part(block=_dishes(material, columns, flow), gap=SPACE_4))
    else:
        _list(flow, columns)
    box = notice(
        Notice.CAUTION, cautions.SAFETY, [plain(text) for text in cautions.SAFETY_TEXT], flow.frame.width
    )
    flow.put(Part(block=box, gap=SPACE_4))
    section_title(flow, making.HOW_TO_OPEN, _GAP)
    bullets(flow, [plain(text) for text in making.HOW_TO_OPEN_TEXT], first=SPACE_1)
    section_title(flow, making.HOW_TO_READ, _GAP)
    key = [each for each in material.figures.key() if each.mark not in BESIDE_RINGS or each.mark in more]
    terms = material.words.terms
    reading = [making.HOW_TO_READ_TEXT]
    reading += [making.ONE_SIDE] if Term.FRONT not in terms and Term.GO_THROUGH in terms else []
    reading += [making.FIGURE_KEY] if key else []
    parts = [Part(block=set_text(plain(" ".join(reading)), BODY, measure(flow)), gap=SPACE_1)]
    if key:
        parts.append(Part(block=_key(key, terms, flow.frame.width), gap=SPACE_2))
    flow.together(parts)


def _list(flow: Flow, columns: Sequence[tuple[str, tuple[KindCount, ...], bool]]) -> None:
    """The same as a table, which a page can end in."""
    rows = [
        (plain(head), plain(short(making.in_work(entry), LONGEST_LABEL)))
        for head, entries, _ in columns
        for entry in entries
    ]
    heads = [Column(title=making.DO), Column(title=making.WITH, grows=True)]
    flow.table(set_table(heads, rows, measure(flow)), SPACE_4)


def _key(samples: Sequence[MarkSample], terms: Container[object], width: float) -> Block:
    """What the looks of rings in the figures mean, in two columns."""
    column = (width - SPACE_4) / 2
    items: list[Item] = []
    y = 0.0
    for start in range(0, len(samples), 2):
        row = [
            _sample(each.sample, making.mark(each.mark, terms), column) for each in samples[start : start + 2]
        ]
        for place, block in enumerate(row):
            items.extend(block.at(place * (column + SPACE_4), y))
        y += max(block.height for block in row) + SPACE_1
    return Block(width=width, height=y, items=tuple(items))


def _dishes(material: Material, columns: list[tuple[str, tuple[KindCount, ...], bool]], flow: Flow) -> Block:
    """What goes into which dish, side by side."""
    icons = Icons.of(material.weave)
    items: list[Item] = []
    height = 0.0
    for place, (head, entries, opened) in enumerate(columns):
        x, width = flow.frame.column(4 * place, 4)
        x -= flow.frame.x
        title = set_text((strong(head),), SECTION_TITLE, width)
        items.extend(title.at(x, 0.0))
        y = title.height + SPACE_2
        for entry in entries:
            row = part_line(making.in_work(entry), entry, icons, opened=opened, width=width)
            items.extend(row.at(x, y))
            y += row.height + SPACE_2
        height = max(height, y)
    return Block(width=flow.frame.width, height=height, items=tuple(items))


def part_line(text: str, entry: KindCount, icons: Icons, *, opened: bool, width: float) -> Block:
    """A part with its icon."""
    icon = icons.icon(entry.kind, opened=opened)
    words = set_text(plain(short(text, LONGEST_LABEL)), BODY, width - ICON - SPACE_2)
    height = max(ICON, words.height)
    return Block(
        width=width,
        height=height,
        items=(
            *icon.at(0.0, 0.0),
            *words.at(ICON + SPACE_2, (ICON - BODY.leading) / 2 if words.height <= ICON else 0.0),
        ),
    )


def _sample(sample: Block, text: str, width: float) -> Block:
    left = 54.0
    words = set_text(plain(text), SMALL, width - left)
    height = max(sample.height, words.height)
    return Block(
        width=width,
        height=height,
        items=(
            *sample.at(0.0, (height - sample.height) / 2),
            *words.at(left, (height - words.height) / 2),
        ),
    )
