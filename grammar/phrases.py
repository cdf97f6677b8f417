"""The small parts of a pattern to canonical text: sums, conditions, quantities, picks, items, lengths.

In: nodes of `notation.nodes`. Out: text on one line. Used by `grammar.sentences`.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from notation.lengths import Length, LengthUnit
from notation.nodes import (
    THOSE,
    Both,
    Bundle,
    Carry,
    Compare,
    Condition,
    Expression,
    Index,
    IndexRange,
    IsGiven,
    IsParity,
    IsPlace,
    Item,
    Join,
    Name,
    Named,
    Negative,
    Not,
    Number,
    Operator,
    PartOf,
    Pick,
    Quantity,
    Relative,
    Select,
    Side,
    Target,
    Text,
    Variable,
    Which,
)

_SEVERAL = ("one", "one", "two", "three", "four", "five", "six")
_BUNDLES = {Bundle.PAIRS: ("pair", "pairs"), Bundle.TRIPLES: ("triple", "triples")}
_SIXTY_FOURTHS = 64

# How tightly a sum holds together; what holds less tightly needs brackets inside.
_ADDED, _MULTIPLIED, _ATOM = 1, 2, 3


def quoted(text: Text) -> str:
    """The text in quotes, with what must be escaped."""
    value = text.value.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{value}"'


def listed(parts: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return " and ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else parts[0]


def length(value: Length) -> str:
    """The length as written; inches as a fraction where they are sixty-fourths and not whole, as they are sold."""
    if value.unit is LengthUnit.INCH and value.value != value.value.to_integral_value():
        above = value.value * _SIXTY_FOURTHS
        if above == above.to_integral_value():
            top, below = int(above), _SIXTY_FOURTHS
            while top % 2 == 0:
                top, below = top // 2, below // 2
            return f"{top}/{below} in"
    if value.value == value.value.to_integral_value() and value.value.as_tuple().exponent != 0:
        return f"{value.value.quantize(Decimal(1)):f} {value.unit.value}"
    return str(value)


# ---------------------------------------------------------------- sums and conditions


def expression(node: Expression, at_least: int = _ADDED) -> str:
    """A sum, in brackets if it holds together less tightly than asked."""
    if isinstance(node, Number):
        return str(node.value)
    if isinstance(node, Variable):
        return node.name.text
    if isinstance(node, Negative):
        return f"-{expression(node.value, _ATOM)}"
    tight = _ADDED if node.operator in (Operator.ADD, Operator.SUBTRACT) else _MULTIPLIED
    text = f"{expression(node.left, tight)} {node.operator.value} {expression(node.right, tight + 1)}"
    return f"({text})" if tight < at_least else text


def condition(node: Condition) -> str:
    """A condition."""
    if isinstance(node, Compare):
        return f"{expression(node.left)} {node.comparison.value} {expression(node.right)}"
    if isinstance(node, IsGiven):
        return f"{node.name.text} is given"
    if isinstance(node, IsParity):
        return f"{expression(node.value)} is {'even' if node.even else 'odd'}"
    if isinstance(node, IsPlace):
        return node.which.value
    if isinstance(node, Not):
        return f"not {_test(node.condition)}"
    left, right = node.left, node.right
    if node.either:
        right_text = _test(right) if isinstance(right, Both) and right.either else condition(right)
        return f"{condition(left)} or {right_text}"
    left_text = _test(left) if isinstance(left, Both) and left.either else condition(left)
    return f"{left_text} and {_test(right)}"


def _test(node: Condition) -> str:
    return f"({condition(node)})" if isinstance(node, Both) else condition(node)


# ---------------------------------------------------------------- quantities


def quantity(node: Quantity) -> str:
    """How many of which kind."""
    kind = node.kind.text
    if node.bundle in _BUNDLES:
        one, many = _BUNDLES[node.bundle]
        if isinstance(node.count, Number) and node.count.value == 1:
            return f"a {one} of {kind}"
        return f"{expression(node.count)} {many} of {kind}"
    if node.bundle is Bundle.SINGLE:
        return f"{expression(node.count)} single {kind}"
    # `a pair` would begin `a pair of`.
    number = expression(node.count)
    if number == "a" and kind in ("pair", "triple"):
        number = "(a)"
    return f"{number} {kind}"


def target(node: Target) -> str:
    """What the new rings are called."""
    if node.grows:
        return f"added to {node.name.text}"
    return f"as {node.name.text}{indexed(node.index)}"


def indexed(index: Sequence[Index]) -> str:
    """An index in its brackets, or nothing."""
    return f"[{', '.join(_index(part) for part in index)}]" if index else ""


def _index(node: Index) -> str:
    if isinstance(node, IndexRange):
        return f"{expression(node.first)} {'down to' if node.down else 'to'} {expression(node.last)}"
    return expression(node)


# ---------------------------------------------------------------- picks


def pick(node: Pick) -> str:
    """Which rings are meant."""
    if isinstance(node, Named):
        return f"{node.name.text}{indexed(node.index)}"
    if isinstance(node, PartOf):
        return f"{pick(node.part)} of {pick(node.whole)}"
    if isinstance(node, Select):
        return _select(node)
    return relative(node)


def _select(node: Select) -> str:
    bundled = node.bundle in _BUNDLES
    one, many = _BUNDLES.get(node.bundle, ("", ""))
    count = "" if node.count is None else expression(node.count)
    if node.which is Which.ALONG:
        number = f"a {one}" if not count else f"{count} {many}" if bundled else count
        step = f" step {expression(node.step)}" if node.step is not None else ""
        return f"{number} along {pick(node.group)}{step}"
    if not bundled and count in ("pair", "triple"):
        count = f"({count})"
    number = (
        f" {one}"
        if bundled and not count
        else f" {count} {many}"
        if bundled
        else f" {count}"
        if count
        else ""
    )
    return f"{node.which.value}{number} of {pick(node.group)}"


def relative(node: Relative) -> str:
    """A neighbour."""
    if node.count == THOSE:
        return f"those {node.direction.value}"
    where = f"the {_SEVERAL[node.count]} {node.direction.value}"
    return f"the {node.only.value} of {where}" if node.only else where


# ---------------------------------------------------------------- items and clauses


def item(node: Item) -> str:
    """One item of a path."""
    picks = [pick(part) for part in node.picks]
    text = picks[0] if len(picks) == 1 else f"the {'eye' if node.eye else 'joint'} of {' and '.join(picks)}"
    if node.side is Side.BEHIND:
        text += " from behind"
    if node.if_there:
        text += " if there"
    return f"{text} between {pick(node.gap[0])} and {pick(node.gap[1])}" if node.gap else text


def items(nodes: Sequence[Item]) -> str:
    """Items of a path."""
    texts = [item(node) for node in nodes]
    if len(nodes) > 1 and nodes[-2].gap:
        # One `and` stands in front of it already.
        return f"{', '.join(texts[:-1])}, and {texts[-1]}"
    return listed(texts)


def carry(node: Carry) -> str:
    """What is carried."""
    return quantity(node.quantity) + by_eye(node.eye) + and_target(node.target)


def by_eye(eye: Name | None) -> str:
    """By which eye, with a space in front, or nothing."""
    return f" by {eye.text}" if eye else ""


def and_target(node: Target | None) -> str:
    """The target with a space in front, or nothing."""
    return f" {target(node)}" if node else ""


def half_turns(count: Expression, anticlockwise: bool) -> str:
    """How often the work is turned before it is closed on itself, and which way where it is not clockwise."""
    one = isinstance(count, Number) and count.value == 1
    return f"{expression(count)} half {'turn' if one else 'turns'}{' anticlockwise' * anticlockwise}"


def join(node: Join) -> str:
    """How a ring is joined to its neighbours."""
    to_whom = "all round"
    if node.neighbours:
        to_whom = f"to {listed([relative(one) for one in node.neighbours])}"
    return f"joined {to_whom} by {quantity(node.quantity)}{and_target(node.target)}"
