"""Small drawings of findings, one for each type, as they lie in the dish.

In: the type of a finding. Out: page items in a square of `SIDE` points. They are signs: they tell an ear wire from a
drop, and show neither a size nor a make.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from compiler.booklet.page import Cap, Circle, Item, Line, Rectangle, Stroke
from compiler.booklet.paths import Pen, polyline
from compiler.booklet.style import INK

SIDE = 19.0
"""Side of the square that a drawing fills, points."""
_MIDDLE = SIDE / 2
_THIN = Stroke(color=INK, width=1.0, cap=Cap.ROUND)
_THICK = Stroke(color=INK, width=2.4, cap=Cap.ROUND)

Items = tuple[Item, ...]


def finding_items(type_name: str) -> Items:
    """The drawing of a finding of that type."""
    return _DRAWN.get(type_name, _charm)()


def _eye(x: float, y: float, radius: float = 1.9) -> Item:
    return Circle(x=x, y=y, radius=radius, stroke=_THIN)


def _ear_wire() -> Items:
    pen = Pen().move(6.0, 13.6).line(6.0, 7.0).curve(6.0, 0.6, 14.0, 0.6, 14.0, 7.0).line(14.0, 12.6)
    pen.curve(14.0, 14.6, 14.6, 15.4, 15.8, 16.0)
    return (_eye(6.0, 15.5), pen.path(stroke=_THIN))


def _drop() -> Items:
    pen = Pen().move(_MIDDLE, 5.4).curve(10.6, 8.2, 14.0, 9.6, 14.0, 13.4)
    pen.curve(14.0, 19.2, 5.0, 19.2, 5.0, 13.4).curve(5.0, 9.6, 8.4, 8.2, _MIDDLE, 5.4)
    return (_eye(_MIDDLE, 3.4), pen.close().path(stroke=_THIN))


def _chain() -> Items:
    links = tuple(Circle(x=x, y=_MIDDLE, radius=2.9, stroke=_THIN) for x in (4.0, _MIDDLE, 15.0))
    joints = tuple(Line(x1=x - 1.8, y1=_MIDDLE, x2=x + 1.8, y2=_MIDDLE, stroke=_THIN) for x in (6.75, 12.25))
    return (*links, *joints)


def _toggle_bar() -> Items:
    return (Line(x1=2.6, y1=6.6, x2=16.4, y2=6.6, stroke=_THICK), _eye(_MIDDLE, 10.3))


def _toggle_ring() -> Items:
    return (
        Circle(x=_MIDDLE, y=7.2, radius=5.0, stroke=Stroke(color=INK, width=2.0)),
        _eye(_MIDDLE, 15.4),
    )


def _clasp() -> Items:
    body = Pen().arc(_MIDDLE, 6.8, 5.0, -20.0, -230.0)
    gate = Line(x1=14.2, y1=7.6, x2=9.6, y2=12.6, stroke=_THICK)
    stem = Line(x1=6.6, y1=11.0, x2=_MIDDLE, y2=13.6, stroke=_THIN)
    return (body.path(stroke=_THIN), gate, stem, _eye(_MIDDLE, 15.8))


def _clasp_half() -> Items:
    hook = Pen().move(7.0, 13.6).line(7.0, 6.6).curve(7.0, 1.6, 13.4, 1.6, 13.4, 6.4).line(13.4, 8.6)
    return (hook.path(stroke=Stroke(color=INK, width=1.8, cap=Cap.ROUND)), _eye(7.0, 15.6))


def _bar() -> Items:
    return (
        Line(x1=6.4, y1=_MIDDLE, x2=12.6, y2=_MIDDLE, stroke=_THICK),
        _eye(3.2, _MIDDLE),
        _eye(15.8, _MIDDLE),
    )


def _bail() -> Items:
    pen = Pen().move(_MIDDLE, 13.4).curve(5.4, 9.6, 5.4, 1.6, _MIDDLE, 1.6)
    pen.curve(13.6, 1.6, 13.6, 9.6, _MIDDLE, 13.4)
    return (pen.close().path(stroke=_THIN), _eye(_MIDDLE, 15.4))


def _bead() -> Items:
    return (
        Circle(x=_MIDDLE, y=_MIDDLE, radius=5.0, stroke=_THIN),
        Line(x1=1.4, y1=_MIDDLE, x2=4.5, y2=_MIDDLE, stroke=_THIN),
        Line(x1=14.5, y1=_MIDDLE, x2=17.6, y2=_MIDDLE, stroke=_THIN),
    )


def _spacer() -> Items:
    plate = Rectangle(x=6.2, y=2.4, width=6.6, height=14.2, radius=2.4, stroke=_THIN)
    return (plate, _eye(_MIDDLE, 5.8, 1.3), _eye(_MIDDLE, 13.2, 1.3))


def _charm() -> Items:
    body = polyline((_MIDDLE, 5.6), (14.4, 11.6), (_MIDDLE, 17.6), (4.6, 11.6)).close()
    return (_eye(_MIDDLE, 3.4), body.path(stroke=_THIN))


def _post() -> Items:
    return (
        Circle(x=5.6, y=7.0, radius=2.9, stroke=_THIN),
        Line(x1=8.6, y1=7.0, x2=17.2, y2=7.0, stroke=_THIN),
        _eye(5.6, 12.0),
    )


def _key_ring() -> Items:
    return (
        Circle(x=_MIDDLE, y=_MIDDLE, radius=7.0, stroke=_THIN),
        Circle(x=_MIDDLE, y=_MIDDLE, radius=5.0, stroke=_THIN),
        Line(x1=13.9, y1=7.2, x2=16.2, y2=6.6, stroke=_THIN),
    )


_DRAWN: Mapping[str, Callable[[], Items]] = {
    "bail": _bail,
    "bar": _bar,
    "bead": _bead,
    "chain": _chain,
    "charm": _charm,
    "clasp": _clasp,
    "clasp-half": _clasp_half,
    "drop": _drop,
    "ear-wire": _ear_wire,
    "key-ring": _key_ring,
    "post": _post,
    "spacer": _spacer,
    "toggle-bar": _toggle_bar,
    "toggle-ring": _toggle_ring,
}
"""By the type that a pattern names."""
