"""What a weave is beyond which rings are linked, as rows for the export.

In: a piece. Out: signs of links, relations, loops of links with their products, poses, companions. The product of the
signs round a loop does not depend on which side of a ring is called its front, so it is a fact of the weave; for a
mirror image it is the opposite round a loop of odd length, and the same round one of even length.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from compiler.loops import loops_of
from compiler.weave import PieceWeave

MOST_RINGS_WITH_CYCLES = 5_000
"""Rings and eyes in a piece of which loops are worked out."""

Row = dict[str, object]


def relation_rows(piece: PieceWeave) -> Iterator[Row]:
    """How rings lie to each other without being linked."""
    for relation in piece.relations:
        yield {"kind": relation.kind.value, "ring": relation.node, "others": list(relation.others)}


def cycle_rows(piece: PieceWeave) -> Iterator[Row] | None:
    """A cycle basis of the links, each loop with the product of its signs; None for a piece that is too large."""
    if len(piece) > MOST_RINGS_WITH_CYCLES:
        return None
    signs = {
        (min(a, b), max(a, b)): sign
        for a, b, sign in zip(piece.link_a, piece.link_b, piece.link_sign, strict=True)
    }
    loops = loops_of(len(piece), list(signs))
    return (
        {
            "rings": list(loop),
            "product": math.prod(signs[min(a, b), max(a, b)] for a, b in pairwise((*loop, loop[0]))),
        }
        for loop in loops
    )


def pose_rows(piece: PieceWeave) -> Iterator[Row]:
    """What lasts in how the work lies, in the order in which it is asked for."""
    for pose in piece.poses:
        yield {
            "kind": pose.kind.value,
            "rings": list(pose.nodes),
            "onto": list(pose.onto),
            "amount": pose.amount,
        }


def companion_rows(piece: PieceWeave) -> Iterator[Row]:
    """Strands of which the rings do not lie side by side."""
    for first, way in sorted(piece.companionship.items()):
        yield {"strand": first, "way": way.value}
