"""Bodies of findings as signs: an ear wire, a drop, a bar, a ring, a chain, or a plain plate for anything else.

In: a `Sign`, the loops of its eyes, the scale. Out: page items, drawn beneath the rings. Not to scale.
"""

from __future__ import annotations

import math

from compiler.booklet.page import Cap, Color, Item, Stroke
from compiler.booklet.paths import Pen
from compiler.figure.picture import Sign, sign_end
from compiler.figure.scene import Loop
from compiler.figure.strokes import Window


def sign_items(
    sign: Sign, loop: Loop, other: Loop | None, window: Window, ink: Color, fill: Color
) -> tuple[Item, ...]:
    """The body of a finding."""
    stroke = Stroke(color=ink, width=0.9, cap=Cap.ROUND)
    x, y = window.point(*loop.centre[:2])
    if other is not None:
        return _bridge((x, y), window.point(*other.centre[:2]), ink)
    end = window.point(*sign_end(loop, sign))
    reach = min(math.hypot(*loop.along[:2]), math.hypot(*loop.across[:2])) * window.scale
    long = math.dist((x, y), end)
    turn = math.atan2(end[1] - y, end[0] - x)
    frame = _Frame(x, y, turn)
    size = long - reach
    if sign.type == "ear-wire":
        pen = Pen().move(*frame(reach, 0.0))
        pen.curve(
            *frame(long, 0.0), *frame(long + 0.1 * size, 0.5 * size), *frame(reach + 0.55 * size, 0.52 * size)
        )
        pen.curve(
            *frame(reach + 0.25 * size, 0.53 * size),
            *frame(reach, 0.5 * size),
            *frame(reach - 0.15 * size, 0.62 * size),
        )
        return (pen.path(stroke=Stroke(color=ink, width=1.4, cap=Cap.ROUND)),)
    if sign.type == "drop":
        pen = Pen().move(*frame(reach, 0.0))
        wide = 0.42 * size
        pen.curve(
            *frame(reach + 0.35 * size, 0.1 * wide),
            *frame(long - 0.75 * size, wide),
            *frame(long - 0.32 * size, wide),
        )
        pen.curve(
            *frame(long + 0.02 * size, wide),
            *frame(long + 0.02 * size, -wide),
            *frame(long - 0.32 * size, -wide),
        )
        pen.curve(
            *frame(long - 0.75 * size, -wide), *frame(reach + 0.35 * size, -0.1 * wide), *frame(reach, 0.0)
        )
        return (pen.close().path(fill=fill, stroke=stroke),)
    if sign.type == "toggle-ring":
        centre = frame((reach + long) / 2, 0.0)
        radius = size / 2
        pen = Pen().arc(*centre, radius, 0.0, 360.0).close()
        pen.arc(*centre, 0.68 * radius, 0.0, 360.0).close()
        return (pen.path(fill=fill, stroke=stroke),)
    if sign.type == "toggle-bar":
        return (
            _plate(frame, reach + 0.1 * size, 0.32 * size, 1.1 * size, 0.16 * size).path(
                fill=fill, stroke=stroke
            ),
        )
    return (_plate(frame, reach + 0.05 * size, size, 0.34 * size, 0.2 * size).path(fill=fill, stroke=stroke),)


class _Frame:
    """Coordinates along a sign and to its left, about its eye."""

    def __init__(self, x: float, y: float, turn: float) -> None:
        self._x, self._y, self._c, self._s = x, y, math.cos(turn), math.sin(turn)

    def __call__(self, along: float, aside: float) -> tuple[float, float]:
        return (
            self._x + along * self._c + aside * self._s,
            self._y + along * self._s - aside * self._c,
        )


def _plate(frame: _Frame, start: float, length: float, half: float, corner: float) -> Pen:
    """A rectangle with cut corners."""
    corner = min(corner, length / 2, half)
    points = (
        (start + corner, half),
        (start + length - corner, half),
        (start + length, half - corner),
        (start + length, corner - half),
        (start + length - corner, -half),
        (start + corner, -half),
        (start, corner - half),
        (start, half - corner),
    )
    pen = Pen().move(*frame(*points[0]))
    for point in points[1:]:
        pen.line(*frame(*point))
    return pen.close()


def _bridge(start: tuple[float, float], end: tuple[float, float], ink: Color) -> tuple[Item, ...]:
    """Between two eyes of one finding: a line of links."""
    pen = Pen().move(*start).line(*end)
    return (pen.path(stroke=Stroke(color=ink, width=2.2, dash=(3.2, 1.6))),)
