"""Picks: by number, first and last, next, along, and what grows."""

import pytest
from bench_text import HEAD, expanded, indented, links, piece, told

SIX = "take 6 link as base\n"


def through(pick: str, before: str = SIX) -> list[str]:
    """What a pass through a pick goes through."""
    woven = piece(f"{before}pass 1 link as a through {pick}")
    return [pair.partition(" - ")[2] for pair in links(woven) if pair.startswith("a ")]


@pytest.mark.parametrize(
    ("pick", "members"),
    [
        ("base", [1, 2, 3, 4, 5, 6]),
        ("base[2]", [2]),
        ("base[2 to 4]", [2, 3, 4]),
        ("base[4 down to 2]", [4, 3, 2]),
        ("first of base", [1]),
        ("last of base", [6]),
        ("first 2 of base", [1, 2]),
        ("last 2 of base", [5, 6]),
        ("first 2 of base[3 to 6]", [3, 4]),
        ("next of base", [1]),
        ("next 3 of base", [1, 2, 3]),
        ("2 along base", [1, 2]),
        ("base[1], base[3]", [1, 3]),
    ],
)
def test_members_are_picked_in_order(pick: str, members: list[int]) -> None:
    assert through(pick) == [f"base {member}" for member in members]


def test_next_takes_each_member_once_and_other_picks_do_not_move_it() -> None:
    woven = piece(
        f"""
{SIX}
pass 1 link as a through next 2 of base
pass 1 link as b through base[1]
pass 1 link as c through next 2 of base
pass 1 link as d through first of base, next 2 of base
"""
    )
    assert [pair for pair in links(woven) if pair[0] in "acd"] == [
        "a 1 - base 1",
        "a 1 - base 2",
        "c 1 - base 3",
        "c 1 - base 4",
        "d 1 - base 1",
        "d 1 - base 5",
        "d 1 - base 6",
    ]


def test_along_walks_by_one_or_by_its_step() -> None:
    woven = piece(
        f"""
{SIX}
for k from 1 to 5:
    pass 1 link as a[k] through 2 along base
take 6 link as row
for k from 1 to 3:
    pass 1 link as b[k] through 2 along row step 2
"""
    )
    assert [pair for pair in links(woven) if pair[0] == "a"] == [
        f"a {k} - base {m}" for k in range(1, 6) for m in (k, k + 1)
    ]
    assert [pair for pair in links(woven) if pair[0] == "b"] == [
        f"b {k} - row {m}" for k in range(1, 4) for m in (2 * k - 1, 2 * k)
    ]


def test_along_a_round_goes_over_its_end_once() -> None:
    body = """
round hoop of 4:
    pass 1 link through the one before and the one after
for k from 1 to {rounds}:
    pass 1 link as a[k] through 2 along hoop
"""
    woven = piece(body.format(rounds=4))
    assert links(woven)[-2:] == ["a 4 - hoop 4", "a 4 - hoop 1"]
    assert told(body.format(rounds=5)) == ["group-spent/along"]


@pytest.mark.parametrize(
    ("rounds", "rule"), [(2, ["left-over/"]), (3, []), (4, ["group-spent/none"]), (1, ["left-over/"])]
)
def test_what_next_leaves_is_told(rounds: int, rule: list[str]) -> None:
    body = f"{SIX}for k from 1 to {rounds}:\n    pass 1 link as a[k] through next 2 of base"
    _, diagnostics = expanded(f"{HEAD}piece earring:\n{indented(body)}")
    assert [f"{one.rule}/{one.variant}" for one in diagnostics if one.rule != "unused-kind"] == rule


def test_pairs_are_counted_in_pairs() -> None:
    before = "take 12 small as spoke\n"
    assert through("next pair of spoke", before) == ["spoke 1", "spoke 1'"]
    assert through("next 2 pairs of spoke", before) == ["spoke 1", "spoke 1'", "spoke 2", "spoke 2'"]
    assert through("spoke[6]", before) == ["spoke 6", "spoke 6'"]
    assert told(before + "pass 1 link through next 2 of spoke") == ["count-unclear"]
    assert told("take 6 triple as leaf\npass 1 link through next triple of leaf") == []
    assert told("take 6 triple as leaf\npass 1 link through next pair of leaf") == ["not-bundled"]


def test_a_group_grows_where_it_is_told_to() -> None:
    woven = piece(
        """
pass 2 large as heart carrying 10 small as spoke
reopen heart carrying 2 small added to spoke
expect 12 small used
expect heart holds 12
"""
    )
    assert woven.member[-1] == 6


def test_numbers_of_members_are_never_given_twice() -> None:
    woven = piece(
        """
take 1 link as base
for k from 2 to 4:
    pass 1 link as arm[k] through base
pass 1 link added to arm through base
pass 1 link as arm[5] through base
pass 1 link as arm[1] through base
"""
    )
    assert woven.member.tolist()[1:] == [2, 3, 4, 5, 6, 1]


def test_for_each_goes_over_what_is_named() -> None:
    woven = piece(
        f"""
{SIX}
for each end in first of base, base[3 to 4], last of base:
    pass 1 link through end carrying 1 link
"""
    )
    assert [pair for pair in links(woven) if "base" in pair] == [
        "link 1 - base 1",
        "link 3 - base 3",
        "link 5 - base 4",
        "link 7 - base 6",
    ]


def test_a_port_of_several_is_walked_like_a_group() -> None:
    before = "unit edge:\n    take 4 link as seed\n    port row = seed[1 to 3]\n"
    woven = piece(
        "make edge as e\nfor k from 1 to 3:\n    pass 1 link as a[k] through next of row of e", before
    )
    assert links(woven) == ["a 1 - e/seed 1", "a 2 - e/seed 2", "a 3 - e/seed 3"]


def test_a_family_is_walked_place_by_place() -> None:
    woven = piece(
        """
line arm of 3:
    pass 2 large carrying 2 small
for k from 1 to 3:
    pass 1 link as a[k] through next of arm
"""
    )
    assert links(woven)[-2:] == ["a 3 - arm 3", "a 3 - arm 3'"]
