"""Clauses and options that were mixed up, explained: a line that says what is meant, in a way that cannot be read.

In: a `Slip`. Out: whether it was recognised, and then it has been told. `grammar.explain` asks these first: they
are sure of what they see, and what comes after them sees only one word of it.
"""

from __future__ import annotations

from collections.abc import Callable

from grammar.slip import Slip, span_of
from grammar.tokens import NAME, NEWLINE, NUMBER, Token
from notation.source import Span

_CLAUSES = frozenset(
    {"THROUGH", "GATHERING", "CARRYING", "JOINED", "AROUND", "BETWEEN", "INSIDE", "OVER", "UNDER"}
)
_COMPANIONS = frozenset({"FRONT", "NESTED", "SIDE"})
_OF_AN_OPEN_RING = frozenset(
    {"THROUGH", "GATHERING", "CARRYING", "JOINED", "AROUND", "OVER", "UNDER", "BETWEEN"}
)
_LIES = frozenset({"AROUND", "BETWEEN", "INSIDE", "OVER"})


def _last_clause(slip: Slip) -> int:
    """Which token begins the clause that the slip stands in; -1 if none does."""
    return next((at for at in range(slip.at - 1, 0, -1) if slip.tokens[at].type in _CLAUSES), -1)


def _later(slip: Slip, *types: str) -> Token | None:
    """The first token of some types from the slip on."""
    return next((token for token in slip.tokens[slip.at :] if token.type in types), None)


def _words(slip: Slip, first: Token, last: Token) -> str:
    """What stands from one token to another, its spaces made one."""
    return " ".join(slip.text[first.start_pos : last.end_pos].split())


# ---------------------------------------------------------------- clauses of a pass


def _gap(slip: Slip) -> bool:
    """What follows `between`: two neighbours with `and`, or one strand, and nothing more."""
    at = _last_clause(slip)
    if at < 0 or slip.tokens[at].type != "BETWEEN":
        return False
    token, expected = slip.token, slip.expected
    said_and = any(one.type == "AND" for one in slip.tokens[at : slip.at])
    if token.type in ("COMMA", "TO", "OR") and "AND" in expected and not said_and:
        replacement = " and" if token.type == "COMMA" else "and"
        slip.tell("clause-items", span_of(token), "gap-and", found=token.value, replacement=replacement)
        return True
    if token.type in ("FROM", "IF") and said_and:
        last = slip.tokens[min(slip.at + 1, len(slip.tokens) - 2)]
        span = Span(token.start_pos, last.end_pos)
        slip.tell("clause-items", span, "gap-last", found=_words(slip, token, last))
        return True
    if token.type == "AND" and not said_and:
        slip.tell("clause-items", span_of(token), "between-two")
        return True
    return False


def _in(slip: Slip) -> bool:
    """`take 1 small in scale`."""
    if slip.token.type != "IN" or "INSIDE" not in slip.expected or slip.tokens[slip.at + 1].type != NAME:
        return False
    slip.tell("other-word", span_of(slip.token), found="in", meant="inside", replacement="inside")
    return True


def _one_inside(slip: Slip) -> bool:
    """`inside a and b`."""
    at = _last_clause(slip)
    if slip.token.type not in ("AND", "COMMA") or at < 0 or slip.tokens[at].type != "INSIDE":
        return False
    if slip.tokens[slip.at + 1].type == NEWLINE:
        return False
    slip.tell("clause-items", span_of(slip.token), "inside-two")
    return True


def _lying(slip: Slip) -> bool:
    """`over a from behind`, `under the eye of a and b`."""
    at = _last_clause(slip)
    if at < 0 or slip.tokens[at].type not in ("OVER", "UNDER") or slip.tokens[0].type == "EXPECT":
        return False
    if slip.token.type == "FROM" or slip.token.value in ("eye", "joint"):
        slip.tell("clause-items", span_of(slip.token), "lying", clause=slip.tokens[at].value)
        return True
    return False


def _companions(slip: Slip) -> bool:
    """`front and back`, `nested` or `side by side` anywhere but behind the quantity."""
    token, first = slip.token, slip.tokens[0]
    if slip.words.get(token.value, "") not in _COMPANIONS or token.type in slip.expected:
        return False
    if first.type not in ("PASS", "TAKE") or NAME in slip.expected:
        return False
    earlier = next((one for one in slip.tokens[: slip.at] if one.type in _COMPANIONS), None)
    if earlier is not None:
        slip.tell("duplicate-clause", span_of(token), "companions", first=span_of(earlier))
    else:
        slip.tell("clause-place", span_of(token), "companions")
    return True


def _mirrored(slip: Slip) -> bool:
    """`make x with a = 3 mirrored`, `make mirrored x`."""
    tokens, token = slip.tokens, slip.token
    if tokens[0].type != "MAKE" or len(tokens) <= 2:
        return False
    if slip.at == 2 and tokens[1].value == "mirrored" and token.type == NAME:
        slip.tell("clause-place", span_of(tokens[1]), "mirrored", unit=token.value)
        return True
    earlier = next((one for one in tokens[2 : slip.at] if one.type == "MIRRORED"), None)
    if token.value == "mirrored" and earlier is not None:
        slip.tell("duplicate-clause", span_of(token), clause="mirrored", first=span_of(earlier))
        return True
    if token.value == "mirrored":
        slip.tell("clause-place", span_of(token), "mirrored", unit=tokens[1].value)
        return True
    if token.type == "OF" and earlier is not None and slip.tokens[slip.at + 1].type != NEWLINE:
        slip.tell("clause-place", span_of(earlier), "mirrored", unit=tokens[1].value)
        return True
    return False


