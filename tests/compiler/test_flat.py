"""Flat positions: lattices are regular, joined rings overlap, what hangs hangs, the same text gives the same places."""

import itertools
import math

import pytest
from woven import CHAIN, HUNG, RHOMBUS, SHEET, weave_of

from compiler.flat.bodies import OVERLAP, bodies_of
from compiler.flat.place import flat_positions
from compiler.weave import Weave


def test_linked_rings_of_a_chain_lie_in_a_line_and_overlap() -> None:
    weave = weave_of(CHAIN)
    places = flat_positions(weave, 0).places
    steps = [math.dist(a, b) for a, b in itertools.pairwise(places)]
    assert steps == pytest.approx([OVERLAP * 4.8] * 4, abs=1e-3)
    assert {round(y, 3) for _, y in places} == {round(places[0][1], 3)}


def test_a_ring_lies_above_the_two_below_it_and_halfway_between_them() -> None:
    places = flat_positions(weave_of(SHEET.replace("4 rows of 5", "2 rows of 2")), 0).places
    (ax, ay), (bx, by), (cx, cy), _ = places
    assert ay == by < cy
    assert cx == pytest.approx((ax + bx) / 2, abs=1e-3)


def test_a_downward_sheet_grows_downward() -> None:
    body = SHEET.replace("staggered", "staggered, downward").replace("below", "above")
    body = body.replace("4 rows of 5", "2 rows of 2")
    places = flat_positions(weave_of(body), 0).places
    assert places[2][1] < places[0][1]


def test_points_joined_all_round_make_equal_triangles_with_the_seams_halfway() -> None:
    weave = weave_of(RHOMBUS)
    piece, flat, bodies = weave.pieces[0], flat_positions(weave, 0), bodies_of(weave, weave.pieces[0])
    seams = [body for body, node in enumerate(bodies.lead) if piece.groups[piece.group[node]].name == "seam"]
    assert len(seams) == 16
    place = [flat.places[node] for node in bodies.lead]
    for seam in seams:
        ends = [place[body] for body in bodies.linked[seam]]
        assert math.dist(*ends) == pytest.approx(OVERLAP * 2 * (2.95 + 1.85), abs=1e-3)
        middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
        assert math.dist(middle, place[seam]) < 1e-3


def test_a_round_lies_on_a_circle() -> None:
    body = "round pair of 8:\n    pass 1 link through the one before and the one after"
    places = flat_positions(weave_of(body), 0).places
    radii = [math.hypot(x, y) for x, y in places]
    assert radii == pytest.approx([radii[0]] * 8, abs=1e-3)
    assert math.dist(places[0], places[1]) == pytest.approx(OVERLAP * 4.8, abs=1e-3)


@pytest.mark.parametrize(("said", "onward"), [("", 1), ("work clockwise", 1), ("work anticlockwise", -1)])
def test_rounds_of_a_disc_run_the_way_the_work_goes(said: str, onward: int) -> None:
    body = f"{said}\ndisc plate of 1, 5, 10:\n    pass 1 link through those below"
    (x0, y0), *places = flat_positions(weave_of(body.lstrip()), 0).places
    for first, width in ((0, 5), (5, 10)):
        round_ = places[first : first + width]
        angles = [math.atan2(y - y0, x - x0) for x, y in round_]
        turns = [math.remainder(a - b, 2 * math.pi) for a, b in itertools.pairwise(angles)]
        assert turns == pytest.approx([onward * 2 * math.pi / width] * (width - 1), abs=1e-3)


def test_the_hook_is_at_the_top_and_the_drop_hangs_below() -> None:
    weave = weave_of(HUNG)
    piece, places = weave.pieces[0], flat_positions(weave, 0).places
    names = {use.label: places[use.eyes[0]][1] for use in piece.findings}
    rings = [places[node][1] for node in range(len(piece)) if piece.kind[node] >= 0]
    assert names["hook"] > max(rings)
    assert names["drop"] < min(rings)


