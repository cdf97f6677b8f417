"""The contents list; in: the entries of the flow, out: pages to be put after the cover.

Every entry has a line, so that the number of pages is known before the page numbers are printed.
"""

from collections.abc import Sequence

from compiler.booklet.flow import Entry
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Group, Item, Line, Link, Role, Stroke
from compiler.booklet.setting import MEASURE, short
from compiler.booklet.style import (
    BODY,
    HAIRLINE,
    PAGE_TITLE,
    RULE,
    SPACE_1,
    SPACE_3,
    SPACE_4,
    Paper,
    TextStyle,
    frame,
)
from compiler.booklet.text import Align, plain, set_text, strong
from compiler.catalogue import booklet_english as say

_LINE = BODY.leading + 2 * SPACE_1
_INDENT = SPACE_4
_NUMBER = 36.0


def contents_pages(entries: Sequence[Entry], paper: Paper) -> int:
    """How many pages the list takes."""
    return len(_by_page(entries, paper))


def contents(entries: Sequence[Entry], shift: int, paper: Paper) -> list[list[Item]]:
    """The pages of the list; `shift` is how many pages it moves all entries on."""
    area = frame(paper)
    width = area.column(0, MEASURE)[1]
    pages: list[list[Item]] = []
    for number, page in enumerate(_by_page(entries, paper)):
        items: list[Item] = []
        y = area.y
        if number == 0:
            head = set_text(plain(say.CONTENTS), PAGE_TITLE, area.width, role=Role.HEADING_1)
            items.extend(head.at(area.x, y))
            y += head.height + SPACE_3
        for entry in page:
            items.extend(_line(entry, entry.page + shift + 1, area.x, y, width))
            y += _LINE
        pages.append(items)
    return pages


def _by_page(entries: Sequence[Entry], paper: Paper) -> list[list[Entry]]:
    area = frame(paper)
    first = int((area.height - PAGE_TITLE.leading - SPACE_3) // _LINE)
    full = int(area.height // _LINE)
    pages = [list(entries[:first])]
    pages += [list(entries[start : start + full]) for start in range(first, len(entries), full)]
    return pages


def _line(entry: Entry, page: int, x: float, y: float, width: float) -> list[Item]:
    """Title on the left, page on the right, a hairline below, all of it a link."""
    left = _INDENT * entry.level
    room = width - left - _NUMBER
    title = _fitted(entry.title, room, BODY)
    runs = (strong(title),) if entry.level == 0 else plain(title)
    words = set_text(runs, BODY, room + 1.0, role=None)
    number = set_text(plain(str(page)), BODY, width, align=Align.RIGHT, role=None)
    base = y + _LINE - SPACE_1 / 2
    rule = Line(x1=x + left, y1=base, x2=x + width, y2=base, stroke=Stroke(color=RULE, width=HAIRLINE))
    return [
        Group(role=Role.DECORATION, items=(rule,)),
        Group(
            role=Role.PARAGRAPH,
            items=(*words.at(x + left, y + SPACE_1 / 2), *number.at(x, y + SPACE_1 / 2)),
        ),
        Link(
            x=x + left,
            y=y,
            width=width - left,
            height=_LINE - SPACE_1 / 2,
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
