"""The schematic: every ring flat and facing the reader, linked rings overlapping, over and under as the links say.

In: a weave, a piece. Out: a `Picture` from the flat positions. Rings lie with their fronts to the reader, so that
each runs counter-clockwise; a ring that enters another from the front comes over its wire where it enters and lies
under it where it leaves (see `compiler.problem` for the sign). Rings that overlap without being linked lie wholly
one over the other. The wire is drawn thinner than it is, and companions side by side.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from compiler.booklet.findingshapes import shape_of
from compiler.figure.notes import Note
from compiler.figure.picture import Picture, Sign
from compiler.figure.scene import Bools, Floats, Loop, cover_of
from compiler.flat.place import Flat, flat_positions
from compiler.flat.sizes import node_sizes
from compiler.weave import Companionship, PieceWeave, RelationKind, Weave

_WIRE = 0.72
"""Share of the true wire that is drawn, so that crossings can be read."""
_THICKEST = 0.1
"""And never more than this share of the core radius: crossings that lie close together stay apart."""
_ASIDE = (0.86, -0.6)
"""How far each companion lies beside the one before, in drawn wires: to the right and down."""
_COLLAR = 0.36
"""A ring that goes around others is seen from its side: so narrow is it drawn."""
_MARGIN = 0.4
"""Wires this near to each other, in radii of the thinnest, are put in order: parts are told by their middles."""


def schematic(weave: Weave, piece_index: int) -> Picture:
    """The flat picture of a piece."""
    piece = weave.pieces[piece_index]
    flat = flat_positions(weave, piece_index)
    sizes = node_sizes(weave, piece)
    last = _last_companions(piece)
    axes = _collar_axes(piece, flat)
    loops = []
    for node, size in enumerate(sizes):
        nested = piece.companionship.get(piece.strand[node]) is Companionship.NESTED
        beside = (
            0.0 if nested or piece.kind[node] < 0 else piece.companion[node] - last[piece.strand[node]] / 2
        )
        tube = min(_WIRE * size.tube_radius, _THICKEST * size.core_radius)
        shift = 2 * tube * beside
        x, y = flat.places[node][0] + shift * _ASIDE[0], flat.places[node][1] + shift * _ASIDE[1]
        loops.append(
            Loop(
                node=node,
                centre=(x, y, 0.0),
                along=_scaled(
                    axes.get(node, (1.0, 0.0)), size.core_radius * (_COLLAR if node in axes else 1.0)
                ),
                across=_scaled(_left(axes.get(node, (1.0, 0.0))), size.core_radius),
                tube=tube,
            )
        )
    margin = _MARGIN * min((loop.tube for loop in loops), default=0.0)
    return Picture(
        loops=tuple(loops),
        cover=cover_of(loops, margin, _Sides(piece, loops)),
        signs=signs_of(weave, piece, flat),
        schematic=True,
        travel=(1,) * len(loops),
        stand=flat.stand,
        notes=(Note.CUT_OPEN,) if flat.cut else (),
    )


def signs_of(weave: Weave, piece: PieceWeave, flat: Flat) -> tuple[Sign, ...]:
    """The bodies of a piece's findings, pointing away from what they hang on."""
    found: list[Sign] = []
    for use in piece.findings:
        kind = weave.finding_kinds[use.kind]
        found += [
            Sign(
                node=use.eyes[0],
                other=eye,
                type=kind.type,
                angle=flat.out[use.eyes[0]],
                length=shape_of(kind.type).length,
            )
            for eye in use.eyes[1:] or (-1,)
        ]
    return tuple(found)


def _collar_axes(piece: PieceWeave, flat: Flat) -> dict[int, tuple[float, float]]:
    """By ring that goes around others: the direction, of unit length, in which it is threaded onto them."""
    found = {}
    for relation in piece.relations:
        if relation.kind is RelationKind.AROUND:
            first, last = flat.places[relation.others[0]], flat.places[relation.others[-1]]
            x, y = last[0] - first[0], last[1] - first[1]
            if math.hypot(x, y) < 1e-6:  # one ring: along its wire where the collar lies
                here = flat.places[relation.node]
                x, y = first[1] - here[1], here[0] - first[0]
            size = math.hypot(x, y)
            found[relation.node] = (x / size, y / size) if size > 1e-6 else (1.0, 0.0)
    return found


