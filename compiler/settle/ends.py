"""What hangs on an end of a piece points away from it: an eye at the end of a chain does not lie back over the chain.

In: a problem, a proved layout. Out: the layout with each such ring, and what hangs on it, turned about the ring that it
hangs on, and leant, until it points outward, where the proof passes that; else the layout as it was.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from compiler.geometry import cross, dot, least_distance, mean, minus, pair_state, plus, times, turned, unit
from compiler.layout import Circle, Layout, LayoutProblem, PairState, Vector, rounded_circle
from compiler.prove import prove

_MOST = 2  # rings that hang on one another, at most, to be turned together
_OUTWARD = 0.0  # cosine to the way outward from which on an end is left as it is: it may hang down
_BETTER = 0.2  # by which that cosine must grow
_PLACES = 24  # angles that are tried
_SHIFTS = (0.0, 0.04, -0.04, 0.1, -0.1)  # mm
_LEANS = tuple(math.radians(angle) for angle in (0.0, 12.0, -12.0, 30.0, -30.0, 50.0, -50.0))
_ENOUGH = 1.01  # of the sum of tube radii that must stay free
_PROOFS = 3  # places of one end that the proof is asked about, at most


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """A ring that hangs on a ring or on the rings of a strand, and what hangs on it in turn."""

    rings: tuple[int, ...]
    """The ring first."""
    on: tuple[int, ...]
    beside: tuple[int, ...]
    """What else is linked with those."""


def ends_of(problem: LayoutProblem) -> tuple[End, ...]:
    """What hangs on a piece by one ring or strand, and is of another size than its neighbours there.

    What lies in the hole of another ring, or about one, does not hang.
    """
    beside: list[list[int]] = [[] for _ in problem.rings]
    for pair in problem.pairs:
        beside[pair.a].append(pair.b)
        beside[pair.b].append(pair.a)
    strand_of = {ring: strand for strand in problem.strands for ring in strand}
    held: dict[int, tuple[int, ...]] = {}
    deep: dict[int, int] = {}
    captive = {
        ring for pair in problem.pairs if pair.state is not PairState.LINKED for ring in (pair.a, pair.b)
    }
    queue = [ring for ring in range(len(problem.rings)) if ring not in strand_of and ring not in captive]
    for ring in queue:
        others = [other for other in beside[ring] if held.get(other, ()) != (ring,)]
        depth = 1 + max((deep[other] for other in beside[ring] if held.get(other) == (ring,)), default=0)
        alone = len(others) == 1 or (others and set(others) == set(strand_of.get(others[0], ())))
        if ring in held or not alone or depth > _MOST:
            continue
        held[ring], deep[ring] = tuple(others), depth
        queue += [other for other in others if other not in strand_of and other not in captive]
    found = []
    for ring, on in held.items():
        if any(other in held for other in on):
            continue
        tail = [ring]
        for one in tail:
            tail += [other for other in beside[one] if held.get(other) == (one,)]
        rest = dict.fromkeys(other for one in on for other in beside[one] if other not in tail)
        alike = any(problem.rings[other] == problem.rings[ring] for other in rest)
        if rest and not alike:  # a ring like its neighbours is a corner of a sheet
            found.append(End(rings=tuple(tail), on=on, beside=tuple(rest)))
    return tuple(found)


def pointing_outward(problem: LayoutProblem, layout: Layout) -> Layout:
    """The layout with its ends turned outward."""
    if not layout.verdict.proved:
        return layout
    for end in ends_of(problem):
        layout = _turned_out(problem, layout, end)
    return layout


def _turned_out(problem: LayoutProblem, layout: Layout, end: End) -> Layout:
    circles = layout.circles
    centre = mean([circles[ring].centre for ring in end.on])
    inward = minus(mean([circles[ring].centre for ring in end.beside]), centre)
    if dot(inward, inward) < 1e-9:
        return layout
    outward = unit((-inward[0], -inward[1], -inward[2]))
    now = _cosine(circles[end.rings[0]], centre, outward)
    if now > _OUTWARD:
        return layout
    tries = [
        (round(_cosine(moved[0], centre, outward), 4), moved)
        for moved in _places(problem, circles, end, centre)
    ]
    proofs = 0
    for cosine, moved in sorted(tries, key=lambda each: -each[0]):
        if cosine < now + _BETTER or proofs == _PROOFS:
            break
        whole = list(circles)
        for ring, circle in zip(end.rings, moved, strict=True):
            whole[ring] = circle
        if not _has_room(problem, whole, end):
            continue
        proofs += 1
        verdict = prove(problem, tuple(whole))
        if verdict.proved:
            return Layout(circles=tuple(whole), verdict=verdict)
    return layout


def _cosine(circle: Circle, centre: Vector, outward: Vector) -> float:
    way = minus(circle.centre, centre)
    return dot(way, outward) / math.sqrt(max(dot(way, way), 1e-12))


def _places(
    problem: LayoutProblem, circles: Sequence[Circle], end: End, centre: Vector
) -> Iterator[tuple[Circle, ...]]:
    """The rings of an end turned about the axis of what they hang on, nearer to it or farther, and leaning.

    They lean about their first ring's way outward, and about its way along the wire that it hangs on.
    """
    axis = unit(circles[end.on[0]].normal)
    first = minus(circles[end.rings[0]].centre, centre)
    for number in range(_PLACES):
        angle = 2 * math.pi * number / _PLACES
        way = turned(first, axis, angle)
        out = unit(way)
        foot = plus(centre, times(out, circles[end.on[0]].core_radius))
        along = unit(cross(axis, out)) if abs(dot(axis, out)) < 0.99 else axis
        for shift, spin, lean in product(_SHIFTS, _LEANS, _LEANS):
            turn = _Turn(axis=axis, angle=angle, out=out, spin=spin, along=along, lean=lean)
            base = plus(foot, times(out, shift))
            yield tuple(
                rounded_circle(
                    plus(
                        base, turn.leant(minus(plus(centre, turn.round(minus(circle.centre, centre))), foot))
                    ),
                    turn.leant(turn.round(circle.normal)),
                    problem.rings[ring],
                )
                for ring, circle in ((ring, circles[ring]) for ring in end.rings)
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Turn:
    """A turn about an axis, then a lean about two others, radians."""

    axis: Vector
    angle: float
    out: Vector
    spin: float
    along: Vector
    lean: float

    def round(self, at: Vector) -> Vector:
        return turned(at, self.axis, self.angle)

    def leant(self, at: Vector) -> Vector:
        return turned(turned(at, self.out, self.spin), self.along, self.lean)


def _has_room(problem: LayoutProblem, circles: Sequence[Circle], end: End) -> bool:
    """Whether the rings of an end lie as declared to all others, with room."""
    states: dict[tuple[int, int], PairState] = {}
    for pair in problem.pairs:
        states[pair.a, pair.b], states[pair.b, pair.a] = pair.state, pair.state.swapped()
    for ring in end.rings:
        circle = circles[ring]
        for other, there in enumerate(circles):
            if other in end.rings:
                continue
            tubes = circle.tube_radius + there.tube_radius
            if (
                math.dist(circle.centre, there.centre)
                > circle.core_radius + there.core_radius + _ENOUGH * tubes
            ):
                continue
            if pair_state(circle, there) is not states.get((ring, other), PairState.APART):
                return False
            lower, _ = least_distance(circle, there, tolerance=1e-3, enough=1.1 * _ENOUGH * tubes)
            if lower < _ENOUGH * tubes:
                return False
    return True
