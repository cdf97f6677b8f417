"""The whole of a large piece in outline: how large it is, and its shape, by the pitch of its beginning.

In: a weave, the proved places of the first rings of a piece. Out: `Outline`, about where each ring lies, mm, and the
size that follows. The flat drawing says how the whole goes on; a linear map, least squares over the first rings,
takes it to the measures that were proved. Where they do not lie as in the flat drawing, as in a tube, nothing is told.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.beginning import Outline, Point, cut_off
from compiler.flat.place import Flat, flat_positions
from compiler.flat.sizes import node_sizes
from compiler.geometry import mean, minus
from compiler.layout import Circle, Layout, RingSize, Vector
from compiler.size import Size, finished_size
from compiler.weave import Weave

MOST = 100_000
"""Rings and eyes of a piece that is drawn in outline."""
_UNLIKE = 0.6
"""Mean core radii by which the first rings may lie off the flat drawing, root mean square."""
_THIN = 0.25
"""Mean core radii: what spreads less to one side, root mean square, tells one pitch and not two."""


def outline_of(weave: Weave, index: int, beginning: Layout) -> Outline | None:
    """The outline of a piece whose first rings have these places; None where the flat drawing does not tell it."""
    piece = weave.pieces[index]
    if len(piece) > MOST:
        return None
    flat, sizes = flat_positions(weave, index), node_sizes(weave, piece)
    begun = len(beginning.circles)
    stretch = None if flat.cut else _stretch(flat.places[:begun], beginning.circles)
    if stretch is None:
        return None
    places = _stretched(flat, stretch)
    first, lying = cut_off(piece, begun), _lying(places, sizes)
    whole, part = finished_size(piece, lying), finished_size(first, lying[:begun])
    true = finished_size(first, beginning.circles)
    if whole is None or part is None or true is None:
        return None
    return Outline(
        places=places,
        reach=tuple(size.core_radius + size.tube_radius for size in sizes),
        begun=begun,
        size=Size(
            length=whole.length + true.length - part.length,
            width=whole.width + true.width - part.width,
            thickness=true.thickness,
        ),
    )


def _stretch(flat: Sequence[Point], circles: Sequence[Circle]) -> tuple[float, float, float] | None:
    """The symmetric map (xx, xy, yy) from flat places to the measures of circles; None where they lie otherwise.

    With L the least squares map of the plane into space, it is the root of L^T L: L but for a turn in space.
    """
    count = len(flat)
    core = math.fsum(circle.core_radius for circle in circles) / count
    cx, cy = math.fsum(x for x, _ in flat) / count, math.fsum(y for _, y in flat) / count
    middle = mean([circle.centre for circle in circles])
    arms = [(x - cx, y - cy) for x, y in flat]
    to = [minus(circle.centre, middle) for circle in circles]
    xx, xy, yy = (math.fsum(a[i] * a[j] for a in arms) for i, j in ((0, 0), (0, 1), (1, 1)))
    largest = (xx + yy) / 2 + math.hypot((xx - yy) / 2, xy)
    if largest < (_THIN * core) ** 2 * count:
        return None
    along, across = (_moment(arms, to, axis) for axis in (0, 1))
    smallest = xx + yy - largest
    if smallest < (_THIN * core) ** 2 * count:
        angle = math.atan2(2 * xy, xx - yy) / 2
        c, s = math.cos(angle), math.sin(angle)
        line = _sum(along, across, c / largest, s / largest)
        columns = _sum(line, line, c, 0.0), _sum(line, line, s, 0.0)
        scale = math.hypot(*line)
        stretch = scale, 0.0, scale
    else:
        det = xx * yy - xy * xy
        columns = _sum(along, across, yy / det, -xy / det), _sum(along, across, -xy / det, xx / det)
        a, b, d = (_dot(columns[i], columns[j]) for i, j in ((0, 0), (0, 1), (1, 1)))
        root = math.sqrt(max(a * d - b * b, 0.0))
        trace = math.sqrt(a + d + 2 * root)
        stretch = (a + root) / trace, b / trace, (d + root) / trace
    off = math.fsum(
        math.dist(_sum(columns[0], columns[1], x, y), there) ** 2
        for (x, y), there in zip(arms, to, strict=True)
    )
    return stretch if off <= (_UNLIKE * core) ** 2 * count else None


def _moment(arms: Sequence[Point], to: Sequence[Vector], axis: int) -> Vector:
    x, y, z = (math.fsum(arm[axis] * there[i] for arm, there in zip(arms, to, strict=True)) for i in range(3))
    return x, y, z


def _sum(a: Vector, b: Vector, share_a: float, share_b: float) -> Vector:
    return share_a * a[0] + share_b * b[0], share_a * a[1] + share_b * b[1], share_a * a[2] + share_b * b[2]


def _dot(a: Vector, b: Vector) -> float:
    return math.fsum(x * y for x, y in zip(a, b, strict=True))


def _stretched(flat: Flat, stretch: tuple[float, float, float]) -> tuple[Point, ...]:
    """The places of the whole, turned as the piece is worn."""
    xx, xy, yy = stretch
    c, s = math.cos(flat.stand), math.sin(flat.stand)
    found = []
    for x, y in flat.places:
        u, v = xx * x + xy * y, xy * x + yy * y
        found.append((c * u - s * v, s * u + c * v))
    return tuple(found)


def _lying(places: Sequence[Point], sizes: Sequence[RingSize]) -> list[Circle]:
    """Rings that lie flat at these places."""
    return [
        Circle(
            centre=(*place, 0.0),
            normal=(0.0, 0.0, 1.0),
            core_radius=size.core_radius,
            tube_radius=size.tube_radius,
        )
        for place, size in zip(places, sizes, strict=True)
    ]
