"""The formatter's cases: input, a line `# output`, expected text; without that line the input is canonical."""

from pathlib import Path

import casefile
import pytest

from grammar.format import format_pattern
from grammar.parse import parse
from grammar.sentences import clauses
from notation import margin, statements
from notation.source import Source

CASES = casefile.paths("format")
OUTPUT = "# output\n"


@pytest.mark.parametrize("path", CASES, ids=[path.stem for path in CASES])
def test_a_case_is_formatted_as_it_says(path: Path) -> None:
    given, _, expected = path.read_text(encoding="utf-8").partition(OUTPUT)
    pattern, told = parse(Source(name=path.name, text=given))
    assert told == ()
    assert format_pattern(pattern) == (expected or given)


@pytest.mark.parametrize(
    "count", ["(loop) large", "(n) turns", "loop single turns", "2 * n turns", "loop + 1 large"]
)
def test_brackets_keep_a_count_from_beginning_another_expectation(count: str) -> None:
    text = f"unit x:\n    expect {count}, loop turns used\n"
    pattern, told = parse(Source(name="lyra", text=text))
    assert told == ()
    assert format_pattern(pattern) == text


def test_every_statement_has_a_canonical_text() -> None:
    kinds = {*statements.Statement.__args__, *margin.TopStatement.__args__, statements.Twin}
    without = {kind.__name__ for kind in kinds if clauses.dispatch(kind) is clauses.dispatch(object)}
    assert without == {"Broken"}


def test_an_incomplete_pattern_keeps_its_text() -> None:
    text = "title   'Lyra'\nunit   rosette:\n"
    pattern, told = parse(Source(name="lyra", text=text))
    assert len(told) == 2
    assert format_pattern(pattern) == text


def test_an_empty_text_stays_empty_and_comments_alone_stay() -> None:
    for text in ("", "# alone\n", "# one\n\n# two\n"):
        pattern, told = parse(Source(name="lyra", text=text))
        assert (told, format_pattern(pattern)) == ((), text)
