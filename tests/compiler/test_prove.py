"""The proof against linking numbers of polygons, by another formula, and on layouts made wrong by hand."""

import itertools
import math
import random
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pytest
from msgspec import structs

from compiler.geometry import least_distance, link_sign, pair_state, point_on
from compiler.layout import (
    Between,
    Circle,
    Closing,
    CycleSign,
    DeclaredPair,
    LayoutProblem,
    PairState,
    RingSize,
    Vector,
    rounded_circle,
)
from compiler.prove import CLEARANCE_CAP, cycle_product, prove

Points = npt.NDArray[np.float64]


def polygon_linking(p: Points, q: Points) -> float:
    """Linking number of two closed polygons (n, 3) and (m, 3): the signed solid angles of all pairs of edges.

    Klenin and Langowski, Biopolymers 54 (2000) 307-317, method 1a, after Banchoff; exact but for rounding.
    """
    a, b = p[:, None], np.roll(p, -1, axis=0)[:, None]
    c, d = q[None, :], np.roll(q, -1, axis=0)[None, :]
    corners = [c - a, d - a, d - b, c - b]
    normals = [np.cross(corners[k], corners[(k + 1) % 4]) for k in range(4)]
    units = [n / np.maximum(np.linalg.norm(n, axis=-1, keepdims=True), 1e-300) for n in normals]
    angle = sum(np.arcsin(np.clip((units[k] * units[(k + 1) % 4]).sum(-1), -1, 1)) for k in range(4))
    sign = np.sign((np.cross(d - c, b - a) * (c - a)).sum(-1))
    return float((angle * sign).sum() / (4 * math.pi))


def polygon(circle: Circle, corners: int = 90) -> Points:
    return np.array([point_on(circle, 2 * math.pi * k / corners) for k in range(corners)])


def ring(centre: Vector, normal: Vector, core: float = 3.0, tube: float = 0.5) -> Circle:
    return rounded_circle(centre, normal, RingSize(core_radius=core, tube_radius=tube))


def problem(
    circles: Sequence[Circle],
    pairs: dict[tuple[int, int], PairState],
    cycles: tuple[CycleSign, ...] = (),
    between: tuple[Between, ...] = (),
) -> LayoutProblem:
    return LayoutProblem(
        rings=tuple(RingSize(core_radius=c.core_radius, tube_radius=c.tube_radius) for c in circles),
        pairs=tuple(DeclaredPair(a=a, b=b, state=state) for (a, b), state in pairs.items()),
        cycles=cycles,
        between=between,
    )


def straight_chain(count: int, pitch: float = 4.0) -> list[Circle]:
    return [ring((pitch * k, 0, 0), (0, 0, 1) if k % 2 else (0, 1, 0)) for k in range(count)]


def leaning_sheet(rows: int, columns: int) -> list[Circle]:
    """A four-in-one sheet on a staggered lattice, alternate rows leaning to opposite sides, in thin wire."""
    return [
        ring((4.4 * (column + 0.5 * (row % 2)), 3.2 * row, 0), (0.6 if row % 2 else -0.6, 0, 0.8), tube=0.15)
        for row in range(rows)
        for column in range(columns)
    ]


def links_of(circles: Sequence[Circle]) -> dict[tuple[int, int], PairState]:
    """The linked pairs, by the linking numbers of polygons."""
    shapes = [polygon(circle, 48) for circle in circles]
    return {
        (a, b): PairState.LINKED
        for a, b in itertools.combinations(range(len(circles)), 2)
        if math.dist(circles[a].centre, circles[b].centre) < circles[a].core_radius + circles[b].core_radius
        and abs(round(polygon_linking(shapes[a], shapes[b])))
    }


LINKS_OF_FIVE = {(k, k + 1): PairState.LINKED for k in range(4)}


def test_a_chain_is_proved_with_the_clearance_of_its_closed_form() -> None:
    verdict = prove(problem(straight_chain(5), LINKS_OF_FIVE), straight_chain(5))
    assert verdict.proved
    assert not verdict.wrong_pairs
    assert verdict.clearance == pytest.approx(2 * 3.0 - 4.0, abs=2e-6)  # over tubes of 0.5 + 0.5 mm


def test_the_links_of_a_sheet_are_those_of_its_polygons() -> None:
    sheet = leaning_sheet(4, 5)
    links = links_of(sheet)
    assert len(links) == (4 - 1) * (2 * 5 - 1)
    verdict = prove(problem(sheet, links), sheet)
    assert verdict.wrong_pairs == ()
    assert verdict.proved


