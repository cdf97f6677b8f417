"""Families: who is whose neighbour, in every kind, stagger and direction."""

import pytest
from bench_text import graph, links, piece, told


def test_a_line_goes_on_from_the_one_before() -> None:
    woven = piece("line chain of 4:\n    pass 1 link through the one before")
    assert links(woven) == ["chain 2 - chain 1", "chain 3 - chain 2", "chain 4 - chain 3"]


def test_the_ends_of_a_line_leave_out_what_is_not_there() -> None:
    woven = piece("line chain of 4:\n    pass 1 link through the two before")
    assert links(woven) == [
        "chain 2 - chain 1",
        "chain 3 - chain 1",
        "chain 3 - chain 2",
        "chain 4 - chain 2",
        "chain 4 - chain 3",
    ]


def test_a_round_closes_where_the_one_after_is_the_first() -> None:
    woven = piece("round hoop of 4:\n    pass 1 link through the one before and the one after")
    assert links(woven) == ["hoop 2 - hoop 1", "hoop 3 - hoop 2", "hoop 4 - hoop 3", "hoop 4 - hoop 1"]


def test_a_round_of_two_cannot_be_joined_twice() -> None:
    assert told("round hoop of 2:\n    pass 1 link through the one before and the one after") == [
        "linked-twice/path"
    ]


@pytest.mark.parametrize(
    ("options", "said", "expected"),
    [
        # straight above one another
        ("2 rows of 3", "the one below", ["2.1 - 1.1", "2.2 - 1.2", "2.3 - 1.3"]),
        (
            "2 rows of 3",
            "the three below",
            ["2.1 - 1.1", "2.1 - 1.2", "2.2 - 1.1", "2.2 - 1.2", "2.2 - 1.3", "2.3 - 1.2", "2.3 - 1.3"],
        ),
        # every second row half a place to the right
        (
            "3 rows of 2, staggered",
            "the two below",
            ["2.1 - 1.1", "2.1 - 1.2", "2.2 - 1.2", "3.1 - 2.1", "3.2 - 2.1", "3.2 - 2.2"],
        ),
        # each row half a place further to the right, or to the left
        (
            "3 rows of 2, leaning right",
            "the two below",
            ["2.1 - 1.1", "2.1 - 1.2", "2.2 - 1.2", "3.1 - 2.1", "3.1 - 2.2", "3.2 - 2.2"],
        ),
        (
            "3 rows of 2, leaning left",
            "the two below",
            ["2.1 - 1.1", "2.2 - 1.1", "2.2 - 1.2", "3.1 - 2.1", "3.2 - 2.1", "3.2 - 2.2"],
        ),
        # on the middle of the row below
        ("1 to 2, centred", "the two below", ["2.1 - 1.1", "2.2 - 1.1"]),
        ("2 down to 1, centred", "the two below", ["2.1 - 1.1", "2.1 - 1.2"]),
        ("3, 1, centred", "the one below", ["2.1 - 1.2"]),
        ("3, 1, centred", "the three below", ["2.1 - 1.1", "2.1 - 1.2", "2.1 - 1.3"]),
        # one of two
        ("2 rows of 2, staggered", "the left of the two below", ["2.1 - 1.1", "2.2 - 1.2"]),
        ("2 rows of 2, staggered", "the right of the two below", ["2.1 - 1.2"]),
        # rows that go down: what is there lies above
        ("2 rows of 2, downward", "the one above", ["2.1 - 1.1", "2.2 - 1.2"]),
        ("2 rows of 2", "the one before", ["1.2 - 1.1", "2.2 - 2.1"]),
        ("2 rows of 3", "the left of the two before", ["1.2 - 1.1", "1.3 - 1.1", "2.2 - 2.1", "2.3 - 2.1"]),
    ],
)
@pytest.mark.parametrize("bulk", [True, False])
def test_neighbours_in_a_sheet(options: str, said: str, expected: list[str], bulk: bool) -> None:
    more = "" if bulk else '\n    note "Place by place."'
    woven = piece(f"sheet mesh of {options}:\n    pass 1 link through {said}{more}")
    assert links(woven) == [
        f"mesh {actor} - mesh {met}" for actor, met in (pair.split(" - ") for pair in expected)
    ]


