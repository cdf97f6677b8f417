"""Starts in space, for what does not lie flat: tubes, bands, cones, and chains that close on themselves.

In: a model. Out: places and normals of its bodies. The graph is drawn in three dimensions from its distances, so a
sheet whose rows close comes out as a cylinder; each ring lies in the surface through its neighbours, or across
the line from one to the other, as in a flat sheet. A chain of overlapping rings that closes is a circle with the
rings turning about it like the blades of a screw, a whole number of turns in all.
"""

import math
from dataclasses import dataclass

import numpy as np

from compiler.settle.drawing import Graph, draw_in_space
from compiler.settle.model import Model
from compiler.settle.template import SPACING, edge_lengths
from compiler.settle.vectors import Bools, Floats, cross, dot, length, total, unit

_LEAN = 0.6  # tangent of the lean of rings that lie in the surface and are linked with one another
_FAR = 2.0  # a joint so many times as long as the middle one does not lie flat
_POWER = 80
_ROUND = 0.12  # of the radius: how far the bodies of a closed chain may lie from their circle
_SLOPES = (3.0, 0.9)
_DEGREES = (120, 60, 90, 30, 150, 180)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """A drawing in space with the frame of its surface at each body."""

    place: Floats  # (3, m), mm, centred, along its principal axes
    outward: Floats  # (3, m), unit, across the surface, on one side of it all over
    along: Floats  # (3, m), unit, in the surface, along the axis of the piece
    about: Floats  # (3, m), unit, in the surface, about the axis


def wrapped(model: Model, flat: Floats) -> Spread | None:
    """A flat drawing that is cut open, (3, m), rolled up so that its far joints close; None where it is not one.

    Far joints all have to run along the rows or all across them. Over how much the drawing is rolled up follows from
    them: what lies a whole round apart is the same place.
    """
    place = flat.copy()
    wanted = edge_lengths(model)
    far = _far(model, place)
    if not far.any():
        return None
    near = length(place[:, model.edge_b[~far]] - place[:, model.edge_a[~far]])
    place *= total(wanted[~far]) / max(total(near), 1e-9)
    gaps = np.abs(place[:, model.edge_b[far]] - place[:, model.edge_a[far]])
    rolled = 0 if total(gaps[0]) > total(gaps[1]) else 1
    _move_to_edge(model, place, far, rolled)
    far = _far(model, place)
    gaps = np.abs(place[:, model.edge_b[far]] - place[:, model.edge_a[far]])
    rest = np.sqrt(np.maximum(wanted[far] ** 2 - gaps[1 - rolled] ** 2, 0.0))
    rounds = gaps[rolled] + rest
    if not rounds.size or float(np.ptp(rounds)) > 0.2 * float(rounds.min()):
        return None
    radius = total(rounds) / rounds.size / (2 * math.pi)
    angle = place[rolled] / radius
    c, s = (np.array([turn(a) for a in angle.tolist()]) for turn in (math.cos, math.sin))
    none, one = np.zeros(model.bodies), np.ones(model.bodies)
    return Spread(
        place=np.stack([place[1 - rolled], radius * c, radius * s]),
        outward=np.stack([none, c, s]),
        along=np.stack([one, none, none]),
        about=np.stack([none, -s, c]),
    )


