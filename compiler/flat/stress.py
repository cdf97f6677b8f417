"""Free bodies in the plane: graph distances as ideal distances, by stress majorisation.

In: a small connected graph with edge lengths, and first places. Out: places. The method is that of Gansner, Koren and
North, "Graph drawing by stress majorization" (2004), in its local form: every body moves to the weighted mean of
where the others want it, all at once. Elementwise arithmetic and sums row by row: the same bits on every machine.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence

import numpy as np

Point = tuple[float, float]
Edges = Sequence[Sequence[tuple[int, float]]]
"""By body: bodies joined with it, and the length of the joint."""

MOST_BODIES = 500
"""The distances of all pairs are kept; larger graphs stay where they were put first."""
_SWEEPS = 200


def relaxed(start: Sequence[Point], edges: Edges) -> list[Point]:
    """The places after the stress has settled, about the same centre and turned the same way."""
    count = len(start)
    if not 2 < count <= MOST_BODIES:
        return list(start)
    distance = np.array([_distances(edges, body) for body in range(count)])
    weight = 1 / np.maximum(distance, 1e-9) ** 2
    np.fill_diagonal(weight, 0.0)
    x = np.array([place[0] for place in start])
    y = np.array([place[1] for place in start])
    share = weight.sum(axis=0)
    for _ in range(_SWEEPS):
        dx, dy = x[None, :] - x[:, None], y[None, :] - y[:, None]
        ratio = weight * distance / np.maximum(np.sqrt(dx * dx + dy * dy), 1e-6)
        to_x = (weight * x[:, None] + ratio * dx).sum(axis=0) / share
        to_y = (weight * y[:, None] + ratio * dy).sum(axis=0) / share
        moved = max(float(np.abs(to_x - x).max()), float(np.abs(to_y - y).max()))
        x, y = to_x, to_y
        if moved < 1e-3:
            break
    return [(float(a), float(b)) for a, b in zip(x, y, strict=True)]


def _distances(edges: Edges, start: int) -> list[float]:
    """Lengths of the shortest paths from one body (Dijkstra)."""
    best = [math.inf] * len(edges)
    best[start] = 0.0
    queue = [(0.0, start)]
    while queue:
        reached, body = heapq.heappop(queue)
        if reached > best[body]:
            continue
        for other, step in edges[body]:
            if reached + step < best[other]:
                best[other] = reached + step
                heapq.heappush(queue, (best[other], other))
    return best
