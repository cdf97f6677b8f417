"""The order of statements: loops, branches, numbers, steps, labels, remarks."""

import pytest
from bench_text import HEAD, expanded, indented, links, piece, told

from compiler.weave import SiteKind


def took(body: str) -> int:
    """How many rings a piece has."""
    return len(piece(body))


def test_loops_go_up_down_and_not_at_all() -> None:
    assert took("for k from 1 to 3:\n    take k link") == 6
    assert took("for k from 3 down to 2:\n    take k link") == 5
    assert took("for k from 1 to 0:\n    take k link\ntake 1 link") == 1
    assert took("for k from 0 down to 1:\n    take k link\ntake 1 link") == 1
    assert took("repeat 4 times:\n    take 2 link") == 8
    assert took("repeat 0 times:\n    take 2 link\ntake 1 link") == 1


def test_a_counter_ends_with_its_loop_and_may_be_used_again() -> None:
    assert took("for k from 1 to 2:\n    take k link\nfor k from 1 to 3:\n    take k link") == 9
    assert told("for k from 1 to 2:\n    take k link\ntake k link") == ["unknown-number"]
    assert told("for k from 1 to 2:\n    for k from 1 to 2:\n        take k link") == ["name-in-use"]


def test_a_number_in_a_loop_is_worked_out_anew() -> None:
    assert took("for k from 1 to 3:\n    let twice = 2 * k\n    take twice link") == 12
    assert told("let n = 1\nlet n = 2\ntake n link") == ["name-in-use"]


@pytest.mark.parametrize(
    ("total", "value"),
    [
        ("2 + 3 * 4", 14),
        ("(2 + 3) * 4", 20),
        ("7 mod 4", 3),
        ("12 / 4 / 3", 1),
        ("10 - 2 - 3", 5),
        ("-2 + 5", 3),
        ("-2 * -3", 6),
    ],
)
def test_sums_go_by_the_usual_order(total: str, value: int) -> None:
    assert took(f"take {total} link") == value


@pytest.mark.parametrize(
    ("condition", "holds"),
    [
        ("2 = 2", True),
        ("2 <> 2", False),
        ("1 < 2 and 2 <= 2", True),
        ("1 > 2 or 2 >= 3", False),
        ("4 is even", True),
        ("-3 is odd", True),
        ("not 4 is odd", True),
        ("not (1 = 1 or 1 = 2)", False),
    ],
)
def test_conditions(condition: str, holds: bool) -> None:
    assert took(f"if {condition}:\n    take 2 link\nelse:\n    take 1 link") == (2 if holds else 1)


def test_of_a_chain_of_branches_one_is_taken() -> None:
    body = "let k = {k}\nif k = 1:\n    take 1 link\nelse if k = 2:\n    take 2 link\nelse:\n    take 3 link"
    assert [took(body.format(k=k)) for k in (1, 2, 3)] == [1, 2, 3]


def test_a_long_chain_of_branches_is_gone_along_and_not_into() -> None:
    chain = "".join(f"else if k = {k}:\n    take {k} link\n" for k in range(1, 37))
    assert took(f"let k = 36\nif k = 0:\n    take 1 link\n{chain}") == 36


def test_a_branch_that_cannot_be_told_is_not_taken() -> None:
    assert told("if n = 1:\n    pass 1 link through nothing-there\nelse:\n    take 1 link") == [
        "unknown-number"
    ]


def test_steps_hold_what_stands_in_them_and_statements_outside_have_their_own() -> None:
    woven = piece(
        """
take 1 link as base
step "Two wings":
    note "Mind the sides."
    pass 1 link as left through base
    pass 1 link as right through base
pass 1 link as tail through base
tip "Rest."
"""
    )
    assert [(step.key, step.title, step.first, step.stop) for step in woven.steps] == [
        ("base", "", 0, 1),
        ("two-wings", "Two wings", 1, 3),
        ("tail", "", 3, 4),
    ]
    assert [len(step.events) for step in woven.steps] == [0, 1, 1]


def test_the_step_of_one_more_member_is_told_by_its_number() -> None:
    woven = piece("take 1 link as base\nfor k from 1 to 2:\n    pass 1 link as arm[k] through base")
    assert [(step.group, step.number) for step in woven.steps] == [(0, 0), (1, 0), (1, 2)]


def test_steps_in_a_loop_and_in_a_family_are_numbered_by_their_keys() -> None:
    woven = piece(
        """
take 1 link as base
repeat 2 times:
    step "Again":
        pass 1 link through base
line chain of 2:
    step "A place":
        pass 1 link through base
"""
    )
    assert [step.key for step in woven.steps] == ["base", "again", "again~2", "a-place", "a-place~2"]


def test_sites_tell_the_rounds_and_places_around_a_statement() -> None:
    body = "for k from 1 to 2:\n    line chain of 2:\n        take 1 link".replace("chain", "chain")
    weave, _ = expanded(
        f"{HEAD}piece earring:\n{indented('for k from 2 to 3:' + chr(10) + '    take 1 link')}"
    )
    woven = weave.pieces[0]
    chain = []
    site = woven.motions.site[1]
    while site >= 0:
        chain.append((weave.sites[site].kind, weave.sites[site].name, weave.sites[site].number))
        site = weave.sites[site].parent
    assert chain == [
        (SiteKind.STATEMENT, "", 0),
        (SiteKind.ROUND, "k", 3),
        (SiteKind.PIECE, "earring", 0),
    ]
    assert told(body) == ["name-in-use/again"]


def test_labels_name_groups_from_the_unit_outwards() -> None:
    woven = piece(
        """
label base "bottom", "bottoms"
take 1 link as base
pass 1 link as wing through base
pass 1 link through wing
""",
        'label link "plain ring"\n',
    )
    assert [(group.singular, group.plural) for group in woven.groups] == [
        ("bottom", "bottoms"),
        ("wing", "wings"),
        ("plain ring", "plain rings"),
    ]


def test_pieces_are_made_so_often_and_in_so_many_parts() -> None:
    weave, _ = expanded(
        f"{HEAD}kit: 3 link, 2 pairs of large, 1 hook\n"
        "piece one-of-two made 2 times, in 3 parts:\n    take 3 link\npiece other:\n    take 1 link\n"
    )
    assert [(one.name, one.times, one.parts) for one in weave.pieces] == [
        ("one-of-two", 2, 3),
        ("other", 1, 1),
    ]
    assert weave.kit is not None
    assert [(entry.kind, entry.count) for entry in weave.kit] == [("link", 3), ("large", 4), ("hook", 1)]


def test_an_expectation_that_holds_is_a_checkpoint() -> None:
    woven = piece(
        "take 2 link as base\npass 1 link as top through base\nexpect top holds 2 link\nexpect 2 links"
    )
    counts = [event.counts for step in woven.steps for event in step.events]
    assert counts == [(("link", 2),), (("links", 2),)]
    assert links(woven) == ["top 1 - base 1", "top 1 - base 2"]
