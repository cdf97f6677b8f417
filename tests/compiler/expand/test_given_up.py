"""A mistake inside something larger: what was begun is given up, and nothing follows from it."""

from __future__ import annotations

import pytest
from bench_text import HEAD, expanded, indented, links, piece, told

HANDED = "unit tail(port start):\n    line chain of 3, first is start:\n"
MAKE = "take 1 link as base\nmake tail with start = base"


def test_at_a_place_that_was_handed_in_nothing_is_taken() -> None:
    woven = piece(f"{MAKE}\npass 1 link as last_one through base", f"{HANDED}        take 1 link\n")
    assert len(woven) == 1 + 2 + 1
    assert links(woven) == ["last_one 1 - base 1"]


@pytest.mark.parametrize(
    ("statement", "rules"),
    [
        ("pass 1 link carrying 1 nothing", ["unknown-kind"]),
        ("pass 1 link joined all round by 1 nothing as seam", ["unknown-kind"]),
        ("pass 1 nothing carrying 1 link", ["unknown-kind"]),
        ("take 1 nothing", ["unknown-kind"]),
    ],
)
def test_at_a_place_that_was_handed_in_a_mistake_is_told_once(statement: str, rules: list[str]) -> None:
    assert told(MAKE, f"{HANDED}        {statement}\n") == rules


@pytest.mark.parametrize(
    ("twin", "rules"),
    [
        ("twin through nowhere", ["unknown-name"]),
        ("twin through base gathering nowhere", ["unknown-name"]),
        ("twin through base, base", ["linked-twice/path"]),
        ("twin through base", []),
    ],
)
def test_a_twin_that_cannot_go_its_way_is_told_and_what_it_leads_stays_made(
    twin: str, rules: list[str]
) -> None:
    text = f"take 2 large as base\npass 2 large as arm through base:\n    {twin}\npass 1 link through arm"
    assert told(text) == rules


@pytest.mark.parametrize(
    ("body", "rules"),
    [
        ("take 1 link as a\nfor each a in first of a:\n    pass 1 link through a", ["name-in-use"]),
        (
            "take 1 link as a\nfor each a in first of a:\n    take 1 link as b\npass 1 link through b",
            ["name-in-use"],
        ),
        ("for each x in nowhere:\n    take 1 link as b\npass 1 link through b", ["unknown-name"]),
        ("repeat nothing times:\n    take 1 link as b\npass 1 link through b", ["unknown-number"]),
        ("for k from 1 to nothing:\n    take 1 link as b\npass 1 link through b", ["unknown-number"]),
    ],
)
def test_a_loop_that_cannot_begin_is_told_and_what_it_would_have_made_is_not_missed(
    body: str, rules: list[str]
) -> None:
    assert told(body) == rules


