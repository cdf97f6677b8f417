"""A start for chains with folds: pairs that pass through the gap of two companions.

In: a problem with `between` facts and its model, one body per ring. Out: places and normals. Where the pair r
lies between the rings of the pair p, all four stand in one stack, r a little ahead; the pair q that is linked
with both wraps the stack, one ring on either side. A pair that is linked plainly stands a quarter turn
further along the chain.
"""

import numpy as np

from compiler.layout import LayoutProblem
from compiler.settle.model import Model
from compiler.settle.relax import Pose, Template
from compiler.settle.vectors import unit

_AHEAD = 0.9  # of a core radius, from p to r
_PLAIN = 1.6  # of a core radius, from a pair to the next plain one
_ASIDE = 0.85  # of a core radius, from the axis to a folded ring
_THIN = 0.15  # share of the wire for which the stack is laid out


def folded_start(problem: LayoutProblem, model: Model) -> tuple[Pose, Template]:
    """The pose and the template of a chain with folds."""
    strand_of = _strands(problem)
    members: dict[int, list[int]] = {}
    for ring, strand in enumerate(strand_of):
        members.setdefault(strand, []).append(ring)
    beside: dict[int, list[int]] = {strand: [] for strand in members}
    for pair in problem.pairs:
        a, b = strand_of[pair.a], strand_of[pair.b]
        if a != b and b not in beside[a]:
            beside[a].append(b)
            beside[b].append(a)
    outer = {strand_of[fact.ring]: strand_of[fact.first] for fact in problem.between}
    folded = {
        q: (p, r) for r, p in outer.items() for q in sorted(beside[p]) if q in beside[r] and q not in (p, r)
    }
    along, quarter, depth = _chain(members, beside, outer, folded, model)
    place, normal = np.zeros((3, model.bodies)), np.zeros((3, model.bodies))
    for strand, rings in members.items():
        flat_axis, up_axis = (1, 2) if quarter[strand] % 2 == 0 else (2, 1)
        for number, ring in enumerate(rings):
            side = number - (len(rings) - 1) / 2
            core, wire = model.core[ring], 2 * model.tube[ring] * _THIN
            place[0, ring] = along[strand]
            if strand in folded:
                place[up_axis, ring] = 2 * side * _ASIDE * core
                normal[0, ring] = 1.0
            else:
                place[flat_axis, ring] = side * wire * (1.2 + 2 * depth[strand])
                normal[flat_axis, ring] = 1.0
                if depth[strand]:
                    normal[0, ring] = -2 * side * wire * 1.5 / core  # closed where it lies within, open ahead
    middle = place.sum(axis=1)[:, None] / model.bodies
    place -= middle
    normal = unit(normal)
    template = Template(place=place.copy(), normal=normal, weight=np.zeros(model.bodies))
    return Pose(place=place, normal=normal), template


def _strands(problem: LayoutProblem) -> list[int]:
    """The strand number of each ring; a lone ring is a strand of its own."""
    out = [-1] * len(problem.rings)
    for number, strand in enumerate(problem.strands):
        for ring in strand:
            out[ring] = number
    following = len(problem.strands)
    for ring, strand_number in enumerate(out):
        if strand_number < 0:
            out[ring] = following
            following += 1
    return out


def _chain(
    members: dict[int, list[int]],
    beside: dict[int, list[int]],
    outer: dict[int, int],
    folded: dict[int, tuple[int, int]],
    model: Model,
) -> tuple[dict[int, float], dict[int, int], dict[int, int]]:
    """Place along the chain (mm), quarter turns and depth in the stack (1 outside, 0 within) of each strand."""
    first = min(members, key=lambda strand: members[strand][0])
    along, quarter = {first: 0.0}, {first: 0}
    depth = {strand: int(strand in outer.values()) for strand in members}
    queue = [first]
    for strand in queue:
        core = float(model.core[members[strand][0]])
        for other in sorted(beside[strand], key=lambda item: members[item][0]):
            if other in along:
                continue
            if other in folded and folded[other][0] == strand:
                inner = folded[other][1]
                along[other], quarter[other] = along[strand] + _AHEAD * core / 2, quarter[strand]
                along[inner], quarter[inner] = along[strand] + _AHEAD * core, quarter[strand]
                queue += [other, inner]
            else:
                along[other], quarter[other] = along[strand] + _PLAIN * core, quarter[strand] + 1
                queue.append(other)
    for strand in members:
        along.setdefault(strand, 0.0)
        quarter.setdefault(strand, 0)
    return along, quarter, depth
