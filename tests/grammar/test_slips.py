"""Slips of writing: every case under cases/errors/syntax gives the diagnostics that stand in it, and no others."""

from pathlib import Path

import casefile
import pytest

from grammar.parse import parse
from notation import limits
from notation.diagnostic import Diagnostic
from notation.rules import blocks, figures, syntax
from notation.source import Source

CASES = casefile.paths("errors/syntax")


def told_of(text: str) -> tuple[Diagnostic, ...]:
    return parse(Source(name="lyra", text=text))[1]


@pytest.mark.parametrize("path", CASES, ids=[path.stem for path in CASES])
def test_a_case_gives_its_diagnostics_and_no_others(path: Path) -> None:
    case = casefile.load(path)
    pattern, told = parse(case.source)
    assert casefile.mismatches(case, told) == []
    assert pattern.incomplete


def test_every_message_of_every_rule_of_writing_has_a_case() -> None:
    found = {(one.rule, one.variant) for path in CASES for one in parse(casefile.load(path).source)[1]}
    messages = {
        (rule.name, variant)
        for family in (syntax, figures, blocks)
        for rule in family.RULES
        for variant in rule.wordings
    }
    # Files as long as these two need are made up below.
    assert messages - found == {("over-limit", "file"), ("over-limit", "diagnostics")}


def test_a_file_too_long_is_not_read() -> None:
    line = "# a long line of a file that is no pattern at all\n"
    pattern, told = parse(Source(name="lyra", text=line * (limits.LONGEST_FILE // len(line) + 1)))
    assert [(one.rule, one.variant) for one in told] == [("over-limit", "file")]
    assert (pattern.statements, pattern.incomplete) == ((), True)


def test_reading_ends_when_there_are_too_many_mistakes() -> None:
    told = told_of("glue\n" * 1000)
    assert len(told) == limits.MOST_DIAGNOSTICS
    assert [(one.rule, one.variant) for one in told[-1:]] == [("over-limit", "diagnostics")]
    assert {one.rule for one in told[:-1]} == {"unknown-word"}


@pytest.mark.parametrize(
    ("text", "mended"),
    [
        ('license "x"', 'licence "x"'),
        ("unit rosette\n    lay flat", "unit rosette:\n    lay flat"),
        ("unit rosette:\n    Lay flat", "unit rosette:\n    lay flat"),
        ("unit rosette:\n    pass 2 large trough base", "unit rosette:\n    pass 2 large through base"),
        ("unit rosette:\n    pass two large", "unit rosette:\n    pass 2 large"),
        ("kit: 2 large,", "kit: 2 large"),
        ("unit x:\n    pass 1 y through a between b, c", "unit x:\n    pass 1 y through a between b and c"),
        ("unit x:\n    expect a is under b[2]", "unit x:\n    expect b[2] is over a"),
        ("unit x:\n    expect a around b", "unit x:\n    expect a is around b"),
        ("unit x:\n    expect a, b is plain", "unit x:\n    expect loop a, b is plain"),
        ("unit x:\n    take 1 small in a", "unit x:\n    take 1 small inside a"),
        (
            "unit rosette:\n    if k != 1:\n        lay flat",
            "unit rosette:\n    if k <> 1:\n        lay flat",
        ),
        (
            "ring a: inner 1,5 mm, wire .9 mm, metal copper",
            "ring a: inner 1.5 mm, wire 0.9 mm, metal copper",
        ),
        (
            "ring a: inner 5 inches, wire 18 AWG, metal copper",
            "ring a: inner 5 in, wire 18 awg, metal copper",
        ),
    ],
)
def test_an_edit_mends_the_slip(text: str, mended: str) -> None:
    for _ in range(2):
        edits = [edit for one in told_of(text) for edit in one.edits]
        for edit in reversed(edits):
            text = text[: edit.place.span.start] + edit.replacement + text[edit.place.span.end :]
    assert text == mended
    assert told_of(mended) == ()


def test_what_is_open_is_shown() -> None:
    notes = [
        (label.note, label.place.span)
        for text in ("unit x:\n    pass 2 large as arm[(1]", "unit x:\n    title 'Lyra'\n    kit: 1 large\n")
        for one in told_of(text)
        for label in one.labels
    ]
    assert notes == [("bracket-here", (32, 33)), ("block-here", (0, 7))]
