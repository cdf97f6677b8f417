"""What goes into a kit, what to buy for so many kits, what one costs; beside the booklet, after `compiler.kit`.

In: a weave, its quantities, a stock and terms. Out: a `Plan`. Counts are whole numbers and nothing is guessed: what
the stock lacks has no cost, and then no sum is made. Money is exact, and rounded half up to the cent at four points
alone: the cost of a line, the price of a line of the order, the pay, the price. Sums are of rounded lines, so that
they add up on paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import (
    ROUND_CEILING,
    ROUND_HALF_EVEN,
    Context,
    Decimal,
    DivisionByZero,
    InvalidOperation,
    Overflow,
)

from compiler.cutting import Coil, coil
from compiler.kit import FindingRow, Minutes, Quantities, RingRow
from compiler.stock import Pack, Stock
from compiler.weave import FindingKind, RingKind, Weave
from notation.lengths import rounded

CENTS = 2
"""Decimals of money."""
MINUTES_IN_AN_HOUR = Decimal(60)
MOST_SETS = 100_000

_DIGITS = Context(prec=40, rounding=ROUND_HALF_EVEN, traps=[InvalidOperation, DivisionByZero, Overflow])


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare:
    """Rings put in beyond what the pattern takes. Findings get none: they do not roll away in dozens."""

    share: Decimal = Decimal("0.05")
    """Part of what is needed, rounded up to whole rings."""
    least: int = 2
    """Rings of each kind at least."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What the maker of the kits says."""

    sets: int = 1
    spare: Spare = Spare()
    margin: Decimal | None = None
    """Part of the price, below 1, that is not cost: a price of 10.00 at 0.4 costs 6.00 to make."""
    rate: Decimal | None = None
    """Pay for an hour."""
    changes: str = ""
    """What is other than in the pattern as written, in words."""
    kerf_mm: Decimal | None = None
    """What the saw takes, for those who cut their rings themselves."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What to buy of one kind for all kits."""

    pack: Pack
    packs: int
    left: int
    """Pieces left over once all kits are packed."""
    price: Decimal
    """Of all the packs, to the cent."""
    cost: Decimal
    """Of what goes into one kit, at the price of the pack, to the cent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One kind of ring or finding."""

    kind: RingKind | FindingKind
    needed: int
    """In one kit, for every piece as often as it is made."""
    count: int
    """What goes into one kit."""
    by_pattern: bool
    """Whether the pattern's own kit line says how many; otherwise the spare allowance does."""
    total: int
    """In all kits."""
    mass_g: Decimal | None
    """Of one ring; None for a finding, and where the metal is not known."""
    order: Order | None
    """None where there is no stock, or none of this."""
    coil: Coil | None
    """To cut the rings of all kits from; None for a finding, and where no kerf is given."""

    @property
    def spare(self) -> int:
        """What is left of one kit; below 0 where the kit line is short."""
        return self.count - self.needed

    @property
    def kit_mass_g(self) -> Decimal | None:
        """Of all that goes into one kit: rings can be weighed instead of counted."""
        return None if self.mass_g is None else _DIGITS.multiply(self.mass_g, Decimal(self.count))


