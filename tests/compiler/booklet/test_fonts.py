"""Widths and coverage of the fonts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase import pdfmetrics

from compiler.booklet.fonts import font, font_name, kerns, metrics, missing_glyphs, text_width
from compiler.booklet.page import Face

LETTERS = "ABCxyz 0123456789 éłřßœÉ – — ’ ‘ “ ” × ± µ ° ½ · … €"


@pytest.mark.parametrize("face", list(Face))
@given(text=st.text(alphabet=LETTERS, max_size=60), size=st.sampled_from([8.5, 10.25, 46.0]))
def test_widths_are_those_reportlab_draws_with(face: Face, text: str, size: float) -> None:
    font(face)
    expected = pdfmetrics.stringWidth(text, font_name(face), size) + sum(kerns(text, face)) * size / 1000
    assert text_width(text, face, size) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("face", "pairs"),
    [
        (Face.LIGHT, {"AV": -12, "To": -55, "We": -10, "HH": 0, "Ly": -64}),
        (Face.REGULAR, {"AV": -14, "To": -55, "We": -10, "HH": 0, "Ly": -69}),
        (Face.ITALIC, {"AV": -14, "To": -55, "We": -10, "HH": 0, "Ly": -68}),
        (Face.SEMIBOLD, {"AV": -17, "To": -55, "We": -10, "HH": 0, "Ly": -74}),
    ],
)
def test_pairs_are_kerned_as_a_shaping_engine_kerns_them(face: Face, pairs: dict[str, int]) -> None:
    # values as HarfBuzz sets them with these fonts (uharfbuzz 0.57, feature kern alone)
    assert {pair: kerns(pair, face)[0] for pair in pairs} == pairs


def test_spaces_and_ends_are_not_kerned() -> None:
    assert kerns("", Face.REGULAR) == ()
    assert kerns("T o\xa0T", Face.REGULAR) == (0, 0, 0, 0, 0)
    assert kerns("To", Face.REGULAR)[1] == 0


def test_tracking_adds_to_every_character() -> None:
    bare = text_width("ring", Face.REGULAR, 10)
    assert text_width("ring", Face.REGULAR, 10, 0.5) == pytest.approx(bare + 2.0)


@pytest.mark.parametrize("face", list(Face))
def test_a_no_break_space_is_as_wide_as_a_space(face: Face) -> None:
    # the PDF writer draws one as the other
    assert text_width("\xa0", face, 10) == text_width(" ", face, 10)


def test_letters_of_the_languages_we_may_print_are_there() -> None:
    latin = "".join(chr(code) for code in [*range(0x21, 0x7F), *range(0xA1, 0xAD), *range(0xAE, 0x180)])
    assert missing_glyphs(latin.replace("ŉ", "")) == ()
    assert missing_glyphs(LETTERS) == ()
    assert missing_glyphs("Λύρα Лира →") == ()


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("ring ⌀ 5 ⌀", ("⌀",)),
        ("環と①", ("環", "と", "①")),
        ("e\u0301", ("\u0301",)),
        ("a\tb", ("\t",)),
        ("a\u202eb\u200b", ("\u202e", "\u200b")),
        ("טבעת", ("ט", "ב", "ע", "ת")),
    ],
)
def test_what_the_fonts_cannot_draw_is_named_once_in_order(text: str, missing: tuple[str, ...]) -> None:
    assert missing_glyphs(text) == missing


def test_vertical_measures_are_shares_of_the_size() -> None:
    measures = metrics(Face.REGULAR)
    assert measures.cap_height == pytest.approx(0.689)
    assert measures.ascent > measures.cap_height > measures.descent > 0
