"""The search: known weaves come out proved, regular, of the declared hand, and the same every time."""

import itertools
import math

import pytest
import solver_graphs as graphs
from msgspec.structs import replace

from compiler.geometry import link_sign, unit
from compiler.layout import (
    Circle,
    CycleSign,
    Hint,
    HintUnit,
    Layout,
    LayoutProblem,
)
from compiler.prove import prove
from compiler.settle.search import Budget, settle, slack

LARGE, SMALL = graphs.size(5, 0.9), graphs.size(3, 0.7)
THICK_LARGE, THICK_SMALL = graphs.size(5, 1.0), graphs.size(3, 0.8)
FIVE = graphs.size(5, 1.0)

WEAVES = {
    "rhombus 3x3": graphs.rhombus(3, 3, LARGE, SMALL),
    "rhombus 3x3 in thicker wire": graphs.rhombus(3, 3, THICK_LARGE, THICK_SMALL),
    "seven hubs": graphs.hexagon(1, LARGE, SMALL),
    "square, single": graphs.square(3, 4, LARGE, SMALL),
    "square, eight in two": graphs.square(3, 4, LARGE, SMALL, 2, 2),
    "four in one": graphs.rows_sheet(5, 5, FIVE, 2),
    "four in one, 1.2 mm": graphs.rows_sheet(5, 5, graphs.size(5, 1.2), 2),
    "four in one, no hints": graphs.rows_sheet(5, 6, FIVE, 2, hinted=False),
    "six in one": graphs.rows_sheet(5, 6, graphs.size(6, 1), 3),
    "four in one, 600 rings": graphs.rows_sheet(20, 30, FIVE, 2),
    "tube of four in one": graphs.tube(3, 14, graphs.size(5, 0.8), 2),
    "tube of six in one": graphs.tube(4, 20, graphs.size(6, 1), 3),
    "tube with a seam": graphs.seamed_tube(8, 10, FIVE),
    "chain 1-1": graphs.chain(1, 12, graphs.size(4, 1)),
    "chain 2-2": graphs.chain(2, 8, FIVE),
    "chain 3-3": graphs.chain(3, 6, graphs.size(6, 1)),
    "closed chain": graphs.chain(1, 16, graphs.size(4, 1), closed=True),
    "through the eye": graphs.eye_chain(10, FIVE),
    "through three": graphs.eye_chain(10, graphs.size(6, 1), reach=3),
    "rosette of five": graphs.rosette(5, graphs.size(6, 1)),
    "box": graphs.folded_chain(3, FIVE, plain_pairs=0),
    "byzantine": graphs.folded_chain(3, FIVE, plain_pairs=1),
    "collars round joints": graphs.orbital(5, LARGE, graphs.size(5.5, 0.9)),
    "two parts": LayoutProblem(rings=(LARGE,) * 6, pairs=graphs.linked([(0, 1), (1, 2), (3, 4), (4, 5)])),
    "loose rings": LayoutProblem(rings=(LARGE, SMALL, LARGE), pairs=()),
    "one ring": LayoutProblem(rings=(LARGE,), pairs=()),
    "no ring": LayoutProblem(rings=(), pairs=()),
}


@pytest.fixture(scope="module")
def settled() -> dict[str, Layout]:
    """Each weave is settled once for all tests."""
    return {name: settle(problem) for name, problem in WEAVES.items()}


def centres(circles: tuple[Circle, ...], start: int = 0, stop: int | None = None) -> list[tuple[float, ...]]:
    return [circle.centre for circle in circles[start:stop]]


def spread(values: list[float]) -> float:
    return max(values) - min(values)


@pytest.mark.parametrize("name", WEAVES)
def test_a_known_weave_settles_in_rings_of_usual_size(name: str, settled: dict[str, Layout]) -> None:
    problem, layout = WEAVES[name], settled[name]
    assert len(layout.circles) == len(problem.rings)
    assert layout.verdict == prove(problem, layout.circles)
    assert layout.verdict.proved, layout.verdict
    assert all(circle.centre == tuple(round(x, 4) for x in circle.centre) for circle in layout.circles)
    assert all(abs(math.hypot(*circle.normal) - 1) < 1e-6 for circle in layout.circles)


