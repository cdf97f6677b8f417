"""Sizes of the nodes of a piece as floats. In: a weave and a piece. Out: one `RingSize` per ring or eye, mm."""

from __future__ import annotations

from compiler.layout import RingSize
from compiler.weave import PieceWeave, Weave

EYE_WIRE_SHARE = 0.25
"""Wire of a finding that gives none, as a share of its eye's diameter (common practice for bought eyes)."""


def node_sizes(weave: Weave, piece: PieceWeave) -> tuple[RingSize, ...]:
    """By node: core radius (inner + wire) / 2 and tube radius wire / 2; an eye has its finding's wire."""
    rings = [_size(float(kind.inner_mm), float(kind.wire_mm)) for kind in weave.ring_kinds]
    eyes = []
    for finding in weave.finding_kinds:
        given = None if finding.wire_mm is None else float(finding.wire_mm)
        inners = [float(eye.inner_mm) for eye in finding.eyes]
        eyes.append([_size(inner, EYE_WIRE_SHARE * inner if given is None else given) for inner in inners])
    return tuple(
        rings[kind] if kind >= 0 else eyes[-1 - kind][companion]
        for kind, companion in zip(piece.kind, piece.companion, strict=True)
    )


def _size(inner: float, wire: float) -> RingSize:
    return RingSize(core_radius=(inner + wire) / 2, tube_radius=wire / 2)
