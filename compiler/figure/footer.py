"""What stands under a figure: a scale bar, and the whole piece small with a frame round the part that is shown.

In: a picture, the roles of the step, the part, the scale. Out: page items from their own top left corner, and a size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.booklet.figuretypes import Mark
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Cap, Circle, Face, Item, Line, Stroke, Text
from compiler.booklet.paths import polyline
from compiler.booklet.style import INK, MUTED, PLACED, THIN
from compiler.figure.look import ring_look
from compiler.figure.picture import Box, Picture, box_of, standing
from compiler.figure.roles import Roles
from compiler.figure.strokes import Window

_RIM = 2.0
"""Points round the small whole."""


def locator(
    picture: Picture, roles: Roles, parts: Sequence[Box], most: tuple[float, float]
) -> tuple[tuple[Item, ...], tuple[float, float]]:
    """The whole piece as it is worn, small: what is there so far as discs, and a frame round each part that is shown.

    `most` is the most width and height that it may take; gives its size as well.
    """
    worn = standing(picture)
    c, s = math.cos(picture.stand), math.sin(picture.stand)
    frames = [
        [
            (c * x - s * y, s * x + c * y)
            for x, y in (
                (part.left, part.top),
                (part.right, part.top),
                (part.right, part.bottom),
                (part.left, part.bottom),
            )
        ]
        for part in parts
    ]
    corners = [corner for frame in frames for corner in frame]
    rings = box_of(worn, range(len(worn.loops)), signs=False)
    whole = Box(
        left=min(rings.left, *(x for x, _ in corners)),
        bottom=min(rings.bottom, *(y for _, y in corners)),
        right=max(rings.right, *(x for x, _ in corners)),
        top=max(rings.top, *(y for _, y in corners)),
    )
    scale = min((most[0] - 2 * _RIM) / whole.width, (most[1] - 2 * _RIM) / whole.height)
    window = Window(scale=scale, left=whole.left - _RIM / scale, top=whole.top + _RIM / scale)
    items: list[Item] = []
    for mark in (None, Mark.PLACED, Mark.PASSED, Mark.CARRIED, Mark.NEW):
        for loop in worn.loops:
            if roles.marks.get(loop.node) is not mark:
                continue
            x, y = window.point(*loop.centre[:2])
            radius = max(0.7, max(math.hypot(*loop.along[:2]), math.hypot(*loop.across[:2])) * scale)
            if mark is None:
                items.append(Circle(x=x, y=y, radius=radius, stroke=Stroke(color=PLACED, width=0.3)))
            else:
                look = ring_look(mark, 0)
                fill = look.wire if mark is not Mark.CARRIED else look.outline
                items.append(Circle(x=x, y=y, radius=radius, fill=fill))
    for frame in frames:
        outline = polyline(*(window.point(x, y) for x, y in frame)).close()
        items.append(outline.path(stroke=Stroke(color=INK, width=0.8, cap=Cap.ROUND)))
    return tuple(items), (whole.width * scale + 2 * _RIM, whole.height * scale + 2 * _RIM)


BAR_HEIGHT = 15.0
"""Points that a scale bar and its words take under a figure."""
_BARS = (1, 2, 5, 10, 20, 50, 100)


def scale_bar(scale: float) -> tuple[tuple[Item, ...], float]:
    """A bar of a round number of mm of the piece, about 45 pt long at `scale` points per mm; and its width."""
    long = min(_BARS, key=lambda length: (abs(length * scale - 45.0), length))
    end = long * scale
    stroke = Stroke(color=MUTED, width=THIN)
    y = 10.0
    text = f"{long} mm"
    items: tuple[Item, ...] = (
        Line(x1=0.0, y1=y, x2=end, y2=y, stroke=stroke),
        Line(x1=0.0, y1=y - 3.0, x2=0.0, y2=y + 3.0, stroke=stroke),
        Line(x1=end, y1=y - 3.0, x2=end, y2=y + 3.0, stroke=stroke),
        Text(x=end + 5.0, y=y + 3.0, string=text, face=Face.REGULAR, size=8.5, color=MUTED),
    )
    return items, end + 5.0 + text_width(text, Face.REGULAR, 8.5)
