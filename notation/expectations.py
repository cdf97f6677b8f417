"""Expectations as written: what a designer asserts about the work at a statement. See `notation.statements`."""

from __future__ import annotations

from enum import Enum

from notation.nodes import Companions, Expression, Hand, Name, Node, Pick, Quantity
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
    """`expect collar is around a`, `... is between wings`, `... is inside scale`, `... is over b`, and with `not`."""

    pick: Pick
    lies: Lies
    other: Pick
    denied: bool = False
    """`is not`: none of the rings lies so to any of the others."""
    span: Span


class ExpectCompanions(Node, frozen=True, kw_only=True):
    """`expect edge is front and back`: how the rings of each strand meant lie to one another."""

    pick: Pick
    companions: Companions
    span: Span


class ExpectLeans(Node, frozen=True, kw_only=True):
    """`expect mesh[2] is leaning left`: how the rings meant were leaned last."""

    pick: Pick
    hand: Hand
    span: Span


class ExpectTurned(Node, frozen=True, kw_only=True):
    """`expect coil turns by 120 degrees`: by how much each ring meant is turned, in the whole turn."""

    pick: Pick
    degrees: Expression
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
    anticlockwise: bool = False
    span: Span


class ExpectFace(Node, frozen=True, kw_only=True):
    """`expect sleeve closes with front inside`, `... with back inside`: which side of a round lies inside it."""

    name: Name
    front_inside: bool
    span: Span


Expect = (
    ExpectUsed
    | ExpectTotal
    | ExpectHolds
    | ExpectLies
    | ExpectCompanions
    | ExpectLeans
    | ExpectTurned
    | ExpectLoop
    | ExpectTurns
    | ExpectFace
)
