"""Quantities: how many of what, how heavy, how much wire, how long it takes; beside check, before the booklet.

In: a `Weave` (and metals). Out: `Quantities`. Exact where the text is: counts are whole numbers counted from
the weave's columns, lengths and masses are decimals of 40 digits from the sizes as written, never rounded
here. Whoever prints rounds once, half up (`notation.lengths.rounded`), and sums are of the unrounded values.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal, DivisionByZero, InvalidOperation, Overflow

from compiler.weave import KitEntry, PieceWeave, RingKind, Verb, Weave
from notation.lengths import LengthUnit, NearestGauge, aspect_ratio, nearest_gauge
from notation.metals import Metal, find_metal

_DIGITS = Context(prec=40, rounding=ROUND_HALF_EVEN, traps=[InvalidOperation, DivisionByZero, Overflow])

PI = Decimal("3.141592653589793238462643383279502884197")
"""To 40 digits: OEIS A000796."""
MM3_PER_CM3 = Decimal(1000)

PREPARE_SECONDS = (6, 15)
WEAVE_SECONDS = (25, 75)
FINDING_SECONDS = (30, 120)
"""Seconds for a ring opened or closed beforehand, a motion of an open ring, a finding hung, from quick hands to
slow ones. From memory, no published source; the booklet prints them and calls the time an estimate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """Seconds for each thing that is done, from quick hands to slow ones."""

    prepare: tuple[int, int] = PREPARE_SECONDS
    """A ring opened or closed beforehand."""
    weave: tuple[int, int] = WEAVE_SECONDS
    """A motion of an open ring."""
    finding: tuple[int, int] = FINDING_SECONDS
    """A finding hung."""


USUAL_RATES = Rates()


