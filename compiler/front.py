"""The front of a piece: from which side it is seen, and which ring lies over which from there.

In: circles, and pairs of rings of which one is said to lie over the other. Out: the side from which it is so, and the
facts that hold from no side. A piece that spreads is seen straight onto its plane, from either side; a chain may
be turned about its length. Lengths are mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from compiler.geometry import cross, dot, frame, minus, principal_axes, times, turned, unit
from compiler.layout import Circle, FourRings, Over, Vector

TILTS = (0.0, 24.0, -24.0, 38.0, -38.0)
"""Degrees about the long axis, in order of liking."""
_ALL_ROUND = (0.0, *(side * tilt for tilt in (15.0, 30.0, 45.0, 60.0, 75.0) for side in (1, -1)), 90.0)
"""The same where the text says from which side the front of a chain is seen."""
_EDGE_ON = 0.3
"""A ring whose normal is so square to the line of sight (its sine) is seen from its edge."""
_ASIDE = 0.8
"""Where a tube's front is turned so far from the line of sight (the cosine), its rings overlap in the picture otherwise
than they lie."""
_SAMPLES = 96
"""Points of a ring that are looked at: two crossings nearer to each other than a tenth of its width count as none."""
_HALVINGS = 20
_FLAT = 1e-6
"""Share of its area below which the picture of a disc counts as a line, which encloses nothing."""

View = tuple[Vector, Vector, Vector]
"""To the right, up, towards the eye: of unit length, right-handed."""


class Seen(Struct, frozen=True, kw_only=True):
    """A ring as it is seen: the points centre + along cos t + across sin t; x and y in the picture, z to the eye."""

    centre: Vector
    along: Vector
    across: Vector

    def at(self, angle: float) -> Vector:
        """The point of the core at an angle in radians."""
        c, s = math.cos(angle), math.sin(angle)
        (x, y, z), (ax, ay, az), (bx, by, bz) = self.centre, self.along, self.across
        return x + c * ax + s * bx, y + c * ay + s * by, z + c * az + s * bz


def seen(circle: Circle, view: View) -> Seen:
    """A ring from a view."""
    u, v, _ = frame(circle.normal)
    return Seen(
        centre=_turned_to(circle.centre, view),
        along=times(_turned_to(u, view), circle.core_radius),
        across=times(_turned_to(v, view), circle.core_radius),
    )


def _turned_to(vector: Vector, view: View) -> Vector:
    return dot(vector, view[0]), dot(vector, view[1]), dot(vector, view[2])


# ---------------------------------------------------------------- one ring over another


def heights_over(upper: Seen, lower: Seen) -> list[float]:
    """How far the first ring's core is nearer to the eye than the second's, wherever they cross in the picture."""
    (ux, uy, uz), (vx, vy, vz) = lower.along, lower.across
    area = ux * vy - uy * vx
    if abs(area) < _FLAT * (math.hypot(ux, uy, uz) * math.hypot(vx, vy, vz)):
        return []

    def within(angle: float) -> tuple[float, float, float]:
        """The point in the lower ring's own coordinates, 1 at its core, and its depth."""
        x, y, z = upper.at(angle)
        x, y = x - lower.centre[0], y - lower.centre[1]
        return (x * vy - y * vx) / area, (ux * y - uy * x) / area, z

    def outside(angle: float) -> float:
        u, v, _ = within(angle)
        return u * u + v * v - 1.0

    angles = [2 * math.pi * step / _SAMPLES for step in range(_SAMPLES + 1)]
    values = [outside(angle) for angle in angles]
    found = []
    for step in range(_SAMPLES):
        low, high = angles[step], angles[step + 1]
        inside_first = values[step] <= 0
        if inside_first == (values[step + 1] <= 0):
            continue
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if (outside(middle) <= 0) == inside_first:
                low = middle
            else:
                high = middle
        u, v, depth = within((low + high) / 2)
        found.append(depth - lower.at(math.atan2(v, u))[2])
    return found


def which_over(upper: Seen, lower: Seen) -> int:
    """1 where the first ring is nearer to the eye wherever the two cross; or, seen within the other, all over its hole.

    -1 where the second one is, so that from the other side the first would be; 0 where neither is.
    """
    heights = heights_over(upper, lower)
    if heights:
        return (min(heights) > 0) - (max(heights) < 0)
    # in the picture one of them may lie wholly within the other: then its points are over or under the other's disc
    small, large, side = upper, lower, 1.0
    if math.hypot(*upper.along[:2], *upper.across[:2]) > math.hypot(*lower.along[:2], *lower.across[:2]):
        small, large, side = lower, upper, -1.0
    (ux, uy, uz), (vx, vy, vz) = large.along, large.across
    area = ux * vy - uy * vx
    if abs(area) < _FLAT * (math.hypot(ux, uy, uz) * math.hypot(vx, vy, vz)):
        return 0
    depths = []
    for step in range(_SAMPLES):
        x, y, z = minus(small.at(2 * math.pi * step / _SAMPLES), large.centre)
        p, q = (x * vy - y * vx) / area, (ux * y - uy * x) / area
        if p * p + q * q >= 1.0:
            return 0
        depths.append((z - p * uz - q * vz) * side)
    return (min(depths) > 0) - (max(depths) < 0)


# ---------------------------------------------------------------- the side from which a piece is seen


class Front(Struct, frozen=True, kw_only=True):
    """From where a piece is seen as the text says, as nearly as may be."""

    view: View
    sides: tuple[float, ...]
    """1 for that of the view, -1 for the opposite one: those from which the fewest facts come out wrong."""
    wrong: tuple[Over, ...]
    """Facts that are wrong from the first of these sides."""


