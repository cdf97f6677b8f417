"""Words in a figure: where they stand.

In: texts with the loops they name, the loops drawn, the figure's size in points. Out: page items. A text covers neither
a ring nor another text; a thin leader goes from it to its ring. Where wire lies, and where a text or leader
stands already, is kept on a grid of cells of a point. A text whose leader would cross more than one wire waits until
the others stand; one that finds no place then either is cut to its number, which is set on its ring.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compiler.booklet.fonts import metrics, text_width
from compiler.booklet.page import Circle, Color, Item, Line, Rectangle, Stroke, Text
from compiler.booklet.style import FIGURE_LABEL, INK, PAPER
from compiler.figure.scene import PARTS, Loop
from compiler.figure.strokes import Window

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Ints = npt.NDArray[np.int64]

_REACH = 76.0
"""Points from its ring within which a text stands."""
_GRID = 5
"""Points from one place that is tried to the next."""
_FEET = 12
"""Points of a ring that a leader may lead to, those hidden left out."""
_SAMPLES = 28
"""Points of a leader that are looked at."""
_PAD = 1.6
_RIM = 3.0
"""Points left free at the edge of the figure."""
_CROSSING, _LATER = 1.7, 3.2
"""Widths of wire that a leader may lie on: one wire, crossed at a slant; two, for texts that find no place so."""
_LEADING = 9.6
"""Points from line to line of a text."""
_TAG = 7.0
"""Type size of a number that stands on its ring."""
_LITTLE_HIDDEN, _MOST_HIDDEN = 0.2, 0.5
"""Share of a number's field that may hide other rings; of one that must stand somewhere."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A text for a ring."""

    text: str
    """Its lines, a line feed between them."""
    loop: Loop
    color: Color
    covered: frozenset[int] = frozenset()
    """Parts of the loop that cannot be seen."""
    needed: bool = False
    """Whether it may come later where its leader crosses two wires, or be set on its ring."""
    short: str = ""
    """What is set where the text finds no place; empty where nothing is."""

    @property
    def size(self) -> tuple[float, float]:
        """Half the width and half the height of the text, with what is left free round it, points."""
        return half_size(self.text, FIGURE_LABEL.size)


def half_size(text: str, size: float) -> tuple[float, float]:
    """Half the width and half the height that a text takes, points."""
    lines = text.split("\n")
    width = max(text_width(line, FIGURE_LABEL.face, size) for line in lines)
    height = metrics(FIGURE_LABEL.face).cap_height * size + (len(lines) - 1) * _LEADING
    return width / 2 + _PAD, height / 2 + _PAD


