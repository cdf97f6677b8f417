"""Small drawings of parts: an open ring, a closed ring, a finding, as they lie in the dish.

In: the sizes of a kind, out: a block. Rings of one booklet are drawn to one scale, so that large and small can be
told apart at a glance; they are drawn in outline and read in grey as well.
"""

from collections.abc import Mapping, Sequence

from compiler.booklet.page import MM, Block, Cap, Circle, Group, Item, Line, Role, Stroke
from compiler.booklet.paths import Pen
from compiler.booklet.style import ACCENT, INK, MEDIUM, THIN
from compiler.weave import RingKind

ICON = 19.0
"""Side of the square that an icon fills, in points."""
_GAP_DEGREES = 48.0


def icon_scale(kinds: Sequence[RingKind]) -> float:
    """Points for a millimetre, so that the largest kind fills the square and none is drawn over twice true size."""
    largest = max((float(kind.inner_mm + 2 * kind.wire_mm) for kind in kinds), default=1.0)
    return min(2 * MM, (ICON - 2.0) / largest)


def ring_icon(kind: RingKind, scale: float, *, opened: bool) -> Block:
    """A ring of this kind, with a gap at the top right where it is open."""
    wire = max(0.9, float(kind.wire_mm) * scale)
    radius = max(2.0, float(kind.inner_mm + kind.wire_mm) / 2 * scale)
    stroke = Stroke(color=ACCENT, width=wire, cap=Cap.BUTT)
    middle = ICON / 2
    item: Item
    if opened:
        start = -45.0 + _GAP_DEGREES / 2
        item = Pen().arc(middle, middle, radius, start, 360.0 - _GAP_DEGREES).path(stroke=stroke)
    else:
        item = Circle(x=middle, y=middle, radius=radius, stroke=stroke)
    return Block(width=ICON, height=ICON, items=(Group(role=Role.DECORATION, items=(item,)),))


def finding_icon() -> Block:
    """A finding: an eye with a stem and a body."""
    middle, stroke = ICON / 2, Stroke(color=INK, width=MEDIUM, cap=Cap.ROUND)
    items: tuple[Item, ...] = (
        Circle(x=middle, y=4.4, radius=2.6, stroke=stroke),
        Line(x1=middle, y1=7.0, x2=middle, y2=10.2, stroke=stroke),
        Circle(x=middle, y=13.6, radius=3.4, fill=None, stroke=Stroke(color=INK, width=THIN)),
    )
    return Block(width=ICON, height=ICON, items=(Group(role=Role.DECORATION, items=items),))


def kinds_by_name(kinds: Sequence[RingKind]) -> Mapping[str, RingKind]:
    """The kinds by their names in the pattern."""
    return {kind.name: kind for kind in kinds}
