"""The small parts of a pattern as written: names, sums, conditions, quantities, picks, path items.

Every node has a span; spans take no part in equality, so two texts that say the same thing give equal nodes.
Made by `grammar.parse`, read by `grammar.format` and `compiler.expand`. Whole statements: `notation.statements`.
"""

from __future__ import annotations

from enum import Enum

from msgspec import Struct

from notation.source import Span

BESIDE = frozenset(("span", "else_span", "source", "comments", "blank_before", "incomplete"))
"""Fields that say where something stands or what is unread: they take no part in equality."""


class Node(Struct, frozen=True, eq=False):
    """What every node is: frozen, equal to a node that says the same thing wherever that stands.

    Structs of msgspec and not dataclasses, because a hundred classes are made at start-up and hundreds of thousands
    of nodes in a large pattern; both cost a fraction here.
    """

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return NotImplemented
        return all(
            getattr(self, name) == getattr(other, name)
            for name in self.__struct_fields__
            if name not in BESIDE
        )

    def __hash__(self) -> int:
        said = (getattr(self, name) for name in self.__struct_fields__ if name not in BESIDE)
        return hash((type(self), *said))

    def __repr__(self) -> str:
        said = (f"{name}={getattr(self, name)!r}" for name in self.__struct_fields__ if name not in BESIDE)
        return f"{type(self).__name__}({', '.join(said)})"


class Name(Node, frozen=True, kw_only=True):
    """A name at one place where it stands."""

    text: str
    span: Span


class Text(Node, frozen=True, kw_only=True):
    """A quoted text, its escapes resolved."""

    value: str
    span: Span


# ---------------------------------------------------------------- whole-number sums


class Number(Node, frozen=True, kw_only=True):
    """A whole number as written."""

    value: int
    span: Span


class Variable(Node, frozen=True, kw_only=True):
    """A parameter, a `let` or a loop's counter, used as a number."""

    name: Name
    span: Span


class Operator(Enum):
    """The sums there are; `/` must divide without a remainder, `mod` gives the remainder."""

    ADD = "+"
    SUBTRACT = "-"
    MULTIPLY = "*"
    DIVIDE = "/"
    MODULO = "mod"


class Sum(Node, frozen=True, kw_only=True):
    """Two numbers and an operator."""

    operator: Operator
    left: Expression
    right: Expression
    span: Span


class Negative(Node, frozen=True, kw_only=True):
    """A number with its sign turned."""

    value: Expression
    span: Span


Expression = Number | Variable | Sum | Negative

# ---------------------------------------------------------------- conditions


class Comparison(Enum):
    """How two numbers can be compared."""

    EQUAL = "="
    UNEQUAL = "<>"
    LESS = "<"
    AT_MOST = "<="
    MORE = ">"
    AT_LEAST = ">="

    def holds(self, left: int, right: int) -> bool:
        """Whether two numbers stand so to one another."""
        match self:
            case Comparison.EQUAL:
                return left == right
            case Comparison.UNEQUAL:
                return left != right
            case Comparison.LESS:
                return left < right
            case Comparison.AT_MOST:
                return left <= right
            case Comparison.MORE:
                return left > right
            case Comparison.AT_LEAST:
                return left >= right


class Compare(Node, frozen=True, kw_only=True):
    """`left < right` and its kin."""

    comparison: Comparison
    left: Expression
    right: Expression
    span: Span


class IsGiven(Node, frozen=True, kw_only=True):
    """`top is given`: whether a port was handed a group."""

    name: Name
    span: Span


class IsParity(Node, frozen=True, kw_only=True):
    """`k is even`, `k is odd`."""

    value: Expression
    even: bool
    span: Span


class IsPlace(Node, frozen=True, kw_only=True):
    """`first`, `last`: whether this is the first or the last place of the family around it."""

    which: Which
    """FIRST or LAST."""
    span: Span


class Both(Node, frozen=True, kw_only=True):
    """`a and b`, or with `either` set, `a or b`."""

    left: Condition
    right: Condition
    either: bool
    span: Span


class Not(Node, frozen=True, kw_only=True):
    """`not a`."""

    condition: Condition
    span: Span


Condition = Compare | IsGiven | IsParity | IsPlace | Both | Not

# ---------------------------------------------------------------- quantities


class Bundle(Enum):
    """How a count is bundled: as the kind says, one by one, in pairs, in threes."""

    AS_KIND = ""
    SINGLE = "single"
    PAIRS = "pairs"
    TRIPLES = "triples"


