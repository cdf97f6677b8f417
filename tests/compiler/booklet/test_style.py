"""The look of the booklet keeps what it promises."""

import itertools

import pytest

from compiler.booklet import style
from compiler.booklet.page import MM, Color
from compiler.booklet.style import Paper, TextStyle

TEXT_STYLES = [value for name, value in vars(style).items() if isinstance(value, TextStyle)]


def test_the_colours_of_a_figure_keep_their_order_and_distance_in_grey_print() -> None:
    order = [style.NEW, style.PASSED, style.PLACED, style.PAPER]
    for darker, lighter in itertools.pairwise(order):
        assert darker.luminance < lighter.luminance
        assert lighter.contrast(darker) >= 1.5


def test_outlines_stand_out_from_every_ring_but_the_darkest() -> None:
    assert style.INK.contrast(style.NEW) >= 1.5
    assert all(
        style.INK.contrast(color) >= 3 for color in (style.PASSED, style.PLACED, style.PAPER, style.WASH)
    )


@pytest.mark.parametrize("surface", [style.PAPER, style.WASH, style.WASH_CAUTION])
@pytest.mark.parametrize("color", [style.INK, style.MUTED, style.ACCENT, style.CAUTION])
def test_text_has_the_contrast_that_wcag_asks_for_on_every_surface(color: Color, surface: Color) -> None:
    assert color.contrast(surface) >= 4.5


def test_no_text_is_smaller_than_8_points_and_running_text_not_smaller_than_9() -> None:
    assert len(TEXT_STYLES) >= 10
    assert all(text.size >= 8 and text.leading >= 1.1 * text.size for text in TEXT_STYLES)
    assert all(text.size >= 9 for text in (style.BODY, style.LEAD, style.SMALL, style.CAPTION))


def test_papers_have_their_standard_sizes() -> None:
    assert (Paper.A4.width / MM, Paper.A4.height / MM) == pytest.approx((210, 297))
    assert (Paper.LETTER.width / 72, Paper.LETTER.height / 72) == (8.5, 11)


@pytest.mark.parametrize("paper", list(Paper))
def test_columns_of_the_grid_fill_the_frame(paper: Paper) -> None:
    frame = style.frame(paper)
    assert frame.column(0, 12) == pytest.approx((frame.x, frame.width))
    left, width = frame.column(0, 5)
    right, rest = frame.column(5, 7)
    assert left + width + style.GUTTER == pytest.approx(right)
    assert right + rest == pytest.approx(frame.x + frame.width)
    assert frame.bottom == pytest.approx(paper.height - style.MARGIN_BOTTOM)
    with pytest.raises(ValueError, match="columns"):
        frame.column(8, 5)
