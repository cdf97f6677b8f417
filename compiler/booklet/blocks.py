"""The building blocks of a booklet page; in: words that are ready to print, out: measured blocks.

No word is written here: signal words, titles and labels come from the caller, in the language of the booklet.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

from compiler.booklet.marks import caution_triangle, check_mark, numbered_disc, tip_mark
from compiler.booklet.page import Block, Color, Group, Item, Rectangle, Role
from compiler.booklet.style import (
    ACCENT,
    BODY,
    CAUTION,
    FIGURE_VALUE,
    LABEL,
    PAPER,
    SPACE_1,
    SPACE_2,
    SPACE_3,
    STEP_TITLE,
    WASH,
    WASH_CAUTION,
    TextStyle,
)
from compiler.booklet.text import Run, natural_width, plain, set_text, strong

DISC_RADIUS = 12.0
"""Radius of the disc with a step's number, in points."""
STEP_INDENT = 2 * DISC_RADIUS + SPACE_3
"""How far the text of a step stands in from the left edge of its number, in points."""


_LEAST_FACT = 11.0
"""A value that is too long in this size is broken."""


class Notice(Enum):
    """What a boxed note is for."""

    TIP = "tip"
    CHECKPOINT = "checkpoint"
    CAUTION = "caution"


def stack(blocks: Sequence[Block], gap: float = 0.0) -> Block:
    """The blocks one below the other, `gap` points between them."""
    items: list[Item] = []
    y = 0.0
    for number, block in enumerate(blocks):
        y += gap if number else 0.0
        items.extend(block.at(0.0, y))
        y += block.height
    width = max((block.width for block in blocks), default=0.0)
    return Block(width=width, height=y, items=tuple(items), baseline=blocks[0].baseline if blocks else 0.0)


def step_head(number: str, title: str, width: float, *, role: Role = Role.HEADING_2) -> Block:
    """The number of a step in a disc, its title beside it."""
    head = set_text(plain(title), STEP_TITLE, width - STEP_INDENT, role=None)
    middle = STEP_TITLE.leading / 2
    top = max(0.0, DISC_RADIUS - middle)
    disc = numbered_disc(DISC_RADIUS, top + middle, DISC_RADIUS, number, ACCENT, PAPER)
    return Block(
        width=width,
        height=max(top + head.height, 2 * DISC_RADIUS),
        items=(Group(role=role, items=(*disc, *head.at(STEP_INDENT, top))),),
        baseline=top + head.baseline,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _NoticeLook:
    """Colours of a boxed note."""

    wash: Color
    color: Color


_LOOKS = {
    Notice.TIP: _NoticeLook(wash=WASH, color=ACCENT),
    Notice.CHECKPOINT: _NoticeLook(wash=WASH, color=ACCENT),
    Notice.CAUTION: _NoticeLook(wash=WASH_CAUTION, color=CAUTION),
}
_SIGNS = {Notice.TIP: tip_mark, Notice.CHECKPOINT: check_mark, Notice.CAUTION: caution_triangle}


def signal_run(kind: Notice, signal: str) -> Run:
    """A signal word in the note's colour."""
    return Run(text=signal, face=strong("").face, color=_LOOKS[kind].color)


def notice(
    kind: Notice, signal: str, paragraphs: Sequence[Sequence[Run]], width: float, style: TextStyle = BODY
) -> Block:
    """A boxed note: its sign, the signal word on a line of its own unless it is empty, then the paragraphs."""
    look = _LOOKS[kind]
    sign = 15.0
    left = SPACE_3 + sign + SPACE_2
    room = width - left - SPACE_3
    first = [set_text((signal_run(kind, signal),), style, room)] if signal else []
    texts = [*first, *(set_text(runs, style, room) for runs in paragraphs)]
    inner = stack(texts)
    height = inner.height + 2 * SPACE_2
    surface: tuple[Item, ...] = (
        Rectangle(x=0.0, y=0.0, width=width, height=height, radius=3.0, fill=look.wash),
        Rectangle(x=0.0, y=0.0, width=3.0, height=height, radius=1.5, fill=look.color),
        *_SIGNS[kind](SPACE_3 + sign / 2, SPACE_2 + style.leading / 2, sign, look.color),
    )
    return Block(
        width=width,
        height=height,
        items=(
            Group(role=Role.DECORATION, items=surface),
            Group(role=Role.NOTE, items=inner.at(left, SPACE_2)),
        ),
        baseline=SPACE_2 + inner.baseline,
    )


def fact(label: str, value: str, width: float) -> Block:
    """A value in large type, on one line, over its label, as on the page of figures at a glance."""
    long = natural_width(plain(value), FIGURE_VALUE)
    size = FIGURE_VALUE.size * min(1.0, width / long) if long else FIGURE_VALUE.size
    style = replace(FIGURE_VALUE, size=max(size - 0.05, _LEAST_FACT) if long > width else size)
    number = set_text(plain(value), style, width, role=None)
    name = set_text(plain(label), LABEL, width, role=None)
    items = (*number.items, *name.at(0.0, number.height + SPACE_1 / 2))
    return Block(
        width=width,
        height=number.height + SPACE_1 / 2 + name.height,
        items=(Group(role=Role.PARAGRAPH, items=items),),
        baseline=number.baseline,
    )
