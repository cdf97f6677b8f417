"""The proof: circles in space and the facts declared of them go in, a verdict comes out.

Shares nothing with the solver, and looks at every pair of the rounded circles that are kept and drawn: the
state of each pair, the product of the link signs round each declared loop, each declared passage between
companions, what lies over what seen from the front, how rounds and tubes are closed, poses that last, and the least
clearance, as a rigorous lower bound. Plain Python, so that reading a kept layout needs no array library.
"""

import math
from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from compiler.closed import is_closed_so
from compiler.front import wrong_overs
from compiler.geometry import is_between, least_distance, link_sign, pair_state
from compiler.layout import (
    Circle,
    CycleSign,
    LayoutProblem,
    PairState,
    Verdict,
    WrongPair,
)
from compiler.posed import wrong_aheads, wrong_leans, wrong_turns

CLEARANCE_CAP = 2.0  # rings with more than twice the room they need are not measured
_NEAR_ENOUGH = 1e-6  # mm, how far the lower bound of a distance may lie below the distance


def prove(problem: LayoutProblem, circles: Sequence[Circle]) -> Verdict:
    """Whether the circles are the declared weave in rings of the declared size, and with how much clearance.

    `circles` are in the order of the problem's rings. Clearance is the least distance of the cores of any two
    rings, less the error of measuring it, over the sum of their tube radii; never more than `CLEARANCE_CAP`.
    """
    declared = {
        (min(pair.a, pair.b), max(pair.a, pair.b)): pair.state if pair.a < pair.b else pair.state.swapped()
        for pair in problem.pairs
    }
    near = sorted(_near_pairs(circles))
    far = sorted(declared.keys() - set(near))
    wrong = [
        WrongPair(a=a, b=b, declared=declared[a, b], found=PairState.APART)
        for a, b in far
        if declared[a, b] is not PairState.APART
    ]
    least, tightest = CLEARANCE_CAP, None
    for a, b in near:
        ring, other = circles[a], circles[b]
        found, wanted = pair_state(ring, other), declared.get((a, b), PairState.APART)
        if found is not wanted:
            wrong.append(WrongPair(a=a, b=b, declared=wanted, found=found))
        tubes = ring.tube_radius + other.tube_radius
        lower, _ = least_distance(ring, other, tolerance=_NEAR_ENOUGH, enough=least * tubes)
        if lower / tubes < least:
            least, tightest = lower / tubes, (a, b)
    wrong.sort(key=lambda item: (item.a, item.b))
    wrong_cycles = tuple(cycle for cycle in problem.cycles if cycle_product(circles, cycle) != cycle.product)
    wrong_between = tuple(
        fact
        for fact in problem.between
        if not is_between(circles[fact.ring], circles[fact.first], circles[fact.second])
    )
    sized = all(
        (circle.core_radius, circle.tube_radius) == (ring.core_radius, ring.tube_radius)
        for circle, ring in zip(circles, problem.rings, strict=True)
    )
    verdict = Verdict(
        proved=False,
        clearance=least,
        tightest=tightest,
        wrong_pairs=tuple(wrong),
        wrong_cycles=wrong_cycles,
        wrong_between=wrong_between,
        wrong_overs=wrong_overs(circles, problem.overs),
        wrong_closings=tuple(fact for fact in problem.closings if not is_closed_so(circles, fact)),
        wrong_leans=wrong_leans(circles, problem.leans),
        wrong_turns=wrong_turns(circles, problem.turns),
        wrong_aheads=wrong_aheads(circles, problem.aheads, problem.overs),
    )
    return replace(verdict, proved=sized and least >= 1 and not wrong and not verdict.wrong_facts)


def cycle_product(circles: Sequence[Circle], cycle: CycleSign) -> int:
    """The product of the link signs round a loop of rings, 0 where two neighbours are not linked."""
    following = (*cycle.rings[1:], cycle.rings[0])
    return math.prod(link_sign(circles[a], circles[b]) for a, b in zip(cycle.rings, following, strict=True))


def _near_pairs(circles: Sequence[Circle]) -> Iterator[tuple[int, int]]:
    """Every pair (a, b), a < b, with centres so near that the rings may touch, link or come under the cap.

    The cores of two circles are at least as far apart as their centres less both core radii. Centres are
    sorted into cubes as wide as the farthest such pair, so only neighbouring cubes are compared.
    """
    if not circles:
        return
    reach = max(circle.core_radius + CLEARANCE_CAP * circle.tube_radius for circle in circles)
    side = 2 * reach * (1 + 1e-9)
    cubes: dict[tuple[int, int, int], list[int]] = {}
    for index, circle in enumerate(circles):
        x, y, z = circle.centre
        cubes.setdefault((math.floor(x / side), math.floor(y / side), math.floor(z / side)), []).append(index)
    steps = [(i, j, k) for i in (-1, 0, 1) for j in (-1, 0, 1) for k in (-1, 0, 1)]
    for (i, j, k), members in cubes.items():
        for di, dj, dk in steps:
            for b in cubes.get((i + di, j + dj, k + dk), ()):
                for a in members:
                    if a < b and _may_be_near(circles[a], circles[b]):
                        yield a, b


def _may_be_near(a: Circle, b: Circle) -> bool:
    reach = a.core_radius + b.core_radius + CLEARANCE_CAP * (a.tube_radius + b.tube_radius)
    return math.dist(a.centre, b.centre) <= reach * (1 + 1e-9)
