"""Paths drawn stroke by stroke; in: points and angles, out: `Path` items.

Angles are degrees, counted from the right (3 o'clock) towards the bottom (6 o'clock), since y grows
downwards.
"""

import math
from typing import Self

from compiler.booklet.page import Color, Path, Stroke, Verb


class Pen:
    """Collects segments; every method returns the pen, so that an outline reads as one sentence."""

    def __init__(self) -> None:
        """An empty path."""
        self._verbs: list[Verb] = []
        self._points: list[float] = []

    def move(self, x: float, y: float) -> Self:
        """Start a new outline at (x, y)."""
        return self._add(Verb.MOVE, x, y)

    def line(self, x: float, y: float) -> Self:
        """A straight line to (x, y)."""
        return self._add(Verb.LINE, x, y)

    def curve(self, x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> Self:
        """A cubic Bézier curve to (x, y), its two control points first."""
        return self._add(Verb.CURVE, x1, y1, x2, y2, x, y)

    def close(self) -> Self:
        """A straight line back to the start of the outline."""
        return self._add(Verb.CLOSE)

    def arc(self, x: float, y: float, radius: float, start: float, sweep: float) -> Self:
        """An arc about (x, y) from the angle `start` over `sweep` degrees, joined to what came before.

        Each piece spans at most 90 degrees. The length of its arms is 4/3 tan(angle / 4) of the radius, which
        puts the middle of the Bézier curve on the circle (A. Riškus, "Approximation of a cubic Bézier curve
        by circular arcs and vice versa", Information Technology and Control 35, 2006).
        """
        pieces = max(1, math.ceil(abs(sweep) / 90 - 1e-9))
        step = math.radians(sweep) / pieces
        arm = 4 / 3 * math.tan(step / 4) * radius
        angle = math.radians(start)
        px, py = x + radius * math.cos(angle), y + radius * math.sin(angle)
        if self._verbs and self._verbs[-1] is not Verb.CLOSE:
            self.line(px, py)
        else:
            self.move(px, py)
        for _ in range(pieces):
            end = angle + step
            qx, qy = x + radius * math.cos(end), y + radius * math.sin(end)
            self.curve(
                px - arm * math.sin(angle),
                py + arm * math.cos(angle),
                qx + arm * math.sin(end),
                qy - arm * math.cos(end),
                qx,
                qy,
            )
            angle, px, py = end, qx, qy
        return self

    def path(self, *, fill: Color | None = None, stroke: Stroke | None = None) -> Path:
        """What was drawn so far, as an item."""
        return Path(verbs=tuple(self._verbs), points=tuple(self._points), fill=fill, stroke=stroke)

    def _add(self, verb: Verb, *numbers: float) -> Self:
        self._verbs.append(verb)
        self._points.extend(numbers)
        return self


def polyline(*points: tuple[float, float]) -> Pen:
    """A pen that has drawn straight lines through the points."""
    pen = Pen().move(*points[0])
    for point in points[1:]:
        pen.line(*point)
    return pen
