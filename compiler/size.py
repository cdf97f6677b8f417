"""The finished size of a layout, lying flat, wire included, and the pitch of what repeats in it.

In: the circles of a layout, and the weave of the piece for its lines and rows. Out: millimetres. Plain Python.

How it lies: flat is across the direction in which the wire spreads least, long along the one in which it spreads
most, as told by the second moments of the wire (the principal axes). A piece that spreads alike every way in the
plane, such as a rosette, is measured where it is narrowest instead, and its length across that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from compiler.geometry import cross, dot, mean, minus, principal_axes, unit
from compiler.graph import Addresses
from compiler.layout import Circle, Vector
from compiler.weave import PieceWeave
from notation.statements import FamilyKind

_ALIKE = 1.1
"""Second moments in the plane that differ by less than this factor tell no direction."""
_TURNS = 360
"""Directions in the plane that are tried for the narrowest width: every half degree."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Outer measures of a piece lying flat, mm: the smallest box along its own axes that holds all wire."""

    length: float
    width: float
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pitch:
    """How far it is from one place of a family to the next, mm, in the mean, from middle to middle."""

    group: int
    """Index into PieceWeave.groups."""
    along: float | None
    """From place to place of a line, a round or a row; None where no row has two places."""
    rows: float | None
    """From row to row, between the middles of the rows; None for a line, a round or a disc."""


def size_of(circles: Sequence[Circle]) -> Size:
    """The finished size of at least one ring."""
    flat, long = _axes(circles)
    across = cross(flat, long)
    return Size(
        length=max(extent(circles, long), extent(circles, across)),
        width=min(extent(circles, long), extent(circles, across)),
        thickness=extent(circles, flat),
    )


def finished_size(piece: PieceWeave, circles: Sequence[Circle]) -> Size | None:
    """The finished size of a piece with these circles, its rings alone; None where no layout tells it.

    Of a finding no more than its eye is known; one with several eyes holds parts apart, and how far is not known.
    """
    if any(len(use.eyes) > 1 for use in piece.findings):
        return None
    rings = [circle for circle, kind in zip(circles, piece.kind, strict=True) if kind >= 0]
    return size_of(rings or circles)


def length_of(piece: PieceWeave, circles: Sequence[Circle]) -> float:
    """How long a piece is lying flat, mm: its finished length, or that with the eyes of findings that hold it apart."""
    return (finished_size(piece, circles) or size_of(circles)).length


def lengthwise(circles: Sequence[Circle]) -> Vector:
    """The direction in which a piece is longest, lying flat; of unit length."""
    flat, long = _axes(circles)
    across = cross(flat, long)
    return long if extent(circles, long) >= extent(circles, across) else across


def extent(circles: Sequence[Circle], direction: Vector) -> float:
    """How far the wires reach along a unit direction, mm.

    A circle reaches core radius times the sine of the angle between its normal and the direction to each side of
    its centre, and the wire its own radius more.
    """
    low, high = math.inf, -math.inf
    for circle in circles:
        cosine = dot(unit(circle.normal), direction)
        reach = circle.core_radius * math.sqrt(max(0.0, 1 - cosine * cosine)) + circle.tube_radius
        middle = dot(circle.centre, direction)
        low, high = min(low, middle - reach), max(high, middle + reach)
    return high - low


def _axes(circles: Sequence[Circle]) -> tuple[Vector, Vector]:
    """Across the plane in which the piece lies, and along its length in that plane; of unit length."""
    moments, axes = principal_axes(_spread(circles))
    order = sorted(range(3), key=lambda axis: (-moments[axis], axis))
    long, wide, flat = (axes[axis] for axis in order)
    if moments[order[0]] > _ALIKE * moments[order[1]]:
        return flat, long
    narrowest = min(
        ((extent(circles, direction), number, direction) for number, direction in _turned(long, wide)),
        key=lambda item: (round(item[0], 6), item[1]),
    )[2]
    return flat, unit(cross(narrowest, flat))


def _turned(long: Vector, wide: Vector) -> list[tuple[int, Vector]]:
    """Directions in the plane of two unit vectors, numbered, over half a turn."""
    out = []
    for number in range(_TURNS):
        c, s = math.cos(math.pi * number / _TURNS), math.sin(math.pi * number / _TURNS)
        x, y, z = (c * a + s * b for a, b in zip(long, wide, strict=True))
        out.append((number, (x, y, z)))
    return out


def _spread(circles: Sequence[Circle]) -> list[list[float]]:
    """Second moments of the cores about their common centre, weighted by the volume of the wire.

    A circle of radius R with unit normal n adds R^2 / 2 (1 - n n^T) about its own centre.
    """
    weights = [circle.core_radius * circle.tube_radius**2 for circle in circles]
    total = math.fsum(weights)
    x, y, z = (
        math.fsum(weight * circle.centre[axis] for weight, circle in zip(weights, circles, strict=True))
        / total
        for axis in range(3)
    )
    rows = [[0.0] * 3 for _ in range(3)]
    for weight, circle in zip(weights, circles, strict=True):
        arm, n = minus(circle.centre, (x, y, z)), unit(circle.normal)
        half = circle.core_radius**2 / 2
        for i in range(3):
            for j in range(3):
                own = half * ((i == j) - n[i] * n[j])
                rows[i][j] += weight / total * (arm[i] * arm[j] + own)
    return rows


# ---------------------------------------------------------------- what repeats


def pitches(piece: PieceWeave, circles: Sequence[Circle]) -> tuple[Pitch, ...]:
    """The pitch of each family of the piece that has at least two places."""
    addresses = Addresses(piece)
    rows: dict[int, dict[int, dict[int, list[Vector]]]] = {}
    for node, group in enumerate(piece.group):
        if group < 0 or piece.groups[group].shape is None:
            continue
        address = addresses.of(node)
        places = rows.setdefault(group, {}).setdefault(address.row, {})
        places.setdefault(address.place, []).append(circles[node].centre)
    out = []
    for group in sorted(rows):
        shape = piece.groups[group].shape
        disc = shape is not None and shape.kind is FamilyKind.DISC
        closed = disc or (shape is not None and shape.kind in (FamilyKind.ROUND, FamilyKind.TUBE))
        steps: list[float] = []
        middles: list[tuple[int, Vector]] = []
        for row in sorted(rows[group]):
            centres = [(place, mean(rings)) for place, rings in sorted(rows[group][row].items())]
            steps += _steps(centres)
            if closed and len(centres) > 2:
                steps.append(math.dist(centres[-1][1], centres[0][1]))
            middles.append((row, mean([centre for _, centre in centres])))
        between = [] if disc else _steps(middles)
        if steps or between:
            out.append(Pitch(group=group, along=_average(steps), rows=_average(between)))
    return tuple(out)


def _steps(numbered: Sequence[tuple[int, Vector]]) -> list[float]:
    """Distances between those whose numbers follow on one another."""
    return [math.dist(here, there) for (i, here), (j, there) in pairwise(numbered) if j == i + 1]


def _average(values: Sequence[float]) -> float | None:
    return math.fsum(values) / len(values) if values else None
