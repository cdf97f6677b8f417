"""Fonts of a house's own: what is taken, what is refused, and what is then printed.

The fonts are Bitstream Vera, which comes with reportlab: no kerning by GPOS, 2048 units to the em, no Greek.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
import reportlab

from compiler.booklet import fonts
from compiler.booklet.fonts import choose, font_family, font_problem, kerns, missing_glyphs, text_width
from compiler.booklet.page import Face
from compiler.housestyle import load_house_style
from notation.source import Source

VERA = (Path(reportlab.__file__).parent / "fonts" / "Vera.ttf").read_bytes()
PAGE = Path(__file__).parents[2] / "notation" / "house-style.md"
PATTERN = """\
title "Lyra"
ring link: inner 5 mm, wire 1 mm, metal copper
piece chain:
    line up of 4:
        pass 1 link through the one before
"""


@pytest.fixture(autouse=True)
def usual_fonts() -> Iterator[None]:
    yield
    choose({})


def problems(text: str) -> list[str]:
    return [each.message for each in load_house_style(Source(name="s.yaml", text=text), Path()).problems]


def test_a_font_is_measured_by_its_own_units() -> None:
    before = text_width("Hang it", Face.REGULAR, 10)
    choose({Face.REGULAR: VERA})
    # advance widths of H, a, n, g, space, i, t in the table hmtx of Vera, of 2048
    units = 1540 + 1255 + 1298 + 1300 + 651 + 569 + 803
    assert text_width("Hang it", Face.REGULAR, 10) == pytest.approx(units / 2048 * 10, abs=0.03)
    assert set(kerns("AVAToe", Face.REGULAR)) == {0}
    assert missing_glyphs("Λύρα", (Face.REGULAR,)) == ("Λ", "ύ", "ρ", "α")
    assert missing_glyphs("Λύρα", (Face.LIGHT,)) == ()
    choose({})
    assert text_width("Hang it", Face.REGULAR, 10) == before


def test_the_booklet_is_set_in_the_fonts_of_the_house_and_says_so(run) -> None:
    Path("own").mkdir()
    Path("own/vera.ttf").write_bytes(VERA)
    Path("s.yaml").write_text("fonts: {regular: own/vera.ttf, light: own/vera.ttf}\n", "utf-8")
    Path("p.annulet").write_text(PATTERN, "utf-8")
    books = []
    for name in ("a.pdf", "b.pdf"):
        assert run("build", "p.annulet", "--schematic", "--style", "s.yaml", "-o", name).code == 0
        books.append(Path(name).read_bytes())
    assert books[0] == books[1]
    reader = pypdf.PdfReader(io.BytesIO(books[0]))
    names = {
        str(font["/BaseFont"]).split("+")[1]
        for page in reader.pages
        for font in (each.get_object() for each in page["/Resources"]["/Font"].values())
        if "+" in str(font["/BaseFont"])
    }
    assert any("Vera" in name for name in names)
    assert not {"FiraSans-Regular", "FiraSans-Light"} & names
    text = " ".join(reader.pages[-1].extract_text().split())
    assert "Set in Bitstream Vera Sans and Fira Sans (SIL Open Font License 1.1)." in text
    run("build", "p.annulet", "--schematic", "-o", "c.pdf")
    usual = pypdf.PdfReader("c.pdf").pages[-1].extract_text()
    assert "Set in Fira Sans (SIL Open Font License 1.1)." in " ".join(usual.split())


def test_letters_that_the_chosen_fonts_lack_are_told(run) -> None:
    Path("vera.ttf").write_bytes(VERA)
    Path("p.annulet").write_text(PATTERN.replace("Lyra", "Λύρα"), "utf-8")
    assert run("build", "p.annulet", "--schematic", "-o", "a.pdf").code == 0
    Path("s.yaml").write_text("fonts: {light: vera.ttf}\n", "utf-8")
    ran = run("build", "p.annulet", "--schematic", "--style", "s.yaml", "-o", "b.pdf")
    assert ran.code == 1
    assert "no-glyph" in ran.err
    assert not Path("b.pdf").exists()
    Path("s.yaml").write_text("fonts: {light: vera.ttf}\npublisher: Λύρα\n", "utf-8")
    ran = run("build", "p.annulet", "--style", "s.yaml", "-o", "b.pdf")
    assert ran.code == 2
    assert "the fonts have no U+039B" in ran.err


def test_what_is_no_font_for_a_booklet_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("vera.ttf").write_bytes(VERA)
    Path("text.ttf").write_bytes(b"no font at all")
    Path("half.ttf").write_bytes(VERA[: len(VERA) // 2])
    assert problems("fonts: {light: vera.ttf}\n") == []
    assert problems("fonts: {light: text.ttf}\n")[0].startswith("the font `text.ttf` is no TrueType file")
    assert problems("fonts: {light: half.ttf}\n")[0].startswith("the font `half.ttf` is no TrueType file")
    assert problems("fonts: {light: none.ttf}\n") == [
        "the font `none.ttf` cannot be read: there is no such file"
    ]
    assert "outside the folder" in problems("fonts: {light: ../vera.ttf}\n")[0]
    assert "a font is named from the folder" in problems("fonts: {light: /vera.ttf}\n")[0]
    assert "`bold` is not known here" in problems("fonts: {bold: vera.ttf}\n")[0]


def test_a_font_that_may_not_be_embedded_or_lacks_what_we_write_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert font_problem(VERA) == ""
    assert font_family(VERA) == "Bitstream Vera Sans"
    at = VERA.index(b"OS/2")
    offset = int.from_bytes(VERA[at + 8 : at + 12], "big")
    restricted = VERA[: offset + 8] + b"\x00\x02" + VERA[offset + 10 :]
    assert font_problem(restricted) == "may not be embedded, as it says itself"
    monkeypatch.setattr(fonts, "NEEDED", "aΛ")
    assert font_problem(VERA) == "lacks U+039B"


def test_the_page_has_every_character_that_is_needed() -> None:
    (said,) = re.findall(r"a no-break space and (.*?)\)", PAGE.read_text("utf-8").replace("\n", " "))
    assert set(said) - {" "} == {char for char in fonts.NEEDED if ord(char) > 0xA0}