def _far(model: Model, place: Floats) -> Bools:
    """Which edges (e,) are much longer than most."""
    gaps = length(place[:, model.edge_b] - place[:, model.edge_a])
    shares = gaps / (model.size[model.edge_a] + model.size[model.edge_b])
    far: Bools = shares > _FAR * np.sort(shares)[shares.size // 2]
    return far


def _move_to_edge(model: Model, place: Floats, far: Bools, rolled: int) -> None:
    """What closes a tube as a seam is drawn between its two edges, far from both: it goes outside one of them."""
    near = np.bincount(np.concatenate([model.edge_a[~far], model.edge_b[~far]]), minlength=model.bodies)
    ends = np.concatenate([model.edge_a, model.edge_b]), np.concatenate([model.edge_b, model.edge_a])
    for node in np.nonzero(near == 0)[0].tolist():
        others = ends[1][ends[0] == node]
        above = others[place[rolled, others] > place[rolled, node]]
        if above.size and above.size < others.size:
            middle = place[:, above].sum(axis=1) / above.size
            long = SPACING * float(model.size[node] + model.size[above[0]])
            aside = float(place[1 - rolled, above[0]] - middle[1 - rolled])
            middle[rolled] += math.sqrt(max(long**2 - aside**2, 0.0))
            place[:, node] = middle


def spread_in_space(graph: Graph, around: list[list[int]]) -> tuple[Spread, float]:
    """The drawing of a connected graph in space, and by how much its mean square error is less than in the plane."""
    place, gain = draw_in_space(graph)
    outward = _outward(place, around)
    axis = np.zeros((3, 1))
    axis[_axis_of(place)] = 1.0
    along = axis - outward * dot(axis, outward)
    helper = np.zeros((3, 1))
    helper[(_axis_of(place) + 1) % 3] = 1.0
    spare = helper - outward * dot(helper, outward)
    along = unit(np.where(length(along) > 0.1, along, spare))
    return Spread(place=place, outward=outward, along=along, about=cross(outward, along)), gain


def _axis_of(place: Floats) -> int:
    """Number of the principal axis whose extent is most unlike those of the others: that of a tube or a band."""
    first, second, third = (total(row**2) for row in place)
    return 0 if first - second > second - third else 2


def _outward(place: Floats, around: list[list[int]]) -> Floats:
    """Normals (3, n) of the surface through each body and those up to two links away, all on the same side."""
    count = place.shape[1]
    normal = np.zeros((3, count))
    for node, others in enumerate(around):
        near = sorted({node, *others, *(far for other in others for far in around[other])})
        normal[:, node] = _least_direction(place[:, near])
    start = int(np.argmax(np.abs(dot(normal, place))))
    if float(dot(normal, place)[start]) < 0:
        normal[:, start] *= -1
    seen, queue = {start}, [start]
    for node in queue:
        for other in around[node]:
            if other not in seen:
                seen.add(other)
                queue.append(other)
                if float(dot(normal[:, [node]], normal[:, [other]])[0]) < 0:
                    normal[:, other] *= -1
    return normal


def _least_direction(points: Floats) -> Floats:
    """The direction (3,) in which points (3, k) spread least, by power iteration."""
    gaps = points - np.array([[total(row) / row.size] for row in points])
    spread = np.array([[total(one * other) for other in gaps] for one in gaps])
    flipped = np.eye(3) * (spread[0, 0] + spread[1, 1] + spread[2, 2]) - spread
    vector = np.array([0.61, 0.53, 0.59])
    for _ in range(_POWER):
        vector = (flipped * vector[None, :]).sum(axis=1)
        vector = vector / max(math.sqrt(total(vector * vector)), 1e-150)
    return vector


def surface_normals(spread: Spread, around: list[list[int]], lies: list[bool]) -> Floats:
    """Normals (3, n): in the surface for rings that lie, and for others across the line of their neighbours."""
    normal = spread.outward.copy()
    for node, others in enumerate(around):
        if not lies[node] and others:
            gaps = spread.place[:, others] - spread.place[:, [node]]
            main = _main_direction(gaps)
            across = cross(spread.outward[:, [node]], main[:, None])
            if float(length(across)[0]) > 0.1:
                normal[:, node] = unit(across)[:, 0]
    return normal


def _main_direction(gaps: Floats) -> Floats:
    """The direction (3,) along which vectors (3, k) lie, whichever way they point."""
    spread = np.array([[total(one * other) for other in gaps] for one in gaps])
    vector = gaps[:, 0].copy()
    for _ in range(_POWER):
        vector = (spread * vector[None, :]).sum(axis=1)
        vector = vector / max(math.sqrt(total(vector * vector)), 1e-150)
    return vector


def leaned(spread: Spread, normal: Floats, tilt: Floats) -> list[Floats]:
    """The normals with a lean of `tilt` (n,) about the axis of the piece, and with one along it; (3, n) each."""
    return [
        unit(normal + way * (tilt * _LEAN * dot(normal, spread.outward)))
        for way in (spread.about, spread.along)
    ]


def closed_screws(model: Model, place: Floats) -> list[Floats]:
    """Normals (3, m) of a closed chain drawn flat as a circle, if it is one: whole turns in all, either way."""
    x, y = place[0], place[1]
    radius = np.sqrt(x * x + y * y)
    mean = total(radius) / model.bodies
    if model.bodies < 8 or float(np.abs(radius - mean).max()) > _ROUND * mean:
        return []
    angle = np.array([math.atan2(v, u) for u, v in zip(x.tolist(), y.tolist(), strict=True)])
    order = np.argsort(angle, kind="stable")
    steps = np.diff(angle[order])
    if float(steps.min()) < 0.3 * 2 * math.pi / model.bodies:
        return []
    turns: dict[int, None] = {}
    for degrees in _DEGREES:
        turn = round(degrees * model.bodies / 360)
        turns.update(
            {turn: None, -turn: None, turn + 1: None, -turn - 1: None, turn - 1: None, 1 - turn: None}
        )
    out = []
    for slope in _SLOPES:
        for turn in turns:
            normal = np.zeros((3, model.bodies))
            for rank, node in enumerate(order.tolist()):
                c, s = x[node] / radius[node], y[node] / radius[node]
                blade = 2 * math.pi * turn * rank / model.bodies
                outward, up = math.cos(blade) * slope, math.sin(blade) * slope
                normal[:, node] = (-s + outward * c, c + outward * s, up)
            out.append(unit(normal))
    return out
