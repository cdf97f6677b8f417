"""The catalogue of a library; in: entries, out: a `Document` for `typeset`.

A cover, the contents, two pieces or so a page with their figures and rings, then the weaves of each family as cards.
Headings, tables and pages are those of the booklet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from compiler.booklet.blocks import stack
from compiler.booklet.contents import short_contents
from compiler.booklet.flow import Flow, Part
from compiler.booklet.page import Block, Document, Group, Item, Page, Role
from compiler.booklet.setting import LONGEST_HEADING, measure, page_title, paragraphs, section_title, short
from compiler.booklet.style import (
    CAPTION,
    COVER_TITLE,
    FOOTER,
    FOOTER_BASELINE,
    LEAD,
    SMALL,
    SPACE_1,
    SPACE_2,
    SPACE_4,
    SPACE_5,
    Frame,
    Paper,
    frame,
)
from compiler.booklet.tables import Cell, Column, set_table
from compiler.booklet.text import Align, plain, set_text, strong
from compiler.catalogue import booklet_english, making_english
from compiler.catalogue import library_english as say
from compiler.catalogue.nouns import capital
from compiler.library.entries import Entry, PieceEntry

_FIGURE_COLUMNS = 5
"""Of the grid, for the figure of a piece; its text has the others."""
_FIGURE_HEIGHT = 215.0
_CARDS = 3
"""Weaves side by side."""
_CARD_HEIGHT = 150.0
"""Points for the figure of a card."""


def catalogue(entries: Sequence[Entry], paper: Paper, created: int | None) -> Document:
    """The pages; `created` as in a booklet's metadata."""
    patterns = [entry for entry in entries if not entry.is_family]
    families = [entry for entry in entries if entry.is_family]
    flow = Flow(paper)
    _cover(flow, patterns, families)
    if patterns:
        page_title(flow, say.PATTERNS, "pieces")
        paragraphs(flow, [say.HOW_TO_READ], SMALL, first=0.0)
        for entry in patterns:
            _pattern(flow, entry)
    if families:
        page_title(flow, say.FAMILIES, "weaves")
        paragraphs(flow, [say.FAMILIES_LEAD], SMALL, first=0.0)
        for entry in families:
            _family(flow, entry)
    listed = [replace(entry, page=entry.page + 1) for entry in flow.entries if entry.listed]
    brief = short_contents(listed, paper)
    pages = [flow.pages[0], list(brief.at(flow.frame.x, flow.frame.y)), *flow.pages[1:]]
    return Document(
        title=say.TITLE,
        author=", ".join(dict.fromkeys(entry.by for entry in entries if entry.by)),
        subject=say.SUBJECT,
        language=booklet_english.LANGUAGE,
        keywords=booklet_english.KEYWORDS,
        created=created,
        pages=_finished(pages, paper),
    )


