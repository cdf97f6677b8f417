"""Bodies of findings in figures: the signs of `booklet.findingshapes`, each at its eye, or from eye to eye.

In: a `Sign`, the loops of its eyes, the scale. Out: page items, drawn beneath the rings. Not to scale.
"""

from __future__ import annotations

import math

from compiler.booklet.findingshapes import Frame, Pens, between_eyes, shape_of
from compiler.booklet.page import Color, Item
from compiler.figure.picture import Sign, rim_of, sign_end
from compiler.figure.scene import Loop
from compiler.figure.strokes import Window

_LINE = 1.0
"""Points."""


def sign_items(
    sign: Sign, loop: Loop, other: Loop | None, window: Window, ink: Color, fill: Color
) -> tuple[Item, ...]:
    """The body of a finding."""
    pens = Pens(ink=ink, fill=fill, width=_LINE)
    x, y = window.point(*loop.centre[:2])
    rim = rim_of(loop) * window.scale
    if other is not None:
        rims = rim, rim_of(other) * window.scale
        return between_eyes(sign.type, (x, y), window.point(*other.centre[:2]), rims, pens)
    end = window.point(*sign_end(loop, sign))
    turn = math.atan2(end[1] - y, end[0] - x)
    frame = Frame(x=x, y=y, turn=turn, rim=rim, size=math.dist((x, y), end) - rim)
    return shape_of(sign.type).draw(frame, pens)