def test_states_and_signs_of_random_circles_are_those_of_their_polygons() -> None:
    source = random.Random(7)
    linked = 0
    for _ in range(120):
        a, b = (
            ring(
                (source.uniform(-3, 3), source.uniform(-3, 3), source.uniform(-3, 3)),
                (source.gauss(0, 1), source.gauss(0, 1), source.gauss(0, 1)),
                core=source.uniform(1, 4),
            )
            for _ in range(2)
        )
        if least_distance(a, b)[0] < 0.02:
            continue  # nearer than a polygon follows its circle
        number = round(polygon_linking(polygon(a, 120), polygon(b, 120)))
        assert link_sign(a, b) == number
        assert (pair_state(a, b) is PairState.LINKED) == (number != 0)
        linked += abs(number)
    assert linked > 20


def test_a_pair_declared_otherwise_is_told_with_what_was_found() -> None:
    chain = straight_chain(5)
    missing = prove(problem(chain, {(k, k + 1): PairState.LINKED for k in range(3)}), chain)
    assert not missing.proved
    assert [(p.a, p.b, p.declared, p.found) for p in missing.wrong_pairs] == [
        (3, 4, PairState.APART, PairState.LINKED)
    ]
    asked = prove(problem(chain, LINKS_OF_FIVE | {(4, 0): PairState.LINKED}), chain)
    assert not asked.proved
    assert [(p.a, p.b, p.found) for p in asked.wrong_pairs] == [(0, 4, PairState.APART)]


def test_far_declared_links_are_told_as_well_as_near_ones() -> None:
    far = [ring((0, 0, 0), (0, 0, 1)), ring((500, 0, 0), (0, 0, 1))]
    verdict = prove(problem(far, {(0, 1): PairState.LINKED}), far)
    assert not verdict.proved
    assert verdict.clearance == CLEARANCE_CAP
    assert len(verdict.wrong_pairs) == 1


def test_rings_too_tight_are_not_proved_and_the_tightest_pair_is_named() -> None:
    chain = straight_chain(5)
    chain[4] = ring((17.2, 0, 0), (0, 1, 0))
    verdict = prove(problem(chain, LINKS_OF_FIVE), chain)
    assert not verdict.proved
    assert verdict.tightest == (3, 4)
    assert verdict.clearance == pytest.approx(0.8, abs=2e-6)
    assert verdict.wrong_pairs == ()


def test_clearance_of_exactly_one_is_enough() -> None:
    twins = [ring((0, 0, 0), (0, 0, 1)), ring((0, 0, 1.00001), (0, 0, 1))]
    assert not prove(problem(twins, {}), twins).proved  # kept to 0.0001 mm, less the error of measuring
    twins = [ring((0, 0, 0), (0, 0, 1)), ring((0, 0, 1.0001), (0, 0, 1))]
    assert prove(problem(twins, {}), twins).proved


def test_a_collar_round_a_joint_is_captive_and_linked_with_nothing() -> None:
    joint = [
        ring((-2.3, 0, 0), (0, 0, 1)),
        ring((2.3, 0, 0), (0, 1, 0)),
        ring((0, 0, 0), (1, 0, 0), core=4.5, tube=0.4),
    ]
    declared = {(0, 1): PairState.LINKED, (0, 2): PairState.B_AROUND_A, (2, 1): PairState.A_AROUND_B}
    verdict = prove(problem(joint, declared), joint)
    assert verdict.wrong_pairs == ()
    assert verdict.proved
    shapes = [polygon(circle) for circle in joint]
    assert abs(polygon_linking(shapes[0], shapes[2])) < 1e-9
    assert abs(polygon_linking(shapes[1], shapes[2])) < 1e-9
    loose = prove(problem(joint, {(0, 1): PairState.LINKED}), joint)
    assert {p.found for p in loose.wrong_pairs} == {PairState.B_AROUND_A}


def triangle_of_three() -> list[Circle]:
    """Three rings, each linked with both others, as the blades of a fan about the z axis."""
    normals = [(math.cos(a) * 0.8, math.sin(a) * 0.8, 0.6) for a in (0.0, 2 * math.pi / 3, 4 * math.pi / 3)]
    return [ring((0.6 * n[1], -0.6 * n[0], 0), n, tube=0.05) for n in normals]


