"""Layout problems: sizes, pairs, strands and above all the sign convention, against the Gauss linking integral."""

import itertools
import math
from array import array

import networkx
import numpy as np
import pytest
from msgspec.structs import replace
from woven import CHAIN, HEAD, RHOMBUS, SHEET, weave_of

from compiler.geometry import point_on
from compiler.hints import hinted
from compiler.layout import Circle, CycleSign, HintUnit, LayoutProblem, Over, PairState, only_rings
from compiler.loops import loops_of
from compiler.problem import problem_of
from compiler.prove import cycle_product
from compiler.weave import Companionship, Relation, RelationKind

TRIANGLE = """
take 1 link as a
pass 1 link as b through a{}
pass 1 link as c through a{}, b{}
"""


def problem(body: str, head: str = HEAD) -> LayoutProblem:
    return problem_of(weave_of(body, head), 0)


def gauss(a: Circle, b: Circle, samples: int = 400) -> int:
    """The linking number of two circles, run right-handedly, by the Gauss integral.

    Lk = 1/(4 pi) sum over both curves of (ra - rb) . (dra x drb) / |ra - rb|^3 (C. F. Gauss, 1833).
    """
    points = []
    for circle in (a, b):
        ring = [point_on(circle, 2 * math.pi * k / samples) for k in range(samples)]
        points.append(np.array(ring))
    steps = [np.roll(ring, -1, axis=0) - ring for ring in points]
    middles = [ring + step / 2 for ring, step in zip(points, steps, strict=True)]
    gap = middles[0][:, None, :] - middles[1][None, :, :]
    turn = np.cross(steps[0][:, None, :], steps[1][None, :, :])
    total = (gap * turn).sum(axis=2) / np.linalg.norm(gap, axis=2) ** 3
    return round(float(total.sum()) / (4 * math.pi))


def entering(side: int) -> tuple[Circle, Circle]:
    """A flat ring with its front up, and a ring whose way leads through it: from the front (1) or from behind (-1)."""
    flat = Circle(centre=(0.0, 0.0, 0.0), normal=(0.0, 0.0, 1.0), core_radius=2.0, tube_radius=0.2)
    # standing, its centre at the right; run right-handedly about +y it goes down at its left, in the flat disc
    standing = Circle(centre=(2.0, 0.0, 0.0), normal=(0.0, -side, 0.0), core_radius=2.0, tube_radius=0.2)
    return flat, standing


@pytest.mark.parametrize("side", [1, -1])
def test_a_ring_that_enters_from_the_front_has_linking_number_minus_one(side: int) -> None:
    flat, standing = entering(side)
    heights = []
    for k in range(360):  # where the way of the standing ring crosses the disc, does it go down?
        x, y, z = point_on(standing, 2 * math.pi * k / 360)
        later = point_on(standing, 2 * math.pi * (k + 1) / 360)[2]
        if math.hypot(x, y) < 2 and z * later <= 0 and z != later:
            heights.append(later - z)
    goes_down = sum(heights) < 0
    assert goes_down is (side == 1)  # from the front is from above, since the flat ring's front is up
    assert gauss(flat, standing) == -side


def test_turning_a_ring_over_changes_the_sign_of_its_links_but_of_no_loop() -> None:
    flat, standing = entering(1)
    over = replace(flat, normal=(0.0, 0.0, -1.0))
    assert gauss(over, standing) == -gauss(flat, standing)
    third = Circle(centre=(1.0, 0.3, 0.0), normal=(0.6, 0.0, 0.8), core_radius=2.0, tube_radius=0.2)
    loop = CycleSign(rings=(0, 1, 2), product=1)
    assert cycle_product((flat, standing, third), loop) == cycle_product((over, standing, third), loop)


def test_three_rings_entered_from_the_front_have_product_minus_one() -> None:
    assert problem(TRIANGLE.format("", "", "")).cycles == (CycleSign(rings=(0, 1, 2), product=-1),)


