"""Actions for quantities, picks, items of a path, carried rings and joins."""

from __future__ import annotations

from typing import Any, NamedTuple

from grammar.actions.base import Parts, end_of, start_of
from grammar.actions.sums import SumActions
from grammar.tokens import Token
from notation.nodes import (
    THOSE,
    Bundle,
    Carry,
    Direction,
    Expression,
    Hand,
    IndexRange,
    Item,
    Join,
    Named,
    Number,
    PartOf,
    Pick,
    Quantity,
    Relative,
    Select,
    Side,
    Target,
    Which,
)
from notation.source import Span

_BUNDLES = {
    "PAIR": Bundle.PAIRS,
    "PAIRS": Bundle.PAIRS,
    "TRIPLE": Bundle.TRIPLES,
    "TRIPLES": Bundle.TRIPLES,
}
_WHICH = {"FIRST": Which.FIRST, "LAST": Which.LAST, "NEXT": Which.NEXT}
_SEVERAL = {"TWO": 2, "THREE": 3, "FOUR": 4, "FIVE": 5, "SIX": 6}


class Amount(NamedTuple):
    """A quantity and the name the new rings get."""

    quantity: Quantity
    target: Target | None
    end: int
    """Offset behind it."""


class HalfTurns(NamedTuple):
    """How often the work is turned before it is closed on itself, and where the words for it end."""

    half_turns: Expression
    anticlockwise: bool
    end: int


class Manner(NamedTuple):
    """How an item is gone through, and where the words for it end."""

    side: Side
    if_there: bool
    end: int


class Clause(NamedTuple):
    """A clause of a motion."""

    word: Token
    """Its first word, whose type says what clause it is."""
    value: Any
    """Its items, carried rings, join or pick."""
    target: Target | None
    """A target that stands behind the clause and belongs to the motion."""
    end: int


class ItemBetween(NamedTuple):
    """The last item of a path, with the clause behind it that begins with `between`."""

    item: Item
    word: Token
    between: Pick


