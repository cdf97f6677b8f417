"""A connected graph drawn in the plane with given edge lengths, as regular as it will come.

In: edges and their lengths, mm, and which nodes are joints of straight lines. Out: places (2, n). The drawing
starts from the classical scaling of the graph's distances, or of those to some pivots where the graph is
large (Brandes and Pich, "Eigensolver methods for progressive multidimensional scaling of large data", 2006),
goes through stress majorisation (Gansner, Koren and North, "Graph drawing by stress majorization", 2004, the
localised form) and is then made regular by springs: equal edges, squares across loops of four, straight lines
through joints and cut points. Papers cited from memory.
"""

import heapq
import math
from dataclasses import dataclass

import numpy as np

from compiler.settle.vectors import Bools, Floats, Ints, scatter, total

_DENSE = 700  # nodes; above this only distances to pivots are used
_PIVOTS = 60
_SWEEPS = 150
_POLISH = 800
_POWER = 120
_AXES = 5
# shares of the second and later axes in y: parts that hang in a row each have an axis of their own
_MIXES = ((1.0,), (1.0, 1.0, 1.0, 1.0), (0.0, 1.0), (1.0, -1.0, 1.0, -1.0), (1.0, 1.0, -1.0, -1.0))
_HINGE = 0.15  # weight of the springs that straighten the drawing at a cut point


@dataclass(frozen=True, slots=True, kw_only=True)
class Graph:
    """A connected graph to be drawn."""

    count: int
    edge_a: Ints  # (e,)
    edge_b: Ints  # (e,)
    lengths: Floats  # (e,), mm
    joint: Bools  # (n,), nodes that only join two others in a straight line


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spring:
    a: int
    b: int
    rest: float  # mm
    weight: float


def draw_graph(graph: Graph) -> Floats:
    """Places (2, n), mm, centred, the longest extent along x."""
    if graph.count == 1:
        return np.zeros((2, 1))
    if graph.count <= _DENSE:
        distance = _distances(graph, range(graph.count))
        axes = _principal_axes(distance, _AXES if graph.count > 3 else 2)
        drawn: list[tuple[float, int, Floats]] = []
        for number, mix in enumerate(_MIXES if graph.count > 3 else _MIXES[:1]):
            side = np.zeros(graph.count)
            for axis, share in zip(axes[1:], mix, strict=False):
                side = side + axis * share
            plane = _majorised(np.stack([axes[0], side]), distance)
            drawn.append((round(_stress(plane, distance), 6), number, plane))
            if number == 1 and drawn[0][0] == drawn[1][0]:
                break  # both came to the same drawing, so it is hardly a folded one
        plane = _regular(min(drawn, key=lambda item: item[:2])[2], graph)
    else:
        plane = _regular(_principal_axes(_distances(graph, _pivots(graph)), 2), graph)
    return _along_axes(plane, graph)


def draw_in_space(graph: Graph) -> tuple[Floats, float]:
    """Places (3, n), mm, centred, along their principal axes, and how much less their stress is than in the plane.

    For graphs of a few hundred nodes: every distance takes part.
    """
    distance = _distances(graph, range(graph.count))
    axes = _principal_axes(distance, 3)
    plane, space = _majorised(axes[:2], distance), _majorised(axes, distance)
    gain = _stress(plane, distance) - _stress(space, distance)
    return space - np.array([[total(row) / row.size] for row in space]), gain


def _neighbours(graph: Graph) -> list[list[tuple[int, float]]]:
    around: list[list[tuple[int, float]]] = [[] for _ in range(graph.count)]
    for a, b, step in zip(graph.edge_a.tolist(), graph.edge_b.tolist(), graph.lengths.tolist(), strict=True):
        around[a].append((b, step))
        around[b].append((a, step))
    return around


def _from_one(around: list[list[tuple[int, float]]], start: int) -> list[float]:
    """Lengths of the shortest paths from one node (Dijkstra)."""
    best = [math.inf] * len(around)
    best[start] = 0.0
    queue = [(0.0, start)]
    while queue:
        reached, node = heapq.heappop(queue)
        if reached > best[node]:
            continue
        for other, step in around[node]:
            if reached + step < best[other]:
                best[other] = reached + step
                heapq.heappush(queue, (reached + step, other))
    return best