def test_each_side_from_behind_turns_the_product() -> None:
    for sides in itertools.product(("", " from behind"), repeat=3):
        behind = sum(side != "" for side in sides)
        (loop,) = problem(TRIANGLE.format(*sides)).cycles
        assert loop.product == (-1) ** (behind + 1)


def test_rings_that_all_enter_from_the_front_are_a_rosette_of_one_hand() -> None:
    """Circles of one Hopf bundle, all run the same way, are linked with one sign: every triple has its cube."""
    body = """
take 1 link as a
pass 1 link as b through a
pass 1 link as c through a, b
pass 1 link as d through a, b, c
"""
    found = problem(body)
    assert [loop.product for loop in found.cycles] == [-1] * 3  # 6 links, 4 rings: a basis of 3 triangles
    for hand in (1, -1):
        circles = [
            Circle(
                centre=(0.6 * math.cos(a), 0.6 * math.sin(a), 0.0),
                normal=(-hand * 0.45 * math.sin(a), hand * 0.45 * math.cos(a), 0.9),
                core_radius=2.0,
                tube_radius=0.1,
            )
            for a in (math.pi * k / 2 for k in range(4))
        ]
        signs = {gauss(a, b) for a, b in itertools.combinations(circles, 2)}
        assert len(signs) == 1
        sign = signs.pop()
        assert [cycle_product(circles, loop) for loop in found.cycles] == [sign] * 3


def test_a_sheet_and_a_plain_chain_need_no_signs() -> None:
    for body in (CHAIN, SHEET, RHOMBUS):
        assert problem(body).cycles == ()


def test_a_row_entered_from_behind_is_told_by_loops_of_four() -> None:
    body = """
take 1 link as a
take 1 link as b
pass 1 link as c through a, b
pass 1 link as d through a, b{}
"""
    (loop,) = problem(body.format(" from behind")).cycles
    assert sorted(loop.rings) == [0, 1, 2, 3]
    assert loop.product == -1
    assert problem(body.format("")).cycles == ()


def test_sizes_are_core_and_tube_radius_and_an_eye_has_its_findings_wire() -> None:
    rings = problem("take 1 link as a\npass 1 link as b through a carrying 1 drop").rings
    assert [(ring.core_radius, ring.tube_radius) for ring in rings] == [
        pytest.approx((2.4, 0.4)),
        pytest.approx((2.4, 0.4)),
        pytest.approx((1.05, 0.3)),
    ]


def test_every_link_is_a_pair_once_and_companions_are_a_strand() -> None:
    found = problem(RHOMBUS)
    assert (len(found.rings), len(found.pairs)) == (50, 128)
    assert {pair.state for pair in found.pairs} == {PairState.LINKED}
    assert len({frozenset((pair.a, pair.b)) for pair in found.pairs}) == 128
    assert len(found.strands) == 25
    assert all(strand[1] == strand[0] + 1 for strand in found.strands)


def test_what_goes_around_and_what_lies_between_are_declared_so() -> None:
    head = HEAD + "ring collar: inner 5 mm, wire 0.9 mm, metal copper\n"
    found = problem(
        "take 1 link as a\npass 1 link as b through a\npass 1 collar as c around the joint of a and b", head
    )
    states = {(pair.a, pair.b): pair.state for pair in found.pairs}
    assert states == {
        (0, 1): PairState.LINKED,
        (0, 2): PairState.B_AROUND_A,
        (1, 2): PairState.B_AROUND_A,
    }
    folded = problem("take 2 large as p\npass 2 large as q through p\npass 1 link as r through q between p")
    (fact,) = folded.between
    assert (fact.ring, fact.first, fact.second) == (4, 0, 1)


def test_a_ring_inside_another_is_gone_around_by_it_and_over_and_under_are_no_states() -> None:
    weave = weave_of("take 1 link as a\npass 1 link as b through a\npass 2 large as c through b")
    piece = weave.pieces[0]
    kinds = (RelationKind.INSIDE, RelationKind.OVER, RelationKind.UNDER, RelationKind.GAP)
    relations = [Relation(kind=kind, node=0, others=(2,), motion=2) for kind in kinds]
    for relation in relations:
        piece.relations = (relation,)
        states = {(pair.a, pair.b): pair.state for pair in problem_of(weave, 0).pairs}
        expected = PairState.B_AROUND_A if relation.kind is RelationKind.INSIDE else None
        assert states.get((0, 2)) is expected


