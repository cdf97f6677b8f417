"""Budget: the running tally of the pieces, each as often as it is made, against the kit.

The kit is one packet. The pieces are made in the order of the text, one whole piece after another; the
statement that overdraws the kit is marked, and which of the pieces it was. Without a kit there is nothing
to tell.
"""

from __future__ import annotations

from compiler.check.collect import Arguments, Collector
from compiler.counts import counts_of
from compiler.weave import KitEntry, PieceWeave, Weave
from notation.diagnostic import Label, Place

_ORDINALS = {1: "in-first", 2: "in-second", 3: "in-third"}


def budget(weave: Weave, collector: Collector) -> None:
    """Tell what the kit lacks and what it has over; quiet where a piece could not be expanded."""
    if not weave.kit or any(piece.broken for piece in weave.pieces):
        return
    kinds = (*(kind.name for kind in weave.ring_kinds), *(kind.name for kind in weave.finding_kinds))
    kit: dict[str, int] = {}
    entries: dict[str, KitEntry] = {}
    for entry in weave.kit:
        kit[entry.kind] = kit.get(entry.kind, 0) + entry.count
        entries.setdefault(entry.kind, entry)
    each = tuple(counts_of(weave, piece) for piece in weave.pieces)
    spare = []
    enough = True
    for kind in kinds:
        need = sum(counts.get(kind, 0) * p.times for counts, p in zip(each, weave.pieces, strict=True))
        if need > kit.get(kind, 0):
            enough = False
            _short(weave, collector, kind, need, kit.get(kind, 0), entries.get(kind, weave.kit[0]), each)
        elif kind in kit and need == 0 and weave.complete:
            collector.tell("unused-in-kit", entries[kind].place, arguments=(("kind", kind),))
        elif kind in kit and need < kit[kind]:
            spare.append(f"{kit[kind] - need} {kind}")
    if spare and enough and weave.complete:
        listed = " and ".join(filter(None, (", ".join(spare[:-1]), spare[-1])))
        collector.tell("spare-in-kit", weave.kit[0].place, arguments=(("spare", listed),))


def _short(
    weave: Weave,
    collector: Collector,
    kind: str,
    need: int,
    has: int,
    entry: KitEntry,
    each: tuple[dict[str, int], ...],
) -> None:
    """Tell where a kind runs out."""
    left = has
    for piece, counts in zip(weave.pieces, each, strict=True):
        count = counts.get(kind, 0)
        if count * piece.times <= left:
            left -= count * piece.times
            continue
        time, left = divmod(left, count)
        break
    site = piece.motions.site[_motion_of(weave, piece, kind, left)]
    arguments: Arguments = (
        ("kind", kind),
        ("kit", has),
        ("need", need),
        ("short", need - has),
        ("piece", piece.name),
        ("time", time + 1),
        ("times", piece.times),
    )
    in_kit = entry.kind == kind
    variant = _ORDINALS.get(time + 1, "in-later") if piece.times > 1 else ""
    note = Label(
        place=entry.place,
        note="kit-has" if in_kit else "kit-begins",
        arguments=(("kind", kind), ("count", has)),
    )
    place: Place = weave.sites[site].place
    # One statement may overdraw several kinds: each is told.
    rule, variant = ("over-budget", variant) if in_kit else ("not-in-kit", "")
    collector.tell(rule, place, variant=variant, arguments=arguments, labels=(note,), site=site, about=kind)


def _motion_of(weave: Weave, piece: PieceWeave, kind: str, nth: int) -> int:
    """The motion that brings in the nth (from 0) ring or finding of a kind."""
    for index, ring_kind in enumerate(weave.ring_kinds):
        if ring_kind.name == kind:
            node = -1
            for _ in range(nth + 1):
                node = piece.kind.index(index, node + 1)
            return piece.born[node]
    uses = [use for use in piece.findings if weave.finding_kinds[use.kind].name == kind]
    return uses[nth].motion