def front_of(circles: Sequence[Circle], facts: Sequence[Over]) -> Front:
    """The view onto the plane in which a piece spreads, from a side on which what is said to lie over does so."""
    return _best(_fronts(circles, facts))


def _best(fronts: Iterable[tuple[float, Front]]) -> Front:
    """That with the fewest wrong facts; of those the first, unless another shows far fewer rings from their edge."""
    fronts = iter(fronts)
    share, best = next(fronts)
    for edge_on, front in fronts:
        more = len(front.wrong) - len(best.wrong)
        if more < 0 or (more == 0 and edge_on < share - 0.2):
            share, best = edge_on, front
    return best


def _fronts(circles: Sequence[Circle], facts: Sequence[Over]) -> Iterator[tuple[float, Front]]:
    """The views that are tried, each with the share of rings that are seen from their edge."""
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
    values, axes = principal_axes(spread)
    order = sorted(range(3), key=lambda axis: (-round(values[axis], 6), axis))
    long, eye = axes[order[0]], axes[order[2]]
    across = cross(eye, long)
    # what hangs on its ends makes a chain no wider
    aside = sorted(abs(dot(minus(circle.centre, middle), across)) for circle in circles)
    wide = aside[len(aside) * 9 // 10] if aside else 0.0
    thin = wide < max((circle.core_radius for circle in circles), default=0.0)
    # a chain; anything wider is seen straight on
    tilts = (_ALL_ROUND if facts else TILTS) if thin else (0.0,)
    for tilt in tilts:
        turned_eye = unit(turned(eye, long, math.radians(tilt)))
        edge_on = sum(abs(dot(unit(circle.normal), turned_eye)) < _EDGE_ON for circle in circles)
        share = round(edge_on / count, 6)
        view = long, cross(turned_eye, long), turned_eye
        found = _ways(circles, view, facts)
        far = {side: _far_sides(circles, times(turned_eye, side), facts) for side in (1.0, -1.0)}
        wrong = {
            side: tuple(fact for fact, way in found if way != side and fact not in far[side]) for side in far
        }
        least = min(map(len, wrong.values()))
        sides = tuple(side for side in wrong if len(wrong[side]) == least)
        yield share, Front(view=view, sides=sides, wrong=wrong[sides[0]])


def _ways(circles: Sequence[Circle], view: View, facts: Sequence[Over]) -> list[tuple[Over, int]]:
    """The facts, each with 1 where it shows from a view, -1 where it does from the other side, 0 from neither."""
    rings = {ring: seen(circles[ring], view) for fact in facts for ring in (fact.upper, fact.lower)}
    return [(fact, which_over(rings[fact.upper], rings[fact.lower])) for fact in facts]


def wrong_from(circles: Sequence[Circle], view: View, facts: Sequence[Over]) -> tuple[Over, ...]:
    """The facts that do not show from a view, but for those on the far side of a tube."""
    far = _far_sides(circles, view[2], facts)
    return tuple(fact for fact, way in _ways(circles, view, facts) if way != 1 and fact not in far)


def _far_sides(circles: Sequence[Circle], eye: Vector, facts: Sequence[Over]) -> frozenset[Over]:
    """The facts of a tube that its near side hides, or that are seen from the edge.

    The near side of a tube faces the eye with its front, the far side with its back. Where nothing faces the eye,
    or only what lies farther away, as the inside of a tube does, the eye looks at the back and hides nothing.
    """
    facing = {fact: dot(front_in_frame(circles, fact.frame), eye) for fact in facts if fact.frame is not None}
    near, far = (
        [dot(circles[fact.upper].centre, eye) for fact, share in facing.items() if share * side > _EDGE_ON]
        for side in (1.0, -1.0)
    )
    if not near or not far or math.fsum(near) / len(near) <= math.fsum(far) / len(far):
        return frozenset()
    return frozenset(fact for fact, share in facing.items() if share <= _ASIDE)


def wrong_overs(circles: Sequence[Circle], facts: Sequence[Over]) -> tuple[Over, ...]:
    """The facts that do not hold: in a sheet or tube seen from its front there, the others all from one side."""
    of_piece = [fact for fact in facts if fact.frame is None]
    found = _wrong_from_all_sides(circles, of_piece) if of_piece else ()
    return (*found, *(fact for fact in facts if fact.frame and not _holds_in_frame(circles, fact)))


def _wrong_from_all_sides(circles: Sequence[Circle], facts: Sequence[Over]) -> tuple[Over, ...]:
    """As `front_of` finds them; a view from which all is right leaves no other to be looked at."""
    looked_at = []
    for share, front in _fronts(circles, facts):
        if not front.wrong:
            return ()
        looked_at.append((share, front))
    return _best(looked_at).wrong


def _holds_in_frame(circles: Sequence[Circle], fact: Over) -> bool:
    assert fact.frame is not None
    eye = front_in_frame(circles, fact.frame)
    if dot(eye, eye) == 0:
        return False
    along = unit(minus(circles[fact.frame[1]].centre, circles[fact.frame[0]].centre))
    view = along, cross(eye, along), eye
    return which_over(seen(circles[fact.upper], view), seen(circles[fact.lower], view)) == 1


def front_in_frame(circles: Sequence[Circle], rings: FourRings) -> Vector:
    """Where the front is by four rings, of unit length, out of the plane of right and up; 0 if there is none."""
    left, right, below, above = (circles[ring].centre for ring in rings)
    eye = cross(minus(right, left), minus(above, below))
    return unit(eye) if dot(eye, eye) else eye
