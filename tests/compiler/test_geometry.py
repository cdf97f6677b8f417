"""The closed formulas against printed tables, closed forms and numerical integration."""

import math
import random
from collections.abc import Sequence
from decimal import Decimal

import pytest
from scipy.integrate import dblquad
from scipy.optimize import minimize

from compiler.geometry import (
    frame,
    is_between,
    least_distance,
    link_sign,
    pair_state,
    piercings,
    point_on,
    torus_volume,
    wire_length,
    wires_at_most,
    wires_may_fit,
    wires_round_rim,
    wires_that_fit,
)
from compiler.layout import Circle, PairState, Vector


def ring(centre: Vector, normal: Vector, core: float = 3.0, tube: float = 0.5) -> Circle:
    return Circle(centre=centre, normal=normal, core_radius=core, tube_radius=tube)


def random_ring(source: random.Random, spread: float = 4.0) -> Circle:
    x, y, z = (source.uniform(-spread, spread) for _ in range(3))
    normal = (source.gauss(0, 1), source.gauss(0, 1), source.gauss(0, 1))
    return ring((x, y, z), normal, core=source.uniform(1.0, 5.0))


def gauss_integral(a: Circle, b: Circle) -> float:
    """Lk = (1/4pi) oint oint (r1-r2).(dr1 x dr2)/|r1-r2|^3, Gauss, by scipy.integrate.dblquad."""

    def point_and_tangent(circle: Circle, angle: float) -> tuple[list[float], list[float]]:
        u, v, _ = frame(circle.normal)
        c, s, r = math.cos(angle), math.sin(angle), circle.core_radius
        point = [circle.centre[k] + r * (c * u[k] + s * v[k]) for k in range(3)]
        return point, [r * (c * v[k] - s * u[k]) for k in range(3)]

    def integrand(t: float, s: float) -> float:
        p, dp = point_and_tangent(a, s)
        q, dq = point_and_tangent(b, t)
        d = [p[k] - q[k] for k in range(3)]
        normal = (dp[1] * dq[2] - dp[2] * dq[1], dp[2] * dq[0] - dp[0] * dq[2], dp[0] * dq[1] - dp[1] * dq[0])
        return sum(d[k] * normal[k] for k in range(3)) / math.dist(p, q) ** 3

    value, _ = dblquad(integrand, 0, 2 * math.pi, 0, 2 * math.pi, epsabs=1e-3, epsrel=1e-3)
    return value / (4 * math.pi)


def squared_distance(a: Circle, b: Circle) -> float:
    """The least squared distance found by scipy's simplex search from the six best points of a grid."""

    def objective(angles: Sequence[float]) -> float:
        return math.dist(point_on(a, angles[0]), point_on(b, angles[1])) ** 2

    starts = sorted(((s, t) for s in range(7) for t in range(7)), key=objective)[:6]
    options = {"xatol": 1e-9, "fatol": 1e-13}
    return min(
        float(minimize(objective, start, method="Nelder-Mead", options=options).fun) for start in starts
    )


# Discrete Mathematics 181 (1998) 139-154 and Mathematics Magazine 40 (1967) 65-70: the printed figures
PRINTED = (
    1, 2, 2.154701, 2.414214, 2.701302, 3, 3, 3.304765, 3.613126, 3.813026, 3.923804, 4.029602, 4.236068,
    4.328429, 4.521357, 4.615426, 4.792034, 4.863703, 4.863703, 5.122321,
)  # fmt: skip


@pytest.mark.parametrize(("count", "ratio"), list(enumerate(PRINTED, start=1)))
def test_a_hole_of_the_printed_ratio_holds_its_count_and_no_more(count: int, ratio: float) -> None:
    assert wires_that_fit(ratio + 1e-5, 1.0) >= count
    assert wires_that_fit(ratio - 1e-5, 1.0) < count


@pytest.mark.parametrize(("ratio", "count"), [(2, 2), (3, 7), (4, 11), (5, 19)])
def test_integer_ratios_hold_the_counts_of_oeis_a023393(ratio: int, count: int) -> None:
    assert wires_that_fit(ratio, 1) == count
    assert wires_that_fit(ratio * 0.7, 0.7) == count


def test_the_certain_bound_never_falls_below_the_best_known_packing() -> None:
    for hundredths in range(100, 900):
        ratio = hundredths / 100
        assert wires_at_most(ratio, 1.0) >= wires_that_fit(ratio, 1.0)
    for ratio, known in ((6, 27), (7, 38), (8, 50)):  # OEIS A023393, best known
        assert wires_at_most(ratio, 1.0) >= known


@pytest.mark.parametrize(
    ("ratio", "bound"), [(0.99, 0), (1, 1), (1.99, 1), (2, 2), (2.4, 3), (3, 7), (3.62, 9)]
)
def test_the_certain_bound_is_the_proved_packing_where_one_is_proved(ratio: float, bound: int) -> None:
    assert wires_at_most(ratio, 1.0) == bound


