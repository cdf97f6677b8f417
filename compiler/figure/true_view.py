"""The true view: a proved layout seen from its front, every ring in its place, over and under by depth.

In: a weave, a piece and its layout. Out: a `Picture`. The view is orthographic, onto the plane in which the piece
spreads; it is turned so that the piece stands as in the flat drawing, and a chain is tilted, since every other
ring would be seen from its edge. One view serves the whole piece.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.figure.notes import Note
from compiler.figure.picture import Picture
from compiler.figure.scene import Loop, cover_of
from compiler.figure.schematic import signs_of
from compiler.flat.place import Flat, flat_positions
from compiler.front import View, front_of, seen, wrong_from
from compiler.geometry import cross, dot, mean, minus, piercings, times, unit
from compiler.layout import Circle, Layout, Over, Vector
from compiler.posed import sides_ahead
from compiler.rolled import closing_step
from compiler.surfaces import aheads, over_facts
from compiler.weave import PieceWeave, RelationKind, Weave
from notation.statements import FamilyKind

_EDGE_ON, _LOW, _MOSTLY = 0.2, 0.4, 0.6
"""A collar whose normal is so nearly across the view (cosine) is seen as a bar; a band is where such a share of its
rings is seen so low."""
_SIDEWAYS, _FROM_ABOVE = math.radians(25.0), math.radians(30.0)
"""By how much the view is turned then."""
_CLOSED = (FamilyKind.TUBE, FamilyKind.ROUND)
_MARGIN = 0.4
"""Wires this near to each other, in radii of the thinnest, are put in order: parts are told by their middles."""


def true_view(weave: Weave, piece_index: int, layout: Layout) -> Picture:
    """The picture of a piece from the circles of its layout."""
    piece = weave.pieces[piece_index]
    flat = flat_positions(weave, piece_index)
    circles = layout.circles
    facts = over_facts(piece)
    front = front_of(circles, facts)
    sides = sides_ahead(circles, aheads(piece), front.view[2], front.sides)
    view = _on_the_seam(piece, circles, _as_flat(circles, flat, front.view, sides))
    view = _aslant(piece, circles, view, facts)
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
        wrong_over=len(wrong_from(circles, view, facts)),
        travel=_travel(piece, circles, view),
        stand=flat.stand,
        notes=(Note.SIGNS,) if signs else (),
    )


def _loop(node: int, circle: Circle, view: View) -> Loop:
    ring = seen(circle, view)
    return Loop(node=node, centre=ring.centre, along=ring.along, across=ring.across, tube=circle.tube_radius)


# ---------------------------------------------------------------- the view


def _as_flat(circles: Sequence[Circle], flat: Flat, view: View, sides: Sequence[float]) -> View:
    """The view from one of the sides, and turned, so that the places agree best with those of the flat drawing."""
    best: tuple[float, View] | None = None
    for side in sides:
        right, up, eye = view[0], times(view[1], side), times(view[2], side)
        places = [(dot(circle.centre, right), dot(circle.centre, up)) for circle in circles]
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


def _on_the_seam(piece: PieceWeave, circles: Sequence[Circle], view: View) -> View:
    """The view of a sheet whose edges are joined, rolled along its rows until the seam faces the eye."""
    step = closing_step(piece)
    if not step:
        return view
    first = piece.steps[step - 1].first
    seam = mean([circle.centre for circle, born in zip(circles, piece.born, strict=True) if born >= first])
    out = minus(seam, mean([circle.centre for circle in circles]))
    right = view[0]
    out = minus(out, times(right, dot(out, right)))
    if dot(out, out) == 0:
        return view
    eye = unit(out)
    return right, cross(eye, right), eye


def _aslant(piece: PieceWeave, circles: Sequence[Circle], view: View, facts: Sequence[Over]) -> View:
    """The view, a little from the side where collars would be seen as bars, and from above where a band's rings would.

    As it is where what is said to lie over would then be seen under.
    """
    right, up, eye = view
    collars = [each.node for each in piece.relations if each.kind is RelationKind.AROUND]
    bands = [
        node
        for node, group in enumerate(piece.group)
        if group >= 0 and (shape := piece.groups[group].shape) is not None and shape.kind in _CLOSED
    ]
    if any(abs(dot(circles[node].normal, eye)) < _EDGE_ON for node in collars):
        c, s = math.cos(_SIDEWAYS), math.sin(_SIDEWAYS)
        turned = _mixed(right, eye, c, -s), up, _mixed(right, eye, s, c)
    elif sum(abs(dot(circles[node].normal, eye)) < _LOW for node in bands) > _MOSTLY * len(bands):
        c, s = math.cos(_FROM_ABOVE), math.sin(_FROM_ABOVE)
        turned = right, _mixed(up, eye, c, s), _mixed(up, eye, -s, c)
    else:
        return view
    return view if len(wrong_from(circles, turned, facts)) > len(wrong_from(circles, view, facts)) else turned


def _mixed(a: Vector, b: Vector, share_a: float, share_b: float) -> Vector:
    return (
        share_a * a[0] + share_b * b[0],
        share_a * a[1] + share_b * b[1],
        share_a * a[2] + share_b * b[2],
    )


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