@dataclass(frozen=True, slots=True, kw_only=True)
class RingRow:
    """All rings of one kind."""

    kind: RingKind
    per_piece: tuple[int, ...]
    """Rings in one of each piece, in the order of `Weave.pieces`."""
    needed: int
    """Rings in all: over pieces, each as often as it is made."""
    packed: int | None
    """Rings in the kit; None where the pattern has no kit or the kit does not name the kind."""
    aspect_ratio: Decimal
    """Inner diameter over wire, rounded to 2 places."""
    awg: NearestGauge | None
    """The American gauge whose wire this is within 3 %; None where there is none."""
    swg: NearestGauge | None
    """The British one."""
    wire_mm: Decimal
    """Wire in one ring, along its middle: pi (inner + wire). What the saw takes is not counted."""
    volume_mm3: Decimal
    """Metal in one ring."""
    metal: Metal | None
    """None where the name is not among the metals."""
    mass_g: Decimal | None
    """Of one ring; None without a metal."""

    @property
    def spare(self) -> int | None:
        """Rings left over from the kit; below 0 where it runs out."""
        return None if self.packed is None else self.packed - self.needed

    @property
    def total_wire_mm(self) -> Decimal:
        """Wire in all rings needed."""
        return _DIGITS.multiply(self.wire_mm, Decimal(self.needed))

    @property
    def total_mass_g(self) -> Decimal | None:
        """Mass of all rings needed."""
        return None if self.mass_g is None else _DIGITS.multiply(self.mass_g, Decimal(self.needed))


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingRow:
    """All findings of one kind. They are not weighed: their bodies are not described."""

    kind: int
    """Index into `Weave.finding_kinds`."""
    per_piece: tuple[int, ...]
    needed: int
    packed: int | None

    @property
    def spare(self) -> int | None:
        """Findings left over from the kit."""
        return None if self.packed is None else self.packed - self.needed


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSum:
    """What is in one of a piece."""

    rings: int
    links: int
    mass_g: Decimal | None
    """Of its rings; None where the mass of one of its kinds is not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Minutes:
    """A stretch of time, from quick hands to slow ones, in whole minutes."""

    least: int
    most: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantities:
    """All that a pattern needs."""

    rings: tuple[RingRow, ...]
    """In the order of `Weave.ring_kinds`, those included that nothing uses."""
    findings: tuple[FindingRow, ...]
    """In the order of `Weave.finding_kinds`."""
    pieces: tuple[PieceSum, ...]
    """In the order of `Weave.pieces`."""
    ring_count: int
    """Rings in all."""
    mass_g: Decimal | None
    """Of all rings."""
    time: Minutes
    """For everything, an estimate."""


def quantities(weave: Weave, rates: Rates = USUAL_RATES) -> Quantities:
    """The counts, masses and lengths of everything in the pattern; linear in rings and motions."""
    ring_counts = [_ring_counts(piece, len(weave.ring_kinds)) for piece in weave.pieces]
    finding_counts = [_finding_counts(piece, len(weave.finding_kinds)) for piece in weave.pieces]
    packed = _packed(weave.kit)
    rings = tuple(
        _ring_row(kind, index, weave, ring_counts, packed) for index, kind in enumerate(weave.ring_kinds)
    )
    findings = tuple(
        FindingRow(
            kind=index,
            per_piece=tuple(counts[index] for counts in finding_counts),
            needed=_needed(weave, finding_counts, index),
            packed=packed.get(kind.name),
        )
        for index, kind in enumerate(weave.finding_kinds)
    )
    pieces = tuple(
        PieceSum(rings=sum(counts), links=len(piece.link_a), mass_g=_sum_of_masses(rings, counts))
        for piece, counts in zip(weave.pieces, ring_counts, strict=True)
    )
    return Quantities(
        rings=rings,
        findings=findings,
        pieces=pieces,
        ring_count=sum(row.needed for row in rings),
        mass_g=_sum_of_masses(rings, [row.needed for row in rings]),
        time=_time(weave, rings, rates),
    )


def wire_length_mm(inner_mm: Decimal, wire_mm: Decimal) -> Decimal:
    """Length of wire in a ring, mm, along its middle: pi times the middle diameter."""
    return _DIGITS.multiply(PI, _DIGITS.add(inner_mm, wire_mm))


def ring_volume_mm3(inner_mm: Decimal, wire_mm: Decimal) -> Decimal:
    """Volume of a ring, mm3: a torus, by Pappus's second theorem 2 pi^2 R r^2, R and r its radii.

    R = (inner + wire) / 2 and r = wire / 2, so that the volume is pi^2 / 4 (inner + wire) wire^2.
    """
    middle = _DIGITS.add(inner_mm, wire_mm)
    square = _DIGITS.multiply(wire_mm, wire_mm)
    quarter = _DIGITS.divide(_DIGITS.multiply(PI, PI), Decimal(4))
    return _DIGITS.multiply(quarter, _DIGITS.multiply(middle, square))


def ring_mass_g(inner_mm: Decimal, wire_mm: Decimal, density: Decimal) -> Decimal:
    """Mass of a ring, g, of a material of so many g/cm3."""
    return _DIGITS.divide(_DIGITS.multiply(ring_volume_mm3(inner_mm, wire_mm), density), MM3_PER_CM3)


def _ring_row(
    kind: RingKind,
    index: int,
    weave: Weave,
    ring_counts: list[array[int]],
    packed: Mapping[str, int],
) -> RingRow:
    metal = find_metal(kind.metal, weave.metals)
    return RingRow(
        kind=kind,
        per_piece=tuple(counts[index] for counts in ring_counts),
        needed=_needed(weave, ring_counts, index),
        packed=packed.get(kind.name),
        aspect_ratio=aspect_ratio(kind.inner_mm, kind.wire_mm),
        awg=nearest_gauge(kind.wire_mm, (LengthUnit.AWG,)),
        swg=nearest_gauge(kind.wire_mm, (LengthUnit.SWG,)),
        wire_mm=wire_length_mm(kind.inner_mm, kind.wire_mm),
        volume_mm3=ring_volume_mm3(kind.inner_mm, kind.wire_mm),
        metal=metal,
        mass_g=None if metal is None else ring_mass_g(kind.inner_mm, kind.wire_mm, metal.density),
    )


def _ring_counts(piece: PieceWeave, kinds: int) -> array[int]:
    """Rings of each kind in one of the piece."""
    counts = array("q", bytes(8 * kinds))
    for kind in piece.kind:
        if kind >= 0:
            counts[kind] += 1
    return counts


def _finding_counts(piece: PieceWeave, kinds: int) -> array[int]:
    counts = array("q", bytes(8 * kinds))
    for use in piece.findings:
        counts[use.kind] += 1
    return counts


def _needed(weave: Weave, counts: list[array[int]], kind: int) -> int:
    return sum(piece.times * each[kind] for piece, each in zip(weave.pieces, counts, strict=True))


def _packed(kit: tuple[KitEntry, ...] | None) -> dict[str, int]:
    """Kit counts by kind; entries of one kind together."""
    packed: dict[str, int] = {}
    for entry in kit or ():
        packed[entry.kind] = packed.get(entry.kind, 0) + entry.count
    return packed


def _sum_of_masses(rings: tuple[RingRow, ...], counts: Iterable[int]) -> Decimal | None:
    total = Decimal(0)
    for row, count in zip(rings, counts, strict=True):
        if count == 0:
            continue
        if row.mass_g is None:
            return None
        total = _DIGITS.add(total, _DIGITS.multiply(row.mass_g, Decimal(count)))
    return total


def _time(weave: Weave, rings: tuple[RingRow, ...], rates: Rates) -> Minutes:
    """Every ring opened or closed once, every motion that makes links woven, every finding hung."""
    prepared = sum(row.needed for row in rings)
    woven, hung = 0, 0
    for piece in weave.pieces:
        idle = piece.motions.verb.count(Verb.TAKE)
        woven += piece.times * (len(piece.motions.verb) - idle)
        hung += piece.times * len(piece.findings)
    seconds = [
        prepared * rates.prepare[end] + woven * rates.weave[end] + hung * rates.finding[end] for end in (0, 1)
    ]
    return Minutes(least=seconds[0] // 60, most=-(-seconds[1] // 60))
