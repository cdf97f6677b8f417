"""The flat shape of a weave: its graph of bodies laid out in the plane, or the places that were hinted.

In: a problem and its model. Out: places (3, m) in mm. Without hints the graph is drawn by stress majorisation
(Gansner, Koren and North, "Graph drawing by stress majorization", 2004; the localised form), from the
classical scaling of its distances, and then made regular: equal steps along edges, short loops as regular
polygons.
"""

import heapq
import math

import numpy as np

from compiler.layout import HintUnit, LayoutProblem
from compiler.settle.model import Model
from compiler.settle.vectors import Floats, Ints, scatter, total

_SPACING = 0.8  # length of an edge in sums of core radii, near that of a piece pulled taut
_SWEEPS = 150
_POLISH = 800
_MOST_DENSE = 1200  # bodies; above this the distances of all pairs would not fit the budget


def build_template(problem: LayoutProblem, model: Model) -> Floats:
    """Centred places (3, m) of the bodies; axes along which the piece is thin are exactly zero."""
    hinted = _hinted_places(problem, model)
    place: Floats = _drawn_places(model) if hinted is None else hinted
    place -= np.array([[total(row) / max(model.bodies, 1)] for row in place])
    thin = 0.3 * float(model.size.max())
    for axis in range(3):
        if np.abs(place[axis]).max() < thin:
            place[axis] = 0.0
    return place


def _hinted_places(problem: LayoutProblem, model: Model) -> Floats | None:
    """The hinted places, if every body has one; a lattice step is scaled so that linked rings overlap well."""
    sums, counts = np.zeros((3, model.bodies)), np.zeros(model.bodies)
    for hint in problem.hints:
        if hint.place is not None:
            body = int(model.body[hint.ring])
            sums[:, body] += hint.place
            counts[body] += 1
    if not counts.all():
        return None
    place = sums / counts
    if problem.hint_unit is HintUnit.MILLIMETRE or not model.edge_a.size:
        return place
    gap = place[:, model.edge_b] - place[:, model.edge_a]
    steps = np.sqrt(gap[0] ** 2 + gap[1] ** 2 + gap[2] ** 2)
    wanted = _SPACING * (model.size[model.edge_a] + model.size[model.edge_b])
    return place * (total(wanted) / max(total(steps), 1e-9))


def _drawn_places(model: Model) -> Floats:
    """A planar drawing of the graph of bodies, long axis along x."""
    count = model.bodies
    place = np.zeros((3, count))
    if count == 1 or not model.edge_a.size:
        place[0] = np.arange(count) * 2.5 * float(model.size.max())
        return place
    lengths = _SPACING * (model.size[model.edge_a] + model.size[model.edge_b])
    distance = _graph_distances(count, model.edge_a, model.edge_b, lengths)
    plane = _classical_scaling(distance)
    weight = 1 / np.maximum(distance, 1e-9) ** 2
    np.fill_diagonal(weight, 0)
    row_weight = weight.sum(axis=1)
    for _ in range(_SWEEPS):
        dx, dy = plane[0][:, None] - plane[0][None, :], plane[1][:, None] - plane[1][None, :]
        ratio = weight * distance / np.maximum(np.sqrt(dx * dx + dy * dy), 1e-6)
        pull_x = (weight * plane[0][None, :] + ratio * dx).sum(axis=1) / row_weight
        pull_y = (weight * plane[1][None, :] + ratio * dy).sum(axis=1) / row_weight
        plane = 0.3 * plane + 0.7 * np.stack([pull_x, pull_y])
    place[:2] = _along_axes(_regular(plane, model, lengths), model)
    return place


def _graph_distances(count: int, edge_a: Ints, edge_b: Ints, lengths: Floats) -> Floats:
    """Shortest paths (m, m), mm (Dijkstra); parts that do not hang together lie a little farther than the widest."""
    around: list[list[tuple[int, float]]] = [[] for _ in range(count)]
    for a, b, step in zip(edge_a.tolist(), edge_b.tolist(), lengths.tolist(), strict=True):
        around[a].append((b, step))
        around[b].append((a, step))
    out = np.full((count, count), np.inf)
    for start in range(count):
        best = {start: 0.0}
        queue = [(0.0, start)]
        done = [False] * count
        while queue:
            reached, node = heapq.heappop(queue)
            if done[node]:
                continue
            done[node] = True
            out[start, node] = reached
            for other, step in around[node]:
                if reached + step < best.get(other, math.inf):
                    best[other] = reached + step
                    heapq.heappush(queue, (reached + step, other))
    finite = np.isfinite(out)
    out[~finite] = 1.5 * out[finite].max() + float(lengths.max())
    return out


