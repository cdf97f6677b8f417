"""How many of each kind a piece takes; in: a piece of a weave, out: counts by name. For the checks and the export."""

from __future__ import annotations

from compiler.weave import PieceWeave, Weave


def counts_of(weave: Weave, piece: PieceWeave) -> dict[str, int]:
    """Rings and findings by the name of their kind, in one such piece; kinds it does not use are left out."""
    rings = [0] * len(weave.ring_kinds)
    for kind in piece.kind:
        if kind >= 0:
            rings[kind] += 1
    counts = {kind.name: count for kind, count in zip(weave.ring_kinds, rings, strict=True) if count}
    for use in piece.findings:
        name = weave.finding_kinds[use.kind].name
        counts[name] = counts.get(name, 0) + 1
    return counts
