"""Held together: a piece is one, or the declared number of parts; loose parts are told by name.

Held counts links, captive relations (around, inside, between) and the bodies of findings. Rings that are pairwise
unlinked fall apart when they are ideal circles; a captive ring of real wire is held all the same, so
these relations count here and whether they can slip off is a question of fit. Lying over or under another holds
nothing, and a ring in a gap hangs by its link.
"""

from __future__ import annotations

from array import array

from msgspec import Struct

from compiler.check.adjacency import Adjacency
from compiler.check.collect import Arguments, Collector, Names
from compiler.weave import PieceWeave, RelationKind, Weave
from notation.diagnostic import Label


class _Parts(Struct, frozen=True, kw_only=True):
    """The connected parts of a piece: columns by node, filled at the root of each part."""

    roots: list[int]
    """The lowest node of each part, that is the one made first: largest part first."""
    rings: array[int]
    findings: array[int]

    def is_lone_ring(self, root: int) -> bool:
        """Whether the part is one ring."""
        return self.rings[root] == 1 and not self.findings[root]


def held(
    weave: Weave, piece: PieceWeave, rows: Adjacency, names: Names, collector: Collector
) -> tuple[int, ...]:
    """Tell the loose parts of a piece; gives back the first node of each."""
    if not len(piece):
        return ()
    root_of = roots(piece)
    if piece.parts == 1 and not any(root_of):
        return ()  # as nearly always: nothing need be counted
    parts = _parts(piece, root_of)
    found = len(parts.roots)
    if found < piece.parts:
        collector.tell(
            "too-few-parts",
            piece.place,
            variant="one" if found == 1 else "",
            arguments=(("piece", piece.name), ("declared", piece.parts), ("found", found)),
        )
    loose = sorted(parts.roots[piece.parts :])
    lone: dict[int, int] = {}
    """Rings that hang on nothing, counted by strand."""
    for root in loose:
        if parts.is_lone_ring(root):
            lone[piece.strand[root]] = lone.get(piece.strand[root], 0) + 1
    linked = _linked_strands(piece, rows) if lone else bytearray()
    for root in loose:
        if not parts.is_lone_ring(root):
            _tell_part(weave, piece, names, collector, parts, root)
            continue
        count = lone.pop(piece.strand[root], 0)
        # A companion that alone of its strand hangs on nothing misses rings: that is told there.
        if count > 1 or (count == 1 and not linked[piece.strand[root]]):
            _tell_lone(weave, piece, names, collector, root, count)
    return tuple(loose)


def _linked_strands(piece: PieceWeave, rows: Adjacency) -> bytearray:
    """1 at the first ring of every strand of which some ring is linked."""
    linked = bytearray(len(piece))
    for node, first in enumerate(piece.strand):
        if rows.degree(node):
            linked[first] = 1
    return linked


_HOLDING = (RelationKind.AROUND, RelationKind.INSIDE, RelationKind.BETWEEN)


def _tell_lone(
    weave: Weave, piece: PieceWeave, names: Names, collector: Collector, root: int, count: int
) -> None:
    site = names.site(root)
    place = weave.sites[site].place
    variant = "strand" if count > 1 else ""
    if not collector.again("loose-part", variant, place):
        arguments: Arguments = (("name", names.strand(root)), ("rings", count), ("piece", piece.name))
        collector.tell("loose-part", place, variant=variant, arguments=arguments, site=site)


def roots(piece: PieceWeave) -> list[int]:
    """For each node the lowest node that it is held together with (union-find with path halving)."""
    parent = list(range(len(piece)))
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        if parent[a] != parent[b]:
            parent[a] = parent[b] = _unite(parent, parent[a], parent[b])
    for relation in piece.relations:
        if relation.kind in _HOLDING:
            for other in relation.others:
                _unite(parent, relation.node, other)
    for use in piece.findings:
        for eye in use.eyes[1:]:
            _unite(parent, use.eyes[0], eye)
    # A root is the lowest of its part, and every parent is lower than its child: it is settled before.
    for node, above in enumerate(parent):
        parent[node] = parent[above]
    return parent


def _unite(parent: list[int], a: int, b: int) -> int:
    """Makes two parts one; gives the root of it."""
    while parent[a] != a:
        parent[a] = a = parent[parent[a]]
    while parent[b] != b:
        parent[b] = b = parent[parent[b]]
    if a < b:
        a, b = b, a
    parent[a] = b
    return b


def _parts(piece: PieceWeave, root_of: list[int]) -> _Parts:
    zeros = bytes(4 * len(piece))
    rings, findings = array("i", zeros), array("i", zeros)
    for root, kind, companion in zip(root_of, piece.kind, piece.companion, strict=True):
        if kind >= 0:
            rings[root] += 1
        elif companion == 0:
            findings[root] += 1
    found = [node for node, root in enumerate(root_of) if node == root]
    found.sort(key=lambda root: -rings[root] - findings[root])  # stable: of equal parts the first made leads
    return _Parts(roots=found, rings=rings, findings=findings)


def _tell_part(
    weave: Weave, piece: PieceWeave, names: Names, collector: Collector, parts: _Parts, root: int
) -> None:
    site = names.site(root)
    place = weave.sites[site].place
    rings = parts.rings[root]
    variant = {0: "", 1: "part-of-one"}.get(rings, "part")
    if collector.again("loose-part", variant, place):
        return
    name = names.finding(root) if rings == 0 else names.strand(root)
    largest = parts.roots[0]
    main = Label(
        place=weave.sites[names.site(largest)].place,
        note="largest-part",
        arguments=(("name", names.strand(largest)), ("rings", parts.rings[largest])),
    )
    arguments: Arguments = (("name", name), ("rings", rings), ("piece", piece.name))
    labels = (main,) if variant and main.place != place else ()
    collector.tell("loose-part", place, variant=variant, arguments=arguments, labels=labels, site=site)
