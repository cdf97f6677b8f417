"""Words of other languages and trades, words for numbers, and how far what is written may go."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from grammar.automaton import automaton
from grammar.format import format_pattern
from grammar.parse import parse
from grammar.words import NUMBER_WORDS, OTHER_WORDS, TIMES_WORDS, listed
from notation import limits
from notation.diagnostic import Diagnostic
from notation.source import Source, Span

METRES = ("metre", "metres", "meter", "meters")
HEAD = 'title "Corvus"\nring link: inner 5 mm, wire 0.9 mm, metal copper\npiece earring:\n'


def told(text: str) -> tuple[Diagnostic, ...]:
    return parse(Source(name="corvus.annulet", text=text))[1]


def rules(text: str) -> list[str]:
    return [f"{one.rule}/{one.variant}" if one.variant else one.rule for one in told(text)]


def formatted(text: str) -> str:
    pattern, diagnostics = parse(Source(name="corvus.annulet", text=text))
    assert diagnostics == ()
    return format_pattern(pattern)


def test_every_word_of_another_word_is_one_of_the_notation() -> None:
    words = automaton().scanner.words
    meant = [word for several in OTHER_WORDS.values() for word in several.split()]
    assert [word for word in meant if word not in words] == []
    assert [word for word in OTHER_WORDS if not re.fullmatch(r"[a-z]+(-[a-z]+)*", word)] == []
    assert [word for word, other in OTHER_WORDS.items() if word == other] == []


def test_number_words_count_from_one_to_twelve() -> None:
    said = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
    assert {word: str(number) for number, word in enumerate(said, 1)} == NUMBER_WORDS
    assert TIMES_WORDS == {"once": "1 times", "twice": "2 times", "thrice": "3 times"}


@pytest.mark.parametrize("word", sorted(OTHER_WORDS))
def test_at_the_start_of_a_line_another_word_leads_to_the_one_that_may_stand_there(word: str) -> None:
    meant = OTHER_WORDS[word]
    machine = automaton()
    (first,) = told(f"{HEAD}    {word}\n")[:1]
    starts = machine.scanner.words[meant.split()[0]] in machine.starters
    if starts and machine.scanner.words.get(word) not in machine.starters:
        assert (first.rule, dict(first.arguments)) == ("other-word", {"found": word, "meant": meant})
        assert [(edit.place.span, edit.replacement) for edit in first.edits] == [(first.place.span, meant)]
        assert first.place.span == Span(len(HEAD) + 4, len(HEAD) + 4 + len(word))
    else:
        assert first.rule != "other-word"


@pytest.mark.parametrize("word", sorted(NUMBER_WORDS))
def test_a_number_in_words_is_told_with_its_digits(word: str) -> None:
    found = word.capitalize()
    (one,) = told(f'title "Corvus"\nring link: inner {found} mm, wire 1 mm, metal copper\n')
    assert (one.rule, dict(one.arguments)) == ("number-word", {"found": found, "meant": NUMBER_WORDS[word]})
    assert [edit.replacement for edit in one.edits] == [NUMBER_WORDS[word]]


def test_a_report_holds_two_hundred_and_the_last_says_that_there_are_more() -> None:
    line = "    tkae 1 link\n"
    most = limits.MOST_DIAGNOSTICS
    assert rules(HEAD + line * most) == ["unknown-word/close"] * most
    assert rules(HEAD + line * (most + 1)) == ["unknown-word/close"] * (most - 1) + ["over-limit/diagnostics"]
    last = told(HEAD + line * (most + 5))[-1]
    assert dict(last.arguments) == {"most": most}


def test_a_file_may_be_as_long_as_the_limit_and_no_longer(monkeypatch: pytest.MonkeyPatch) -> None:
    text = f"{HEAD}    take 1 link\n"
    monkeypatch.setattr(limits, "LONGEST_FILE", len(text))
    assert rules(text) == []
    (one,) = told(f"{text}\n")
    assert (one.rule, one.variant, one.place.span) == ("over-limit", "file", Span(len(text), len(text) + 1))
    assert dict(one.arguments) == {"most": len(text), "found": len(text) + 1}


@pytest.mark.parametrize(
    ("deep", "most"),
    [
        (lambda depth: "(" * depth + "1" + "+1)" * depth, limits.DEEPEST_SUMS),
        (lambda depth: "+".join(["1"] * (depth + 1)), limits.DEEPEST_SUMS),
        # A sign is one character: lines too short to be deep in any other way are not looked at.
        (lambda depth: "-" * depth + "1", 2 * limits.DEEPEST_SUMS - len("let n = 1")),
    ],
    ids=["brackets", "a chain", "signs"],
)
def test_a_sum_may_be_as_deep_as_the_limit_and_no_deeper(deep: Callable[[int], str], most: int) -> None:
    body = f"{HEAD}    let n = {{}}\n    take n link\n"
    assert rules(body.format(deep(most))) == []
    assert rules(body.format(deep(most + 1))) == ["over-limit/sum"]


def test_a_statement_too_deep_is_left_out_and_its_lines_are_read() -> None:
    text = f"{HEAD}    let n = {'-' * 200}1\n    take 1 link\n    tkae 1 link\n"
    pattern, diagnostics = parse(Source(name="corvus.annulet", text=text))
    assert [one.rule for one in diagnostics] == ["over-limit", "unknown-word"]
    assert pattern.incomplete
    assert len(pattern.statements) == 3


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        (r'"a \"b\" c"', r'"a \"b\" c"'),
        (r'"a \\ c"', r'"a \\ c"'),
        (r'"\\\""', r'"\\\""'),
        ('"é – ×"', '"é – ×"'),
    ],
)
def test_quotes_and_backslashes_in_a_text_are_written_as_they_must_be(written: str, canonical: str) -> None:
    text = f"title {canonical}\n\nring link: inner 5 mm, wire 0.9 mm, metal copper\n"
    assert formatted(text.replace(canonical, written)) == text


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        ("5.0 mm", "5.0 mm"),
        ("5 mm", "5 mm"),
        ("0.25 in", "1/4 in"),
        ("0.5 in", "1/2 in"),
        ("0.203125 in", "13/64 in"),
        ("1.25 in", "5/4 in"),
        ("0.015625 in", "1/64 in"),
        ("0.2 in", "0.2 in"),
        ("1 in", "1 in"),
        ("2.50 cm", "2.50 cm"),
    ],
)
def test_lengths_are_written_as_they_are_sold(written: str, canonical: str) -> None:
    text = 'title "Corvus"\n\nring link: inner {}, wire 0.9 mm, metal copper\n'
    found = formatted(text.format(written))
    assert found == text.format(canonical) or written == "5.0 mm"


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        ("1 + 2 * 3", "1 + 2 * 3"),
        ("(1 + 2) * 3", "(1 + 2) * 3"),
        ("1 - (2 - 3)", "1 - (2 - 3)"),
        ("(1 - 2) - 3", "1 - 2 - 3"),
        ("8 / (4 / 2)", "8 / (4 / 2)"),
        ("(8 / 4) / 2", "8 / 4 / 2"),
        ("8 mod (4 * 2)", "8 mod (4 * 2)"),
        ("-(1 + 2)", "-(1 + 2)"),
        ("-3 * 2", "-3 * 2"),
        ("((1))", "1"),
        ("1 + (2 * 3)", "1 + 2 * 3"),
        ("- (-1)", "--1"),
    ],
)
def test_a_sum_keeps_the_brackets_that_it_needs(written: str, canonical: str) -> None:
    head = 'title "Corvus"\n\nring link: inner 5 mm, wire 0.9 mm, metal copper\n\nlet n = '
    assert formatted(f"{head}{written}\n") == f"{head}{canonical}\n"


def test_the_commentary_of_the_author_stays_where_it_was() -> None:
    text = """\
