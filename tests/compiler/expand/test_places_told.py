"""Picks, places and traces: what has no next, where rings cannot be put, and where a mistake is said to be."""

from __future__ import annotations

import pytest
from bench_text import HEAD, expanded, indented, links, piece, told


def arguments(body: str, rule: str, before: str = "") -> dict[str, object]:
    """What the first report of a rule says."""
    _, diagnostics = expanded(f"{HEAD}{before}\npiece earring:\n{indented(body)}")
    return dict(next(one for one in diagnostics if one.rule == rule).arguments)


WHEEL = "unit wheel:\n    pass 1 link as hub carrying 3 link as spoke\n"
WHEELS = "line wheels of 2:\n    make wheel\n"
MESH = "sheet mesh of 2 rows of 3:\n    take 1 link\n"


@pytest.mark.parametrize(
    ("body", "rules"),
    [
        ("pass 1 link through next of nowhere", ["unknown-name"]),
        ("pass 1 link through next of nowhere[1]", ["unknown-name"]),
        ("pass 1 link through next of spoke of nowhere", ["unknown-name"]),
        (f"{MESH}pass 1 link through next of mesh[9]", ["index-out-of-range/row"]),
        (f"{MESH}pass 1 link through next of mesh[1 to 2]", ["next-of-what"]),
        (f"{MESH}pass 1 link through next of mesh[1]", []),
        (f"{WHEELS}pass 1 link through next of spoke of wheels", ["next-of-what"]),
        (f"{WHEELS}pass 1 link through next of spoke of wheels[1]", []),
        (f"{WHEELS}pass 1 link through next of rim of wheels[1]", ["next-of-what"]),
        ("make wheel as own\npass 1 link through next of spoke of own", []),
        ("make wheel as own\npass 1 link through next of own", ["next-of-what"]),
        ("take 1 nothing as a\npass 1 link through next of a", ["unknown-kind"]),
        ("take 3 link as a\npass 1 link through 2 along a step nothing", ["unknown-number"]),
        ("take 3 link as a\npass 1 link through nothing along a", ["unknown-number"]),
        ("take 1 link as a\npass 1 link through tip of a", ["no-parts-here"]),
        ("pass 1 link carrying 1 drop as d\npass 1 link through tip of d", ["unknown-eye"]),
    ],
)
def test_what_has_no_next_is_told(body: str, rules: list[str]) -> None:
    assert told(body, WHEEL) == rules


@pytest.mark.parametrize(
    ("body", "rules"),
    [
        ("line a of 2:\n    take 1 link as x\n    take 1 link as x", ["name-in-use"]),
        ("take 1 link as x\nline a of 2:\n    take 1 link as x", ["name-in-use"]),
        ("line a of 2:\n    take 1 nothing as x\n    take 1 link as x", ["unknown-kind"]),
        ("take 1 nothing as x\ntake 1 link added to x", ["unknown-kind"]),
        (f"{MESH}take 1 link added to mesh", ["unknown-group/family"]),
        ("take 1 link as x\ntake 1 link added to x", []),
    ],
)
def test_where_rings_cannot_be_put_is_told(body: str, rules: list[str]) -> None:
    assert told(body) == rules


@pytest.mark.parametrize(
    ("picked", "links_made"),
    [("mesh[3, 1]", 0), ("mesh[1, 4]", 0), ("mesh[2, 3]", 1), ("mesh[0, 1]", 0), ("tip of mesh[3, 1]", 0)],
)
def test_what_lies_beyond_the_edge_is_left_out_if_there_is_said(picked: str, links_made: int) -> None:
    woven = piece(f"{MESH}take 1 link as base\npass 1 link through base, {picked} if there")
    assert len(woven.link_a) == 1 + links_made


def test_a_row_of_a_tube_is_walked_along_all_round() -> None:
    tube = "tube cuff of 2 rows of 3:\n    take 1 link\n"
    walk = "repeat 3 times:\n    pass 1 link through 2 along cuff[1]\n"
    assert links(piece(tube + walk))[-2:] == ["link 3 - cuff 1.3", "link 3 - cuff 1.1"]
    sheet = tube.replace("tube", "sheet")
    assert told(sheet + walk) == ["group-spent/along"]


def test_next_goes_on_with_what_the_places_of_a_family_have_of_a_name() -> None:
    body = "line arm of 2:\n    pass 1 link carrying 2 link as tip\n"
    through = "pass 1 link through next of tip of arm[2]\n"
    assert links(piece(body + through * 2))[-2:] == ["link 1 - tip 3", "link 2 - tip 4"]
    assert told(body + through * 3) == ["group-spent/none"]


def test_the_trace_of_a_mistake_says_in_which_row_and_place_it_is() -> None:
    def trace(family: str) -> list[tuple[str, dict[str, object]]]:
        body = f"{family}:\n    if last:\n        pass 1 link through nowhere\n    else:\n        take 1 link"
        _, diagnostics = expanded(f"{HEAD}\npiece earring:\n{indented(body)}")
        (one,) = [each for each in diagnostics if each.rule == "unknown-name"]
        return [(frame.note, dict(frame.arguments)) for frame in one.trace]

    piece_of = ("in-piece", {"name": "earring"})
    in_row = ("at-place-in-row", {"name": "mesh", "row": 2, "place": 3})
    assert trace("sheet mesh of 2 rows of 3") == [in_row, piece_of]
    assert trace("line chain of 4") == [("at-place", {"name": "chain", "place": 4}), piece_of]


