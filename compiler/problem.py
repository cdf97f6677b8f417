"""Weave to `LayoutProblem`: what the search for a layout and the proof are told of a piece.

In: a weave and the number of a piece. Out: sizes, declared pairs, strands, signs; ring k of the problem is
node k of the piece. An eye of a finding is a ring as well.

The sign of a link. Every ring has a way round in which its wire is led, and its front is the side from which that
way runs counter-clockwise: its normal, right-handed to the way, points out of the front. A ring that enters another
from the front therefore passes through its disc against its normal, and the linking number of the two, counted
as signed piercings, is -1; from behind it is +1. `PieceWeave.link_sign` (+1 from the front) is its negative. Which
way round a closed ring that is gone through is turned is a choice, and turning one over changes the sign of
all its links. Round a closed loop of links each ring takes part twice, so there the product is a fact:

    product of the linking numbers round a loop of n links = (-1)^n * product of their `link_sign`
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from compiler.flat.sizes import node_sizes
from compiler.layout import (
    Between,
    CycleSign,
    DeclaredPair,
    LayoutProblem,
    PairState,
    RingSize,
)
from compiler.loops import loops_of
from compiler.surfaces import aheads, closings, leans, over_facts, turns
from compiler.weave import Companionship, PieceWeave, RelationKind, Weave

MOST_SIGNED = 4000
"""Signs are worked out for pieces of at most so many links; the proof of a larger one does without."""


def problem_of(weave: Weave, piece_index: int) -> LayoutProblem:
    """The layout problem of a piece; where a search may start is added by `compiler.hints`."""
    piece = weave.pieces[piece_index]
    sizes = node_sizes(weave, piece)
    return LayoutProblem(
        rings=sizes,
        pairs=_pairs(piece, sizes),
        strands=_strands(piece),
        cycles=_cycles(piece),
        between=_between(piece),
        overs=over_facts(piece),
        closings=closings(piece),
        leans=leans(piece),
        turns=turns(piece),
        aheads=aheads(piece),
    )


def _pairs(piece: PieceWeave, sizes: Sequence[RingSize]) -> tuple[DeclaredPair, ...]:
    """Links, and rings that lie in the holes of others, each pair once; over, under and gaps are no state of a pair."""
    found: dict[tuple[int, int], PairState] = {}
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        found.setdefault((min(a, b), max(a, b)), PairState.LINKED)
    for relation in piece.relations:
        for other in relation.others:
            if relation.kind is RelationKind.AROUND:
                _declare_around(found, relation.node, other)
            elif relation.kind is RelationKind.INSIDE:
                _declare_around(found, other, relation.node)
    for lead, way in piece.companionship.items():
        if way is Companionship.NESTED:
            rings = [node for node, strand in enumerate(piece.strand) if strand == lead]
            rings.sort(key=lambda node: -sizes[node].core_radius)
            for outer, inner in pairwise(rings):
                if sizes[inner].core_radius < sizes[outer].core_radius:
                    _declare_around(found, outer, inner)
    return tuple(DeclaredPair(a=a, b=b, state=state) for (a, b), state in found.items())


def _declare_around(found: dict[tuple[int, int], PairState], outer: int, inner: int) -> None:
    state = PairState.A_AROUND_B if outer < inner else PairState.B_AROUND_A
    found.setdefault((min(outer, inner), max(outer, inner)), state)


def _strands(piece: PieceWeave) -> tuple[tuple[int, ...], ...]:
    """Strands of two and more rings that lie side by side."""
    members: dict[int, list[int]] = {}
    for node, lead in enumerate(piece.strand):
        if piece.kind[node] >= 0 and lead not in piece.companionship:
            members.setdefault(lead, []).append(node)
    return tuple(tuple(rings) for rings in members.values() if len(rings) > 1)


def _between(piece: PieceWeave) -> tuple[Between, ...]:
    """Rings that lie between the first and the last ring of a strand."""
    return tuple(
        Between(ring=relation.node, first=relation.others[0], second=relation.others[-1])
        for relation in piece.relations
        if relation.kind is RelationKind.BETWEEN and len(relation.others) > 1
    )


# ---------------------------------------------------------------- signs round loops


def _cycles(piece: PieceWeave) -> tuple[CycleSign, ...]:
    """Loops whose sign must be told: of odd length, where a piece differs from its mirror image, and where a link is
    entered from behind. A weave without either has the sign that follows from lying flat, and is left alone.
    """
    signs = {
        (min(a, b), max(a, b)): sign
        for a, b, sign in zip(piece.link_a, piece.link_b, piece.link_sign, strict=True)
    }
    if len(signs) > MOST_SIGNED:
        return ()
    found = []
    for loop in loops_of(len(piece), list(signs)):
        steps = [signs[min(a, b), max(a, b)] for a, b in pairwise((*loop, loop[0]))]
        if len(loop) % 2 or -1 in steps:
            found.append(CycleSign(rings=loop, product=(-1) ** len(loop) * math.prod(steps)))
    return tuple(found)