def test_a_tube_has_the_neighbours_of_its_edges_all_round() -> None:
    woven = piece("tube cuff of 3 rows of 4, staggered:\n    pass 1 link through the two below")
    degrees = sorted(dict(graph(woven).degree()).values())
    assert degrees == [2] * 8 + [4] * 4
    assert "cuff 2.4 - cuff 1.1" in links(woven)


def test_widths_go_by_list_and_rule() -> None:
    woven = piece("sheet mesh of 1 to 3, 2 times (2, 3), 7, 2 down to 1:\n    take 1 link")
    shape = woven.groups[0].shape
    assert shape is not None
    assert shape.widths == (1, 2, 3, 2, 3, 2, 3, 7, 2, 1)


def test_first_and_last_are_places_of_the_family() -> None:
    woven = piece(
        """
line chain of 4:
    if first:
        take 1 link
    else if last:
        pass 2 link through the one before
    else:
        pass 1 link through the one before
"""
    )
    assert links(woven) == [
        "chain 2 - chain 1",
        "chain 3 - chain 2",
        "chain 4 - chain 3",
        "chain 4' - chain 3",
    ]


def test_a_place_may_have_several_members_and_the_one_before_means_all_of_them() -> None:
    woven = piece(
        "line chain of 2:\n    if first:\n        take 2 link\n    else:\n        pass 1 link through the one before"
    )
    assert list(woven.link_b) == [0, 1]


def test_names_made_at_a_place_belong_to_it() -> None:
    woven = piece(
        """
line chain of 3:
    if first:
        pass 1 link carrying 1 link as wing
    else:
        pass 1 link through wing of the one before carrying 1 link as wing
"""
    )
    assert links(woven) == [
        "chain 1 - wing 1",
        "chain 2 - wing 1",
        "chain 2 - wing 2",
        "chain 3 - wing 2",
        "chain 3 - wing 3",
    ]


def test_all_wings_together_are_one_group_outside_the_family() -> None:
    woven = piece(
        """
line chain of 3:
    pass 1 link through the one before carrying 1 link as wing
pass 1 link as bar through wing
pass 1 link through wing of chain[2]
"""
    )
    assert links(woven)[-4:] == ["bar 1 - wing 1", "bar 1 - wing 2", "bar 1 - wing 3", "link 1 - wing 2"]


def test_if_there_leaves_out_what_lies_beyond_the_edge() -> None:
    woven = piece(
        """
sheet mesh of 2 rows of 2:
    take 1 link
for k from 0 to 3:
    pass 1 link as top[k] through mesh[2, k] if there, mesh[1, 1]
pass 1 link as far through mesh[3, 1] if there, mesh[1, 1]
"""
    )
    assert links(woven) == [
        "top 1 - mesh 1.1",
        "top 2 - mesh 2.1",
        "top 2 - mesh 1.1",
        "top 3 - mesh 2.2",
        "top 3 - mesh 1.1",
        "top 4 - mesh 1.1",
        "far 1 - mesh 1.1",
    ]


def test_if_there_asks_for_the_place_that_a_part_is_of() -> None:
    woven = piece(
        """
line arm of 2:
    pass 1 link carrying 1 link as tip
take 1 link as base
for k from 1 to 3:
    pass 1 link as out[k] through tip of arm[k] if there, base
"""
    )
    assert links(woven)[2:] == [
        "out 1 - tip 1",
        "out 1 - base 1",
        "out 2 - tip 2",
        "out 2 - base 1",
        "out 3 - base 1",
    ]


def test_a_row_of_a_sheet_is_a_step_and_a_place_of_a_line_is_one() -> None:
    woven = piece(
        """
sheet mesh of 2 rows of 3:
    pass 1 link through the one below
line chain of 2:
    pass 1 link through mesh[2, 1]
"""
    )
    assert [(step.key, step.number, step.stop - step.first) for step in woven.steps] == [
        ("mesh[1]", 1, 3),
        ("mesh[2]", 2, 3),
        ("chain[1]", 1, 1),
        ("chain[2]", 2, 1),
    ]
