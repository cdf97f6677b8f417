"""A bare reportlab script that draws the marks of a booklet: python tests/bench/bare_reportlab.py MARKS.json OUT.pdf

The marks are those of the finished pages, in order, with nothing left to decide: texts with font, size, colour and
place, and shapes as paths. `marks_of` gives them; the script imports nothing of ours.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

_CIRCLE = 0.5522847498
"""How far a cubic Bézier curve's control points lie from the ends of a quarter of a unit circle."""


def draw(marks: dict[str, Any], out: str) -> None:
    """Draw the marks into a PDF file."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    for name, file in marks["fonts"].items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, file))
    canvas = Canvas(out, pageCompression=1, invariant=1)
    for width, height, items in marks["pages"]:
        canvas.setPageSize((width, height))
        for item in items:
            if item[0] == "text":
                _, x, y, string, font, size, color, tracking = item
                canvas.setFillColorRGB(*color)
                canvas.setFont(font, size)
                canvas.drawString(x, height - y, string, charSpace=tracking)
                continue
            _, verbs, points, fill, stroke = item
            path, at = canvas.beginPath(), 0
            for verb in verbs:
                if verb == "m":
                    path.moveTo(points[at], height - points[at + 1])
                    at += 2
                elif verb == "l":
                    path.lineTo(points[at], height - points[at + 1])
                    at += 2
                elif verb == "c":
                    a, b, c, d, e, f = points[at : at + 6]
                    path.curveTo(a, height - b, c, height - d, e, height - f)
                    at += 6
                else:
                    path.close()
            if fill:
                canvas.setFillColorRGB(*fill)
            if stroke:
                color, line_width, dash, cap = stroke
                canvas.setStrokeColorRGB(*color)
                canvas.setLineWidth(line_width)
                canvas.setDash(dash)
                canvas.setLineCap(cap)
                canvas.setLineJoin(cap)
            canvas.drawPath(path, stroke=int(bool(stroke)), fill=int(bool(fill)), fillMode=0)
        canvas.showPage()
    canvas.save()


def marks_of(pages: Iterable[Any]) -> dict[str, Any]:
    """The marks of finished pages (`compiler.booklet.page`), as JSON takes them."""
    from compiler.booklet.fonts import font, font_name
    from compiler.booklet.page import Face

    return {
        "fonts": {font_name(face): str(font(face).face.filename) for face in Face},
        "pages": [(page.width, page.height, list(_marks(page.items))) for page in pages],
    }


def _marks(items: Iterable[Any]) -> Iterable[tuple[Any, ...]]:
    from compiler.booklet import page
    from compiler.booklet.fonts import font_name

    for item in items:
        match item:
            case page.Group():
                yield from _marks(item.items)
            case page.Text():
                yield (
                    "text",
                    item.x,
                    item.y,
                    item.string,
                    font_name(item.face),
                    item.size,
                    _color(item.color),
                    item.tracking,
                )
            case page.Path():
                yield _shape([verb.value for verb in item.verbs], list(item.points), item.fill, item.stroke)
            case page.Line():
                yield _shape(["m", "l"], [item.x1, item.y1, item.x2, item.y2], None, item.stroke)
            case page.Rectangle():
                left, top = item.x, item.y
                right, bottom = left + item.width, top + item.height
                corners = [left, top, right, top, right, bottom, left, bottom]
                yield _shape(["m", "l", "l", "l", "h"], corners, item.fill, item.stroke)
            case page.Circle():
                yield _shape(
                    ["m", *"cccc", "h"], _circle(item.x, item.y, item.radius), item.fill, item.stroke
                )


def _circle(x: float, y: float, r: float) -> list[float]:
    k = r * _CIRCLE
    return [
        *(x + r, y),
        *(x + r, y + k, x + k, y + r, x, y + r),
        *(x - k, y + r, x - r, y + k, x - r, y),
        *(x - r, y - k, x - k, y - r, x, y - r),
        *(x + k, y - r, x + r, y - k, x + r, y),
    ]


def _shape(verbs: list[str], points: list[float], fill: Any, stroke: Any) -> tuple[Any, ...]:
    line = None
    if stroke is not None:
        line = (_color(stroke.color), stroke.width, list(stroke.dash), stroke.cap.value)
    return ("shape", verbs, points, None if fill is None else _color(fill), line)


def _color(color: Any) -> tuple[float, ...]:
    return (color.red / 255, color.green / 255, color.blue / 255)


if __name__ == "__main__":
    draw(json.loads(Path(sys.argv[1]).read_text("utf-8")), sys.argv[2])
