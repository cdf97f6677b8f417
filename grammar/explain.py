"""What a slip is: a line with the token that could not be read, told as "not expected here"."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from grammar.lines import LogicalLine
from grammar.tokens import Token
from notation.source import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """A line that could not be read."""

    text: str
    line: LogicalLine
    tokens: tuple[Token, ...]
    at: int
    expected: frozenset[str]


def explain(slip: Slip, words: Mapping[str, str], tell: Callable[..., None]) -> None:
    """Tells of a slip."""
    token = slip.tokens[slip.at]
    listed = ", ".join(word for word, type_ in sorted(words.items()) if type_ in slip.expected)
    tell("unexpected", Span(token.start_pos, token.end_pos), found=token.value, expected=listed)