def test_kirkburn_rings_may_hold_four_others() -> None:
    # Stead, Iron Age Cemeteries in East Yorkshire (1991) p. 54, second-hand: outside 8.2-9.2, wire 1.5-1.9 mm
    assert wires_may_fit(5.3, [1.7] * 4)
    assert wires_at_most(5.3, 1.7) == 7


@pytest.mark.parametrize(
    ("inner", "wires", "may"),
    [
        (3.0, [1.0] * 7, True),
        (3.0, [1.0] * 8, False),
        (3.0, [2.0, 1.0], True),  # side by side on a diameter
        (3.0, [2.0, 1.1], False),
        (3.0, [2.0, 1.0, 0.9, 0.9, 0.9, 0.9, 0.9], False),  # areas
        (2.0, [], True),
        (2.0, [2.1], False),
    ],
)
def test_unequal_wires_are_refused_only_on_certain_grounds(
    inner: float, wires: list[float], may: bool
) -> None:
    assert wires_may_fit(inner, wires) is may


# computed table of check values: inner diameter, wire, round the rim, full pack (the table's cells up to 20)
CELLS = (
    (3, ".6", 12, 19), (3, ".7", 10, 13), (3, ".8", 8, 9), (3, ".9", 7, 8), (3, "1.0", 6, 7),
    (3, "1.1", 5, 5), (3, "1.2", 4, 4), (4, ".8", 12, 19), (4, ".9", 10, 14), (4, "1.0", 9, 11),
    (4, "1.1", 8, 9), (4, "1.2", 7, 8), (5, "1.0", 12, 19), (5, "1.1", 10, 15), (5, "1.2", 9, 12),
)  # fmt: skip


@pytest.mark.parametrize(("inner", "wire", "rim", "full"), CELLS)
def test_rim_and_pack_agree_with_the_computed_cells(inner: int, wire: str, rim: int, full: int) -> None:
    assert wires_round_rim(inner, float(Decimal(wire))) == rim
    assert wires_that_fit(inner, float(Decimal(wire))) == full


def test_a_wire_thicker_than_the_hole_does_not_lie_on_its_rim() -> None:
    assert wires_round_rim(1.0, 1.1) == 0
    assert wires_round_rim(1.9, 1.0) == 1
    assert wires_round_rim(2.0, 1.0) == 2


def test_volume_of_a_wire_ring_is_the_exact_washer_integral() -> None:
    assert torus_volume(3.0, 0.5) == pytest.approx(1.5 * math.pi**2, rel=1e-14)  # sympy, exact: 3 pi^2 / 2
    assert torus_volume(2.4, 0.4) == pytest.approx(7.5799, abs=5e-5)
    assert wire_length(3.0) == pytest.approx(18.849556, abs=5e-7)


def test_a_frame_is_right_handed_and_of_unit_length() -> None:
    source = random.Random(1)
    for _ in range(50):
        normal = (source.gauss(0, 1), source.gauss(0, 1), source.gauss(0, 1))
        u, v, n = frame(normal)
        determinant = sum(u[k] * (v[k - 2] * n[k - 1] - v[k - 1] * n[k - 2]) for k in range(3))
        assert determinant == pytest.approx(1, abs=1e-12)
        assert math.dist(n, [x / math.hypot(*normal) for x in normal]) < 1e-12


def test_pair_states_of_plain_positions() -> None:
    flat = ring((0, 0, 0), (0, 0, 1))
    assert pair_state(flat, ring((3, 0, 0), (0, 1, 0))) is PairState.LINKED
    assert pair_state(flat, ring((9, 0, 0), (0, 1, 0))) is PairState.APART
    assert pair_state(flat, ring((0, 0, 1), (0, 0, 1))) is PairState.APART  # one above the other
    assert pair_state(flat, ring((0, 0, 0), (1, 0, 0), core=1)) is PairState.A_AROUND_B
    assert pair_state(ring((0, 0, 0), (1, 0, 0), core=1), flat) is PairState.B_AROUND_A
    assert pair_state(flat, ring((0.5, 0, 0), (0, 0, 1), core=1)) is PairState.A_AROUND_B  # one plane, inside
    assert pair_state(flat, ring((7, 0, 0), (0, 0, 1), core=1)) is PairState.APART  # one plane, beside


def test_states_swap_with_the_pair_and_signs_are_symmetric() -> None:
    source = random.Random(2)
    seen = set()
    for _ in range(2000):
        a, b = random_ring(source), random_ring(source)
        state = pair_state(a, b)
        assert pair_state(b, a) is state.swapped()
        assert link_sign(a, b) == link_sign(b, a)
        assert (link_sign(a, b) != 0) == (state is PairState.LINKED)
        seen.add(state)
    assert seen == set(PairState)


def test_turning_a_normal_round_changes_the_sign_of_a_link() -> None:
    a, b = ring((0, 0, 0), (0, 0, 1)), ring((3, 0, 0), (0, 1, 0))
    turned = ring((3, 0, 0), (0, -1, 0))
    assert link_sign(a, b) == -link_sign(a, turned) != 0


