"""The laws of the formatter and the parser, on patterns made up, on the pattern files and on damaged text."""

import random
import re
from pathlib import Path

import margin_strategies
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from grammar.automaton import automaton
from grammar.format import format_pattern
from grammar.lines import split
from grammar.parse import parse
from notation.margin import Pattern
from notation.rules.table import RULES
from notation.source import Source

ROOT = Path(__file__).parent.parent.parent
FILES = sorted((ROOT / "patterns").rglob("*.annulet"))
CASES = sorted((ROOT / "tests" / "cases").rglob("*.annulet"))
SLOW = settings(deadline=None, max_examples=150, suppress_health_check=list(HealthCheck), derandomize=True)


def read(text: str) -> Pattern:
    pattern, told = parse(Source(name="law", text=text))
    assert told == (), text
    return pattern


@given(pattern=margin_strategies.patterns)
@SLOW
def test_what_is_written_says_what_was_read(pattern: Pattern) -> None:
    text = format_pattern(pattern)
    again = read(text)
    assert again == pattern
    assert format_pattern(again) == text


@given(pattern=margin_strategies.patterns, data=st.data())
@SLOW
def test_no_comment_is_lost_and_none_makes_a_second_pass_differ(
    pattern: Pattern, data: st.DataObject
) -> None:
    lines = format_pattern(pattern).split("\n")
    for number in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(lines) - 1))
        if data.draw(st.booleans()):
            lines[at] += f" # behind {number}"
        else:
            lines.insert(at, " " * data.draw(st.integers(0, 9)) + f"# alone {number}")
        if data.draw(st.booleans()):
            lines.insert(data.draw(st.integers(0, len(lines) - 1)), "")
    commented = read("\n".join(lines))
    assert commented == pattern
    text = format_pattern(commented)
    again = read(text)
    assert again == pattern
    assert sorted(comment.text for comment in again.comments) == sorted(
        comment.text for comment in commented.comments
    )
    assert format_pattern(again) == text


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_a_pattern_file_is_read_without_a_slip_and_is_canonical(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert format_pattern(read(text)) == text


def holds(text: str) -> None:
    """Any text gives a pattern and diagnostics whose places lie in it and whose messages can be filled."""
    source = Source(name="law", text=text)
    pattern, told = parse(source)
    assert pattern.incomplete == bool(told)
    for diagnostic in told:
        span = diagnostic.place.span
        assert 0 <= span.start <= span.end <= len(source.text)
        wording = RULES[diagnostic.rule].wordings[diagnostic.variant]
        assert (wording.says + wording.hint).format(**dict(diagnostic.arguments))
    if told:
        assert format_pattern(pattern) == source.text
    else:
        text = format_pattern(pattern)
        assert format_pattern(read(text)) == text


@given(text=st.text(max_size=200))
@SLOW
def test_any_text_gives_a_result(text: str) -> None:
    holds(text)


WORDS = (
    *sorted(automaton().values.values()),
    *(
        "arm",
        "k-1",
        "7",
        "2.5",
        '"Lyra"',
        '"',
        "#",
        "\\",
        "  ",
        "\n    ",
        "\n        ",
        "\t",
        ":\n    ",
        "“",
        "!",
    ),
)


@given(words=st.lists(st.sampled_from(WORDS), max_size=40), glue=st.sampled_from((" ", "")))
@SLOW
def test_any_soup_of_words_gives_a_result(words: list[str], glue: str) -> None:
    holds(glue.join(words))


@pytest.mark.parametrize("path", [*FILES, *CASES], ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_a_damaged_file_gives_a_result(path: Path) -> None:
    rng = random.Random(path.stem)
    text = path.read_text(encoding="utf-8")
    if len(text) > 20_000:
        text = text[:20_000]
    lines = text.split("\n")
    for _ in range(12):
        damaged = list(lines)
        for _ in range(rng.randint(1, 3)):
            at = rng.randrange(len(damaged))
            line = damaged[at]
            cut = rng.randint(0, len(line))
            damaged[at] = rng.choice(
                (
                    line[:cut],
                    line[cut:],
                    line[:cut] + rng.choice(WORDS) + line[cut:],
                    line[:cut] + line[cut + 1 :],
                    " " * rng.randint(0, 9) + line.lstrip(),
                    re.sub(r"\w+", lambda match: rng.choice((match[0], rng.choice(WORDS))), line),
                    rng.choice(lines),
                )
            )
        holds("\n".join(damaged))


def test_deep_and_long_texts_give_a_result() -> None:
    holds("unit x:\n    let a = " + "(" * 5000 + "1" + ")" * 5000)
    holds("unit x:\n    let a = " + "-" * 5000 + "1")
    holds("unit x:\n    let a = 1" + " + 1" * 5000)
    holds("unit x:\n    if " + "not " * 5000 + "first:\n        lay flat")
    holds("unit x:\n    pass 1 large through " + "a of " * 5000 + "a")
    holds("unit x:\n    pass 1 large through " + "first of " * 5000 + "a")
    holds("unit x:\n    sheet m of " + "2 times (" * 3000 + "1" + ")" * 3000 + ":\n        pass 1 large")
    holds("".join(" " * depth + "repeat 2 times:\n" for depth in range(300)))
    holds("unit x:\n    if first:\n        lay flat\n" + "    else if last:\n        lay flat\n" * 2000)
    holds("".join(" " * depth + "lay flat\n" for depth in range(300)))


@pytest.mark.parametrize(
    "part", [" ", "\t", "\n", "# x\n", '"\\', '\\"', '"', "'", "a", "1", "1.", "-", "front  "]
)
def test_a_part_said_a_hundred_thousand_times_is_gone_through_once(part: str) -> None:
    holds(part * 100_000)
    holds(f"unit x:\n    pass 1 large through {part * 100_000}")


@given(text=st.text(alphabet='ab,:#"()[]\\ \n\tthrough', max_size=80))
@SLOW
def test_masking_keeps_every_offset(text: str) -> None:
    source = Source(name="law", text=text)
    lines = split(source)
    assert len(lines.masked) == len(source.text) + 1
    assert lines.masked.count("\n") == len(lines.lines)
    for at, character in enumerate(lines.masked[:-1]):
        assert character in (source.text[at], " ")
