"""How a row of circles that closes on itself lies: how often it is turned, and which side of a tube is outside.

In: circles, in order round about, and for a tube row by row. Out: half turns, or whether the front is outside.

The rings of a row are a ribbon along the line through their centres: the direction of each is its normal across that
line. What a ribbon has of turns is its twist and the writhe of its middle line together, in whole turns (G.
Calugareanu, 1959; J. H. White, American Journal of Mathematics 91 (1969) 693-728; named from memory), and does not
change while it is bent. Neighbours in a chain stand across one another, so a direction counts only up to
quarter turns: each step is taken as less than an eighth, and a closed chain of an odd number comes out
a quarter turn off.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, pairwise

from compiler.geometry import cross, dot, mean, minus, plus, unit
from compiler.layout import Circle, Closing, Vector

_DOUBTFUL = math.radians(40.0)
"""A step from ring to ring that is turned more, up to quarter turns, could be one of the other way."""
_ALONG = 0.2
"""A ring whose normal has so little across the row (sine) has no direction there."""
_WHOLE = 1e-6


def is_closed_so(circles: Sequence[Circle], closing: Closing) -> bool:
    """Whether a round or tube is turned and faced as declared."""
    rows = [[circles[ring] for ring in row] for row in closing.rows]
    wanted = closing.half_turns
    if wanted is not None:
        found = half_turns_of_rows(rows[0], rows[-1]) if len(rows) > 1 else half_turns_of_row(rows[0])
        if found is None or abs(found - wanted) > 0.5:
            return False
    return closing.front_outside is None or (volume_in(rows) > 0) is closing.front_outside


def half_turns_of_row(row: Sequence[Circle]) -> float | None:
    """Half turns, clockwise looking along the row, to the half of one; None where the rings do not show it.

    Twice the sum of twist and writhe. Each direction is carried from the ring to the lines before and behind it by the
    least turn, so that the sum is whole but for rounding.
    """
    count = len(row)
    if count < 3:
        return None
    lines = [minus(row[(k + 1) % count].centre, row[k].centre) for k in range(count)]
    if any(dot(line, line) == 0 for line in lines):
        return None
    steps = [unit(line) for line in lines]
    before, after = [], []
    for k, circle in enumerate(row):
        both = plus(steps[k - 1], steps[k])
        if dot(both, both) < _ALONG:
            return None
        middle, normal = unit(both), unit(circle.normal)
        across = _less_along(normal, middle)
        if math.sqrt(dot(across, across)) < _ALONG:
            return None
        before.append(_carried(across, middle, steps[k - 1]))
        after.append(_carried(across, middle, steps[k]))
    twist = 0.0
    for k, step in enumerate(steps):
        here, there = after[k], before[(k + 1) % count]
        angle = math.atan2(dot(cross(here, there), step), dot(here, there))
        angle -= math.pi / 2 * round(angle / (math.pi / 2))
        if abs(angle) > _DOUBTFUL:
            return None
        twist += angle
    turns = twist / math.pi + 2 * _writhe([circle.centre for circle in row])
    whole = round(2 * turns) / 2
    return whole if abs(turns - whole) < _WHOLE else None


def half_turns_of_rows(low: Sequence[Circle], high: Sequence[Circle]) -> float | None:
    """Half turns of a band, twice the linking number of the lines through its lowest and its highest row."""
    first, second = [circle.centre for circle in low], [circle.centre for circle in high]
    if min(len(first), len(second)) < 3:
        return None
    total = math.fsum(
        _solid(first[i - 1], first[i], second[j - 1], second[j])
        for i in range(len(first))
        for j in range(len(second))
    )
    return 2.0 * round(total / (4 * math.pi))


def volume_in(rows: Sequence[Sequence[Circle]]) -> float:
    """The volume within a tube, mm3, less than 0 where the side from which its rows run to the right lies inside."""
    every = [circle.centre for row in rows for circle in row]
    middle = mean(every)
    places = [[minus(circle.centre, middle) for circle in row] for row in rows]
    parts = []
    for low, high in pairwise(places):
        for k, here in enumerate(low):
            there = low[(k + 1) % len(low)]
            over, beyond = high[k * len(high) // len(low)], high[(k + 1) * len(high) // len(low) % len(high)]
            parts += [_corner(here, there, beyond), _corner(here, beyond, over)]
    for row, side in ((places[0], -1.0), (places[-1], 1.0)):
        centre = mean(row)
        parts += [side * _corner(centre, row[k], row[(k + 1) % len(row)]) for k in range(len(row))]
    return math.fsum(parts)


def _corner(a: Vector, b: Vector, c: Vector) -> float:
    return dot(a, cross(b, c)) / 6


def _less_along(vector: Vector, direction: Vector) -> Vector:
    share = dot(vector, direction)
    return minus(vector, (share * direction[0], share * direction[1], share * direction[2]))


def _carried(vector: Vector, start: Vector, end: Vector) -> Vector:
    """A vector at right angles to a direction, turned with it to another by the least turn.

    v - (v.b) (a + b) / (1 + a.b), the formula of Rodrigues for an axis at right angles to both.
    """
    share = dot(vector, end) / (1 + dot(start, end))
    both = plus(start, end)
    return unit(minus(vector, (share * both[0], share * both[1], share * both[2])))


def _writhe(points: Sequence[Vector]) -> float:
    """The writhe of a closed polygon (Klenin and Langowski, Biopolymers 54 (2000) 307-317, method 1a)."""
    count = len(points)
    return math.fsum(
        _solid(points[i], points[(i + 1) % count], points[j], points[(j + 1) % count])
        for i, j in combinations(range(count), 2)
        if j - i > 1 and (i or j < count - 1)
    ) / (2 * math.pi)


def _solid(a: Vector, b: Vector, c: Vector, d: Vector) -> float:
    """The signed solid angle of the directions from the edge a b to the edge c d: their part of the Gauss integral."""
    corners = minus(c, a), minus(d, a), minus(d, b), minus(c, b)
    normals = []
    for k in range(4):
        normal = cross(corners[k], corners[(k + 1) % 4])
        size = math.sqrt(dot(normal, normal))
        if size < 1e-12:
            return 0.0
        normals.append((normal[0] / size, normal[1] / size, normal[2] / size))
    angle = math.fsum(math.asin(max(-1.0, min(1.0, dot(normals[k], normals[(k + 1) % 4])))) for k in range(4))
    return math.copysign(angle, dot(cross(minus(d, c), minus(b, a)), corners[0]))
