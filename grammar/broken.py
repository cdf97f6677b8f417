"""What can still be read of a line that the parser gave up: its first word and the names it would have made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from msgspec import Struct, structs

from grammar.lines import LogicalLine
from grammar.tokens import ALSO_NAMES, NAME, Token
from notation.nodes import Name
from notation.source import Span
from notation.statements import Broken

_NAME_FIRST = frozenset(
    {"RING", "FINDING", "UNIT", "PIECE", "LINE", "ROUND", "SHEET", "TUBE", "DISC", "LET", "PORT", "FOR"}
)


def broken_line(line: LogicalLine, tokens: Sequence[Token]) -> Broken:
    """A `Broken` for the tokens of a line."""
    first = tokens[0]
    names: list[Name] = []
    for before, token in pairwise(tokens):
        if token.type != NAME and token.type not in ALSO_NAMES:
            continue
        declares = before is first and first.type in _NAME_FIRST
        if declares or before.type in ("AS", "EACH"):
            names.append(Name(text=token.value, span=Span(token.start_pos, token.end_pos)))
    word = first.value if first.type not in (NAME, "STRAY") and first.value.isalpha() else ""
    return Broken(word=word, names=tuple(names), span=Span(line.start, line.end))


def unread(statement: Any) -> Broken:
    """A `Broken` for a statement that was read and cannot be meant as it stands: its names are known, no more."""
    return Broken(word="", names=tuple(_names_in(statement)), span=statement.span)


def _names_in(value: Any) -> Iterator[Name]:
    if isinstance(value, Name):
        yield value
    elif isinstance(value, Struct):
        for part in structs.astuple(value):
            yield from _names_in(part)
    elif isinstance(value, tuple):
        for part in value:
            yield from _names_in(part)
