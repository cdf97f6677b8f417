"""Actions for sums and conditions."""

from __future__ import annotations

from msgspec.structs import replace

from grammar.actions.base import Actions, Parts
from notation.nodes import (
    Both,
    Compare,
    Comparison,
    Condition,
    Expression,
    IsGiven,
    IsParity,
    IsPlace,
    Name,
    Negative,
    Not,
    Operator,
    Sum,
    Variable,
    Which,
)
from notation.source import Span

_OPERATORS = {
    "PLUS": Operator.ADD,
    "MINUS": Operator.SUBTRACT,
    "STAR": Operator.MULTIPLY,
    "SLASH": Operator.DIVIDE,
    "MOD": Operator.MODULO,
}
_COMPARISONS = {
    "EQUAL": Comparison.EQUAL,
    "UNEQUAL": Comparison.UNEQUAL,
    "LESS": Comparison.LESS,
    "AT_MOST": Comparison.AT_MOST,
    "MORE": Comparison.MORE,
    "AT_LEAST": Comparison.AT_LEAST,
}


class SumActions(Actions):
    """Sums of whole numbers, and conditions over them."""

    def variable(self, c: Parts) -> Variable:
        return Variable(name=c[0], span=c[0].span)

    def negative(self, c: Parts) -> Negative:
        return Negative(value=c[1], span=Span(c[0].start_pos, c[1].span.end))

    def sum(self, c: Parts) -> Sum:
        left, operator, right = c
        span = Span(left.span.start, right.span.end)
        return Sum(operator=_OPERATORS[operator.type], left=left, right=right, span=span)

    def bracketed(self, c: Parts) -> Expression | Condition:
        return replace(c[1], span=Span(c[0].start_pos, c[2].end_pos))  # type: ignore[no-any-return]

    def compare(self, c: Parts) -> Compare:
        left, comparison, right = c
        span = Span(left.span.start, right.span.end)
        return Compare(comparison=_COMPARISONS[comparison.type], left=left, right=right, span=span)

    def is_given(self, c: Parts) -> IsGiven:
        subject = c[0]
        span = Span(subject.span.start, c[2].end_pos)
        if isinstance(subject, Variable):
            name = subject.name
        else:
            self.tell("given-needs-name", subject.span)
            name = Name(text="", span=subject.span)
        return IsGiven(name=name, span=span)

    def is_parity(self, c: Parts) -> IsParity:
        return IsParity(value=c[0], even=c[2].type == "EVEN", span=Span(c[0].span.start, c[2].end_pos))

    def is_place(self, c: Parts) -> IsPlace:
        which = Which.FIRST if c[0].type == "FIRST" else Which.LAST
        return IsPlace(which=which, span=Span(c[0].start_pos, c[0].end_pos))

    def not_(self, c: Parts) -> Not:
        return Not(condition=c[1], span=Span(c[0].start_pos, c[1].span.end))

    def both(self, c: Parts) -> Both:
        return Both(left=c[0], right=c[2], either=False, span=Span(c[0].span.start, c[2].span.end))

    def either(self, c: Parts) -> Both:
        return Both(left=c[0], right=c[2], either=True, span=Span(c[0].span.start, c[2].span.end))
