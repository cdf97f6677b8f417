"""What a booklet says of its edition, on the cover and at the end; inches on letter paper."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from pattern_books import EARRING, HEAD, KIT, Boxes, leaves, pdf_text, weave_of

from compiler.booklet.compose import Options, compose
from compiler.booklet.figuretypes import Figure
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Document, Text
from compiler.booklet.style import Paper
from compiler.word.words import word

FULL = HEAD + KIT + EARRING


class Scaled(Boxes):
    """Boxes that are drawn to a scale, with something to say of them."""

    def finished(self, piece: int, width: float, height: float) -> Figure:
        drawn = super().finished(piece, width, height)
        return replace(drawn, schematic=False, scale=2.5, caption="The bodies of findings are signs.")


def booklet(text: str = FULL, **options: object) -> Document:
    weave = weave_of(text)
    return compose(weave, word(weave), Scaled(), Options(**options))


@pytest.mark.parametrize(
    "changes", ["", "arms = 8", "variant heavy · length = 185 mm · link = 6 mm/1.2 mm, brass"]
)
def test_the_scale_of_the_cover_never_runs_into_the_edition(changes: str) -> None:
    document = booklet(changes=changes)
    texts = [item for item in leaves(document.pages[0].items) if isinstance(item, Text)]
    boxes = [
        (item.x, item.x + text_width(item.string, item.face, item.size, item.tracking), item.y)
        for item in texts
        if item.string.strip()
    ]
    for number, (left, right, y) in enumerate(boxes):
        for other_left, other_right, other_y in boxes[number + 1 :]:
            assert abs(y - other_y) > 6 or right <= other_left + 0.1 or other_right <= left + 0.1
    said = " ".join(pdf_text(document)[0].split())
    assert "The bodies of findings are signs." in said
    assert (f"With {changes}" in said) is bool(changes)


def test_lengths_stand_beside_the_edition() -> None:
    (*_, last) = pdf_text(booklet(lengths=("bracelet made to 185 mm (turns = 20)",)))
    assert "Length bracelet made to 185 mm (turns = 20)" in " ".join(last.split())
    assert "Made to length" not in " ".join(pdf_text(booklet())[-1].split())


def test_letter_paper_gives_sizes_in_inches_too() -> None:
    weave = weave_of(FULL)
    text = " ".join(" ".join(pdf_text(booklet(paper=Paper.LETTER))).split())
    for ring in weave.ring_kinds:
        # to a thousandth, half up: from whole numbers of 0.0001 mm
        inner, wire = (int(mm * 10_000) for mm in (ring.inner_mm, ring.wire_mm))
        both = [Decimal((each * 10 + 1270) // 2540).scaleb(-3) for each in (inner, wire)]
        assert f"{ring.plural} {both[0]:.3f} and {both[1]:.3f}" in text
    extent = Boxes().extent(0)
    assert extent is not None
    assert f"In inches: earring {extent.length_mm / 25.4:.2f} × {extent.width_mm / 25.4:.2f}" in text
    assert "inches:" not in " ".join(pdf_text(booklet(paper=Paper.A4)))
