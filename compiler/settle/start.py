"""Starts of the search: a template, and the normals that the neighbours of each body ask for.

In: a problem and its model. Out: a few `Start`s, most promising first; the same ones every time. Rings whose
neighbours spread in the plane lie flat, rings whose neighbours lie on a line stand across it, flat neighbours
lean.
"""

import math
from dataclasses import dataclass

import numpy as np

from compiler.layout import LayoutProblem
from compiler.settle.folds import folded_start
from compiler.settle.model import AROUND, INSIDE, Model
from compiler.settle.relax import Pose, Template
from compiler.settle.template import build_template, parts, straight_joints
from compiler.settle.vectors import Bools, Floats, Ints, total, unit

_CLUSTER = 4.0  # in core radii, half the extent of a piece that may be one propeller
_NARROW = 2.5  # in core radii, half the width of a piece that may be one line
_LEAN = 0.45  # tangent of the lean of flat rings that are linked with flat rings


@dataclass(slots=True, kw_only=True)
class Start:
    """Where a search begins."""

    pose: Pose
    template: Template


def build_starts(problem: LayoutProblem, model: Model) -> list[Start]:
    """The starts, most promising first."""
    if problem.between and model.bodies == len(problem.rings):
        pose, template = folded_start(problem, model)
        return [Start(pose=pose, template=template)]
    place = build_template(problem, model)
    starts = _plain_starts(problem, model, place)
    for start in starts:
        _set_collars(model, start)
    return starts


def _plain_starts(problem: LayoutProblem, model: Model, place: Floats) -> list[Start]:
    """The starts as if every declared pair were linked."""
    hinted = _hinted_normals(problem, model)
    starts = []
    spread = _spreads(model, place)
    around = neighbours(model)
    flat = np.zeros((3, model.bodies))
    flat[2] = 1.0
    if hinted is not None:
        starts.append(_start(place, hinted, flat, np.full(model.bodies, 0.3)))
    extent = np.abs(place).max(axis=1) / float(model.size.max())
    if not spread.any():
        starts.append(_standing(model, place, around))
        starts += [_start(place, normal, normal, np.zeros(model.bodies)) for normal in _turning(model, place)]
        return starts
    standing = _across(model, place, around)
    joint = straight_joints(model)
    lies = spread
    if (spread & ~joint).any():
        # a ring at the end of a row lies as the other rings of its size do
        busy = {float(size) for size in model.size[spread & ~joint]}
        mostly = {size for size in busy if 2 * spread[model.size == size].sum() > (model.size == size).sum()}
        lies = ~joint & (spread | np.array([float(size) in mostly for size in model.size]))
    base = np.where(_even_from(lies, around), flat, standing)
    leaning, colour = _two_colours(model, lies)
    wish = np.where(lies & leaning, 0.3, 1.0)
    if not leaning.any():
        starts.append(_start(place, base, base, wish))
        return starts
    if colour is not None:
        for along in _lean_directions(model, place, lies):
            tilt = np.where(lies, np.where(colour == 0, 1.0, -1.0), 0.0) * _LEAN
            normal = base + np.stack([along[0] * tilt, along[1] * tilt, np.zeros(model.bodies)])
            starts.append(_start(place, unit(normal), base, wish))
    if max(extent) > _CLUSTER:
        return starts + _line_starts(model, place, extent)
    size = max(math.sqrt(total(place**2) / model.bodies), 1e-9)
    for hand in (1.0, -1.0):  # a propeller: every link of the same sign
        normal = base + hand * _LEAN * np.stack([-place[1], place[0], np.zeros(model.bodies)]) / size * lies
        starts.append(_start(0.5 * place, unit(normal), base, 0.3 * wish))
    return starts + _line_starts(model, place, extent)


def _line_starts(model: Model, place: Floats, extent: Floats) -> list[Start]:
    """Screws along x, for what is not wide."""
    if extent[1] > _NARROW:
        return []
    line = place.copy()
    line[1] = 0.0
    return [_start(line, normal, normal, np.zeros(model.bodies)) for normal in _turning(model, line)]


def _set_collars(model: Model, start: Start) -> None:
    """Put each body that is around others in the middle of them, across the line from one to the other."""
    inner: dict[int, list[int]] = {}
    for a, b, code in zip(model.pair_a.tolist(), model.pair_b.tolist(), model.wanted.tolist(), strict=True):
        if code in (AROUND, INSIDE):
            outside, inside = (a, b) if code == AROUND else (b, a)
            inner.setdefault(int(model.body[outside]), []).append(int(model.body[inside]))
    for body, others in inner.items():
        if set(others) & set(inner):
            continue  # collars round collars keep the drawn place
        for place in (start.pose.place, start.template.place):
            place[:, body] = place[:, others].sum(axis=1) / len(others)
        along = start.pose.place[:, others[-1]] - start.pose.place[:, others[0]]
        if np.abs(along).max() > 0:
            for normal in (start.pose.normal, start.template.normal):
                normal[:, body] = unit(along[:, None])[:, 0]
            start.template.weight[body] = 1.0


def neighbours(model: Model) -> list[list[int]]:
    """The bodies that each body is linked with, in order."""
    out: list[list[int]] = [[] for _ in range(model.bodies)]
    for a, b in zip(model.edge_a.tolist(), model.edge_b.tolist(), strict=True):
        out[a].append(b)
        out[b].append(a)
    return out


