"""Units: what they are handed, what they offer, and units of other files."""

from bench_text import HEAD, count, expanded, links, name, piece, told

TAIL = """
unit tail(length = 3, port start):
    line link-of of length, first is start:
        pass 1 link through the one before
    port finish = last of link-of
"""


def test_a_unit_takes_its_defaults_and_what_it_is_handed() -> None:
    assert len(piece("make tail", TAIL)) == 3
    assert len(piece("make tail with length = 5", TAIL)) == 5


def test_a_default_may_use_an_earlier_parameter() -> None:
    woven = piece(
        "make leaf with across = 4", "unit leaf(across, down = across - 1):\n    take across * down link\n"
    )
    assert len(woven) == 12


def test_a_handed_port_is_the_first_place() -> None:
    woven = piece(
        "take 1 link as base\nmake tail with start = base as t\npass 1 link through finish of t", TAIL
    )
    assert links(woven) == [
        "t/link-of 2 - base 1",
        "t/link-of 3 - t/link-of 2",
        "link 1 - t/link-of 3",
    ]


def test_a_port_that_was_not_handed_in_names_the_place_made() -> None:
    woven = piece("make tail as t\npass 1 link through start of t", TAIL)
    assert links(woven)[-1] == "link 1 - t/link-of 1"


def test_is_given_asks_what_was_handed_in_before_and_after_the_place_is_made() -> None:
    before = """
unit tail(port start):
    if start is given:
        take 1 link
    line rest of 2, first is start:
        pass 1 link through the one before
    if start is given:
        take 1 link
"""
    assert len(piece("make tail", before)) == 2
    assert len(piece("take 1 link as base\nmake tail with start = base", before)) == 1 + 1 + 2


def test_a_port_handed_on_is_given_inside() -> None:
    before = (
        TAIL
        + """
unit whip(port start):
    make tail with start = start as inner
    port finish = finish of inner
"""
    )
    woven = piece(
        "take 1 link as base\nmake whip with start = base as w\npass 1 link through finish of w", before
    )
    assert links(woven)[0] == "w/inner/link-of 2 - base 1"
    assert len(piece("make whip", before)) == 3


def test_a_unit_at_each_place_of_a_family_reaches_the_one_before() -> None:
    woven = piece(
        "line fringe of 3:\n    make tail with start = finish of the one before\nexpect 7 link used", TAIL
    )
    assert len(woven.link_a) == 6
    assert name(woven, 0) == "fringe[1]/link-of 1"


def test_names_of_a_unit_are_its_own() -> None:
    assert told("make tail\nmake tail as t\npass 1 link through link-of", TAIL) == ["unknown-name"]
    assert told("make tail as t\npass 1 link through link-of of t", TAIL) == []


def test_owners_are_named_where_the_words_need_them() -> None:
    woven = piece("make tail as left-tail\nmake tail as right-tail", TAIL)
    assert [(group.singular, group.owner) for group in woven.groups] == [
        ("link of", "left tail"),
        ("link of", "right tail"),
    ]
    assert [group.owner for group in piece("make tail as left-tail", TAIL).groups] == [""]


def test_keys_are_paths_and_the_same_key_is_numbered() -> None:
    woven = piece("make tail\nmake tail\ntake 1 link\ntake 1 link", TAIL)
    assert [step.key for step in woven.steps] == [
        "tail/link-of[1]",
        "tail/link-of[2]",
        "tail/link-of[3]",
        "tail/link-of[1]~2",
        "tail/link-of[2]~2",
        "tail/link-of[3]~2",
        "link",
        "link~2",
    ]
    assert [group.key for group in woven.groups] == ["tail/link-of", "tail/link-of~2", "link"]


def test_a_used_files_kinds_are_those_of_the_pattern() -> None:
    used = """
title "Leaf"
ring frame: inner 9 mm, wire 2 mm, metal brass
ring link: inner 9 mm, wire 2 mm, metal brass
unit leaf:
    take 1 frame as base
    pass 1 link through base
"""
    text = HEAD.replace(
        'title "Corvus"\n', 'title "Corvus"\nuse "leaf.annulet" as leaves with frame = link\n'
    )
    weave, diagnostics = expanded(text + "piece earring:\n    make leaf of leaves\n", {"leaf.annulet": used})
    assert [one.rule for one in diagnostics if one.rule != "unused-kind"] == []
    assert count(weave.pieces[0], "link") == 2
    assert str(weave.ring_kinds[0].inner_mm) == "5"


def test_a_used_file_may_use_another_and_kinds_are_mapped_all_the_way() -> None:
    inner = "ring seed: inner 9 mm, wire 2 mm, metal brass\nunit pip:\n    take 2 seed\n"
    outer = """
use "pip.annulet" as pips with seed = pith
ring pith: inner 9 mm, wire 2 mm, metal brass
unit pod:
    make pip of pips
"""
    text = HEAD.replace('title "Corvus"\n', 'title "Corvus"\nuse "pod.annulet" as pods with pith = link\n')
    weave, diagnostics = expanded(
        text + "piece earring:\n    make pod of pods\n", {"pod.annulet": outer, "pip.annulet": inner}
    )
    assert [one.rule for one in diagnostics if one.rule != "unused-kind"] == []
    assert count(weave.pieces[0], "link") == 2


def test_two_aliases_of_one_file_may_be_mapped_apart() -> None:
    used = "ring seed: inner 9 mm, wire 2 mm, metal brass\nunit pip:\n    take 2 seed\n"
    text = (
        'title "Corvus"\nuse "pip.annulet" as pips with seed = big\nuse "pip.annulet" as pops with seed = fine\n'
        "ring big: inner 9 mm, wire 2 mm, metal brass\nring fine: inner 5 mm, wire 1 mm, metal copper\n"
        "piece earring:\n    make pip of pips\n    make pip of pops\n"
    )
    weave, diagnostics = expanded(text, {"pip.annulet": used})
    assert not diagnostics
    assert weave.pieces[0].kind.tolist() == [0, 0, 1, 1]


def test_a_file_of_units_makes_each_of_them_once_with_its_defaults() -> None:
    weave, diagnostics = expanded(HEAD + TAIL + "unit other(length):\n    take length link\n")
    assert [(woven.name, len(woven)) for woven in weave.pieces] == [("tail", 3)]
    assert weave.complete
    assert {one.rule for one in diagnostics} == {"unused-kind"}


def test_a_unit_counts_its_own_rings_wherever_it_stands() -> None:
    before = (
        "unit pip:\n    take 2 link as seed\n    expect 2 link used\n    expect 2 rings\n    expect 0 links\n"
    )
    assert told("take 5 link as base\nmake pip\npass 1 link through base\nmake pip as p", before) == []
