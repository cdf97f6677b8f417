"""The layout of a whole piece from that of one with most repeats left out: the last repeat before the cut, screwed on.

In: the circles of the short piece and where repeats go. Out: circles of the whole, near enough to relax. The motion
from a repeat to the next is a screw about the line along which they follow each other; its angle is the one that
carries rings and their normals best, whichever way the normals point.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from compiler.geometry import cross, dot, mean, minus, plus, turned, unit
from compiler.layout import Circle, LayoutProblem, Vector, rounded_circle
from compiler.settle.repeats import Repeats

_ANGLES = 24  # angles from which the best is sought
_ROUNDS = 8
_SEEN = 4  # rings at least that a motion must carry well
_POOR = 0.1  # core radii: a worse motion is none
_PLAIN = (
    0.06  # core radii: a turn that brings rings nearer than so much closer together than none is no accident
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """A turn about an axis through a point, and a shift."""

    axis: Vector  # unit
    angle: float  # radians
    start: Vector  # mm, the middle of a repeat,
    to: Vector  # mm, and of the next

    def place(self, point: Vector) -> Vector:
        """Where a point comes to lie."""
        return plus(self.to, self.turned(minus(point, self.start)))

    def turned(self, vector: Vector) -> Vector:
        """The vector, turned."""
        return turned(vector, self.axis, self.angle)

    def back(self) -> Screw:
        """The motion back."""
        return Screw(axis=self.axis, angle=-self.angle, start=self.to, to=self.start)


def joined(problem: LayoutProblem, repeats: Repeats, short: Sequence[Circle]) -> tuple[Circle, ...]:
    """Circles of every ring of the whole piece."""
    error, screw = screw_between(short, repeats)
    if error > _POOR * short[0].core_radius:  # each may be the mirror image of the one before
        twice = replace(repeats, shift=2 * repeats.shift, left_out=repeats.left_out // 2)
        twice_error, twice_screw = screw_between(short, twice)
        if twice_error < error:
            repeats, screw = twice, twice_screw
    cut, shift = repeats.cut, repeats.shift
    circles = list(short[:cut])
    for ring in range(cut, cut + repeats.gone):
        circles.append(moved(circles[ring - shift], screw))
    for ring in range(cut, len(short)):
        circle = short[ring]
        for _ in range(0 if ring in repeats.late else repeats.left_out):
            circle = moved(circle, screw)
        circles.append(circle)
    return tuple(
        rounded_circle(circle.centre, circle.normal, size)
        for circle, size in zip(circles, problem.rings, strict=True)
    )


def screw_between(short: Sequence[Circle], repeats: Repeats) -> tuple[float, Screw]:
    """The motion that carries the repeat before the cut onto the one after it, and by how many mm it fails to."""
    cut, shift = repeats.cut, repeats.shift
    seen = min(max(shift, _SEEN), cut)  # a single ring is carried anywhere by some turn
    one, other = short[cut - seen : cut], short[cut - seen + shift : cut + shift]
    start, to = _middle(one), _middle(other)
    along = minus(_middle(short[cut : cut + 2 * shift]), _middle(short[max(cut - 2 * shift, 0) : cut]))
    axis = unit(along)
    tries = [
        _best_turn(axis, 2 * math.pi * number / _ANGLES, one, other, start, to) for number in range(_ANGLES)
    ]
    error, angle = min(tries, key=lambda item: (round(item[0], 9), item[1]))
    straight = Screw(axis=axis, angle=0.0, start=start, to=to)
    plain = _error(straight, one, other)
    if plain < error + _PLAIN * one[0].core_radius:
        return plain, straight
    return error, Screw(axis=axis, angle=angle, start=start, to=to)


def fitted(
    along: Vector, one: Sequence[Circle], other: Sequence[Circle], angle: float
) -> tuple[float, Screw]:
    """The motion about a direction that carries some circles onto others, begun from an angle, and its error, mm."""
    start, to, axis = _middle(one), _middle(other), unit(along)
    error, turn = _best_turn(axis, angle, one, other, start, to)
    return error, Screw(axis=axis, angle=turn, start=start, to=to)


def _best_turn(
    axis: Vector, angle: float, one: Sequence[Circle], other: Sequence[Circle], start: Vector, to: Vector
) -> tuple[float, float]:
    """Error and angle of the turn that is best with normals on the sides that they have after a turn by `angle`."""
    for _ in range(_ROUNDS):
        screw = Screw(axis=axis, angle=angle, start=start, to=to)
        sine = cosine = 0.0
        for a, b in zip(one, other, strict=True):
            side = 1.0 if dot(screw.turned(a.normal), b.normal) >= 0 else -1.0
            for v, w, weight in (
                (minus(a.centre, start), minus(b.centre, to), 1.0),
                (a.normal, b.normal, side * a.core_radius**2),
            ):
                sine += weight * dot(axis, cross(v, w))
                cosine += weight * (dot(v, w) - dot(v, axis) * dot(w, axis))
        angle = math.atan2(sine, cosine)
    screw = Screw(axis=axis, angle=angle, start=start, to=to)
    return _error(screw, one, other), angle


def _error(screw: Screw, one: Sequence[Circle], other: Sequence[Circle]) -> float:
    """Root mean square distance, mm, between rings that were carried and those that lie there."""
    total = 0.0
    for a, b in zip(one, other, strict=True):
        gap = minus(screw.place(a.centre), b.centre)
        total += dot(gap, gap) + a.core_radius**2 * (1 - dot(screw.turned(a.normal), b.normal) ** 2)
    return math.sqrt(max(total, 0.0) / len(one))


def moved(circle: Circle, screw: Screw) -> Circle:
    """A circle, carried on."""
    return Circle(
        centre=screw.place(circle.centre),
        normal=screw.turned(circle.normal),
        core_radius=circle.core_radius,
        tube_radius=circle.tube_radius,
    )


def _middle(circles: Sequence[Circle]) -> Vector:
    return mean([circle.centre for circle in circles])
