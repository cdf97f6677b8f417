"""Eyes of findings: every one is used or was declared free."""

from __future__ import annotations

from collections.abc import Collection

from compiler.check.adjacency import Adjacency
from compiler.check.collect import Collector
from compiler.weave import PieceWeave, Weave
from notation.diagnostic import Label


def unused_eyes(
    weave: Weave,
    piece: PieceWeave,
    rows: Adjacency,
    collector: Collector,
    loose: Collection[int],
) -> None:
    """Tell eyes that nothing goes through and that were not declared free.

    A finding that hangs on nothing at all is told as loose (`loose` has its first eye), not eye by eye.
    """
    related = {node for relation in piece.relations for node in (relation.node, *relation.others)}
    for use in piece.findings:
        if use.eyes[0] in loose:
            continue
        kind = weave.finding_kinds[use.kind]
        for eye, node in zip(kind.eyes, use.eyes, strict=True):
            if eye.free or rows.degree(node) or node in related:
                continue
            site = piece.motions.site[use.motion]
            collector.tell(
                "unused-eye",
                weave.sites[site].place,
                arguments=(("eye", eye.name), ("finding", use.label)),
                labels=(Label(place=kind.place, note="finding-declared", arguments=(("name", kind.name),)),),
                site=site,
            )