@pytest.mark.parametrize(
    ("problem", "rings", "links"),
    [
        (WEAVES["rhombus 3x3"], 50, 128),  # k(3k+2), OEIS A045944 for the edges; 8 links an edge
        (WEAVES["seven hubs"], 38, 96),  # OEIS A003215 and A045945
        (WEAVES["square, eight in two"], 24 + 34, 8 * 17),
        (WEAVES["four in one"], 25, 4 * 9),  # (R-1)(2n-1)
        (WEAVES["six in one"], 30, 4 * 16),  # (R-1)(3n-2)
        (WEAVES["chain 3-3"], 18, 45),  # k^2 (n-1)
    ],
)
def test_the_graphs_tried_are_those_that_are_named(problem: LayoutProblem, rings: int, links: int) -> None:
    assert len(problem.rings) == rings
    assert len({(pair.a, pair.b) for pair in problem.pairs}) == len(problem.pairs) == links


@pytest.mark.parametrize("name", ["rhombus 3x3", "rhombus 3x3 in thicker wire", "seven hubs"])
def test_a_triangular_weave_lies_flat_on_an_even_lattice(name: str, settled: dict[str, Layout]) -> None:
    problem, circles = WEAVES[name], settled[name].circles
    large = [k for k, ring in enumerate(problem.rings) if ring.core_radius > 2.5]
    hubs = [k for k in large if k % 2 == 0]
    assert spread([circles[k].centre[2] for k in large]) < 2.2 * circles[0].tube_radius
    assert all(abs(unit(circles[k].normal)[2]) > 0.999 for k in large)
    steps = [
        math.dist(circles[a].centre[:2], circles[b].centre[:2])
        for a, b in itertools.combinations(hubs, 2)
        if math.dist(circles[a].centre[:2], circles[b].centre[:2]) < 10
    ]
    assert len(steps) == {9: 16, 7: 12}[len(hubs)]  # every lattice edge, and nothing folded over
    assert spread(steps) < 0.03 * min(steps)


def test_companions_lie_side_by_side_on_one_axis(settled: dict[str, Layout]) -> None:
    for name in ("rhombus 3x3", "square, eight in two", "chain 2-2", "chain 3-3"):
        circles = settled[name].circles
        for strand in WEAVES[name].strands:
            for a, b in itertools.pairwise(circles[k] for k in strand):
                offset = [b.centre[k] - a.centre[k] for k in range(3)]
                along = sum(offset[k] * unit(a.normal)[k] for k in range(3))
                assert a.normal == b.normal
                assert math.hypot(*offset) == pytest.approx(abs(along), abs=1e-3)
                assert 1.0 <= abs(along) / (2 * a.tube_radius) < 1.05


@pytest.mark.parametrize("name", ["four in one", "four in one, 600 rings", "six in one"])
def test_a_sheet_has_straight_even_rows_that_lean_by_turns(name: str, settled: dict[str, Layout]) -> None:
    circles = settled[name].circles
    columns = {"four in one": 5, "four in one, 600 rings": 30, "six in one": 6}[name]
    rows = [circles[k : k + columns] for k in range(0, len(circles), columns)]
    for row in rows:
        assert spread([circle.centre[1] for circle in row]) < 0.2
        steps = [b.centre[0] - a.centre[0] for a, b in itertools.pairwise(row)]
        assert spread(steps) < 0.15 * (sum(steps) / len(steps))
    inner = [circle.normal[0] for row in rows[1:-1:2] for circle in row[1:-1]]
    other = [circle.normal[0] for row in rows[2:-1:2] for circle in row[1:-1]]
    assert max(inner) * min(other) < 0
    assert min(abs(x) for x in (*inner, *other)) > 0.1
    assert spread(inner) < 0.1
    assert spread([circle.centre[2] for circle in circles]) < 1.0