def _distances(graph: Graph, sources: range | list[int]) -> Floats:
    """Lengths (n, s) of the shortest paths to the sources, mm."""
    around = _neighbours(graph)
    return np.array([_from_one(around, source) for source in sources]).T


def _pivots(graph: Graph) -> list[int]:
    """Nodes spread over the graph, each the farthest from those before."""
    around = _neighbours(graph)
    out, nearest = [0], _from_one(around, 0)
    while len(out) < _PIVOTS:
        out.append(max(range(graph.count), key=lambda node: (nearest[node], -node)))
        nearest = [min(pair) for pair in zip(nearest, _from_one(around, out[-1]), strict=True)]
    return out


def _principal_axes(distance: Floats, number_of_axes: int) -> Floats:
    """Places (k, n) along the first principal axes of the doubly centred squared distances (n, s)."""
    squared = distance**2
    rows, columns = squared.sum(axis=1) / squared.shape[1], squared.sum(axis=0) / squared.shape[0]
    gram = -0.5 * (squared - rows[:, None] - columns[None, :] + total(rows) / rows.size)
    axes: list[Floats] = []
    places = []
    for number in range(number_of_axes):
        vector = np.array([math.cos((number + 1.3) * (k + 0.7) * 1.7) for k in range(gram.shape[1])])
        image = np.zeros(gram.shape[0])
        for _ in range(_POWER):
            for axis in axes:
                vector = vector - axis * total(axis * vector)
            image = (gram * vector[None, :]).sum(axis=1)
            back = (gram * image[:, None]).sum(axis=0)
            vector = back / math.sqrt(max(total(back * back), 1e-24))
        axes.append(vector)
        places.append(image / math.sqrt(max(math.sqrt(total(image * image)), 1e-12)))
    plane = np.stack(places)
    if gram.shape[0] != gram.shape[1]:  # pivots give the axes but not their scale
        plane *= math.sqrt(gram.shape[0] / gram.shape[1])
    return plane


def _stress(plane: Floats, distance: Floats) -> float:
    """Mean over all pairs of ((|p_i - p_j| - d_ij) / d_ij)^2; large where the drawing is folded over."""
    gaps = plane[:, :, None] - plane[:, None, :]
    far = distance + np.eye(distance.shape[0])
    lack = (np.sqrt((gaps * gaps).sum(axis=0)) - distance) / far
    return total(lack * lack) / float(lack.size)


def _majorised(plane: Floats, distance: Floats) -> Floats:
    """The places after damped sweeps that lower sum (|p_i - p_j| - d_ij)^2 / d_ij^2."""
    weight = 1 / np.maximum(distance, 1e-9) ** 2
    np.fill_diagonal(weight, 0)
    row_weight = weight.sum(axis=1)
    pulled = weight * distance
    for _ in range(_SWEEPS):
        gaps = plane[:, :, None] - plane[:, None, :]
        ratio = pulled / np.maximum(np.sqrt((gaps * gaps).sum(axis=0)), 1e-6)
        wanted = (weight * plane[:, None, :] + ratio * gaps).sum(axis=2) / row_weight
        plane = 0.3 * plane + 0.7 * wanted
    return plane


def _regular(plane: Floats, graph: Graph) -> Floats:
    """The drawing after its springs have settled."""
    springs = _springs(graph)
    a, b = np.array([s.a for s in springs]), np.array([s.b for s in springs])
    rest, weight = np.array([s.rest for s in springs]), np.array([s.weight for s in springs])
    stiffness = np.bincount(
        np.concatenate([a, b]), weights=np.concatenate([weight, weight]), minlength=graph.count
    )
    drift = np.zeros_like(plane)
    for _ in range(_POLISH):
        gap = plane[:, b] - plane[:, a]
        size = np.maximum(np.sqrt((gap * gap).sum(axis=0)), 1e-6)
        force = gap * ((rest - size) / size * weight)
        pull = scatter(b, force, graph.count) - scatter(a, force, graph.count)
        drift = 0.9 * drift + 0.4 * pull / np.maximum(stiffness, 1e-9)
        plane = plane + drift
    return plane


