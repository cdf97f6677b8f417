"""Rings as they are seen, and which part of which ring covers which.

In: loops (projected circles with a depth) and, for a schematic, a rule for over and under. Out: pairs of parts, the
lower one first. Each loop is cut into `PARTS` equal parts; parts whose strips of wire overlap in the picture are
ordered by depth. Lengths are mm, x to the right, y up, depth towards the eye.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

PARTS = 64
"""Parts of a loop; one is about a tenth of the core radius long, shorter than any wire is thick."""

_LEVEL = 0.4
"""Parts whose depths differ by less than this share of both wires' radii do not cover one another: of two wires that
keep their distance, such parts overlap by less than a tenth of a wire."""

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Loop:
    """A ring seen: the points centre + along cos t + across sin t, each with its depth."""

    node: int
    centre: tuple[float, float, float]
    along: tuple[float, float, float]
    across: tuple[float, float, float]
    tube: float
    """Radius of the wire."""

    def at(self, angle: float) -> tuple[float, float, float]:
        """The point of the core at an angle in radians."""
        c, s = math.cos(angle), math.sin(angle)
        (x, y, z), (ax, ay, az), (bx, by, bz) = self.centre, self.along, self.across
        return x + c * ax + s * bx, y + c * ay + s * by, z + c * az + s * bz

    def middles(self) -> list[tuple[float, float, float]]:
        """The middles of its parts, in order."""
        return [self.at(2 * math.pi * (part + 0.5) / PARTS) for part in range(PARTS)]

    @property
    def reach(self) -> tuple[float, float]:
        """Half its width and half its height, wire included."""
        return (
            math.hypot(self.along[0], self.across[0]) + self.tube,
            math.hypot(self.along[1], self.across[1]) + self.tube,
        )


class Over(Protocol):
    """Which of two loops lies over the other, part by part, where depth does not tell."""

    def __call__(self, first: int, second: int, x: Floats, y: Floats) -> Bools:
        """Where the first loop (by its number in the scene) lies over the second, at these places of the picture."""

    def free(self, first: int, second: int) -> bool:
        """Whether the order of the two means nothing, so that it may give way where it cannot be kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """Which parts cover which: part `lower[k]` lies under part `upper[k]`; a part is loop * PARTS + number."""

    lower: Ints
    upper: Ints
    free: Bools
    """Whether the order of the pair may give way."""

    def among(self, nodes: Sequence[int], count: int) -> Cover:
        """What is left between some of the `count` loops, which are numbered anew in the order given."""
        number = np.full(count, -1, dtype=np.int64)
        number[list(nodes)] = np.arange(len(nodes))
        low, high = number[self.lower // PARTS], number[self.upper // PARTS]
        kept = (low >= 0) & (high >= 0)
        return Cover(
            lower=low[kept] * PARTS + self.lower[kept] % PARTS,
            upper=high[kept] * PARTS + self.upper[kept] % PARTS,
            free=self.free[kept],
        )

    def covered(self, loop: int) -> frozenset[int]:
        """The parts of a loop that lie under another, by their numbers in it."""
        return frozenset((self.lower[self.lower // PARTS == loop] % PARTS).tolist())

    def pairs(self) -> Iterator[tuple[int, int, bool]]:
        """Lower and upper part of each pair, and whether it is free."""
        return zip(self.lower.tolist(), self.upper.tolist(), self.free.tolist(), strict=True)


NOTHING = Cover(
    lower=np.zeros(0, dtype=np.int64), upper=np.zeros(0, dtype=np.int64), free=np.zeros(0, dtype=np.bool_)
)
"""Nothing covers anything."""


def cover_of(loops: Sequence[Loop], margin: float, over: Over | None = None) -> Cover:
    """The order of all parts that overlap; parts of two wires count as
    overlapping when these are at most `margin` mm apart."""
    middles = [2 * math.pi * (part + 0.5) / PARTS for part in range(PARTS)]
    cosine = np.array([math.cos(angle) for angle in middles])
    sine = np.array([math.sin(angle) for angle in middles])
    points = [
        [loop.centre[axis] + loop.along[axis] * cosine + loop.across[axis] * sine for axis in range(3)]
        for loop in loops
    ]
    lower, upper, free = [NOTHING.lower], [NOTHING.upper], [NOTHING.free]
    for a, b in _near(loops, margin):
        (ax, ay, az), (bx, by, bz) = points[a], points[b]
        reach = loops[a].tube + loops[b].tube + margin
        dx, dy = ax[:, None] - bx[None, :], ay[:, None] - by[None, :]
        k, m = np.nonzero(dx * dx + dy * dy < reach * reach)
        if a == b:
            keep = (k < m) & (_apart(k, m) > _self_gap(loops[a]))
            k, m = k[keep], m[keep]
        if over is None or a == b:
            keep = np.abs(az[k] - bz[m]) > _LEVEL * (loops[a].tube + loops[b].tube)
            k, m = k[keep], m[keep]
        if not k.size:
            continue
        if over is None or a == b:
            top = az[k] > bz[m]
        else:
            top = over(a, b, (ax[k] + bx[m]) / 2, (ay[k] + by[m]) / 2)
        first, second = a * PARTS + k, b * PARTS + m
        lower.append(np.where(top, second, first))
        upper.append(np.where(top, first, second))
        free.append(np.full(k.shape, over is not None and a != b and over.free(a, b)))
    return Cover(lower=np.concatenate(lower), upper=np.concatenate(upper), free=np.concatenate(free))


def _apart(k: Ints, m: Ints) -> Ints:
    gap: Ints = np.abs(k - m)
    return np.minimum(gap, PARTS - gap)


def _self_gap(loop: Loop) -> int:
    """Parts of one loop nearer to each other than this, counted along it, never cover one another."""
    length = math.sqrt(max(_square(loop.along), _square(loop.across))) * 2 * math.pi / PARTS
    return max(3, math.ceil(3 * loop.tube / max(length, 1e-9)))


def _square(vector: tuple[float, float, float]) -> float:
    return vector[0] ** 2 + vector[1] ** 2 + vector[2] ** 2


def _near(loops: Sequence[Loop], margin: float) -> Iterator[tuple[int, int]]:
    """Pairs a <= b of loops whose boxes overlap, from a grid of cells as wide as the widest loop."""
    if not loops:
        return
    boxes = [(x + margin / 2, y + margin / 2) for x, y in (loop.reach for loop in loops)]
    side = 2 * max(max(box) for box in boxes)
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for number, loop in enumerate(loops):
        column, row = math.floor(loop.centre[0] / side), math.floor(loop.centre[1] / side)
        for i in (column - 1, column, column + 1):
            for j in (row - 1, row, row + 1):
                for other in cells.get((i, j), ()):
                    (w, h), (u, v) = boxes[number], boxes[other]
                    far = loops[other].centre
                    if abs(loop.centre[0] - far[0]) < w + u and abs(loop.centre[1] - far[1]) < h + v:
                        yield other, number
        cells[column, row].append(number)
        yield number, number
