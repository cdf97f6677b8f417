"""How every booklet looks, in one place.

In: nothing, out: type sizes, spaces, colours, line weights and papers. Lengths are points. The type sizes
are steps of about 1.25 from the body size; spaces are multiples of 4 pt. The colours of a figure keep their
order in grey print: ink, new, passed, placed and paper differ in luminance by a ratio of at least 1.5 from
one to the next, and new against passed also differs for eyes that mistake red for green.
"""

from dataclasses import dataclass
from enum import Enum

from compiler.booklet.page import MM, Color, Face


class Paper(Enum):
    """A paper size: width and height in points."""

    A4 = (210 * MM, 297 * MM)  # ISO 216
    LETTER = (612.0, 792.0)  # ANSI/ASME Y14.1, size A: 8.5 by 11 inches

    @property
    def width(self) -> float:
        """Width in points."""
        return self.value[0]

    @property
    def height(self) -> float:
        """Height in points."""
        return self.value[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class TextStyle:
    """How a run of text is set."""

    face: Face
    size: float
    leading: float
    """From baseline to baseline."""
    color: Color
    tracking: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The area of a page that text and figures fill, and the grid of columns in it."""

    x: float
    y: float
    width: float
    height: float

    @property
    def bottom(self) -> float:
        """The lower edge."""
        return self.y + self.height

    def column(self, first: int, span: int) -> tuple[float, float]:
        """Left edge and width of `span` columns of the grid, from column `first` (0 to 11) on."""
        if not 0 <= first < first + span <= COLUMNS:
            raise ValueError(f"the grid has {COLUMNS} columns: {first} and {span} more")
        unit = (self.width - (COLUMNS - 1) * GUTTER) / COLUMNS
        return self.x + first * (unit + GUTTER), span * unit + (span - 1) * GUTTER


COLUMNS = 12
GUTTER = 12.0

MARGIN_SIDE = 56.0
MARGIN_TOP = 60.0
MARGIN_BOTTOM = 76.0
FOOTER_BASELINE = 40.0
"""Height of the page number's baseline above the lower edge of the paper."""


def frame(paper: Paper) -> Frame:
    """The text area of a page of this paper."""
    return Frame(
        x=MARGIN_SIDE,
        y=MARGIN_TOP,
        width=paper.width - 2 * MARGIN_SIDE,
        height=paper.height - MARGIN_TOP - MARGIN_BOTTOM,
    )


# Spaces between things, smallest to largest.
SPACE_1 = 4.0
SPACE_2 = 8.0
SPACE_3 = 12.0
SPACE_4 = 20.0
SPACE_5 = 32.0
SPACE_6 = 56.0

# Colours of text and surfaces.
INK = Color(0x1D, 0x21, 0x26)
MUTED = Color(0x5A, 0x62, 0x6B)
ACCENT = Color(0x0B, 0x54, 0x60)
RULE = Color(0xC9, 0xCE, 0xD2)
WASH = Color(0xF3, 0xF5, 0xF4)
WASH_CAUTION = Color(0xFB, 0xF1, 0xE4)
CAUTION = Color(0x8A, 0x48, 0x0C)
PAPER = Color(0xFF, 0xFF, 0xFF)

# Colours of rings in a figure: what is added now, what it goes through, what was there before.
NEW = ACCENT
PASSED = Color(0xD0, 0x86, 0x3A)
PLACED = Color(0xC6, 0xCC, 0xD1)

# Line weights; nothing thinner than 0.25 pt survives an office printer (common practice).
HAIRLINE = 0.4
THIN = 0.7
MEDIUM = 1.2
HEAVY = 2.0

BODY = TextStyle(face=Face.REGULAR, size=10.25, leading=15.0, color=INK)
LEAD = TextStyle(face=Face.LIGHT, size=13.0, leading=20.0, color=INK)
SMALL = TextStyle(face=Face.REGULAR, size=9.0, leading=13.0, color=INK)
CAPTION = TextStyle(face=Face.REGULAR, size=9.0, leading=13.0, color=MUTED)
LABEL = TextStyle(face=Face.SEMIBOLD, size=8.5, leading=12.0, color=MUTED, tracking=0.2)
FOOTER = TextStyle(face=Face.REGULAR, size=8.5, leading=12.0, color=MUTED)
FIGURE_LABEL = TextStyle(face=Face.SEMIBOLD, size=8.5, leading=10.0, color=INK)
STEP_TITLE = TextStyle(face=Face.SEMIBOLD, size=13.0, leading=18.0, color=INK)
SECTION_TITLE = TextStyle(face=Face.SEMIBOLD, size=16.0, leading=22.0, color=ACCENT)
PAGE_TITLE = TextStyle(face=Face.LIGHT, size=26.0, leading=34.0, color=INK)
COVER_TITLE = TextStyle(face=Face.LIGHT, size=46.0, leading=52.0, color=INK)
FIGURE_VALUE = TextStyle(face=Face.LIGHT, size=20.0, leading=26.0, color=ACCENT)