# in front
title "Corvus"  # behind
ring link: inner 5 mm, wire 0.9 mm, metal copper


# of the piece
piece earring:
    # first in the block

    take 1 link  # one
    if 1 < 2:
        take 1 link
        # last of the branch
    # in front of else
    else:
        take 1 link
    # last in the block
# at the margin
"""
    canonical = """\
# in front
title "Corvus"  # behind
ring link: inner 5 mm, wire 0.9 mm, metal copper

# of the piece
piece earring:
    # first in the block

    take 1 link  # one
    if 1 < 2:
        take 1 link
        # last of the branch
    # in front of else
    else:
        take 1 link
    # last in the block

# at the margin
"""
    assert formatted(text) == canonical
    assert formatted(canonical) == canonical


@pytest.mark.parametrize(
    ("word", "unit"),
    [
        *(
            (f"{prefix}{word}", unit)
            for prefix, unit in (("milli", "mm"), ("centi", "cm"))
            for word in METRES
        ),
        *(("inch", "in"), ("inches", "in"), ("Millimetre", "mm"), ("CM", "cm"), ("IN", "in")),
    ],
)
def test_a_unit_written_out_is_understood_and_told(word: str, unit: str) -> None:
    one = told(f'title "Corvus"\nring link: inner 5 {word}, wire 0.9 mm, metal copper\n')[0]
    assert (one.rule, one.variant) == ("unknown-length-unit", "spelling")
    assert dict(one.arguments) == {"found": word, "meant": unit}
    assert [edit.replacement for edit in one.edits] == [unit]


@pytest.mark.parametrize("word", ["g", "ga", "gauge", "gage"])
def test_a_gauge_without_its_system_is_told_with_both_wires(word: str) -> None:
    (one,) = told(f'title "Corvus"\nring link: inner 5 mm, wire 18 {word}, metal copper\n')
    assert (one.rule, dict(one.arguments)) == (
        "bare-gauge",
        {"number": "18", "awg": "1.0237", "swg": "1.2192"},
    )


def test_a_count_called_a_is_put_in_brackets_before_a_kind_called_pair() -> None:
    text = """\
