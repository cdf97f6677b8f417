"""Which of two rings is seen over the other, where the text says so.

In: a piece, and rings as they are seen. Out: the pairs of rings of which one is said to lie over the other, and how
far apart their wires are towards the eye wherever they cross in the picture. Lengths are mm.
"""

from __future__ import annotations

import math

from compiler.figure.scene import Loop
from compiler.weave import PieceWeave, RelationKind

_SAMPLES = 96
"""Points of a ring that are looked at: two crossings nearer to each other than a tenth of its width count as none."""
_HALVINGS = 20
_FLAT = 1e-6
"""Share of its area below which the picture of a disc counts as a line, which encloses nothing."""


def over_facts(piece: PieceWeave) -> list[tuple[int, int]]:
    """Node that lies over, node that lies under, for every such relation of the text."""
    found = []
    for relation in piece.relations:
        for other in relation.others:
            if relation.kind is RelationKind.OVER:
                found.append((relation.node, other))
            elif relation.kind is RelationKind.UNDER:
                found.append((other, relation.node))
    return found


def heights_over(upper: Loop, lower: Loop) -> list[float]:
    """How far the first ring's core is nearer to the eye than the second's, wherever they cross in the picture."""
    (ux, uy, uz), (vx, vy, vz) = lower.along, lower.across
    area = ux * vy - uy * vx
    if abs(area) < _FLAT * (math.hypot(ux, uy, uz) * math.hypot(vx, vy, vz)):
        return []

    def within(angle: float) -> tuple[float, float, float]:
        """The point in the lower ring's own coordinates, 1 at its core, and its depth."""
        x, y, z = upper.at(angle)
        x, y = x - lower.centre[0], y - lower.centre[1]
        return (x * vy - y * vx) / area, (ux * y - uy * x) / area, z

    def outside(angle: float) -> float:
        u, v, _ = within(angle)
        return u * u + v * v - 1.0

    angles = [2 * math.pi * step / _SAMPLES for step in range(_SAMPLES + 1)]
    values = [outside(angle) for angle in angles]
    found = []
    for step in range(_SAMPLES):
        low, high = angles[step], angles[step + 1]
        inside_first = values[step] <= 0
        if inside_first == (values[step + 1] <= 0):
            continue
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if (outside(middle) <= 0) == inside_first:
                low = middle
            else:
                high = middle
        u, v, depth = within((low + high) / 2)
        found.append(depth - lower.at(math.atan2(v, u))[2])
    return found
