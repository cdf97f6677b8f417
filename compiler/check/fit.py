"""Fit: whether the wires that pass through a hole can lie in it, by bounds that hold for any arrangement.

Each link brings one passage of the neighbour's wire through the disc of the hole; a ring that is gone
around brings two. What these bounds refuse cannot be woven; what they let pass may still be too tight to
close.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from functools import partial
from itertools import accumulate
from operator import sub

from msgspec import Struct

from compiler.check.adjacency import Adjacency
from compiler.check.collect import Arguments, Collector, Names
from compiler.geometry import wires_at_most, wires_may_fit, wires_round_rim
from compiler.weave import PieceWeave, Relation, RelationKind, Weave
from notation.diagnostic import Label, Place
from notation.lengths import in_mm

_TENTHS = Decimal(10)
"""A larger inner diameter is proposed in tenths of a millimetre, the finest step that rings are sold in."""

_MOST_DIGITS = 8
"""Thicknesses of wire up to which what goes through a hole is one number with a digit for each."""


class _Hole(Struct, frozen=True, kw_only=True):
    """The hole of a kind of ring or of an eye."""

    inner_mm: Decimal
    declared: Place


def fit(weave: Weave, piece: PieceWeave, rows: Adjacency, names: Names, collector: Collector) -> None:
    """Tell the holes that cannot take their wires, at the statement that passes the first wire too many."""
    tight = _tight(weave, piece, rows, names)
    passages = _passages(weave, piece, set(tight))
    for node, again in tight.items():
        hole = _hole(weave, piece.kind[node], piece.companion[node])
        wires = [wire for _, wire in passages[node]]
        rule = _verdict(hole.inner_mm, Counter(wires))
        # What so many wires break is broken by more too, so the first one too many is found by halving.
        broken = partial(_breaks, rule, hole.inner_mm, wires)
        motion = passages[node][bisect_left(range(len(wires)), True, key=broken)][0]
        site = piece.motions.site[motion]
        place = weave.sites[site].place
        variant = _variant(hole.inner_mm, wires) if rule == "does-not-fit" else ""
        inner = in_mm(hole.inner_mm)
        collector.tell(
            rule,
            place,
            variant=variant,
            arguments=(("name", names.strand(node)), ("inner", inner), *_figures(rule, hole.inner_mm, wires)),
            labels=(Label(place=hole.declared, note="hole-declared", arguments=(("inner", inner),)),),
            site=site,
        )
        for _ in range(again):
            collector.again(rule, variant, place)


def wide_collars(
    weave: Weave, piece: PieceWeave, rows: Adjacency, names: Names, collector: Collector
) -> None:
    """Tell rings that go around others and are wide enough to slip over one of them.

    A ring that lies inside one other has that one around it; inside several it is kept by all of them together. One
    that is linked elsewhere hangs there and cannot slip away.
    """
    for relation in piece.relations:
        if rows.degree(relation.node):
            continue
        if relation.kind is RelationKind.INSIDE and len(relation.others) > 1:
            continue
        for collar, other in _encircled(relation):
            if piece.kind[other] < 0:  # how wide the body of a finding is, nobody has told us
                continue
            inner = _hole(weave, piece.kind[collar], piece.companion[collar]).inner_mm
            kind = weave.ring_kinds[piece.kind[other]]
            outer = kind.inner_mm + 2 * kind.wire_mm
            if inner < outer:
                continue
            site = piece.motions.site[relation.motion]
            collector.tell(
                "slips-off",
                weave.sites[site].place,
                arguments=(
                    ("name", names.strand(collar)),
                    ("other", names.strand(other)),
                    ("inner", in_mm(inner)),
                    ("outer", in_mm(outer)),
                ),
                labels=(
                    Label(place=kind.place, note="outer-declared", arguments=(("outer", in_mm(outer)),)),
                ),
                site=site,
            )
            break


def _encircled(relation: Relation) -> Iterator[tuple[int, int]]:
    """Each ring that goes around another by a relation, and that other."""
    if relation.kind is RelationKind.AROUND:
        yield from ((relation.node, other) for other in relation.others)
    elif relation.kind is RelationKind.INSIDE:
        yield from ((other, relation.node) for other in relation.others)


def _tight(weave: Weave, piece: PieceWeave, rows: Adjacency, names: Names) -> dict[int, int]:
    """A node for each statement that made rings with too small a hole, and how many more it made."""
    wire_of = _wires(weave)
    # Thicknesses have numbers, smallest first; the one after the last is that of wire of unknown thickness.
    kinds = set(piece.kind)
    wires = sorted({wire for kind in kinds if (wire := wire_of[kind]) is not None})
    codes = {wire: code for code, wire in enumerate(wires)}
    unknown = len(wires)
    by_kind = [unknown if wire is None else codes.get(wire, unknown) for wire in wire_of]
    around = [each for relation in piece.relations for each in _encircled(relation)]
    if len(alike := {by_kind[kind] for kind in kinds}) < 2:
        through, counted = _of_one(rows, max(alike, default=unknown), around)
    else:
        code = array("i", [by_kind[kind] for kind in piece.kind])
        through, counted = (_in_digits if unknown <= _MOST_DIGITS else _interned)(rows, code, unknown, around)
    judged: dict[tuple[int, int, int], str] = {}
    # Of an eye the companion is its number; of rings side by side each is judged alone, to no harm.
    for key in set(zip(piece.kind, piece.companion, through, strict=True)):
        kind, eye, number = key
        known = Counter({wires[each]: count for each, count in counted(number) if count and each < unknown})
        verdict = _verdict(_hole(weave, kind, eye).inner_mm, known)
        if verdict:
            judged[key] = verdict
    tight: dict[int, int] = {}
    if not judged:
        return tight
    first: dict[tuple[str, Place], int] = {}
    for node, key in enumerate(zip(piece.kind, piece.companion, through, strict=True)):
        if key not in judged:
            continue
        made = (judged[key], weave.sites[names.site(node)].place)
        if made in first:
            tight[first[made]] += 1
        else:
            first[made] = node
            tight[node] = 0
    return tight


def _wires(weave: Weave) -> list[Decimal | None]:
    """The thickness of each kind's wire, by the number that a node's kind has."""
    # Kinds of rings count from 0, kinds of findings backwards from -1: one list serves both.
    return [
        *(kind.wire_mm for kind in weave.ring_kinds),
        *(kind.wire_mm for kind in reversed(weave.finding_kinds)),
    ]


_Around = list[tuple[int, int]]
_Counted = Callable[[int], Iterable[tuple[int, int]]]
"""From the number that stands for what goes through a hole to (thickness, count)."""


def _of_one(rows: Adjacency, thickness: int, around: _Around) -> tuple[list[int], _Counted]:
    """For each node how much goes through it, where all wire is of one thickness."""
    through = list(map(sub, rows.start[1:], rows.start))
    for outer, _ in around:
        through[outer] += 2
    return through, lambda count: ((thickness, count),)


def _in_digits(
    rows: Adjacency, code: array[int], unknown: int, around: _Around
) -> tuple[list[int], _Counted]:
    """For each node a number that has the count for each thickness as a digit: no more is worked out than a sum."""
    base = 1 + max(map(sub, rows.start[1:], rows.start)) + 2 * len(around)
    digit = [base**place for place in range(unknown + 1)]
    weight = [digit[thickness] for thickness in code]
    ends = list(map([0, *accumulate(map(weight.__getitem__, rows.node))].__getitem__, rows.start))
    through = list(map(sub, ends[1:], ends))
    for outer, other in around:
        through[outer] += 2 * digit[code[other]]

    def counted(number: int) -> Iterator[tuple[int, int]]:
        for thickness in range(unknown):
            number, count = divmod(number, base)
            yield thickness, count

    return through, counted


def _interned(
    rows: Adjacency, code: array[int], _unknown: int, around: _Around
) -> tuple[list[int], _Counted]:
    """The same where there are so many thicknesses that numbers with a digit for each would be long."""
    encircled: dict[int, list[int]] = {}
    for outer, other in around:
        encircled.setdefault(outer, []).extend((code[other], code[other]))
    seen: dict[tuple[int, ...], int] = {}
    through = []
    for node in range(len(code)):
        met = [code[other] for other in rows.of(node)] + encircled.get(node, [])
        through.append(seen.setdefault(tuple(sorted(met)), len(seen)))
    met_of = list(seen)
    return through, lambda number: Counter(met_of[number]).items()


def _verdict(inner: Decimal, wires: Counter[Decimal]) -> str:
    """The rule that these wires in one hole break, or nothing."""
    if not wires_may_fit(float(inner), Counter({float(wire): count for wire, count in wires.items()})):
        return "does-not-fit"
    # Only for one thickness is the count along the rim a bound; it says "not side by side", not "impossible".
    if len(wires) == 1:
        ((wire, count),) = wires.items()
        if count > 2 and count > wires_round_rim(float(inner), float(wire)):
            return "crowded-hole"
    return ""


def _breaks(rule: str, inner: Decimal, wires: list[Decimal], last: int) -> bool:
    """Whether the wires up to that one break the rule."""
    return _verdict(inner, Counter(wires[: last + 1])) == rule


def _variant(inner: Decimal, wires: list[Decimal]) -> str:
    if max(wires) > inner:
        return "wire"
    return "" if len(set(wires)) == 1 else "mixed"


def _figures(rule: str, inner: Decimal, wires: list[Decimal]) -> Arguments:
    thickest = max(wires)
    most = wires_round_rim if rule == "crowded-hole" else wires_at_most
    counted = [f"{count} of {in_mm(wire)}" for wire, count in sorted(Counter(wires).items(), reverse=True)]
    figures: Arguments = (
        ("count", len(wires)),
        ("wire", in_mm(thickest)),
        ("most", most(float(inner), float(thickest))),
        ("wires", ", ".join(counted)),
    )
    return figures if rule == "crowded-hole" else (*figures, ("enough", in_mm(_enough(inner, wires))))


def _enough(inner: Decimal, wires: list[Decimal]) -> Decimal:
    """The least inner diameter in whole tenths of a mm that the bounds do not refuse."""
    sizes = Counter(map(float, wires))
    low = int(inner * _TENTHS)
    high = low + 1
    while not wires_may_fit(high / 10, sizes):
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if wires_may_fit(middle / 10, sizes) else (middle, high)
    return Decimal(high) / _TENTHS


def _hole(weave: Weave, kind: int, eye: int) -> _Hole:
    if kind >= 0:
        ring = weave.ring_kinds[kind]
        return _Hole(inner_mm=ring.inner_mm, declared=ring.place)
    finding = weave.finding_kinds[-1 - kind]
    return _Hole(inner_mm=finding.eyes[eye].inner_mm, declared=finding.place)


def _passages(weave: Weave, piece: PieceWeave, wanted: set[int]) -> dict[int, list[tuple[int, Decimal]]]:
    """For each wanted node the wires through its hole and the motions that brought them, in order."""
    found: dict[int, list[tuple[int, Decimal]]] = {node: [] for node in sorted(wanted)}
    if not wanted:
        return found
    wire_of = _wires(weave)

    def add(node: int, other: int, motion: int) -> None:
        wire = wire_of[piece.kind[other]]
        if wire is not None:
            found[node].append((motion, wire))

    for a, b, motion in zip(piece.link_a, piece.link_b, piece.link_motion, strict=True):
        if a in found:
            add(a, b, motion)
        if b in found:
            add(b, a, motion)
    for relation in piece.relations:
        for outer, other in _encircled(relation):
            if outer in found:
                add(outer, other, relation.motion)
                add(outer, other, relation.motion)
    for passages in found.values():
        passages.sort(key=lambda passage: passage[0])
    return found