def test_companions_that_do_not_lie_side_by_side_are_no_strand() -> None:
    weave = weave_of("take 1 link as a\npass 2 large as c through a")
    assert problem_of(weave, 0).strands == ((1, 2),)
    weave.pieces[0].companionship[1] = Companionship.FRONT_AND_BACK
    assert problem_of(weave, 0).strands == ()


def test_every_ring_is_hinted_where_it_lies_in_the_flat_drawing() -> None:
    weave = weave_of(CHAIN)
    found = hinted(problem_of(weave, 0), weave, 0)
    assert found.hint_unit is HintUnit.MILLIMETRE
    assert [hint.ring for hint in found.hints] == list(range(5))


def test_loops_are_a_basis_of_all_loops_and_short_where_they_can_be() -> None:
    graphs = [
        networkx.complete_graph(6),
        networkx.grid_2d_graph(4, 5),
        networkx.cycle_graph(9),
        networkx.petersen_graph(),
        networkx.disjoint_union(networkx.cycle_graph(5), networkx.complete_graph(4)),
    ]
    for graph in graphs:
        graph = networkx.convert_node_labels_to_integers(graph)
        links = sorted((min(edge), max(edge)) for edge in graph.edges)
        loops = loops_of(len(graph), links)
        wanted = networkx.minimum_cycle_basis(graph)
        rows = []
        for loop in loops:
            steps = [(min(a, b), max(a, b)) for a, b in itertools.pairwise((*loop, loop[0]))]
            assert all(step in links for step in steps)
            assert len(set(loop)) == len(loop)
            rows.append(sum(1 << links.index(step) for step in steps))
        assert _rank(rows) == len(loops) == len(wanted)
        if max(map(len, wanted)) <= 4:
            assert sorted(map(len, loops)) == sorted(map(len, wanted))


def test_a_ring_linked_twice_with_another_is_one_pair() -> None:
    weave = weave_of(CHAIN)
    piece = weave.pieces[0]
    piece.link_a.append(piece.link_a[0])
    piece.link_b.append(piece.link_b[0])
    piece.link_motion.append(0)
    piece.link_sign.extend(array("b", [1]))
    assert len(problem_of(weave, 0).pairs) == 4


def _rank(rows: list[int]) -> int:
    """Rank over the field of two elements."""
    kept: dict[int, int] = {}
    for row in rows:
        while row and row.bit_length() in kept:
            row ^= kept[row.bit_length()]
        if row:
            kept[row.bit_length()] = row
    return len(kept)


def test_some_rings_alone_keep_what_is_declared_of_them_in_their_new_numbers() -> None:
    whole = replace(
        problem(RHOMBUS), overs=(Over(upper=3, lower=5), Over(upper=3, lower=5, frame=(3, 5, 0, 20)))
    )
    kept = [5, 4, 3, 2, 1, 0]
    part = only_rings(whole, kept)
    assert part.rings == tuple(whole.rings[ring] for ring in kept)
    states = {frozenset((pair.a, pair.b)): pair.state for pair in whole.pairs}
    expected = {pair: state for pair, state in states.items() if pair <= set(kept)}
    assert expected
    assert {frozenset((kept[pair.a], kept[pair.b])): pair.state for pair in part.pairs} == expected
    twins = [set(strand) for strand in whole.strands if set(strand) <= set(kept)]
    assert twins
    assert sorted(sorted(kept[ring] for ring in strand) for strand in part.strands) == sorted(
        map(sorted, twins)
    )
    # of the other, a ring that tells where its front is is not there
    assert part.overs == (Over(upper=kept.index(3), lower=kept.index(5)),)


def test_all_rings_in_their_order_are_the_problem() -> None:
    whole = problem(RHOMBUS)
    assert only_rings(whole, range(len(whole.rings))) == whole
