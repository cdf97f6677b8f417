"""Expectations: what the designer asserts is compared with what was made, there and then.

One that holds becomes a checkpoint for the maker; one that does not is an error with both figures.
"""

from __future__ import annotations

from compiler.expand.context import Context
from compiler.expand.live import Scope
from compiler.expand.paths import node_name
from compiler.expand.picks import strands_of, things_of
from compiler.expand.sinks import ring_kind
from compiler.weave import Event, EventKind
from notation.expectations import Expect, ExpectHolds, ExpectTotal, ExpectUsed
from notation.nodes import Bundle, Quantity


def do_expect(ctx: Context, scope: Scope, node: Expect) -> None:
    """Carries out an expectation; in a piece that is already wrong it stays quiet."""
    match node:
        case ExpectUsed():
            _used(ctx, scope, node)
        case ExpectTotal():
            _total(ctx, scope, node)
        case ExpectHolds():
            _holds(ctx, scope, node)


def _checkpoint(ctx: Context, counts: tuple[tuple[str, int], ...], nodes: tuple[int, ...] = ()) -> None:
    ctx.columns.add_event(
        Event(
            at=ctx.columns.next_motion(),
            kind=EventKind.CHECKPOINT,
            site=ctx.site,
            counts=counts,
            nodes=nodes,
        )
    )


def rings_in(ctx: Context, scope: Scope, quantity: Quantity) -> int | None:
    """How many rings a quantity is, pairs and triples counted out."""
    count = ctx.count(scope, quantity.count, least=0)
    if count is None:
        return None
    return count * {Bundle.PAIRS: 2, Bundle.TRIPLES: 3}.get(quantity.bundle, 1)


def _used(ctx: Context, scope: Scope, node: ExpectUsed) -> None:
    owner = scope.unit_scope()
    counts: list[tuple[str, int]] = []
    good = True
    for quantity in node.quantities:
        place = scope.file.place(quantity.span)
        name = quantity.kind.text
        wanted = rings_in(ctx, scope, quantity)
        if name in scope.file.finding_numbers:
            kind = scope.file.finding_numbers[name]
            there = sum(use.kind == kind for use in ctx.columns.findings[owner.start_findings :])
        else:
            number = ring_kind(ctx, scope, quantity)
            if number is None:
                return
            before = owner.start_counts[number] if owner.start_counts else 0
            there = ctx.columns.counts[number] - before
        if wanted is None or ctx.columns.broken:
            return
        if there != wanted:
            ctx.report("not-as-expected", place, "used", kind=name, wanted=wanted, there=there)
            good = False
        counts.append((name, there))
    if good:
        _checkpoint(ctx, tuple(counts))


def _total(ctx: Context, scope: Scope, node: ExpectTotal) -> None:
    owner = scope.unit_scope()
    wanted = ctx.count(scope, node.count, least=0)
    if wanted is None or ctx.columns.broken:
        return
    word = "links" if node.links else "rings"
    if node.links:
        there = len(ctx.columns.link_a) - owner.start_links
    else:
        there = sum(ctx.columns.counts) - sum(owner.start_counts)
    if there != wanted:
        place = scope.file.place(node.span)
        ctx.report("not-as-expected", place, "total", what=word, wanted=wanted, there=there)
        return
    _checkpoint(ctx, ((word, there),))


def _holds(ctx: Context, scope: Scope, node: ExpectHolds) -> None:
    things = things_of(ctx, scope, node.pick)
    place = scope.file.place(node.span)
    firsts = None if things is None else strands_of(ctx, things, place)
    wanted = ctx.count(scope, node.count, least=0)
    kind: int | None = None
    if node.kind is not None:
        quantity = Quantity(count=node.count, bundle=Bundle.AS_KIND, kind=node.kind, span=node.kind.span)
        kind = ring_kind(ctx, scope, quantity)
        if kind is None:
            return
    if firsts is None or wanted is None or ctx.columns.broken:
        return
    columns = ctx.columns
    rings = tuple(ring for first in firsts for ring in columns.strand_nodes(first))
    for ring in rings:
        count = sum(kind is None or columns.kind[other] == kind for other in columns.linked_with(ring))
        if count != wanted:
            name = node_name(ctx, ring)
            ctx.report("not-as-expected", place, "holds", name=name, wanted=wanted, there=count)
            return
    what = "rings" if node.kind is None else node.kind.text
    _checkpoint(ctx, ((what, wanted),), rings)
