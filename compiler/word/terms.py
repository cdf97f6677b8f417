"""Which words of the craft the steps use, for the glossary."""

from __future__ import annotations

from collections.abc import Iterable

from compiler.messages import FindingPart, Members, Say, Series
from compiler.steps import PieceWords, Term

_FRONT = (Term.FRONT,)
_THROUGH = (Term.GO_THROUGH,)
_CARRY = (Term.CARRY,)
_FINDING = (Term.FINDING,)
_BY_EYE = (Term.FINDING, Term.EYE)

TERMS_OF: dict[Say, tuple[Term, ...]] = {
    **dict.fromkeys((Say.TAKE_OPEN, Say.EACH_TAKE_OPEN, Say.OPEN_AGAIN), (Term.OPEN, Term.CLOSE)),
    **dict.fromkeys(
        (Say.GO_THROUGH, Say.EACH_THROUGH, Say.EACH_THROUGH_SAME, Say.EACH_THROUGH_RELATIVE), _THROUGH
    ),
    **dict.fromkeys(
        (
            Say.GO_THROUGH_FROM,
            Say.GO_THROUGH_EYE,
            Say.EACH_THROUGH_FROM,
            Say.EACH_ALSO_FROM,
            Say.EACH_THROUGH_SAME_FROM,
            Say.EACH_THROUGH_RELATIVE_FROM,
        ),
        _THROUGH + _FRONT,
    ),
    **dict.fromkeys((Say.FEED, Say.EACH_FEED), (Term.FEED,)),
    **dict.fromkeys((Say.FEED_FROM, Say.EACH_FEED_FROM), (Term.FEED, Term.FRONT)),
    Say.EACH_CARRY: _CARRY,
    Say.CARRY_FROM: _FRONT,
    Say.EACH_CARRY_FROM: _CARRY + _FRONT,
    Say.CARRY_FINDING: _FINDING,
    Say.CARRY_FINDING_FROM: _FINDING + _FRONT,
    Say.CARRY_FINDING_BY: _BY_EYE,
    Say.CARRY_FINDING_BY_FROM: _BY_EYE + _FRONT,
    **dict.fromkeys((Say.AROUND, Say.EACH_AROUND), (Term.AROUND,)),
    **dict.fromkeys((Say.AROUND_JOINT, Say.EACH_AROUND_JOINT), (Term.AROUND, Term.JOINT)),
    **dict.fromkeys((Say.BETWEEN, Say.EACH_BETWEEN), (Term.BETWEEN,)),
    **dict.fromkeys((Say.INSIDE, Say.EACH_INSIDE, Say.TAKE_INSIDE, Say.TAKE_LAID_INSIDE), (Term.INSIDE,)),
    **dict.fromkeys((Say.OVER, Say.UNDER, Say.EACH_OVER, Say.EACH_UNDER), (Term.OVER,)),
    **dict.fromkeys(
        (Say.TAKE_TWIN_OPEN, Say.TWIN_SAME, Say.TWINS_SAME, Say.EACH_TWIN_SAME, Say.EACH_TWINS_SAME),
        (Term.TWIN,),
    ),
    Say.TWIN_AGAIN: (Term.TWIN,),
    Say.TAKE_FINDING: (Term.FINDING, Term.EYE, Term.OPENING_EYE),
    Say.OPEN_EYE: (Term.EYE, Term.OPENING_EYE),
    Say.HANG_ON_FROM: _FRONT,
    **dict.fromkeys((Say.FIRST_ROW, Say.FIRST_ROW_FROM_RIGHT), (Term.ROW,)),
    **dict.fromkeys((Say.FIRST_ROUND, Say.ROUND_BEGINS), (Term.ROUND,)),
    **dict.fromkeys((Say.ROWS_LEAN, Say.LEAN, Say.CHECK_LEAN), (Term.LEAN,)),
    **dict.fromkeys((Say.CHECK_PLAIN_THREE, Say.CHECK_CROSSED_THREE), (Term.FLOWER,)),
    Say.HALF_TURNS: (Term.HALF_TURN,),
    Say.WORK_DIRECTION: _FRONT,
    **dict.fromkeys((Say.CHECK_LINKS, Say.CHECK_PART_LINKS), (Term.CONNECTION,)),
}
STRAND_TERMS = {2: Term.PAIR, 3: Term.THREE}


def terms_of(pieces: Iterable[PieceWords]) -> tuple[Term, ...]:
    """The terms of all steps, in the glossary's order."""
    used: set[Term] = set()
    told = tuple(pieces)
    if len(told) > 1 or any(piece.times > 1 for piece in told):  # counted in the table of pieces
        used.add(Term.CONNECTION)
    for piece in told:
        for step in piece.steps:
            checks = (step.checkpoint,)
            for messages in (*(each.messages for each in step.instructions), *checks):
                for message in messages:
                    used.update(TERMS_OF.get(message.name, ()))
                    for _, value in message.arguments:
                        if isinstance(value, Series):
                            _note(used, value.lines[0].things)
                        elif isinstance(value, tuple):
                            _note(used, value)
                        else:
                            _note(used, (value,))
    return tuple(term for term in Term if term in used)


def _note(used: set[Term], things: Iterable[object]) -> None:
    for thing in things:
        if isinstance(thing, FindingPart):
            used.add(Term.FINDING)
        if isinstance(thing, Members):
            term = STRAND_TERMS.get(thing.group.strand)
            if term is not None:
                used.add(term)
            if thing.waits_on:
                used.add(Term.WAIT)
