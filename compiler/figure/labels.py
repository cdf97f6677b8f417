"""Words in a figure: where they stand.

In: texts with the loops they name, the loops drawn, the figure's size in points. Out: page items. Each text stands
where it covers fewest rings and nothing else, near its ring, with a thin leader to it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compiler.booklet.fonts import metrics, text_width
from compiler.booklet.page import Circle, Color, Item, Line, Rectangle, Stroke, Text
from compiler.booklet.style import FIGURE_LABEL, INK, PAPER
from compiler.figure.scene import PARTS, Loop
from compiler.figure.strokes import Window

Floats = npt.NDArray[np.float64]

_ANGLES = 20
_DISTANCES = (5.0, 12.0, 20.0, 30.0, 42.0, 58.0)
_DOTS = 28
"""Points of each ring that a text should not cover."""
_PAD = 1.6
_RIM = 3.0
"""Points left free at the edge of the figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A text for a ring."""

    text: str
    loop: Loop
    color: Color
    covered: frozenset[int] = frozenset()
    """Parts of the loop that cannot be seen."""


Box = tuple[float, float, float, float]
"""Left, top, right, bottom, in points."""


def label_items(
    labels: Sequence[Label],
    loops: Sequence[Loop],
    window: Window,
    width: float,
    height: float,
    obstacles: Sequence[tuple[float, float]] = (),
) -> tuple[Item, ...]:
    """The texts and their leaders; `obstacles` are more points, on paper, that a text should not cover."""
    dots = np.array(
        [
            *(window.point(*loop.at(2 * math.pi * k / _DOTS)[:2]) for loop in loops for k in range(_DOTS)),
            *obstacles,
        ]
    ).reshape(-1, 2)
    centres = [window.point(*loop.centre[:2]) for loop in loops]
    middle = _mean(centres) if centres else (width / 2, height / 2)
    taken: list[Box] = []
    ways: list[tuple[float, float, float, float]] = []
    lines: list[Item] = []
    words: list[Item] = []
    for label in labels:
        long = text_width(label.text, FIGURE_LABEL.face, FIGURE_LABEL.size)
        tall = metrics(FIGURE_LABEL.face).cap_height * FIGURE_LABEL.size
        spot = _best(label, long, tall, dots, taken, ways, window, (width, height), middle)
        box, foot, covered = spot
        taken.append(box)
        start = _nearest(box, foot)
        ways.append((*start, *foot))
        if math.dist(start, foot) > 1.5:
            lines.append(
                Line(x1=start[0], y1=start[1], x2=foot[0], y2=foot[1], stroke=Stroke(color=INK, width=0.5))
            )
        lines.append(Circle(x=foot[0], y=foot[1], radius=0.95, fill=INK))
        if covered:
            words.append(
                Rectangle(
                    x=box[0], y=box[1], width=box[2] - box[0], height=box[3] - box[1], radius=2.0, fill=PAPER
                )
            )
        words.append(
            Text(
                x=box[0] + _PAD,
                y=box[3] - _PAD - 0.3,
                string=label.text,
                face=FIGURE_LABEL.face,
                size=FIGURE_LABEL.size,
                color=label.color,
            )
        )
    return (*lines, *words)


def _best(
    label: Label,
    long: float,
    tall: float,
    dots: Floats,
    taken: Sequence[Box],
    ways: Sequence[tuple[float, float, float, float]],
    window: Window,
    size: tuple[float, float],
    middle: tuple[float, float],
) -> tuple[Box, tuple[float, float], bool]:
    """The best box for a text, the point of the ring that its leader leads to, and whether it covers rings."""
    x, y = window.point(*label.loop.centre[:2])
    feet = _feet(label, window)
    best: tuple[float, int, Box, tuple[float, float], bool] | None = None
    number = 0
    for distance in _DISTANCES:
        for step in range(_ANGLES):
            angle = 2 * math.pi * step / _ANGLES
            c, s = math.cos(angle), math.sin(angle)
            foot = max(feet, key=lambda at: (at[0] - x) * c + (at[1] - y) * s)
            reach = (foot[0] - x) * c + (foot[1] - y) * s + distance
            half_w, half_h = long / 2 + _PAD, tall / 2 + _PAD
            # the box touches, from outside, a circle a little wider than the ring
            off = reach + half_w * abs(c) + half_h * abs(s)
            cx = min(max(x + off * c, half_w + _RIM), max(size[0] - half_w - _RIM, half_w + _RIM))
            cy = min(max(y + off * s, half_h + _RIM), max(size[1] - half_h - _RIM, half_h + _RIM))
            box = (cx - half_w, cy - half_h, cx + half_w, cy + half_h)
            inside = _held(dots, box)
            start = _nearest(box, foot)
            clash = sum(_overlap(box, other) for other in taken)
            crossing = sum(_cross((*start, *foot), way) for way in ways)
            through = sum(_touches(way, box) for way in ways)
            through += sum(_touches((*start, *foot), other) for other in taken)
            over = _beside(dots, start, foot) if distance > 6 else 0
            inwards = (middle[0] - x) * c + (middle[1] - y) * s
            cost = (
                9 * inside
                + 500 * clash
                + 120 * (crossing + through)
                + 2.2 * max(0, over - 1)
                + 0.35 * distance
                + 0.03 * inwards
                + 0.6 * abs(s)
            )
            if best is None or (cost, number) < best[:2]:
                best = (cost, number, box, foot, inside > 0)
            number += 1
    assert best is not None
    return best[2], best[3], best[4]


def _feet(label: Label, window: Window) -> list[tuple[float, float]]:
    """Where a leader may lead to: points of the ring that can be seen, or all where it is hidden altogether."""
    parts = [part for part in range(PARTS) if part not in label.covered] or list(range(PARTS))
    return [window.point(*label.loop.at(2 * math.pi * (part + 0.5) / PARTS)[:2]) for part in parts]


def _nearest(box: Box, point: tuple[float, float]) -> tuple[float, float]:
    """The point of a box that lies nearest to a point."""
    return min(max(point[0], box[0]), box[2]), min(max(point[1], box[1]), box[3])


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _touches(way: tuple[float, float, float, float], box: Box) -> bool:
    """Whether a leader runs through a box, told by points along it."""
    for step in range(1, 8):
        x, y = way[0] + (way[2] - way[0]) * step / 8, way[1] + (way[3] - way[1]) * step / 8
        if box[0] < x < box[2] and box[1] < y < box[3]:
            return True
    return False


def _cross(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    """Whether two straight lines cross."""

    def side(x: float, y: float, line: tuple[float, float, float, float]) -> float:
        return (line[2] - line[0]) * (y - line[1]) - (line[3] - line[1]) * (x - line[0])

    return side(a[0], a[1], b) * side(a[2], a[3], b) < 0 and side(b[0], b[1], a) * side(b[2], b[3], a) < 0


def _held(dots: Floats, box: Box) -> int:
    """How many points lie in a box."""
    x, y = dots[:, 0], dots[:, 1]
    return int(np.count_nonzero((box[0] <= x) & (x <= box[2]) & (box[1] <= y) & (y <= box[3])))


def _beside(dots: Floats, start: tuple[float, float], end: tuple[float, float]) -> int:
    """How many points lie within 2 pt of a leader."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    x, y = dots[:, 0] - start[0], dots[:, 1] - start[1]
    share = np.clip((x * dx + y * dy) / max(dx * dx + dy * dy, 1e-9), 0.0, 1.0)
    return int(np.count_nonzero((x - share * dx) ** 2 + (y - share * dy) ** 2 < 4.0))


def _mean(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return math.fsum(p[0] for p in points) / len(points), math.fsum(p[1] for p in points) / len(points)
