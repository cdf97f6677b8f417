"""Actions for the statements inside blocks, and all actions together."""

from __future__ import annotations

from functools import partial
from typing import Any, TypedDict

from grammar.actions.base import Parts
from grammar.actions.headers import HeaderActions
from grammar.actions.picks import Amount, Clause
from grammar.opening import Opening
from grammar.tokens import Token
from notation.expectations import ExpectHolds, ExpectTotal, ExpectUsed
from notation.handling import Handle, HandMotion, LabelLine, Remark, RemarkKind
from notation.nodes import Carry, Expression, Item, Join, Name, Named, Pick, Target, Variable
from notation.source import Span
from notation.statements import Argument, Hang, Let, Make, Pass, Port, Reopen, Take, Twin


class _Clauses(TypedDict, total=False):
    """The clauses of a pass, named as its fields."""

    through: tuple[Item, ...]
    gathering: tuple[Item, ...]
    carrying: tuple[Carry, ...]
    join: Join
    around: tuple[Item, ...]
    between: Pick
    target: Target


_FIELDS = {
    "THROUGH": "through",
    "GATHERING": "gathering",
    "CARRYING": "carrying",
    "JOINED": "join",
    "AROUND": "around",
    "BETWEEN": "between",
}


class StatementActions(HeaderActions):
    """All actions of the grammar."""

    # ------------------------------------------------------------ what makes links

    def pass_line(self, c: Parts) -> Pass:
        word, amount, clauses = c
        return self._pass(word, amount, clauses, None, clauses[-1].end if clauses else amount.end)

    def pass_header(self, c: Parts) -> Opening:
        word, amount, clauses, colon = c
        as_written = self._pass(word, amount, clauses, None, colon.end_pos)
        make = partial(_with_twin, as_written)
        return Opening(word="pass", make=make, span=as_written.span)

    def _pass(self, word: Token, amount: Amount, clauses: list[Clause], twin: Twin | None, end: int) -> Pass:
        span = Span(word.start_pos, end)
        if not clauses:
            return Pass(quantity=amount.quantity, target=amount.target, twin=twin, span=span)
        fields = self._each_clause_once(clauses, amount.target)
        return Pass(quantity=amount.quantity, twin=twin, span=span, **fields)

    def _each_clause_once(self, clauses: list[Clause], target: Target | None = None) -> _Clauses:
        """The clauses by field; one that comes twice is told and the first counts."""
        places: dict[str, Span] = {}
        fields: dict[str, Any] = {}
        if target is not None:
            fields["target"] = target
        for clause in clauses:
            word = clause.word
            span = Span(word.start_pos, word.end_pos)
            field = _FIELDS[word.type]
            if field in places:
                self.tell("duplicate-clause", span, clause=word.value, first=places[field])
            else:
                places[field] = span
                fields[field] = clause.value
            if clause.target is not None:
                if "target" in fields:
                    first = fields["target"].span
                    self.tell("duplicate-clause", clause.target.span, clause="as", first=first)
                else:
                    fields["target"] = clause.target
        return fields  # type: ignore[return-value]

    def twin(self, c: Parts) -> Twin:
        word = c[0]
        if len(c) == 1:
            return Twin(span=Span(word.start_pos, word.end_pos))
        fields = self._each_clause_once(c[1])
        span = Span(word.start_pos, c[1][-1].end)
        return Twin(through=fields.get("through", ()), gathering=fields.get("gathering", ()), span=span)

    def take(self, c: Parts) -> Take:
        word, amount = c
        return Take(quantity=amount.quantity, target=amount.target, span=Span(word.start_pos, amount.end))

    def reopen(self, c: Parts) -> Reopen:
        word, pick = c[0], c[1]
        if len(c) == 2:
            return Reopen(pick=pick, span=Span(word.start_pos, pick.span.end))
        fields = self._each_clause_once(c[2])
        return Reopen(
            pick=pick,
            through=fields.get("through", ()),
            carrying=fields.get("carrying", ()),
            span=Span(word.start_pos, c[2][-1].end),
        )

    def hung(self, c: Parts) -> tuple[Name, tuple[Expression, ...]]:
        return c[0], tuple(c[2]) if len(c) > 1 else ()

    def hang(self, c: Parts) -> Hang:
        word, (finding, index), eye, _, items, *rest = c
        target = rest[0] if rest else None
        span = Span(word.start_pos, (target or items[-1]).span.end)
        return Hang(finding=finding, index=index, eye=eye, items=tuple(items), target=target, span=span)

    def make(self, c: Parts) -> Make:
        word, unit, alias, arguments, *rest = c
        target = rest[0] if rest else None
        last = target or (arguments[-1] if arguments else alias or unit)
        span = Span(word.start_pos, last.span.end)
        return Make(unit=unit, alias=alias, arguments=tuple(arguments), target=target, span=span)

    def first_argument(self, c: Parts) -> Parts:
        return [c[1]]

    def number_argument(self, c: Parts) -> Argument:
        name, _, number = c
        pick = Named(name=number.name, span=number.span) if isinstance(number, Variable) else None
        return Argument(name=name, number=number, pick=pick, span=Span(name.span.start, number.span.end))

    def pick_argument(self, c: Parts) -> Argument:
        name, _, pick = c
        return Argument(name=name, number=None, pick=pick, span=Span(name.span.start, pick.span.end))

    # ------------------------------------------------------------ names and words

    def let(self, c: Parts) -> Let:
        return Let(name=c[1], value=c[3], span=Span(c[0].start_pos, c[3].span.end))

    def port(self, c: Parts) -> Port:
        picks = tuple(c[3])
        return Port(name=c[1], picks=picks, span=Span(c[0].start_pos, picks[-1].span.end))

    def label(self, c: Parts) -> LabelLine:
        plural = c[4] if len(c) == 5 else None
        return LabelLine(name=c[1], singular=c[2], plural=plural, span=Span(c[0].start_pos, c[-1].span.end))

    def remark(self, c: Parts) -> Remark:
        word, text = c
        return Remark(kind=RemarkKind(word.value), text=text, span=Span(word.start_pos, text.span.end))

    # ------------------------------------------------------------ motions of the hands

    def lay_flat(self, c: Parts) -> Handle:
        pick = c[1] if len(c) == 3 else None
        return Handle(motion=HandMotion.LAY_FLAT, pick=pick, span=Span(c[0].start_pos, c[-1].end_pos))

    def turn(self, c: Parts) -> Handle:
        motion = HandMotion.TURN_OVER if c[1].type == "OVER" else HandMotion.TURN_ROUND
        return Handle(motion=motion, span=Span(c[0].start_pos, c[1].end_pos))

    def hold(self, c: Parts) -> Handle:
        pick = c[1]
        until = c[3] if len(c) > 2 else None
        end = c[-1].end_pos if until else pick.span.end
        return Handle(motion=HandMotion.HOLD, pick=pick, until=until, span=Span(c[0].start_pos, end))

    def let_go(self, c: Parts) -> Handle:
        return Handle(motion=HandMotion.LET_GO, pick=c[3], span=Span(c[0].start_pos, c[3].span.end))

    def fold_back(self, c: Parts) -> Handle:
        onto = c[4] if len(c) == 5 else None
        end = onto.span.end if onto else c[2].end_pos
        return Handle(motion=HandMotion.FOLD_BACK, pick=c[1], onto=onto, span=Span(c[0].start_pos, end))

    # ------------------------------------------------------------ assertions

    def expect_used(self, c: Parts) -> ExpectUsed:
        return ExpectUsed(quantities=tuple(c[1]), span=Span(c[0].start_pos, c[2].end_pos))

    def expect_total(self, c: Parts) -> ExpectTotal:
        word, count, what = c
        return ExpectTotal(count=count, links=what.type == "LINKS", span=Span(word.start_pos, what.end_pos))

    def expect_holds(self, c: Parts) -> ExpectHolds:
        kind = c[4] if len(c) == 5 else None
        span = Span(c[0].start_pos, c[-1].span.end)
        return ExpectHolds(pick=c[1], count=c[3], kind=kind, span=span)


def _with_twin(as_written: Pass, *, body: tuple[Twin, ...]) -> Pass:
    """The pass with the twin line that stands under it."""
    return Pass(
        quantity=as_written.quantity,
        target=as_written.target,
        through=as_written.through,
        gathering=as_written.gathering,
        carrying=as_written.carrying,
        join=as_written.join,
        around=as_written.around,
        between=as_written.between,
        twin=body[0] if body else None,
        span=as_written.span,
    )
