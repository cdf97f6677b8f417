"""A booklet as a whole is a sound PDF file, in the eyes of three programs that share no code with the one that made it.

pikepdf (qpdf) checks the file's structure, pypdf and PDFium open it and read its text. The booklet is made from a
pattern whose every text is an attempt: markup, scripts, addresses, control characters.
"""

from __future__ import annotations

import io
import re
import subprocess
import sys
from pathlib import Path

import pikepdf
import pypdf
import pypdfium2
import pytest

ROOT = Path(__file__).parents[3]
HOSTILE = """\
title "Vela </para><a href='https://example.org'>more</a> (x) Tj /JS (app.alert(1)) %%EOF"
by "Tamsin <b>Orrell</b> & Co \\\\ endobj"
licence "javascript:app.alert(1)"
about "<img src='logo.png'/> {0} {title} %s $(id) &amp; <script>alert(1)</script>"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    step "<link href='file:///etc/hostname'>Begin</link> \\"quoted\\"":
        line chain of 4:
            pass 1 link through the one before
        note "See https://example.org/ or mailto:tamsin@example.org, =HYPERLINK(1) <onDraw name='x'/>"
"""
FORBIDDEN = (
    "/JS",
    "/JavaScript",
    "/Launch",
    "/URI",
    "/SubmitForm",
    "/ImportData",
    "/GoToR",
    "/GoToE",
    "/EmbeddedFile",
    "/EmbeddedFiles",
    "/OpenAction",
    "/AA",
    "/RichMedia",
    "/Movie",
    "/Sound",
    "/XFA",
    "/AcroForm",
    "/Rendition",
)


