"""The run of our automaton against Lark's own parser, from the same grammar: the same lines stand, the same slip.

Both get the same tokens, line by line; the place of the first token that cannot stand must agree, and what we say may
stand there instead Lark must take. (Ours may be fewer: the token that cannot stand has brought reductions about.)
"""

from __future__ import annotations

import random
from pathlib import Path

import lark
import pytest
from hypothesis import given, settings
from lark.exceptions import UnexpectedToken
from margin_strategies import patterns

from grammar.actions.statements import StatementActions
from grammar.automaton import Run, automaton
from grammar.build import GRAMMAR
from grammar.format import format_pattern
from grammar.lines import split
from grammar.tokens import ALSO_NAMES, NAME, NEWLINE, Token
from notation.source import Source

PATTERNS = sorted((Path(__file__).parents[2] / "patterns").rglob("*.annulet"))
LARK = lark.Lark(GRAMMAR.read_text(encoding="utf-8"), parser="lalr", lexer="basic")


def lines_of(text: str) -> list[list[Token]]:
    """The tokens of each logical line, its end included."""
    found: list[list[Token]] = [[]]
    for token in automaton().scanner.tokens(split(Source(name="x", text=text)).masked):
        found[-1].append(token)
        if token.type == NEWLINE:
            found.append([])
    return [line for line in found if line]


def ours(line: list[Token]) -> tuple[int, frozenset[str]]:
    """How many tokens can stand, and what may stand after them (all of them: nothing asked)."""
    run = Run(automaton(), StatementActions("x"))
    for place, token in enumerate(line):
        if token.type in ALSO_NAMES and not automaton().is_due(token.type, run.stack):
            token.type = NAME
        if not run.feed(token):
            return place, automaton().due(run.stack)
    return len(line), frozenset()


def lark_says(line: list[Token]) -> tuple[int, frozenset[str]]:
    parser = LARK.parse_interactive("")
    for place, token in enumerate(line):
        before = parser.copy()
        try:
            parser.feed_token(lark.Token(token.type, token.value))
        except (UnexpectedToken, KeyError):
            return place, frozenset(before.accepts() - {"$END"})
    return len(line), frozenset()


def agree(text: str) -> int:
    """Compares every line; gives how many could not stand whole."""
    slips = 0
    for line in lines_of(text):
        (place, due), (lark_place, accepted) = ours(line), lark_says(line)
        assert place == lark_place, [token.value for token in line]
        assert due <= accepted, [token.value for token in line]
        slips += place < len(line)
    return slips


@pytest.mark.parametrize("path", PATTERNS, ids=[path.stem for path in PATTERNS])
def test_patterns_stand_in_both(path: Path) -> None:
    assert agree(path.read_text(encoding="utf-8")) == 0


@given(patterns)
@settings(max_examples=60, derandomize=True, deadline=None)
def test_made_up_patterns_stand_in_both(pattern: object) -> None:
    assert agree(format_pattern(pattern)) == 0  # type: ignore[arg-type]


def test_spoilt_lines_fall_at_the_same_token() -> None:
    rng = random.Random(7)
    words = [word for path in PATTERNS for word in path.read_text(encoding="utf-8").split()]
    lines = [
        line for path in PATTERNS for line in path.read_text(encoding="utf-8").splitlines() if line.strip()
    ]
    slips = 0
    for _ in range(400):
        parts = rng.choice(lines).split()
        place = rng.randrange(len(parts) + 1)
        if rng.random() < 0.5 and parts[place:]:
            parts[place] = rng.choice(words)
        else:
            parts.insert(place, rng.choice(words))
        slips += agree(" ".join(parts) + "\n")
    assert slips > 100