title "Corvus"

ring pair: inner 5 mm, wire 0.9 mm, metal copper
ring link: inner 5 mm, wire 0.9 mm, metal copper

unit rosette(a, b):
    take (a) pair
    take b pair
    take a link
"""
    assert formatted(text) == text


def test_an_if_without_else_keeps_its_block() -> None:
    head = 'title "Corvus"\n\nring link: inner 5 mm, wire 0.9 mm, metal copper\n\npiece arm:\n'
    text = f"{head}    if 1 < 2:\n        take 1 link\n    take 2 link\n"
    assert formatted(text) == text


@pytest.mark.parametrize("header", ["repeat {} times:", "line a of {}:", "for k from 1 to {}:", "if 1 < {}:"])
def test_a_sum_in_a_header_may_be_no_deeper_either(header: str) -> None:
    for depth, wanted in ((limits.DEEPEST_SUMS, []), (limits.DEEPEST_SUMS + 2, ["over-limit/sum"])):
        line = header.format("(" * depth + "1" + "+1)" * depth)
        found = rules(f"{HEAD}    {line}\n        take 1 link\n")
        assert [rule for rule in found if rule.startswith("over")] == wanted


@pytest.mark.parametrize(
    ("word", "count"), [("one", 1), ("two", 2), ("three", 3), ("four", 4), ("five", 5), ("six", 6)]
)
def test_neighbours_are_counted_in_words(word: str, count: int) -> None:
    text = f"{HEAD}    sheet mesh of 2 rows of 9:\n        pass 1 link through the {word} below\n"
    pattern, diagnostics = parse(Source(name="corvus.annulet", text=text))
    assert diagnostics == ()
    (item,) = pattern.statements[2].body[0].body[0].through
    assert item.picks[0].count == count
    assert f"through the {word} below" in format_pattern(pattern)


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        ("1 pairs of link", "a pair of link"),
        ("1 triples of link", "a triple of link"),
        ("2 pair of link", "2 pairs of link"),
        ("3 triple of link", "3 triples of link"),
        ("2 single link", "2 single link"),
        ("n pairs of link", "n pairs of link"),
    ],
)
def test_a_bundle_is_written_as_it_is_counted(written: str, canonical: str) -> None:
    head = 'title "Corvus"\n\nring link: inner 5 mm, wire 0.9 mm, metal copper\n\nlet n = 2\n\npiece arm:\n    take '
    assert formatted(f"{head}{written}\n") == f"{head}{canonical}\n"


def test_what_need_not_be_said_is_not_listed_beside_what_is() -> None:
    values = automaton().values
    assert listed(frozenset({"NUMBER", "DECIMAL"}), values) == "a number"
    assert (
        listed(frozenset({"NUMBER", "LPAR", "MINUS", "PLUS", "STAR", "SLASH", "MOD"}), values) == "a number"
    )
    assert listed(frozenset({"NAME", "A", "PAIR", "TRIPLE", "LSQB"}), values) == "a name"
    assert listed(frozenset({"DECIMAL"}), values) == "a number with decimals"
