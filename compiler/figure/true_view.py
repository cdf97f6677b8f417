"""The true view: a proved layout seen from its front, every ring in its place, over and under by depth.

In: a weave, a piece and its layout. Out: a `Picture`. The view is orthographic, onto the plane in which the piece
spreads; it is turned so that the piece stands as in the flat drawing, and a chain is tilted, since every other
ring would be seen from its edge. One view serves the whole piece.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.figure.overlaps import heights_over, over_facts
from compiler.figure.picture import Note, Picture
from compiler.figure.scene import Loop, cover_of
from compiler.figure.schematic import signs_of
from compiler.flat.place import Flat, flat_positions
from compiler.geometry import cross, dot, frame, piercings, unit
from compiler.layout import Circle, Layout, Vector
from compiler.weave import PieceWeave, Weave

View = tuple[Vector, Vector, Vector]
"""To the right, up, towards the eye: of unit length, right-handed."""

_TILTS = (0.0, 24.0, -24.0, 38.0, -38.0)
"""Degrees about the long axis, in order of liking."""
_ALL_ROUND = (0.0, *(side * tilt for tilt in (15.0, 30.0, 45.0, 60.0, 75.0) for side in (1, -1)), 90.0)
"""The same where the text says from which side the front of a chain is seen."""
_EDGE_ON = 0.3
"""A ring whose normal is so square to the line of sight (its sine) is seen from its edge."""
_MARGIN = 0.4
"""Wires this near to each other, in radii of the thinnest, are put in order: parts are told by their middles."""


def true_view(weave: Weave, piece_index: int, layout: Layout) -> Picture:
    """The picture of a piece from the circles of its layout."""
    piece = weave.pieces[piece_index]
    flat = flat_positions(weave, piece_index)
    circles = layout.circles
    facts = over_facts(piece)
    view = _best_view(circles, flat, facts)
    loops = tuple(_loop(node, circle, view) for node, circle in enumerate(circles))
    margin = _MARGIN * min((loop.tube for loop in loops), default=0.0)
    shown = Flat(
        places=tuple(loop.centre[:2] for loop in loops),
        out=tuple(_outward(piece, loops)),
        cut=False,
        stand=0.0,
    )
    signs = signs_of(weave, piece, shown)
    return Picture(
        loops=loops,
        cover=cover_of(loops, margin),
        signs=signs,
        schematic=False,
        wrong_over=sum(
            any(height < 0 for height in heights_over(loops[upper], loops[lower])) for upper, lower in facts
        ),
        travel=_travel(piece, circles, view),
        stand=flat.stand,
        notes=(Note.SIGNS,) if signs else (),
    )


def _loop(node: int, circle: Circle, view: View) -> Loop:
    u, v, _ = frame(circle.normal)
    return Loop(
        node=node,
        centre=_seen(circle.centre, view),
        along=_seen(_times(u, circle.core_radius), view),
        across=_seen(_times(v, circle.core_radius), view),
        tube=circle.tube_radius,
    )


def _seen(vector: Vector, view: View) -> Vector:
    return dot(vector, view[0]), dot(vector, view[1]), dot(vector, view[2])


def _times(vector: Vector, factor: float) -> Vector:
    return vector[0] * factor, vector[1] * factor, vector[2] * factor


# ---------------------------------------------------------------- the view


def _best_view(circles: Sequence[Circle], flat: Flat, facts: Sequence[tuple[int, int]]) -> View:
    """The view onto the plane in which the piece spreads, turned as the flat drawing is.

    Where the text says what lies over what, seen from the front, that is seen from the side on which it is so.
    """
    count = max(len(circles), 1)
    x, y, z = (math.fsum(circle.centre[axis] for circle in circles) / count for axis in range(3))
    middle = x, y, z
    spread = [[0.0] * 3 for _ in range(3)]
    for circle in circles:
        arm = [circle.centre[axis] - middle[axis] for axis in range(3)]
        n = unit(circle.normal)
        for i in range(3):
            for j in range(3):
                # thin along the line of sight, and rings seen round rather than from their edge
                spread[i][j] += arm[i] * arm[j] - 0.5 * circle.core_radius**2 * n[i] * n[j]
    values, axes = _principal_axes(spread)
    order = sorted(range(3), key=lambda axis: (-round(values[axis], 6), axis))
    long, eye = axes[order[0]], axes[order[2]]
    best: tuple[int, float, View, tuple[float, ...]] | None = None
    across = cross(eye, long)
    # what hangs on its ends makes a chain no wider
    aside = sorted(abs(dot(_less(circle.centre, middle), across)) for circle in circles)
    wide = aside[len(aside) * 9 // 10] if aside else 0.0
    thin = wide < max((circle.core_radius for circle in circles), default=0.0)
    tilts = (
        (_ALL_ROUND if facts else _TILTS) if thin else (0.0,)
    )  # a chain; anything wider is seen straight on
    for tilt in tilts:
        turned = _turned(eye, long, math.radians(tilt))
        edge_on = sum(abs(dot(unit(circle.normal), turned)) < _EDGE_ON for circle in circles)
        share = round(edge_on / count, 6)
        view = long, cross(turned, long), turned
        wrong = _wrong_from(circles, view, facts)
        least = min(wrong.values())
        if best is None or (least, share) < (best[0], best[1] - 0.2 if least == best[0] else 2.0):
            best = least, share, view, tuple(side for side in wrong if wrong[side] == least)
    assert best is not None
    return _as_flat(circles, flat, best[2], best[3])


def _wrong_from(circles: Sequence[Circle], view: View, facts: Sequence[tuple[int, int]]) -> dict[float, int]:
    """From either side (1 that of the view, -1 the other): how many facts of over and under are seen the other way."""
    wrong = {1.0: 0, -1.0: 0}
    loops = {node: _loop(node, circles[node], view) for fact in facts for node in fact}
    for upper, lower in facts:
        heights = heights_over(loops[upper], loops[lower])
        wrong[1.0] += any(height < 0 for height in heights)
        wrong[-1.0] += any(height > 0 for height in heights)
    return wrong


def _less(point: Vector, middle: Vector) -> Vector:
    return point[0] - middle[0], point[1] - middle[1], point[2] - middle[2]


def _turned(vector: Vector, axis: Vector, angle: float) -> Vector:
    """A vector at right angles to an axis, turned about it."""
    side = cross(axis, vector)
    c, s = math.cos(angle), math.sin(angle)
    return unit((c * vector[0] + s * side[0], c * vector[1] + s * side[1], c * vector[2] + s * side[2]))


def _as_flat(circles: Sequence[Circle], flat: Flat, view: View, sides: Sequence[float]) -> View:
    """The view from one of the sides, and turned, so that the places agree best with those of the flat drawing."""
    best: tuple[float, View] | None = None
    for side in sides:
        right, up, eye = view[0], _times(view[1], side), _times(view[2], side)
        places = [_seen(circle.centre, (right, up, eye))[:2] for circle in circles]
        count = max(len(places), 1)
        px, py = math.fsum(x for x, _ in places) / count, math.fsum(y for _, y in places) / count
        fx, fy = math.fsum(x for x, _ in flat.places) / count, math.fsum(y for _, y in flat.places) / count
        pairs = [
            ((x - px, y - py), (u - fx, v - fy)) for (x, y), (u, v) in zip(places, flat.places, strict=True)
        ]
        along = math.fsum(x * u + y * v for (x, y), (u, v) in pairs)
        across = math.fsum(x * v - y * u for (x, y), (u, v) in pairs)
        score = round(math.hypot(along, across), 6)
        if best is None or score > best[0] * (1 + 1e-6):
            angle = math.atan2(across, along)
            c, s = math.cos(angle), math.sin(angle)
            best = score, (_mixed(right, up, c, -s), _mixed(right, up, s, c), eye)
    assert best is not None
    return best[1]


def _mixed(a: Vector, b: Vector, share_a: float, share_b: float) -> Vector:
    return (
        share_a * a[0] + share_b * b[0],
        share_a * a[1] + share_b * b[1],
        share_a * a[2] + share_b * b[2],
    )


def _principal_axes(matrix: list[list[float]]) -> tuple[list[float], list[Vector]]:
    """Eigenvalues and eigenvectors of a symmetric 3 x 3 matrix (the method of Jacobi, 1846: turn by turn)."""
    a = [row[:] for row in matrix]
    axes = [[float(i == j) for j in range(3)] for i in range(3)]
    for _ in range(30):
        for p, q in ((0, 1), (0, 2), (1, 2)):
            if abs(a[p][q]) < 1e-12:
                continue
            angle = 0.5 * math.atan2(2 * a[p][q], a[q][q] - a[p][p])
            c, s = math.cos(angle), math.sin(angle)
            for rows in (a, axes):
                for row in rows:
                    row[p], row[q] = c * row[p] - s * row[q], s * row[p] + c * row[q]
            a[p], a[q] = (
                [c * x - s * y for x, y in zip(a[p], a[q], strict=True)],
                [s * x + c * y for x, y in zip(a[p], a[q], strict=True)],
            )
    vectors: list[Vector] = [unit((axes[0][k], axes[1][k], axes[2][k])) for k in range(3)]
    return [a[k][k] for k in range(3)], vectors


# ---------------------------------------------------------------- what else is shown


def _travel(piece: PieceWeave, circles: Sequence[Circle], view: View) -> tuple[int, ...]:
    """By node: which way round its wire is led, so that it enters the first ring it meets as the text says.

    The front of that ring is the side that faces the reader.
    """
    way = [1] * len(circles)
    told: set[int] = set()
    for a, b, sign in zip(piece.link_a, piece.link_b, piece.link_sign, strict=True):
        if a in told:
            continue
        told.add(a)
        towards = 1 if dot(circles[b].normal, view[2]) >= 0 else -1
        through = sum(piercing.sign for piercing in piercings(circles[b], circles[a])) * towards
        way[a] = -sign if through > 0 else sign
    return tuple(way)


def _outward(piece: PieceWeave, loops: Sequence[Loop]) -> list[float]:
    """By node: away from the middle of what it is linked with, in the picture; straight down where that is nothing."""
    sums = [[0.0, 0.0, 0] for _ in loops]
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        for here, there in ((a, b), (b, a)):
            sums[here][0] += loops[there].centre[0]
            sums[here][1] += loops[there].centre[1]
            sums[here][2] += 1
    angles = []
    for loop, (x, y, count) in zip(loops, sums, strict=True):
        if count:
            angles.append(math.atan2(loop.centre[1] - y / count, loop.centre[0] - x / count))
        else:
            angles.append(-math.pi / 2)
    return angles
