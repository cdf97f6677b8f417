"""The true-size page: outlines and bars as long on paper as they say."""

from __future__ import annotations

import pytest
from pattern_books import EARRING, HEAD, SHEET, document_of, groups, leaves, pdf_text

from compiler.booklet.page import Circle, Document, Group, Line, Page, Rectangle, Role
from compiler.booklet.style import HAIRLINE, Paper

POINTS_A_MM = 72 / 25.4


def true_size_page(document: Document) -> Page:
    texts = pdf_text(document)
    return next(
        page for page, text in zip(document.pages, texts, strict=True) if text.startswith("True size")
    )


def figures(page: Page, begin: str) -> list[Group]:
    return [each for each in groups(page.items, Role.FIGURE) if str(each.alt).startswith(begin)]


@pytest.mark.parametrize("paper", list(Paper), ids=lambda paper: paper.name)
def test_outlines_have_the_true_diameters(paper: Paper) -> None:
    page = true_size_page(document_of(HEAD + EARRING, paper=paper))
    sizes = []
    for outline in figures(page, "Outline of"):
        circles = [item for item in leaves(outline.items) if isinstance(item, Circle)]
        edge = next(item for item in leaves(outline.items) if isinstance(item, Rectangle))
        outer, inner = sorted(circles, key=lambda circle: -circle.radius)
        # the line lies inside the metal: its outer side is the edge
        sizes.append(
            [
                round(value / POINTS_A_MM, 2)
                for value in (
                    2 * outer.radius + HAIRLINE,
                    2 * inner.radius - HAIRLINE,
                    edge.width + HAIRLINE,
                    edge.height + HAIRLINE,
                )
            ]
        )
        assert (outer.x, outer.y) == (inner.x, inner.y)
    assert sizes == [
        pytest.approx([7.4, 5.0, 7.4, 1.2], abs=0.011),
        pytest.approx([4.4, 3.0, 4.4, 0.7], abs=0.011),
    ]


def test_the_bars_are_50_mm_and_2_inches_long() -> None:
    page = true_size_page(document_of(HEAD + EARRING))
    lengths = {}
    for bar in figures(page, "A bar"):
        lines = [item for item in leaves(bar.items) if isinstance(item, Line)]
        lengths[bar.alt] = max(line.x2 - line.x1 for line in lines)
        ticks = [line for line in lines if line.x1 == line.x2]
        assert max(tick.x1 for tick in ticks) - min(tick.x1 for tick in ticks) == pytest.approx(
            lengths[bar.alt], abs=0.02
        )
    millimetres, inches = lengths.values()
    assert millimetres == pytest.approx(141.732, abs=0.02)  # 50 mm
    assert inches == pytest.approx(144.0, abs=0.02)  # 72 pt an inch


def test_the_page_says_to_print_without_scaling() -> None:
    text = next(text for text in pdf_text(document_of(HEAD + EARRING)) if text.startswith("True size"))
    assert "Print this page at 100 %" in text
    assert "never “fit to page”" in text


def test_only_rings_that_are_used_are_drawn() -> None:
    page = true_size_page(document_of(HEAD + SHEET))
    assert len(figures(page, "Outline of")) == 1


def test_a_ring_that_is_wider_than_the_page_is_named_and_not_drawn() -> None:
    hoop = "ring hoop: inner 300 mm, wire 2 mm, metal copper\n"
    document = document_of(HEAD + hoop + EARRING + "piece wreath:\n    take 1 hoop\n")
    text = next(text for text in pdf_text(document) if text.startswith("True size"))
    assert "Too large for the page, so not drawn: hoops." in text
    assert len(figures(true_size_page(document), "Outline of")) == 2
