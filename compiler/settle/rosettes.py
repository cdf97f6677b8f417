"""Starts for rosettes: rings that all go through one another, evenly round a centre.

In: a problem. Out: places and normals. Ring k is ring 0 turned about the upright axis by k parts of a full turn, so few
numbers say all: how far from the centre the rings lie, how far they are tilted, and whether along the round or
outward. A grid of these is tried for the declared states, all at once, and those with most room are given. One ring
of another size that goes through all of them stands upright through their middle.
"""

import math

import numpy as np

from compiler.layout import LayoutProblem, PairState
from compiler.settle.relax import Pose
from compiler.settle.vectors import Floats
from compiler.settle.ways import Ways, full_room, roomiest, ways_of

_FAR = tuple(0.05 * k for k in range(1, 20))  # core radii from the centre
_TILTS = tuple(range(10, 91, 5))  # degrees between a normal and the upright
_WAYS = tuple(
    range(-180, 180, 15)
)  # degrees from outward to the side to which a normal tilts, round the upright
_MARGIN = 1.0  # core radii beyond which it does not matter how far from each other rings lie
_GIVEN = 40


def rosette_poses(problem: LayoutProblem) -> list[Pose]:
    """Places and normals (3, n) of even rosettes with the declared states, those with most room first."""
    every = len(problem.rings)
    if len(problem.pairs) != every * (every - 1) // 2 or problem.strands:
        return []
    if any(pair.state is not PairState.LINKED for pair in problem.pairs):
        return []
    bail = _odd_one_out(problem)
    count = every - len(bail)
    if count < 3 or len(set(problem.rings)) > 1 + len(bail):
        return []
    ways = np.array(
        [(far, tilt, way) for far in _FAR for tilt in _TILTS for way in _WAYS], dtype=np.float64
    ).T
    right = np.ones(ways.shape[1], dtype=bool)
    for turn in range(1, count // 2 + 1):
        right &= _two(ways, 2 * math.pi * turn / count).are(linked=True)
    ways = ways[:, right]
    if not ways.size:
        return []
    room = full_room(ways.shape[1])
    for turn in range(1, count // 2 + 1):
        _two(ways, 2 * math.pi * turn / count).narrow(room, _MARGIN)
    core = next(ring.core_radius for k, ring in enumerate(problem.rings) if k not in bail)
    if bail:
        size = problem.rings[bail[0]].core_radius / core
        ways, room = _with_bail(ways, room, count, size)
    out = []
    for one in roomiest(room, _GIVEN):
        way = ways[:, one : one + 1]
        rings = [_ring(way, 2 * math.pi * k / count) for k in range(count)]
        for ring in bail:
            rings.insert(ring, _upright(way, size))
        out.append(
            Pose(
                place=core * np.concatenate([place for place, _ in rings], axis=1),
                normal=np.concatenate([normal for _, normal in rings], axis=1),
            )
        )
    return out


def _ring(ways: Floats, turn: float) -> tuple[Floats, Floats]:
    """Centres, in core radii, and normals (3, w) of the ring at this turn, for each way."""
    far, tilt, way = ways[0], np.radians(ways[1]), np.radians(ways[2])
    c, s = math.cos(turn), math.sin(turn)
    outward, round_ = np.sin(tilt) * np.cos(way), np.sin(tilt) * np.sin(way)
    place = np.stack([far * c, far * s, np.zeros_like(far)])
    return place, np.stack([outward * c - round_ * s, outward * s + round_ * c, np.cos(tilt)])


def _odd_one_out(problem: LayoutProblem) -> tuple[int, ...]:
    """The one ring that has another size than all the others, if there is one."""
    sizes = problem.rings
    odd = [ring for ring, size in enumerate(sizes) if sizes.count(size) == 1]
    return (odd[0],) if len(odd) == 1 else ()


def _with_bail(ways: Floats, room: Floats, count: int, size: float) -> tuple[Floats, Floats]:
    """The ways with a fourth number, the turn of a ring of `size` core radii through the middle; and their room."""
    turned = []
    for part in (0.0, 0.5):
        turn = np.full((1, ways.shape[1]), 2 * math.pi * part / count)
        turned.append(np.concatenate([ways, turn]))
    ways, room = np.concatenate(turned, axis=1), np.concatenate([room, room])
    for k in range(count):
        two = ways_of(_ring(ways, 2 * math.pi * k / count), _upright(ways, size), size)
        right = two.are(linked=True)
        two.narrow(room, _MARGIN)
        room[~right] = 0.0
    return ways[:, room > 0], room[room > 0]


def _upright(ways: Floats, size: float) -> tuple[Floats, Floats]:
    """Centres and normals (3, w) of a ring through the middle, for each way."""
    turn, none = ways[3].tolist(), np.zeros(ways.shape[1])
    c, s = np.array([math.cos(angle) for angle in turn]), np.array([math.sin(angle) for angle in turn])
    return np.stack([size * c, size * s, none]), np.stack([-s, c, none])


def _two(ways: Floats, turn: float) -> Ways:
    """The first ring and the one at this turn, for each way."""
    return ways_of(_ring(ways, 0.0), _ring(ways, turn))
