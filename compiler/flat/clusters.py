"""Bodies outside every lattice: what hangs together among them becomes a frame of its own.

In: bodies and the frames of the families. Out: one frame for each connected cluster of the rest. A chain is straight,
a tree spreads, and anything with loops is settled by its graph distances.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.flat.bodies import Bodies
from compiler.flat.lattice import Frame, Point
from compiler.flat.stress import relaxed

_TURN = 2 * math.pi
_AMID = 0.6
"""What is drawn nearer than this share of a joint to both its ends lies in the middle of it."""


def clusters_of(bodies: Bodies, taken: set[int]) -> list[Frame]:
    """A frame for each cluster of bodies that are not `taken`, in order of their first bodies."""
    seen = set(taken)
    out = []
    for first in range(len(bodies)):
        if first in seen:
            continue
        cluster = [first]
        seen.add(first)
        for body in cluster:
            for other, _ in bodies.near[body]:
                if other not in seen:
                    seen.add(other)
                    cluster.append(other)
        out.append(_drawn(bodies, sorted(cluster)))
    return out


def _drawn(bodies: Bodies, cluster: Sequence[int]) -> Frame:
    inside = {body: index for index, body in enumerate(cluster)}
    edges = [
        [(inside[other], length) for other, length in bodies.near[body] if other in inside]
        for body in cluster
    ]
    amid = _amid(edges)
    rest = [body for body in range(len(edges)) if body not in amid]
    number = {body: index for index, body in enumerate(rest)}
    fewer = [[(number[other], length) for other, length in edges[body] if other in number] for body in rest]
    start = _grown(fewer)
    loops = sum(map(len, fewer)) // 2 >= len(rest)
    drawn = dict(zip(rest, relaxed(start, fewer) if loops else start, strict=True))
    for body, ends in amid.items():
        (x, y), (u, v) = (drawn[end] for end in ends)
        drawn[body] = (x + u) / 2, (y + v) / 2
    return {cluster[body]: drawn[body] for body in range(len(edges))}


def _amid(edges: Sequence[Sequence[tuple[int, float]]]) -> dict[int, tuple[int, int]]:
    """Bodies that lie in the middle of two that are joined, as a collar does about a joint, and those two."""
    found: dict[int, tuple[int, int]] = {}
    for body, row in enumerate(edges):
        if len(row) != 2 or row[0][0] in found or row[1][0] in found:
            continue
        (one, near), (other, far) = row
        joint = dict(edges[one]).get(other)
        if joint is not None and max(near, far) < _AMID * joint:
            found[body] = one, other
    return found


def _grown(edges: Sequence[Sequence[tuple[int, float]]]) -> list[Point]:
    """First places: from an end outwards, what hangs on a body spread over the room that is left around it."""
    count = len(edges)
    root = min(range(count), key=lambda body: (len(edges[body]) > 1, body))
    if all(len(row) > 1 for row in edges):
        root = max(range(count), key=lambda body: (len(edges[body]), -body))
    places: dict[int, Point] = {root: (0.0, 0.0)}
    queue = [root]
    for body in queue:
        fresh = [(other, length) for other, length in edges[body] if other not in places]
        used = [direction(places[body], places[other]) for other, _ in edges[body] if other in places]
        for (other, length), angle in zip(fresh, spread(used, len(fresh)), strict=True):
            x, y = places[body]
            places[other] = (x + length * math.cos(angle), y + length * math.sin(angle))
            queue.append(other)
    return [places[body] for body in range(count)]


def direction(start: Point, end: Point) -> float:
    """The angle of the way from one place to another, radians, counter-clockwise from the right."""
    return math.atan2(end[1] - start[1], end[0] - start[0])


def spread(used: Sequence[float], count: int) -> list[float]:
    """Angles for `count` new neighbours in the largest gap that the `used` directions leave."""
    if not used:
        return [-_TURN * index / max(count, 1) for index in range(count)]
    start, width = largest_gap(used)
    return [start + width * (index + 1) / (count + 1) for index in range(count)]


def largest_gap(used: Sequence[float]) -> tuple[float, float]:
    """Where the widest gap between directions begins, and its width, radians; the whole turn for one direction."""
    return max(gaps_between(used), key=lambda gap: round(gap[1], 6))


def gaps_between(used: Sequence[float]) -> list[tuple[float, float]]:
    """Where each gap between directions begins, and its width, radians."""
    angles = sorted(angle % _TURN for angle in used)
    return [
        (before, (after - before) % _TURN or _TURN)
        for before, after in zip(angles, [*angles[1:], angles[0] + _TURN], strict=True)
    ]


def nearest_free(used: Sequence[float], wish: float, clear: float) -> float:
    """The direction nearest to the one wished for that keeps `clear` of those used; the middle of a narrower gap."""
    found = []
    for start, width in gaps_between(used):
        middle = start + width / 2
        room = max(0.0, width / 2 - clear)
        angle = middle + max(-room, min(room, math.remainder(wish - middle, _TURN)))
        off = abs(math.remainder(wish - angle, _TURN))
        found.append((width < 2 * clear, round(off, 6), angle))
    return min(found)[2]