@dataclass(frozen=True, slots=True, kw_only=True)
class Amounts:
    """An amount of money, from quick hands to slow ones."""

    least: Decimal
    most: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything about the kits of a pattern."""

    terms: Terms
    time: Minutes
    """To make everything in one kit."""
    lines: tuple[Line, ...]
    currency: str | None
    """None without a stock."""
    missing: tuple[Line, ...]
    """Lines that the stock has nothing for; empty without a stock."""
    cost: Decimal | None
    """Of one kit; None without a stock and where something is missing, as everything below."""
    order: Decimal | None
    """Of all packs to be bought."""
    price: Decimal | None
    """Of a kit; None without a margin, too."""
    pay: Amounts | None
    """For making what one kit holds; None without a rate, too."""
    finished: Amounts | None
    """Price of the finished work: cost, pay and margin (nothing where none is given)."""

    @property
    def masses(self) -> tuple[tuple[str, Decimal], ...]:
        """Metals by the name in the pattern with the mass of their rings in one kit, g; unknown ones left out."""
        found: dict[str, Decimal] = {}
        for line in self.lines:
            if line.kit_mass_g is not None and line.kind.metal is not None:
                before = found.get(line.kind.metal, Decimal(0))
                found[line.kind.metal] = _DIGITS.add(before, line.kit_mass_g)
        return tuple(found.items())


def plan(weave: Weave, quantities: Quantities, stock: Stock | None, terms: Terms) -> Plan:
    """The plan for `terms.sets` kits of a pattern without errors."""
    lines = _lines(weave, quantities, stock, terms)
    missing = () if stock is None else tuple(line for line in lines if line.order is None)
    orders = [line.order for line in lines if line.order is not None]
    known = stock is not None and not missing
    cost = sum((order.cost for order in orders), start=Decimal(0)) if known else None
    pay = finished = None
    if cost is not None and terms.rate is not None:
        least, most = (
            _cents(_DIGITS.divide(_DIGITS.multiply(terms.rate, Decimal(minutes)), MINUTES_IN_AN_HOUR))
            for minutes in (quantities.time.least, quantities.time.most)
        )
        pay = Amounts(least=least, most=most)
        margin = terms.margin or Decimal(0)
        finished = Amounts(least=_priced(cost + least, margin), most=_priced(cost + most, margin))
    return Plan(
        terms=terms,
        time=quantities.time,
        lines=lines,
        currency=None if stock is None else stock.currency,
        missing=missing,
        cost=cost,
        order=sum((order.price for order in orders), start=Decimal(0)) if known else None,
        price=None if cost is None or terms.margin is None else _priced(cost, terms.margin),
        pay=pay,
        finished=finished,
    )


def spare_rings(needed: int, spare: Spare) -> int:
    """Rings to put in beyond `needed`: the share of them rounded up, and no fewer than the least."""
    part = _DIGITS.multiply(Decimal(needed), spare.share)
    return max(int(part.to_integral_value(rounding=ROUND_CEILING)), spare.least)


def _lines(weave: Weave, quantities: Quantities, stock: Stock | None, terms: Terms) -> tuple[Line, ...]:
    lines: list[Line] = []
    for row in quantities.rings:
        if row.needed or row.packed:
            count = row.needed + spare_rings(row.needed, terms.spare) if row.packed is None else row.packed
            lines.append(_line(row, row.kind, count, row.mass_g, stock, terms))
    for each in quantities.findings:
        if each.needed or each.packed:
            count = each.needed if each.packed is None else each.packed
            lines.append(_line(each, weave.finding_kinds[each.kind], count, None, stock, terms))
    return tuple(lines)


def _line(
    row: RingRow | FindingRow,
    kind: RingKind | FindingKind,
    count: int,
    mass_g: Decimal | None,
    stock: Stock | None,
    terms: Terms,
) -> Line:
    total = count * terms.sets
    packs = () if stock is None else _packs(kind, stock)
    orders = [_order(pack, count, total) for pack in packs]
    best = min(
        orders, key=lambda order: (order.packs * order.pack.price, order.left, order.pack.line), default=None
    )
    return Line(
        kind=kind,
        needed=row.needed,
        count=count,
        by_pattern=row.packed is not None,
        total=total,
        mass_g=mass_g,
        order=best,
        coil=_coil(kind, total, terms.kerf_mm),
    )


def _coil(kind: RingKind | FindingKind, total: int, kerf_mm: Decimal | None) -> Coil | None:
    if kerf_mm is None or total == 0 or not isinstance(kind, RingKind):
        return None
    return coil(kind.inner_mm, kind.wire_mm, total, kerf_mm)


def _packs(kind: RingKind | FindingKind, stock: Stock) -> tuple[Pack, ...]:
    """The packs of the stock that hold exactly this."""
    name = kind.metal  # by its first name, as in the stock
    if isinstance(kind, RingKind):
        size = (kind.inner_mm, kind.wire_mm, name)
        return tuple(each.pack for each in stock.rings if (each.inner_mm, each.wire_mm, each.metal) == size)
    return tuple(
        each.pack
        for each in stock.findings
        if each.name == kind.name and each.type in (None, kind.type) and each.metal in (None, name)
    )


def _order(pack: Pack, count: int, total: int) -> Order:
    packs = -(-total // pack.size)
    each = _DIGITS.divide(_DIGITS.multiply(pack.price, Decimal(count)), Decimal(pack.size))
    return Order(
        pack=pack,
        packs=packs,
        left=packs * pack.size - total,
        price=_cents(_DIGITS.multiply(pack.price, Decimal(packs))),
        cost=_cents(each),
    )


def _priced(cost: Decimal, margin: Decimal) -> Decimal:
    """The price of which the margin is that part."""
    return _cents(_DIGITS.divide(cost, _DIGITS.subtract(Decimal(1), margin)))


def _cents(amount: Decimal) -> Decimal:
    return rounded(amount, CENTS)
