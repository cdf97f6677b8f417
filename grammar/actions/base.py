"""Names, numbers, texts and lists: the actions that all other actions build on.

An action is a method named in the grammar behind an arrow (or like its rule). It gets the values of the rule's
parts as a list, words and signs as `Token`, and gives back the value of the whole. What it finds wrong it tells;
what it gives back is then as good as can be.
"""

from __future__ import annotations

import unicodedata
from typing import Any

from grammar.tokens import Token
from notation import limits
from notation.diagnostic import Diagnostic, Edit, Label, Place, Value
from notation.nodes import Name, Number, Text
from notation.source import Span

Parts = list[Any]
"""The values of a rule's parts, in order."""


class Actions:
    """The actions for one text, and what they had to tell about it."""

    def __init__(self, source_name: str) -> None:
        self.source_name = source_name
        self.problems: list[Diagnostic] = []

    def tell(
        self,
        rule: str,
        span: Span,
        variant: str = "",
        *,
        first: Span | None = None,
        labels: tuple[tuple[str, Span], ...] = (),
        replacement: str | None = None,
        **arguments: Value,
    ) -> None:
        """Adds a diagnostic; `first` is where the thing stood for the first time, `replacement` mends the span.

        `labels` are further places, each with its note.
        """
        place = Place(source=self.source_name, span=span)
        if first is not None:
            labels = (*labels, ("first-here", first))
        edits = () if replacement is None else (Edit(place=place, replacement=replacement),)
        self.problems.append(
            Diagnostic(
                rule=rule,
                place=place,
                variant=variant,
                arguments=tuple(arguments.items()),
                labels=tuple(
                    Label(place=Place(source=self.source_name, span=at), note=note) for note, at in labels
                ),
                edits=edits,
            )
        )

    # ------------------------------------------------------------ terminals

    def NAME(self, token: Token) -> Name:  # noqa: N802 - named like the terminal
        text = token.value
        span = Span(token.start_pos, token.end_pos)
        if not text.isascii():
            text = unicodedata.normalize("NFC", text)
        if len(text) > limits.LONGEST_NAME:
            self.tell("over-limit", span, "long-name", most=limits.LONGEST_NAME, found=len(text))
        return Name(text=text, span=span)

    def NUMBER(self, token: Token) -> Number:  # noqa: N802
        text = token.value
        span = Span(token.start_pos, token.end_pos)
        if len(text) > limits.MOST_DIGITS:
            self.tell("over-limit", span, "digits", most=limits.MOST_DIGITS, found=len(text))
            text = "1"
        return Number(value=int(text), span=span)

    def TEXT(self, token: Token) -> Text:  # noqa: N802
        value = token.value[1:-1]
        span = Span(token.start_pos, token.end_pos)
        if "\\" in value:
            value = self._unescaped(value, token.start_pos + 1)
        if len(value) > limits.LONGEST_TEXT:
            self.tell("over-limit", span, "text", most=limits.LONGEST_TEXT, found=len(value))
        return Text(value=value, span=span)

    def _unescaped(self, value: str, start: int) -> str:
        pieces: list[str] = []
        at = 0
        while (found := value.find("\\", at)) >= 0:
            pieces.append(value[at:found])
            character = value[found + 1]
            if character not in '"\\':
                span = Span(start + found, start + found + 2)
                self.tell("unknown-escape", span, found="\\" + character)
            pieces.append(character)
            at = found + 2
        pieces.append(value[at:])
        return "".join(pieces)

    # ------------------------------------------------------------ lists and optional parts

    def none(self, c: Parts) -> Parts:
        return c

    def one(self, c: Parts) -> Parts:
        return c

    def two(self, c: Parts) -> Parts:
        return c

    def more(self, c: Parts) -> Any:
        c[0].append(c[-1])
        return c[0]

    def nothing(self, _: Parts) -> None:
        return None

    def same(self, c: Parts) -> Any:
        return c[0]

    def second(self, c: Parts) -> Any:
        return c[1]


def start_of(part: Any) -> int:
    """Offset of the first character of a token or a node."""
    at: int = part.start_pos if type(part) is Token else part.span.start
    return at


def end_of(part: Any) -> int:
    """Offset behind the last character of a token or a node."""
    at: int = part.end_pos if type(part) is Token else part.span.end
    return at
