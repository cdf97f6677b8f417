"""`joined to ... by ...`: the connectors between neighbours of a family.

In: a join and the place it stands at. Out: which connectors wait to be gone through and which are to be carried
for neighbours made later. For each pair of neighbours just one connector exists, whichever of the two is made first.
"""

from __future__ import annotations

from msgspec import Struct, field

from compiler.expand.context import Context
from compiler.expand.live import LiveGroup, Scope
from compiler.expand.shape import OPPOSITE, all_round, neighbours
from compiler.expand.sinks import Sink, open_sink, pass_strand, ring_kind, strand_sizes
from notation.nodes import Join, Relative


class JoinPlan(Struct):
    """What a join comes to at one place."""

    family: LiveGroup
    ordinal: int
    kind: int
    sizes: list[int]
    sink: Sink
    waiting: list[list[int]] = field(default_factory=list)
    """Strands to go through, per earlier neighbour."""
    to_carry: list[int] = field(default_factory=list)
    """Ordinals of the neighbours made later."""
    to_open: list[int] = field(default_factory=list)
    """Ordinals of earlier neighbours for which no connector waits, because one of the two was handed in."""

    def bring_in(self, ctx: Context, scope: Scope, motion: int) -> list[int]:
        """Brings in the carried connectors; gives their nodes."""
        nodes: list[int] = []
        for other in self.to_carry:
            for size in self._sizes(ctx, scope):
                first = self.sink.add(self.kind, size, motion)
                self.family.connectors.setdefault(_pair(self.ordinal, other), []).append(first)
                nodes.extend(range(first, first + size))
        return nodes

    def pass_open(self, ctx: Context, scope: Scope, rings: list[int]) -> None:
        """Opens connectors and passes them through rings handed in, and through an earlier neighbour's rings."""
        for other in (*self.to_open, *self.to_carry):
            path = list(rings)
            if other in self.to_open:
                for strand in self.family.place_members(other):
                    path.extend(ctx.columns.strand_nodes(strand))
            for size in self._sizes(ctx, scope):
                first = pass_strand(ctx, self.sink, self.kind, size, path)
                self.family.connectors.setdefault(_pair(self.ordinal, other), []).append(first)

    def _sizes(self, ctx: Context, scope: Scope) -> list[int]:
        place = scope.file.place(self.sink.live.made_at.span)
        return self.sizes if ctx.spend_rings(sum(self.sizes), place) else []


def _pair(a: int, b: int) -> tuple[int, int]:
    return (a, b) if a < b else (b, a)


def plan_join(ctx: Context, scope: Scope, join: Join) -> JoinPlan | None:
    """The plan for a join at the place of `scope`, or None when it cannot be made (and that was told)."""
    place = scope.file.place(join.span)
    family = scope.family
    if family is None or family.shape is None:
        ctx.fail("no-family-here", place, "join")
        return None
    number = ring_kind(ctx, scope, join.quantity)
    if number is None:
        return None
    kind = ctx.ring_kinds[number]
    spent = ctx.rings
    sizes = strand_sizes(ctx, scope, join.quantity, kind, one_strand=False)
    ctx.rings = spent
    if sizes is None:
        return None
    sink = _connector_sink(ctx, scope, family, join, number)
    if sink is None:
        return None
    plan = JoinPlan(family=family, ordinal=scope.ordinal, kind=number, sizes=sizes, sink=sink)
    here = scope.ordinal
    for other in _around(scope, family, join):
        if other > here:
            if other not in family.handed:
                plan.to_carry.append(other)
        elif _pair(other, here) in family.connectors:
            plan.waiting.append(family.connectors[_pair(other, here)])
        elif here in family.handed:
            plan.to_open.append(other)
        else:
            ctx.fail("no-connector", place, family=family.name, here=here + 1, other=other + 1)
            return None
    return plan


def _connector_sink(ctx: Context, scope: Scope, family: LiveGroup, join: Join, number: int) -> Sink | None:
    """All connectors of one join share a group, kept in the unit around under the target's name."""
    place = scope.file.place(join.span)
    owner = scope.unit_scope()
    if join.target is None or join.target.index or join.target.grows:
        if join.target is not None:
            ctx.fail("no-index-here", scope.file.place(join.target.span), name=join.target.name.text)
            return None
        return open_sink(ctx, owner, None, ctx.ring_kinds[number], place, 1, connector_of=family.number)
    there = owner.names.get(join.target.name.text)
    at = scope.file.place(join.target.span)
    if isinstance(there, LiveGroup) and there.made_at == at:
        return Sink(ctx=ctx, live=there)
    return open_sink(ctx, owner, join.target, ctx.ring_kinds[number], at, 1, connector_of=family.number)


def _around(scope: Scope, family: LiveGroup, join: Join) -> list[int]:
    """The ordinals of the neighbours that a join means at a place, and of those for which it is meant."""
    shape = family.shape
    assert shape is not None
    row, column = family.where(scope.ordinal)
    meant: list[Relative] = list(join.neighbours or all_round(shape, row))
    if join.neighbours:
        meant.extend(
            Relative(count=relative.count, direction=OPPOSITE[relative.direction], span=relative.span)
            for relative in join.neighbours
        )
    found: dict[int, None] = {}
    for relative in meant:
        for other_row, other_column in neighbours(shape, row, column, relative):
            ordinal = family.row_starts[other_row] + other_column
            if ordinal != scope.ordinal:
                found[ordinal] = None
    return sorted(found)
