"""Closed formulas about rings: circles in space, wires in a hole, the volume of a wire ring.

Plain arithmetic on floats; lengths are millimetres. Used by the checks, the proof, the kit and the figures.
"""

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import accumulate

from msgspec import Struct

from compiler.layout import Circle, PairState, Vector

# Smallest container radius, in radii of the packed circles, that holds N = 1, 2, ... equal circles. Graham,
# Lubachevsky, Nurmela, Ostergard, "Curved hexagonal packings of equal disks in a circle", Discrete
# Mathematics 181 (1998) 139-154; Kravitz, Mathematics Magazine 40 (1967) 65-70. Optimality is proved for 1 to
# 7 (elementary; 5 to 7 Graham 1968), 8 to 10 (Pirl 1969), 11 (Melissen 1994), 12, 13 and 19 (Fodor 2000,
# 2003, 1999); the other figures are the best known.
_HOLE_FOR = (
    1.0,
    2.0,
    1 + 2 / math.sqrt(3),
    1 + math.sqrt(2),
    1 + math.sqrt(2 * (1 + 1 / math.sqrt(5))),
    3.0,
    3.0,
    1 + 1 / math.sin(math.pi / 7),
    1 + math.sqrt(2 * (2 + math.sqrt(2))),
    3.8130256,
    1 + 1 / math.sin(math.pi / 9),
    4.0296019,
    2 + math.sqrt(5),
    4.3284286,
    1 + math.sqrt(6 + 2 / math.sqrt(5) + 4 * math.sqrt(1 + 2 / math.sqrt(5))),
    4.6154256,
    4.7920338,
    1 + math.sqrt(2) + math.sqrt(6),
    1 + math.sqrt(2) + math.sqrt(6),
    5.1223208,
)
_PROVED = (*range(1, 14), 19)
_TIE = 1e-7  # a ratio this close to the limit fits: lengths are exact decimals, the table has eight figures


def wires_that_fit(inner: float, wire: float) -> int:
    """How many straight passes of one wire a hole is known to hold, at most 20: the best packing in print."""
    ratio = inner / wire * (1 + _TIE)
    return sum(1 for needed in _HOLE_FOR if needed <= ratio)


def wires_at_most(inner: float, wire: float) -> int:
    """A count of passes that a hole certainly cannot exceed, at any tilt of the wires.

    A wire that crosses the plane of the hole holds a ball of the wire's diameter centred on that plane, so
    the passes are disjoint discs in the disc of the hole. Their number is bounded by the proved entries of
    the packing table and, above them, by the Groemer-Oler inequality N <= (2 / sqrt 3) A + P / 2 + 1 for
    points at least 1 apart in a convex region of area A and perimeter P (H. Groemer, Math. Z. 73 (1960); N.
    Oler, Acta Math. 105 (1961); the statement is given from memory).
    """
    ratio = inner / wire * (1 + _TIE)
    if ratio < 1:
        return 0
    reach = (ratio - 1) / 2
    bound = math.floor(2 / math.sqrt(3) * math.pi * reach * reach + math.pi * reach + 1 + _TIE)
    excluded = [count - 1 for count in _PROVED if ratio < _HOLE_FOR[count - 1]]
    return min(bound, *excluded) if excluded else bound


def wires_may_fit(inner: float, wires: Iterable[float]) -> bool:
    """False only where passes of these wires certainly cannot share one hole; a necessary condition.

    The k thickest wires are each at least as thick as the k-th, so k of the k-th must fit; the two thickest
    lie side by side on a diameter; the cross-sections cannot exceed the area of the hole. The wires may be given as a
    `Counter` of thicknesses too: there may be a million of one.
    """
    ordered = sorted((wires if isinstance(wires, Counter) else Counter(wires)).items(), reverse=True)
    loose = inner * (1 + _TIE)
    thickest = [wire for wire, count in ordered[:2] for _ in range(min(count, 2))][:2]
    if len(thickest) > 1 and sum(thickest) > loose:
        return False
    if math.fsum(count * wire**2 for wire, count in ordered) > loose**2:
        return False
    counts = accumulate(count for _, count in ordered)
    return all(count <= wires_at_most(inner, wire) for (wire, _), count in zip(ordered, counts, strict=True))


