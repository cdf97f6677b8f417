"""A line that could not be read, explained: a rule, its arguments, the place, and what is still open.

In: the line's tokens, the one the parser did not take, and the terminals it would have taken. Out: one diagnostic.
The slips that people make most are recognised and called by their name; what is left is "does not fit here", with
what may stand there.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from grammar import strays
from grammar.lines import GOING_ON
from grammar.mixups import MIXUPS
from grammar.slip import Slip, span_of
from grammar.tokens import ALSO_NAMES, DECIMAL, NAME, NEWLINE, NUMBER, STRAY, Token
from grammar.words import NUMBER_WORDS, OTHER_WORDS, TIMES_WORDS, listed, shown
from notation.source import Span

_CLOSING = {"LPAR": ("RPAR", "(", ")"), "LSQB": ("RSQB", "[", "]")}
_OPENING = {"RPAR": "(", "RSQB": "["}
_HEADERS = frozenset(
    {
        "UNIT",
        "PIECE",
        "VARIANT",
        "LINE",
        "ROUND",
        "SHEET",
        "TUBE",
        "DISC",
        "STEP",
        "FOR",
        "REPEAT",
        "IF",
        "ELSE",
    }
)
# Where a name is made or used and nothing else can be meant.
_BEFORE_NAME = _HEADERS | {
    "RING",
    "FINDING",
    "LET",
    "PORT",
    "LABEL",
    "EACH",
    "AS",
    "MAKE",
    "HANG",
    "METAL",
    "TO",
    "VARYING",
    "EQUAL",
    "PLUS",
    "STAR",
    "SLASH",
}
_FAMILIES = frozenset({"LINE", "ROUND", "SHEET", "TUBE", "DISC"})
_COMPARISONS = {
    ("EQUAL", "EQUAL"): "=",
    ("EQUAL", "MORE"): ">=",
    ("EQUAL", "LESS"): "<=",
    ("MORE", "LESS"): "<>",
}
_UNITS = frozenset({"MM", "CM", "IN", "AWG", "SWG"})
_CLOSE = 0.75
"""How much alike two words must be, of 1."""


def explain(slip: Slip) -> None:
    """Tells what is wrong with the line."""
    for recognise in (*MIXUPS, *_RECOGNISERS):
        if recognise(slip):
            return
    _unexpected(slip)


# ---------------------------------------------------------------- single tokens


def _stray(slip: Slip) -> bool:
    if slip.token.type != STRAY:
        return False
    strays.explain_stray(slip.text, slip.line.end, slip.tokens, slip.at, slip.tell)
    return True


def _first_word(slip: Slip) -> bool:
    """The first token of the line begins no statement."""
    token = slip.token
    if slip.at > 0:
        return False
    word, span = token.value, span_of(token)
    lower = word.lower()
    if word in GOING_ON:
        slip.tell("clause-alone", span, found=word)
    elif token.type != NAME and word not in slip.words:
        slip.tell("unexpected", span, "line-start", found=shown(token))
    elif lower != word and slip.words.get(lower, "") in slip.starters:
        slip.tell("capital-word", span, found=word, meant=lower, replacement=lower)
    elif lower in OTHER_WORDS and slip.words.get(OTHER_WORDS[lower].split()[0], "") in slip.starters:
        meant = OTHER_WORDS[lower]
        slip.tell("other-word", span, found=word, meant=meant, replacement=meant)
    elif word in slip.words:
        slip.tell("unknown-word", span, "not-first", found=word)
    elif meant := _close_to(lower, slip.starters, slip.values):
        slip.tell("unknown-word", span, "close", found=word, meant=meant, replacement=meant)
    else:
        slip.tell("unknown-word", span, found=word)
    return True


def _comparison(slip: Slip) -> bool:
    token, before = slip.token, slip.before
    if before is None or before.end_pos != token.start_pos or (before.type, token.type) not in _COMPARISONS:
        return False
    meant = _COMPARISONS[before.type, token.type]
    span = Span(before.start_pos, token.end_pos)
    slip.tell("comparison-sign", span, found=before.value + token.value, meant=meant, replacement=meant)
    return True


def _number(slip: Slip) -> bool:
    """A number with decimals, or with a comma for its point, or as a word."""
    token, expected = slip.token, slip.expected
    if token.type in (NUMBER, DECIMAL) and strays.decimal_comma(slip.tokens, slip.at, slip.tell):
        return True
    if NUMBER not in expected:
        return False
    if token.type == DECIMAL:
        slip.tell("decimal-count", span_of(token), found=token.value)
        return True
    word = token.value.lower()
    if word in NUMBER_WORDS and token.type not in expected:
        meant = NUMBER_WORDS[word]
        slip.tell("number-word", span_of(token), found=token.value, meant=meant, replacement=meant)
        return True
    return False


def _which_length(slip: Slip) -> bool:
    """`ring link: 5 mm`: the hole or the wire?"""
    token, before = slip.token, slip.before
    due = before is not None and before.type in ("COLON", "COMMA") and slip.tokens[0].type == "RING"
    if not due or token.type not in (NUMBER, DECIMAL) or not {"INNER", "WIRE"} & slip.expected:
        return False
    unit = slip.tokens[slip.at + 1]
    last = unit if unit.type in _UNITS else token
    slip.tell(
        "unexpected",
        Span(token.start_pos, last.end_pos),
        "which-length",
        found=" ".join(slip.text[token.start_pos : last.end_pos].split()),
    )
    return True


def _times_word(slip: Slip) -> bool:
    """`made twice:`: the word was taken for a variable."""
    before = slip.before
    if before is None or before.value not in TIMES_WORDS or "TIMES" not in slip.expected:
        return False
    meant = TIMES_WORDS[before.value]
    slip.tell("other-word", span_of(before), "number", found=before.value, meant=meant, replacement=meant)
    return True


# ---------------------------------------------------------------- brackets, commas, colons


def _bracket(slip: Slip) -> bool:
    token = slip.token
    opened: list[Token] = []
    for earlier in slip.tokens[: slip.at]:
        if earlier.type in _CLOSING:
            opened.append(earlier)
        elif earlier.type in _OPENING and opened:
            opened.pop()
    if token.type in _OPENING and not opened:
        slip.tell("unopened-bracket", span_of(token), found=token.value, opening=_OPENING[token.type])
        return True
    if not opened:
        return False
    innermost = opened[-1]
    closed_by, bracket, closing = _CLOSING[innermost.type]
    if token.type in _OPENING and token.type != closed_by:
        slip.tell(
            "unclosed-bracket",
            span_of(token),
            "wrong-one",
            found=token.value,
            bracket=bracket,
            closing=closing,
            labels=(("bracket-here", span_of(innermost)),),
        )
        return True
    if token.type == NEWLINE and slip.before is not None and slip.before.type == "COMMA":
        return False
    ends = token.type in (NEWLINE, "COLON") or (
        closed_by in slip.expected and token.type in slip.words.values()
    )
    if ends:
        slip.tell("unclosed-bracket", span_of(innermost), bracket=bracket, closing=closing)
    return ends


def _comma(slip: Slip) -> bool:
    before = slip.before
    if slip.token.type != NEWLINE or before is None or before.type != "COMMA":
        return False
    slip.tell("trailing-comma", span_of(before), replacement="")
    return True


def _colon(slip: Slip) -> bool:
    token, before, expected = slip.token, slip.before, slip.expected
    first = slip.tokens[0]
    if before is None:
        return False
    if token.type == "COLON" and NEWLINE in expected:
        slip.tell("extra-colon", span_of(token), word=first.value, replacement="")
        return True
    if before.type == "COLON" and NEWLINE in expected:
        slip.tell("after-colon", span_of(token), found=shown(token))
        return True
    if "COLON" not in expected:
        return False
    behind = Span(before.end_pos, before.end_pos)
    if first.type in _HEADERS and token.type == NEWLINE:
        slip.tell("missing-colon", behind, word=first.value, replacement=":")
        return True
    if first.type in ("RING", "FINDING", "KIT") and token.type != NEWLINE and not _touching_hyphen(slip):
        slip.tell("missing-colon", behind, "inside", before=shown(before), replacement=":")
        return True
    return False


# ---------------------------------------------------------------- names and words


def _touching_hyphen(slip: Slip) -> bool:
    before = slip.before
    return slip.token.type == "MINUS" and before is not None and before.end_pos == slip.token.start_pos


def _bad_name(slip: Slip) -> bool:
    token, before = slip.token, slip.before
    following = slip.tokens[slip.at + 1] if slip.at + 1 < len(slip.tokens) else token
    touches = following.start_pos == token.end_pos
    if (
        before is not None
        and before.type == NAME
        and _touching_hyphen(slip)
        and following.type == NUMBER
        and touches
    ):
        span = Span(before.start_pos, following.end_pos)
        slip.tell("bad-name", span, "hyphen", name=before.value, number=following.value)
        return True
    if token.type == NUMBER and NAME in slip.expected and NUMBER not in slip.expected:
        end = following.end_pos if touches and following.type == NAME else token.end_pos
        slip.tell("bad-name", Span(token.start_pos, end), "digit")
        return True
    return False


def _quantity(slip: Slip) -> bool:
    """A kind without its count or a count without its kind."""
    token, before = slip.token, slip.before
    if before is None or "SINGLE" not in slip.expected or NAME not in slip.expected or token.type == NAME:
        return False
    starts_here = slip.at >= 2 and slip.tokens[slip.at - 2].type not in (
        "PLUS",
        "MINUS",
        "STAR",
        "SLASH",
        "MOD",
    )
    if before.type == NUMBER:
        # A ring that is called by a word of the notation is told where it is declared, and only there.
        if re.search(rf"^(?:ring|finding)[ \t]+{re.escape(token.value)}[ \t]*:", slip.text, re.MULTILINE):
            return True
        slip.tell("no-kind", Span(before.end_pos, before.end_pos), count=before.value)
        return True
    if before.type == NAME and starts_here:
        slip.tell("no-count", span_of(before), name=before.value)
        return True
    return False


def _member(slip: Slip) -> bool:
    """`arm 1` or `arm(1)` for `arm[1]`."""
    token, before = slip.token, slip.before
    if before is None or before.type != NAME or "LSQB" not in slip.expected:
        return False
    bracket = token.type == "LPAR" and before.end_pos == token.start_pos
    number = slip.tokens[slip.at + 1] if bracket else token
    if number.type != NUMBER:
        return False
    slip.tell(
        "member-brackets", Span(before.start_pos, number.end_pos), name=before.value, number=number.value
    )
    return True


def _reserved(slip: Slip) -> bool:
    token, before = slip.token, slip.before
    is_word = slip.words.get(token.value) == token.type and token.type not in ALSO_NAMES
    if not is_word or before is None or NAME not in slip.expected:
        return False
    first = slip.tokens[0].type
    parameter = first == "UNIT" and before.type in ("LPAR", "COMMA")
    width = first in _FAMILIES and before.type == "OF"
    if not (parameter or width or before.type in _BEFORE_NAME):
        return False
    slip.tell("reserved-word", span_of(token), found=token.value)
    return True


def _word(slip: Slip) -> bool:
    """A name where a word is due: a capital letter, another word, a slip of the pen."""
    token = slip.token
    if token.type != NAME and token.value not in slip.words:
        return False
    word, span = token.value, span_of(token)
    lower = word.lower()
    if lower != word and slip.words.get(lower, "") in slip.expected:
        slip.tell("capital-word", span, found=word, meant=lower, replacement=lower)
        return True
    meant = OTHER_WORDS.get(lower, "")
    if meant and slip.words.get(meant, "") in slip.expected:
        slip.tell("other-word", span, found=word, meant=meant, replacement=meant)
        return True
    if token.type != NAME:
        return False
    close = _close_to(lower, slip.expected, slip.values)
    if close:
        slip.tell("misspelt-word", span, found=word, meant=close, replacement=close)
    return bool(close)


def _next_statement(slip: Slip) -> bool:
    token = slip.token
    if token.type not in slip.starters or NEWLINE not in slip.expected or token.type in ALSO_NAMES:
        return False
    slip.tell("two-on-a-line", span_of(token), found=token.value)
    return True


def _unexpected(slip: Slip) -> None:
    """What is left: what stands here and what may."""
    token, expected = slip.token, slip.expected
    if token.type == NEWLINE:
        end = slip.tokens[slip.at - 1].end_pos
        slip.tell("unexpected", Span(end, end), "line-end", expected=listed(expected, slip.values))
    elif expected == {NEWLINE}:
        slip.tell("unexpected", span_of(token), "nothing-else", found=shown(token))
    else:
        slip.tell("unexpected", span_of(token), found=shown(token), expected=listed(expected, slip.values))


def _close_to(word: str, terminals: frozenset[str], values: Mapping[str, str]) -> str:
    """The word among some terminals that is most like a word, or nothing."""
    from difflib import get_close_matches  # seldom wanted

    candidates = sorted(values[terminal] for terminal in terminals if values.get(terminal, "").isalpha())
    return next(iter(get_close_matches(word, candidates, n=1, cutoff=_CLOSE)), "")


_RECOGNISERS: tuple[Callable[[Slip], bool], ...] = (
    _stray,
    _first_word,
    _comparison,
    _number,
    _which_length,
    _times_word,
    _bad_name,
    _member,
    _comma,
    _reserved,
    _bracket,
    _word,
    _colon,
    _quantity,
    _next_statement,
)
