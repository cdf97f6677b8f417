"""A page as readable text; in: a `Page`, out: one line an item, for golden files and reviews."""

import json

from compiler.booklet.page import (
    Anchor,
    Cap,
    Circle,
    Color,
    Drawing,
    Group,
    Item,
    Line,
    Link,
    Page,
    Path,
    Picture,
    Rectangle,
    Stroke,
    Text,
)


def dump(page: Page) -> str:
    """The page as text: a head line, then a line for each item, parts of a group indented under it."""
    lines = [f"page {_number(page.width)} x {_number(page.height)} label {_quoted(page.label)}"]
    for item in page.items:
        _write(item, 1, lines)
    return "\n".join(lines) + "\n"


def _write(item: Item, depth: int, lines: list[str]) -> None:
    pad = "  " * depth
    match item:
        case Text():
            tracking = f" tracking {_number(item.tracking)}" if item.tracking else ""
            style = f"{item.face.value} {_number(item.size)} {item.color}{tracking}"
            lines.append(f"{pad}text {_numbers(item.x, item.y)} {style} {_quoted(item.string)}")
        case Line():
            ends = f"{_numbers(item.x1, item.y1)} to {_numbers(item.x2, item.y2)}"
            lines.append(f"{pad}line {ends}{_paint(None, item.stroke)}")
        case Rectangle():
            size = f"{_number(item.width)} x {_number(item.height)}"
            radius = f" radius {_number(item.radius)}" if item.radius else ""
            place = _numbers(item.x, item.y)
            lines.append(f"{pad}rectangle {place} {size}{radius}{_paint(item.fill, item.stroke)}")
        case Circle():
            place = _numbers(item.x, item.y, item.radius)
            lines.append(f"{pad}circle {place}{_paint(item.fill, item.stroke)}")
        case Path():
            lines.append(f"{pad}path{_paint(item.fill, item.stroke)}: {_segments(item)}")
        case Drawing():
            lines.append(f"{pad}drawing {_numbers(item.x, item.y)} {_quoted(item.content)}")
        case Picture():
            size = f"{_number(item.width)} x {_number(item.height)}"
            lines.append(f"{pad}picture {_numbers(item.x, item.y)} {size}")
        case Anchor():
            title = "" if item.title is None else f" outline {item.level} {_quoted(item.title)}"
            lines.append(f"{pad}anchor {_quoted(item.name)} {_numbers(item.x, item.y)}{title}")
        case Link():
            size = f"{_number(item.width)} x {_number(item.height)}"
            target = f"to {_quoted(item.anchor)} says {_quoted(item.says)}"
            lines.append(f"{pad}link {_numbers(item.x, item.y)} {size} {target}")
        case Group():
            alt = "" if item.alt is None else f" {_quoted(item.alt)}"
            lines.append(f"{pad}{item.role.name.lower().replace('_', '-')}{alt}")
            for part in item.items:
                _write(part, depth + 1, lines)


def _paint(fill: Color | None, stroke: Stroke | None) -> str:
    text = "" if fill is None else f" fill {fill}"
    if stroke is not None:
        text += f" stroke {stroke.color} {_number(stroke.width)}"
        text += f" dash {_numbers(*stroke.dash)}" if stroke.dash else ""
        text += "" if stroke.cap is Cap.BUTT else f" cap {stroke.cap.name.lower()}"
    return text


def _segments(path: Path) -> str:
    parts, used = [], 0
    for verb in path.verbs:
        taken = path.points[used : used + verb.coordinates]
        used += verb.coordinates
        parts.append(" ".join([verb.name.lower(), _numbers(*taken)]).rstrip())
    return ", ".join(parts)


def _numbers(*values: float) -> str:
    return " ".join(_number(value) for value in values)


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
