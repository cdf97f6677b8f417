"""What stays fixed while a layout is searched: sizes, bodies, wanted states, the flat template.

In: a `LayoutProblem`. Out: a `Model` of arrays. A *body* is what moves as one rigid piece: a strand whose
rings lie side by side on one axis, or a single ring.
"""

from dataclasses import dataclass

import numpy as np

from compiler.layout import LayoutProblem, PairState
from compiler.settle.vectors import Floats, Ints

APART, PLUS, MINUS, LINKED, AROUND, INSIDE = range(
    6
)  # wanted state of a pair a < b; signs where they are chosen
TWIN_ROOM = 1.02  # companions lie this many wire diameters apart

_CODES = {
    PairState.APART: APART,
    PairState.LINKED: LINKED,
    PairState.A_AROUND_B: AROUND,
    PairState.B_AROUND_A: INSIDE,
}


@dataclass(slots=True, kw_only=True)
class Model:
    """The fixed part of the search, as arrays over rings (n), bodies (m) and declared pairs (p)."""

    core: Floats  # (n,), mm
    tube: Floats  # (n,), mm, the true wire
    body: Ints  # (n,), the body that each ring belongs to
    aside: Floats  # (n,), mm along the body's normal at the true wire
    size: Floats  # (m,), mm, core radius of the body's rings
    pair_a: Ints  # (p,), ring
    pair_b: Ints  # (p,), ring, greater than pair_a
    wanted: Ints  # (p,), code of the declared state
    edge_a: Ints  # (e,), body; each two bodies with linked rings once: the graph that is drawn
    edge_b: Ints  # (e,), body
    tie_a: Ints  # (t,), body; each two bodies with any declared pair once: what the template holds together
    tie_b: Ints  # (t,), body
    gap_ring: Ints  # (g,), ring that passes between two companions
    gap_side: Ints  # (g,), ring, one of the companions; each passage is told for both
    gap_other: Ints  # (g,), ring, the other companion

    @property
    def bodies(self) -> int:
        """How many bodies there are."""
        return int(self.size.size)


def build_model(problem: LayoutProblem, *, merge: bool = True) -> Model:
    """The model of a problem; with `merge` the companions that need no gap between them move as one body."""
    count = len(problem.rings)
    core = np.array([ring.core_radius for ring in problem.rings])
    tube = np.array([ring.tube_radius for ring in problem.rings])
    spread = {ring for fact in problem.between for ring in (fact.first, fact.second)}
    body = np.full(count, -1, dtype=np.int64)
    aside = np.zeros(count)
    groups = [
        strand
        for strand in problem.strands
        if merge and not spread.intersection(strand) and len({problem.rings[ring] for ring in strand}) == 1
    ]
    owner = {ring: group for group in groups for ring in group}
    bodies = 0
    for ring in range(count):
        if body[ring] >= 0:
            continue
        members = owner.get(ring, (ring,))
        for place, member in enumerate(members):
            body[member] = bodies
            aside[member] = (place - (len(members) - 1) / 2) * 2 * tube[member] * TWIN_ROOM
        bodies += 1
    size = np.zeros(bodies)
    np.maximum.at(size, body, core)
    ordered = sorted(
        (
            min(pair.a, pair.b),
            max(pair.a, pair.b),
            _CODES[pair.state if pair.a < pair.b else pair.state.swapped()],
        )
        for pair in problem.pairs
    )
    table = np.array(ordered, dtype=np.int64).reshape(-1, 3)
    edge_a, edge_b = _joined_bodies(body, table[table[:, 2] == LINKED])
    tie_a, tie_b = _joined_bodies(body, table)
    gaps = np.array(
        [
            row
            for fact in problem.between
            for row in ((fact.ring, fact.first, fact.second), (fact.ring, fact.second, fact.first))
        ],
        dtype=np.int64,
    ).reshape(-1, 3)
    return Model(
        core=core,
        tube=tube,
        body=body,
        aside=aside,
        size=size,
        pair_a=table[:, 0].copy(),
        pair_b=table[:, 1].copy(),
        wanted=table[:, 2].copy(),
        edge_a=edge_a,
        edge_b=edge_b,
        tie_a=tie_a,
        tie_b=tie_b,
        gap_ring=gaps[:, 0].copy(),
        gap_side=gaps[:, 1].copy(),
        gap_other=gaps[:, 2].copy(),
    )


def _joined_bodies(body: Ints, table: Ints) -> tuple[Ints, Ints]:
    """Each two different bodies that a row (ring, ring, code) of the table joins, once, in order."""
    one, other = body[table[:, 0]], body[table[:, 1]]
    count = int(body.max(initial=-1)) + 1
    keys = np.unique(np.minimum(one, other) * count + np.maximum(one, other)) if count else one
    keys = keys[keys // count != keys % count]
    return keys // count, keys % count


def neighbours(model: Model) -> list[list[int]]:
    """The bodies that each body is linked with, in order."""
    out: list[list[int]] = [[] for _ in range(model.bodies)]
    for a, b in zip(model.edge_a.tolist(), model.edge_b.tolist(), strict=True):
        out[a].append(b)
        out[b].append(a)
    return out
