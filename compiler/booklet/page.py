"""The finished page: what stands where, as data.

In: nothing, out: the types that `compose` fills and `typeset` draws. Lengths are PDF points (1/72 inch; ISO
32000-1, 8.3.2.3), angles do not occur. The origin is the top left corner of the page and y grows downwards,
as one reads. Items may be built, measured and moved in plain floats; a `Page` rounds every coordinate once,
to 0.01 pt (3.5 µm), when it is made. Nothing here knows a drawing library.
"""

import math
from collections.abc import Callable
from enum import Enum
from functools import lru_cache
from itertools import chain

from msgspec import Struct
from msgspec.structs import force_setattr, replace

MM = 72 / 25.4
"""One millimetre in points."""
INCH = 72.0
"""One inch in points."""


class Face(Enum):
    """A face of the one type family."""

    LIGHT = "light"
    REGULAR = "regular"
    ITALIC = "italic"
    SEMIBOLD = "semibold"


class Role(Enum):
    """What a group is to a reader who hears the page; values are the types of ISO 32000-1, 14.8.4."""

    HEADING_1 = "H1"
    HEADING_2 = "H2"
    HEADING_3 = "H3"
    PARAGRAPH = "P"
    FIGURE = "Figure"
    CAPTION = "Caption"
    TABLE = "Table"
    ROW = "TR"
    HEADER_CELL = "TH"
    CELL = "TD"
    NOTE = "Note"
    SPAN = "Span"
    DECORATION = "Artifact"


class Verb(Enum):
    """A segment of a path; values are the operators of ISO 32000-1, table 59."""

    MOVE = "m"
    LINE = "l"
    CURVE = "c"
    CLOSE = "h"

    @property
    def coordinates(self) -> int:
        """How many numbers of `Path.points` this segment uses: 2 a point."""
        if self is Verb.CURVE:
            return 6
        return 0 if self is Verb.CLOSE else 2


class Cap(Enum):
    """How a line ends; values are those of ISO 32000-1, table 54."""

    BUTT = 0
    ROUND = 1


class Color(Struct, frozen=True):
    """A colour of the sRGB space, each part 0 to 255. Positional, since it is written as three numbers."""

    red: int
    green: int
    blue: int

    def __post_init__(self) -> None:
        """Refuse a part that no byte holds."""
        if not all(0 <= part <= 255 for part in (self.red, self.green, self.blue)):
            raise ValueError(f"colour parts must be 0 to 255: {self.red}, {self.green}, {self.blue}")

    @property
    def luminance(self) -> float:
        """Relative luminance, 0 (black) to 1 (white), as WCAG 2.1 defines it ("relative luminance")."""

        def linear(part: int) -> float:
            share = part / 255
            return share / 12.92 if share <= 0.04045 else math.pow((share + 0.055) / 1.055, 2.4)

        return 0.2126 * linear(self.red) + 0.7152 * linear(self.green) + 0.0722 * linear(self.blue)

    def contrast(self, other: "Color") -> float:
        """Contrast ratio with another colour, 1 to 21 (WCAG 2.1, "contrast ratio")."""
        lighter, darker = sorted((self.luminance, other.luminance), reverse=True)
        return (lighter + 0.05) / (darker + 0.05)

    def __str__(self) -> str:
        """Six hexadecimal digits after a number sign."""
        return f"#{self.red:02X}{self.green:02X}{self.blue:02X}"


class Stroke(Struct, frozen=True, kw_only=True):
    """How a line is drawn."""

    color: Color
    width: float
    """In points."""
    dash: tuple[float, ...] = ()
    """Lengths of strokes and gaps in turn, in points; empty for an unbroken line."""
    cap: Cap = Cap.BUTT


class Text(Struct, frozen=True, kw_only=True, tag="text"):
    """A run of characters on one baseline."""

    x: float
    """Left end of the run."""
    y: float
    """The baseline."""
    string: str
    face: Face
    size: float
    """Type size in points."""
    color: Color
    tracking: float = 0.0
    """Added after every character, in points."""


