"""Limits: a short text cannot ask for more than the machine has, and is answered at once.

What would take minutes or run out of stack or memory if it were carried out; none of these is timed.
"""

import pytest
from bench_text import HEAD, expanded, piece, told

from notation.limits import DEEPEST_UNITS, MOST_DIAGNOSTICS, MOST_MEMBERS, MOST_RINGS, MOST_ROUNDS

HUGE = 10_000_000_000


@pytest.mark.parametrize(
    ("body", "rule"),
    [
        (f"for k from 1 to {HUGE}:\n    take k link", "too-many-rounds"),
        (f"for k from {HUGE} down to 1:\n    take k link", "too-many-rounds"),
        (f"repeat {HUGE} times:\n    take 1 link", "too-many-rounds"),
        (f"line chain of {MOST_ROUNDS + 1}:\n    take 1 link", "too-many-rounds"),
        (f"line chain of {HUGE}:\n    take 1 link", "too-many-rings"),
        (f"round hoop of {HUGE}:\n    take 1 link", "too-many-rings"),
        (f"sheet mesh of {HUGE} rows of {HUGE}:\n    take 1 link", "too-many-rings"),
        (f"sheet mesh of 1 to {HUGE}:\n    take 1 link", "too-many-rings"),
        (f"sheet mesh of {HUGE} down to 1:\n    take 1 link", "too-many-rings"),
        (f"sheet mesh of {HUGE} times (4, 5):\n    take 1 link", "too-many-rings"),
        ("sheet mesh of 1000 times (1000 times (1000 times (4))):\n    take 1 link", "too-many-rings"),
        (f"sheet mesh of {HUGE} times ({HUGE} times (4)):\n    take 1 link", "too-many-rings"),
        (f"sheet mesh of {MOST_RINGS}, 1:\n    take 1 link", "too-many-rings"),
        (f"take {HUGE} link", "too-many-rings"),
        (f"pass 1 link carrying {HUGE} link", "too-many-rings"),
        (f"pass {HUGE} link carrying 1 link", "too-many-rings"),
        (f"pass 1 link carrying {HUGE} drop", "too-many-rings/findings"),
        (f"line chain of 3:\n    pass 1 link joined all round by {HUGE} link", "too-many-rings"),
        ("sheet mesh of 1000 rows of 1000:\n    pass 3 link through the one below", "too-many-rings"),
        (f"take 1 link as base\npass 1 link through base[1 to {HUGE}]", "index-out-of-range/many"),
        (f"let n = {HUGE} * {HUGE}\ntake n link", "number-too-large"),
        (f"take 5 link as base\npass 1 link through {HUGE} along base", "group-spent/along"),
        (f"take 5 link as base\npass 1 link through first {HUGE} of base", "too-few-members"),
    ],
)
def test_what_is_asked_for_beyond_a_limit_is_told(body: str, rule: str) -> None:
    assert told(body) == [rule]


def test_an_index_too_large_for_the_number_of_a_member_is_an_index_all_the_same() -> None:
    made = piece(f"take 1 link as base[{HUGE}]\ntake 1 link as base[3]\npass 1 link through base[{HUGE}]")
    assert list(made.member) == [1, 3, 1]
    assert list(zip(made.link_a, made.link_b, strict=True)) == [(2, 0)]


def test_thousands_of_names_that_nobody_knows_are_not_each_compared_with_all() -> None:
    many = "\n".join(f"pass 1 link through nowhere_{number}" for number in range(MOST_DIAGNOSTICS + 5))
    rules = told(f"take 1 link as nowhere\n{many}")
    assert rules == ["unknown-name/close"] * MOST_DIAGNOSTICS + ["unknown-name"] * 5


def test_a_place_with_many_members_costs_what_it_has() -> None:
    made = piece("line chain of 2:\n    take 200000 link")
    assert len(made) == 400_000
    assert len(set(made.member)) == 400_000


def test_a_large_group_is_not_named_over_and_over(monkeypatch: pytest.MonkeyPatch) -> None:
    # The limit itself has a case; here it is that of a pattern a hundred times smaller.
    monkeypatch.setattr("compiler.expand.picks.MOST_MEMBERS", MOST_MEMBERS // 100)
    body = "take 2000 link as base\nfor k from 1 to 1000:\n    pass 1 link through base"
    rules = told(body)
    assert rules.count("too-many-statements/members") == 1
    assert set(rules) == {"too-many-statements/members", "path-too-long"}


def test_parts_of_a_large_group_cost_what_they_come_to() -> None:
    body = "take 20000 link as base\nfor k from 1 to 10000:\n    pass 1 link through next 2 of base"
    assert len(piece(body)) == 30_000


def test_nothing_is_carried_out_once_a_limit_is_passed() -> None:
    weave, _ = expanded(f"{HEAD}piece earring:\n    take {HUGE} link\n    take 1 link\n")
    assert len(weave.pieces[0]) == 0
    assert weave.pieces[0].broken
    assert not weave.complete


def test_units_may_lie_as_deep_as_said_and_no_deeper() -> None:
    def units(depth: int) -> str:
        inner = "".join(f"unit u{k}:\n    make u{k + 1}\n" for k in range(1, depth))
        return f"{inner}unit u{depth}:\n    take 1 link\n"

    assert len(piece("make u1", units(DEEPEST_UNITS))) == 1
    assert told("make u1", units(DEEPEST_UNITS + 1)) == ["units-too-deep"]


def test_blocks_and_units_together_do_not_run_out_of_stack() -> None:
    def unit(number: int, inner: str) -> str:
        lines = [f"unit u{number}:"]
        lines.extend("    " * depth + "repeat 1 times:" for depth in range(1, 37))
        return "\n".join([*lines, "    " * 37 + inner, ""])

    deep = "".join(unit(k, f"make u{k + 1}" if k < 30 else "take 1 link") for k in range(1, 31))
    assert told("make u1", deep) == ["units-too-deep/blocks"]
    families = "".join(
        f"unit u{k}:\n    if 1 = 1:\n        line f of 1:\n            make u{k + 1}\n" for k in range(1, 39)
    )
    assert len(piece("make u1", f"{families}unit u39:\n    take 1 link\n")) == 1


def test_a_unit_that_makes_itself_is_told_with_the_way_round() -> None:
    units = "unit a-b:\n    make c-d\nunit c-d:\n    make a-b\n"
    _, diagnostics = expanded(f"{HEAD}{units}piece earring:\n    make a-b\n")
    loop = [one for one in diagnostics if one.rule == "unit-in-itself"]
    assert [dict(one.arguments)["chain"] for one in loop] == ["a-b → c-d → a-b"]
