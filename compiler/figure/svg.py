"""Page items as an SVG picture; in: items and their size in points, out: text (SVG 1.1, one unit a point)."""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from compiler.booklet.page import (
    Cap,
    Circle,
    Color,
    Face,
    Group,
    Item,
    Line,
    Path,
    Rectangle,
    Stroke,
    Text,
    Verb,
)

_WEIGHT = {Face.LIGHT: 300, Face.REGULAR: 400, Face.ITALIC: 400, Face.SEMIBOLD: 600}


def svg(items: tuple[Item, ...], width: float, height: float, title: str) -> str:
    """The picture on white paper; `title` is what it shows, for those who hear it."""
    size = f'width="{_number(width)}pt" height="{_number(height)}pt"'
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {_number(width)} {_number(height)}" role="img">',
        f"<title>{escape(title)}</title>",
        f'<rect width="{_number(width)}" height="{_number(height)}" fill="#FFFFFF"/>',
        *_drawn(items),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _drawn(items: tuple[Item, ...]) -> Iterator[str]:
    for item in items:
        match item:
            case Group():
                yield "<g>"
                yield from _drawn(item.items)
                yield "</g>"
            case Path():
                yield f'<path d="{_segments(item)}"{_paint(item.fill, item.stroke)} fill-rule="evenodd"/>'
            case Circle():
                place = f'cx="{_number(item.x)}" cy="{_number(item.y)}" r="{_number(item.radius)}"'
                yield f"<circle {place}{_paint(item.fill, item.stroke)}/>"
            case Line():
                ends = f'x1="{_number(item.x1)}" y1="{_number(item.y1)}"'
                ends += f' x2="{_number(item.x2)}" y2="{_number(item.y2)}"'
                yield f"<line {ends}{_paint(None, item.stroke)}/>"
            case Rectangle():
                place = f'x="{_number(item.x)}" y="{_number(item.y)}" rx="{_number(item.radius)}"'
                size = f'width="{_number(item.width)}" height="{_number(item.height)}"'
                yield f"<rect {place} {size}{_paint(item.fill, item.stroke)}/>"
            case Text():
                place = f'x="{_number(item.x)}" y="{_number(item.y)}" font-size="{_number(item.size)}"'
                slant = ' font-style="italic"' if item.face is Face.ITALIC else ""
                face = f'font-family="Fira Sans, sans-serif" font-weight="{_WEIGHT[item.face]}"{slant}'
                spaced = f" letter-spacing={quoteattr(_number(item.tracking))}" if item.tracking else ""
                yield f'<text {place} {face}{spaced} fill="{item.color}">{escape(item.string)}</text>'
            case _:
                continue


def _segments(path: Path) -> str:
    letters = {Verb.MOVE: "M", Verb.LINE: "L", Verb.CURVE: "C", Verb.CLOSE: "Z"}
    parts, used = [], 0
    for verb in path.verbs:
        taken = path.points[used : used + verb.coordinates]
        used += verb.coordinates
        parts.append(letters[verb] + " ".join(_number(value) for value in taken))
    return "".join(parts)


def _paint(fill: Color | None, stroke: Stroke | None) -> str:
    text = f' fill="{fill}"' if fill is not None else ' fill="none"'
    if stroke is not None:
        text += f' stroke="{stroke.color}" stroke-width="{_number(stroke.width)}"'
        if stroke.dash:
            text += f' stroke-dasharray="{" ".join(_number(length) for length in stroke.dash)}"'
        if stroke.cap is Cap.ROUND:
            text += ' stroke-linecap="round" stroke-linejoin="round"'
    return text


def _number(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