Box = tuple[float, float, float, float]
"""Left, top, right, bottom, in points."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spot:
    """Where a text stands, and where its leader begins and ends."""

    box: Box
    start: tuple[float, float]
    foot: tuple[float, float]


def label_items(
    labels: Sequence[Label],
    loops: Sequence[Loop],
    window: Window,
    width: float,
    height: float,
    obstacles: Sequence[tuple[float, float]] = (),
) -> tuple[Item, ...]:
    """The texts and their leaders, those first in the list placed first.

    `obstacles` are more points, on paper, that a text should not cover.
    """
    sheet = _Sheet(loops, window, width, height, obstacles)
    found: dict[int, tuple[Label, _Spot]] = {}
    short = [replace(label, text=label.short or label.text) for label in labels]
    for most, some in (
        (_CROSSING, dict(enumerate(labels))),
        (_LATER, {number: label for number, label in enumerate(labels) if label.needed}),
    ):
        for number, label in some.items():
            spot = None if number in found else sheet.spot(label, most)
            if spot is not None:
                sheet.take(spot)
                found[number] = label, spot
    tags: list[tuple[Label, Box]] = []
    for number, label in enumerate(short):
        if number in found or not label.short:
            continue
        box = sheet.tag(label, _LITTLE_HIDDEN)
        spot = sheet.spot(label, _CROSSING) if box is None else None
        if spot is not None:
            sheet.take(spot)
            found[number] = label, spot
        elif box is not None or label.needed:
            box = box or sheet.tag(label, _MOST_HIDDEN)
            tags += [(label, box)] if box is not None else []
    lines = [item for _, spot in found.values() for item in _leader(spot)]
    words = [
        item
        for label, spot in found.values()
        for item in _text(label.text, spot.box, FIGURE_LABEL.size, label.color)
    ]
    for label, box in tags:
        words += (_field(box, label.color), *_text(label.text, box, _TAG, label.color))
    return (*lines, *words)


def _leader(spot: _Spot) -> Iterator[Item]:
    (x1, y1), (x2, y2) = spot.start, spot.foot
    if math.dist(spot.start, spot.foot) > 1.5:
        for color, wide in ((PAPER, 1.7), (INK, 0.5)):
            yield Line(x1=x1, y1=y1, x2=x2, y2=y2, stroke=Stroke(color=color, width=wide))
    yield Circle(x=x2, y=y2, radius=1.7, fill=PAPER)
    yield Circle(x=x2, y=y2, radius=1.1, fill=INK)


def tag_items(text: str, at: tuple[float, float], color: Color) -> tuple[Item, ...]:
    """A number in its field, with its middle at a place, points."""
    half_w, half_h = half_size(text, _TAG)
    half_w = max(half_w + 0.8, half_h)
    box = at[0] - half_w, at[1] - half_h, at[0] + half_w, at[1] + half_h
    return _field(box, color), *_text(text, box, _TAG, color)


def _text(text: str, box: Box, size: float, color: Color) -> Iterator[Item]:
    lines = text.split("\n")
    middle = (box[0] + box[2]) / 2
    for number, line in enumerate(reversed(lines)):
        yield Text(
            x=middle - text_width(line, FIGURE_LABEL.face, size) / 2,
            y=box[3] - _PAD - 0.3 - number * _LEADING,
            string=line,
            face=FIGURE_LABEL.face,
            size=size,
            color=color,
        )


def _field(box: Box, color: Color) -> Item:
    """The field of a number that stands on its ring."""
    left, top, right, bottom = box
    return Rectangle(
        x=left,
        y=top,
        width=right - left,
        height=bottom - top,
        radius=(bottom - top) / 2,
        fill=PAPER,
        stroke=Stroke(color=color, width=0.5),
    )


class _Sheet:
    """What lies where in a figure, by cells of a point."""

    def __init__(
        self,
        loops: Sequence[Loop],
        window: Window,
        width: float,
        height: float,
        obstacles: Sequence[tuple[float, float]],
    ) -> None:
        self._window, self._width, self._height = window, width, height
        shape = max(1, math.ceil(height)), max(1, math.ceil(width))
        self._rings: Bools = np.zeros(shape, dtype=bool)
        self._words: Bools = np.zeros(shape, dtype=bool)
        for loop in loops:
            self._stamp(self._rings, loop)
        for x, y in obstacles:
            self._fill(self._rings, (x - 1.5, y - 1.5, x + 1.5, y + 1.5))
        middles = [window.point(*loop.centre[:2]) for loop in loops] or [(width / 2, height / 2)]
        self._middle = (
            math.fsum(x for x, _ in middles) / len(middles),
            math.fsum(y for _, y in middles) / len(middles),
        )

    def spot(self, label: Label, most: float) -> _Spot | None:
        """The best place for a text whose leader lies on `most` widths of wire; None where there is none."""
        half_w, half_h = label.size
        x, y = self._window.point(*label.loop.centre[:2])
        far = max(label.loop.reach) * self._window.scale + _REACH
        cx, cy = self._places(x, y, far + half_w, far, half_w, half_h)
        free = self._free(cx, cy, half_w, half_h)
        cx, cy = cx[free], cy[free]
        if not cx.size:
            return None
        wire = 2 * label.loop.tube * self._window.scale
        own: Bools = np.zeros_like(self._rings)
        self._stamp(own, label.loop)
        others = self._rings & ~own
        outwards = np.hypot(cx - self._middle[0], cy - self._middle[1])
        best: tuple[float, _Spot] | None = None
        for foot in self._feet(label):
            sx = np.clip(foot[0], cx - half_w, cx + half_w)
            sy = np.clip(foot[1], cy - half_h, cy + half_h)
            long = np.hypot(sx - foot[0], sy - foot[1])
            plain = long + 0.3 * np.abs(cy - foot[1]) - 0.1 * outwards
            near = long < _REACH
            if best is not None:  # what a leader crosses only adds to its cost
                near &= plain < best[0] + 0.001
            if not near.any():
                continue
            px, py, sx, sy, long, plain = cx[near], cy[near], sx[near], sy[near], long[near], plain[near]
            share = (np.arange(_SAMPLES) + 0.5) / _SAMPLES
            lx = foot[0] + (sx - foot[0])[:, None] * share
            ly = foot[1] + (sy - foot[1])[:, None] * share
            crossed = self._looked(others, lx, ly).mean(axis=1) * long
            words = self._looked(self._words, lx, ly).any(axis=1)
            cost = np.where(words | (crossed > most * wire), np.inf, plain + 14.0 * crossed)
            at = int(np.argmin(np.round(cost, 3)))
            value = round(float(cost[at]), 3)
            if math.isfinite(value) and (best is None or value < best[0]):
                px_, py_ = float(px[at]), float(py[at])
                box = (px_ - half_w, py_ - half_h, px_ + half_w, py_ + half_h)
                best = value, _Spot(box=box, start=(float(sx[at]), float(sy[at])), foot=foot)
        return None if best is None else best[1]

    def tag(self, label: Label, most: float) -> Box | None:
        """The field of a number on its ring, where it hides least of other rings; None where that is above `most`."""
        half_w, half_h = half_size(label.text, _TAG)
        half_w = max(half_w + 0.8, half_h)
        own: Bools = np.zeros_like(self._rings)
        self._stamp(own, label.loop)
        others = self._rings & ~own
        best: tuple[float, Box] | None = None
        for x, y in self._feet(label):
            box = x - half_w, y - half_h, x + half_w, y + half_h
            part = np.s_[max(0, int(box[1])) : math.ceil(box[3]), max(0, int(box[0])) : math.ceil(box[2])]
            if self._words[part].any() or not others[part].size:
                continue
            hidden = round(float(others[part].mean()), 3)
            if hidden <= most and (best is None or hidden < best[0]):
                best = hidden, box
        if best is None:
            return None
        self._fill(self._words, best[1])
        return best[1]

    def take(self, spot: _Spot) -> None:
        """Text and leader keep others away."""
        left, top, right, bottom = spot.box
        self._fill(self._words, (left - 1.0, top - 1.5, right + 1.0, bottom + 1.5))
        (x1, y1), (x2, y2) = spot.start, spot.foot
        steps = max(2, math.ceil(math.dist(spot.start, spot.foot) * 2))
        for step in range(steps + 1):
            x, y = x1 + (x2 - x1) * step / steps, y1 + (y2 - y1) * step / steps
            self._fill(self._words, (x - 0.8, y - 0.8, x + 0.8, y + 0.8))

    def _places(
        self, x: float, y: float, far_x: float, far_y: float, half_w: float, half_h: float
    ) -> tuple[Floats, Floats]:
        """Middles of the text that are tried: a grid round the ring, within the figure."""
        left, right = max(x - far_x, half_w + _RIM), min(x + far_x, self._width - half_w - _RIM)
        top, bottom = max(y - far_y, half_h + _RIM), min(y + far_y, self._height - half_h - _RIM)
        columns = np.arange(left, right + 1e-9, _GRID)
        rows = np.arange(top, bottom + 1e-9, _GRID / 2)
        grid_x, grid_y = np.meshgrid(columns, rows)
        return grid_x.ravel(), grid_y.ravel()

    def _free(self, cx: Floats, cy: Floats, half_w: float, half_h: float) -> Bools:
        """Which boxes hold neither wire nor word: sums over rectangles from one table of sums."""
        table = np.zeros((self._rings.shape[0] + 1, self._rings.shape[1] + 1), dtype=np.int64)
        table[1:, 1:] = (self._rings | self._words).cumsum(axis=0).cumsum(axis=1)
        top, bottom = self._row(cy - half_h), self._row(cy + half_h) + 1
        left, right = self._column(cx - half_w), self._column(cx + half_w) + 1
        held = table[bottom, right] - table[top, right] - table[bottom, left] + table[top, left]
        free: Bools = held == 0
        return free

    def _looked(self, cells: Bools, x: Floats, y: Floats) -> Bools:
        found: Bools = cells[self._row(y), self._column(x)]
        return found

    def _row(self, y: Floats) -> Ints:
        return np.clip(np.floor(y), 0, self._rings.shape[0] - 1).astype(np.int64)

    def _column(self, x: Floats) -> Ints:
        return np.clip(np.floor(x), 0, self._rings.shape[1] - 1).astype(np.int64)

    def _feet(self, label: Label) -> list[tuple[float, float]]:
        """Where a leader may lead to: points of the ring that can be seen, or all where it is hidden altogether."""
        parts = [part for part in range(PARTS) if part not in label.covered] or list(range(PARTS))
        chosen = parts[:: max(1, len(parts) // _FEET)]
        return [self._window.point(*label.loop.at(2 * math.pi * (part + 0.5) / PARTS)[:2]) for part in chosen]

    def _stamp(self, cells: Bools, loop: Loop) -> None:
        """The cells on which the wire of a ring lies."""
        half = max(0.6, loop.tube * self._window.scale)
        longest = max(math.hypot(*loop.along[:2]), math.hypot(*loop.across[:2])) * self._window.scale
        count = max(PARTS, math.ceil(2 * math.pi * longest / max(half, 1.0)))
        for step in range(count):
            x, y = self._window.point(*loop.at(2 * math.pi * step / count)[:2])
            self._fill(cells, (x - half, y - half, x + half, y + half))

    def _fill(self, cells: Bools, box: Box) -> None:
        rows, columns = cells.shape
        top, bottom = max(0, math.floor(box[1])), min(rows, math.ceil(box[3]))
        left, right = max(0, math.floor(box[0])), min(columns, math.ceil(box[2]))
        if top < bottom and left < right:
            cells[top:bottom, left:right] = True