@pytest.mark.parametrize(("name", "group"), [("chain 1-1", 1), ("chain 2-2", 2), ("chain 3-3", 3)])
def test_a_chain_hangs_straight_with_links_a_quarter_turned(
    name: str, group: int, settled: dict[str, Layout]
) -> None:
    circles = settled[name].circles
    middles = [
        [sum(circle.centre[axis] for circle in circles[k : k + group]) / group for axis in range(3)]
        for k in range(0, len(circles), group)
    ]
    for axis in (1, 2):
        assert spread([middle[axis] for middle in middles]) < 0.02
    steps = [b[0] - a[0] for a, b in itertools.pairwise(middles)]
    assert spread(steps) < 0.02 * abs(steps[0])
    for a, b in itertools.pairwise(circles[::group]):
        assert abs(sum(x * y for x, y in zip(a.normal, b.normal, strict=True))) < 0.02


def test_a_taut_chain_is_as_long_as_its_wires_let_it_be(settled: dict[str, Layout]) -> None:
    # the inner diameter a link; the search keeps wires up to 3 % farther apart than they must be
    circles = settled["chain 1-1"].circles
    length = math.dist(circles[0].centre, circles[-1].centre)
    assert 0.95 * 11 * 4.0 < length <= 11 * 4.0


def test_the_same_problem_gives_the_same_layout() -> None:
    for name in ("rhombus 3x3", "through the eye"):
        assert settle(WEAVES[name]) == settle(WEAVES[name])


def triple_products(circles: tuple[Circle, ...], count: int) -> list[int]:
    return [
        link_sign(circles[a], circles[b])
        * link_sign(circles[b], circles[c])
        * link_sign(circles[a], circles[c])
        for a, b, c in itertools.combinations(range(count), 3)
    ]


@pytest.mark.parametrize("hand", [1, -1])
def test_a_rosette_of_a_given_hand_has_that_hand(hand: int) -> None:
    problem = graphs.rosette(5, graphs.size(6.5, 1), hand)
    layout = settle(problem)
    assert layout.verdict.proved
    assert triple_products(layout.circles, 5) == [hand] * 10


@pytest.mark.parametrize("hand", [1, -1])
def test_a_chain_through_the_eye_of_a_given_hand_has_that_hand(hand: int) -> None:
    layout = settle(graphs.eye_chain(8, graphs.size(6, 1), 2, hand))
    assert layout.verdict.proved
    assert [triple_products(layout.circles[k : k + 3], 3)[0] for k in range(6)] == [hand] * 6


def seven_rosettes() -> list[dict[tuple[int, ...], int]]:
    """One set of triple products for each way to link five rings pairwise, up to renaming the rings.

    These are the two-graphs on five points, seven in number: Mallows and Sloane, SIAM J. Appl. Math. 28 (1975)
    876-880, cited from memory; the count is found here anew.
    """
    pairs = list(itertools.combinations(range(5), 2))
    triples = list(itertools.combinations(range(5), 3))
    found: dict[tuple[int, ...], dict[tuple[int, ...], int]] = {}
    for signs in itertools.product((1, -1), repeat=10):
        sign = dict(zip(pairs, signs, strict=True))
        product = {(a, b, c): sign[a, b] * sign[b, c] * sign[a, c] for a, b, c in triples}
        key = min(
            tuple(product[tuple(sorted(order[k] for k in triple))] for triple in triples)
            for order in itertools.permutations(range(5))
        )
        found.setdefault(key, product)
    return [found[key] for key in sorted(found)]