@pytest.mark.parametrize(
    ("a", "b"),
    [
        (ring((0, 0, 0), (0, 0, 1)), ring((3, 0, 0), (0, 1, 0))),
        (ring((0, 0, 0), (0, 0, 1)), ring((3, 0, 0), (0, -1, 0))),
        (ring((0, 0, 0), (0, 0, 1)), ring((2, 1, 0.5), (1, 1, 0.3), core=2.5)),
        (ring((0, 0, 0), (0, 0, 1)), ring((0, 0, 1.2), (0, 0, 1))),
        (ring((0, 0, 0), (0, 0, 1)), ring((0.3, 0, 0), (1, 0, 0.2), core=1)),
        (ring((0, 0, 0), (0, 0, 1)), ring((8, 0, 0), (0, 1, 0))),
    ],
)
def test_link_sign_is_the_gauss_linking_integral(a: Circle, b: Circle) -> None:
    assert link_sign(a, b) == pytest.approx(gauss_integral(a, b), abs=0.02)


def test_piercings_lie_on_the_ring_and_in_the_disc() -> None:
    source = random.Random(3)
    count = 0
    for _ in range(300):
        a, b = random_ring(source), random_ring(source)
        for piercing in piercings(a, b):
            count += 1
            arm = [piercing.point[k] - a.centre[k] for k in range(3)]
            assert abs(sum(arm[k] * a.normal[k] for k in range(3))) < 1e-9
            assert math.hypot(*arm) < a.core_radius
            assert math.dist(piercing.point, b.centre) == pytest.approx(b.core_radius)
    assert count > 50


def test_least_distance_of_closed_cases() -> None:
    flat = ring((0, 0, 0), (0, 0, 1))
    cases = (
        (ring((0, 0, 1.02), (0, 0, 1)), 1.02),  # twins on one axis
        (ring((0, 0, 1.02), (0, 0, -1), core=2.0), math.hypot(1, 1.02)),
        (ring((7, 0, 0), (0, 0, 1)), 1.0),  # side by side in one plane
        (ring((5, 0, 0), (0, 1, 0)), 1.0),  # links of a chain pulled taut
        (ring((3, 0, 0), (0, 1, 0)), 3.0),  # each through the other's centre
        (ring((0, 0, 0), (1, 0, 0), core=1), 2.0),  # a small ring in the middle
        (ring((6, 0, 0), (0, 1, 0)), 0.0),  # cores that meet
    )
    for other, expected in cases:
        lower, upper = least_distance(flat, other)
        assert lower <= expected <= upper + 1e-12
        assert upper - lower < 3e-6


def test_least_distance_brackets_a_general_minimiser() -> None:
    source = random.Random(4)
    for _ in range(40):
        a, b = random_ring(source), random_ring(source)
        lower, upper = least_distance(a, b)
        found = squared_distance(a, b)
        assert lower <= math.sqrt(found) + 1e-7
        assert upper == pytest.approx(math.sqrt(found), abs=1e-5)


def test_least_distance_is_never_above_a_dense_sample_and_never_far_below() -> None:
    source = random.Random(5)
    for _ in range(60):
        a, b = random_ring(source), random_ring(source)
        lower, upper = least_distance(a, b)
        u, v, n = frame(a.normal)
        best = math.inf
        for index in range(4000):
            p = point_on(b, 2 * math.pi * index / 4000)
            arm = [p[k] - a.centre[k] for k in range(3)]
            x, y, z = (sum(arm[k] * axis[k] for k in range(3)) for axis in (u, v, n))
            best = min(best, math.hypot(math.hypot(x, y) - a.core_radius, z))
        assert lower <= best + 1e-9
        # the distance to a set changes no faster than the point moves
        assert upper >= best - 2 * math.pi * b.core_radius / 8000


def test_least_distance_of_circles_that_nearly_meet_is_found_at_once() -> None:
    # squared distances below zero in the bound once kept the search halving for ever
    a = ring((0, 0.00175, 0), (-0.0003, 1, 0))
    for shift in (0.0, 1e-9, 1e-6, 1e-3):
        lower, upper = least_distance(a, ring((2.7, shift, 0), (-0.0003, 1, 0)))
        assert lower <= upper < lower + 3e-6
        assert lower <= shift + 0.004  # the planes are that near at both crossings


def test_least_distance_may_stop_once_it_is_enough() -> None:
    a, b = ring((0, 0, 0), (0, 0, 1)), ring((3, 0, 0), (0, 1, 0))
    lower, _ = least_distance(a, b, enough=1.0)
    assert 1.0 - 1e-9 <= lower <= 3.0


def test_a_ring_between_companions_passes_their_gap() -> None:
    first, second = ring((0, 0, -2), (0, 0, 1)), ring((0, 0, 2), (0, 0, -1))
    assert is_between(ring((4, 0, 0), (0, 1, 0), core=1.5), first, second)
    assert not is_between(ring((6, 0, 0), (0, 1, 0), core=1.5), first, second)
    assert not is_between(ring((0, 0, 5), (0, 1, 0), core=1.5), first, second)
