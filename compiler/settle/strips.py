"""Starts for strips of single rings that follow one another: spirals, ropes and Persian edges.

In: a problem in which every ring is linked with those so many places on, whatever its number. Out: places and normals
on a line. All rings are alike, so there are few ways to lie regularly: each is the one before it moved on and turned
about the line (a screw), or mirrored (a glide). A grid of steps, tilts and turns is tried for the declared states, all
at once, and those with most room are given.
"""

import math

import numpy as np

from compiler.layout import LayoutProblem, PairState, only_rings
from compiler.settle.relax import Pose
from compiler.settle.vectors import Floats, Ints
from compiler.settle.ways import Ways, full_room, roomiest, ways_of

Offsets = tuple[frozenset[int], frozenset[int]]  # of even and of odd rings

_STEPS = (0.3, 0.36, 0.43, 0.5, 0.58, 0.66, 0.75, 0.85, 1.0, 1.2)  # core radii from a ring to the next
_TILTS = tuple(range(15, 91, 8))  # degrees between a normal and the line
_TURNS = tuple(range(-170, 181, 10))  # degrees of a screw
_SIDES = tuple(range(15, 76, 10))  # degrees to either side of a glide
_BEYOND = 3  # rings so many places further on than the last that is linked are looked at as well
_MARGIN = 0.6  # core radii beyond which it does not matter how far from each other rings lie
_NEAR = 30.0  # degrees from the turn that is said
_GIVEN = 60  # poses; the signs of loops are looked at later


def strip_offsets(problem: LayoutProblem) -> Offsets | None:
    """How many places on the rings lie that each even and each odd ring is linked with; None where it is no strip.

    A plain chain hangs by quarter turns and is none. A few rings at either end may be linked otherwise.
    """
    count = len(problem.rings)
    if count < 8 or problem.strands or problem.between or len(set(problem.rings)) > 1:
        return None
    if any(pair.state is not PairState.LINKED for pair in problem.pairs):
        return None
    later: list[set[int]] = [set() for _ in problem.rings]
    for pair in problem.pairs:
        later[min(pair.a, pair.b)].add(abs(pair.a - pair.b))
    middle = count // 4 * 2
    usual = later[middle], later[middle + 1]
    farthest = max((0, *usual[0], *usual[1]))
    if farthest < 2 or farthest > count // 2 or max(max(own, default=0) for own in later) > farthest:
        return None
    unlike = sum(own != usual[number % 2] for number, own in enumerate(later[: count - farthest]))
    return (frozenset(usual[0]), frozenset(usual[1])) if unlike <= 2 else None


def strip_poses(problem: LayoutProblem) -> list[Pose]:
    """Places and normals (3, n) of regular strips with the declared states, those with most room first.

    The rings follow one another as they are made, or as two rows do that are made one after the other.
    """
    count = len(problem.rings)
    for order in (
        list(range(count)),
        [ring // 2 + ring % 2 * (count // 2) for ring in range(count // 2 * 2)],
    ):
        if len(order) == count:
            poses = _poses(only_rings(problem, order))
            if poses:
                back = np.argsort(np.array(order))
                return [Pose(place=pose.place[:, back], normal=pose.normal[:, back]) for pose in poses]
    return []


def _poses(problem: LayoutProblem) -> list[Pose]:
    """The same where the rings are in the order of the strip."""
    offsets = strip_offsets(problem)
    if offsets is None:
        return []
    steps, ways = _ways()
    states = _right(offsets, steps, ways)
    steps, ways = _asked(problem, steps[states], ways[:, states])
    if not steps.size:
        return []
    room = _room(max(offsets[0] | offsets[1]) + _BEYOND, steps, ways)
    core, count = problem.rings[0].core_radius, len(problem.rings)
    out = []
    for way in roomiest(room, _GIVEN):
        place = np.zeros((3, count))
        place[0] = core * steps[way] * (np.arange(count) - (count - 1) / 2)
        tilt, turn, side = ways[:, way].tolist()
        out.append(Pose(place=place, normal=_normals(np.arange(count), tilt, turn, side)))
    return out


def _asked(problem: LayoutProblem, steps: Floats, ways: Floats) -> tuple[Floats, Floats]:
    """Those of the ways that are turned from ring to ring about as is said of all of them; all where there are none."""
    for turn in problem.turns:
        off = np.abs((ways[1] - turn.degrees + 180.0) % 360.0 - 180.0)
        near = (off <= _NEAR) & (ways[2] == 0)
        if turn.rings == tuple(range(len(problem.rings))) and near.any():
            return steps[near], ways[:, near]
    return steps, ways


def _ways() -> tuple[Floats, Floats]:
    """Steps (w,) in core radii; and (3, w): tilt, turn and side in degrees, one of turn and side being zero."""
    rows = [
        (step, tilt, turn, side)
        for step in _STEPS
        for tilt in _TILTS
        for turn, side in (*((turn, 0) for turn in _TURNS), *((0, side) for side in _SIDES))
    ]
    table = np.array(rows, dtype=np.float64).T
    return table[0], table[1:]


def _normals(number: Ints, tilt: float, turn: float, side: float) -> Floats:
    """Normals (3, n) of the rings of these numbers."""
    along, out = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))
    angles = [
        math.radians(turn * k) if not side else math.radians(side if k % 2 else -side)
        for k in number.tolist()
    ]
    return np.array([[along, out * math.cos(angle), out * math.sin(angle)] for angle in angles]).T


def _pair_of(steps: Floats, ways: Floats, first: int, offset: int) -> Ways:
    """A ring of this number and one so many places on, for each way; in core radii."""
    tilt, turn, side = (np.radians(row) for row in ways)
    rings = []
    for number in (first, first + offset):
        angle = np.where(side > 0, side if number % 2 else -side, turn * number)
        centre = np.zeros((3, steps.size))
        centre[0] = steps * (number - first)
        normal = np.stack([np.cos(tilt), np.sin(tilt) * np.cos(angle), np.sin(tilt) * np.sin(angle)])
        rings.append((centre, normal))
    return ways_of(rings[0], rings[1])


def _right(offsets: Offsets, steps: Floats, ways: Floats) -> Ints:
    """The numbers of the ways in which every two rings are in their state."""
    right = np.ones(steps.size, dtype=bool)
    for offset in range(1, max(offsets[0] | offsets[1]) + _BEYOND + 1):
        for first in (0, 1):
            right &= _pair_of(steps, ways, first, offset).are(linked=offset in offsets[first])
    return np.nonzero(right)[0]


def _room(farthest: int, steps: Floats, ways: Floats) -> Floats:
    """The least distance (w,) of two rings of each way, in core radii."""
    least = full_room(steps.size)
    for offset in range(1, farthest + 1):
        for first in (0, 1):
            _pair_of(steps, ways, first, offset).narrow(least, _MARGIN)
    return least
