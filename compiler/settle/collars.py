"""Where a start has what goes around others, and what lies caged: collars, and rings in the holes of several.

In: a model, the pose and the template of a start, which are changed. A collar goes across the line through what it is
around; one that is too small to lie about the middle of a ring goes about its rim.
"""

import math

import numpy as np

from compiler.settle.model import AROUND, INSIDE, Model, neighbours
from compiler.settle.relax import Pose, Template
from compiler.settle.vectors import Floats, dot, frames, total, unit

_ABOUT = 1.05  # wires' radii between a collar about the rim of a ring and the outside of that


def set_collars(model: Model, pose: Pose, template: Template) -> None:
    """Put each body that is around others, or caged by several, in the middle of them, across the line through them.

    A ring that nothing is linked with is put where the others are; of two that are linked, the one around the other.
    A collar that is too small to lie about a ring's middle goes about its rim, where no neighbour is.
    """
    linked = set(model.edge_a.tolist()) | set(model.edge_b.tolist())
    inner: dict[int, list[int]] = {}
    cages: dict[int, list[int]] = {}
    for a, b, code in zip(model.pair_a.tolist(), model.pair_b.tolist(), model.wanted.tolist(), strict=True):
        if code in (AROUND, INSIDE):
            outside, inside = (a, b) if code == AROUND else (b, a)
            inner.setdefault(int(model.body[outside]), []).append(int(model.body[inside]))
            cages.setdefault(int(model.body[inside]), []).append(int(model.body[outside]))
    free = {body: others for body, others in cages.items() if body not in linked and len(others) > 1}
    rims = _rims(model, pose, inner)
    for body, others in (*free.items(), *inner.items()):
        if body in inner and (set(others) & set(inner) or set(others) & set(free)):
            continue  # collars round collars keep the drawn place, and so does what is around a caged ring
        rim = rims.get(body)
        for place in (pose.place, template.place):
            place[:, body] = place[:, others].sum(axis=1) / len(others)
            if rim is not None:
                place[:, body] += rim
        along = pose.place[:, others[-1]] - pose.place[:, others[0]] if rim is None else rim
        if np.abs(along).max() > 0:
            for normal in (pose.normal, template.normal):
                normal[:, body] = unit(along[:, None])[:, 0]
            template.weight[body] = 1.0


def _rims(model: Model, pose: Pose, inner: dict[int, list[int]]) -> dict[int, Floats]:
    """For each body that goes about one ring and is no larger: how far (3,) from that ring's middle it has room."""
    out = {}
    around, wire = neighbours(model), np.zeros(model.bodies)
    np.maximum.at(wire, model.body, model.tube)
    for body, others in inner.items():
        size, other = float(model.size[body]), others[0]
        reach = float(model.size[other]) + _ABOUT * float(wire[body] + wire[other])
        if len(others) > 1 or size >= reach:
            continue
        u, v = frames(pose.normal[:, [other]])
        beside = pose.place[:, around[other]] - pose.place[:, [other]]
        p, q = dot(beside, u), dot(beside, v)
        angle = math.atan2(2 * total(p * q), total(p * p) - total(q * q)) / 2
        aside = v * math.cos(angle) - u * math.sin(angle)
        out[body] = aside[:, 0] * math.sqrt(reach**2 - size**2)
    return out