def _cover(flow: Flow, patterns: Sequence[Entry], families: Sequence[Entry]) -> None:
    """Title and count, and the first figures of the pieces in rows."""
    area = flow.frame
    flow.mark("cover", booklet_english.COVER, 0, listed=False)
    weaves = sum(len(entry.pieces) for entry in families)
    head = stack(
        [
            set_text(plain(say.TITLE), COVER_TITLE, area.width, role=Role.HEADING_1),
            set_text(plain(say.counted(len(patterns), weaves, len(families))), LEAD, area.width),
        ],
        SPACE_2,
    )
    flow.draw(head, area.x, area.y + SPACE_5)
    top = area.y + SPACE_5 + head.height + SPACE_5
    across = 4
    width = (area.width - (across - 1) * SPACE_4) / across
    down = max(1, min(4, -(-len(patterns) // across)))
    height = (area.bottom - top - (down - 1) * SPACE_4) / down
    for place, entry in enumerate(patterns[: across * down]):
        row, column = divmod(place, across)
        picture = _figure(entry, entry.pieces[0], width, height, scale=False)
        x = area.x + column * (width + SPACE_4) + (width - picture.width) / 2
        flow.draw(picture, x, top + row * (height + SPACE_4) + (height - picture.height) / 2)
    flow.page_break()


def _pattern(flow: Flow, entry: Entry) -> None:
    """A pattern: what it says of itself, then each piece with its figure on the left and its rings on the right."""
    section_title(flow, short(entry.title, LONGEST_HEADING))
    flow.mark(entry.stem, short(entry.title, LONGEST_HEADING), 1)
    width = flow.frame.width
    blocks = []
    for place, piece in enumerate(entry.pieces):
        left = flow.frame.column(0, _FIGURE_COLUMNS)[1]
        x, right = flow.frame.column(_FIGURE_COLUMNS, 12 - _FIGURE_COLUMNS)
        parts = (
            [set_text(plain(entry.about), SMALL, right), set_text(plain(_facts(entry)), CAPTION, right)]
            if not place
            else []
        )
        if len(entry.pieces) > 1 or piece.times > 1:
            name = (strong(capital(say.made(piece.label, piece.times))),)
            parts.append(set_text(name, SMALL, right, role=Role.HEADING_3))
        text = stack([*parts, *_numbers(piece, right)], SPACE_2)
        picture = _figure(entry, piece, left, _FIGURE_HEIGHT)
        items = (*picture.at((left - picture.width) / 2, 0.0), *text.at(x - flow.frame.x, 0.0))
        block = Block(width=width, height=max(picture.height, text.height), items=items)
        blocks.append(Part(block=block, gap=SPACE_2 if not place else SPACE_4))
    flow.together(blocks)


def _facts(entry: Entry) -> str:
    return say.facts(entry.level, entry.by, entry.version, entry.licence)


def _numbers(piece: PieceEntry, width: float) -> list[Block]:
    """The rings of a piece as a table, and its slack."""
    columns = [
        Column(title=say.RING, grows=True),
        Column(title=say.COUNT, align=Align.RIGHT),
        Column(title=say.SIZE, align=Align.RIGHT),
        Column(title=say.RATIO, align=Align.RIGHT),
        Column(title=say.TIGHTEST, align=Align.RIGHT),
    ]
    rows: list[tuple[Cell, ...]] = [
        (
            (strong(short(capital(ring.label), 30)),),
            plain(str(ring.count)),
            plain(say.size(ring.inner_mm, ring.wire_mm)),
            plain(say.ratio(ring.aspect_ratio)),
            plain(say.ratio(ring.tightest)),
        )
        for ring in piece.rings
    ]
    table = set_table(columns, rows, width, gap=SPACE_2).whole()
    return [table, set_text(plain(say.slack_said(piece.slack)), CAPTION, width)]


def _family(flow: Flow, entry: Entry) -> None:
    """The weaves of a family, in rows of cards."""
    section_title(flow, short(entry.title, LONGEST_HEADING))
    flow.mark(entry.stem, short(entry.title, LONGEST_HEADING), 1)
    texts = [set_text(plain(text), SMALL, measure(flow)) for text in (entry.about,) if text]
    head = stack([*texts, set_text(plain(_facts(entry)), CAPTION, measure(flow))])
    width = (flow.frame.width - (_CARDS - 1) * SPACE_4) / _CARDS
    for start in range(0, len(entry.pieces), _CARDS):
        row = entry.pieces[start : start + _CARDS]
        pictures = [_figure(entry, piece, width, _CARD_HEIGHT, scale=not piece.proved) for piece in row]
        high = max(picture.height for picture in pictures)
        items: list[Item] = []
        bottom = 0.0
        for place, (piece, picture) in enumerate(zip(row, pictures, strict=True)):
            x = place * (width + SPACE_4)
            text = _card_text(piece, width)
            items.extend(picture.at(x + (width - picture.width) / 2, high - picture.height))
            items.extend(text.at(x, high + SPACE_2))
            bottom = max(bottom, high + SPACE_2 + text.height)
        card = Part(block=Block(width=flow.frame.width, height=bottom, items=tuple(items)), gap=SPACE_4)
        flow.together([card] if start else [Part(block=head), card])


def _card_text(piece: PieceEntry, width: float) -> Block:
    """The name of a weave, and a line for each kind of ring."""
    name = set_text((strong(capital(piece.label)),), SMALL, width, role=Role.HEADING_3)
    lines = [
        f"{say.of_kind(ring.count, ring.label)}, {say.size(ring.inner_mm, ring.wire_mm)}"
        for ring in piece.rings
    ]
    ratios = ", ".join(say.ratio(ring.aspect_ratio) for ring in piece.rings)
    lines.append(f"{say.RATIO} {ratios}")
    if piece.slack is not None:
        lines[-1] += f"; {say.TIGHTEST.lower()} {', '.join(say.ratio(ring.tightest) for ring in piece.rings)}"
    return stack([name, *(set_text(plain(line), CAPTION, width) for line in lines)])


def _figure(entry: Entry, piece: PieceEntry, width: float, height: float, *, scale: bool = True) -> Block:
    """The finished piece, its scale below it."""
    figure = entry.figures.finished(piece.index, width, height)
    if figure is None:
        return Block(width=width, height=0.0, items=())
    group = Group(role=Role.FIGURE, alt=figure.alt, items=figure.items)
    picture = Block(width=figure.width, height=figure.height, items=(group,))
    if not scale:
        return picture
    line = making_english.figure_scale(figure)
    caption = set_text(plain(line), CAPTION, width, align=Align.CENTRE, role=Role.CAPTION)
    under = caption.at((figure.width - width) / 2, figure.height + SPACE_1)
    return Block(
        width=figure.width,
        height=figure.height + SPACE_1 + caption.height,
        items=(*picture.items, *under),
    )


def _finished(pages: Sequence[Sequence[Item]], paper: Paper) -> tuple[Page, ...]:
    """The pages with their feet; the cover has none."""
    area = frame(paper)
    out = []
    for number, items in enumerate(pages, start=1):
        foot = _foot(number, len(pages), area, paper) if number > 1 else ()
        out.append(Page(width=paper.width, height=paper.height, label=str(number), items=(*items, *foot)))
    return tuple(out)


def _foot(number: int, count: int, area: Frame, paper: Paper) -> tuple[Item, ...]:
    folio = set_text(
        plain(booklet_english.folio(number, count)), FOOTER, area.width, align=Align.RIGHT, role=None
    )
    left = set_text(plain(say.TITLE), FOOTER, area.width, role=None)
    y = paper.height - FOOTER_BASELINE - folio.baseline
    return (Group(role=Role.DECORATION, items=(*left.at(area.x, y), *folio.at(area.x, y))),)