def wires_round_rim(inner: float, wire: float) -> int:
    """How many passes of one wire lie side by side along the rim of a hole.

    Centres lie on a circle of diameter inner - wire, neighbours at least one wire apart: N <= pi / asin(w /
    (D - w)).
    """
    if wire > inner * (1 + _TIE):
        return 0
    if 2 * wire > inner * (1 + _TIE):
        return 1
    return math.floor(math.pi / math.asin(min(1.0, wire / (inner - wire))) + _TIE * 100)


def torus_volume(core_radius: float, tube_radius: float) -> float:
    """Volume of a wire ring, mm3: 2 pi^2 R r^2 (Pappus; R and r in mm)."""
    return 2 * math.pi**2 * core_radius * tube_radius**2


def wire_length(core_radius: float) -> float:
    """Length of wire in one ring, mm, along its core: 2 pi R (saw kerf not counted)."""
    return 2 * math.pi * core_radius


def dot(a: Vector, b: Vector) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product, right-handed."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def minus(a: Vector, b: Vector) -> Vector:
    """Difference a - b."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def plus(a: Vector, b: Vector) -> Vector:
    """Sum of two vectors."""
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def times(a: Vector, factor: float) -> Vector:
    """A vector so many times as long."""
    return a[0] * factor, a[1] * factor, a[2] * factor


def mean(points: Sequence[Vector]) -> Vector:
    """The middle of at least one point."""
    x, y, z = (math.fsum(point[axis] for point in points) / len(points) for axis in range(3))
    return x, y, z


def turned(a: Vector, axis: Vector, angle: float) -> Vector:
    """A vector turned about a unit axis, right-handed, by an angle in radians (Rodrigues' formula)."""
    c, s = math.cos(angle), math.sin(angle)
    across, along = cross(axis, a), dot(axis, a) * (1 - c)
    x, y, z = (c * v + s * w + along * u for v, w, u in zip(a, across, axis, strict=True))
    return x, y, z


def principal_axes(matrix: Sequence[Sequence[float]]) -> tuple[list[float], list[Vector]]:
    """Eigenvalues and unit eigenvectors of a symmetric 3 x 3 matrix (the method of Jacobi, 1846: turn by turn)."""
    a = [list(row) for row in matrix]
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
    return [a[k][k] for k in range(3)], [unit((axes[0][k], axes[1][k], axes[2][k])) for k in range(3)]


def unit(a: Vector) -> Vector:
    """The direction of a vector that is not zero."""
    length = math.sqrt(dot(a, a))
    return (a[0] / length, a[1] / length, a[2] / length)


def frame(normal: Vector) -> tuple[Vector, Vector, Vector]:
    """Unit vectors (u, v, n), right-handed, n along the normal; the same for the same normal."""
    n = unit(normal)
    smallest = min(range(3), key=lambda axis: (abs(n[axis]), axis))
    helper: Vector = (float(smallest == 0), float(smallest == 1), float(smallest == 2))
    u = unit(cross(helper, n))
    return u, cross(n, u), n


def point_on(circle: Circle, angle: float) -> Vector:
    """The point of the core at an angle in radians, right-handedly about the normal from the frame's u."""
    u, v, _ = frame(circle.normal)
    along, across = circle.core_radius * math.cos(angle), circle.core_radius * math.sin(angle)
    x, y, z = circle.centre
    return (
        x + along * u[0] + across * v[0],
        y + along * u[1] + across * v[1],
        z + along * u[2] + across * v[2],
    )


class Piercing(Struct, frozen=True, kw_only=True):
    """A point where the core of a ring passes through the disc of another."""

    point: Vector  # mm
    sign: int  # +1 where the ring, run right-handedly, passes along the disc's normal, -1 against it


def piercings(disc: Circle, ring: Circle) -> tuple[Piercing, ...]:
    """Where `ring` passes through the disc of `disc`: none, one or two points. Touching the plane is none."""
    n = unit(disc.normal)
    u, v, _ = frame(ring.normal)
    offset = minus(ring.centre, disc.centre)
    height = dot(offset, n)
    rise_u, rise_v = ring.core_radius * dot(u, n), ring.core_radius * dot(v, n)
    swing = math.sqrt(rise_u**2 + rise_v**2)
    if swing <= abs(height):  # parallel planes, or the ring stays on one side
        return ()
    # height + rise_u cos t + rise_v sin t = 0, at t = middle -+ half; rising through the plane at the second
    middle = math.atan2(rise_v, rise_u)
    half = math.acos(-height / swing)
    found = []
    for angle, sign in ((middle - half, 1), (middle + half, -1)):
        point = point_on(ring, angle)
        arm = minus(point, disc.centre)
        if dot(arm, arm) < disc.core_radius**2:
            found.append(Piercing(point=point, sign=sign))
    return tuple(found)


def pair_state(a: Circle, b: Circle) -> PairState:
    """How two circles lie to each other.

    The two discs cut the line in which their planes meet in an interval each: disjoint intervals are apart,
    overlapping ones linked, nested ones around. A ring that lies flat inside another, in one plane, is held
    there as if it were tilted a little: the outer is around it.
    """
    through_a, through_b = len(piercings(a, b)), len(piercings(b, a))
    if (through_a, through_b) == (1, 1):
        return PairState.LINKED
    if through_a == 2:
        return PairState.A_AROUND_B
    if through_b == 2:
        return PairState.B_AROUND_A
    offset = minus(b.centre, a.centre)
    normal = unit(a.normal)
    in_one_plane = dot(offset, normal) == 0 and cross(normal, unit(b.normal)) == (0.0, 0.0, 0.0)
    if in_one_plane:
        distance = math.sqrt(dot(offset, offset))
        if distance + b.core_radius < a.core_radius:
            return PairState.A_AROUND_B
        if distance + a.core_radius < b.core_radius:
            return PairState.B_AROUND_A
    return PairState.APART


def link_sign(a: Circle, b: Circle) -> int:
    """The linking number of two circles oriented right-handedly by their normals: +1, -1, or 0 if not linked.

    Counted as signed piercings of the disc of `a` by `b`; equal to the Gauss linking integral.
    """
    return sum(piercing.sign for piercing in piercings(a, b))


def is_between(ring: Circle, first: Circle, second: Circle, samples: int = 720) -> bool:
    """Whether `ring` passes through the gap of two companions: a point of it lies between their two discs.

    Such a point lies on the second's side of the first disc and the first's side of the second, and over both
    discs. True is exact, a point is the witness; a passage shorter than one sample's arc may be missed.
    """
    n, m = unit(first.normal), unit(second.normal)
    apart = minus(second.centre, first.centre)
    towards, back = dot(apart, n), -dot(apart, m)
    for index in range(samples):
        point = point_on(ring, 2 * math.pi * index / samples)
        arm, other = minus(point, first.centre), minus(point, second.centre)
        rise, fall = dot(arm, n), dot(other, m)
        if (
            rise * towards > 0
            and fall * back > 0
            and dot(arm, arm) - rise**2 < first.core_radius**2
            and dot(other, other) - fall**2 < second.core_radius**2
        ):
            return True
    return False


_TABLE = tuple((math.cos(angle), math.sin(angle), angle) for angle in (math.pi * k / 12 for k in range(24)))
_ROUNDING = 1e-12  # relative error of the distances below, with room: some ten float operations each


def least_distance(
    a: Circle, b: Circle, *, tolerance: float = 1e-6, enough: float = math.inf
) -> tuple[float, float]:
    """Bounds (lower, upper), mm, of the least distance of two cores, about `tolerance` apart or nearer.

    Stops early, with a wide gap, once the lower bound reaches `enough`. The lower bound is rigorous. Method
    (ours): with rho(t) how far the point b(t) is from the axis of a, the squared distance of b(t) from circle
    a is

        g(t) = |b(t) - centre of a|^2 + R^2 - 2 R rho(t),

    and g'' <= M everywhere, because |.|^2 has second derivative at most 2 R_b |centre offset in b's plane|
    and rho'' >= -R_b (or the sharper bound in `_curvature`). So g lies no further below a chord than M (t -
    t0)(t1 - t) / 2, intervals are bounded from below, and the lowest are halved until the bounds meet.
    """
    if b.core_radius > a.core_radius:
        a, b = b, a
    u, v, m = frame(b.normal)
    e, f, n = frame(a.normal)
    offset = minus(b.centre, a.centre)
    big, small = a.core_radius, b.core_radius
    x0, x1, x2 = dot(offset, e), small * dot(u, e), small * dot(v, e)
    y0, y1, y2 = dot(offset, f), small * dot(u, f), small * dot(v, f)
    z0, z1, z2 = dot(offset, n), small * dot(u, n), small * dot(v, n)
    swing = 2 * small * math.sqrt(dot(offset, u) ** 2 + dot(offset, v) ** 2)
    curvature = swing + _curvature(math.sqrt(x0 * x0 + y0 * y0), dot(m, n), big, small)
    slack = _ROUNDING * (big + small + math.sqrt(dot(offset, offset)))

    def squared(cosine: float, sine: float) -> float:
        x, y, z = x0 + x1 * cosine + x2 * sine, y0 + y1 * cosine + y2 * sine, z0 + z1 * cosine + z2 * sine
        return (math.sqrt(x * x + y * y) - big) ** 2 + z * z

    values = [squared(cosine, sine) for cosine, sine, _ in _TABLE]
    best = min(values)
    wanted = enough * enough
    pending = []
    step = math.pi / 12
    for index, value in enumerate(values):
        following = values[(index + 1) % 24]
        pending.append(
            (_below_chord(value, following, step, curvature), _TABLE[index][2], step, value, following)
        )
    while True:
        # stop when the square roots differ by no more than the tolerance, or when far enough apart for the
        # caller
        goal = min(max(best - max(tolerance**2, 2 * tolerance * math.sqrt(best)), 0.0), wanted)
        open_ones = [item for item in pending if item[0] < goal]
        if not open_ones:
            break
        pending = []
        for _, start, width, left, right in open_ones:
            half = width / 2
            middle_angle = start + half
            middle = squared(math.cos(middle_angle), math.sin(middle_angle))
            best = min(best, middle)
            pending.append((_below_chord(left, middle, half, curvature), start, half, left, middle))
            pending.append((_below_chord(middle, right, half, curvature), middle_angle, half, middle, right))
    return max(0.0, math.sqrt(goal) - slack), math.sqrt(best) + slack


def _curvature(sideways: float, aligned: float, big: float, small: float) -> float:
    """An upper bound of the second derivative of -2 R rho in `least_distance`.

    With s the offset of the centres across a's axis, w the point seen along it and c the cosine of the angle
    of the planes: |w x w'| >= q = R_b^2 |c| - R_b s, and rho'' = (w x w')^2 / rho^3 - rho + w.s / rho is at
    least q^2 / top^3 - top - s, where rho <= top = s + R_b. This is near 0 for two rings side by side on one
    axis, where the plain bound -R_b would be wasteful.
    """
    sideways += 1e-12
    top = sideways + small
    turning = max(0.0, small * small * abs(aligned) - small * sideways)
    least = max(-small, turning * turning / top**3 - top - sideways)
    return 2 * big * max(0.0, -least) + 1e-9


def _below_chord(left: float, right: float, width: float, curvature: float) -> float:
    """A lower bound, from its ends, of a squared distance whose second derivative is at most `curvature`."""
    bow = curvature * width * width / 2
    if abs(right - left) >= bow:
        return min(left, right)
    return max(0.0, (left + right) / 2 - bow / 4 - (right - left) ** 2 / (4 * bow))
