"""The shape of many discs, as outlines: what is drawn of a piece that is shown in outline alone.

In: places and radii of discs, mm. Out: closed outlines round all of them together. The plane is laid out in squares,
those that a disc reaches are filled, gaps of a few squares are closed (the morphological closing), and the outlines
run through the middles of the sides between full and empty.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from compiler.figure.picture import Box

Point = tuple[float, float]
_Cell = tuple[int, int]
_CLOSED = 3
"""Squares by which what is filled is grown, and then shrunk again."""


def silhouette(discs: Iterable[tuple[Point, float]], side: float) -> tuple[tuple[Point, ...], ...]:
    """Outlines of all discs together, to about half of `side`; holes run the other way round than the outside."""
    full: dict[_Cell, None] = {}
    for (x, y), radius in discs:
        reach = max(radius, 0.71 * side) + _CLOSED * side  # half the diagonal: no disc falls between squares
        for column in range(math.ceil((x - reach) / side - 0.5), math.floor((x + reach) / side - 0.5) + 1):
            for row in range(math.ceil((y - reach) / side - 0.5), math.floor((y + reach) / side - 0.5) + 1):
                if math.dist(((column + 0.5) * side, (row + 0.5) * side), (x, y)) <= reach:
                    full[column, row] = None
    return tuple(
        tuple(((x1 + x2) / 2 * side, (y1 + y2) / 2 * side) for (x1, y1), (x2, y2) in loop)
        for loop in _borders(_shrunk(full))
    )


def _shrunk(full: dict[_Cell, None]) -> dict[_Cell, None]:
    """The squares that lie so far from every empty one as they were grown."""
    steps = range(-_CLOSED, _CLOSED + 1)
    near = [(i, j) for i in steps for j in steps if math.hypot(i, j) <= _CLOSED]
    sides = ((1, 0), (-1, 0), (0, 1), (0, -1))
    gone: dict[_Cell, None] = {}
    for column, row in full:
        for i, j in sides:
            if (column + i, row + j) not in full:
                gone.update(dict.fromkeys((column + i + k, row + j + m) for k, m in near))
    return {cell: None for cell in full if cell not in gone}


def _borders(full: dict[_Cell, None]) -> list[list[tuple[_Cell, _Cell]]]:
    """The sides between full and empty squares, corner to corner, in closed runs with the full ones on the left."""
    after: dict[_Cell, list[_Cell]] = {}
    for column, row in full:
        corners = (column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)
        beside = (column, row - 1), (column + 1, row), (column, row + 1), (column - 1, row)
        for number, cell in enumerate(beside):
            if cell not in full:
                after.setdefault(corners[number], []).append(corners[(number + 1) % 4])
    loops = []
    while after:
        first = next(iter(after))
        here, loop = first, []
        while here in after:
            there = after[here].pop(0)
            if not after[here]:
                del after[here]
            loop.append((here, there))
            here = there
        loops.append(loop)
    return loops


def box_of_discs(places: Sequence[Point], reach: Sequence[float]) -> Box:
    """The room of discs."""
    pairs = list(zip(places, reach, strict=True))
    return Box(
        left=min(x - radius for (x, _), radius in pairs),
        bottom=min(y - radius for (_, y), radius in pairs),
        right=max(x + radius for (x, _), radius in pairs),
        top=max(y + radius for (_, y), radius in pairs),
    )