class Line(Struct, frozen=True, kw_only=True):
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    stroke: Stroke


class Rectangle(Struct, frozen=True, kw_only=True):
    """A rectangle by its top left corner, with rounded corners if `radius` is not 0."""

    x: float
    y: float
    width: float
    height: float
    radius: float = 0.0
    fill: Color | None = None
    stroke: Stroke | None = None


class Circle(Struct, frozen=True, kw_only=True):
    """A circle about (x, y)."""

    x: float
    y: float
    radius: float
    fill: Color | None = None
    stroke: Stroke | None = None


class Path(Struct, frozen=True, kw_only=True):
    """Lines and cubic Bézier curves.

    Filled where an odd number of outlines encloses (ISO 32000-1, 8.5.3.3.3).
    """

    verbs: tuple[Verb, ...]
    points: tuple[float, ...]
    """The coordinates of all segments, one after another: x, y, x, y."""
    fill: Color | None = None
    stroke: Stroke | None = None

    def __post_init__(self) -> None:
        """Refuse a path whose segments and coordinates do not match."""
        verbs = self.verbs
        wanted = 2 * (verbs.count(Verb.MOVE) + verbs.count(Verb.LINE)) + 6 * verbs.count(Verb.CURVE)
        if wanted != len(self.points):
            raise ValueError(
                f"a path of {len(self.verbs)} segments cannot take {len(self.points)} coordinates"
            )
        if not self.verbs or self.verbs[0] is not Verb.MOVE:
            raise ValueError("a path starts with a move")


class Drawing(Struct, frozen=True, kw_only=True, tag="drawing"):
    """Lines and surfaces that are written down already, as `compiler.booklet.content.painted` writes them."""

    x: float
    """The top left corner."""
    y: float
    content: str
    """Operators of PDF, without text; from the corner, y growing upwards."""


class Anchor(Struct, frozen=True, kw_only=True):
    """A place that links and the outline lead to; with a title it is an entry of the outline."""

    name: str
    x: float
    y: float
    title: str | None = None
    level: int = 0
    """Depth in the outline, 0 at the top."""


class Link(Struct, frozen=True, kw_only=True):
    """An area that leads to an anchor when it is clicked."""

    x: float
    y: float
    width: float
    height: float
    anchor: str
    says: str
    """What the link does, for a reader who hears the page."""


class Picture(Struct, frozen=True, kw_only=True):
    """A picture made of pixels, stretched to a width and height, its top left corner at (x, y)."""

    x: float
    y: float
    width: float
    height: float
    data: bytes
    """A PNG or JPEG file."""


class Group(Struct, frozen=True, kw_only=True):
    """Items that are one thing to the reader: a heading, a cell, a figure."""

    role: Role
    items: tuple["Item", ...]
    alt: str | None = None
    """For a figure what it shows, for a span the characters that its drawing stands for."""

    def __post_init__(self) -> None:
        """Refuse a figure that says nothing."""
        if self.role in (Role.FIGURE, Role.SPAN) and not self.alt:
            raise ValueError(f"a {self.role.name.lower()} needs alternative text")


Item = Text | Line | Rectangle | Circle | Path | Drawing | Picture | Anchor | Link | Group


class Block(Struct, frozen=True, kw_only=True):
    """A measured piece of a page, its items placed from its own top left corner; not yet rounded."""

    width: float
    height: float
    items: tuple[Item, ...]
    baseline: float = 0.0
    """The first baseline, below the top; 0 where there is no text."""

    def at(self, x: float, y: float) -> tuple[Item, ...]:
        """The items with the block's top left corner at (x, y) of the page."""
        return moved(self.items, x, y)


