"""The flat shape of a weave: its graph of bodies laid out in the plane, or the places that were hinted.

In: a problem and its model. Out: places (3, m), mm.
"""

import numpy as np

from compiler.layout import HintUnit, LayoutProblem
from compiler.settle.drawing import Graph, draw_graph
from compiler.settle.model import Model
from compiler.settle.vectors import Bools, Floats, total

SPACING = 0.8  # length of an edge in sums of core radii, near that of a piece pulled taut


def _trimmed(place: Floats, model: Model) -> Floats:
    """The places centred; axes along which the piece is thin are exactly zero."""
    place = place - np.array([[total(row) / max(model.bodies, 1)] for row in place])
    thin = 0.3 * float(model.size.max())
    for axis in range(3):
        if np.abs(place[axis]).max() < thin:
            place[axis] = 0.0
    return place


def straight_joints(model: Model) -> Bools:
    """Which bodies (m,) only ever join two others, so that the line through them is straight.

    Told by size: of the bodies of that size none has more than two neighbours, while another size has.
    """
    degree = np.bincount(np.concatenate([model.edge_a, model.edge_b]), minlength=model.bodies)
    busiest: dict[float, int] = {}
    for size, number in zip(model.size.tolist(), degree.tolist(), strict=True):
        busiest[size] = max(busiest.get(size, 0), number)
    if max(busiest.values()) <= 2:
        return np.zeros(model.bodies, dtype=bool)
    return np.array([busiest[size] <= 2 for size in model.size.tolist()])


def parts(model: Model) -> list[list[int]]:
    """The bodies of each part that hangs together by links, in order."""
    around: list[list[int]] = [[] for _ in range(model.bodies)]
    for a, b in zip(model.edge_a.tolist(), model.edge_b.tolist(), strict=True):
        around[a].append(b)
        around[b].append(a)
    seen = [False] * model.bodies
    out = []
    for root in range(model.bodies):
        if seen[root]:
            continue
        seen[root] = True
        queue = [root]
        for node in queue:
            for other in around[node]:
                if not seen[other]:
                    seen[other] = True
                    queue.append(other)
        out.append(sorted(queue))
    return out


def hinted_places(problem: LayoutProblem, model: Model) -> Floats | None:
    """The hinted places (3, m), if every body has one; a lattice step is scaled so that linked rings overlap.

    Centred; axes along which the piece is thin are exactly zero.
    """
    sums, counts = np.zeros((3, model.bodies)), np.zeros(model.bodies)
    for hint in problem.hints:
        if hint.place is not None:
            body = int(model.body[hint.ring])
            sums[:, body] += hint.place
            counts[body] += 1
    if not counts.all():
        return None
    place: Floats = sums / counts
    if problem.hint_unit is HintUnit.MILLIMETRE or not model.edge_a.size:
        return _trimmed(place, model)
    gap = place[:, model.edge_b] - place[:, model.edge_a]
    steps = np.sqrt(gap[0] ** 2 + gap[1] ** 2 + gap[2] ** 2)
    wanted = SPACING * (model.size[model.edge_a] + model.size[model.edge_b])
    return _trimmed(place * (total(wanted) / max(total(steps), 1e-9)), model)


def edge_lengths(model: Model) -> Floats:
    """How long the edges (e,) of the graph of bodies are drawn, mm."""
    return SPACING * (model.size[model.edge_a] + model.size[model.edge_b])


def drawn_places(model: Model) -> Floats:
    """A planar drawing (3, m) of the graph of bodies, its parts one below the other; centred."""
    place = np.zeros((3, model.bodies))
    joint = straight_joints(model)
    lengths = edge_lengths(model)
    number = np.full(model.bodies, -1, dtype=np.int64)
    part_of = np.full(model.bodies, -1, dtype=np.int64)
    found = parts(model)
    for index, members in enumerate(found):
        part_of[members] = index
        number[members] = np.arange(len(members))
    below = 0.0
    room = 1.5 * float(model.size.max())
    for index, members in enumerate(found):
        mine = part_of[model.edge_a] == index
        graph = Graph(
            count=len(members),
            edge_a=number[model.edge_a[mine]],
            edge_b=number[model.edge_b[mine]],
            lengths=lengths[mine],
            joint=joint[members],
        )
        plane = draw_graph(graph)
        top, bottom = float(plane[1].max()), float(plane[1].min())
        place[0, members] = plane[0]
        place[1, members] = plane[1] - top - below - room
        below += top - bottom + 2 * room
    return _trimmed(place, model)
