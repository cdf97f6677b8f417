"""The contents list; in: the entries of the flow, out: a block in two columns for the page of figures at a glance where
there is room for it, else pages to be put after the cover.

Every entry has a line, so that the number of pages is known before the page numbers are printed.
"""

from collections.abc import Sequence

from compiler.booklet.flow import Entry
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Block, Group, Item, Line, Link, Role, Stroke
from compiler.booklet.setting import MEASURE, short
from compiler.booklet.style import (
    BODY,
    HAIRLINE,
    PAGE_TITLE,
    RULE,
    SECTION_TITLE,
    SPACE_1,
    SPACE_2,
    SPACE_3,
    SPACE_4,
    SPACE_5,
    Paper,
    TextStyle,
    frame,
)
from compiler.booklet.text import Align, plain, set_text, strong
from compiler.catalogue import booklet_english as say

_LINE, _LOW_LINE = BODY.leading + 2 * SPACE_1, BODY.leading + SPACE_1 / 2
"""Height of a line, and in a list that has little room."""
_INDENT = SPACE_4
_NUMBER = 36.0


def short_contents(entries: Sequence[Entry], paper: Paper) -> Block:
    """The list in two columns, under a heading."""
    area = frame(paper)
    width = (area.width - SPACE_5) / 2
    head = set_text(plain(say.CONTENTS), SECTION_TITLE, area.width, role=Role.HEADING_2)
    top = head.height + SPACE_2
    rows = -(-len(entries) // 2)
    items: list[Item] = [*head.items]
    for place, entry in enumerate(entries):
        column, row = divmod(place, rows)
        items.extend(
            _line(entry, entry.page + 1, column * (width + SPACE_5), top + row * _LOW_LINE, width, _LOW_LINE)
        )
    return Block(width=area.width, height=top + rows * _LOW_LINE, items=tuple(items))


def contents_pages(entries: Sequence[Entry], paper: Paper) -> int:
    """How many pages the list takes."""
    return len(_by_page(entries, paper))


def contents(entries: Sequence[Entry], shift: int, paper: Paper) -> list[list[Item]]:
    """The pages of the list; `shift` is how many pages it moves all entries on."""
    area = frame(paper)
    width = area.column(0, MEASURE)[1]
    line = _line_height(entries, paper)
    pages: list[list[Item]] = []
    for number, page in enumerate(_by_page(entries, paper)):
        items: list[Item] = []
        y = area.y
        if number == 0:
            head = set_text(plain(say.CONTENTS), PAGE_TITLE, area.width, role=Role.HEADING_1)
            items.extend(head.at(area.x, y))
            y += head.height + SPACE_3
        for entry in page:
            items.extend(_line(entry, entry.page + shift + 1, area.x, y, width, line))
            y += line
        pages.append(items)
    return pages


def _by_page(entries: Sequence[Entry], paper: Paper) -> list[list[Entry]]:
    line = _line_height(entries, paper)
    first, full = _most_on_first(line, paper), int(frame(paper).height // line)
    pages = [list(entries[:first])]
    pages += [list(entries[start : start + full]) for start in range(first, len(entries), full)]
    return pages


def _most_on_first(line: float, paper: Paper) -> int:
    """Entries on the first page."""
    return int((frame(paper).height - PAGE_TITLE.leading - SPACE_3) // line)


def _line_height(entries: Sequence[Entry], paper: Paper) -> float:
    """Lower where the list would not fit on one page otherwise."""
    return _LINE if len(entries) <= _most_on_first(_LINE, paper) else _LOW_LINE


def _line(entry: Entry, page: int, x: float, y: float, width: float, line: float) -> list[Item]:
    """Title on the left, page on the right, a hairline below, all of it a link."""
    left = _INDENT * entry.level
    room = width - left - _NUMBER
    title = _fitted(entry.title, room, BODY)
    runs = (strong(title),) if entry.level == 0 else plain(title)
    words = set_text(runs, BODY, room + 1.0, role=None)
    number = set_text(plain(str(page)), BODY, width, align=Align.RIGHT, role=None)
    base = y + line - SPACE_1 / 2
    top = y + min(SPACE_1 / 2, line - BODY.leading - SPACE_1 / 2)
    rule = Line(x1=x + left, y1=base, x2=x + width, y2=base, stroke=Stroke(color=RULE, width=HAIRLINE))
    return [
        Group(role=Role.DECORATION, items=(rule,)),
        Group(
            role=Role.PARAGRAPH,
            items=(*words.at(x + left, top), *number.at(x, top)),
        ),
        Link(
            x=x + left,
            y=y,
            width=width - left,
            height=line - SPACE_1 / 2,
            anchor=entry.anchor,
            says=say.go_to(entry.title),
        ),
    ]


def _fitted(text: str, width: float, style: TextStyle) -> str:
    """The text, shortened until it fits on a line."""
    face = strong("").face or style.face
    most = len(text)
    while most > 4 and text_width(text, face, style.size) > width:
        most -= 4
        text = short(text, most)
    return text
