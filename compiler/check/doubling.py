"""Doubling: the companions of a strand have the same neighbours, counted strand by strand.

Companions are declared, never inferred: a pass of two doubled rings makes a strand of two. The commonest
slip at the bench is a twin that missed one of the rings the first ring goes through.
"""

from __future__ import annotations

from collections import Counter

from msgspec import Struct

from compiler.check.adjacency import Adjacency
from compiler.check.collect import Collector, Names
from compiler.weave import PieceWeave, Weave
from notation.diagnostic import Label, Place


class _Gap(Struct, frozen=True, kw_only=True):
    """A companion that lacks links which another companion has."""

    lacking: int
    having: int
    companions: int
    """How many rings the strand has."""
    missed: tuple[int, ...]
    """Rings of one strand, linked with `having` and not with `lacking`; at least one."""
    who: str = ""
    """Variant of the report, where it is not about a ring and its twin."""


def doubling(weave: Weave, piece: PieceWeave, rows: Adjacency, names: Names, collector: Collector) -> None:
    """Tell each link that a companion lacks: once, at the later statement, with the companion that has it."""
    seen: set[tuple[int, int]] = set()
    gaps: dict[tuple[Place, Place, int], _Gap] = {}
    again: Counter[tuple[Place, Place, int]] = Counter()
    for gap in (*_gaps(piece, rows), *_nested_gaps(piece, rows)):
        # A missing link may show from both its ends.
        missing = {_key(gap.lacking, ring) for ring in gap.missed}
        if missing <= seen:
            continue
        seen |= missing
        # Words are made for one gap of each pair of statements: a loop may leave half a million.
        alike = (*_places(weave, names, gap), piece.companion[gap.lacking])
        if alike in gaps:
            again[alike] += 1
        else:
            gaps[alike] = gap
    motion_of = _motions(piece, {_key(gap.having, gap.missed[0]) for gap in gaps.values()})
    for alike, gap in gaps.items():
        made = motion_of[_key(gap.having, gap.missed[0])]
        _tell(weave, piece, names, collector, gap, made, again[alike])


def _places(weave: Weave, names: Names, gap: _Gap) -> tuple[Place, Place]:
    """The statements that brought in the two ends of a missing link."""
    return weave.sites[names.site(gap.lacking)].place, weave.sites[names.site(gap.missed[0])].place


def _gaps(piece: PieceWeave, rows: Adjacency) -> list[_Gap]:
    if not any(piece.companion):
        return []
    strand = piece.strand
    uneven = set()
    for node, rank in enumerate(piece.companion):
        if rank and piece.kind[node] >= 0:
            first = strand[node]
            near = [strand[x] for x in rows.of(node)]
            if sorted(near) != sorted([strand[x] for x in rows.of(first)]):
                uneven.add(first)
    members: dict[int, list[int]] = {first: [] for first in sorted(uneven)}
    if members:
        for node, first in enumerate(strand):
            if first in members:
                members[first].append(node)
    return [gap for companions in members.values() for gap in _compare(piece, rows, companions)]


def _nested_gaps(piece: PieceWeave, rows: Adjacency) -> list[_Gap]:
    """What a strand that is nested in another lacks of that one's neighbours, and the other way round."""
    found = []
    for nested, around in piece.followers.items():
        near = {first: {piece.strand[x]: x for x in reversed(rows.of(first))} for first in (nested, around)}
        for lacking, having, who in ((nested, around, "nested"), (around, nested, "around")):
            for other in sorted(near[having].keys() - near[lacking].keys()):
                missed = (near[having][other],)
                found.append(_Gap(lacking=lacking, having=having, companions=2, missed=missed, who=who))
    return found


def _compare(piece: PieceWeave, rows: Adjacency, members: list[int]) -> list[_Gap]:
    """What each companion of a strand lacks, one gap for each companion and neighbouring strand."""
    counts = [Counter(piece.strand[x] for x in rows.of(member)) for member in members]
    found = []
    for other in sorted(set().union(*counts)):
        most = max(count[other] for count in counts)
        having = next(m for m, count in zip(members, counts, strict=True) if count[other] == most)
        for member, count in zip(members, counts, strict=True):
            if count[other] == most:
                continue
            own = set(rows.of(member))
            missed = [x for x in rows.of(having) if piece.strand[x] == other and x not in own]
            lost = tuple(missed[: most - count[other]])
            found.append(_Gap(lacking=member, having=having, companions=len(members), missed=lost))
    return found


def _tell(
    weave: Weave, piece: PieceWeave, names: Names, collector: Collector, gap: _Gap, made: int, again: int
) -> None:
    """`made` is the motion that gave the other companion its link; `again` how many more gaps are like it."""
    site = piece.motions.site[max(made, piece.born[gap.lacking])]
    place = weave.sites[site].place
    having = weave.sites[piece.motions.site[made]].place
    variant = gap.who or _who(piece, gap) + ("" if len(gap.missed) == 1 else "-several")
    collector.tell(
        "lone-twin",
        place,
        variant=variant,
        arguments=(
            ("strand", names.strand(gap.lacking)),
            ("other", names.strand(gap.missed[0])),
            ("count", len(gap.missed)),
            ("lacking", piece.companion[gap.lacking] + 1),
            ("having", piece.companion[gap.having] + 1),
        ),
        labels=(Label(place=having, note="companion-has-it"),) if having != place else (),
        site=site,
    )
    for _ in range(again):
        collector.again("lone-twin", variant, place)


def _who(piece: PieceWeave, gap: _Gap) -> str:
    """Of two rings one is the first and one its twin; of more they have numbers."""
    if gap.companions > 2:
        return "ring"
    return "twin" if piece.companion[gap.lacking] else "first"


def _key(a: int, b: int) -> tuple[int, int]:
    return (a, b) if a < b else (b, a)


def _motions(piece: PieceWeave, wanted: set[tuple[int, int]]) -> dict[tuple[int, int], int]:
    """The motion that made each wanted link (lower node first): one walk over the links."""
    found: dict[tuple[int, int], int] = {}
    if wanted:
        for a, b, motion in zip(piece.link_a, piece.link_b, piece.link_motion, strict=True):
            key = (a, b) if a < b else (b, a)
            if key in wanted:
                found.setdefault(key, motion)
    return found
