"""Weave to `LayoutProblem`: what the search for a layout and the proof are told of a piece.

In: a weave and the number of a piece. Out: sizes, declared pairs, strands, signs, hints; ring k of the problem is
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
from collections.abc import Iterator, Sequence
from itertools import pairwise

from compiler.flat.place import flat_positions
from compiler.flat.sizes import node_sizes
from compiler.layout import (
    Between,
    CycleSign,
    DeclaredPair,
    Hint,
    HintUnit,
    LayoutProblem,
    PairState,
    RingSize,
)
from compiler.weave import Companionship, PieceWeave, RelationKind, Weave

MOST_SIGNED = 4000
"""Signs are worked out for pieces of at most so many links; the proof of a larger one does without."""


def problem_of(weave: Weave, piece_index: int) -> LayoutProblem:
    """The layout problem of a piece."""
    piece = weave.pieces[piece_index]
    flat = flat_positions(weave, piece_index)
    sizes = node_sizes(weave, piece)
    return LayoutProblem(
        rings=sizes,
        pairs=_pairs(piece, sizes),
        strands=_strands(piece),
        cycles=_cycles(piece),
        between=_between(piece),
        hints=tuple(Hint(ring=node, place=(x, y, 0.0)) for node, (x, y) in enumerate(flat.places)),
        hint_unit=HintUnit.MILLIMETRE,
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


def loops_of(count: int, links: Sequence[tuple[int, int]]) -> list[tuple[int, ...]]:
    """Loops of linked rings from which every other loop can be put together, short ones first.

    Candidates are triangles, loops of four, and the loops that each link closes with a spanning tree grown in
    breadth; one is kept when it is no sum of those kept before (elimination over the field of two elements). The
    last kind alone is a basis, so the result always is one.
    """
    around: list[list[int]] = [[] for _ in range(count)]
    for a, b in links:
        around[a].append(b)
        around[b].append(a)
    number = {link: index for index, link in enumerate(links)}
    missing = len(links) - count + _parts(around)
    kept: dict[int, int] = {}
    found: list[tuple[int, ...]] = []
    for loop in _candidates(around, links):
        if len(found) == missing:
            break
        rest = sum(1 << number[min(a, b), max(a, b)] for a, b in pairwise((*loop, loop[0])))
        while rest:
            top = rest.bit_length()
            if top not in kept:
                kept[top] = rest
                found.append(loop)
                break
            rest ^= kept[top]
    return found


def _candidates(
    around: Sequence[Sequence[int]], links: Sequence[tuple[int, int]]
) -> Iterator[tuple[int, ...]]:
    sets = [set(others) for others in around]
    for a, b in links:
        for c in around[a]:
            if c > max(a, b) and c in sets[b]:
                yield a, b, c
    for a, others in enumerate(around):
        for place, b in enumerate(others):
            for d in others[:place]:
                for c in around[b]:
                    if c > a and c != a and c in sets[d] and b > a and d > a:
                        yield a, b, c, d
    yield from _closed_by_tree(around, links)


def _closed_by_tree(
    around: Sequence[Sequence[int]], links: Sequence[tuple[int, int]]
) -> Iterator[tuple[int, ...]]:
    parent, depth = _tree(around)
    for a, b in links:
        if parent[a] == b or parent[b] == a:
            continue
        left, right = [a], [b]
        while left[-1] != right[-1]:
            if depth[left[-1]] >= depth[right[-1]]:
                left.append(parent[left[-1]])
            else:
                right.append(parent[right[-1]])
        yield (*left, *reversed(right[:-1]))


def _tree(around: Sequence[Sequence[int]]) -> tuple[list[int], list[int]]:
    """Parent (-1 at a root) and depth of each ring in a spanning forest grown in breadth."""
    parent, depth = [-1] * len(around), [-1] * len(around)
    for root in range(len(around)):
        if depth[root] >= 0:
            continue
        depth[root] = 0
        queue = [root]
        for ring in queue:
            for other in around[ring]:
                if depth[other] < 0:
                    parent[other], depth[other] = ring, depth[ring] + 1
                    queue.append(other)
    return parent, depth


def _parts(around: Sequence[Sequence[int]]) -> int:
    """How many parts hang together."""
    return sum(step == 0 for step in _tree(around)[1])
