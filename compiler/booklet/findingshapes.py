"""The bodies of findings as signs, one shape for each type, the same in icons and in figures.

In: the type of a finding, a `Frame` that says where its eye lies, colours. Out: page items without the eye. The shapes
tell an ear wire from a drop and a clasp from its other half; they show neither a size nor a make.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from compiler.booklet.page import Cap, Color, Item, Stroke
from compiler.booklet.paths import Pen

Items = tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where a body lies: coordinates along it from the rim of its eye, and to its left, in lengths of the body."""

    x: float
    """The middle of the eye, points."""
    y: float
    turn: float
    """Where the body points, radians clockwise from the right, since y grows downwards."""
    rim: float
    """From the middle of the eye to the outside of its wire, points."""
    size: float
    """Length of the body, points."""

    def __call__(self, along: float, aside: float) -> tuple[float, float]:
        """A place on the page, points."""
        c, s = math.cos(self.turn), math.sin(self.turn)
        far, left = self.rim + along * self.size, aside * self.size
        return self.x + far * c + left * s, self.y + far * s - left * c


@dataclass(frozen=True, slots=True, kw_only=True)
class Pens:
    """What a body is drawn with."""

    ink: Color
    fill: Color | None
    width: float
    """Of its lines, points."""

    def line(self, factor: float = 1.0) -> Stroke:
        """A stroke, some times as wide."""
        return Stroke(color=self.ink, width=factor * self.width, cap=Cap.ROUND)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """The body of one type."""

    draw: Callable[[Frame, Pens], Items]
    length: float
    """Of the body in a figure, mm."""
    half: float
    """Half its width, in lengths of the body."""


def shape_of(type_name: str) -> Shape:
    """The shape of a type; a plain one for a type that is not known."""
    return _SHAPES.get(type_name, _SHAPES["charm"])


def between_eyes(
    type_name: str,
    start: tuple[float, float],
    end: tuple[float, float],
    rims: tuple[float, float],
    pens: Pens,
) -> Items:
    """The body of a finding with an eye at each end, from rim to rim; `rims` are the eyes' outer radii."""
    long = math.dist(start, end)
    size = long - sum(rims)
    if size <= 0:
        return ()
    frame = Frame(
        x=start[0], y=start[1], turn=math.atan2(end[1] - start[1], end[0] - start[0]), rim=rims[0], size=size
    )
    if type_name == "chain":
        return _chain_of(frame, pens, max(1, round(size / (4.2 * pens.width))))
    if type_name == "bead":
        return (_line(frame, (0.0, 0.0), (1.0, 0.0)).path(stroke=pens.line()), _ball(frame, 0.5, pens))
    # a plate or a rod
    half = min(0.3, 5.0 * pens.width / size) if type_name == "spacer" else min(0.16, 1.6 * pens.width / size)
    return (_stadium(frame, 0.0, 1.0, half).path(fill=pens.fill, stroke=pens.line()),)


# ---------------------------------------------------------------- outlines


def _line(frame: Frame, *places: tuple[float, float]) -> Pen:
    pen = Pen().move(*frame(*places[0]))
    for place in places[1:]:
        pen.line(*frame(*place))
    return pen


def _curve(pen: Pen, frame: Frame, *places: tuple[float, float]) -> Pen:
    (a, b, c) = (frame(*place) for place in places)
    return pen.curve(*a, *b, *c)


def _disc(frame: Frame, along: float, radius: float) -> Pen:
    return Pen().arc(*frame(along, 0.0), radius * frame.size, 0.0, 360.0).close()


def _ball(frame: Frame, along: float, pens: Pens) -> Item:
    radius = min(0.3, 5.0 * pens.width / frame.size)
    return _disc(frame, along, radius).path(fill=pens.fill, stroke=pens.line())


def _stadium(frame: Frame, start: float, end: float, half: float, pen: Pen | None = None) -> Pen:
    """A strip with round ends; added to another outline where one is given."""
    half = min(half, (end - start) / 2)
    bend = half * 4 / 3
    pen = (pen or Pen()).move(*frame(start + half, half)).line(*frame(end - half, half))
    _curve(pen, frame, (end - half + bend, half), (end - half + bend, -half), (end - half, -half))
    pen.line(*frame(start + half, -half))
    _curve(pen, frame, (start + half - bend, -half), (start + half - bend, half), (start + half, half))
    return pen.close()