# ---------------------------------------------------------------- turning


def _half_turns(slip: Slip) -> bool:
    """`closed with 1 turn`, `closed with half a turn`, `closed:`."""
    token, before = slip.token, slip.before
    if before is None or not any(one.type in ("CLOSED", "CLOSES") for one in slip.tokens[: slip.at]):
        return False
    if before.type in ("CLOSED", "CLOSES") and token.type in (NEWLINE, "COLON", "COMMA"):
        slip.tell("half-turns", span_of(before), "how-often", word=before.value)
        return True
    if "HALF" in slip.expected and token.type not in ("PLUS", "RPAR"):
        last = _later(slip, "TURN", "TURNS") or (token if token.type == NAME else None)
        first = before if before.value == "half" else token
        span = span_of(before) if last is None else Span(first.start_pos, last.end_pos)
        slip.tell("half-turns", span)
        return True
    return False


def _turning(slip: Slip) -> bool:
    """`turn tail`, `turn tail over`, `turn tail 90 degrees`, `turn by 90 degrees`."""
    token, before = slip.token, slip.before
    if slip.tokens[0].type != "TURN" or before is None or slip.at == 0:
        return False
    if slip.at == 1:
        if token.type != "BY":
            return False
        slip.tell("turning", span_of(token), "what")
        return True
    said_by = any(one.type == "BY" for one in slip.tokens[: slip.at])
    what = _words(slip, slip.tokens[1], before)
    if not said_by and "BY" in slip.expected and token.type in (NEWLINE, NUMBER, "OVER", "ROUND"):
        if token.type in ("OVER", "ROUND"):
            slip.tell("turning", span_of(token), "whole-work", found=token.value, what=what)
        else:
            slip.tell("turning", Span(before.end_pos, before.end_pos), what=what)
        return True
    if said_by and "DEGREES" in slip.expected and (token.type == NEWLINE or token.value == "°"):
        by = next(at for at, one in enumerate(slip.tokens) if one.type == "BY")
        what = _words(slip, slip.tokens[1], slip.tokens[by - 1])
        end = before.end_pos if token.type == NEWLINE else token.end_pos
        slip.tell("turning", Span(before.end_pos, end), "unit", what=what)
        return True
    return False


def _taken(slip: Slip) -> bool:
    """`take 1 large carrying 6 small`: what is taken is closed."""
    token = slip.token
    if slip.tokens[0].type != "TAKE" or token.type not in _OF_AN_OPEN_RING or slip.at < 3:
        return False
    slip.tell("unexpected", span_of(slip.tokens[0]), "taken", found=token.value, replacement="pass")
    return True


# ---------------------------------------------------------------- expectations and pieces


def _expect(slip: Slip) -> bool:
    """`expect a is under b`, `expect a around b`, `expect a, b is plain`, `expect a and b is around c`."""
    tokens, token, before = slip.tokens, slip.token, slip.before
    if tokens[0].type != "EXPECT" or before is None or slip.at < 2:
        return False
    if token.type == "UNDER" and before.type == "IS" and slip.at + 2 < len(tokens):
        above = _words(slip, tokens[slip.at + 1], tokens[-2])
        below = _words(slip, tokens[1], tokens[slip.at - 2])
        span = Span(tokens[1].start_pos, tokens[-2].end_pos)
        replacement = f"{above} is over {below}"
        slip.tell("expect-form", span, "under", meant=replacement, replacement=replacement)
        return True
    if token.type in _LIES and "IS" in slip.expected:
        slip.tell(
            "expect-form", span_of(token), "without-is", found=token.value, replacement=f"is {token.value}"
        )
        return True
    is_ = _later(slip, "IS")
    if token.type in ("COMMA", "AND", "IS") and is_ is not None and tokens[1].type != "LOOP":
        following = tokens[tokens.index(is_) + 1]
        if following.value in ("plain", "crossed"):
            behind = Span(tokens[0].end_pos, tokens[0].end_pos)
            slip.tell("expect-form", behind, "loop", replacement=" loop")
            return True
        if following.type in _LIES and token.type != "IS":
            slip.tell("expect-form", span_of(token), "one-by-one")
            return True
    return False


def _both_hands(slip: Slip) -> bool:
    """`piece pair both hands:`, `piece pair in two hands:`."""
    hands = next((one for one in slip.tokens[2:] if one.value in ("hand", "hands")), None)
    if slip.tokens[0].type != "PIECE" or hands is None or slip.at < 2:
        return False
    first = min(slip.token.start_pos, hands.start_pos)
    if slip.before is not None and slip.before.type in ("IN", NAME) and slip.at > 2:
        first = slip.before.start_pos
    slip.tell("both-hands", Span(first, hands.end_pos), name=slip.tokens[1].value)
    return True


MIXUPS: tuple[Callable[[Slip], bool], ...] = (
    _gap,
    _in,
    _one_inside,
    _lying,
    _companions,
    _mirrored,
    _half_turns,
    _turning,
    _taken,
    _expect,
    _both_hands,
)
"""What is looked for, in this order."""
