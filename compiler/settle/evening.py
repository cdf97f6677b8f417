"""Ends that lie as the middle does: what was found crooked at an end of a chain is put where its repeats go on.

In: a problem, circles that are proved. Out: circles of which the rings at the ends are the next repeat, carried on;
None where nothing is crooked or they do not fit there. The motion from repeat to repeat is a screw, as in `join`, but
rings of which the same is declared may stand in for one another.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import islice

from compiler.geometry import dot, least_distance, mean, minus, pair_state, unit
from compiler.layout import Circle, LayoutProblem, PairState
from compiler.prove import cycle_product
from compiler.settle.join import Screw, fitted, moved
from compiler.settle.repeats import longest_run, ring_facts

_FEWEST, _MOST = 12, 300  # rings of a piece that is looked at
_SEEN = 3  # rings at least that repeat themselves
_POOR = 0.5  # core radii: a motion that carries rings worse is none
_BENT = 0.1  # core radii off the repeats from which a ring is put right where others have lost their place,
_CROOKED = 0.25  # and from which it has lost its own
_ANGLES, _ROUNDS = 24, 4  # turns from which the motion is sought, and how often it is fitted
_MOST_UNSOUND = 14  # rings at most that are put right
_ROOM = 0.1  # of the room that wires need: the rest is found by relaxing
_TRIED = 200  # ways of putting them right
_NEAR = 3.0  # core radii from a crooked ring to where it is put


def evened(problem: LayoutProblem, circles: Sequence[Circle]) -> tuple[Circle, ...] | None:
    """The circles with crooked ends put where the repeats go on; nothing of it is proved."""
    if not _FEWEST <= len(circles) <= _MOST:
        return None
    screw = _motion(problem, circles)
    if screw is None:
        return None
    ways = screw, screw.back()
    core = max(circle.core_radius for circle in circles)
    off = [
        _unlike(circle, _nearest(circle, [moved(other, way) for way in ways for other in circles])) / core
        for circle in circles
    ]
    if max(off) < _CROOKED:
        return None
    for most in (_BENT, _CROOKED):  # what lies beside a crooked ring is often a little bent
        unsound = [ring for ring, much in enumerate(off) if much > most]
        if len(unsound) <= _MOST_UNSOUND:
            found = _put_right(problem, circles, unsound, ways)
            if found is not None:
                return found
    return None


def _put_right(
    problem: LayoutProblem, circles: Sequence[Circle], unsound: Sequence[int], ways: Sequence[Screw]
) -> tuple[Circle, ...] | None:
    """The circles with these rings where the repeats of the others go on; None where they do not fit there."""
    placed = {ring: circle for ring, circle in enumerate(circles) if ring not in unsound}
    free: list[Circle] = []
    for way in ways:
        for circle in placed.values():
            once = moved(circle, way)
            for image in (once, moved(once, way)):
                near = any(
                    math.dist(image.centre, circles[ring].centre) < _NEAR * image.core_radius
                    for ring in unsound
                )
                taken = (*placed.values(), *free)
                if near and not any(_unlike(image, other) < _CROOKED * image.core_radius for other in taken):
                    free.append(image)
    states = {(pair.a, pair.b): pair.state for pair in problem.pairs}
    states.update({(pair.b, pair.a): pair.state.swapped() for pair in problem.pairs})
    for filled in islice(_filled(unsound, free, placed, states), _TRIED):
        found = tuple(filled[ring] for ring in range(len(circles)))
        if all(cycle_product(found, cycle) == cycle.product for cycle in problem.cycles):
            return found
    return None


def _motion(problem: LayoutProblem, circles: Sequence[Circle]) -> Screw | None:
    """The motion from a repeat to the next, by the longest run of rings that repeat themselves; None without any."""
    facts, count = ring_facts(problem), len(circles)
    runs = []
    for shift in range(1, count // 3 + 1):
        first, last = longest_run([facts[k] == facts[k + shift] for k in range(count - shift)])
        runs.append((last - first, -shift, first, last))
    length, shift, first, last = max(runs)
    if length < _SEEN:
        return None
    shift = -shift
    middle = max(first, (first + last - shift) // 2)
    one = circles[middle : min(middle + shift, last)]
    start, to = _middle(one), _middle(circles[middle + shift : middle + shift + len(one)])
    along = minus(
        _middle(circles[max(last, first + shift) : last + shift]), _middle(circles[first : first + len(one)])
    )
    if dot(along, along) == 0:
        return None
    about = circles[max(middle - shift, 0) : middle + 3 * shift]
    tries = []
    for number in range(_ANGLES):
        screw = Screw(axis=unit(along), angle=2 * math.pi * number / _ANGLES, start=start, to=to)
        for _ in range(_ROUNDS):
            error, screw = fitted(
                along, one, [_nearest(moved(circle, screw), about) for circle in one], screw.angle
            )
        tries.append((round(error, 9), number, screw))
    error, _, screw = min(tries, key=lambda item: item[:2])
    return screw if error < _POOR * one[0].core_radius else None


def _nearest(circle: Circle, others: Sequence[Circle]) -> Circle:
    """That of the others which lies most as the circle does."""
    return min(others, key=lambda other: _unlike(circle, other))


def _unlike(circle: Circle, other: Circle) -> float:
    """How far two circles lie from each other, mm: centres and normals; infinitely where they are of other sizes."""
    if (circle.core_radius, circle.tube_radius) != (other.core_radius, other.tube_radius):
        return math.inf
    gap = minus(circle.centre, other.centre)
    turn = circle.core_radius**2 * (1 - dot(circle.normal, other.normal) ** 2)
    return math.sqrt(max(dot(gap, gap) + turn, 0.0))


def _middle(circles: Sequence[Circle]) -> tuple[float, float, float]:
    return mean([circle.centre for circle in circles])


def _fits(place: Circle, other: Circle, state: PairState) -> bool:
    """Whether a ring has its declared state to another, and room."""
    tubes = place.tube_radius + other.tube_radius
    if math.dist(place.centre, other.centre) > place.core_radius + other.core_radius + tubes:
        return state is PairState.APART
    return (
        pair_state(place, other) is state and least_distance(place, other, enough=tubes)[0] >= _ROOM * tubes
    )


def _filled(
    rings: Sequence[int],
    free: Sequence[Circle],
    placed: dict[int, Circle],
    states: dict[tuple[int, int], PairState],
) -> Iterator[dict[int, Circle]]:
    """All that is placed, with every ring in a free place where it has its declared states to all the others."""
    if not rings:
        yield placed
        return
    ring, *rest = rings
    for number, place in enumerate(free):
        if all(
            _fits(place, other, states.get((ring, one), PairState.APART)) for one, other in placed.items()
        ):
            others = [*free[:number], *free[number + 1 :]]
            yield from _filled(rest, others, {**placed, ring: place}, states)