# ---------------------------------------------------------------- the types


def _ear_wire(frame: Frame, pens: Pens) -> Items:
    pen = _line(frame, (0.0, 0.0), (0.62, 0.0))
    _curve(pen, frame, (1.12, 0.0), (1.12, 0.52), (0.62, 0.52))
    pen.line(*frame(0.2, 0.52))
    _curve(pen, frame, (0.06, 0.52), (0.0, 0.56), (-0.08, 0.66))
    return (pen.path(stroke=pens.line(1.3)),)


def _drop(frame: Frame, pens: Pens) -> Items:
    pen = Pen().move(*frame(0.0, 0.0))
    _curve(pen, frame, (0.3, 0.06), (0.3, 0.38), (0.66, 0.38))
    _curve(pen, frame, (1.12, 0.38), (1.12, -0.38), (0.66, -0.38))
    _curve(pen, frame, (0.3, -0.38), (0.3, -0.06), (0.0, 0.0))
    return (pen.close().path(fill=pens.fill, stroke=pens.line()),)


def _charm(frame: Frame, pens: Pens) -> Items:
    pen = _line(frame, (0.0, 0.0), (0.5, 0.4), (1.0, 0.0), (0.5, -0.4)).close()
    return (pen.path(fill=pens.fill, stroke=pens.line()),)


def _clasp(frame: Frame, pens: Pens) -> Items:
    """A claw with a gate: a belly with a hole, and the lever that opens it."""
    pen = Pen().move(*frame(0.0, 0.1))
    _curve(pen, frame, (0.12, 0.44), (0.98, 0.6), (1.0, 0.06))
    _curve(pen, frame, (1.0, -0.16), (0.9, -0.26), (0.72, -0.28))
    pen.line(*frame(0.3, -0.22))
    _curve(pen, frame, (0.12, -0.2), (0.04, -0.16), (0.0, -0.1))
    pen.close().move(*frame(0.4, -0.04))
    _curve(pen, frame, (0.44, 0.26), (0.82, 0.3), (0.84, 0.04))
    _curve(pen, frame, (0.84, -0.08), (0.78, -0.12), (0.68, -0.12))
    pen.close()
    lever = _line(frame, (0.3, -0.22), (0.2, -0.42))
    return (pen.path(fill=pens.fill, stroke=pens.line()), lever.path(stroke=pens.line(1.6)))


def _clasp_half(frame: Frame, pens: Pens) -> Items:
    """A plate with a slot, into which the other half catches."""
    pen = _stadium(frame, 0.0, 1.0, 0.3)
    _stadium(frame, 0.4, 0.84, 0.14, pen)
    return (pen.path(fill=pens.fill, stroke=pens.line()),)


def _toggle_ring(frame: Frame, pens: Pens) -> Items:
    pen = _disc(frame, 0.5, 0.5)
    pen.arc(*frame(0.5, 0.0), 0.34 * frame.size, 0.0, 360.0).close()
    return (pen.path(fill=pens.fill, stroke=pens.line()),)


def _toggle_bar(frame: Frame, pens: Pens) -> Items:
    across = Frame(
        x=frame(0.5, 0.0)[0], y=frame(0.5, 0.0)[1], turn=frame.turn + math.pi / 2, rim=0.0, size=frame.size
    )
    stem = _line(frame, (0.0, 0.0), (0.4, 0.0))
    bar = _stadium(across, -1.0, 1.0, 0.17)
    return (stem.path(stroke=pens.line(1.6)), bar.path(fill=pens.fill, stroke=pens.line()))


def _bar(frame: Frame, pens: Pens) -> Items:
    return (_stadium(frame, 0.0, 1.0, 0.12).path(fill=pens.fill, stroke=pens.line()),)


def _chain(frame: Frame, pens: Pens) -> Items:
    return _chain_of(frame, pens, 3)


