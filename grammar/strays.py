"""Characters that begin nothing, explained: quotes, dashes and spaces that only look right, points, open texts."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence

from grammar.tokens import DECIMAL, NUMBER, Token
from notation.source import Span

_QUOTES = "“”„‟«»‹›‘’‚‛'`´"
_DASHES = "‐‑‒–—―−"
_COMPARISONS = {"≤": "<=", "≥": ">=", "≠": "<>"}
_INVISIBLE = frozenset({"Cc", "Cf", "Co", "Cn", "Cs", "Zl", "Zp"})


def explain_stray(text: str, end: int, tokens: Sequence[Token], at: int, tell: Callable[..., None]) -> None:
    """Tells of the stray character `tokens[at]`; `end` is where the line ends."""
    token = tokens[at]
    character = token.value
    span = Span(token.start_pos, token.end_pos)
    following = tokens[at + 1]
    touches = following.start_pos == token.end_pos
    if character == '"':
        line_end = text.find("\n", span.start)
        tell("unclosed-text", Span(span.start, end if line_end < 0 else min(end, line_end)))
    elif character == "!" and following.value == "=" and touches:
        both = Span(span.start, following.end_pos)
        tell("comparison-sign", both, found="!=", meant="<>", replacement="<>")
    elif character in _COMPARISONS:
        meant = _COMPARISONS[character]
        tell("comparison-sign", span, found=character, meant=meant, replacement=meant)
    elif character == ".":
        _point(tokens, at, tell)
    elif character in _QUOTES:
        tell("stray-character", span, "quote", found=character)
    elif character in _DASHES:
        tell("stray-character", span, "dash", found=character, replacement="-")
    elif character in "×✕·":
        tell("stray-character", span, "times", found=character, replacement="*")
    elif character.isspace():
        tell("stray-character", span, "space", found=_called(character), replacement=" ")
    elif unicodedata.category(character) in _INVISIBLE:
        tell("stray-character", span, "invisible", found=_called(character), replacement="")
    else:
        tell("stray-character", span, found=f"`{character}`")


def decimal_comma(tokens: Sequence[Token], at: int, tell: Callable[..., None]) -> bool:
    """Tells of `1,5` where `tokens[at]` is the 5."""
    if at < 2:
        return False
    whole, comma, part = tokens[at - 2], tokens[at - 1], tokens[at]
    touch = whole.end_pos == comma.start_pos and comma.end_pos == part.start_pos
    if whole.type != NUMBER or comma.type != "COMMA" or part.type != NUMBER or not touch:
        return False
    meant = f"{whole.value}.{part.value}"
    tell("bad-number", Span(whole.start_pos, part.end_pos), "comma", meant=meant, replacement=meant)
    return True


def _point(tokens: Sequence[Token], at: int, tell: Callable[..., None]) -> None:
    """A full stop: one that belongs to a number, or any other."""
    token, following = tokens[at], tokens[at + 1]
    before = tokens[at - 1] if at else None
    if before is not None and before.type in (NUMBER, DECIMAL) and before.end_pos == token.start_pos:
        span = Span(before.start_pos, token.end_pos)
        tell("bad-number", span, "trailing-point", meant=before.value, replacement=before.value)
    elif following.type == NUMBER and following.start_pos == token.end_pos:
        meant = f"0.{following.value}"
        span = Span(token.start_pos, following.end_pos)
        tell("bad-number", span, "leading-point", meant=meant, replacement=meant)
    else:
        tell("stray-character", Span(token.start_pos, token.end_pos), found="`.`")


def _called(character: str) -> str:
    """A character that cannot be seen, by its number and name."""
    return f"U+{ord(character):04X} {unicodedata.name(character, '')}".rstrip()