def test_the_product_of_signs_round_a_loop_does_not_depend_on_the_normals() -> None:
    rings = triangle_of_three()
    assert len(links_of(rings)) == 3
    loop = CycleSign(rings=(0, 1, 2), product=1)
    product = cycle_product(rings, loop)
    assert abs(product) == 1
    shapes = [polygon(circle) for circle in rings]
    assert product == round(math.prod(polygon_linking(shapes[k - 1], shapes[k]) for k in range(3)))
    for k, circle in enumerate(rings):
        x, y, z = circle.normal
        turned = [*rings]
        turned[k] = ring(circle.centre, (-x, -y, -z), tube=0.05)
        assert cycle_product(turned, loop) == product
    mirrored = [ring((-c.centre[0], *c.centre[1:]), (-c.normal[0], *c.normal[1:]), tube=0.05) for c in rings]
    assert cycle_product(mirrored, loop) == -product


def test_a_loop_of_the_wrong_hand_is_not_proved() -> None:
    rings = triangle_of_three()
    pairs = dict.fromkeys(itertools.combinations(range(3), 2), PairState.LINKED)
    loop = CycleSign(rings=(0, 1, 2), product=1)
    good = cycle_product(rings, loop)
    right = prove(problem(rings, pairs, (CycleSign(rings=(0, 1, 2), product=good),)), rings)
    wrong = prove(problem(rings, pairs, (CycleSign(rings=(0, 1, 2), product=-good),)), rings)
    assert right.proved
    assert not wrong.proved
    assert wrong.wrong_cycles == (CycleSign(rings=(0, 1, 2), product=-good),)


def test_a_declared_passage_between_companions_is_proved_too() -> None:
    rings = [ring((0, 0, -2), (0, 0, 1)), ring((0, 0, 2), (0, 0, 1)), ring((4, 0, 0), (0, 1, 0), 1.4, 0.3)]
    fact = Between(ring=2, first=0, second=1)
    assert prove(problem(rings, {}, between=(fact,)), rings).proved
    rings[2] = ring((6, 0, 0), (0, 1, 0), 1.4, 0.3)
    verdict = prove(problem(rings, {}, between=(fact,)), rings)
    assert not verdict.proved
    assert verdict.wrong_between == (fact,)


def test_circles_of_another_size_than_declared_are_not_proved() -> None:
    chain = straight_chain(3)
    asked = problem(chain, {(0, 1): PairState.LINKED, (1, 2): PairState.LINKED})
    assert prove(asked, chain).proved
    thinner = [ring(c.centre, c.normal, core=3.0, tube=0.4) for c in chain]
    assert not prove(asked, thinner).proved


def test_every_pair_is_looked_at_wherever_the_rings_lie() -> None:
    source = random.Random(11)
    rings = [
        ring(
            (source.uniform(-14, 14), source.uniform(-14, 14), source.uniform(-14, 14)),
            (source.gauss(0, 1), source.gauss(0, 1), source.gauss(0, 1)),
            core=source.choice([1.0, 2.0, 3.5]),
            tube=0.1,
        )
        for _ in range(60)
    ]
    every = {
        pair: state
        for pair in itertools.combinations(range(60), 2)
        if (state := pair_state(rings[pair[0]], rings[pair[1]])) is not PairState.APART
    }
    verdict = prove(problem(rings, every), rings)
    assert verdict.wrong_pairs == ()
    least = min(
        least_distance(a, b)[0] / (a.tube_radius + b.tube_radius) for a, b in itertools.combinations(rings, 2)
    )
    assert verdict.clearance == pytest.approx(min(least, CLEARANCE_CAP), abs=2e-5)
    assert len(prove(problem(rings, {}), rings).wrong_pairs) == len(every) > 10


def test_of_no_rings_nothing_is_wrong() -> None:
    verdict = prove(problem([], {}), [])
    assert (verdict.proved, verdict.clearance, verdict.tightest) == (True, CLEARANCE_CAP, None)


def test_there_is_a_circle_for_every_ring() -> None:
    chain = straight_chain(3)
    with pytest.raises(ValueError, match="longer"):
        prove(problem(chain, {(0, 1): PairState.LINKED}), chain[:2])