def _classical_scaling(distance: Floats) -> Floats:
    """Places (2, m) from the two largest principal axes of the doubly centred squared distances (Torgerson)."""
    count = distance.shape[0]
    squared = distance**2
    mean = squared.sum(axis=1) / count
    gram = -0.5 * (squared - mean[:, None] - mean[None, :] + total(mean) / count)
    axes: list[Floats] = []
    for number in range(2):
        vector = np.array([math.cos((number + 1.3) * (k + 0.7) * 1.7) for k in range(count)])
        value = 0.0
        for _ in range(120):
            for axis in axes:
                vector = vector - axis * (total(axis * vector) / total(axis * axis))
            image = (gram * vector[None, :]).sum(axis=1)
            value = math.sqrt(max(total(image * image), 1e-12))
            vector = image / value
        axes.append(vector * math.sqrt(value))
    return np.stack(axes)


def _regular(plane: Floats, model: Model, lengths: Floats) -> Floats:
    """The drawing after springs along edges, across the straight joints and across short loops have settled."""
    springs = _springs(model, lengths)
    a = np.array([s[0] for s in springs], dtype=np.int64)
    b = np.array([s[1] for s in springs], dtype=np.int64)
    rest, weight = np.array([s[2] for s in springs]), np.array([s[3] for s in springs])
    stiffness = np.bincount(
        np.concatenate([a, b]), weights=np.concatenate([weight, weight]), minlength=plane.shape[1]
    )
    drift = np.zeros_like(plane)
    for _ in range(_POLISH):
        gap = plane[:, b] - plane[:, a]
        size = np.maximum(np.sqrt(gap[0] ** 2 + gap[1] ** 2), 1e-6)
        force = gap * ((rest - size) / size * weight)
        pull = scatter(b, force, plane.shape[1]) - scatter(a, force, plane.shape[1])
        drift = 0.9 * drift + 0.4 * pull / np.maximum(stiffness, 1e-9)
        plane = plane + drift
    return plane


def _springs(model: Model, lengths: Floats) -> list[tuple[int, int, float, float]]:
    """(body, body, rest length, weight): edges, the chords of short loops, and the ends of straight joints."""
    edge = {}
    around: list[list[int]] = [[] for _ in range(model.bodies)]
    out = []
    for a, b, step in zip(model.edge_a.tolist(), model.edge_b.tolist(), lengths.tolist(), strict=True):
        edge[a, b] = edge[b, a] = step
        around[a].append(b)
        around[b].append(a)
        out.append((a, b, step, 1.0))
    joint = straight_joints(model)
    hubs = [node for node in range(model.bodies) if not joint[node]]
    lines: dict[tuple[int, int], float] = {}
    beside: dict[int, list[int]] = {hub: [] for hub in hubs}
    for hub in hubs:
        for first in around[hub]:
            before, node, size = hub, first, edge[hub, first]
            while joint[node] and len(around[node]) == 2:
                following = around[node][0] if around[node][1] == before else around[node][1]
                size += edge[node, following]
                before, node = node, following
            if node != hub and not joint[node] and (hub, node) not in lines:
                lines[hub, node] = size
                beside[hub].append(node)
    for node in range(model.bodies):
        if joint[node] and len(around[node]) == 2:
            a, b = sorted(around[node])
            out.append((a, b, edge[node, a] + edge[node, b], 1.0))
    out += [(a, b, size, 1.0) for (a, b), size in lines.items() if a < b and (a, b) not in edge]
    # across a loop of four hubs lies the diagonal of a square
    seen = set()
    for a in hubs:
        for b in beside[a]:
            for c in beside[b]:
                if c <= a or (a, c) in lines or (a, c) in seen:
                    continue
                shared = [d for d in beside[a] if d != b and (d, c) in lines and (b, d) not in lines]
                if shared and len([d for d in beside[a] if (d, c) in lines]) == 2:
                    seen.add((a, c))
                    sides = lines[a, b] ** 2 + lines[b, c] ** 2
                    out.append((a, c, math.sqrt(sides), 0.7))
    return out


def straight_joints(model: Model) -> list[bool]:
    """Which bodies only ever join two others, so that the line through them is straight.

    Told by kind: of the bodies of that size none has more than two neighbours, while another size has.
    """
    degree = np.bincount(np.concatenate([model.edge_a, model.edge_b]), minlength=model.bodies)
    busiest: dict[float, int] = {}
    for size, number in zip(model.size.tolist(), degree.tolist(), strict=True):
        busiest[size] = max(busiest.get(size, 0), number)
    if max(busiest.values()) <= 2:
        return [False] * model.bodies
    return [busiest[size] <= 2 for size in model.size.tolist()]


def _along_axes(plane: Floats, model: Model) -> Floats:
    """The drawing turned so that its longest extent lies along x, or an edge where it is as long as wide."""
    x, y = (row - total(row) / row.size for row in plane)
    across, longer = 2 * total(x * y), total(x * x) - total(y * y)
    if math.hypot(across, longer) < 0.05 * (total(x * x) + total(y * y)):
        a, b = int(model.edge_a[0]), int(model.edge_b[0])
        angle = math.atan2(y[b] - y[a], x[b] - x[a])
    else:
        angle = 0.5 * math.atan2(across, longer)
    c, s = math.cos(angle), math.sin(angle)
    return np.stack([c * x + s * y, c * y - s * x])