@pytest.mark.parametrize(
    "body",
    [
        "repeat 9 times:\n    take 3 link",
        "for k from 1 to 9:\n    take 3 link",
        "for k from 9 down to 1:\n    take 3 link",
        "take 2 link as base\nfor each ring_of_it in base:\n    take 5 link",
        "line chain of 9:\n    take 3 link as more",
        "take 7 link as a\nhang hook from first of a",
        "take 7 link as a\nhang hook from first of a as ear",
    ],
)
def test_after_a_limit_nothing_more_is_carried_out(body: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("compiler.expand.context.MOST_RINGS", 7)
    assert [rule.partition("/")[0] for rule in told(f"{body}\npass 1 link through nowhere")] == [
        "too-many-rings"
    ]


@pytest.mark.parametrize(
    ("body", "links", "rules"),
    [
        ("take 2 large as base\npass 2 large through base", 3, ["too-many-rings/links"]),
        ("take 2 large as base\npass 2 large through base", 4, []),
        ("pass 2 large carrying 2 large", 3, ["too-many-rings/links"]),
        ("pass 2 large carrying 2 large", 4, []),
    ],
)
def test_links_are_counted_before_they_are_made(
    body: str, links: int, rules: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("compiler.expand.context.MOST_LINKS", links)
    assert told(body) == rules


@pytest.mark.parametrize(
    ("body", "rules"),
    [
        ("take 1 link as a\npass 1 link carrying 1 lanyard by start as d\nhang d[5] by end from a", 1),
        ("take 1 link as a\nhang nothing from a", 1),
        ("take 1 link as a\nhang hook from nowhere\nhang hook from a", 1),
        ("hang nothing from nowhere as n\npass 1 link through n", 2),
    ],
)
def test_what_cannot_be_hung_is_told(body: str, rules: int) -> None:
    assert len(told(body)) == rules


def test_a_gap_counts_only_what_was_put_into_gaps_of_the_same_ring() -> None:
    body = """
pass 1 link as hub carrying 3 link as spoke
pass 1 link as other carrying 3 link as arm
pass 1 link as cap through spoke[1] over spoke[2]
pass 1 link as fifth through other between arm[1] and arm[2]
pass 1 link as second through hub between spoke[1] and spoke[2]
pass 1 link as third through hub between spoke[1] and second
pass 1 link as fourth through other between fifth and arm[2]
"""
    assert told(body) == []
    assert told(f"{body}pass 1 link through hub between spoke[1] and spoke[2]\n") == ["not-neighbours"]
    assert told(f"{body}pass 1 link through other between arm[3] and arm[1]\n") == []


@pytest.mark.parametrize(
    ("names", "letters"),
    [
        (("arm", "\u0430rm"), "U+0430 cyrillic small letter a"),
        (("tip-one", "tip-\u043ene"), "U+043E cyrillic small letter o"),
        (("\u0430rm", "arm"), "U+0061 latin small letter a"),
        (("arm", "\uff41rm"), "U+FF41 fullwidth latin small letter a"),
        (("fi", "\ufb01"), "U+FB01 latin small ligature fi"),
    ],
)
def test_a_name_that_looks_like_another_is_told_with_the_letter_in_which_it_differs(
    names: tuple[str, str], letters: str
) -> None:
    first, second = names
    text = 'title "Corvus"\nring link: inner 5 mm, wire 0.9 mm, metal copper\npiece earring:\n'
    text += f"    take 1 link as {first}\n    take 1 link as {second}\n"
    _, diagnostics = expanded(text)
    found = [one for one in diagnostics if one.rule == "look-alike-name"]
    assert [dict(one.arguments) for one in found] == [{"name": second, "letters": letters}]


def arguments(body: str, rule: str, before: str = "") -> dict[str, object]:
    """What the first report of a rule says."""
    _, diagnostics = expanded(f"{HEAD}{before}\npiece earring:\n{indented(body)}")
    return dict(next(one for one in diagnostics if one.rule == rule).arguments)


def test_a_ring_alone_is_no_companion_of_another() -> None:
    said = arguments("take 1 link as a\nexpect a is side by side", "not-as-expected")
    assert said == {"name": "a", "there": "alone", "wanted": "side by side"}
    said = arguments("take 2 large nested as a\nexpect a is front and back", "not-as-expected")
    assert said == {"name": "a", "there": "nested", "wanted": "front and back"}


def test_a_name_that_comes_later_may_be_the_one_that_is_meant() -> None:
    later = "take 1 link as a\npass 1 link through fristname\npass 1 link as firstname through a"
    assert arguments(later, "unknown-name") == {"close": "firstname", "name": "fristname"}


def test_a_finding_in_the_work_may_be_the_one_that_is_meant() -> None:
    body = "take 1 link as a\npass 1 link carrying 1 lanyard by start as first_chain\nhang frist_chain by end from a"
    assert arguments(body, "unknown-finding") == {"close": "first_chain", "name": "frist_chain"}
    inside = f"line wing of 1:\n{indented(body)}"
    assert arguments(inside, "unknown-finding") == {"close": "first_chain", "name": "frist_chain"}


@pytest.mark.parametrize(
    "carried",
    ["1 link by start", "2 small and 1 nothing", "1 drop by nothing", "1 drop as base"],
)
def test_what_cannot_be_carried_is_told_once_and_nothing_is_made(carried: str) -> None:
    body = f"take 1 link as base\npass 1 link as arm through base carrying {carried}\npass 1 link through arm"
    assert len(told(body)) == 1


def test_a_path_may_have_two_hundred_rings_and_no_more() -> None:
    base = "take 201 link as base\n"
    assert told(f"{base}pass 1 link through base[1 to 200]") == []
    assert arguments(f"{base}pass 1 link as a through base\npass 1 link through a", "path-too-long") == {
        "count": 201,
        "limit": 200,
    }
    assert told(f"{base}pass 1 link as a through base\npass 1 link through a") == ["path-too-long"]


def test_a_pick_may_have_ten_thousand_numbers_and_no_more() -> None:
    base = "take 10001 link as base\n"
    assert told(f"{base}fold base[1 to 10000] back onto base[10001]") == []
    assert told(f"{base}fold base[1 to 10001] back onto base[1]") == ["index-out-of-range/many"]


def test_a_port_is_the_name_of_the_place_that_was_handed_in_first_or_last() -> None:
    unit = """
unit tail(port start, port end):
    line chain of 3, first is start, last is end:
        if first:
            take 1 link
        else:
            pass 1 link through the one before
    pass 1 link as from_start through start
    pass 1 link as from_end through end
"""
    assert links(piece("make tail", unit))[-2:] == [
        "tail/from_start 1 - tail/chain 1",
        "tail/from_end 1 - tail/chain 3",
    ]


def test_kinds_that_a_used_file_takes_are_used() -> None:
    others = {
        "units.annulet": "ring big: inner 5 mm, wire 0.9 mm, metal copper\nunit rosette:\n    take 1 big\n",
    }
    text = 'title "Corvus"\nuse "units.annulet" as shared with big = large\n'
    text += "ring large: inner 5 mm, wire 0.9 mm, metal copper\npiece earring:\n    make rosette of shared\n"
    _, diagnostics = expanded(text, others)
    assert [one.rule for one in diagnostics] == []


def test_next_goes_on_within_a_use_that_stands_at_a_place() -> None:
    unit = "unit wheel:\n    pass 1 link as hub carrying 3 link as spoke\n"
    body = """
line wheels of 2:
    make wheel
repeat 3 times:
    pass 1 link through next of spoke of wheels[2]
take 1 link as last_one
pass 1 link through last_one
"""
    assert told(f"{body}pass 1 link through next of spoke of wheels[2]", unit) == ["group-spent/none"]
    assert told(f"{body}pass 1 link through next of spoke of wheels[1]", unit) == []
