"""Small drawings of findings, one for each type, as they lie in the dish.

In: the type of a finding. Out: page items in a square of `SIDE` points: the eye and the body that figures show too.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from compiler.booklet.findingshapes import Frame, Pens, between_eyes, shape_of
from compiler.booklet.page import Circle, Item
from compiler.booklet.style import INK

SIDE = 19.0
"""Side of the square that a drawing fills, points."""
_EYE = 1.9
"""Radius of an eye to the middle of its line, points."""
_PENS = Pens(ink=INK, fill=None, width=1.0)
_UP, _DOWN, _RIGHT = -math.pi / 2, math.pi / 2, 0.0
_PLACES: Mapping[str, tuple[float, float, float, float, float]] = {
    "bail": (9.5, 15.6, _UP, _EYE, 11.0),
    "bead": (2.9, 9.5, _RIGHT, _EYE, 13.0),
    "clasp": (9.0, 16.0, _UP, _EYE, 12.4),
    "clasp-half": (9.5, 16.0, _UP, _EYE, 11.6),
    "ear-wire": (13.0, 15.6, _UP, _EYE, 11.4),
    "key-ring": (9.5, 9.8, -0.6, 5.6, 1.5),
    "post": (2.9, 9.5, _RIGHT, _EYE, 13.0),
    "toggle-bar": (9.5, 14.0, _UP, _EYE, 8.0),
    "toggle-ring": (9.5, 15.8, _UP, _EYE, 11.4),
}
"""Middle of the eye, where the body points, radius of the eye, length of the body; in points and radians."""
_OTHER = (9.5, 3.0, _DOWN, _EYE, 12.2)
_TWO_EYES = frozenset({"bar", "chain", "spacer"})
"""Types that have an eye at each end."""


def finding_items(type_name: str) -> tuple[Item, ...]:
    """The drawing of a finding of that type."""
    if type_name in _TWO_EYES:
        start, end = (2.9, SIDE / 2), (SIDE - 2.9, SIDE / 2)
        rims = _EYE + _PENS.width / 2, _EYE + _PENS.width / 2
        return (*between_eyes(type_name, start, end, rims, _PENS), _eye(*start, _EYE), _eye(*end, _EYE))
    x, y, turn, radius, size = _PLACES.get(type_name, _OTHER)
    frame = Frame(x=x, y=y, turn=turn, rim=radius + _PENS.width / 2, size=size)
    return (*shape_of(type_name).draw(frame, _PENS), _eye(x, y, radius))


def _eye(x: float, y: float, radius: float) -> Item:
    return Circle(x=x, y=y, radius=radius, stroke=_PENS.line())
