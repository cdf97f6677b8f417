"""Actions for the statements inside blocks, and all actions together."""

from __future__ import annotations

from functools import partial
from typing import Any, NamedTuple, TypedDict

from msgspec.structs import replace

from grammar.actions.base import Parts, end_of
from grammar.actions.headers import HeaderActions
from grammar.actions.picks import Clause
from grammar.opening import Opening
from grammar.tokens import Token
from notation.expectations import (
    ExpectCompanions,
    ExpectFace,
    ExpectHolds,
    ExpectLeans,
    ExpectLies,
    ExpectLoop,
    ExpectTotal,
    ExpectTurned,
    ExpectTurns,
    ExpectUsed,
    Lies,
)
from notation.handling import Handle, HandMotion, Helper, LabelLine, Remark, RemarkKind, Remove, WorkDirection
from notation.nodes import (
    Carry,
    Companions,
    Expression,
    Hand,
    Item,
    Join,
    Name,
    Named,
    Node,
    Pick,
    Quantity,
    Target,
    Text,
    Variable,
)
from notation.source import Span
from notation.statements import Argument, Hang, Let, MadeToLength, Make, Pass, Port, Reopen, Take, Twin


class _Clauses(TypedDict, total=False):
    """The clauses of a pass, named as its fields."""

    through: tuple[Item, ...]
    gathering: tuple[Item, ...]
    carrying: tuple[Carry, ...]
    join: Join
    around: tuple[Item, ...]
    between: Pick
    inside: Pick
    over: tuple[Item, ...]
    under: tuple[Item, ...]
    target: Target


_FIELDS = {
    "THROUGH": "through",
    "GATHERING": "gathering",
    "CARRYING": "carrying",
    "JOINED": "join",
    "AROUND": "around",
    "BETWEEN": "between",
    "INSIDE": "inside",
    "OVER": "over",
    "UNDER": "under",
}
_COMPANIONS = {
    "FRONT": Companions.FRONT_AND_BACK,
    "NESTED": Companions.NESTED,
    "SIDE": Companions.SIDE_BY_SIDE,
}


class _Manner(NamedTuple):
    """How the rings of a pass lie to one another, and where the words for it end."""

    companions: Companions
    end: int


class _Passed(NamedTuple):
    """What is passed, before any clause."""

    quantity: Quantity
    target: Target | None
    companions: Companions
    end: int