def _start(place: Floats, normal: Floats, wished: Floats, weight: Floats) -> Start:
    return Start(
        pose=Pose(place=place.copy(), normal=unit(normal)),
        template=Template(place=place.copy(), normal=unit(wished), weight=weight),
    )


def _hinted_normals(problem: LayoutProblem, model: Model) -> Floats | None:
    normal = np.zeros((3, model.bodies))
    for hint in problem.hints:
        if hint.normal is not None:
            normal[:, int(model.body[hint.ring])] += hint.normal
    return unit(normal) if (np.abs(normal).max(axis=0) > 0).all() else None


def _spreads(model: Model, place: Floats) -> Bools:
    """Which bodies (m,) have neighbours in directions that span the plane."""
    a, b = model.edge_a, model.edge_b
    step = unit(place[:, b] - place[:, a])
    sums = np.zeros((3, model.bodies))
    for row, values in enumerate((step[0] ** 2, step[1] ** 2, step[0] * step[1])):
        sums[row] = np.bincount(a, weights=values, minlength=model.bodies)
        sums[row] += np.bincount(b, weights=values, minlength=model.bodies)
    half = (sums[0] + sums[1]) / 2
    swing = np.sqrt(((sums[0] - sums[1]) / 2) ** 2 + sums[2] ** 2)
    spread: Bools = (half - swing) > 0.1 * np.maximum(half + swing, 1e-9)
    return spread


def _across(model: Model, place: Floats, around: list[list[int]]) -> Floats:
    """Normals (3, m) in the plane, across the main direction of each body's neighbours."""
    out = np.zeros((3, model.bodies))
    out[1] = 1.0
    for node, others in enumerate(around):
        if others:
            x = [float(place[0, other] - place[0, node]) for other in others]
            y = [float(place[1, other] - place[1, node]) for other in others]
            xx = math.fsum(u * u for u in x)
            yy = math.fsum(v * v for v in y)
            xy = math.fsum(u * v for u, v in zip(x, y, strict=True))
            angle = 0.5 * math.atan2(2 * xy, xx - yy)
            out[:, node] = (-math.sin(angle), math.cos(angle), 0.0)
    return out


def _even_from(sources: Bools, around: list[list[int]]) -> Bools:
    """Whether the nearest flat body is an even number of links away; (m,)."""
    steps = np.full(len(around), -1, dtype=np.int64)
    queue = [int(node) for node in np.nonzero(sources)[0]]
    steps[queue] = 0
    for node in queue:
        for other in around[node]:
            if steps[other] < 0:
                steps[other] = steps[node] + 1
                queue.append(other)
    even: Bools = steps % 2 == 0
    return even


def _standing(model: Model, place: Floats, around: list[list[int]]) -> Start:
    """A chain: alternately flat and standing."""
    first = np.zeros(model.bodies, dtype=bool)
    first[[members[0] for members in parts(model)]] = True
    flat = np.zeros((3, model.bodies))
    flat[2] = 1.0
    normal = np.where(_even_from(first, around), flat, _across(model, place, around))
    return _start(place, normal, normal, np.ones(model.bodies))


def _turning(model: Model, place: Floats) -> list[Floats]:
    """Normals (3, m) of rings that follow each other along x like the blades of a screw."""
    order = np.argsort(place[0], kind="stable")
    out = []
    for slope in (0.9, 0.5):
        for degrees in (60, -60, 120, -120, 90, -90, 30, -30, 150, -150, 180):
            normal = np.zeros((3, model.bodies))
            for turn, node in enumerate(order):
                angle = math.radians(degrees) * turn
                normal[:, node] = (1.0, math.cos(angle) * slope, math.sin(angle) * slope)
            out.append(unit(normal))
    return out


def _two_colours(model: Model, lies: Bools) -> tuple[Bools, Ints | None]:
    """Which flat bodies have flat neighbours, and a colour 0 or 1 for each such that neighbours differ, if any."""
    flat = [
        (a, b)
        for a, b in zip(model.edge_a.tolist(), model.edge_b.tolist(), strict=True)
        if lies[a] and lies[b]
    ]
    leaning = np.zeros(model.bodies, dtype=bool)
    beside: list[list[int]] = [[] for _ in range(model.bodies)]
    for a, b in flat:
        leaning[[a, b]] = True
        beside[a].append(b)
        beside[b].append(a)
    colour = np.full(model.bodies, -1, dtype=np.int64)
    for root in range(model.bodies):
        if colour[root] >= 0:
            continue
        colour[root] = 0
        queue = [root]
        for node in queue:
            for other in beside[node]:
                if colour[other] < 0:
                    colour[other] = 1 - colour[node]
                    queue.append(other)
                elif colour[other] == colour[node]:
                    return leaning, None
    return leaning, colour


def _lean_directions(model: Model, place: Floats, lies: Bools) -> list[tuple[float, float]]:
    """Directions in the plane that are as little as possible in line with the normals of links between flat bodies."""
    keep = lies[model.edge_a] & lies[model.edge_b]
    step = unit(place[:, model.edge_b[keep]] - place[:, model.edge_a[keep]])
    ranked = []
    for number in range(12):
        angle = math.pi * number / 12
        along = (math.cos(angle), math.sin(angle))
        strength = np.sort(np.abs(along[1] * step[0] - along[0] * step[1]))
        ranked.append((-round(float(strength[strength.size // 10]), 6), number, along))
    ranked.sort()
    return [ranked[0][2], ranked[1][2]]
