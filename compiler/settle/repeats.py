"""Pieces that repeat: the same weave with most of its repeats left out, and how to put them back.

In: a problem. Out: where it repeats itself, a shorter problem without most of the repeats, and which ring of the short
one each ring stands for. Rings are made in order, so a repeat is told by their numbers: ring k + shift has to all
that lies shift further on the states that ring k has.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from msgspec import structs

from compiler.geometry import minus
from compiler.layout import (
    Between,
    CycleSign,
    DeclaredPair,
    Hint,
    LayoutProblem,
    Vector,
)
from compiler.loops import loops_of
from compiler.settle.signs import Link, chosen_signs

_FEWEST = 40  # rings of a piece that is worth shortening
_KEPT_RINGS = 8  # at least so many rings of the repeats are kept on either side of the cut,
_KEPT_REPEATS = 2  # and so many repeats
_WORTH = 0.25  # share of the rings that is left out at least
_EVEN_STEPS = 0.1  # core radii by which hinted steps from one repeat to the next may differ
_MOST = 4000  # links of a piece whose loops are looked at


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeats:
    """Rings `cut` to `cut + left_out * shift` are repeats of the `shift` rings before them."""

    cut: int
    shift: int
    left_out: int
    late: tuple[int, ...] = ()
    """Rings of the short piece, made after the repeats, that hang on the rings before the cut."""

    @property
    def gone(self) -> int:
        """How many rings the short piece has less."""
        return self.shift * self.left_out


def repeats_of(problem: LayoutProblem) -> Repeats | None:
    """Where the piece repeats itself so often that it is worth shortening; None where it does not."""
    count = len(problem.rings)
    if count < _FEWEST:
        return None
    facts = ring_facts(problem)
    places = {hint.ring: hint.place for hint in problem.hints if hint.place is not None}
    bent: Repeats | None = None  # found, but the places that are hinted do not repeat themselves as well
    for shift in range(1, count // 3 + 1):
        first, last = longest_run([facts[k] == facts[k + shift] for k in range(count - shift)])
        # rings first to last + shift repeat themselves; what is linked with them lies within reach of the shift
        kept = shift * max(_KEPT_REPEATS, -(-_KEPT_RINGS // shift))
        left_out = (
            (last - first + shift - 2 * kept) // (2 * shift) * 2
        )  # even: a repeat may be the mirrored last
        if left_out <= 0 or left_out * shift < _WORTH * count:
            continue
        repeats = _with_late(
            problem,
            Repeats(cut=first + kept, shift=shift, left_out=left_out),
            min(kept, left_out * shift),
            last + shift,
        )
        if repeats is not None and _straight(places, first, last, shift, problem):
            return repeats
        bent = bent or repeats
    return bent


def _straight(places: dict[int, Vector], first: int, last: int, shift: int, problem: LayoutProblem) -> bool:
    """Whether the hinted places of the repeats follow one another by the same step."""
    steps = [
        minus(places[ring + shift], places[ring])
        for ring in range(first, last)
        if ring in places and ring + shift in places
    ]
    most = _EVEN_STEPS * problem.rings[first].core_radius
    return all(math.dist(step, steps[0]) < most for step in steps)


def ring_facts(problem: LayoutProblem) -> list[tuple[object, ...]]:
    """What is declared of each ring, others told by how much further on they are."""
    out: list[list[tuple[object, ...]]] = [[] for _ in problem.rings]
    for pair in problem.pairs:
        out[pair.a].append((pair.b - pair.a, pair.state.value))
        out[pair.b].append((pair.a - pair.b, pair.state.swapped().value))
    for strand in problem.strands:
        for ring in strand:
            out[ring].append(tuple(other - ring for other in strand))
    for fact in problem.between:
        out[fact.ring].append(("between", fact.first - fact.ring, fact.second - fact.ring))
    return [
        (size.core_radius, size.tube_radius, *sorted(map(str, facts)))
        for size, facts in zip(problem.rings, out, strict=True)
    ]


def longest_run(alike: Sequence[bool]) -> tuple[int, int]:
    """First and past-the-last number of the longest run of true."""
    best, start = (0, 0), 0
    for number, value in enumerate((*alike, False)):
        if not value:
            if number - start > best[1] - best[0]:
                best = start, number
            start = number + 1
    return best


def _with_late(problem: LayoutProblem, repeats: Repeats, reach: int, end: int) -> Repeats | None:
    """The repeats with what hangs on their first end though it was made last; None where both ends hang together.

    `end` is the number of the first ring after the repeats, `reach` how far from the cut its rings may be joined.
    """
    first_of = list(
        range(len(problem.rings))
    )  # of a later ring, the first of those that hang together with it
    later = [[ring for ring in group if ring >= end] for group in _groups(problem) if max(group) >= end]
    changed = True
    while changed:
        changed = False
        for members in later:
            root = min(first_of[ring] for ring in members)
            changed |= any(first_of[ring] != root for ring in members)
            for ring in members:
                first_of[ring] = root
    side: dict[int, set[bool]] = {}  # by that first one: whether they hang on rings before the cut
    for group in _groups(problem):
        low, high = min(group), max(group)
        if high >= end:
            root = first_of[high]
            side.setdefault(root, set()).update(ring < repeats.cut for ring in group if ring < end)
        elif low < repeats.cut <= high and high >= repeats.cut + reach:
            return None
    if any(len(sides) > 1 for sides in side.values()):
        return None
    late = tuple(
        ring - repeats.gone for ring in range(end, len(problem.rings)) if True in side.get(first_of[ring], ())
    )
    return replace(repeats, late=late)


def _groups(problem: LayoutProblem) -> list[tuple[int, ...]]:
    """Rings of which something is declared together."""
    return [
        *((pair.a, pair.b) for pair in problem.pairs),
        *problem.strands,
        *((fact.ring, fact.first, fact.second) for fact in problem.between),
    ]


def shortened(problem: LayoutProblem, repeats: Repeats) -> LayoutProblem | None:
    """The problem with the repeats left out; None where the signs of its loops do not repeat themselves."""
    cut, gone = repeats.cut, repeats.gone

    def moved(rings: Sequence[int]) -> tuple[int, ...] | None:
        if all(ring < cut or ring >= cut + gone for ring in rings):
            return tuple(ring if ring < cut else ring - gone for ring in rings)
        return (
            tuple(rings) if min(rings) < cut else None
        )  # the first left out stands for the first that is not

    pairs = tuple(
        DeclaredPair(a=to[0], b=to[1], state=pair.state)
        for pair in problem.pairs
        if (to := moved((pair.a, pair.b))) is not None
    )
    cycles = _short_cycles(problem, repeats, pairs)
    if cycles is None:
        return None
    return structs.replace(
        problem,
        rings=problem.rings[:cut] + problem.rings[cut + gone :],
        pairs=pairs,
        strands=tuple(to for strand in problem.strands if (to := moved(strand)) is not None),
        between=tuple(
            Between(ring=to[0], first=to[1], second=to[2])
            for fact in problem.between
            if (to := moved((fact.ring, fact.first, fact.second))) is not None
        ),
        overs=tuple(
            structs.replace(fact, upper=to[0], lower=to[1], frame=None)
            for fact in problem.overs
            if (to := moved((fact.upper, fact.lower))) is not None
        ),
        closings=(),  # asked of the whole alone, as are poses and on which side of a sheet its front is
        leans=(),
        turns=(),
        aheads=(),
        cycles=cycles,
        hints=_short_hints(problem, repeats),
    )


def _short_cycles(
    problem: LayoutProblem, repeats: Repeats, pairs: Sequence[DeclaredPair]
) -> tuple[CycleSign, ...] | None:
    """The loops of the short piece with their products; None where no choice of signs repeats itself."""
    if not problem.cycles or len(problem.pairs) > _MOST:
        return ()
    cut, gone, shift = repeats.cut, repeats.gone, repeats.shift
    start = cut - shift

    def stands_for(link: Link) -> Link:
        """The link of the short piece of which this one is a repeat."""
        low, high = link
        if start <= low < cut + gone:
            back = (low - start) // shift * shift
            return low - back, high - back
        if high < cut + gone:
            return link
        return (low if low < cut else low - gone), high - gone

    signs = chosen_signs(problem.cycles, {}, stands_for)
    if signs is None:
        return None
    links = [(min(pair.a, pair.b), max(pair.a, pair.b)) for pair in pairs if pair.state.value == "linked"]
    out = []
    for loop in loops_of(len(problem.rings) - gone, links):
        steps = [(min(a, b), max(a, b)) for a, b in pairwise((*loop, loop[0]))]
        product = math.prod(signs.get(step, 0) for step in steps)
        if product:  # every link of it lies on a loop whose sign is declared
            out.append(CycleSign(rings=loop, product=product))
    return tuple(out)


def _short_hints(problem: LayoutProblem, repeats: Repeats) -> tuple[Hint, ...]:
    """The hints of the rings that are left, those beyond the cut moved back by what was left out."""
    cut, gone = repeats.cut, repeats.gone
    places = {hint.ring: hint.place for hint in problem.hints}
    here, there = places.get(cut), places.get(cut + gone)
    out = []
    for hint in problem.hints:
        place = hint.place
        if hint.ring >= cut + gone:
            if (
                hint.ring - gone not in repeats.late
                and place is not None
                and here is not None
                and there is not None
            ):
                x, y, z = (value + a - b for value, a, b in zip(place, here, there, strict=True))
                place = (x, y, z)
            out.append(structs.replace(hint, ring=hint.ring - gone, place=place))
        elif hint.ring < cut:
            out.append(hint)
    return tuple(out)
