"""What the sections of a booklet share: what they are made from, headings, lists, shortened names.

In: words and numbers, out: measured parts for the flow.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from compiler.booklet.blocks import stack
from compiler.booklet.figuretypes import FigureSource
from compiler.booklet.flow import Flow, Part
from compiler.booklet.house import House
from compiler.booklet.page import Block, Circle, Group, Item, Role, Stroke
from compiler.booklet.style import (
    ACCENT,
    BODY,
    CAPTION,
    MEDIUM,
    PAGE_TITLE,
    SECTION_TITLE,
    SPACE_2,
    SPACE_3,
    SPACE_5,
    Paper,
    TextStyle,
)
from compiler.booklet.text import Run, plain, set_text, strong
from compiler.kit import Quantities, Rates
from compiler.steps import Words
from compiler.weave import Weave
from notation.metals import Metal, find_metal

LONGEST_HEADING = 160
LONGEST_LABEL = 44
"""Characters of a typed text that are set as a heading, and as a name in a table or a list of parts; what is
longer is cut with an ellipsis there, and stands in full in the text."""
LONGEST_PARAGRAPH = 700
"""Characters of a paragraph that stay together; a longer one is divided, so that a page can end in it."""
MEASURE = 9
"""Columns of the grid that running text fills: about 70 characters a line."""
NOTE_MEASURE = 11
"""Columns that small print fills."""
BULLET_INDENT = 16.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """All that a booklet is made from."""

    weave: Weave
    words: Words
    quantities: Quantities
    figures: FigureSource
    paper: Paper
    metals: Mapping[str, Metal]
    edition: str
    """Printed beside the version to tell one text from another, for example a commit; may be empty."""
    rates: Rates
    """What the time is estimated from."""
    house: House
    changes: str
    """What is other than in the pattern as written; may be empty."""
    lengths: tuple[str, ...] = ()
    """What was worked out for pieces made to a length."""

    def metal(self, name: str) -> Metal | None:
        """The metal of that name, or None."""
        return find_metal(name, self.metals)


def short(text: str, most: int) -> str:
    """The text, cut at its last space before `most` characters, with an ellipsis, where it is longer."""
    text = re.sub(r"[ \t\r\n]+", " ", text).strip(" ")  # no-break spaces stay
    if len(text) <= most:
        return text
    cut = text[: most - 1]
    space = cut.rfind(" ")
    return f"{cut[:space] if space > most // 2 else cut}…"


def unbroken(text: str) -> str:
    """A value that no line's end parts from its unit."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")


def measure(flow: Flow) -> float:
    """Width of running text in points."""
    return flow.frame.column(0, MEASURE)[1]


def page_title(flow: Flow, title: str, anchor: str, *, listed: bool = True) -> None:
    """A section that begins on a new page."""
    flow.page_break()
    flow.mark(anchor, short(title, LONGEST_HEADING), 0, listed=listed)
    head = set_text(plain(short(title, LONGEST_HEADING)), PAGE_TITLE, flow.frame.width, role=Role.HEADING_1)
    flow.put(Part(block=_with_space(head, SPACE_3)))


def section_title(flow: Flow, title: str, gap: float = SPACE_5) -> None:
    """A heading within a section; it stays with what follows."""
    head = set_text(plain(title), SECTION_TITLE, flow.frame.width, role=Role.HEADING_2)
    flow.hold(Part(block=_with_space(head, SPACE_2), gap=gap, keep=True))


def paragraphs(
    flow: Flow, texts: Sequence[str], style: TextStyle = BODY, gap: float = SPACE_2, first: float = SPACE_3
) -> None:
    """Running text, a paragraph each."""
    for index, text in enumerate(texts):
        for piece in divided(plain(text)):
            flow.put(Part(block=set_text(piece, style, measure(flow)), gap=gap if index else first))


def remark(flow: Flow, text: str) -> Part:
    """Small print under a table or a grid of figures."""
    return Part(block=set_text(plain(text), CAPTION, flow.frame.column(0, NOTE_MEASURE)[1]), gap=SPACE_3)


def divided(runs: Sequence[Run], most: int = LONGEST_PARAGRAPH) -> list[tuple[Run, ...]]:
    """A paragraph in pieces of at most `most` characters, cut after a sentence, else at a space."""
    pieces: list[tuple[Run, ...]] = []
    rest = tuple(runs)
    while sum(len(run.text) for run in rest) > most:
        text = "".join(run.text for run in rest)
        at = max((text.rfind(mark, most // 2, most) for mark in (". ", "; ")), default=-1)
        at = at + 2 if at >= 0 else text.rfind(" ", most // 2, most) + 1
        piece, rest = _cut(rest, at or most)
        pieces.append(piece)
    return [*pieces, rest]


def _cut(runs: tuple[Run, ...], at: int) -> tuple[tuple[Run, ...], tuple[Run, ...]]:
    """The runs before and after a number of characters."""
    before: list[Run] = []
    for index, run in enumerate(runs):
        if len(run.text) > at:
            head = Run(text=run.text[:at], face=run.face, color=run.color)
            tail = Run(text=run.text[at:], face=run.face, color=run.color)
            return (*before, head), (tail, *runs[index + 1 :])
        before.append(run)
        at -= len(run.text)
    return tuple(before), ()


def bullet(runs: Sequence[Run], width: float, style: TextStyle = BODY) -> Block:
    """An item of a list, a small ring before it."""
    text = set_text(runs, style, width - BULLET_INDENT)
    ring = Circle(x=3.5, y=style.leading / 2, radius=2.6, stroke=Stroke(color=ACCENT, width=MEDIUM))
    mark: Item = Group(role=Role.DECORATION, items=(ring,))
    return Block(
        width=width,
        height=text.height,
        items=(mark, *text.at(BULLET_INDENT, 0.0)),
        baseline=text.baseline,
    )


def named(head: str, text: str) -> tuple[Run, ...]:
    """A head in semibold, then the text."""
    return (strong(head), Run(text=f"  {text}"))


_LAST = 2
"""Points of a list that stay together at its end."""


def bullets(flow: Flow, items: Sequence[Sequence[Run]], gap: float = SPACE_2, first: float = SPACE_3) -> None:
    """A list: a little closer where it then ends on the page; its last two points stay together."""
    blocks = [bullet(runs, measure(flow)) for runs in items]
    tall = sum(block.height for block in blocks) + first + flow.held
    for tight in (gap, gap / 2):
        if tall + tight * (len(blocks) - 1) <= flow.room:
            gap = tight
            break
    parts = [Part(block=block, gap=gap if index else first) for index, block in enumerate(blocks)]
    for part in parts[:-_LAST]:
        flow.put(part)
    flow.together(parts[-_LAST:])


def entry(head: str, text: str, width: float) -> Block:
    """A head with its text below, as in a list of cautions."""
    name = set_text((strong(head),), BODY, width)
    return stack([name, set_text(plain(text), BODY, width)])


def _with_space(block: Block, below: float) -> Block:
    return Block(width=block.width, height=block.height + below, items=block.items, baseline=block.baseline)
