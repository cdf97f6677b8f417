"""Which words of the craft the steps use, for the glossary."""

from __future__ import annotations

from collections.abc import Iterable

from compiler.messages import Members, Say, Series
from compiler.steps import PieceWords, Term

TERMS_OF = {
    Say.TAKE_OPEN: (Term.OPEN, Term.CLOSE),
    Say.EACH_TAKE_OPEN: (Term.OPEN, Term.CLOSE),
    Say.OPEN_AGAIN: (Term.OPEN, Term.CLOSE),
    Say.GO_THROUGH: (Term.GO_THROUGH,),
    Say.GO_THROUGH_FROM: (Term.GO_THROUGH, Term.FRONT),
    Say.EACH_THROUGH: (Term.GO_THROUGH,),
    Say.EACH_THROUGH_SAME: (Term.GO_THROUGH,),
    Say.EACH_THROUGH_RELATIVE: (Term.GO_THROUGH,),
    Say.EACH_THROUGH_FROM: (Term.GO_THROUGH, Term.FRONT),
    Say.FEED: (Term.FEED,),
    Say.FEED_FROM: (Term.FEED, Term.FRONT),
    Say.EACH_FEED: (Term.FEED,),
    Say.CARRY: (Term.CARRY,),
    Say.CARRY_FINDING: (Term.CARRY, Term.FINDING),
    Say.CARRY_FINDING_BY: (Term.CARRY, Term.FINDING, Term.EYE),
    Say.EACH_CARRY: (Term.CARRY,),
    Say.AROUND: (Term.AROUND,),
    Say.EACH_AROUND: (Term.AROUND,),
    Say.BETWEEN: (Term.BETWEEN,),
    Say.EACH_BETWEEN: (Term.BETWEEN,),
    Say.TAKE_TWIN_OPEN: (Term.TWIN,),
    Say.TWIN_SAME: (Term.TWIN,),
    Say.TWINS_SAME: (Term.TWIN,),
    Say.EACH_TWIN_SAME: (Term.TWIN,),
    Say.EACH_TWINS_SAME: (Term.TWIN,),
    Say.TWIN_AGAIN: (Term.TWIN,),
    Say.TAKE_FINDING: (Term.FINDING, Term.EYE),
    Say.OPEN_EYE: (Term.EYE,),
    Say.FIRST_ROW: (Term.ROW,),
    Say.FIRST_ROUND: (Term.ROUND,),
}
STRAND_TERMS = {2: Term.PAIR, 3: Term.THREE}


def terms_of(pieces: Iterable[PieceWords]) -> tuple[Term, ...]:
    """The terms of all steps, in the glossary's order."""
    used: set[Term] = set()
    for piece in pieces:
        for step in piece.steps:
            for instruction in step.instructions:
                for message in instruction.messages:
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
        if isinstance(thing, Members):
            term = STRAND_TERMS.get(thing.group.strand)
            if term is not None:
                used.add(term)
            if thing.waits_on:
                used.add(Term.WAIT)
