"""The fonts of the booklet.

In: text and a face, out: widths, vertical measures and the characters that are missing. The faces are static
TrueType files of Fira Sans, shipped with the package `fontpkg-fira-sans` (OFL 1.1), or those that a house
chooses, for the whole run (`choose`); the fonts of the machine are never looked at. Measures are read from
the files by reportlab's own parser, so that what is measured is what is drawn. Letters are not shaped: a
combining mark that has no letter of its own counts as missing.
"""

import struct
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from io import BytesIO
from itertools import pairwise, product

import fontpkg_fira_sans

from compiler.booklet.isolation import isolated
from compiler.booklet.kerning import Kerning
from compiler.booklet.page import Face

with isolated():
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFError, TTFont

_FILES = {
    Face.LIGHT: "FiraSans-Light.ttf",
    Face.REGULAR: "FiraSans-Regular.ttf",
    Face.ITALIC: "FiraSans-Italic.ttf",
    Face.SEMIBOLD: "FiraSans-SemiBold.ttf",
}


NEEDED = "".join(map(chr, range(0x20, 0x7F))) + "\xa0³·¼½¾×–—’“”…"
"""What the booklet's own words are written with: every face must have it."""
_FORBIDDEN, _EMBEDDING = 0x0002, 0x000F
"""Of `fsType` in the table OS/2: embedding needs a licence of its own (OpenType specification 1.9, OS/2)."""
_chosen: dict[Face, bytes] = {}
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
        loaded = _read(font_name(face), BytesIO(_chosen[face]) if face in _chosen else str(path))
        if face in _chosen:
            # as reportlab itself tells the fonts of a collection apart: two files may call themselves alike
            loaded.face.subfontNameX = b"-" + face.value.encode("ascii")
        pdfmetrics.registerFont(loaded)
    return loaded


def _read(name: str, file: BytesIO | str) -> TTFont:
    return TTFont(name, file, asciiReadable=0, shapable=False)


def choose(files: Mapping[Face, bytes]) -> None:
    """Takes these TrueType files for the rest of the run, the usual ones for the faces that are not named.

    They must have passed `font_problem`.
    """
    if files == _chosen:
        return
    _chosen.clear()
    _chosen.update(files)
    for remembered in (font, metrics, _units, kerns, _kerning):
        remembered.cache_clear()


def fonts_in_use() -> Mapping[Face, bytes]:
    """The files that a house has chosen; the usual ones are not among them."""
    return dict(_chosen)


def font_problem(data: bytes) -> str:
    """Why a file cannot be the font of a booklet, in words that go on from "the font ..."; empty where it can."""
    try:
        with isolated():
            face = _read("Annulet-trial", BytesIO(data)).face
        rights = struct.unpack_from(">H", face.get_table("OS/2"), 8)[0]
        kerning = Kerning(face.get_table("GPOS")) if "GPOS" in face.table else None
        glyphs = [face.charToGlyph.get(ord(char)) for char in NEEDED]
        if kerning is not None:  # the pairs of our words, and the list of every glyph that a text could have
            for left, right in (
                *pairwise(each or 0 for each in glyphs),
                *product(face.charToGlyph.values(), (0,)),
            ):
                kerning.pair(left, right)
    except (TTFError, struct.error, LookupError, ValueError, TypeError, AttributeError, ZeroDivisionError):
        return "is no TrueType file that can be used (outlines in PostScript form are not)"
    if rights & _EMBEDDING == _FORBIDDEN:
        return "may not be embedded, as it says itself"
    missing = [f"U+{ord(char):04X}" for char, glyph in zip(NEEDED, glyphs, strict=True) if not glyph]
    return f"lacks {', '.join(missing)}" if missing else ""


def font_family(data: bytes) -> str:
    """What a font calls its family; empty where that is not plain text."""
    with isolated():
        name = _read("Annulet-trial", BytesIO(data)).face.familyName
    text = name.decode("utf-8", "replace") if isinstance(name, bytes) else str(name)
    return text if text.isascii() and text.isprintable() else ""


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
        else kerning(glyphs.get(ord(left), 0), glyphs.get(ord(right), 0))
        for left, right in pairwise(text)
    )
    return (*between, 0) if text else ()


@cache
def _kerning(face: Face) -> Callable[[int, int], int]:
    """What to add between two glyphs, in thousandths of the type size."""
    table = font(face).face
    if "GPOS" not in table.table:
        return lambda left, right: 0  # noqa: ARG005
    kerning, em = Kerning(table.get_table("GPOS")), table.unitsPerEm
    return lambda left, right: round(kerning.pair(left, right) * 1000 / em)


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
