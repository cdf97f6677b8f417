"""Joins by connectors: one for each pair of neighbours, whichever is made first; and what is handed in."""

import networkx as nx
import pytest
from bench_text import count, graph, links, piece, strands, told

RHOMBUS = """
unit rhombus(across = 3, down = 3, port start):
    sheet point of down rows of across, leaning right, first is start:
        pass 2 large joined all round by 2 small as seam
    port tip = last of point
"""


@pytest.mark.parametrize(
    ("rows", "across", "large", "small"),
    # Rhombic matchstick numbers, OEIS A045944, for the squares; counts by networkx for the others.
    [(2, 2, 8, 10), (2, 3, 12, 18), (3, 3, 18, 32), (3, 4, 24, 46), (4, 4, 32, 66), (5, 7, 70, 164)],
)
def test_a_rhombus_has_a_pair_at_each_node_and_each_edge(
    rows: int, across: int, large: int, small: int
) -> None:
    woven = piece(f"make rhombus with down = {rows}, across = {across}", RHOMBUS)
    assert (count(woven, "large"), count(woven, "small")) == (large, small)
    # each small ring holds the four rings of two pairs
    assert len(woven.link_a) == 4 * small
    assert nx.is_connected(graph(woven))


def test_every_ring_of_an_inner_pair_holds_twelve() -> None:
    """Common practice calls the weave "12 in 2" for this."""
    woven = piece("make rhombus as body\nexpect point[2, 2] of body holds 12", RHOMBUS)
    assert len(woven.link_a) == 128


def test_a_handed_point_is_woven_into_both() -> None:
    """Four rhombi in a row share three points: 4 x 18 - 3 x 2 large rings."""
    woven = piece(
        "line lozenge of 4:\n    make rhombus with start = tip of the one before\nexpect 66 large, 128 small used",
        RHOMBUS,
    )
    assert (count(woven, "large"), count(woven, "small")) == (66, 128)
    assert len(woven.link_a) == 4 * 128
    assert nx.is_connected(graph(woven))
    # the shared points are cut points of the weave
    assert len(list(nx.biconnected_components(strands(woven)))) == 4


def test_the_last_place_may_be_handed_in_and_so_may_both() -> None:
    """A rhombus closed onto a point that is there already: its seams are opened and passed through it."""
    before = RHOMBUS.replace("port start)", "port start, port end)").replace(
        "first is start:", "first is start, last is end:"
    )
    for handed, large in (("end = a", 18), ("start = a", 18), ("start = a, end = b", 18)):
        points = "take 2 large as a\n" + ("take 2 large as b\n" if "b" in handed else "")
        woven = piece(f"{points}make rhombus with {handed} as body", before)
        assert (count(woven, "large"), count(woven, "small"), len(woven.link_a)) == (large, 32, 128)
        assert nx.is_isomorphic(strands(woven), strands(piece("make rhombus", RHOMBUS)))


def test_a_join_names_its_neighbours() -> None:
    woven = piece("line chain of 3:\n    pass 1 link joined to the one before by 1 link as seam")
    assert links(woven) == [
        "chain 1 - seam 1",
        "chain 2 - seam 1",
        "chain 2 - seam 2",
        "chain 3 - seam 2",
    ]


def test_a_round_joined_all_round_closes() -> None:
    woven = piece("round hoop of 5:\n    pass 1 link joined all round by 1 link as seam")
    assert nx.is_isomorphic(graph(woven), nx.cycle_graph(10))
    assert woven.groups[1].connector_of == 0


def test_connectors_without_a_name_have_a_group_of_their_own() -> None:
    woven = piece(
        """
take 1 link
line chain of 3:
    pass 1 link joined to the one before by 1 link
"""
    )
    assert [(group.key, group.connector_of) for group in woven.groups] == [
        ("link", -1),
        ("chain", -1),
        ("chain/link", 1),
    ]


ROSETTE = """
unit rosette(arms = 6):
    step "Gather the centre":
        pass 2 large as heart carrying 2 * arms small as spoke
    round arm of arms:
        pass 2 large through next pair of spoke joined to the one before and the one after by 2 small as seam
    expect 2 + 2 * arms large, 4 * arms small used
"""


def test_a_centre_and_six_around_have_14_large_and_24_small() -> None:
    woven = piece("make rosette", ROSETTE)
    assert (count(woven, "large"), count(woven, "small"), len(woven.link_a)) == (14, 24, 96)
    # seven nodes of a hexagon with its centre (A003215), and its twelve edges as nodes of their own
    hexagon = nx.wheel_graph(7)
    subdivided = nx.Graph()
    for number, (a, b) in enumerate(hexagon.edges):
        subdivided.add_edges_from([(a, ("seam", number)), (("seam", number), b)])
    assert nx.is_isomorphic(strands(woven), subdivided)


def test_the_first_of_six_carries_four_the_next_two_each_the_last_none() -> None:
    """Common practice: 4 + 4 x 2 + 0 = 12."""
    woven = piece("make rosette", ROSETTE)
    starts = woven.motions.load_start
    loads = [starts[motion + 1] - starts[motion] for motion in range(len(starts) - 1)]
    assert loads[0] == 12
    assert loads[2::2] == [4, 2, 2, 2, 2, 0]


def test_two_points_on_opposite_sides_make_18_and_32() -> None:
    """Common practice; the usual slip is to count one side only, which gives 16 and 28."""
    woven = piece(
        """
make rosette as body
for side from 0 to 1:
    pass 2 small as left[side] through arm[3 * side + 1] of body
    pass 2 small as right[side] through arm[3 * side + 2] of body
    pass 2 large as point[side] through left[side], right[side]
expect 18 large, 32 small used
""",
        ROSETTE,
    )
    assert (count(woven, "large"), count(woven, "small"), len(woven.link_a)) == (18, 32, 128)
    assert nx.is_connected(graph(woven))


def test_a_join_that_stands_at_one_side_only_is_told() -> None:
    assert told(
        """
line chain of 3:
    if first:
        take 1 link
    else:
        pass 1 link joined to the one before by 1 link
"""
    ) == ["no-connector"]
