"""A finished piece seen from its front, ready to be drawn step by step.

In: made by `schematic` or `true_view`. Out: `Picture`, and the arcs of any of its rings in their order of drawing:
a step shows fewer rings, but every ring always in its finished place.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import cos, hypot, pi, sin

from compiler.booklet.findingshapes import shape_of
from compiler.figure.notes import Note
from compiler.figure.order import Arc, drawing_order
from compiler.figure.scene import Cover, Loop


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """The body of a finding, which is drawn as a sign beside its eye: its shape is not known."""

    node: int
    """Its eye."""
    other: int
    """Its other eye, or -1."""
    type: str
    """`ear-wire`, `drop`, `chain` and so on, as in the pattern."""
    angle: float
    """Where it points, radians, counter-clockwise from the right; of a sign with one eye."""
    length: float
    """mm, eye not included."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle of the picture plane, mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """mm."""
        return self.top - self.bottom

    def grown(self, by: float) -> Box:
        """Larger by so much on every side."""
        return Box(left=self.left - by, bottom=self.bottom - by, right=self.right + by, top=self.top + by)

    def holds(self, x: float, y: float) -> bool:
        """Whether a point lies in it."""
        return self.left <= x <= self.right and self.bottom <= y <= self.top


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A piece as it is seen."""

    loops: tuple[Loop, ...]
    """By node."""
    cover: Cover
    signs: tuple[Sign, ...]
    schematic: bool
    travel: tuple[int, ...]
    """By node: +1 where its wire is led counter-clockwise as `Loop` angles run, -1 where clockwise."""
    wrong_over: int = 0
    """How often a ring is seen over another that the text says lies over it."""
    notes: tuple[Note, ...] = ()
    """What must be said under its figures."""
    stand: float = 0.0
    """By how much it is to be turned, radians counter-clockwise, to show the piece as it is worn."""
    known: dict[tuple[int, ...], tuple[tuple[Arc, ...], Cover]] = field(
        default_factory=dict, compare=False, repr=False
    )
    """What `arcs_of` found, by nodes: the same for the picture turned in its plane."""


def standing(picture: Picture) -> Picture:
    """The picture of the piece as it is worn."""
    return turned_by(picture, picture.stand)


def turned_by(picture: Picture, angle: float) -> Picture:
    """The picture turned, radians counter-clockwise."""
    if not angle:
        return picture
    c, s = cos(angle), sin(angle)

    def turned(at: tuple[float, float, float]) -> tuple[float, float, float]:
        return c * at[0] - s * at[1], s * at[0] + c * at[1], at[2]

    return replace(
        picture,
        loops=tuple(
            replace(loop, centre=turned(loop.centre), along=turned(loop.along), across=turned(loop.across))
            for loop in picture.loops
        ),
        signs=tuple(replace(sign, angle=sign.angle + angle) for sign in picture.signs),
        stand=picture.stand - angle,
    )


def turned_over(picture: Picture) -> Picture:
    """The picture from behind, after the work was turned over about its upright axis."""

    def turned(at: tuple[float, float, float]) -> tuple[float, float, float]:
        return -at[0], at[1], -at[2]

    return replace(
        picture,
        loops=tuple(
            replace(loop, centre=turned(loop.centre), along=turned(loop.along), across=turned(loop.across))
            for loop in picture.loops
        ),
        cover=Cover(lower=picture.cover.upper, upper=picture.cover.lower, free=picture.cover.free),
        signs=tuple(replace(sign, angle=pi - sign.angle) for sign in picture.signs),
        stand=-picture.stand,
        known={},
    )


def box_of(picture: Picture, nodes: Iterable[int], *, signs: bool = True) -> Box:
    """The room that these nodes take, wire and the bodies of their findings included."""
    wanted = set(nodes)
    left, bottom, right, top = [], [], [], []
    for node in sorted(wanted):
        loop = picture.loops[node]
        w, h = loop.reach
        left.append(loop.centre[0] - w)
        right.append(loop.centre[0] + w)
        bottom.append(loop.centre[1] - h)
        top.append(loop.centre[1] + h)
    if signs:
        for sign in picture.signs:
            if sign.node in wanted and sign.other < 0:
                for x, y in _corners(picture.loops[sign.node], sign):
                    left.append(x)
                    right.append(x)
                    bottom.append(y)
                    top.append(y)
    return Box(left=min(left), bottom=min(bottom), right=max(right), top=max(top))


def _corners(loop: Loop, sign: Sign) -> list[tuple[float, float]]:
    """The corners of the room that the body of a finding takes, mm."""
    x, y = sign_end(loop, sign)
    c, s = cos(sign.angle), sin(sign.angle)
    wide = shape_of(sign.type).half * sign.length
    return [
        (x - way * c - side * s, y - way * s + side * c)
        for way in (0.0, sign.length)
        for side in (-wide, wide)
    ]


def rim_of(loop: Loop) -> float:
    """From the middle of an eye to the outside of its wire where its body begins, mm."""
    return min(hypot(*loop.along[:2]), hypot(*loop.across[:2])) + loop.tube


def sign_end(loop: Loop, sign: Sign) -> tuple[float, float]:
    """Where the body of a finding with one eye ends, mm."""
    reach = rim_of(loop) + sign.length
    return loop.centre[0] + reach * cos(sign.angle), loop.centre[1] + reach * sin(sign.angle)


def arcs_of(picture: Picture, nodes: Sequence[int]) -> tuple[list[Loop], tuple[Arc, ...], Cover]:
    """Loops of the nodes, their arcs in order of drawing, and which of their parts cover which."""
    key = tuple(nodes)
    if key not in picture.known:
        cover = picture.cover.among(nodes, len(picture.loops))
        picture.known[key] = tuple(drawing_order(len(nodes), cover)), cover
    return [picture.loops[node] for node in nodes], *picture.known[key]
