"""The way of the wire: where the first new ring is opened, and arrows along it.

In: its loop, which of its parts are covered by others, which way it is led. Out: page items, drawn on top. The
opening lies in the longest stretch that nothing covers, and an arrow leaves it the way the wire is led.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator

from compiler.booklet.page import Item, Line, Stroke
from compiler.booklet.paths import polyline
from compiler.booklet.style import INK, PAPER
from compiler.figure.scene import PARTS, Loop
from compiler.figure.strokes import Window

_ARROW = 4.4
"""Least length of an arrow's head, points."""
_LONG, _WIDE = 1.5, 0.5
"""Its length in widths of the wire, and half its width in its length: it lies on the wire and hides nothing else."""


def way_items(loop: Loop, covered: Collection[int], travel: int, window: Window) -> tuple[Item, ...]:
    """The marks on a ring; `covered` are the parts of it (0 to PARTS - 1) that lie under others."""
    first, count = _longest_free(covered)
    turn = 2 * math.pi / PARTS
    middle = (first + count / 2) * turn
    half = count * turn / 2
    lead = min(0.7 * half, math.radians(50))
    return (
        *_opening(loop, middle, window),
        *_head(loop, middle + travel * lead, travel, window),
    )


def _longest_free(covered: Collection[int]) -> tuple[int, int]:
    """First part and number of parts of the longest run that is not covered; the whole turn if none is."""
    taken = sorted(set(covered))
    if not taken:
        return 0, PARTS
    if len(taken) == PARTS:
        return 0, 1
    gaps = [
        ((after - before - 1) % PARTS, -before)
        for before, after in zip(taken, [*taken[1:], taken[0] + PARTS], strict=True)
    ]
    count, start = max(gaps)
    return (1 - start) % PARTS, max(count, 1)


def _opening(loop: Loop, angle: float, window: Window) -> Iterator[Item]:
    """A cut across the wire."""
    x, y = window.point(*loop.at(angle)[:2])
    ux, uy = _direction(loop, angle)
    half = loop.tube * window.scale + 0.7
    for shift, color, width in ((0.0, PAPER, 1.7), (-0.9, INK, 0.6), (0.9, INK, 0.6)):
        cx, cy = x + shift * ux, y + shift * uy
        yield Line(
            x1=cx - half * uy,
            y1=cy + half * ux,
            x2=cx + half * uy,
            y2=cy - half * ux,
            stroke=Stroke(color=color, width=width),
        )


def _head(loop: Loop, angle: float, travel: int, window: Window) -> Iterator[Item]:
    x, y = window.point(*loop.at(angle)[:2])
    ux, uy = _direction(loop, angle)
    ux, uy = travel * ux, travel * uy
    long = max(_ARROW, _LONG * 2 * loop.tube * window.scale)
    wide = min(_WIDE * long, max(2.2, 0.92 * loop.tube * window.scale))
    tip = (x + 0.6 * long * ux, y + 0.6 * long * uy)
    base = (x - 0.4 * long * ux, y - 0.4 * long * uy)
    pen = polyline(
        tip, (base[0] - wide * uy, base[1] + wide * ux), (base[0] + wide * uy, base[1] - wide * ux)
    )
    yield pen.close().path(fill=PAPER, stroke=Stroke(color=INK, width=0.6))


def _direction(loop: Loop, angle: float) -> tuple[float, float]:
    """The direction on paper in which the loop runs, of unit length."""
    c, s = math.cos(angle), math.sin(angle)
    dx, dy = c * loop.across[0] - s * loop.along[0], c * loop.across[1] - s * loop.along[1]
    size = math.hypot(dx, dy)
    return (dx / size, -dy / size) if size > 1e-9 else (1.0, 0.0)
