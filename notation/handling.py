"""Words and motions of the hands as written: labels, remarks, holding, turning, helpers. See `notation.statements`."""

from __future__ import annotations

from enum import Enum

from notation.nodes import Expression, Hand, Item, Name, Node, Pick, Target, Text
from notation.source import Span


class LabelLine(Node, frozen=True, kw_only=True):
    """`label spoke "inner pair", "inner pairs"`: what a kind, finding, group, unit or family is called in print."""

    name: Name
    singular: Text
    plural: Text | None = None
    """None: the singular with an s."""
    span: Span


class RemarkKind(Enum):
    """The remarks a designer can add to a step."""

    NOTE = "note"
    TIP = "tip"
    CAUTION = "caution"


class Remark(Node, frozen=True, kw_only=True):
    """`note "..."`, `tip "..."`, `caution "..."`."""

    kind: RemarkKind
    text: Text
    span: Span


class HandMotion(Enum):
    """Motions of the hands that make no link."""

    LAY_FLAT = "lay flat"
    TURN_OVER = "turn over"
    TURN_ROUND = "turn round"
    HOLD = "hold"
    LET_GO = "let go"
    FOLD_BACK = "fold back"
    SPREAD = "spread"
    LEAN = "lean"
    TURN = "turn"


class Handle(Node, frozen=True, kw_only=True):
    """`lay heart flat`, `turn over`, `hold spoke until arm is made`, `let go of spoke`, `fold last of a back onto b`,
    `spread wings`, `lean mesh left`, `turn tail by 90 degrees`.

    Folding, spreading, leaning and turning by degrees last; the others pass.
    """

    motion: HandMotion
    pick: Pick | None = None
    """None: the whole work."""
    until: Name | None = None
    """HOLD only: until the group, family or unit of this name is made."""
    onto: Pick | None = None
    """FOLD_BACK only: folded back, one ring to each side of this."""
    hand: Hand | None = None
    """LEAN only."""
    degrees: Expression | None = None
    """TURN only."""
    span: Span


class WorkDirection(Node, frozen=True, kw_only=True):
    """`work clockwise`, `work anticlockwise`: the direction of work, seen from the front, stated once."""

    clockwise: bool
    span: Span


class Helper(Node, frozen=True, kw_only=True):
    """`helper "twist of wire" through first of mesh as twist`: put in to keep things in place, taken out later."""

    text: Text
    items: tuple[Item, ...]
    target: Target
    span: Span


class Remove(Node, frozen=True, kw_only=True):
    """`remove twist`: a helper is taken out."""

    name: Name
    span: Span
