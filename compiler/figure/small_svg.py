"""Page items as a small SVG picture, for an index with many; in: items and their size in points, out: text (SVG 1.1).

Coordinates are whole tenths of a point, each told by its distance from the one before (9.3.9 of the specification: its
grammar needs no space before a minus sign), and looks are classes. Of what `svg` draws the finest lines are
left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import escape

from compiler.booklet.page import Cap, Circle, Color, Group, Item, Line, Path, Rectangle, Stroke, Text, Verb

_TENTHS = 10
_THINNEST = 0.5
"""Points of width; lines thinner than that are the light along the wire of small rings, and are left out."""
_NEAR = 1
"""Tenths of a point by which an arm may differ from the mirror image of the one before and still be taken for it."""


def small_svg(items: tuple[Item, ...], width: float, height: float, title: str) -> str:
    """The picture on white paper; `title` is what it shows, for those who hear it."""
    classes: dict[str, str] = {}
    body = list(_drawn(items, classes))
    wide, high = _whole(width), _whole(height)
    looks = "".join(f".{name}{{{look}}}" for look, name in classes.items())
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_points(width)}" height="{_points(height)}" '
        f'viewBox="0 0 {wide} {high}" role="img">',
        f"<title>{escape(title)}</title>",
        f"<style>{looks}</style>",
        f'<path fill="#FFF" d="M0 0h{wide}v{high}h-{wide}z"/>',
        *body,
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _drawn(items: tuple[Item, ...], classes: dict[str, str]) -> Iterator[str]:
    for item in items:
        match item:
            case Group():
                yield from _drawn(item.items, classes)
            case Path() if item.fill is None and item.stroke is not None and item.stroke.width < _THINNEST:
                continue
            case Path():
                yield f'<path class="{_look(item.fill, item.stroke, classes)}" d="{_segments(item)}"/>'
            case Circle():
                place = f'cx="{_whole(item.x)}" cy="{_whole(item.y)}" r="{_whole(item.radius)}"'
                yield f'<circle class="{_look(item.fill, item.stroke, classes)}" {place}/>'
            case Line():
                x, y = _whole(item.x1), _whole(item.y1)
                ends = f"M{x} {y}L{_whole(item.x2)} {_whole(item.y2)}"
                yield f'<path class="{_look(None, item.stroke, classes)}" d="{ends}"/>'
            case Rectangle():
                place = f'x="{_whole(item.x)}" y="{_whole(item.y)}" rx="{_whole(item.radius)}"'
                size = f'width="{_whole(item.width)}" height="{_whole(item.height)}"'
                yield f'<rect class="{_look(item.fill, item.stroke, classes)}" {place} {size}/>'
            case Text():
                look = f"fill:{item.color};font:{_whole(item.size)}px sans-serif"
                name = classes.setdefault(look, _name(len(classes)))
                place = f'x="{_whole(item.x)}" y="{_whole(item.y)}"'
                yield f'<text class="{name}" {place}>{escape(item.string)}</text>'
            case _:
                continue


def _look(fill: Color | None, stroke: Stroke | None, classes: dict[str, str]) -> str:
    """The class of a look, a new one where it is the first of its kind."""
    parts = [f"fill:{fill}" if fill is not None else "fill:none"]
    if fill is not None:
        parts.append("fill-rule:evenodd")
    if stroke is not None:
        parts.append(f"stroke:{stroke.color};stroke-width:{_whole(stroke.width)}")
        if stroke.dash:
            parts.append(f"stroke-dasharray:{' '.join(str(_whole(value)) for value in stroke.dash)}")
        if stroke.cap is Cap.ROUND:
            parts.append("stroke-linecap:round;stroke-linejoin:round")
    return classes.setdefault(";".join(parts), _name(len(classes)))


def _name(number: int) -> str:
    return chr(ord("a") + number % 26) + (str(number // 26) if number >= 26 else "")


def _segments(path: Path) -> str:
    """The path, every point told from the one before; an arm that mirrors the one before it is left out."""
    out: list[str] = []
    numbers = [_whole(value) for value in path.points]
    at, x, y = 0, 0, 0
    arm: tuple[int, int] | None = None
    before = ""
    for verb in path.verbs:
        part = numbers[at : at + verb.coordinates]
        at += verb.coordinates
        if verb is Verb.MOVE:
            out.append(f"M{_listed(part)}")
            before, arm = "M", None
        elif verb is Verb.LINE:
            out.append(f"l{_listed([part[0] - x, part[1] - y])}")
            before, arm = "l", None
        elif verb is Verb.CURVE:
            moves = [value - (y if place % 2 else x) for place, value in enumerate(part)]
            letter = "c"
            if arm is not None and abs(moves[0] - arm[0]) <= _NEAR and abs(moves[1] - arm[1]) <= _NEAR:
                letter, moves = "s", moves[2:]
            text = _listed(moves)
            joint = "" if text.startswith("-") else " "
            out.append(f"{joint if letter == before else letter}{text}")
            before, arm = letter, (part[4] - part[2], part[5] - part[3])
        else:
            out.append("z")
            before, arm = "z", None
        if part:
            x, y = part[-2:]
    return "".join(out)


def _listed(numbers: list[int]) -> str:
    """Numbers one after another, with a space only where nothing else parts them."""
    return "".join(
        str(number) if number < 0 or not place else f" {number}" for place, number in enumerate(numbers)
    )


def _whole(value: float) -> int:
    return round(value * _TENTHS)


def _points(value: float) -> str:
    return f"{value:.1f}".rstrip("0").rstrip(".")
