"""What stands under a figure: a scale bar, and the whole piece small with a frame round the part that is shown.

In: a picture, the roles of the step, the part, the scale. Out: page items from their own top left corner, and a size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.booklet.figuretypes import Mark
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Circle, Face, Item, Line, Rectangle, Stroke, Text
from compiler.booklet.style import INK, MUTED, PLACED, THIN
from compiler.figure.look import ring_look
from compiler.figure.picture import Box, Picture, box_of
from compiler.figure.roles import Roles
from compiler.figure.strokes import Window

_RIM = 2.0
"""Points round the small whole."""


def locator(
    picture: Picture, roles: Roles, parts: Sequence[Box], most: tuple[float, float]
) -> tuple[tuple[Item, ...], tuple[float, float]]:
    """The whole piece in the view of the figure, small: what is there so far as discs, a frame round each part shown.

    `most` is the most width and height that it may take; gives its size as well.
    """
    rings = box_of(picture, range(len(picture.loops)), signs=False)
    whole = Box(
        left=min(rings.left, *(part.left for part in parts)),
        bottom=min(rings.bottom, *(part.bottom for part in parts)),
        right=max(rings.right, *(part.right for part in parts)),
        top=max(rings.top, *(part.top for part in parts)),
    )
    scale = min((most[0] - 2 * _RIM) / whole.width, (most[1] - 2 * _RIM) / whole.height)
    window = Window(scale=scale, left=whole.left - _RIM / scale, top=whole.top + _RIM / scale)
    items: list[Item] = []
    for mark in (None, Mark.PLACED, Mark.PASSED, Mark.CARRIED, Mark.NEW):
        for loop in picture.loops:
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
    items += [frame(part, window, 0.8) for part in parts]
    return tuple(items), (whole.width * scale + 2 * _RIM, whole.height * scale + 2 * _RIM)


def frame(part: Box, window: Window, width: float) -> Item:
    """A frame round a part, its line so wide in points."""
    left, top = window.point(part.left, part.top)
    right, bottom = window.point(part.right, part.bottom)
    return Rectangle(
        x=left,
        y=top,
        width=right - left,
        height=bottom - top,
        radius=2.0,
        stroke=Stroke(color=INK, width=width),
    )


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
