"""Arcs of rings as page items.

In: loops, arcs in their order of drawing, looks, and the scale. Out: paths along the middle of the wire, stroked
thrice: the outline, the wire, the line along it. A wire of round section seen from afar is the band of its
radius on each side of the core's picture, and a stroke is just that. The outline lies within that band, so that wires
that touch do not cover one another.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from compiler.booklet.page import Circle, Item, Path, Stroke
from compiler.booklet.paths import Pen
from compiler.figure.look import Look
from compiler.figure.order import Arc
from compiler.figure.scene import PARTS, Loop

_LAP = 0.3
"""Points by which the wire of an arc runs on over its ends, so that no seam shows between two arcs."""
_MOST_OUTLINE = 0.24
"""The outline on one side takes at most this share of the wire."""
_DASH = (1.5, 1.1)
"""Strokes and gaps of a broken line, in widths of the wire."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """From the piece to the paper: points per mm, and which place of the piece lies in the top left corner."""

    scale: float
    left: float
    """mm."""
    top: float
    """mm."""

    def point(self, x: float, y: float) -> tuple[float, float]:
        """A place of the picture plane, in points from the top left corner."""
        return (x - self.left) * self.scale, (self.top - y) * self.scale


def ring_items(
    loops: Sequence[Loop], arcs: Iterable[Arc], looks: Sequence[Look], window: Window
) -> Iterator[Item]:
    """The arcs, one after the other; `looks` by loop."""
    for arc in arcs:
        loop, look = loops[arc.loop], looks[arc.loop]
        wire = 2 * loop.tube * window.scale
        plain = arc_path(loop, arc, window, 0.0)
        ends = tuple(_sharp_ends(loop, arc, window))
        yield from (Circle(x=x, y=y, radius=wire / 2, fill=look.outline) for x, y in ends)
        yield _stroked(plain, Stroke(color=look.outline, width=wire))
        lapped = plain if arc.whole else arc_path(loop, arc, window, _LAP)
        inside = wire - 2 * min(look.outline_width, _MOST_OUTLINE * wire)
        yield from (Circle(x=x, y=y, radius=inside / 2, fill=look.wire) for x, y in ends)
        yield _stroked(lapped, Stroke(color=look.wire, width=inside))
        width = max(inside * look.line_share, look.least_line)
        if look.line is not None and width > 0.25:
            shift = -0.2 * inside if look.lit else 0.0
            line = lapped if not shift else _shifted(lapped, shift)
            dash = tuple(length * wire for length in _DASH) if look.broken else ()
            yield _stroked(line, Stroke(color=look.line, width=width, dash=dash))


def _sharp_angles(loop: Loop) -> tuple[float, ...]:
    """Angles, 0 to 2 pi, at which the core's picture bends so sharply that a stroke round the bend is not round.

    They are ends of the long axis, where the radius of curvature is b^2 / a; it falls below the wire's radius in
    rings that are seen almost from their edge.
    """
    (ax, ay, _), (bx, by, _) = loop.along, loop.across
    vertex = 0.5 * math.atan2(2 * (ax * bx + ay * by), ax * ax + ay * ay - bx * bx - by * by)
    x, y, _ = loop.at(vertex)
    long = math.hypot(x - loop.centre[0], y - loop.centre[1])
    if _speed(loop, vertex) ** 2 >= loop.tube * long:
        return ()
    return tuple(angle % (2 * math.pi) for angle in (vertex, vertex + math.pi))


def _sharp_ends(loop: Loop, arc: Arc, window: Window) -> Iterator[tuple[float, float]]:
    """Places of an arc where a disc rounds off the wire."""
    for angle in _sharp_angles(loop):
        part = math.floor(angle / (2 * math.pi) * PARTS)
        if (part - arc.first) % PARTS < arc.count:
            yield window.point(*loop.at(angle)[:2])


def arc_path(loop: Loop, arc: Arc, window: Window, lap: float) -> Path:
    """The middle of the wire along an arc, `lap` points longer at each end; in pieces that end at sharp bends."""
    start, sweep = 2 * math.pi * arc.first / PARTS, 2 * math.pi * arc.count / PARTS
    sharp = _sharp_angles(loop)
    if arc.whole and not sharp:
        return _along(Pen(), loop, start, sweep, window).close().path()
    if lap and not arc.whole:
        before = lap / window.scale / max(_speed(loop, start), 1e-3)
        after = lap / window.scale / max(_speed(loop, start + sweep), 1e-3)
        extra = min(before, 0.1), min(after, 0.1)
        start, sweep = start - extra[0], sweep + extra[0] + extra[1]
    bends = sorted((angle - start) % (2 * math.pi) for angle in sharp)
    pen, done = Pen(), 0.0
    for bend in (*(bend for bend in bends if 1e-6 < bend < sweep - 1e-6), sweep):
        _along(pen, loop, start + done, bend - done, window)
        done = bend
    return pen.path()


def _along(pen: Pen, loop: Loop, start: float, sweep: float, window: Window) -> Pen:
    """Bézier curves along an ellipse, none longer than an eighth of a turn, as a new outline.

    An affine map of the arcs of a circle; see `paths.Pen.arc` for the length of the arms.
    """
    pieces = max(1, math.ceil(abs(sweep) / (math.pi / 4) - 1e-9))
    step = sweep / pieces
    arm = 4 / 3 * math.tan(step / 4)
    x, y = window.point(*loop.at(start)[:2])
    pen.move(x, y)
    for piece in range(pieces):
        a, b = start + piece * step, start + (piece + 1) * step
        (px, py), (qx, qy) = _pace(loop, a), _pace(loop, b)
        end_x, end_y = window.point(*loop.at(b)[:2])
        k = arm * window.scale
        pen.curve(x + k * px, y - k * py, end_x - k * qx, end_y + k * qy, end_x, end_y)
        x, y = end_x, end_y
    return pen


def _pace(loop: Loop, angle: float) -> tuple[float, float]:
    """The derivative of the core's picture by the angle, mm."""
    c, s = math.cos(angle), math.sin(angle)
    return c * loop.across[0] - s * loop.along[0], c * loop.across[1] - s * loop.along[1]


def _speed(loop: Loop, angle: float) -> float:
    return math.hypot(*_pace(loop, angle))


def _stroked(path: Path, stroke: Stroke) -> Path:
    return Path(verbs=path.verbs, points=path.points, stroke=stroke)


def _shifted(path: Path, by: float) -> Path:
    """Moved towards the light, which comes from the top left."""
    return Path(verbs=path.verbs, points=tuple(value + 0.7 * by for value in path.points))
