"""Page items as PDF operators.

In: items of a page, out: the lines of a content stream and what is marked in it. Operators are those of ISO
32000-1: graphics 8.4 and 8.5, text 9.4, marked content 14.6. y is turned upside down, since a PDF page has
its origin at the bottom. Every group with content of its own becomes a numbered piece of marked content
(14.7.4), and items outside all groups, or in a decoration, are marked as artifacts (14.8.2.2).
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from itertools import islice

from compiler.booklet.page import (
    Anchor,
    Circle,
    Color,
    Drawing,
    Face,
    Group,
    Item,
    Line,
    Link,
    Path,
    Picture,
    Rectangle,
    Role,
    Stroke,
    Text,
    rounded,
)
from compiler.booklet.paths import Pen

Encode = Callable[[str, Face], tuple[tuple[str, str], ...]]
"""Text and face -> pieces, each in one font resource: its name, and what TJ shall show."""

Place = Callable[[bytes], str]
"""The file of a picture -> the name that it is shown by."""


@dataclass(slots=True)
class Element:
    """A node of the structure tree being built: what a group is, and which marked pieces belong to it."""

    role: Role
    alt: str | None
    children: list["Element | int"] = field(default_factory=list)
    """Elements within, and the numbers of marked pieces, in the order of reading."""


Shape = Line | Rectangle | Circle | Path
"""What `painted` writes."""

_PAINTED = re.compile(r"(?:[-0-9.\[\] \n]++(?:rg|RG|w|J|j|d|m|l|c|h|re|S|f\*|B\*)(?=[ \n]|\Z))*+")
"""Numbers and operators of outlines and colours: nothing that shows text, opens a resource or leads anywhere."""


def painted(items: Iterable[Shape]) -> str:
    """Shapes as the operators of a `Drawing`, rounded, from its top left corner."""
    writer = ContentWriter(0.0, _no_text, _no_picture)
    for item in items:
        writer.draw(rounded(item))
    return "\n".join(writer.lines)


def is_painted(content: str) -> bool:
    """Whether these operators can be those of a `Drawing`: they draw outlines in colours and do nothing else."""
    return _PAINTED.fullmatch(content) is not None


def repainted(content: str, paint: Callable[[Color], Color]) -> str:
    """The operators of a `Drawing` with its colours exchanged."""

    def exchanged(found: re.Match[str]) -> str:
        red, green, blue = (round(255 * float(part)) for part in found.group(1, 2, 3))
        return _color(paint(Color(red, green, blue)), found[4])

    return re.sub(r"(\S+) (\S+) (\S+) (rg|RG)\b", exchanged, content)


def _no_text(text: str, face: Face) -> tuple[tuple[str, str], ...]:
    raise ValueError(f"text in {face} is no part of a drawing: {text}")


def _no_picture(data: bytes) -> str:
    raise ValueError(f"a picture of {len(data)} bytes is no part of a drawing")


class ContentWriter:
    """Writes the content stream of one page."""

    def __init__(self, height: float, encode: Encode, place: Place) -> None:
        """For a page of this height in points."""
        self._height = height
        self._encode = encode
        self._place = place
        self._marked = 0
        self.lines: list[str] = []
        self.elements: list[Element] = []
        self.owners: list[Element] = []
        """The element of each marked piece, by its number."""

    def write(self, items: tuple[Item, ...]) -> None:
        """Add the items, in order."""
        self._sequence(items, None)

    def draw(self, item: Item) -> None:
        """Add what an item draws, and no mark of what it is."""
        if not isinstance(item, Anchor | Link | Group):
            self._draw(item)

    def _sequence(self, items: tuple[Item, ...], owner: Element | None) -> None:
        """Items of one element; neighbours that are drawn directly share one marked piece."""
        is_open = False
        for item in items:
            if isinstance(item, Anchor | Link):
                continue  # not drawn
            if isinstance(item, Group):
                if is_open:
                    self.lines.append("EMC")
                    is_open = False
                self._group(item, owner)
                continue
            if not is_open:
                self._open(owner)
                is_open = True
            self._draw(item)
        if is_open:
            self.lines.append("EMC")

    def _group(self, group: Group, owner: Element | None) -> None:
        if group.role is Role.DECORATION:
            self._sequence(group.items, None)
            return
        element = Element(role=group.role, alt=group.alt)
        (self.elements if owner is None else owner.children).append(element)
        self._sequence(group.items, element)

    def _open(self, owner: Element | None) -> None:
        if owner is None:
            self.lines.append("/Artifact BMC")
            return
        self.lines.append(f"/{owner.role.value} <</MCID {self._marked}>> BDC")
        owner.children.append(self._marked)
        self.owners.append(owner)
        self._marked += 1

    def _draw(self, item: Text | Line | Rectangle | Circle | Path | Drawing | Picture) -> None:
        match item:
            case Text():
                self._text(item)
            case Line():
                self._shape(
                    [self._pair(item.x1, item.y1) + " m", self._pair(item.x2, item.y2) + " l"],
                    None,
                    item.stroke,
                )
            case Rectangle() if item.radius == 0:
                corner = self._pair(item.x, item.y + item.height)
                size = f"{_number(item.width)} {_number(item.height)}"
                self._shape([f"{corner} {size} re"], item.fill, item.stroke)
            case Rectangle():
                self._path(_rounded_rectangle(item))
            case Circle():
                circle = Pen().arc(item.x, item.y, item.radius, 0.0, 360.0).close()
                self._path(circle.path(fill=item.fill, stroke=item.stroke))
            case Path():
                self._path(item)
            case Drawing():
                self.lines.append(f"q 1 0 0 1 {self._pair(item.x, item.y)} cm\n{item.content}\nQ")
            case Picture():
                size = f"{_number(item.width)} 0 0 {_number(item.height)}"
                corner = self._pair(item.x, item.y + item.height)
                self.lines.append(f"q {size} {corner} cm /{self._place(item.data)} Do Q")

    def _text(self, text: Text) -> None:
        out = ["BT", _color(text.color, "rg"), f"1 0 0 1 {self._pair(text.x, text.y)} Tm"]
        if text.tracking:
            out.append(f"{_number(text.tracking)} Tc")
        for name, codes in self._encode(text.string, text.face):
            out.append(f"{name} {_number(text.size)} Tf [{codes}] TJ")
        if text.tracking:
            out.append("0 Tc")
        out.append("ET")
        self.lines.append(" ".join(out))

    def _path(self, path: Path) -> None:
        points = path.points
        pairs = iter([self._pair(x, y) for x, y in zip(points[::2], points[1::2], strict=True)])
        parts = [" ".join([*islice(pairs, verb.coordinates // 2), verb.value]) for verb in path.verbs]
        self._shape(parts, path.fill, path.stroke)

    def _shape(self, outline: list[str], fill: Color | None, stroke: Stroke | None) -> None:
        if fill is None and stroke is None:
            return
        out = []
        if fill is not None:
            out.append(_color(fill, "rg"))
        if stroke is not None:
            dash = " ".join(_number(length) for length in stroke.dash)
            ends = f"{stroke.cap.value} J {stroke.cap.value} j"
            out.append(f"{_color(stroke.color, 'RG')} {_number(stroke.width)} w {ends}")
            out.append(f"[{dash}] 0 d")
        paint = "S" if fill is None else "f*" if stroke is None else "B*"
        self.lines.append(" ".join([*out, *outline, paint]))

    def _pair(self, x: float, y: float) -> str:
        return f"{_number(x)} {_number(self._height - y)}"


def _rounded_rectangle(item: Rectangle) -> Path:
    """The rectangle as a path with an arc at each corner."""
    radius = min(item.radius, item.width / 2, item.height / 2)
    left, right = item.x + radius, item.x + item.width - radius
    top, bottom = item.y + radius, item.y + item.height - radius
    pen = Pen().arc(right, top, radius, -90.0, 90.0).arc(right, bottom, radius, 0.0, 90.0)
    pen.arc(left, bottom, radius, 90.0, 90.0).arc(left, top, radius, 180.0, 90.0)
    return pen.close().path(fill=item.fill, stroke=item.stroke)


def _color(color: Color, operator: str) -> str:
    parts = (f"{part / 255:.3f}".rstrip("0").rstrip(".") for part in (color.red, color.green, color.blue))
    return f"{' '.join(parts)} {operator}"


def _number(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
