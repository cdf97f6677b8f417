"""Expectations as written: what a designer asserts about the work at a statement. See `notation.statements`."""

from __future__ import annotations

from enum import Enum

from notation.nodes import Expression, Name, Node, Pick, Quantity
from notation.source import Span


class ExpectUsed(Node, frozen=True, kw_only=True):
    """`expect 14 large, 24 small used`: counted from the start of the enclosing unit's use."""

    quantities: tuple[Quantity, ...]
    span: Span


class ExpectTotal(Node, frozen=True, kw_only=True):
    """`expect 128 links`, `expect 50 rings`: counted from the start of the enclosing unit's use."""

    count: Expression
    links: bool
    span: Span


class ExpectHolds(Node, frozen=True, kw_only=True):
    """`expect heart holds 12`: each ring meant is linked with that many rings, at this statement."""

    pick: Pick
    count: Expression
    kind: Name | None = None
    span: Span


class Lies(Enum):
    """How a ring can be asserted to lie to others."""

    AROUND = "around"
    BETWEEN = "between"
    INSIDE = "inside"
    OVER = "over"


class ExpectLies(Node, frozen=True, kw_only=True):
    """`expect collar is around a`, `... is between wings`, `... is inside scale`, `... is over b`."""

    pick: Pick
    lies: Lies
    other: Pick
    span: Span


class ExpectLoop(Node, frozen=True, kw_only=True):
    """`expect loop a, b, c is plain`, `... is crossed`: the product of the signs of links round a loop.

    A loop is plain when its sign is what it is with every ring entered from the front.
    """

    picks: tuple[Pick, ...]
    crossed: bool
    span: Span


class ExpectTurns(Node, frozen=True, kw_only=True):
    """`expect band closes with 1 half turn`."""

    name: Name
    half_turns: Expression
    span: Span


Expect = ExpectUsed | ExpectTotal | ExpectHolds | ExpectLies | ExpectLoop | ExpectTurns
