"""The order of drawing: arcs of rings from the lowest to the highest.

In: which part covers which. Out: `Arc`s, runs of neighbouring parts of one loop that can be drawn at once, in an
order in which everything is drawn after what it covers (topological sorting, A. B. Kahn, Communications of the
ACM 5, 1962). Where parts cover each other in a circle, which only a schematic can ask for, the circle is cut at
its first part.
"""

from __future__ import annotations

import heapq
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from compiler.figure.scene import PARTS, Cover


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """Parts `first` to `first + count - 1` of a loop, counted round and round."""

    loop: int
    first: int
    count: int

    @property
    def whole(self) -> bool:
        """Whether it is the loop all round."""
        return self.count == PARTS


def cut(arcs: Iterable[Arc], kept: Sequence[Collection[int]]) -> list[Arc]:
    """The arcs without the parts that are not kept; `kept` by loop."""
    found = []
    for arc in arcs:
        run = 0
        for place in range(arc.first, arc.first + arc.count + 1):
            if place < arc.first + arc.count and place % PARTS in kept[arc.loop]:
                run += 1
            elif run:
                found.append(Arc(loop=arc.loop, first=(place - run) % PARTS, count=run))
                run = 0
    return found


def drawing_order(count: int, cover: Cover) -> list[Arc]:
    """The arcs of `count` loops, lowest first; of the loops that can be drawn on, the longest run comes first."""
    return _Sorting(count, cover).arcs()


class _Sorting:
    """The state of the sorting: what each part still waits for."""

    def __init__(self, count: int, cover: Cover) -> None:
        parts = count * PARTS
        order = np.argsort(cover.lower, kind="stable")
        hard = (~cover.free[order]).astype(np.int64)
        self._count = count
        self._waits: list[int] = np.bincount(cover.upper, minlength=parts).tolist()
        self._waits_hard: list[int] = np.bincount(cover.upper[~cover.free], minlength=parts).tolist()
        self._above = list(zip(cover.upper[order].tolist(), hard.tolist(), strict=True))
        """What lies over each part: that over part k stands from `_start[k]` up to `_start[k + 1]`."""
        self._start: list[int] = np.searchsorted(cover.lower[order], np.arange(parts + 1)).tolist()
        self._drawn = bytearray(parts)
        self._free = bytearray(wait == 0 for wait in self._waits)
        """Which parts can be drawn now."""
        self._queue: list[tuple[int, int]] = []

    def arcs(self) -> list[Arc]:
        """All arcs in order."""
        for loop in range(self._count):
            self._offer(loop)
        found = []
        while (arc := self._next()) is not None:
            touched = {arc.loop: None}
            for step in range(arc.count):
                part = arc.loop * PARTS + (arc.first + step) % PARTS
                self._drawn[part], self._free[part] = 1, 0
                for high, hard in self._above[self._start[part] : self._start[part + 1]]:
                    self._waits[high] -= 1
                    self._waits_hard[high] -= hard
                    if self._waits[high] == 0 and not self._drawn[high]:
                        self._free[high] = 1
                        touched[high // PARTS] = None
            for loop in touched:
                self._offer(loop)
            found.append(arc)
        return found

    @staticmethod
    def _of(parts: bytearray, loop: int) -> bytes:
        return bytes(parts[loop * PARTS : (loop + 1) * PARTS])

    def _offer(self, loop: int) -> None:
        size = _longest_run(self._of(self._free, loop))[1]
        if size:
            heapq.heappush(self._queue, (-size, loop))

    def _next(self) -> Arc | None:
        while self._queue:
            guess, loop = heapq.heappop(self._queue)
            first, size = _longest_run(self._of(self._free, loop))
            if size == -guess:
                return Arc(loop=loop, first=first, count=size)
            if size:
                heapq.heappush(self._queue, (-size, loop))
        return self._stuck()

    def _stuck(self) -> Arc | None:
        """What to draw where parts cover each other in a circle: orders that mean nothing give way first."""
        best: tuple[int, int, int] | None = None
        for loop in range(self._count):
            base = loop * PARTS
            free = bytes(
                not drawn and wait == 0
                for drawn, wait in zip(
                    self._of(self._drawn, loop), self._waits_hard[base : base + PARTS], strict=True
                )
            )
            first, size = _longest_run(free)
            if size and (best is None or size > best[2]):
                best = loop, first, size
        if best is None:
            part = self._drawn.find(0)
            if part < 0:
                return None
            best = part // PARTS, part % PARTS, 1
        return Arc(loop=best[0], first=best[1], count=best[2])


def _longest_run(free: bytes) -> tuple[int, int]:
    """First place and length of the longest run of ones, round and round; length 0 where there is none."""
    start = free.find(0)
    if start < 0:
        return 0, len(free)
    turned = free[start:] + free[:start]
    size = max(map(len, turned.split(b"\0")))
    return ((start + turned.find(b"\1" * size)) % len(free), size) if size else (0, 0)
