"""What is left out after a slip: the names that the line would have made are known; and what a slip is replaced by."""

from __future__ import annotations

import pytest

from grammar.parse import parse
from notation.diagnostic import Diagnostic
from notation.source import Source
from notation.statements import Broken

HEAD = 'title "Corvus"\nring link: inner 5 mm, wire 0.9 mm, metal copper\n'
PIECE = f"{HEAD}piece arm:\n"


def read(text: str) -> tuple[tuple[object, ...], tuple[Diagnostic, ...]]:
    pattern, told = parse(Source(name="corvus.annulet", text=text))
    return pattern.statements, told


def left_out(statement: object) -> tuple[str, tuple[str, ...]]:
    assert isinstance(statement, Broken), statement
    return statement.word, tuple(name.text for name in statement.names)


@pytest.mark.parametrize(
    ("line", "word", "names"),
    [
        ("ring large inner", "ring", ("large",)),
        ("finding hook ear", "finding", ("hook",)),
        ("unit rosette(", "unit", ("rosette",)),
        ("piece earring mad", "piece", ("earring",)),
        ("let n 3", "let", ("n",)),
        ("tkae 1 link", "", ()),
        ("; 1 link", "", ()),
    ],
)
def test_a_line_at_the_margin_that_cannot_be_read_keeps_the_name_it_makes(
    line: str, word: str, names: tuple[str, ...]
) -> None:
    statements, told = read(f"{HEAD}{line}\n")
    assert told
    assert left_out(statements[2]) == (word, names)


@pytest.mark.parametrize(
    ("line", "word", "names"),
    [
        ("line chain off 3", "line", ("chain",)),
        ("round hoop off 3", "round", ("hoop",)),
        ("sheet mesh off 3", "sheet", ("mesh",)),
        ("tube cuff off 3", "tube", ("cuff",)),
        ("disc rose off 3", "disc", ("rose",)),
        ("for k frm 1 to 3", "for", ("k",)),
        ("for each end on tip", "for", ("end",)),
        ("port tip last", "port", ("tip",)),
        ("pass 1 link thru a as b and as c", "pass", ("b", "c")),
        ("pass 1 link as length thru a", "pass", ("length",)),
        ("take one link as x", "take", ("x",)),
    ],
)
def test_a_line_of_a_block_that_cannot_be_read_keeps_the_names_it_makes(
    line: str, word: str, names: tuple[str, ...]
) -> None:
    statements, told = read(f"{PIECE}    {line}\n    take 1 link\n")
    assert told
    assert left_out(statements[2].body[0]) == (word, names)


def test_what_was_meant_to_be_the_block_of_a_header_is_left_out_and_what_follows_is_not() -> None:
    statements, _ = read(
        f"{PIECE}    repeat 2 times:\n    pass 1 link as a through b\n    take 1 link as c\n"
    )
    header, body, following = statements[2].body
    assert left_out(header) == ("", ())
    assert set(left_out(body)[1]) == {"link", "a", "b"}
    assert not isinstance(following, Broken)
    statements, _ = read(f'{PIECE}    step "a":\n    take 1 link as c\n')
    assert not isinstance(statements[2].body[1], Broken)


def test_of_three_blocks_a_line_between_belongs_to_the_innermost_that_it_is_further_in_than() -> None:
    text = f"{PIECE}        repeat 1 times:\n            repeat 1 times:\n                take 1 link\n"
    statements, told = read(f"{text}              take 2 link\n          take 3 link\n        take 4 link\n")
    assert [(one.rule, dict(one.arguments)) for one in told] == [
        ("uneven-indent", {"found": 14, "inner": 16}),
        ("uneven-indent", {"found": 10, "inner": 12}),
    ]
    outer = statements[2].body[0]
    assert (len(statements[2].body), len(outer.body), len(outer.body[0].body)) == (2, 2, 2)


def test_a_second_twin_is_told_with_the_first() -> None:
    text = (
        f"{PIECE}    pass 2 link:\n        twin through a\n        twin through b\n        twin through c\n"
    )
    statements, (one,) = read(text)
    assert [text[slice(*label.place.span)] for label in one.labels] == ["twin through a"]
    assert statements[2].body[0].twin.span == one.labels[0].place.span


def test_brackets_hold_lines_together_until_they_are_closed() -> None:
    statements, told = read(f"{HEAD}let n = (1 +\n  2 +\n  3)\nlet m = 4\n")
    assert told == ()
    assert len(statements) == 4
    statements, told = read(f"{PIECE}    take 1 link as a[1 +\n        1]\n    take 1 link\n")
    assert told == ()
    assert len(statements[2].body) == 2


@pytest.mark.parametrize(
    ("written", "rule", "found", "replacement"),
    [
        ("let n = 2 × 3", "stray-character/times", "×", "*"),
        ("let n = 2 ✕ 3", "stray-character/times", "✕", "*"),
        ("let n = 2 · 3", "stray-character/times", "·", "*"),
        ("let n = 2 – 3", "stray-character/dash", "–", "-"),
        ("let n = 2 − 3", "stray-character/dash", "−", "-"),
        ("let n =\u00a02", "stray-character/space", "\u00a0", " "),
        ("let n = 2\u200b", "stray-character/invisible", "\u200b", ""),
        ("let n = .5", "bad-number/leading-point", ".5", "0.5"),
        ("let n = 5.", "bad-number/trailing-point", "5.", "5"),
        ("ring big: inner 1,5 mm", "bad-number/comma", "1,5", "1.5"),
    ],
)
def test_a_sign_of_another_keyboard_is_told_with_the_one_that_is_meant(
    written: str, rule: str, found: str, replacement: str
) -> None:
    text = f"{HEAD}{written}\n"
    one = read(text)[1][0]
    assert f"{one.rule}/{one.variant}" == rule
    assert text[slice(*one.place.span)] == found
    assert [(edit.place.span, edit.replacement) for edit in one.edits] == [(one.place.span, replacement)]


@pytest.mark.parametrize(
    ("line", "rule", "found"),
    [
        ("make ring", "reserved-word", "ring"),
        ("take 1 link as step", "reserved-word", "step"),
        ("hang through from a", "reserved-word", "through"),
        ("pass 1 link through (a", "unclosed-bracket", "("),
        ("pass 1 link through a[1", "unclosed-bracket", "["),
        ("pass 1 link through a[1)", "unclosed-bracket/wrong-one", ")"),
        ("pass 1 link through a)", "unopened-bracket", ")"),
        ("pass 1 link through a,", "trailing-comma", ","),
        ("repeat 2 times", "missing-colon", ""),
        ("take 1 link:", "extra-colon", ":"),
        ("repeat 2 times: take 1 link", "after-colon", "take"),
    ],
)
def test_a_slip_is_told_at_its_place(line: str, rule: str, found: str) -> None:
    text = f"{PIECE}    {line}\n"
    one = read(text)[1][0]
    assert (f"{one.rule}/{one.variant}".rstrip("/"), text[slice(*one.place.span)]) == (rule, found)
