"""The fonts of the booklet.

In: text and a face, out: widths, vertical measures and the characters that are missing. The faces are
static TrueType files of Fira Sans, shipped with the package `fontpkg-fira-sans` (OFL 1.1); the fonts of the
machine are never looked at. Measures are read from the files by reportlab's own parser, so that what is
measured is what is drawn. Letters are not shaped: a combining mark that has no letter of its own counts as
missing.
"""

import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise

import fontpkg_fira_sans

from compiler.booklet.isolation import isolated
from compiler.booklet.kerning import Kerning
from compiler.booklet.page import Face

with isolated():
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

_FILES = {
    Face.LIGHT: "FiraSans-Light.ttf",
    Face.REGULAR: "FiraSans-Regular.ttf",
    Face.ITALIC: "FiraSans-Italic.ttf",
    Face.SEMIBOLD: "FiraSans-SemiBold.ttf",
}


_SPACES = " \xa0"
_REMEMBERED = 10_000
"""Texts whose widths are kept: the words of a booklet come again and again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Metrics:
    """Vertical measures of a face, as shares of the type size."""

    ascent: float
    descent: float
    """Below the baseline, a positive number."""
    cap_height: float


@cache
def font(face: Face) -> TTFont:
    """The face as reportlab's font, read once, registered under the name that `font_name` gives."""
    path = fontpkg_fira_sans.ROOT / "files" / _FILES[face]
    with isolated():
        loaded = TTFont(font_name(face), str(path), asciiReadable=0, shapable=False)
        pdfmetrics.registerFont(loaded)
    return loaded


def font_name(face: Face) -> str:
    """The name under which reportlab knows the face."""
    return "Annulet-" + face.value


@cache
def metrics(face: Face) -> Metrics:
    """Vertical measures of the face."""
    table = font(face).face
    return Metrics(
        ascent=table.ascent / 1000, descent=-table.descent / 1000, cap_height=table.capHeight / 1000
    )


def text_width(text: str, face: Face, size: float, tracking: float = 0.0) -> float:
    """Width of the text in points, kerned; a missing character is as wide as the font's sign for it."""
    return _units(text, face) * size / 1000 + tracking * len(text)


@lru_cache(_REMEMBERED)
def _units(text: str, face: Face) -> float:
    """Width of the text, kerned, in thousandths of the type size."""
    table = font(face).face
    widths, default = table.charWidths, table.defaultWidth
    units: float = sum(widths.get(ord(char), default) for char in text) + sum(kerns(text, face))
    return units


@lru_cache(_REMEMBERED)
def kerns(text: str, face: Face) -> tuple[int, ...]:
    """What is added after each character, in thousandths of the type size; spaces are not kerned."""
    glyphs, kerning = font(face).face.charToGlyph, _kerning(face)
    between = (
        0
        if left in _SPACES or right in _SPACES
        else kerning.pair(glyphs.get(ord(left), 0), glyphs.get(ord(right), 0))
        for left, right in pairwise(text)
    )
    return (*between, 0) if text else ()


@cache
def _kerning(face: Face) -> Kerning:
    return Kerning(font(face).face.get_table("GPOS"))


def missing_glyphs(text: str, faces: tuple[Face, ...] = tuple(Face)) -> tuple[str, ...]:
    """The characters of the text that one of the faces cannot draw, each once, in order of appearance."""
    tables = [font(face).face.charToGlyph for face in faces]
    return tuple(
        char
        for char in dict.fromkeys(text)
        if not _is_plain(char) or any(ord(char) not in table for table in tables)
    )


def _is_plain(char: str) -> bool:
    """Whether one glyph at its place draws the character, with nothing to shape and no hidden effect."""
    return char == "\xa0" or (char.isprintable() and unicodedata.category(char) not in ("Mn", "Me"))
