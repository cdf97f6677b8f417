"""Starts for scales: rings that lie over one another like shingles, held by others.

In: a problem that says what lies over what, flat places of its bodies. Out: places and normals in which it does. All
that lie over one another tilt the same way, as much as their wires need, and the drawing is drawn together until
they overlap.
"""

import numpy as np

from compiler.layout import LayoutProblem
from compiler.settle.model import Model
from compiler.settle.vectors import Floats, length, total, unit

_STEPS = (
    (0.5, 0.58),
    (0.6, 0.58),
    (0.45, 0.64),
)  # from one to the next over it, along the tilt and across, in
# sums of core radii: less than 1 in all so that they overlap, and those of one row lie side by side
_ROOM = 1.15  # times the sum of two wires' radii, from one plane to the other
_STRAIGHT = 0.1  # of the step along the tilt: they lie straight over one another, with less aside
_MOST = 1.0  # tangent of the steepest tilt


def shingled(problem: LayoutProblem, model: Model, flat: Floats, base: Floats) -> list[tuple[Floats, Floats]]:
    """Places and normals (3, m), the others with the given normals; none where nothing lies over, or not one way."""
    if not problem.overs:
        return []
    upper = model.body[[fact.upper for fact in problem.overs]]
    lower = model.body[[fact.lower for fact in problem.overs]]
    step = flat[:, upper] - flat[:, lower]
    step[2] = 0.0
    long = length(step)
    if not long.min() > 0:
        return []
    way = unit(np.array([total(row) for row in step])[:, None])
    along = way[0] * step[0] + way[1] * step[1]
    across = way[0] * step[1] - way[1] * step[0]
    if not along.min() > 0:
        return []
    wire = np.zeros(model.bodies)
    np.maximum.at(wire, model.body, model.tube)
    sizes = model.size[upper] + model.size[lower]
    lies = np.zeros(model.bodies, dtype=bool)
    lies[np.concatenate([upper, lower])] = True
    out = []
    across = np.abs(across)
    u, v = way[0] * flat[0] + way[1] * flat[1], way[0] * flat[1] - way[1] * flat[0]
    for up, aside in _STEPS:
        lengthen = up * total(sizes) / total(along)
        widen = aside * total(sizes) / total(across) if total(across) > total(along) * _STRAIGHT else lengthen
        place = flat.copy()
        place[0] = way[0] * u * lengthen - way[1] * v * widen
        place[1] = way[1] * u * lengthen + way[0] * v * widen
        tilt = min(_ROOM * total(wire[upper] + wire[lower]) / (lengthen * total(along)), _MOST)
        normal = np.where(lies, unit(np.array([[0.0], [0.0], [1.0]]) + tilt * way), base)
        out.append((place, normal))
    return out