def built(folder: Path, text: str | None, pattern: Path | None = None, *words: str) -> bytes:
    """The booklet of a text, or of a pattern of the library."""
    if text is not None:
        pattern = folder / "vela.annulet"
        pattern.write_text(text, "utf-8")
    ran = subprocess.run(
        [sys.executable, "-m", "compiler", "build", *words, str(pattern), "-o", str(folder / "out.pdf")],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert ran.returncode == 0, ran.stderr
    return (folder / "out.pdf").read_bytes()


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    return built(tmp_path_factory.mktemp("hostile"), HOSTILE, None, "--schematic")


@pytest.fixture(scope="module")
def lyra(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    return built(tmp_path_factory.mktemp("lyra"), None, ROOT / "patterns/lyra-earrings.annulet")


@pytest.fixture(params=["hostile", "lyra"])
def booklet(request: pytest.FixtureRequest) -> bytes:
    found = request.getfixturevalue(request.param)
    assert isinstance(found, bytes)
    return found


def plain(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_qpdf_finds_nothing_wrong(booklet: bytes) -> None:
    with pikepdf.open(io.BytesIO(booklet), suppress_warnings=False) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert pdf.get_warnings() == []


def test_both_readers_open_it_and_read_the_same_text(booklet: bytes) -> None:
    pages = pypdf.PdfReader(io.BytesIO(booklet), strict=True).pages
    other = pypdfium2.PdfDocument(booklet)
    assert len(pages) == len(other) > 2
    for page, again in zip(pages, other, strict=True):
        ours, theirs = plain(page.extract_text()), plain(again.get_textpage().get_text_range())
        assert sorted(ours) == sorted(theirs)
        assert ours


def test_every_font_used_is_embedded_and_says_what_its_glyphs_mean(booklet: bytes) -> None:
    with pikepdf.open(io.BytesIO(booklet)) as pdf:
        fonts = [
            each
            for each in pdf.objects
            if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/Font"
        ]
        assert fonts
        for font in fonts:
            inner = font.DescendantFonts[0] if "/DescendantFonts" in font else font
            descriptor = inner.FontDescriptor
            assert any(name in descriptor for name in ("/FontFile", "/FontFile2", "/FontFile3"))
            assert "/ToUnicode" in font


def test_no_glyph_is_lost(booklet: bytes) -> None:
    """Every character that is shown has an outline or is a space: glyph 0 is the box for what a font lacks."""
    reader = pypdf.PdfReader(io.BytesIO(booklet))
    for page in reader.pages:
        text = page.extract_text()
        assert "\ufffd" not in text
        assert "\0" not in text
    other = pypdfium2.PdfDocument(booklet)
    for page in other:
        assert "\ufffe" not in page.get_textpage().get_text_range()


def test_boxes_lie_within_one_another_and_are_the_paper(booklet: bytes) -> None:
    for page in pypdf.PdfReader(io.BytesIO(booklet)).pages:
        assert (round(float(page.mediabox.width), 1), round(float(page.mediabox.height), 1)) == (595.3, 841.9)
        assert (page.mediabox.left, page.mediabox.bottom) == (0, 0)
        for box in (page.cropbox, page.trimbox, page.bleedbox, page.artbox):
            assert page.mediabox.left <= box.left < box.right <= page.mediabox.right
            assert page.mediabox.bottom <= box.bottom < box.top <= page.mediabox.top
        assert page.get("/Rotate", 0) == 0


def test_nothing_in_it_runs_opens_or_leads_out(booklet: bytes) -> None:
    def names(value: object) -> None:
        if isinstance(value, (pikepdf.Dictionary, pikepdf.Stream)):
            for key, inner in value.items():
                assert key not in FORBIDDEN, key
                if not getattr(inner, "is_indirect", False):
                    names(inner)
        elif isinstance(value, pikepdf.Array):
            for inner in value:
                if not getattr(inner, "is_indirect", False):
                    names(inner)
        elif isinstance(value, pikepdf.Name):
            assert str(value) not in FORBIDDEN, value

    with pikepdf.open(io.BytesIO(booklet)) as pdf:
        for each in pdf.objects:
            names(each)


def test_every_link_leads_to_a_page_of_the_booklet_and_is_over_text(booklet: bytes) -> None:
    other = pypdfium2.PdfDocument(booklet)
    reader = pypdf.PdfReader(io.BytesIO(booklet))
    for number, page in enumerate(reader.pages):
        for one in page.get("/Annots", []):
            link = one.get_object()
            assert link["/Subtype"] == "/Link"
            assert link.get("/A", {"/S": "/GoTo"})["/S"] == "/GoTo"
            left, bottom, right, top = (float(edge) for edge in link["/Rect"])
            assert other[number].get_textpage().get_text_bounded(left, bottom, right, top).strip()


def test_markup_in_texts_is_text(hostile: bytes) -> None:
    text = plain("".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(hostile)).pages))
    for part in (
        "</para><ahref='https://example.org'>more</a>(x)Tj/JS(app.alert(1))%%EOF",
        "Tamsin<b>Orrell</b>&Co\\endobj",
        "<script>alert(1)</script>",
        "{0}{title}%s$(id)&amp;",
        "<linkhref='file:///etc/hostname'>Begin</link>",
    ):
        assert part in text


@pytest.mark.parametrize("character", ["\x00", "\x07", "\x1b", "\x7f", "\x85", "\u202e", "\u2066", "\ufeff"])
def test_a_control_character_in_a_text_is_told_or_printed_as_nothing_else(
    tmp_path: Path, character: str
) -> None:
    """None gets into the booklet, and none reaches the terminal as it is."""
    pattern = tmp_path / "vela.annulet"
    pattern.write_text(HOSTILE.replace("Begin", f"Be{character}gin"), "utf-8")
    ran = subprocess.run(
        [
            sys.executable,
            "-m",
            "compiler",
            "build",
            "--schematic",
            str(pattern),
            "-o",
            str(tmp_path / "out.pdf"),
        ],
        cwd=ROOT,
        capture_output=True,
    )
    assert ran.returncode == 1
    assert character not in ran.stderr.decode("utf-8")
    assert not (tmp_path / "out.pdf").exists()
