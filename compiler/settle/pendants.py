"""What hangs on a piece: rings and eyes that are linked with one ring, or with the rings of one strand, and no other.

In: a problem. Out: the problem without them; and, from circles of that, circles of the whole, each pendant hung where
it has room, outside rather than inside.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from msgspec import structs

from compiler.geometry import cross, dot, frame, least_distance, mean, minus, pair_state, unit
from compiler.layout import Circle, LayoutProblem, PairState, RingSize, Vector, only_rings, rounded_circle

_PLACES = 24  # places round a ring where a pendant may hang
_ENOUGH = 1.05  # of the sum of tube radii: a pendant with so much room needs no better place
_FAR = 3.0  # of that sum: farther rings do not matter


@dataclass(frozen=True, slots=True, kw_only=True)
class Pendant:
    """A ring and what it hangs on."""

    ring: int
    on: tuple[int, ...]
    """The ring, or the rings of a strand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stripped:
    """A problem without its pendants."""

    core: LayoutProblem
    kept: tuple[int, ...]
    """The ring of the whole that each ring of the core is, ascending."""
    pendants: tuple[Pendant, ...]
    """In the order in which they can be hung."""


def stripped(problem: LayoutProblem) -> Stripped:
    """The problem without what hangs on it, nor what hangs on that."""
    strand_of = {ring: strand for strand in problem.strands for ring in strand}
    fixed = {ring for fact in problem.between for ring in (fact.ring, fact.first, fact.second)}
    fixed.update(ring for cycle in problem.cycles for ring in cycle.rings)
    fixed.update(
        ring for pair in problem.pairs if pair.state is not PairState.LINKED for ring in (pair.a, pair.b)
    )
    fixed.update(strand_of)
    beside: list[list[int]] = [[] for _ in problem.rings]
    for pair in problem.pairs:
        beside[pair.a].append(pair.b)
        beside[pair.b].append(pair.a)
    gone: dict[int, None] = {}
    found: list[Pendant] = []
    queue = list(range(len(problem.rings)))
    for ring in queue:
        others = [other for other in beside[ring] if other not in gone]
        if ring in gone or ring in fixed or not others:
            continue
        if len(others) == 1 or set(others) == set(strand_of.get(others[0], ())):
            gone[ring] = None
            found.append(Pendant(ring=ring, on=tuple(others)))
            queue += others
    kept = tuple(ring for ring in range(len(problem.rings)) if ring not in gone)
    return Stripped(core=_core(problem, kept), kept=kept, pendants=tuple(reversed(found)))


def whole_of(problem: LayoutProblem) -> Stripped:
    """The problem as it is, with nothing taken off."""
    return Stripped(core=problem, kept=tuple(range(len(problem.rings))), pendants=())


def _core(problem: LayoutProblem, kept: Sequence[int]) -> LayoutProblem:
    """The problem of these rings; where the front of a sheet is, and how rounds close, is asked of the whole."""
    overs = tuple(structs.replace(fact, frame=None) for fact in problem.overs)
    asked = structs.replace(problem, overs=overs, closings=(), leans=(), turns=(), aheads=())
    return only_rings(asked, kept)


def hung(problem: LayoutProblem, bare: Stripped, core: Sequence[Circle]) -> tuple[Circle, ...]:
    """Circles of every ring of the whole, from those of the core."""
    placed = dict(zip(bare.kept, core, strict=True))
    for pendant in bare.pendants:
        placed[pendant.ring] = _best(pendant, problem.rings[pendant.ring], placed)
    return tuple(placed[ring] for ring in range(len(problem.rings)))


def _best(pendant: Pendant, size: RingSize, placed: dict[int, Circle]) -> Circle:
    """The first place with room enough, those that point away from the piece first; else the roomiest."""
    middle = mean([circle.centre for circle in placed.values()])
    tries = _places(pendant, size, placed)
    tries.sort(key=lambda circle: -round(dot(minus(circle.centre, middle), minus(circle.centre, middle)), 4))
    best, most = tries[0], -1.0
    for circle in tries:
        room = _room(pendant, circle, placed)
        if room > most:
            best, most = circle, room
        if room >= _ENOUGH:
            break
    return best


def _places(pendant: Pendant, size: RingSize, placed: dict[int, Circle]) -> list[Circle]:
    """Circles that hang on the wire of a ring, all round it, outward and aslant to either side."""
    holders = [placed[ring] for ring in pendant.on]
    centre, core = mean([holder.centre for holder in holders]), holders[0].core_radius
    u, v, axis = frame(holders[0].normal)
    breadth = max(abs(dot(minus(holder.centre, centre), axis)) for holder in holders)
    out = []
    for number in range(_PLACES):
        angle = 2 * math.pi * number / _PLACES
        outward = _sum((u, math.cos(angle)), (v, math.sin(angle)))
        along = cross(axis, outward)
        for lift in (0.0, 0.7, -0.7, 2.0, -2.0):
            way = unit(_sum((outward, 1.0), (axis, lift)))
            tight = 1.03 * (size.tube_radius + holders[0].tube_radius) + breadth
            reach = max(size.core_radius - tight, 0.2 * size.core_radius)
            point = _sum((centre, 1.0), (outward, core), (way, reach))
            out.append(rounded_circle(point, along, size))
    return out


def _room(pendant: Pendant, circle: Circle, placed: dict[int, Circle]) -> float:
    """Least distance over the sum of tube radii, -1 where a pair is not in its state."""
    least = _FAR
    for ring, other in placed.items():
        tubes = circle.tube_radius + other.tube_radius
        reach = circle.core_radius + other.core_radius + least * tubes
        if math.dist(circle.centre, other.centre) > reach:
            continue
        wanted = PairState.LINKED if ring in pendant.on else PairState.APART
        if pair_state(circle, other) is not wanted:
            return -1.0
        lower, _ = least_distance(circle, other, tolerance=1e-3, enough=least * tubes)
        least = min(least, lower / tubes)
    return least


def _sum(*parts: tuple[Vector, float]) -> Vector:
    x, y, z = (math.fsum(vector[k] * share for vector, share in parts) for k in range(3))
    return x, y, z