def test_all_seven_rosettes_of_five_settle_each_with_its_own_signs() -> None:
    kinds = seven_rosettes()
    assert len(kinds) == 7
    base = graphs.rosette(5, graphs.size(7, 1))
    for products in kinds:
        cycles = tuple(CycleSign(rings=triple, product=sign) for triple, sign in products.items())
        layout = settle(replace(base, cycles=cycles))
        assert layout.verdict.proved
        assert triple_products(layout.circles, 5) == list(products.values())


def test_loops_that_contradict_each_other_are_told_by_the_verdict() -> None:
    cycles = (CycleSign(rings=(0, 1, 2), product=1), CycleSign(rings=(1, 2, 0), product=-1))
    layout = settle(replace(graphs.rosette(3, graphs.size(6, 1)), cycles=cycles), Budget(work=1))
    assert not layout.verdict.proved
    assert len(layout.verdict.wrong_cycles) == 1
    assert not layout.verdict.wrong_pairs


def test_a_search_that_finds_nothing_gives_its_best_with_the_verdict() -> None:
    problem = graphs.rosette(5, graphs.size(2, 1))  # five wires do not go through a hole of two
    layout = settle(problem, Budget(work=1))
    assert len(layout.circles) == 5
    assert not layout.verdict.proved
    assert layout.verdict == prove(problem, layout.circles)


def test_rings_stay_where_a_round_is_hinted_in_millimetres() -> None:
    base = graphs.chain(1, 12, graphs.size(4, 1), closed=True)
    radius = 12 * 3.7 / (2 * math.pi)
    hints = tuple(
        Hint(ring=k, place=(radius * math.cos(angle), radius * math.sin(angle), 0.0))
        for k, angle in enumerate(2 * math.pi * k / 12 for k in range(12))
    )
    layout = settle(replace(base, hints=hints, hint_unit=HintUnit.MILLIMETRE))
    assert layout.verdict.proved
    assert spread([math.hypot(*circle.centre[:2]) for circle in layout.circles]) < 0.1
    for hint, circle in zip(hints, layout.circles, strict=True):
        assert hint.place is not None
        assert math.dist(hint.place, circle.centre) < 1.5


def test_slack_of_two_linked_rings_comes_near_its_closed_bound() -> None:
    # equal circles of core radius R are at most R apart when linked: (5 + w) / 2 >= w, so the wire is at most 5 mm
    problem = graphs.chain(1, 2, FIVE)
    layout = settle(problem)
    assert 4.0 < slack(problem, layout) <= 5.0


def test_slack_is_a_factor_that_is_proved_and_below_one_where_the_wire_is_too_thick() -> None:
    problem = graphs.chain(2, 4, FIVE)
    factor = slack(problem, settle(problem))
    assert 1.0 < factor < 3
    tight = graphs.rosette(3, graphs.size(1.6, 1))  # two other wires cannot share that hole
    layout = settle(tight, Budget(work=1))
    assert not layout.verdict.proved
    thinner = slack(tight, layout, Budget(work=1))
    assert 0 < thinner < 0.8


def test_a_poor_hint_of_the_step_still_gives_an_even_sheet() -> None:
    base = graphs.rows_sheet(6, 7, FIVE, 2)
    hints = tuple(
        Hint(ring=hint.ring, place=(4.5 * hint.place[0], 2.5 * hint.place[1], 0.0))
        for hint in base.hints
        if hint.place is not None
    )
    layout = settle(replace(base, hints=hints, hint_unit=HintUnit.MILLIMETRE))
    assert layout.verdict.proved
    for row in range(6):
        ys = [layout.circles[7 * row + column].centre[1] for column in range(7)]
        assert spread(ys) < 0.3


def test_the_two_hands_of_a_chain_are_mirror_images() -> None:
    sides = []
    for hand in (1, -1):
        circles = settle(graphs.eye_chain(8, graphs.size(6, 1), 2, hand)).circles
        sides.append([math.dist(a.centre, b.centre) for a, b in itertools.combinations(circles, 2)])
    assert sides[0] == pytest.approx(sides[1], abs=0.05)
