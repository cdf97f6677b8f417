"""Signs that the fonts lack, drawn as vectors; in: a sign, a place and a size, out: page items.

An *inline sign* stands in a line of text in place of a character: `INLINE` lists them, and `text` sets them
wherever the character occurs. The other signs are drawn at a place of their own. All lengths are points.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import chain

from msgspec.structs import replace

from compiler.booklet.fonts import metrics, text_width
from compiler.booklet.page import INCH, MM, Cap, Circle, Color, Face, Group, Item, Line, Role, Stroke, Text
from compiler.booklet.paths import Pen, polyline


@dataclass(frozen=True, slots=True, kw_only=True)
class InlineSign:
    """A sign for one character; lengths are shares of the type size."""

    advance: float
    draw: Callable[[float, float, float, Color], tuple[Item, ...]]
    """Left end, baseline, type size and colour -> items."""


def _diameter(x: float, y: float, size: float, color: Color) -> tuple[Item, ...]:
    """The diameter sign of ISO 129-1: a circle crossed by a slanted line."""
    pen = Stroke(color=color, width=0.07 * size, cap=Cap.ROUND)
    cx, cy, radius = x + 0.36 * size, y - 0.34 * size, 0.25 * size
    reach = 0.27 * size
    return (
        Circle(x=cx, y=cy, radius=radius, stroke=pen),
        Line(x1=cx - reach, y1=cy + reach, x2=cx + reach, y2=cy - reach, stroke=pen),
    )


def _warning(x: float, y: float, size: float, color: Color) -> tuple[Item, ...]:
    return caution_triangle(x + 0.48 * size, y - 0.345 * size, 0.9 * size, color)


INLINE: Mapping[str, InlineSign] = {
    "⌀": InlineSign(advance=0.72, draw=_diameter),
    "⚠": InlineSign(advance=0.96, draw=_warning),
}


def caution_triangle(x: float, y: float, width: float, color: Color) -> tuple[Item, ...]:
    """A triangle with an exclamation mark, after the general warning sign of ISO 7010, centred at (x, y)."""
    height = 0.88 * width
    top, base = y - height / 2, y + height / 2
    line = 0.09 * width
    outline = Stroke(color=color, width=line, cap=Cap.ROUND)
    inset = line / 2
    corner = 0.1 * width
    pen = Pen().move(x - corner / 2, top + inset + 0.87 * corner)
    pen.curve(
        x - 0.15 * corner,
        top + inset,
        x + 0.15 * corner,
        top + inset,
        x + corner / 2,
        top + inset + 0.87 * corner,
    )
    pen.line(x + width / 2 - inset - corner / 2, base - inset - 0.87 * corner)
    pen.curve(
        x + width / 2 - inset,
        base - inset - 0.2 * corner,
        x + width / 2 - inset - 0.2 * corner,
        base - inset,
        x + width / 2 - inset - corner,
        base - inset,
    )
    pen.line(x - width / 2 + inset + corner, base - inset)
    pen.curve(
        x - width / 2 + inset + 0.2 * corner,
        base - inset,
        x - width / 2 + inset,
        base - inset - 0.2 * corner,
        x - width / 2 + inset + corner / 2,
        base - inset - 0.87 * corner,
    )
    return (
        pen.close().path(stroke=outline),
        Line(x1=x, y1=y - 0.12 * height, x2=x, y2=y + 0.16 * height, stroke=outline),
        Circle(x=x, y=y + 0.31 * height, radius=0.58 * line, fill=color),
    )


def check_mark(x: float, y: float, width: float, color: Color) -> tuple[Item, ...]:
    """A tick in a circle, centred at (x, y)."""
    radius = width / 2
    stroke = Stroke(color=color, width=0.09 * width, cap=Cap.ROUND)
    tick = polyline(
        (x - 0.42 * radius, y + 0.04 * radius),
        (x - 0.1 * radius, y + 0.36 * radius),
        (x + 0.46 * radius, y - 0.34 * radius),
    )
    return (
        Circle(x=x, y=y, radius=radius - stroke.width / 2, stroke=stroke),
        tick.path(stroke=stroke),
    )


def tip_mark(x: float, y: float, width: float, color: Color) -> tuple[Item, ...]:
    """A letter i in a circle, drawn, centred at (x, y)."""
    radius = width / 2
    stroke = Stroke(color=color, width=0.09 * width, cap=Cap.ROUND)
    return (
        Circle(x=x, y=y, radius=radius - stroke.width / 2, stroke=stroke),
        Circle(x=x, y=y - 0.44 * radius, radius=0.12 * radius, fill=color),
        Line(x1=x, y1=y - 0.06 * radius, x2=x, y2=y + 0.48 * radius, stroke=stroke),
    )


def numbered_disc(
    x: float, y: float, radius: float, number: str, fill: Color, ink: Color
) -> tuple[Item, ...]:
    """A filled disc about (x, y) with a number in it, made smaller where it would not fit."""
    room = 1.5 * radius
    natural = text_width(number, Face.SEMIBOLD, 1.0)
    size = min(1.12 * radius, room / natural)
    return (
        Circle(x=x, y=y, radius=radius, fill=fill),
        Text(
            x=x - natural * size / 2,
            y=y + metrics(Face.SEMIBOLD).cap_height * size / 2,
            string=number,
            face=Face.SEMIBOLD,
            size=size,
            color=ink,
        ),
    )


def turn_over(x: float, y: float, width: float, color: Color, alt: str) -> Group:
    """The sign for turning the work over, as a figure of its own; centred at (x, y)."""
    return Group(role=Role.FIGURE, alt=alt, items=over_sign(x, y, width, color))


def over_sign(x: float, y: float, width: float, color: Color) -> tuple[Item, ...]:
    """The sign for turning the work over: an arrow round an upright axis; centred at (x, y)."""
    stroke = Stroke(color=color, width=0.06 * width, cap=Cap.ROUND)
    axis = Stroke(color=color, width=0.045 * width, dash=(0.1 * width, 0.075 * width))
    across, deep = 0.36 * width, 0.2 * width
    start, sweep = 215.0, -232.0  # from the back on the left past the front to the back on the right
    circle = Pen().arc(0.0, 0.0, 1.0, start, sweep).path(stroke=stroke)
    xs = [x + across * value for value in circle.points[0::2]]
    ys = [y + deep * value for value in circle.points[1::2]]
    swing = replace(circle, points=tuple(chain.from_iterable(zip(xs, ys, strict=True))))
    end = math.radians(start + sweep)
    along, down = across * math.sin(end), -deep * math.cos(end)  # the way the arrow points
    long = 0.27 * width / math.hypot(along, down)
    along, down = along * long, down * long
    tip, base = (xs[-1] + 0.7 * along, ys[-1] + 0.7 * down), (xs[-1] - 0.3 * along, ys[-1] - 0.3 * down)
    head = polyline(
        tip, (base[0] - 0.45 * down, base[1] + 0.45 * along), (base[0] + 0.45 * down, base[1] - 0.45 * along)
    )
    return (
        Line(x1=x, y1=y - 0.5 * width, x2=x, y2=y + 0.09 * width, stroke=axis),
        Line(x1=x, y1=y + 0.31 * width, x2=x, y2=y + 0.5 * width, stroke=axis),
        swing,
        head.close().path(fill=color),
    )


def round_sign(x: float, y: float, width: float, color: Color) -> tuple[Item, ...]:
    """The sign for turning the work as it lies, the same side up: an arrow round a point; centred at (x, y)."""
    radius, start, sweep = 0.34 * width, 200.0, -260.0
    end = math.radians(start + sweep)
    tip_x, tip_y = x + radius * math.cos(end), y - radius * math.sin(end)
    along, down = 0.27 * width * math.sin(end), 0.27 * width * math.cos(end)  # clockwise
    tip, base = (tip_x + 0.7 * along, tip_y + 0.7 * down), (tip_x - 0.3 * along, tip_y - 0.3 * down)
    head = polyline(
        tip, (base[0] - 0.45 * down, base[1] + 0.45 * along), (base[0] + 0.45 * down, base[1] - 0.45 * along)
    )
    stroke = Stroke(color=color, width=0.06 * width, cap=Cap.ROUND)
    return (
        Pen().arc(x, y, radius, start, sweep).path(stroke=stroke),
        Circle(x=x, y=y, radius=0.05 * width, fill=color),
        head.close().path(fill=color),
    )


def roll_sign(x: float, y: float, width: float, color: Color) -> tuple[Item, ...]:
    """The sign for rolling the work up: a sheet seen from its edge, whose end curls over; centred at (x, y)."""
    radius, start, sweep = 0.3 * width, 270.0, 285.0
    cx, base = x + 0.16 * width, y + 0.3 * width
    end = math.radians(start + sweep)
    tip_x, tip_y = cx + radius * math.cos(end), y - radius * math.sin(end)
    along, down = -0.27 * width * math.sin(end), -0.27 * width * math.cos(end)  # counter-clockwise
    tip, foot = (tip_x + 0.7 * along, tip_y + 0.7 * down), (tip_x - 0.3 * along, tip_y - 0.3 * down)
    head = polyline(
        tip, (foot[0] - 0.45 * down, foot[1] + 0.45 * along), (foot[0] + 0.45 * down, foot[1] - 0.45 * along)
    )
    stroke = Stroke(color=color, width=0.06 * width, cap=Cap.ROUND)
    return (
        Line(x1=x - 0.46 * width, y1=base, x2=cx, y2=base, stroke=stroke),
        Pen().arc(cx, y, radius, start, sweep).path(stroke=stroke),
        head.close().path(fill=color),
    )


def scale_bar(x: float, y: float, millimetres: int, color: Color, width: float) -> tuple[Item, ...]:
    """A bar of this true length, a tick at each millimetre, longer at 5 and 10; (x, y) is its left end."""
    stroke = Stroke(color=color, width=width)
    length = millimetres * MM
    items: list[Item] = [Line(x1=x, y1=y, x2=x + length, y2=y, stroke=stroke)]
    for mark in range(millimetres + 1):
        tall = 7.0 if mark % 10 == 0 else 5.0 if mark % 5 == 0 else 3.0
        place = x + mark * MM
        items.append(Line(x1=place, y1=y - tall, x2=place, y2=y, stroke=stroke))
    return tuple(items)


def inch_bar(x: float, y: float, inches: int, color: Color, width: float) -> tuple[Item, ...]:
    """A bar of this true length, a tick at each sixteenth, longer at quarters and inches; (x, y) is its left end."""
    stroke = Stroke(color=color, width=width)
    length = inches * INCH
    items: list[Item] = [Line(x1=x, y1=y, x2=x + length, y2=y, stroke=stroke)]
    for mark in range(16 * inches + 1):
        tall = 7.0 if mark % 16 == 0 else 5.0 if mark % 4 == 0 else 3.0
        place = x + mark * INCH / 16
        items.append(Line(x1=place, y1=y - tall, x2=place, y2=y, stroke=stroke))
    return tuple(items)
