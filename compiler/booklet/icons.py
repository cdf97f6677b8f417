"""Small drawings of parts: an open ring, a closed ring, a finding, as they lie in the dish.

In: the sizes of a kind, out: a block. Rings of one booklet are drawn to one scale, so that large and small can be
told apart at a glance; they are drawn in outline and read in grey as well.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from compiler.booklet.findingicons import SIDE, finding_items
from compiler.booklet.page import MM, Block, Cap, Circle, Group, Item, Role, Stroke
from compiler.booklet.paths import Pen
from compiler.booklet.style import ACCENT
from compiler.messages import KindName
from compiler.weave import FindingKind, RingKind, Weave

ICON = SIDE
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


def finding_icon(kind: FindingKind) -> Block:
    """A finding, by its type."""
    group = Group(role=Role.DECORATION, items=finding_items(kind.type))
    return Block(width=ICON, height=ICON, items=(group,))


@dataclass(frozen=True, slots=True, kw_only=True)
class Icons:
    """The icons of the parts of a pattern."""

    rings: Mapping[str, RingKind]
    findings: Mapping[str, FindingKind]
    """Both by their names in the pattern."""
    scale: float
    """Points for a millimetre."""

    @staticmethod
    def of(weave: Weave) -> "Icons":
        """Those of all kinds of a weave, drawn to one scale."""
        return Icons(
            rings={kind.name: kind for kind in weave.ring_kinds},
            findings={kind.name: kind for kind in weave.finding_kinds},
            scale=icon_scale(weave.ring_kinds),
        )

    def icon(self, kind: KindName, *, opened: bool) -> Block:
        """The icon of a kind; a ring is drawn open or closed."""
        if kind.finding:
            return finding_icon(self.findings[kind.key])
        return ring_icon(self.rings[kind.key], self.scale, opened=opened)