def test_the_companions_of_a_sheet_are_at_most_twelve() -> None:
    sheet = "sheet mesh of 2 rows of 3:\n    pass {} link side by side through the one below\n"
    assert told(sheet.format(12)) == []
    assert arguments(sheet.format(13), "too-many-companions") == {"count": 13, "limit": 12}
    assert told(sheet.format(13)) == ["too-many-companions"]


def test_a_loop_forgets_its_name_and_where_it_was() -> None:
    body = """
take 2 link as base
for each ring_of_it in base:
    pass 1 link through ring_of_it
for each ring_of_it in base:
    pass 1 link through ring_of_it
pass 1 link as last_one through first of base
"""
    weave, diagnostics = expanded(f"{HEAD}\npiece earring:\n{indented(body)}")
    assert [one.rule for one in diagnostics if not one.rule.startswith(("unused", "left"))] == []
    (woven,) = weave.pieces
    site = weave.sites[woven.motions.site[woven.born[-1]]]
    assert weave.sites[site.parent].name == "earring"
    (rule,) = told(f"{body}pass 1 link through ring_of_it")
    assert rule.startswith("unknown-name")


def test_a_port_that_was_not_handed_in_is_told_where_it_is_used() -> None:
    unit = "unit tail(port start):\n    take 1 link as own\n    pass 1 link through start\n"
    assert told("make tail", unit) == ["port-not-given"]
    assert told("take 1 link as a\nmake tail with start = a", unit) == []


def test_kinds_of_a_file_that_is_used_by_a_used_file_are_used() -> None:
    others = {
        "a.annulet": 'use "b.annulet" as more with small = big\nring big: inner 5 mm, wire 0.9 mm, metal copper\n'
        "unit outer:\n    make inner_one of more\n",
        "b.annulet": "ring small: inner 5 mm, wire 0.9 mm, metal copper\nunit inner_one:\n    take 1 small\n",
    }
    text = 'title "Corvus"\nuse "a.annulet" as shared with big = large\n'
    text += "ring large: inner 5 mm, wire 0.9 mm, metal copper\npiece earring:\n    make outer of shared\n"
    assert [one.rule for one in expanded(text, others)[1]] == []


@pytest.mark.parametrize(
    ("body", "rules"),
    [
        ("pass 1 link through the one below", ["no-family-here"]),
        ("line a of 2:\n    pass 1 link through the one below", ["no-family-here/rows"]),
        ("line a of 2:\n    pass 1 link through the one above", ["no-family-here/rows"]),
        ("line a of 2:\n    take 1 link\n    pass 1 link as b through the one before if there", []),
        ("tube a of 2 rows of 3, closed with 1 half turn:\n    take 1 link", ["rows-close-themselves"]),
        ("tube a of 2 rows of 3, closed with 2 half turns:\n    take 1 link", []),
        ("tube a of 1 rows of 3, closed with 1 half turn:\n    take 1 link", []),
        ("round a of 3, closed with 1 half turn:\n    take 1 link", []),
    ],
)
def test_neighbours_and_half_turns_are_asked_for_where_there_are_some(body: str, rules: list[str]) -> None:
    assert told(body) == rules


def test_what_went_wrong_in_one_thing_carried_does_not_hide_the_next() -> None:
    body = "take 1 link as base\npass 1 link through base carrying 1 link by start and 1 nothing"
    assert sorted(told(body)) == ["no-eye-here", "unknown-kind"]
    assert told("pass 1 link carrying 1 drop by nothing and 1 nothing") == ["unknown-eye", "unknown-kind"]


@pytest.mark.parametrize(
    ("statement", "unused"),
    [
        ("take 1 link", ["large"]),
        ("take 1 nothing", []),
        ("hang nothing from base", []),
        ("pass 1 link through nowhere", ["large"]),
    ],
)
def test_that_a_kind_is_not_used_is_not_told_beside_one_that_nobody_knows(
    statement: str, unused: list[str]
) -> None:
    kinds = "ring link: inner 5 mm, wire 0.9 mm, metal copper\nring large: inner 5 mm, wire 0.9 mm, metal copper\n"
    text = f'title "Corvus"\n{kinds}piece earring:\n    take 1 link as base\n    {statement}\n'
    told_of = [dict(one.arguments)["name"] for one in expanded(text)[1] if one.rule == "unused-kind"]
    assert told_of == unused


def test_of_a_finding_whose_count_cannot_be_read_nothing_more_is_told() -> None:
    assert told("pass 1 link carrying nothing drop") == ["unknown-number"]
    assert told("pass 1 link carrying nothing drop and 1 nowhere") == ["unknown-number", "unknown-kind"]
    assert told("pass 1 link carrying nothing lanyard by start") == ["unknown-number"]
