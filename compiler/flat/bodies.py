"""The graph that is drawn: a strand, an eye or a lone ring is one body.

In: a piece. Out: `Bodies`: which body each node belongs to, sizes, and who is joined with whom at what distance.
Bodies are numbered in order of making.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.flat.sizes import node_sizes
from compiler.weave import PieceWeave, RelationKind, Weave

OVERLAP = 0.8
"""Distance of the centres of two linked rings, as a share of the sum of their core radii: both holes stay open."""
_BESIDE = 0.65
"""The same of two rings that overlap without being linked."""
_LONGEST_FINDING = 14.0
"""Findings longer than this, mm, are drawn shortened: a schematic shows what is joined, not how long a chain is."""
_SHORT_FINDING = 6.0
"""Length, mm, drawn for a finding with several eyes that gives none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bodies:
    """Bodies and the joints between them."""

    of_node: tuple[int, ...]
    lead: tuple[int, ...]
    """By body: its first node."""
    radius: tuple[float, ...]
    """By body: core radius, mm."""
    near: tuple[tuple[tuple[int, float], ...], ...]
    """By body: bodies joined with it (links, eyes of one finding, captives), and the distance to draw, mm."""
    linked: tuple[tuple[int, ...], ...]
    """By body: bodies linked with it, in order of linking."""

    def __len__(self) -> int:
        return len(self.lead)


def bodies_of(weave: Weave, piece: PieceWeave) -> Bodies:
    """The bodies of a piece."""
    sizes = node_sizes(weave, piece)
    number: dict[int, int] = {}
    of_node = tuple(number.setdefault(strand, len(number)) for strand in piece.strand)
    lead = tuple(number)
    radius = tuple(sizes[node].core_radius for node in lead)
    near: list[dict[int, float]] = [{} for _ in lead]
    linked: list[dict[int, None]] = [{} for _ in lead]

    def join(a: int, b: int, distance: float) -> None:
        if a != b:
            near[a].setdefault(b, distance)
            near[b].setdefault(a, distance)

    for first, second in zip(piece.link_a, piece.link_b, strict=True):
        a, b = of_node[first], of_node[second]
        if a != b:
            linked[a][b] = linked[b][a] = None
            join(a, b, OVERLAP * (radius[a] + radius[b]))
    for use in piece.findings:
        length = weave.finding_kinds[use.kind].length_mm
        drawn = _SHORT_FINDING if length is None else min(float(length), _LONGEST_FINDING)
        for eye in use.eyes[1:]:
            a, b = of_node[use.eyes[0]], of_node[eye]
            join(a, b, max(drawn, radius[a] + radius[b]))
    for relation in piece.relations:
        a = of_node[relation.node]
        for other in relation.others:
            b = of_node[other]
            if relation.kind is RelationKind.AROUND:  # a collar lies where the rings it holds overlap
                join(a, b, OVERLAP * radius[b])
            elif relation.kind is RelationKind.INSIDE:
                join(a, b, max(0.5 * (radius[b] - radius[a]), 0.1 * radius[b]))
            elif relation.kind is not RelationKind.GAP:
                join(a, b, _BESIDE * (radius[a] + radius[b]))
    for body, ends in enumerate(linked):
        group = piece.group[lead[body]]
        if group < 0 or piece.groups[group].connector_of < 0 or len(ends) != 2:
            continue
        one, other = ends
        if (
            other in near[one] and other not in linked[one]
        ):  # it ties two that overlap, and lies where they do
            for end in ends:
                near[body][end] = near[end][body] = near[one][other] / 2
    return Bodies(
        of_node=of_node,
        lead=lead,
        radius=radius,
        near=tuple(tuple(row.items()) for row in near),
        linked=tuple(tuple(row) for row in linked),
    )