def _chain_of(frame: Frame, pens: Pens, links: int) -> Items:
    """Links seen from the front and from the edge, turn by turn; the first and the last from the front."""
    links += (links + 1) % 2
    step = 1.0 / links
    half = 0.36 * step
    items: list[Item] = []
    for number in range(0, links, 2):
        oval = _stadium(frame, number * step, (number + 1) * step, half)
        items.append(oval.path(stroke=pens.line()))
    for number in range(1, links, 2):
        pen = _line(frame, ((number - 0.22) * step, 0.0), ((number + 1.22) * step, 0.0))
        items.append(pen.path(stroke=pens.line()))
    return tuple(items)


def _spacer(frame: Frame, pens: Pens) -> Items:
    pen = _stadium(frame, 0.0, 1.0, 0.26)
    pen.arc(*frame(0.74, 0.0), 0.1 * frame.size, 0.0, 360.0).close()
    return (pen.path(fill=pens.fill, stroke=pens.line()),)


def _bead(frame: Frame, pens: Pens) -> Items:
    pin = _line(frame, (0.0, 0.0), (1.0, 0.0))
    return (
        pin.path(stroke=pens.line()),
        _disc(frame, 0.5, 0.36).path(fill=pens.fill, stroke=pens.line()),
    )


def _bail(frame: Frame, pens: Pens) -> Items:
    """A loop for a cord, pinched above its eye."""
    pen = Pen().move(*frame(0.0, 0.0))
    _curve(pen, frame, (0.5, 0.62), (1.06, 0.42), (1.0, 0.0))
    _curve(pen, frame, (1.06, -0.42), (0.5, -0.62), (0.0, 0.0))
    pen.close().move(*frame(0.3, 0.0))
    _curve(pen, frame, (0.56, 0.32), (0.86, 0.24), (0.82, 0.0))
    _curve(pen, frame, (0.86, -0.24), (0.56, -0.32), (0.3, 0.0))
    return (pen.close().path(fill=pens.fill, stroke=pens.line()),)


def _post(frame: Frame, pens: Pens) -> Items:
    """A small disc with a pin, its point bare."""
    pin = _line(frame, (0.3, 0.0), (1.0, 0.0))
    return (
        pin.path(stroke=pens.line(1.3)),
        _line(frame, (0.8, 0.1), (0.8, -0.1)).path(stroke=pens.line()),
        _disc(frame, 0.16, 0.16).path(fill=pens.fill, stroke=pens.line()),
    )


def _key_ring(frame: Frame, pens: Pens) -> Items:
    """The eye is the ring itself: a second turn of wire about it, and its free end."""
    gap = 1.4 * pens.width
    turn = Pen().arc(frame.x, frame.y, frame.rim + gap, math.degrees(frame.turn) + 14.0, 332.0)
    c, s = math.cos(frame.turn - 0.24), math.sin(frame.turn - 0.24)
    near, far = frame.rim, frame.rim + 2.6 * gap
    end = Pen().move(frame.x + near * c, frame.y + near * s).line(frame.x + far * c, frame.y + far * s)
    return (turn.path(stroke=pens.line()), end.path(stroke=pens.line(1.6)))


_SHAPES: Mapping[str, Shape] = {
    "bail": Shape(draw=_bail, length=6.0, half=0.42),
    "bar": Shape(draw=_bar, length=8.0, half=0.12),
    "bead": Shape(draw=_bead, length=4.0, half=0.36),
    "chain": Shape(draw=_chain, length=9.0, half=0.12),
    "charm": Shape(draw=_charm, length=7.0, half=0.4),
    "clasp": Shape(draw=_clasp, length=8.0, half=0.44),
    "clasp-half": Shape(draw=_clasp_half, length=6.5, half=0.3),
    "drop": Shape(draw=_drop, length=6.5, half=0.38),
    "ear-wire": Shape(draw=_ear_wire, length=9.0, half=0.68),
    "key-ring": Shape(draw=_key_ring, length=1.5, half=0.5),
    "post": Shape(draw=_post, length=8.0, half=0.18),
    "spacer": Shape(draw=_spacer, length=5.0, half=0.26),
    "toggle-bar": Shape(draw=_toggle_bar, length=5.0, half=1.0),
    "toggle-ring": Shape(draw=_toggle_ring, length=8.0, half=0.5),
}
"""By the type that a pattern names."""
