"""What a publisher's house makes of a booklet: name, colours, logo, which parts are printed.

In: nothing, out: the types that `compose` takes and `compiler.housestyle` reads from a file.
"""

from dataclasses import dataclass
from enum import Enum

from compiler.booklet.page import Color, Face
from compiler.booklet.style import ACCENT, CAUTION, INK, PASSED, PLACED


class Section(Enum):
    """A part of the booklet that may be left out; the values are those of a house style.

    Materials, steps, cautions and the page on the edition are always there: a maker needs them.
    """

    GLANCE = "at-a-glance"
    TRUE_SIZE = "true-size"
    FINISHING = "finishing"
    GLOSSARY = "glossary"
    CONTENTS = "contents"


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """The colours that a house may choose; tints of them in figures and surfaces follow."""

    ink: Color = INK
    """Text and outlines."""
    accent: Color = ACCENT
    """Headings, numbers, and the new rings of a figure."""
    passed: Color = PASSED
    """What a ring goes through."""
    placed: Color = PLACED
    """What is in the work already."""
    caution: Color = CAUTION
    """Cautions."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Logo:
    """A picture for the cover."""

    data: bytes
    """A PNG or JPEG file."""
    columns: int
    rows: int
    """Pixels."""
    says: str
    """What a reader who hears the page is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """A publisher's house style; as it stands, that of a booklet without one."""

    publisher: str = ""
    contact: str = ""
    palette: Palette = Palette()
    left_out: tuple[Section, ...] = ()
    logo: Logo | None = None
    fonts: tuple[tuple[Face, bytes], ...] = ()
    """TrueType files for faces; the usual ones for the others."""
    families: tuple[str, ...] = ()
    """What those fonts call themselves, each once."""