class PickActions(SumActions):
    """Which rings are meant, and how the wire goes."""

    # ------------------------------------------------------------ quantities

    def plain_quantity(self, c: Parts) -> Quantity:
        count, kind = c
        span = Span(count.span.start, kind.span.end)
        return Quantity(count=count, bundle=Bundle.AS_KIND, kind=kind, span=span)

    def single_quantity(self, c: Parts) -> Quantity:
        count, _, kind = c
        span = Span(count.span.start, kind.span.end)
        return Quantity(count=count, bundle=Bundle.SINGLE, kind=kind, span=span)

    def bundled_quantity(self, c: Parts) -> Quantity:
        count, bundle, _, kind = c
        span = Span(start_of(count), kind.span.end)
        return Quantity(count=_count(count), bundle=_BUNDLES[bundle.type], kind=kind, span=span)

    def half_turns(self, c: Parts) -> HalfTurns:
        return HalfTurns(_count(c[0]), c[-1].type == "ANTICLOCKWISE", c[-1].end_pos)

    def bare_amount(self, c: Parts) -> Amount:
        return Amount(c[0], None, c[0].span.end)

    def amount(self, c: Parts) -> Amount:
        return Amount(c[0], c[1], c[1].span.end)

    def target(self, c: Parts) -> Target:
        index = tuple(c[3]) if len(c) > 2 else ()
        return Target(name=c[1], index=index, span=Span(c[0].start_pos, end_of(c[-1])))

    def growing_target(self, c: Parts) -> Target:
        return Target(name=c[2], grows=True, span=Span(c[0].start_pos, c[2].span.end))

    # ------------------------------------------------------------ picks

    def index_range(self, c: Parts) -> IndexRange:
        first, last = c[0], c[-1]
        return IndexRange(
            first=first, last=last, down=len(c) == 4, span=Span(first.span.start, last.span.end)
        )

    def named(self, c: Parts) -> Named:
        name = c[0]
        if len(c) == 1:
            return Named(name=name, span=name.span)
        return Named(name=name, index=tuple(c[2]), span=Span(name.span.start, c[3].end_pos))

    def part_of(self, c: Parts) -> PartOf:
        whole = c[-1]
        part = self.named(c[:-2])
        return PartOf(part=part, whole=whole, span=Span(part.span.start, whole.span.end))

    def select_one(self, c: Parts) -> Select:
        return _select(c[0], None, Bundle.AS_KIND, c[-1])

    def select_bundle(self, c: Parts) -> Select:
        return _select(c[0], None, _BUNDLES[c[1].type], c[-1])

    def select_some(self, c: Parts) -> Select:
        return _select(c[0], c[1], Bundle.AS_KIND, c[-1])

    def select_bundles(self, c: Parts) -> Select:
        return _select(c[0], c[1], _BUNDLES[c[2].type], c[-1])

    def along(self, c: Parts) -> Select:
        count, _, group, *step = c
        return _along(count.span.start, count, Bundle.AS_KIND, group, step)

    def along_bundles(self, c: Parts) -> Select:
        count, bundle, _, group, *step = c
        number = None if type(count) is Token else count
        return _along(start_of(count), number, _BUNDLES[bundle.type], group, step)

    def relative(self, c: Parts) -> Relative:
        the, several, direction = c
        count = _SEVERAL.get(several.type, 1)
        return Relative(
            count=count, direction=Direction(direction.value), span=Span(the.start_pos, direction.end_pos)
        )

    def those(self, c: Parts) -> Relative:
        those, direction = c
        return Relative(
            count=THOSE, direction=Direction(direction.value), span=Span(those.start_pos, direction.end_pos)
        )

    def one_of_several(self, c: Parts) -> Relative:
        the, hand, _, _, several, direction = c
        return Relative(
            count=_SEVERAL[several.type],
            direction=Direction(direction.value),
            only=Hand(hand.value),
            span=Span(the.start_pos, direction.end_pos),
        )

    # ------------------------------------------------------------ items of a path

    def from_behind(self, c: Parts) -> Manner:
        return Manner(Side.BEHIND, False, c[1].end_pos)

    def from_behind_if_there(self, c: Parts) -> Manner:
        return Manner(Side.BEHIND, True, c[3].end_pos)

    def if_there(self, c: Parts) -> Manner:
        return Manner(Side.FRONT, True, c[1].end_pos)

    def item(self, c: Parts) -> Item:
        pick, manner = c
        if manner is None:
            return Item(picks=(pick,), span=pick.span)
        return _item(pick.span.start, (pick,), False, manner)

    def gap_item(self, c: Parts) -> Item:
        pick, manner, _, left, _, right = c
        return Item(
            picks=(pick,),
            side=manner.side if manner else Side.FRONT,
            if_there=manner.if_there if manner else False,
            gap=(left, right),
            span=Span(pick.span.start, right.span.end),
        )

    def eye_item(self, c: Parts) -> Item:
        return _item(c[0].start_pos, (c[3], c[5]), True, c[6])

    def joint_item(self, c: Parts) -> Item:
        return _item(c[0].start_pos, (c[3], c[5]), False, c[6])

    def plain_item_between(self, c: Parts) -> ItemBetween:
        return ItemBetween(self.item(c[:2]), c[2], c[3])

    def item_between(self, c: Parts) -> ItemBetween:
        return ItemBetween(*c)

    def lying_item(self, c: Parts) -> Item:
        pick = c[0]
        end = c[2].end_pos if len(c) == 3 else pick.span.end
        return Item(picks=(pick,), if_there=len(c) == 3, span=Span(pick.span.start, end))

    # ------------------------------------------------------------ clauses

    def carry(self, c: Parts) -> Carry:
        quantity, eye = c[0], c[1]
        target = c[2] if len(c) == 3 else None
        last = target or eye or quantity
        return Carry(quantity=quantity, eye=eye, target=target, span=Span(quantity.span.start, last.span.end))

    def clause(self, c: Parts) -> Clause:
        word, value = c[0], c[1]
        target = c[2] if len(c) == 3 else None
        if type(value) is list:
            last, value = value[-1], tuple(value)
        else:
            last = value
        return Clause(word, value, target, (target or last).span.end)

    def between(self, c: Parts) -> list[Clause]:
        clauses: list[Clause] = c[0]
        clauses.append(self.clause(c[1:]))
        return clauses

    def path_and_between(self, c: Parts) -> list[Clause]:
        clauses: list[Clause] = c[0]
        word, items, *target = c[1:]
        item, between, pick = items[-1]
        clauses.append(self.clause([word, [*items[:-1], item]]))
        clauses.append(self.clause([between, pick, *target]))
        return clauses

    def joined_all_round(self, c: Parts) -> Clause:
        return self._join(c[0], (), c[4])

    def joined_to(self, c: Parts) -> Clause:
        return self._join(c[0], tuple(c[2]), c[4])

    def _join(self, word: Token, neighbours: tuple[Relative, ...], amount: Amount) -> Clause:
        quantity, target, end = amount
        span = Span(word.start_pos, end)
        join = Join(neighbours=neighbours, quantity=quantity, target=target, span=span)
        return Clause(word, join, None, end)


def _count(count: Token | Expression) -> Expression:
    """The number that a count stands for: the word `a` is one."""
    if isinstance(count, Token):
        return Number(value=1, span=Span(count.start_pos, count.end_pos))
    return count


def _select(which: Token, count: Expression | None, bundle: Bundle, group: Pick) -> Select:
    span = Span(which.start_pos, group.span.end)
    return Select(which=_WHICH[which.type], count=count, bundle=bundle, group=group, span=span)


def _along(start: int, count: Expression | None, bundle: Bundle, group: Pick, step: Parts) -> Select:
    step_of = step[1] if step else None
    end = (step_of or group).span.end
    return Select(
        which=Which.ALONG, count=count, bundle=bundle, group=group, step=step_of, span=Span(start, end)
    )


def _item(start: int, picks: tuple[Pick, ...], eye: bool, manner: Manner | None) -> Item:
    if manner is None:
        return Item(picks=picks, eye=eye, span=Span(start, picks[-1].span.end))
    return Item(
        picks=picks, side=manner.side, eye=eye, if_there=manner.if_there, span=Span(start, manner.end)
    )
