"""Expectations of how rings lie: around, between, inside, over; loops plain or crossed; half turns.

One that holds becomes a checkpoint for the maker; one that does not is an error that says what is so.
"""

from __future__ import annotations

from compiler.expand.context import Context
from compiler.expand.live import LiveGroup, Scope
from compiler.expand.paths import node_list, node_name
from compiler.expand.picks import strands_of, things_of
from compiler.weave import Event, EventKind, PoseKind, RelationKind
from notation.expectations import ExpectLies, ExpectLoop, ExpectTurns, Lies

_RELATIONS = {
    Lies.AROUND: (RelationKind.AROUND, RelationKind.INSIDE),
    Lies.INSIDE: (RelationKind.INSIDE, RelationKind.AROUND),
    Lies.BETWEEN: (RelationKind.BETWEEN, None),
    Lies.OVER: (RelationKind.OVER, RelationKind.UNDER),
}


def do_assert(ctx: Context, scope: Scope, node: ExpectLies | ExpectLoop | ExpectTurns) -> None:
    """Carries out an expectation; in a piece that is already wrong it stays quiet."""
    match node:
        case ExpectLies():
            _lies(ctx, scope, node)
        case ExpectLoop():
            _loop(ctx, scope, node)
        case ExpectTurns():
            _turns(ctx, scope, node)


def _checkpoint(
    ctx: Context,
    text: str,
    nodes: tuple[int, ...],
    onto: tuple[int, ...] = (),
    counts: tuple[tuple[str, int], ...] = (),
) -> None:
    at = ctx.columns.next_motion()
    ctx.columns.add_event(
        Event(
            at=at,
            kind=EventKind.CHECKPOINT,
            site=ctx.site,
            text=text,
            nodes=nodes,
            onto=onto,
            counts=counts,
        )
    )


def _lies(ctx: Context, scope: Scope, node: ExpectLies) -> None:
    nodes, others = node_list(ctx, scope, node.pick), node_list(ctx, scope, node.other)
    if nodes is None or others is None or ctx.columns.broken:
        return
    kind, back = _RELATIONS[node.lies]
    said = {
        (relation.node, other)
        for relation in ctx.columns.relations
        if relation.kind is kind
        for other in relation.others
    }
    said.update(
        (other, relation.node)
        for relation in ctx.columns.relations
        if relation.kind is back
        for other in relation.others
    )
    for ring in nodes:
        for other in others:
            if (ring, other) not in said:
                name, other_name = node_name(ctx, ring), node_name(ctx, other)
                place = scope.file.place(node.span)
                ctx.report(
                    "not-as-expected", place, "lies", name=name, lies=node.lies.value, other=other_name
                )
                return
    _checkpoint(ctx, node.lies.value, tuple(nodes), tuple(others))


def _loop(ctx: Context, scope: Scope, node: ExpectLoop) -> None:
    rings: list[int] = []
    for pick in node.picks:
        things = things_of(ctx, scope, pick)
        firsts = None if things is None else strands_of(ctx, things, scope.file.place(pick.span))
        if firsts is None:
            return
        rings.extend(firsts)
    place = scope.file.place(node.span)
    if ctx.columns.broken:
        return
    if len(rings) < 3 or len(set(rings)) < len(rings):
        ctx.fail("not-a-loop", place, "short", count=len(set(rings)))
        return
    columns = ctx.columns
    signs = {
        (min(a, b), max(a, b)): sign
        for a, b, sign in zip(columns.link_a, columns.link_b, columns.link_sign, strict=True)
        if a in rings and b in rings
    }
    product = 1
    for one, other in zip(rings, rings[1:] + rings[:1], strict=True):
        sign = signs.get((min(one, other), max(one, other)))
        if sign is None:
            ctx.fail("not-a-loop", place, name=node_name(ctx, one), other=node_name(ctx, other))
            return
        product *= sign
    if (product < 0) is not node.crossed:
        there = "crossed" if product < 0 else "plain"
        ctx.report(
            "not-as-expected", place, "loop", there=there, wanted="crossed" if node.crossed else "plain"
        )
        return
    _checkpoint(ctx, "crossed" if node.crossed else "plain", tuple(rings))


def _turns(ctx: Context, scope: Scope, node: ExpectTurns) -> None:
    wanted = ctx.count(scope, node.half_turns, least=0)
    family = scope.find(node.name.text)
    place = scope.file.place(node.name.span)
    if wanted is None or ctx.columns.broken:
        return
    if not isinstance(family, LiveGroup) or family.shape is None or not family.members:
        ctx.fail("no-turns-here", place, name=node.name.text)
        return
    first = family.members[0]
    there = next(
        (
            pose.amount
            for pose in ctx.columns.poses
            if pose.kind is PoseKind.HALF_TURNS and pose.nodes == (first,)
        ),
        0,
    )
    if there != wanted:
        span = scope.file.place(node.span)
        ctx.report("not-as-expected", span, "turns", name=node.name.text, wanted=wanted, there=there)
        return
    _checkpoint(ctx, "half turns", (first,), counts=(("half turns", there),))
