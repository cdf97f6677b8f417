"""The pages of a booklet in the colours of a house; in: items in the usual colours, out: the same in others.

A colour is taken for a mixture of one of the palette's colours with ink and paper, as all tints in figures and surfaces
are, and becomes the same mixture of the house's colours. A colour that is no such mixture stays as it is.
"""

from collections.abc import Callable
from functools import cache
from typing import NamedTuple

from msgspec.structs import astuple, replace

from compiler.booklet.content import repainted
from compiler.booklet.house import Palette
from compiler.booklet.page import Anchor, Color, Drawing, Group, Item, Line, Link, Picture, Stroke, Text
from compiler.booklet.style import PAPER

_NEAR = 2.0
"""How far, in parts of 255, a colour may be from a mixture: tints are rounded twice on their way."""

_Parts = tuple[float, float, float]


def recoloured(items: tuple[Item, ...], palette: Palette) -> tuple[Item, ...]:
    """The items in the palette's colours."""
    usual = Palette()
    if palette == usual:
        return items

    @cache
    def paint(color: Color) -> Color:
        return _mixed(color, usual, palette)

    return tuple(_painted(item, paint) for item in items)


def _painted(item: Item, paint: Callable[[Color], Color]) -> Item:
    def stroked(stroke: Stroke | None) -> Stroke | None:
        return None if stroke is None else replace(stroke, color=paint(stroke.color))

    match item:
        case Group():
            return replace(item, items=tuple(_painted(part, paint) for part in item.items))
        case Text():
            return replace(item, color=paint(item.color))
        case Line():
            return replace(item, stroke=replace(item.stroke, color=paint(item.stroke.color)))
        case Drawing():
            return replace(item, content=repainted(item.content, paint))
        case Anchor() | Link() | Picture():
            return item
        case _:
            return replace(
                item, fill=None if item.fill is None else paint(item.fill), stroke=stroked(item.stroke)
            )


def _mixed(color: Color, usual: Palette, palette: Palette) -> Color:
    """The colour's mixture of usual colours, made of the palette's.

    Of one colour and paper where that will do, else of a colour, ink and paper; of several that will do the nearest.
    """
    pairs = list(zip(_colors(usual), _colors(palette), strict=True))
    for before, after in pairs:
        if color == before:
            return after
    ink_before, ink_after = pairs[0]
    for with_ink in (False, True):
        found = [
            (_mixture(color, before, ink_before if with_ink else None), after) for before, after in pairs
        ]
        near = [(mixture, after) for mixture, after in found if mixture is not None]
        if near:
            mixture, after = min(near, key=lambda pair: pair[0].off)
            return _mix(mixture, after, ink_after)
    return color


def _colors(palette: Palette) -> tuple[Color, ...]:
    """Ink first."""
    return (palette.ink, palette.accent, palette.passed, palette.placed, palette.caution)


class _Mixture(NamedTuple):
    """Parts of a colour and of ink in a mixture with paper; the rest is paper."""

    main: float
    ink: float
    off: float
    """How far the mixture is from the colour, in parts of 255."""


def _mixture(color: Color, main: Color, ink: Color | None) -> _Mixture | None:
    """The nearest mixture of a colour, of ink if it is given, and paper, by least squares; None where none is near."""
    c, a = _from_paper(color), _from_paper(main)
    b = (0.0, 0.0, 0.0) if ink is None or ink == main else _from_paper(ink)
    aa, bb, ab, ca, cb = _dot(a, a), _dot(b, b), _dot(a, b), _dot(c, a), _dot(c, b)
    if bb == 0.0:
        x, y = ca / aa, 0.0
    else:
        below = aa * bb - ab * ab
        x, y = (ca * bb - cb * ab) / below, (cb * aa - ca * ab) / below
    off = max(abs(whole - x * first - y * second) for whole, first, second in zip(c, a, b, strict=True))
    slack = _NEAR / 255
    if off > _NEAR or x < -slack or y < -slack or x + y > 1 + slack:
        return None
    return _Mixture(main=max(x, 0.0), ink=max(y, 0.0), off=off)


def _from_paper(color: Color) -> _Parts:
    red, green, blue = (part - white for part, white in zip(astuple(color), astuple(PAPER), strict=True))
    return (float(red), float(green), float(blue))


def _dot(a: _Parts, b: _Parts) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _mix(mixture: _Mixture, main: Color, ink: Color) -> Color:
    parts = zip(_from_paper(main), _from_paper(ink), astuple(PAPER), strict=True)
    red, green, blue = (
        min(255, max(0, round(white + mixture.main * first + mixture.ink * second)))
        for first, second, white in parts
    )
    return Color(red, green, blue)
