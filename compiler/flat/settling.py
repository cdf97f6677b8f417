"""The last touch of a flat drawing: joints that came out too long or too short are drawn to their length.

In: places of the bodies and their joints. Out: places. Nothing moves where every joint fits, so lattices stay
exactly regular; elsewhere springs along the joints pull, and each body is held back to where it was.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.flat.bodies import Bodies
from compiler.flat.lattice import Point

_LOOSE = 0.2
"""A joint that is off by more than this share of its length is put right."""
_CUT = 2.5
"""Joints more than so many times too long are left: a tube, or a strap whose ends meet, lies cut open on the table."""
_ROUNDS = 200
_HOLD = 0.05
"""Weight of staying, against 1 for each joint."""
_REACH = 6
"""Bodies further than so many joints from a bad one stay where they are."""


def settled(places: list[Point], bodies: Bodies) -> list[Point]:
    """The places with every joint near its length."""
    moving: dict[int, None] = {}
    for body in range(len(bodies)):
        if any(
            abs(math.dist(places[body], places[other]) - length) > _LOOSE * length
            for other, length in bodies.near[body]
            if not is_cut(places, body, other, length)
        ):
            moving[body] = None
    if not moving:
        return places
    edge = list(moving)
    for _ in range(_REACH):
        edge = [other for body in edge for other, _ in bodies.near[body] if other not in moving]
        moving.update(dict.fromkeys(edge))
    now = list(places)
    for _ in range(_ROUNDS):
        fresh = [_pulled(now, places[body], body, bodies) for body in moving]
        for body, place in zip(moving, fresh, strict=True):
            now[body] = place
    return now


def is_cut(places: Sequence[Point], a: int, b: int, length: float) -> bool:
    """Whether two joined bodies lie so far apart that the drawing is cut open between them, as a tube is."""
    return math.dist(places[a], places[b]) > _CUT * length


def _pulled(places: list[Point], home: Point, body: int, bodies: Bodies) -> Point:
    """The mean of where the joints of a body want it and where it was."""
    x, y = places[body]
    wx, wy, weight = _HOLD * home[0], _HOLD * home[1], _HOLD
    for other, length in bodies.near[body]:
        if is_cut(places, body, other, length):
            continue
        u, v = places[other]
        gap = math.hypot(x - u, y - v)
        share = length / gap if gap > 1e-9 else 0.0
        wx, wy, weight = wx + u + (x - u) * share, wy + v + (y - v) * share, weight + 1
    return 0.5 * x + 0.5 * wx / weight, 0.5 * y + 0.5 * wy / weight