class Quantity(Node, frozen=True, kw_only=True):
    """`2 large`, `a pair of large`, `6 pairs of small`, `1 single large`.

    With AS_KIND and SINGLE the count is rings in all; with PAIRS and TRIPLES it is pairs and threes.
    """

    count: Expression
    bundle: Bundle
    kind: Name
    span: Span


# ---------------------------------------------------------------- picks: which rings are meant


class IndexRange(Node, frozen=True, kw_only=True):
    """`2 to 4` or `4 down to 2` inside square brackets."""

    first: Expression
    last: Expression
    down: bool
    span: Span


Index = Expression | IndexRange


class Named(Node, frozen=True, kw_only=True):
    """`arm`, `arm[3]`, `point[2, 1]`, `arm[2 to 4]`: a group, or members of it by number.

    Members are strands: what lies side by side counts as one.
    """

    name: Name
    index: tuple[Index, ...] = ()
    span: Span


class PartOf(Node, frozen=True, kw_only=True):
    """`tip of z[4]`, `left of clasp`, `wing of the one before`: something named inside a use, place or finding."""

    part: Named
    whole: Pick
    span: Span


class Which(Enum):
    """Which members a selection takes."""

    FIRST = "first"
    LAST = "last"
    NEXT = "next"
    """Consumes: each ring of a group is taken once, in order of making."""
    ALONG = "along"
    """A walking window: takes n, then steps on by `step`."""


class Select(Node, frozen=True, kw_only=True):
    """`first of arm`, `last 2 pairs of spoke`, `next pair of spoke`, `2 along base`, `2 along base step 2`."""

    which: Which
    count: Expression | None
    """How many members; None is one."""
    bundle: Bundle
    """PAIRS or TRIPLES where the text says so (and then it must be true), else AS_KIND."""
    group: Pick
    step: Expression | None = None
    """ALONG only: how far the window walks; None is one."""
    span: Span


class Direction(Enum):
    """Where a neighbour lies, in a family that knows its neighbours."""

    BEFORE = "before"
    AFTER = "after"
    BELOW = "below"
    ABOVE = "above"


class Hand(Enum):
    """Which of several neighbours, or which hand."""

    LEFT = "left"
    RIGHT = "right"


class Companions(Enum):
    """How the rings of a strand lie to one another."""

    SIDE_BY_SIDE = "side by side"
    FRONT_AND_BACK = "front and back"
    NESTED = "nested"


THOSE = 0


class Relative(Node, frozen=True, kw_only=True):
    """`the one before`, `the two below`, `the left of the two below`, `those below`."""

    count: int
    """How many; `THOSE`: the two that it lies between, or the one that it lies straight over."""
    direction: Direction
    only: Hand | None = None
    span: Span


Pick = Named | PartOf | Select | Relative

# ---------------------------------------------------------------- path items


class Side(Enum):
    """From which side of a ring the wire enters; FRONT is meant where nothing is said."""

    FRONT = "from the front"
    BEHIND = "from behind"


class Item(Node, frozen=True, kw_only=True):
    """One item of a path: what is gone through and from which side.

    `through the eye of a and b` has two picks; every other item has one.
    """

    picks: tuple[Pick, ...]
    side: Side = Side.FRONT
    eye: bool = False
    """The eye that two rings form where they overlap: `the eye of a and b`."""
    if_there: bool = False
    """`if there`: a member outside a family's declared edge is left out."""
    gap: tuple[Pick, Pick] | None = None
    """`through heart between spoke[4] and spoke[5]`: between which two neighbours on the ring gone through."""
    span: Span


class Target(Node, frozen=True, kw_only=True):
    """`as arm[3]` or, with `grows`, `added to spoke`."""

    name: Name
    index: tuple[Expression, ...] = ()
    grows: bool = False
    span: Span


class Carry(Node, frozen=True, kw_only=True):
    """`12 small as spoke`, `1 drop by loop as d`: closed rings or findings taken along on the open wire."""

    quantity: Quantity
    eye: Name | None = None
    """Findings only: by which eye."""
    target: Target | None = None
    span: Span


class Join(Node, frozen=True, kw_only=True):
    """`joined to the one before and the two below by 2 small as seam`.

    For each neighbour named: if the connector that joins it is there, the new ring goes through it; if that
    neighbour is made later, the new ring carries a connector for it.
    """

    neighbours: tuple[Relative, ...]
    """Empty: all round (`joined all round by ...`)."""
    quantity: Quantity
    target: Target | None = None
    span: Span
