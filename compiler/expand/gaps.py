"""`through heart between spoke[4] and spoke[5]`: the order of what hangs on one ring.

In: an item with a gap and the strand it goes through. Out: the ring gone through and the two neighbours on it. What
hangs on a ring is in order of making, except where such a line put something into a gap; the order closes on itself.
"""

from __future__ import annotations

from compiler.expand.context import Context
from compiler.expand.live import Scope
from compiler.expand.picks import strands_of, things_of
from compiler.weave import RelationKind
from notation.nodes import Item, Pick


def find_gap(ctx: Context, scope: Scope, item: Item, nodes: list[int]) -> tuple[int, int, int] | None:
    """The ring gone through and its two neighbours, or None when they are not neighbours (and that was told)."""
    assert item.gap is not None
    place = scope.file.place(item.span)
    hole = nodes[0]
    if len({ctx.columns.strand[node] for node in nodes}) != 1:
        ctx.fail("gap-of-one", place)
        return None
    order = order_on(ctx, hole)
    found: list[int] = []
    for pick in item.gap:
        first = _one(ctx, scope, pick)
        if first is None:
            return None
        if first not in order:
            ctx.fail("not-on-ring", scope.file.place(pick.span))
            return None
        found.append(first)
    if found[0] == found[1]:
        ctx.fail("not-neighbours", place, "same")
        return None
    apart = abs(order.index(found[0]) - order.index(found[1]))
    nearest = min(apart, len(order) - apart)
    if nearest > 1:
        ctx.fail("not-neighbours", place, count=nearest - 1)
        return None
    return hole, found[0], found[1]


def _one(ctx: Context, scope: Scope, pick: Pick) -> int | None:
    things = things_of(ctx, scope, pick)
    place = scope.file.place(pick.span)
    firsts = None if things is None else strands_of(ctx, things, place)
    if firsts is None:
        return None
    if len(firsts) != 1:
        ctx.fail("one-member", place, count=len(firsts))
        return None
    return firsts[0]


def order_on(ctx: Context, hole: int) -> list[int]:
    """The strands that hang on a ring, by their first nodes, in order round it."""
    columns = ctx.columns
    order = list(dict.fromkeys(columns.strand[node] for node in columns.linked_with(hole)))
    for relation in columns.relations:
        if relation.kind is not RelationKind.GAP or relation.others[0] != hole:
            continue
        strand = columns.strand[relation.node]
        order.remove(strand)
        one, other = (order.index(columns.strand[node]) for node in relation.others[1:])
        order.insert(max(one, other) if abs(one - other) == 1 else len(order), strand)
    return order