class StatementActions(HeaderActions):
    """All actions of the grammar."""

    # ------------------------------------------------------------ what makes links

    def pass_line(self, c: Parts) -> Pass:
        word, passed, clauses = c
        return self._pass(word, passed, clauses, clauses[-1].end if clauses else passed.end)

    def pass_header(self, c: Parts) -> Opening:
        word, passed, clauses, colon = c
        as_written = self._pass(word, passed, clauses, colon.end_pos)
        make = partial(_with_twin, as_written)
        return Opening(word="pass", make=make, span=as_written.span)

    def _pass(self, word: Token, passed: _Passed, clauses: list[Clause], end: int) -> Pass:
        quantity, target, companions, _ = passed
        span = Span(word.start_pos, end)
        if not clauses:
            return Pass(quantity=quantity, target=target, companions=companions, span=span)
        fields = self._each_clause_once(clauses, target)
        return Pass(quantity=quantity, companions=companions, span=span, **fields)

    def bare_passed(self, c: Parts) -> _Passed:
        if len(c) == 1:
            return _Passed(c[0], None, Companions.SIDE_BY_SIDE, c[0].span.end)
        return _Passed(c[0], None, c[1].companions, c[1].end)

    def passed(self, c: Parts) -> _Passed:
        target = c[-1]
        companions = c[1].companions if len(c) == 3 else Companions.SIDE_BY_SIDE
        return _Passed(c[0], target, companions, target.span.end)

    def passed_then_companions(self, c: Parts) -> _Passed:
        return _Passed(c[0], c[1], c[2].companions, c[2].end)

    def companions(self, c: Parts) -> _Manner:
        return _Manner(_COMPANIONS[c[0].type], c[-1].end_pos)

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
        word, (quantity, target, companions, end), *rest = c
        if not rest:
            span = Span(word.start_pos, end)
            return Take(quantity=quantity, target=target, companions=companions, span=span)
        clause = self.clause(rest)
        fields = self._each_clause_once([clause], target)
        return Take(
            quantity=quantity,
            target=fields.get("target"),
            inside=fields["inside"],
            companions=companions,
            span=Span(word.start_pos, clause.end),
        )

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
        word, unit, alias, mirror, arguments, *rest = c
        target = rest[0] if rest else None
        last = target or (arguments[-1] if arguments else mirror or alias or unit)
        return Make(
            unit=unit,
            alias=alias,
            mirrored=mirror is not None,
            arguments=tuple(arguments),
            target=target,
            span=Span(word.start_pos, end_of(last)),
        )

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

    def made_to_length(self, c: Parts) -> MadeToLength:
        return MadeToLength(wanted=c[1].length, varying=c[3], span=Span(c[0].start_pos, c[3].span.end))

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

    def turn_by(self, c: Parts) -> Handle:
        span = Span(c[0].start_pos, c[4].end_pos)
        return Handle(motion=HandMotion.TURN, pick=c[1], degrees=c[3], span=span)

    def spread(self, c: Parts) -> Handle:
        return Handle(motion=HandMotion.SPREAD, pick=c[1], span=Span(c[0].start_pos, c[1].span.end))

    def lean(self, c: Parts) -> Handle:
        word, pick, hand = c
        span = Span(word.start_pos, hand.end_pos)
        return Handle(motion=HandMotion.LEAN, pick=pick, hand=Hand(hand.value), span=span)

    def work(self, c: Parts) -> WorkDirection:
        return WorkDirection(clockwise=c[1].type == "CLOCKWISE", span=Span(c[0].start_pos, c[1].end_pos))

    def helper(self, c: Parts) -> Helper:
        word, text, _, items, as_, name = c
        return self._helper(word, text, items, as_, name, name)

    def helper_named_first(self, c: Parts) -> Helper:
        word, text, as_, name, _, items = c
        return self._helper(word, text, items, as_, name, items[-1])

    def _helper(
        self, word: Token, text: Text, items: list[Item], as_: Token, name: Name, last: Node
    ) -> Helper:
        target = Target(name=name, span=Span(as_.start_pos, name.span.end))
        return Helper(text=text, items=tuple(items), target=target, span=Span(word.start_pos, end_of(last)))

    def remove(self, c: Parts) -> Remove:
        return Remove(name=c[1], span=Span(c[0].start_pos, c[1].span.end))

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

    def expect_lies(self, c: Parts) -> ExpectLies:
        lies, other = c[-2:]
        span = Span(c[0].start_pos, other.span.end)
        return ExpectLies(pick=c[1], lies=Lies(lies.value), other=other, denied=len(c) == 6, span=span)

    def expect_companions(self, c: Parts) -> ExpectCompanions:
        span = Span(c[0].start_pos, c[3].end)
        return ExpectCompanions(pick=c[1], companions=c[3].companions, span=span)

    def expect_leans(self, c: Parts) -> ExpectLeans:
        hand = Hand.RIGHT if c[4].type == "RIGHT" else Hand.LEFT
        return ExpectLeans(pick=c[1], hand=hand, span=Span(c[0].start_pos, c[4].end_pos))

    def expect_turned(self, c: Parts) -> ExpectTurned:
        return ExpectTurned(pick=c[1], degrees=c[4], span=Span(c[0].start_pos, c[5].end_pos))

    def expect_loop(self, c: Parts) -> ExpectLoop:
        span = Span(c[0].start_pos, c[4].end_pos)
        return ExpectLoop(picks=tuple(c[2]), crossed=c[4].type == "CROSSED", span=span)

    def expect_turns(self, c: Parts) -> ExpectTurns:
        turns = c[4]
        span = Span(c[0].start_pos, turns.end)
        return ExpectTurns(
            name=c[1], half_turns=turns.half_turns, anticlockwise=turns.anticlockwise, span=span
        )

    def expect_face(self, c: Parts) -> ExpectFace:
        span = Span(c[0].start_pos, c[5].end_pos)
        return ExpectFace(name=c[1], front_inside=c[4].type == "FRONT", span=span)


def _with_twin(as_written: Pass, *, body: tuple[Twin, ...]) -> Pass:
    """The pass with the twin line that stands under it."""
    return replace(as_written, twin=body[0]) if body else as_written