def test_a_fringe_hangs_down_all_along() -> None:
    body = """
line edge of 5:
    pass 1 link through the one before
for each k in edge:
    pass 1 link through k carrying 1 drop
"""
    weave = weave_of(body)
    piece, places = weave.pieces[0], flat_positions(weave, 0).places
    edge = places[0][1]
    drops = [places[use.eyes[0]] for use in piece.findings]
    assert len(drops) == 5
    assert all(y < edge - 4 for _, y in drops)
    assert [x for x, _ in drops] == sorted(x for x, _ in drops)


def test_a_finding_at_the_end_of_a_chain_goes_on_in_its_line() -> None:
    weave = weave_of(CHAIN + "pass 1 link through last of pair carrying 1 drop")
    places = flat_positions(weave, 0).places
    assert {round(y, 3) for _, y in places} == {round(places[0][1], 3)}


def test_a_tube_stays_regular_though_its_seam_is_cut() -> None:
    body = "tube mesh of 3 rows of 6, leaning right:\n    pass 1 link through the two below"
    weave = weave_of(body)
    places = flat_positions(weave, 0).places
    for row in range(3):
        assert len({round(places[6 * row + k][1], 3) for k in range(6)}) == 1


def test_companions_share_a_place() -> None:
    weave = weave_of(RHOMBUS)
    piece, places = weave.pieces[0], flat_positions(weave, 0).places
    assert all(places[node] == places[piece.strand[node]] for node in range(len(piece)))


def test_a_point_shared_by_two_units_lies_in_both() -> None:
    weave = _joined_rhombi()
    piece, bodies = weave.pieces[0], bodies_of(weave, weave.pieces[0])
    places = flat_positions(weave, 0).places
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        wanted = OVERLAP * (bodies.radius[bodies.of_node[a]] + bodies.radius[bodies.of_node[b]])
        assert math.dist(places[a], places[b]) == pytest.approx(wanted, rel=0.01)
    heights = [y for _, y in places]
    assert max(heights) - min(heights) < 0.6 * (max(x for x, _ in places) - min(x for x, _ in places))


def test_a_weave_without_families_is_settled_by_its_links() -> None:
    body = """
pass 2 large as heart carrying 6 pairs of small as spoke
for k from 1 to 6:
    pass 2 large as arm[k] through next pair of spoke
"""
    weave = weave_of(body)
    piece, places = weave.pieces[0], flat_positions(weave, 0).places
    groups = [piece.groups[group].name for group in piece.group]
    heart = places[groups.index("heart")]
    arms = sorted({places[node] for node, name in enumerate(groups) if name == "arm"})
    assert len(arms) == 6
    out = [math.dist(heart, arm) for arm in arms]
    assert max(out) - min(out) < 0.02 * max(out)
    assert min(math.dist(a, b) for a, b in itertools.combinations(arms, 2)) > 0.8 * min(out)


def test_the_same_weave_gives_the_same_places() -> None:
    for body in (CHAIN, SHEET, RHOMBUS, HUNG):
        assert flat_positions(weave_of(body), 0) == flat_positions(weave_of(body), 0)


def test_a_tube_is_drawn_cut_open() -> None:
    body = "tube mesh of 3 rows of 6, leaning right:\n    pass 1 link through the two below"
    assert flat_positions(weave_of(body), 0).cut
    assert not flat_positions(weave_of(SHEET), 0).cut


def _joined_rhombi() -> Weave:
    head = """title "Lyra"
ring large: inner 5 mm, wire 0.9 mm, metal copper, doubled
ring small: inner 3 mm, wire 0.7 mm, metal copper, doubled
unit rhombus(port start):
    sheet point of 3 rows of 3, leaning right, first is start:
        pass 2 large joined all round by 2 small as seam
    port tip = last of point
"""
    return weave_of("line lozenge of 3:\n    make rhombus with start = tip of the one before", head)
