"""Starts for Persian weaves: rows of rings that lie aslant, every second row turned half a turn about the upright.

In: a problem that says what lies over what along its rows. Out: places and normals. All rings of a row are
alike, and so are every second row, so that five numbers say all: the step along a row, the shift and the step from
row to row, and the direction of a normal. A grid of these is tried for the declared states, all at once.
"""

import numpy as np

from compiler.layout import LayoutProblem, PairState
from compiler.settle.relax import Pose
from compiler.settle.vectors import Floats
from compiler.settle.ways import Ways, full_room, roomiest, ways_of

_STEPS = (1.0, 1.15, 1.3, 1.45)  # core radii from a ring to the next of its row
_SHIFTS = tuple(0.125 * k for k in range(-4, 5))  # of a step, from row to row
_ROWS = (0.5, 0.65, 0.8, 1.0)  # core radii from row to row
_TILTS = (25, 33, 40, 48)  # degrees between a normal and the upright
_WAYS = tuple(range(-180, 180, 15))  # degrees from the row to the way in which a normal tilts
_BEYOND = 3.5  # core radii beyond which rings are not looked at
_MARGIN = 0.6  # core radii beyond which it does not matter how far from each other rings lie
_GIVEN = 8


def edge_poses(problem: LayoutProblem) -> list[Pose]:
    """Places and normals (3, n) of regular Persian weaves with the declared states, those with most room first."""
    cells = _cells(problem)
    if cells is None:
        return []
    rows, columns = cells
    table = np.array(
        [
            (step, shift * step, up, tilt, way)
            for step in _STEPS
            for shift in _SHIFTS
            for up in _ROWS
            for tilt in _TILTS
            for way in _WAYS
        ],
        dtype=np.float64,
    ).T
    links = {(min(pair.a, pair.b), max(pair.a, pair.b)) for pair in problem.pairs}
    pairs = [(ring, other) for ring in _middles(rows, columns) for other in range(len(rows)) if other != ring]
    for ring, other in pairs:
        linked = (min(ring, other), max(ring, other)) in links
        table = table[:, _two(table, rows, columns, ring, other).are(linked=linked)]
        if not table.size:
            return []
    room = full_room(table.shape[1])
    for ring, other in pairs:
        two = _two(table, rows, columns, ring, other)
        if float(np.abs(two.apart()).max(axis=0).min()) <= _BEYOND:
            two.narrow(room, _MARGIN)
    core = problem.rings[0].core_radius
    out = []
    for one in roomiest(room, _GIVEN):
        rings = [
            _ring(table[:, one : one + 1], row, column) for row, column in zip(rows, columns, strict=True)
        ]
        place = core * np.concatenate([centre for centre, _ in rings], axis=1)
        place -= (place.max(axis=1) + place.min(axis=1))[:, None] / 2
        out.append(Pose(place=place, normal=np.concatenate([normal for _, normal in rings], axis=1)))
    return out


def _cells(problem: LayoutProblem) -> tuple[list[int], list[int]] | None:
    """The row of each ring and its place in that; None where no such weave is declared."""
    count = len(problem.rings)
    if not problem.cycles or problem.strands or problem.between or len(set(problem.rings)) > 1:
        return None
    if any(pair.state is not PairState.LINKED for pair in problem.pairs):
        return None
    row_of = list(range(count))  # by the first ring of the row; who lies over whom says which are of one row
    for fact in sorted(
        problem.overs, key=lambda fact: (max(fact.upper, fact.lower), min(fact.upper, fact.lower))
    ):
        one, other = sorted((row_of[fact.upper], row_of[fact.lower]))
        row_of = [one if row == other else row for row in row_of]
    beside: dict[int, set[int]] = {row: set() for row in sorted(set(row_of))}
    for pair in problem.pairs:
        one, other = row_of[pair.a], row_of[pair.b]
        beside[one].add(other)
        beside[other].add(one)
    ends = [row for row, others in beside.items() if len(others) == 1]
    if len(ends) != 2 or any(row in others or len(others) > 2 for row, others in beside.items()):
        return None
    order = [ends[0]]
    while len(order) < len(beside):
        following = [row for row in beside[order[-1]] if row not in order]
        if len(following) != 1:
            return None
        order += following
    columns = [sum(row_of[before] == row_of[ring] for before in range(ring)) for ring in range(count)]
    return [order.index(row) for row in row_of], columns


def _middles(rows: list[int], columns: list[int]) -> list[int]:
    """Two rings of neighbouring rows, near the middle of the weave."""
    middle = max(rows) // 2
    out = []
    for row in (middle, middle + 1):
        inside = [ring for ring in range(len(rows)) if rows[ring] == row]
        out.append(sorted(inside, key=lambda ring: columns[ring])[len(inside) // 2])
    return out


def _ring(table: Floats, row: int, column: int) -> tuple[Floats, Floats]:
    """Centres, in core radii, and normals (3, w) of a ring, for each way."""
    step, shift, up = table[:3]
    tilt, way = np.radians(table[3]), np.radians(table[4])
    side = -1.0 if row % 2 else 1.0
    centre = np.stack([column * step + row * shift, row * up, np.zeros_like(step)])
    return centre, np.stack(
        [side * np.sin(tilt) * np.cos(way), side * np.sin(tilt) * np.sin(way), np.cos(tilt)]
    )


def _two(table: Floats, rows: list[int], columns: list[int], ring: int, other: int) -> Ways:
    """Two rings, for each way."""
    return ways_of(
        _ring(table, rows[ring], columns[ring]),
        _ring(table, rows[other], columns[other]),
    )