def _springs(graph: Graph) -> list[_Spring]:
    """Edges, straight lines through joints, diagonals of squares, and what straightens cut points."""
    around = _neighbours(graph)
    joint = graph.joint.tolist()
    out = [
        _Spring(a=a, b=b, rest=step, weight=1.0)
        for a, b, step in zip(
            graph.edge_a.tolist(), graph.edge_b.tolist(), graph.lengths.tolist(), strict=True
        )
    ]
    for node, others in enumerate(around):
        if joint[node] and len(others) == 2:
            (a, one), (b, other) = sorted(others)
            out.append(_Spring(a=a, b=b, rest=one + other, weight=1.0))
    lines = _lines(around, joint)
    edges = {(s.a, s.b) for s in out}
    out += [
        _Spring(a=a, b=b, rest=size, weight=1.0)
        for (a, b), size in lines.items()
        if a < b and (a, b) not in edges and (b, a) not in edges
    ]
    beside: dict[int, list[int]] = {}
    for a, b in lines:
        beside.setdefault(a, []).append(b)
    return out + _diagonals(lines, beside) + _hinges(lines, beside)


def _lines(around: list[list[tuple[int, float]]], joint: list[bool]) -> dict[tuple[int, int], float]:
    """Lengths of the lines between nodes that are no joints, straight on through joints; both ways round."""
    lines: dict[tuple[int, int], float] = {}
    for hub in range(len(around)):
        if joint[hub]:
            continue
        for first, step in around[hub]:
            before, node, size = hub, first, step
            while joint[node] and len(around[node]) == 2:
                (one, one_step), (other, other_step) = around[node]
                following, step = (one, one_step) if other == before else (other, other_step)
                before, node, size = node, following, size + step
            if node != hub and not joint[node]:
                lines.setdefault((hub, node), size)
    return lines


def _diagonals(lines: dict[tuple[int, int], float], beside: dict[int, list[int]]) -> list[_Spring]:
    """Across a loop of four lines without a shortcut lies the diagonal of a square."""
    out = []
    seen = set()
    for a, firsts in beside.items():
        for b in firsts:
            for c in beside[b]:
                if c <= a or (a, c) in lines or (a, c) in seen or (b, c) not in lines:
                    continue
                shared = [d for d in beside[a] if (d, c) in lines]
                if len(shared) == 2 and (shared[0], shared[1]) not in lines:
                    seen.add((a, c))
                    diagonal = math.hypot(lines[a, b], lines[b, c])
                    out.append(_Spring(a=a, b=c, rest=diagonal, weight=0.7))
    return out


def _hinges(lines: dict[tuple[int, int], float], beside: dict[int, list[int]]) -> list[_Spring]:
    """Where two parts hang together at one node only, their neighbours of that node push each other apart."""
    out = []
    for node, others in beside.items():
        if len(others) < 2 or len(beside) > _DENSE:
            continue
        reached = {node, others[0]}
        queue = [others[0]]
        for current in queue:
            for following in beside[current]:
                if following not in reached:
                    reached.add(following)
                    queue.append(following)
        near = [other for other in others if other in reached]
        far = [other for other in others if other not in reached]
        if not far:
            continue
        # a third part would leave no straight line
        rest = {far[0]}
        queue = [far[0]]
        for current in queue:
            for following in beside[current]:
                if following not in rest and following != node:
                    rest.add(following)
                    queue.append(following)
        if all(other in rest for other in far):
            out += [
                _Spring(a=a, b=b, rest=lines[node, a] + lines[node, b], weight=_HINGE)
                for a in near
                for b in far
            ]
    return out


def _along_axes(plane: Floats, graph: Graph) -> Floats:
    """The drawing turned so that its longest extent lies along x, or an edge where it is as long as wide."""
    x, y = (row - total(row) / row.size for row in plane)
    across, longer = 2 * total(x * y), total(x * x) - total(y * y)
    if math.hypot(across, longer) < 0.05 * (total(x * x) + total(y * y)):
        a, b = int(graph.edge_a[0]), int(graph.edge_b[0])
        angle = math.atan2(y[b] - y[a], x[b] - x[a])
    else:
        angle = 0.5 * math.atan2(across, longer)
    c, s = math.cos(angle), math.sin(angle)
    return np.stack([c * x + s * y, c * y - s * x])