@pytest.mark.parametrize(
    ("tube", "apart", "clearance"),
    [(0.5, 7.5, 1.5), (1.0, 9.8, 1.9), (0.5, 7.99, 1.99), (0.2, 6.4, 1.0), (1.5, 11.9, 5.9 / 3)],
)
@pytest.mark.parametrize("start", [-7.6, -0.1, 0.5, 6.9, 7.9])
def test_rings_with_less_than_twice_the_room_are_measured_wherever_they_lie(
    tube: float, apart: float, clearance: float, start: float
) -> None:
    for axis in range(3):
        places = [[0.0, 0.0, 0.0], [0.0, 0.0, 0.0]]
        places[0][axis], places[1][axis] = start, start + apart
        # Side by side in one plane: their cores are as far apart as their middles, less both radii.
        rings = [ring((x, y, z), (0, 1, 0) if axis != 1 else (1, 0, 0), tube=tube) for x, y, z in places]
        verdict = prove(problem(rings, {}), rings)
        assert verdict.clearance == pytest.approx(clearance, abs=1e-4)
        assert verdict.tightest == (0, 1)


def test_a_clearance_of_one_is_proved_and_the_next_number_below_is_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    chain = straight_chain(2)
    asked = problem(chain, {(0, 1): PairState.LINKED})
    for lower, good in ((1.0, True), (math.nextafter(1.0, 0.0), False)):
        monkeypatch.setattr("compiler.prove.least_distance", lambda *_, lower=lower, **__: (lower, lower))
        verdict = prove(asked, chain)
        assert (verdict.proved, verdict.clearance, verdict.tightest) == (good, lower, (0, 1))


def test_of_equally_tight_pairs_the_first_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("compiler.prove.least_distance", lambda *_, **__: (1.5, 1.5))
    chain = straight_chain(4)
    assert prove(problem(chain, {(k, k + 1): PairState.LINKED for k in range(3)}), chain).tightest == (0, 1)


def test_more_than_twice_the_room_is_not_measured() -> None:
    assert CLEARANCE_CAP == 2.0
    far = [ring((0, 0, 0), (0, 1, 0)), ring((8.1, 0, 0), (0, 1, 0))]
    verdict = prove(problem(far, {}), far)
    assert (verdict.clearance, verdict.tightest) == (2.0, None)


def test_each_round_is_asked_whether_it_is_closed_as_declared(monkeypatch: pytest.MonkeyPatch) -> None:
    chain = straight_chain(2)
    good, bad = Closing(rows=((0,),)), Closing(rows=((1,),))
    monkeypatch.setattr(
        "compiler.prove.is_closed_so", lambda circles, fact: len(circles) == 2 and fact is good
    )
    asked = structs.replace(problem(chain, {(0, 1): PairState.LINKED}), closings=(good, bad))
    assert prove(asked, chain).wrong_closings == (bad,)
    assert not prove(asked, chain).proved
    assert prove(structs.replace(asked, closings=(good,)), chain).proved


def test_wrong_pairs_are_told_in_the_order_of_the_rings_near_and_far_alike() -> None:
    chain = straight_chain(9)
    asked = problem(chain, {(0, 8): PairState.LINKED, (7, 2): PairState.LINKED})
    found = [(pair.a, pair.b) for pair in prove(asked, chain).wrong_pairs]
    assert found == [(0, 1), (0, 8), (1, 2), (2, 3), (2, 7), (3, 4), (4, 5), (5, 6), (6, 7), (7, 8)]


def test_a_pair_that_lies_far_apart_as_declared_is_not_wrong() -> None:
    chain = straight_chain(5)
    declared = {**LINKS_OF_FIVE, (0, 4): PairState.APART}
    assert prove(problem(chain, declared), chain).wrong_pairs == ()


def test_golden_rectangles_are_pairwise_unlinked_though_inseparable() -> None:
    # the Borromean rings as three rectangles (OEIS-free folklore form); circles cannot do it: Lindstrom and
    # Zetterstrom, Amer. Math. Monthly 98 (1991) 340-341
    long, short = (1 + math.sqrt(5)) / 2, 1.0
    flat = np.array([(long, short, 0), (-long, short, 0), (-long, -short, 0), (long, -short, 0)])
    rectangles = [np.roll(flat, shift, axis=1) for shift in range(3)]
    for p, q in itertools.combinations(rectangles, 2):
        assert abs(polygon_linking(p, q)) < 1e-9
    pushed = rectangles[0] + np.array((2.0, 0.3, 0.4))
    assert (
        abs(round(polygon_linking(pushed, rectangles[1])))
        + abs(round(polygon_linking(pushed, rectangles[2])))
        > 0
    )
