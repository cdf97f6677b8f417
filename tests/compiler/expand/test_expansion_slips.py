"""One slip is told once: not again in every round, and not by what follows from it."""

import pytest
from bench_text import HEAD, expanded, indented, told


@pytest.mark.parametrize(
    ("body", "rules"),
    [
        # in every round and at every place
        ("take 1 link as base\nrepeat 50 times:\n    pass 1 link through bse", ["unknown-name/close"]),
        ("line chain of 50:\n    pass 1 link through quincunx", ["unknown-name"]),
        # names that would have been made
        (
            "pass 1 link as a through quincunx\npass 1 link as b through a\npass 1 link through b",
            ["unknown-name"],
        ),
        ("pass 1 quincunx as a\npass 1 link as b through a", ["unknown-kind"]),
        (
            "pass 1 link as a through quincunx carrying 2 link as load\npass 1 link through load",
            ["unknown-name"],
        ),
        ("make quincunx as a\npass 1 link through tip of a", ["unknown-unit"]),
        ("line arm of 3:\n    make quincunx\npass 1 link through tip of arm[2]", ["unknown-unit"]),
        ("hang quincunx from nothing-here as a\npass 1 link through a", ["unknown-finding", "unknown-name"]),
        ("pass 1 link carrying 1 quincunx as glass\npass 1 link through glass", ["unknown-kind"]),
        ("let n = 7 / 2\ntake n link as a\nrepeat n times:\n    pass 1 link through a", ["not-whole"]),
        ("for k from 1 to 7 / 2:\n    pass 1 link as arm[k]\npass 1 link through arm", ["not-whole"]),
        ("line arm of 7 / 2:\n    take 1 link\npass 1 link through arm[1], last of arm", ["not-whole"]),
        (
            "sheet mesh of 0 times (3):\n    pass 1 link through the one below\npass 1 link through mesh",
            ["no-rows"],
        ),
        (
            "take 1 link as a\nline a of 3:\n    pass 1 link carrying 1 link as wing\npass 1 link through wing",
            ["name-in-use"],
        ),
        ("line drop of 3:\n    take 1 link\npass 1 link through drop[2]", ["name-in-use"]),
        ("take 1 link as drop\npass 1 link through drop", ["name-in-use"]),
        (
            "line chain of 3:\n    if first:\n        pass 1 link carrying 1 quincunx as wing\n    else:\n"
            "        pass 1 link carrying 1 link as wing\npass 1 link through wing, wing of chain[2]",
            ["unknown-kind"],
        ),
        # made later, in a branch
        (
            "take 1 link as base\npass 1 link through right\nif 1 = 2:\n    take 1 link\nelse:\n"
            "    pass 1 link as right through base",
            ["not-made-yet"],
        ),
        # what would have been gone over
        (
            "take 2 link as base\npass 1 link as a through quincunx\nfor each end in a, base:\n"
            "    pass 1 link as b through end",
            ["unknown-name"],
        ),
        # counts are not asked for in a piece that is wrong
        ("pass 1 link through quincunx\nexpect 5 link used\nexpect 3 links", ["unknown-name"]),
        ("take 6 link as base\npass 1 link through quincunx, next 2 of base", ["unknown-name"]),
        # a wrong row count and what lies in the family
        ("sheet mesh of 2 rows of 3:\n    pass 2 quincunx through the one below", ["unknown-kind"]),
    ],
)
def test_what_follows_from_a_slip_is_not_told(body: str, rules: list[str]) -> None:
    assert told(body) == rules


def test_what_could_not_be_read_is_not_asked_after() -> None:
    body = "pass 1 link as a throgh base\npass 1 link through a\nlet n = \nrepeat n times:\n    pass 1 link through a"
    rules = told(body)
    assert len(rules) == 2
    assert not [rule for rule in rules if rule.startswith(("unknown-n", "not-made"))]


def test_a_kind_that_is_wrong_is_told_where_it_is_declared() -> None:
    _, diagnostics = expanded(
        'title "X"\nring link: inner 5 mm, wire 1 mm, metal coper\npiece p:\n    take 3 link as base\n'
        "    pass 1 link as a through base\n    pass 1 link through a\n"
    )
    assert [one.rule for one in diagnostics] == ["unknown-metal"]


def test_independent_slips_are_all_told() -> None:
    assert told("take 7 / 2 link\npass 1 link through quincunx\nmake nothing-here\ntake 0 link") == [
        "not-whole",
        "unknown-name",
        "unknown-unit",
        "count-too-small",
    ]


def test_a_slip_in_one_piece_leaves_the_other_whole() -> None:
    weave, diagnostics = expanded(
        f"{HEAD}piece good:\n{indented('take 1 link')}piece bad:\n{indented('pass 1 link through quincunx')}"
    )
    assert [one.broken for one in weave.pieces] == [False, True]
    assert not weave.complete
    assert [one.rule for one in diagnostics if one.rule != "unused-kind"] == ["unknown-name"]


def test_a_slip_in_a_unit_is_told_with_the_way_there() -> None:
    before = "unit arm:\n    line link-of of 3:\n        for k from 1 to 2:\n            pass 1 link through quincunx\n"
    _, diagnostics = expanded(f"{HEAD}{before}piece earring:\n    repeat 3 times:\n        make arm\n")
    (found,) = [one for one in diagnostics if one.rule == "unknown-name"]
    assert [frame.note for frame in found.trace] == [
        "in-round",
        "at-place",
        "in-use",
        "in-repeat",
        "in-piece",
    ]


def test_the_same_text_gives_the_same_weave_and_diagnostics() -> None:
    text = f"{HEAD}piece earring:\n{indented('take 3 link as base' + chr(10) + 'pass 1 link through bse, quincunx')}"
    first, second = expanded(text), expanded(text)
    assert first[1] == second[1]
    assert first[0].pieces[0].link_a == second[0].pieces[0].link_a
    assert first[0].sites == second[0].sites