def _left(direction: tuple[float, float]) -> tuple[float, float]:
    return -direction[1], direction[0]


def _scaled(direction: tuple[float, float], size: float) -> tuple[float, float, float]:
    return size * direction[0], size * direction[1], 0.0


def _last_companions(piece: PieceWeave) -> dict[int, int]:
    last: dict[int, int] = {}
    for strand, companion in zip(piece.strand, piece.companion, strict=True):
        last[strand] = max(last.get(strand, 0), companion)
    return last


def _radius(loop: Loop) -> float:
    return math.hypot(*loop.across)


def _near_half(collar: Loop, x: Floats, y: Floats) -> Bools:
    """Which places lie on the half of a collar that is nearer to the reader."""
    return np.asarray((x - collar.centre[0]) * collar.along[0] + (y - collar.centre[1]) * collar.along[1] < 0)


_ABOVE = {RelationKind.BETWEEN: True, RelationKind.OVER: True, RelationKind.UNDER: False}


class _Sides:
    """Over and under in the flat drawing."""

    def __init__(self, piece: PieceWeave, loops: Sequence[Loop]) -> None:
        self._loops = loops
        self._linked: dict[tuple[int, int], int] = {}
        for a, b, sign in zip(piece.link_a, piece.link_b, piece.link_sign, strict=True):
            self._linked[a, b] = sign
            self._linked[b, a] = sign
        self._around: set[tuple[int, int]] = set()
        self._above: dict[tuple[int, int], bool] = {}
        for relation in piece.relations:
            for place, other in enumerate(relation.others):
                if relation.kind is RelationKind.AROUND:
                    self._around.add((relation.node, other))
                elif relation.kind in _ABOVE:
                    # between: under the first ring of the strand, over the others
                    above = place > 0 if relation.kind is RelationKind.BETWEEN else _ABOVE[relation.kind]
                    self._above[relation.node, other] = above
                    self._above[other, relation.node] = not above
        self._strand = piece.strand
        self._near: list[dict[int, None]] = [{} for _ in loops]
        for a, b in zip(piece.link_a, piece.link_b, strict=True):
            self._near[a][b] = self._near[b][a] = None

    def __call__(self, first: int, second: int, x: Floats, y: Floats) -> Bools:
        """Where the first lies over the second."""
        if self.free(first, second):
            return np.full(x.shape, self._on_top(first, second, float(x.mean()), float(y.mean())))
        a, b = self._loops[first], self._loops[second]
        if (first, second) in self._around:
            return _near_half(a, x, y)
        if (second, first) in self._around:
            return np.logical_not(_near_half(b, x, y))
        known = self._above.get((first, second))
        if known is not None:
            return np.full(x.shape, known)
        # seen along the line from its centre to the other's, a ring that runs counter-clockwise enters on the
        # right; the rule is the same for both rings of a link, since the sign is
        ahead = (b.centre[0] - a.centre[0]) * (y - a.centre[1]) - (b.centre[1] - a.centre[1]) * (
            x - a.centre[0]
        )
        return np.asarray(self._linked[first, second] * ahead < 0)

    def free(self, first: int, second: int) -> bool:
        """Rings that overlap without being linked, or that are drawn too far apart to show their link."""
        pair = (first, second)
        if pair in self._around or (second, first) in self._around or pair in self._above:
            return False
        a, b = self._loops[first], self._loops[second]
        gap = math.dist(a.centre, b.centre)
        radii = _radius(a), _radius(b)
        return pair not in self._linked or not abs(radii[0] - radii[1]) < gap < radii[0] + radii[1]

    def _on_top(self, first: int, second: int, x: float, y: float) -> bool:
        """Whether the first of two free rings is drawn over the second.

        Where a third ring runs over the one and under the other just there, it tells; else the first ring of a
        strand lies on its companions, and what is made later on what is made earlier.
        """
        at = np.array([x]), np.array([y])
        votes = 0
        for third in self._near[first]:
            loop = self._loops[third]
            if third not in self._near[second] or self.free(first, third) or self.free(third, second):
                continue
            off = abs(math.dist(loop.centre[:2], (x, y)) - _radius(loop))
            if off < 2 * (loop.tube + self._loops[first].tube):
                votes += int(self(first, third, *at)[0]) + int(self(third, second, *at)[0]) - 1
        if votes:
            return votes > 0
        return (first > second) is (self._strand[first] != self._strand[second])
