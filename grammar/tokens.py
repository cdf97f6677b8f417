"""Masked text to tokens: one regular expression and a dictionary of words, both made from the grammar's terminals.

In: the text as `grammar.lines` masks it. Out: tokens with offsets, one after another. Used by `grammar.parse` in
place of Lark's own lexer, which looks each word up in an alternation of all of them and keeps lines and columns
that nobody reads: this one takes less than half the time.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct

NAME, NUMBER, DECIMAL, TEXT, NEWLINE = "NAME", "NUMBER", "DECIMAL", "TEXT", "NEWLINE"
STRAY = "STRAY"
"""Type of a token for a character that begins nothing. No grammar rule has it."""

ALSO_NAMES = frozenset(
    {
        "A",
        "ABOUT",
        "ANTICLOCKWISE",
        "BACK",
        "BOTH",
        "CLOCKWISE",
        "CROSSED",
        "DEGREES",
        "DOWN",
        "EYE",
        "FREE",
        "FRONT",
        "HALF",
        "HANDS",
        "INNER",
        "JOINT",
        "LEFT",
        "LENGTH",
        "LEVEL",
        "LOOP",
        "METAL",
        "MIRRORED",
        "NESTED",
        "OPENS",
        "PAIR",
        "PART",
        "PLAIN",
        "RIGHT",
        "SIDE",
        "TIP",
        "TITLE",
        "TRIPLE",
        "TURNS",
        "VERSION",
        "WIRE",
        "VARIANT",
        "VARYING",
    }
)
"""Words that are names wherever the grammar has no use for them as words; all others are reserved."""

# Words only in front of what makes them so: `a pair of large`, but `around the joint of a and b`; `expect loop a, b is
# plain`, but `expect loop holds 3`.
_IN_FRONT_OF = {
    "A": r"(?:(?:pair|triple)|half[ \t]+turn)(?!\w)",
    "BOTH": r"hands(?!\w)",
    "LOOP": r"(?!(?:along|closes|holds|is|links|mod|of|pairs|rings|single|triples|turns +by)(?![\w-]))[\w(]",
    "PAIR": r"(?:of|along)(?!\w)",
    "TRIPLE": r"(?:of|along)(?!\w)",
}
# Words unless what follows makes them numbers: `closed with front inside`, but `closed with front half turns`.
_NOT_IN_FRONT_OF = dict.fromkeys(("BACK", "FRONT"), r"(?:half|mod)(?!\w)|[-+*/]")


class Token:
    """A word, number, text or sign of the masked text.

    Not `lark.Token`: that one costs three times as much.
    """

    __slots__ = ("end_pos", "start_pos", "type", "value")

    def __init__(self, type_: str, value: str, start_pos: int, end_pos: int) -> None:
        self.type = type_
        self.value = value
        self.start_pos = start_pos
        """Offset of the first character."""
        self.end_pos = end_pos
        """Offset behind the last character."""


class Scanner(Struct, frozen=True, kw_only=True):
    """What `tokens` looks for: made once from the terminals of the grammar."""

    words: Mapping[str, str]
    """Terminal of each word of the notation."""
    signs: Mapping[str, str]
    """Terminal of each sign."""
    pattern: re.Pattern[str]
    without_texts: re.Pattern[str]
    """The same for a stretch in which no text is closed."""
    followers: Mapping[str, re.Pattern[str]]
    """What must follow for a word to be one."""

    def tokens(self, text: str, start: int = 0, end: int | None = None) -> Iterator[Token]:
        """The tokens of masked text from one offset to another; a stray character is a token too."""
        stop = len(text) if end is None else end
        while start < stop:
            # Behind a quotation mark that nothing closes, none is closed up to the end of the line: try none of them.
            unclosed = -1
            for token in self._run(self.pattern, text, start, stop):
                yield token
                if token.type == STRAY and token.value == '"':
                    unclosed = token.end_pos
                    break
            if unclosed < 0:
                return
            start = text.find("\n", unclosed, stop)
            start = stop if start < 0 else start
            yield from self._run(self.without_texts, text, unclosed, start)

    def _run(self, pattern: re.Pattern[str], text: str, start: int, stop: int) -> Iterator[Token]:
        words, signs, followers = self.words, self.signs, self.followers
        for match in pattern.finditer(text, start, stop):
            kind = match.lastgroup
            if kind is None:
                continue
            first, last = match.span(kind)
            value = match[kind]
            if kind == NAME:
                type_ = words.get(value, NAME)
                if type_ in followers and not followers[type_].match(text, last):
                    type_ = NAME
            else:
                type_ = signs[value] if kind == "SIGN" else kind
            yield Token(type_, value, first, last)


def scanner(terminals: Iterable[tuple[str, str, bool]]) -> Scanner:
    """A scanner for terminals, each its name, its text or regular expression, and whether it is the latter."""
    words: dict[str, str] = {}
    signs: dict[str, str] = {}
    expressions: dict[str, str] = {}
    for name, text, is_expression in terminals:
        if is_expression:
            expressions[name] = text
        elif text.isalpha():
            words[text] = name
        else:
            signs[text] = name
    longest_first = sorted(signs, key=lambda sign: (-len(sign), sign))
    parts = {name: f"(?P<{name}>{expressions[name]})" for name in (NAME, DECIMAL, NUMBER, TEXT)}
    parts["SIGN"] = f"(?P<SIGN>{'|'.join(re.escape(sign) for sign in longest_first)})"
    parts[STRAY] = f"(?P<{STRAY}>[^ \\t])"
    parts["END"] = r"\Z"  # blanks at the end are met once, and not again from each of them

    def pattern(*names: str) -> re.Pattern[str]:
        return re.compile(f"[ \\t]*+(?:{'|'.join(parts[name] for name in names)})")

    return Scanner(
        words=words,
        signs=signs,
        pattern=pattern(*parts),
        without_texts=pattern(*(name for name in parts if name != TEXT)),
        followers={
            **{name: re.compile(f"[ \\t]+{follower}") for name, follower in _IN_FRONT_OF.items()},
            **{name: re.compile(f"(?![ \\t]*(?:{after}))") for name, after in _NOT_IN_FRONT_OF.items()},
        },
    )
