"""A picture, or a part of it, as page items: rings with their marks, findings, the way of the wire, the small whole.

In: a `Picture`, the nodes to be drawn, their roles in the step, a window. Out: page items from the window's top left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from compiler.booklet.figuretypes import Mark
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Block, Circle, Item, Rectangle, Stroke, Text
from compiler.booklet.style import FIGURE_LABEL, INK, NEW, PAPER
from compiler.figure.labels import tag_items
from compiler.figure.look import Look, blend, ring_look
from compiler.figure.order import cut
from compiler.figure.passing import way_items
from compiler.figure.picture import Box, Picture, arcs_of
from compiler.figure.roles import Roles
from compiler.figure.scene import NOTHING, Loop
from compiler.figure.signs import sign_items
from compiler.figure.strokes import Window, ring_items
from compiler.figure.words import SEVERAL
from compiler.weave import PieceWeave


def drawn(
    picture: Picture,
    piece: PieceWeave,
    nodes: Sequence[int],
    roles: Roles | None,
    window: Window,
    within: Box | None = None,
) -> tuple[Item, ...]:
    """The nodes, or what of them lies within a box, then without findings; without roles as in a finished piece."""
    shown = set(nodes)
    items = list(findings(picture, piece, nodes, roles, window)) if within is None else []
    loops, arcs, cover = arcs_of(picture, nodes)
    if within is not None:
        kept = [
            {part for part, (x, y, _) in enumerate(loop.middles()) if within.grown(-loop.tube).holds(x, y)}
            for loop in loops
        ]
        arcs = tuple(cut(arcs, kept))
    looks = [_look(piece, node, roles) for node in nodes]
    items += ring_items(loops, arcs, looks, window)
    if roles is not None and roles.actor in shown and (within is None or _lies(picture, roles.actor, within)):
        number = list(nodes).index(roles.actor)
        items += way_items(loops[number], cover.covered(number), picture.travel[roles.actor], window)
    return tuple(items)


def _lies(picture: Picture, node: int, within: Box) -> bool:
    return within.holds(*picture.loops[node].centre[:2])


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


_SAMPLE_WIDTH, _SAMPLE_HEIGHT = 40.0, 27.0


def sample(mark: Mark) -> Block:
    """A ring with this mark, for the key to the figures; or what else the mark stands for."""
    if mark is Mark.WHERE:
        return _sample_where()
    loop = Loop(node=0, centre=(20.0, 13.5, 0.0), along=(10.5, 0.0, 0.0), across=(0.0, 10.5, 0.0), tube=2.4)
    window = Window(scale=1.0, left=0.0, top=_SAMPLE_HEIGHT)
    picture = Picture(loops=(loop,), cover=NOTHING, signs=(), schematic=True, travel=(1,))
    shown, arcs, _ = arcs_of(picture, (0,))
    items = list(ring_items(shown, arcs, [_sample_look(mark)], window))
    if mark is Mark.PATH:
        items += way_items(shown[0], (), 1, window)
    if mark is Mark.TAG:
        items += tag_items("3", (20.0, 22.5), NEW)
    if mark is Mark.BEHIND:
        text = f"{SEVERAL}2"
        wide = text_width(text, FIGURE_LABEL.face, FIGURE_LABEL.size)
        items.append(
            Text(
                x=20.0 - wide / 2,
                y=16.5,
                string=text,
                face=FIGURE_LABEL.face,
                size=FIGURE_LABEL.size,
                color=NEW,
            )
        )
    return Block(width=_SAMPLE_WIDTH, height=_SAMPLE_HEIGHT, items=tuple(items))


def _sample_where() -> Block:
    """Some rings, small, with a frame round two of them."""
    gray = ring_look(Mark.PLACED, 0).outline
    discs = [Circle(x=x, y=13.5, radius=3.0, fill=gray) for x in range(4, 40, 5)]
    held = Rectangle(x=20.5, y=8.0, width=12.0, height=11.0, radius=2.0, stroke=Stroke(color=INK, width=0.8))
    return Block(width=_SAMPLE_WIDTH, height=_SAMPLE_HEIGHT, items=(*discs, held))


def _sample_look(mark: Mark) -> Look:
    if mark in (Mark.PATH, Mark.TAG, Mark.BEHIND):
        return ring_look(Mark.NEW, 0)
    look = ring_look(mark, 0)
    return replace(look, line=blend(look.wire, PAPER, 0.55), lit=True) if mark is Mark.NEW else look
