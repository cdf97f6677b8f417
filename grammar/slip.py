"""A line that could not be read, with all that tells why: what `grammar.explain` and `grammar.mixups` look at."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct

from grammar.lines import LogicalLine
from grammar.tokens import Token
from notation.source import Span


class Slip(Struct, frozen=True, kw_only=True):
    """A line that could not be read."""

    text: str
    """The source text."""
    line: LogicalLine
    tokens: tuple[Token, ...]
    """All of the line, the last one its NEWLINE."""
    at: int
    """Which of them the parser did not take."""
    expected: frozenset[str]
    """The terminals it would have taken."""
    words: Mapping[str, str]
    """The terminal of each word of the notation."""
    values: Mapping[str, str]
    """The text of each terminal that is always written alike."""
    starters: frozenset[str]
    """The terminals a statement can begin with."""
    tell: Callable[..., None]
    """`Actions.tell`."""

    @property
    def token(self) -> Token:
        """The token the parser did not take."""
        return self.tokens[self.at]

    @property
    def before(self) -> Token | None:
        """The token before it."""
        return self.tokens[self.at - 1] if self.at else None


def span_of(token: Token) -> Span:
    """Where a token stands."""
    return Span(token.start_pos, token.end_pos)
