"""A mistake inside something larger: what was begun is given up, and nothing follows from it."""

from __future__ import annotations

import pytest
from bench_text import expanded, links, piece, told

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