class Page(Struct, frozen=True, kw_only=True):
    """A finished page; making one rounds every coordinate and length to 0.01 pt."""

    width: float
    height: float
    label: str
    """The page number as it is printed."""
    items: tuple[Item, ...]
    """In the order of drawing, which is also the order of reading."""

    def __post_init__(self) -> None:
        """Round once; a number that is not finite is our mistake and refused."""
        force_setattr(self, "width", _rounded(self.width))
        force_setattr(self, "height", _rounded(self.height))
        force_setattr(self, "items", tuple(_placed(item, 0.0, 0.0, _rounded) for item in self.items))


class Document(Struct, frozen=True, kw_only=True):
    """All pages of a booklet and what a library catalogue would say of it."""

    title: str
    author: str
    subject: str
    language: str
    """A BCP 47 tag, such as "en" or "de-CH"."""
    pages: tuple[Page, ...]
    keywords: tuple[str, ...] = ()
    created: int | None = None
    """Seconds since 1970-01-01 UTC, or nothing: the file then bears no date."""


def moved(items: tuple[Item, ...], dx: float, dy: float) -> tuple[Item, ...]:
    """The same items, dx points further right and dy further down."""
    if dx == 0 and dy == 0:
        return items
    return tuple(_placed(item, dx, dy, _kept) for item in items)


def rounded(item: Item) -> Item:
    """The same item, every length rounded as on a page."""
    return _placed(item, 0.0, 0.0, _rounded)


def _kept(value: float) -> float:
    return value


def _rounded(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"a page coordinate must be a finite number, not {value}")
    return round(value, 2) + 0.0  # adding zero turns -0.0 into 0.0


def _same_stroke(stroke: Stroke | None) -> Stroke | None:
    return stroke


@lru_cache(maxsize=1000)
def _rounded_stroke(stroke: Stroke | None) -> Stroke | None:
    if stroke is None:
        return None
    dash = tuple(_rounded(length) for length in stroke.dash)
    return replace(stroke, width=_rounded(stroke.width), dash=dash)


def _placed(item: Item, dx: float, dy: float, snap: Callable[[float], float]) -> Item:
    """The item moved, every length passed through `snap`."""
    stroked = _same_stroke if snap is _kept else _rounded_stroke
    match item:
        case Text():
            return replace(
                item,
                x=snap(item.x + dx),
                y=snap(item.y + dy),
                size=snap(item.size),
                tracking=snap(item.tracking),
            )
        case Line():
            return Line(
                x1=snap(item.x1 + dx),
                y1=snap(item.y1 + dy),
                x2=snap(item.x2 + dx),
                y2=snap(item.y2 + dy),
                stroke=stroked(item.stroke) or item.stroke,
            )
        case Rectangle():
            return Rectangle(
                x=snap(item.x + dx),
                y=snap(item.y + dy),
                width=snap(item.width),
                height=snap(item.height),
                radius=snap(item.radius),
                fill=item.fill,
                stroke=stroked(item.stroke),
            )
        case Circle():
            return Circle(
                x=snap(item.x + dx),
                y=snap(item.y + dy),
                radius=snap(item.radius),
                fill=item.fill,
                stroke=stroked(item.stroke),
            )
        case Path():
            xs, ys = [value + dx for value in item.points[::2]], [value + dy for value in item.points[1::2]]
            if snap is not _kept:
                if not math.isfinite(sum(xs) + sum(ys)):
                    raise ValueError("a page coordinate must be a finite number")
                xs, ys = [round(value, 2) + 0.0 for value in xs], [round(value, 2) + 0.0 for value in ys]
            points = tuple(chain.from_iterable(zip(xs, ys, strict=True)))
            return Path(verbs=item.verbs, points=points, fill=item.fill, stroke=stroked(item.stroke))
        case Anchor() | Drawing():
            return replace(item, x=snap(item.x + dx), y=snap(item.y + dy))
        case Link() | Picture():
            return replace(
                item,
                x=snap(item.x + dx),
                y=snap(item.y + dy),
                width=snap(item.width),
                height=snap(item.height),
            )
        case Group():
            return replace(item, items=tuple(_placed(part, dx, dy, snap) for part in item.items))
