"""A picture, or a part of it, as page items: rings with their marks, findings, the way of the wire, the small whole.

In: a `Picture`, the nodes to be drawn, their roles in the step, a window. Out: page items from the window's top left.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from compiler.booklet.figuretypes import Mark
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Block, Circle, Face, Item, Line, Rectangle, Stroke, Text
from compiler.booklet.style import INK, MUTED, PAPER, PLACED, THIN
from compiler.figure.look import Look, blend, ring_look
from compiler.figure.passing import way_items
from compiler.figure.picture import Box, Picture, arcs_of, box_of
from compiler.figure.roles import Roles
from compiler.figure.scene import NOTHING, Loop
from compiler.figure.signs import sign_items
from compiler.figure.strokes import Window, ring_items
from compiler.weave import PieceWeave

SMALL_WIDTH, SMALL_HEIGHT = 0.6, 0.16
"""Room for the small whole, as shares of the figure's."""


def drawn(
    picture: Picture, piece: PieceWeave, nodes: Sequence[int], roles: Roles | None, window: Window
) -> tuple[Item, ...]:
    """The nodes; without roles as in a finished piece."""
    shown = set(nodes)
    items = list(findings(picture, piece, nodes, roles, window))
    loops, arcs, cover = arcs_of(picture, nodes)
    looks = [_look(piece, node, roles) for node in nodes]
    items += ring_items(loops, arcs, looks, window)
    if roles is not None and roles.actor in shown:
        number = list(nodes).index(roles.actor)
        items += way_items(loops[number], cover.covered(number), picture.travel[roles.actor], window)
    return tuple(items)


def findings(
    picture: Picture, piece: PieceWeave, nodes: Sequence[int], roles: Roles | None, window: Window
) -> tuple[Item, ...]:
    """The bodies of the findings that are there."""
    shown = set(nodes)
    items: list[Item] = []
    for sign in picture.signs:
        if sign.node in shown and (sign.other < 0 or sign.other in shown):
            look = _look(piece, sign.node, roles)
            other = picture.loops[sign.other] if sign.other >= 0 else None
            ink, fill = blend(look.outline, PAPER, 0.15), blend(look.wire, PAPER, 0.45)
            items += sign_items(sign, picture.loops[sign.node], other, window, ink, fill)
    return tuple(items)


def _look(piece: PieceWeave, node: int, roles: Roles | None) -> Look:
    kind = piece.kind[node] if piece.kind[node] >= 0 else 2
    if roles is None:
        return ring_look(None, kind)
    look = ring_look(roles.marks[node], kind)
    if roles.marks[node] is Mark.NEW and node != roles.actor:  # only one ring shows the way of the wire
        return replace(look, line=blend(look.wire, PAPER, 0.55), lit=True)
    return look


def locator(
    picture: Picture, roles: Roles, part: Box, width: float, height: float
) -> tuple[tuple[Item, ...], tuple[float, float]]:
    """The whole piece small, what is there so far as discs, with a frame round the part that is shown; and its size."""
    whole = box_of(picture, range(len(picture.loops)), signs=False)
    scale = min(SMALL_WIDTH * width / whole.width, SMALL_HEIGHT * height / whole.height)
    window = Window(scale=scale, left=whole.left - 3 / scale, top=whole.top + 3 / scale)
    items: list[Item] = []
    for mark in (None, Mark.PLACED, Mark.PASSED, Mark.CARRIED, Mark.NEW):
        for loop in picture.loops:
            if roles.marks.get(loop.node) is not mark:
                continue
            x, y = window.point(*loop.centre[:2])
            radius = max(0.7, max(math.hypot(*loop.along[:2]), math.hypot(*loop.across[:2])) * scale)
            if mark is None:
                items.append(Circle(x=x, y=y, radius=radius, stroke=Stroke(color=PLACED, width=0.3)))
            else:
                look = ring_look(mark, 0)
                fill = look.wire if mark is not Mark.CARRIED else look.outline
                items.append(Circle(x=x, y=y, radius=radius, fill=fill))
    left, top = window.point(max(part.left, whole.left), min(part.top, whole.top))
    right, bottom = window.point(min(part.right, whole.right), max(part.bottom, whole.bottom))
    items.append(
        Rectangle(
            x=left - 1.5,
            y=top - 1.5,
            width=right - left + 3,
            height=bottom - top + 3,
            radius=2.0,
            stroke=Stroke(color=INK, width=0.8),
        )
    )
    return tuple(items), (whole.width * scale + 6, whole.height * scale + 6)


_SAMPLE_WIDTH, _SAMPLE_HEIGHT = 30.0, 18.0


def sample(mark: Mark) -> Block:
    """A ring with this mark, for the key to the figures."""
    loop = Loop(node=0, centre=(15.0, 9.0, 0.0), along=(6.4, 0.0, 0.0), across=(0.0, 6.4, 0.0), tube=1.35)
    window = Window(scale=1.0, left=0.0, top=_SAMPLE_HEIGHT)
    picture = Picture(loops=(loop,), cover=NOTHING, signs=(), schematic=True, travel=(1,))
    shown, arcs, _ = arcs_of(picture, (0,))
    items = list(ring_items(shown, arcs, [_sample_look(mark)], window))
    if mark is Mark.PATH:
        items += way_items(shown[0], (), 1, window)
    return Block(width=_SAMPLE_WIDTH, height=_SAMPLE_HEIGHT, items=tuple(items))


def _sample_look(mark: Mark) -> Look:
    if mark is Mark.PATH:
        return ring_look(Mark.NEW, 0)
    look = ring_look(mark, 0)
    return replace(look, line=blend(look.wire, PAPER, 0.55), lit=True) if mark is Mark.NEW else look


BAR_HEIGHT = 15.0
"""Points that a scale bar and its words take under a figure."""
_BARS = (1, 2, 5, 10, 20, 50, 100)


def scale_bar(scale: float) -> tuple[tuple[Item, ...], float]:
    """A bar of a round number of mm of the piece, about 45 pt long at `scale` points per mm; and its width."""
    long = min(_BARS, key=lambda length: (abs(length * scale - 45.0), length))
    end = long * scale
    stroke = Stroke(color=MUTED, width=THIN)
    y = 10.0
    text = f"{long} mm"
    items: tuple[Item, ...] = (
        Line(x1=0.0, y1=y, x2=end, y2=y, stroke=stroke),
        Line(x1=0.0, y1=y - 3.0, x2=0.0, y2=y + 3.0, stroke=stroke),
        Line(x1=end, y1=y - 3.0, x2=end, y2=y + 3.0, stroke=stroke),
        Text(x=end + 5.0, y=y + 3.0, string=text, face=Face.REGULAR, size=8.5, color=MUTED),
    )
    return items, end + 5.0 + text_width(text, Face.REGULAR, 8.5)
