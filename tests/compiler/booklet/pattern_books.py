"""Booklets of short texts, for the tests of pages: without figures, with boxes for figures, as PDF text."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass, field

import pypdf

from compiler.booklet.compose import Options, compose
from compiler.booklet.figuretypes import NO_FIGURES, Estimate, Extent, Figure, FigureSource, MarkSample
from compiler.booklet.page import Circle, Document, Group, Item, Page, Rectangle, Role, Stroke, Text
from compiler.booklet.style import INK, Paper
from compiler.booklet.typeset import typeset
from compiler.expand.driver import expand
from compiler.weave import Weave
from compiler.word.words import word
from grammar.parse import parse
from notation.source import Source

HEAD = """\
title "Corvus earrings"
by "Tamsin Orrell"
licence "CC-BY-4.0"
version "1.0.0"
level "beginner"
about "A chain of pairs with a drop."
ring large: inner 5 mm, wire 1.2 mm, metal brass, doubled
ring small: inner 3 mm, wire 0.7 mm, metal sterling-silver
finding hook: ear-wire, eye 2 mm opens, wire 0.7 mm
finding drop: drop, eye 1.5 mm
label large "large ring"
label small "small ring"
label hook "ear wire"
label drop "glass drop"
"""
KIT = "kit: 40 large, 9 small, 2 hook, 5 drop\n"
EARRING = """
piece earring made 2 times:
    line pair of 6:
        pass 2 large through the one before
    step "Hang the drops":
        repeat 2 times:
            pass 1 small through last of pair carrying 1 drop
    step "Hang the ear wire":
        hang hook from first of pair
"""
SHEET = """
piece strip:
    sheet mesh of 30 rows of 4, staggered:
        pass 1 small through the two below
"""

_WORD = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft"
_NAME = "Extraordinarily-long-constellation-name "
STRESS = (
    f'title "{_NAME * 12}"\nby "{_WORD} {_WORD}"\nlevel "{"for the patient " * 9}"\nversion "10.20.30-rc.1"\n'
    + f'about "{"A text that goes on and on. " * 60}"\n'
    + "".join(
        f"ring k{n}: inner {3 + n / 2:g} mm, wire {0.6 + n % 8 / 10:g} mm, metal nickel-silver\n"
        f'label k{n} "{_WORD[: 20 + 3 * n]} number {n}"\n'
        for n in range(24)
    )
    + f'piece charm made 3 times:\n    step "{_NAME * 8}":\n        take 1 k0 as a0\n'
    + f'        caution "{"Mind your fingers. " * 60}"\n        note "{_WORD * 9}"\n    step "All of them":\n'
    + "".join(f"        pass 1 k{n} as a{n} through a{n - 1}\n" for n in range(1, 24))
    + "".join(f"piece p{n}:\n    take 1 k{n}\n" for n in range(3))
)
"""Every text too long, too many kinds, too many pieces for columns."""


def weave_of(text: str) -> Weave:
    """The weave of a text, which may hold no mistake but something unused."""
    pattern, told = parse(Source(name="test.annulet", text=text))
    weave, more = expand(pattern, {})
    wrong = [each for each in (*told, *more) if "unused" not in each.rule]
    assert not wrong, wrong
    return weave


def document_of(text: str, figures: FigureSource = NO_FIGURES, paper: Paper = Paper.A4) -> Document:
    """The pages of a text's booklet."""
    weave = weave_of(text)
    return compose(weave, word(weave), figures, Options(paper=paper))


def pdf_text(document: Document) -> list[str]:
    """What another program reads on each page of the file, spaces of all kinds as one."""
    reader = pypdf.PdfReader(io.BytesIO(typeset(document)))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def leaves(items: tuple[Item, ...]) -> Iterator[Item]:
    """Every item that is no group, in order of reading."""
    for item in items:
        if isinstance(item, Group):
            yield from leaves(item.items)
        else:
            yield item


def groups(items: tuple[Item, ...], role: Role) -> list[Group]:
    """The groups of a role, also inside others."""
    found: list[Group] = []
    for item in items:
        if isinstance(item, Group):
            found += [item] if item.role is role else groups(item.items, role)
    return found


def text_of(item: Item) -> str:
    """The characters of an item, runs joined."""
    if isinstance(item, Text):
        return item.string
    return "".join(text_of(part) for part in item.items) if isinstance(item, Group) else ""


def cells(page: Page) -> list[list[str]]:
    """The rows of all tables of a page."""
    return [
        [text_of(cell) for cell in row.items]
        for table in groups(page.items, Role.TABLE)
        for row in table.items
        if isinstance(row, Group)
    ]


@dataclass
class Boxes:
    """Draws a box for each figure, of a given shape; remembers what room it was offered."""

    shape: float = 1.0
    """Width over height."""
    offered: list[tuple[float, float]] = field(default_factory=list)

    def _box(self, width: float, height: float, alt: str) -> Figure:
        wide = min(width, height * self.shape)
        items: tuple[Item, ...] = (
            Rectangle(
                x=0.0, y=0.0, width=wide, height=wide / self.shape, stroke=Stroke(color=INK, width=1.0)
            ),
            Circle(x=wide / 2, y=wide / 2 / self.shape, radius=4.0, fill=INK),
        )
        return Figure(width=wide, height=wide / self.shape, items=items, alt=alt, schematic=True, scale=None)

    def finished(self, piece: int, width: float, height: float) -> Figure:
        return self._box(width, height, f"Piece {piece}.")

    def actual(self, piece: int, width: float, height: float) -> Figure | None:  # noqa: ARG002
        return None

    def step(self, piece: int, step: int, width: float, height: float) -> Figure:
        self.offered.append((width, height))
        return self._box(width, height, f"Figure of step {step} of piece {piece}.")

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate:  # noqa: ARG002
        self.offered.append((width, height))
        wide = min(width, height * self.shape)
        return Estimate(clear=wide**0.15, height=wide / self.shape)  # a larger box is only a little clearer

    def extent(self, piece: int) -> Extent:
        return Extent(length_mm=45.6, width_mm=12.34 + piece, thickness_mm=3.21)

    def key(self) -> tuple[MarkSample, ...]:
        return ()
