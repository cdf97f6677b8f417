"""The pass: a ring, with its twin or twins, goes through its path, takes its load along, and is closed.

In: a pass and its scope. Out: motions, nodes and links in the columns, or a report and nothing.
"""

from __future__ import annotations

from compiler.expand.context import Context
from compiler.expand.joins import JoinPlan, plan_join
from compiler.expand.lies import Lies, follow, lie, note_companions, plan_lies
from compiler.expand.live import Scope
from compiler.expand.paths import (
    Load,
    Path,
    add_items,
    break_targets,
    bring_in,
    check_path,
    draft_load,
    handed_here,
    node_name,
)
from compiler.expand.sinks import Sink, open_sink, pass_strand, ring_kind, strand_sizes
from compiler.weave import Verb
from notation.diagnostic import Place
from notation.limits import MOST_COMPANIONS
from notation.nodes import Relative
from notation.statements import Pass


def do_pass(ctx: Context, scope: Scope, node: Pass) -> None:
    """Carries out a pass: the first ring, its twin or twins, and what they carry."""
    place = scope.file.place(node.span)
    number = ring_kind(ctx, scope, node.quantity)
    handed = handed_here(scope, node)
    path, load = Path(), Load()
    good = add_items(ctx, scope, path, node.through)
    good = add_items(ctx, scope, path, node.gathering, gathering=True) and good
    if handed is not None:
        _pass_at_handed(ctx, scope, node, handed, path, good)
        return
    plan = None
    if node.join is not None:
        plan = plan_join(ctx, scope, node.join)
        if plan is None:
            good = False
        else:
            for firsts in plan.waiting:
                nodes = [ring for first in firsts for ring in ctx.columns.strand_nodes(first)]
                path.items += 1
                path.add(nodes, False, None, waiting=True)
    good = draft_load(ctx, scope, node.carrying, load) and good
    lies = plan_lies(ctx, scope, node)
    leader = follow(ctx, scope, node, path)
    if number is None or not good or lies is None or not check_path(ctx, path, place):
        break_targets(ctx, scope, node)
        return
    kind = ctx.ring_kinds[number]
    sizes = strand_sizes(ctx, scope, node.quantity, kind, one_strand=True)
    if sizes is None or not _few_companions(ctx, sizes[0], place):
        break_targets(ctx, scope, node)
        return
    sink = open_sink(ctx, scope, node.target, kind, place, 1, members_of_family=True)
    if sink is None:
        break_targets(ctx, scope, node)
        return
    first = _make(ctx, scope, node, number, sizes[0], sink, path, load, plan, lies)
    if leader is not None:
        ctx.columns.followers[first] = leader


def _few_companions(ctx: Context, size: int, place: Place) -> bool:
    if size > MOST_COMPANIONS:
        ctx.fail("too-many-companions", place, count=size, limit=MOST_COMPANIONS)
        return False
    return True


def _make(
    ctx: Context,
    scope: Scope,
    node: Pass,
    kind: int,
    size: int,
    sink: Sink,
    path: Path,
    load: Load,
    plan: JoinPlan | None,
    lies: Lies,
) -> int:
    """Enters the motions of a strand and what they link; its first node."""
    columns = ctx.columns
    place = scope.file.place(node.span)
    motion = columns.next_motion()
    first = sink.add(kind, size, motion)
    loaded = bring_in(ctx, scope, load, motion)
    if plan is not None:
        loaded.extend(plan.bring_in(ctx, scope, motion))
    note_companions(ctx, node, first, size)
    if not path.nodes and not loaded and not lies:
        if not path.items and node.join is None:
            ctx.fail("nothing-to-pass", place, count=size, kind=node.quantity.kind.text)
            return first
        for companion in range(size):
            columns.born[first + companion] = columns.add_motion(Verb.TAKE, first + companion, ctx.site)
        return first
    if not ctx.spend_links(size * (len(path.nodes) + len(loaded)), place):
        return first
    mentions = None if _is_plain(node, path) else tuple(path.mentions)
    columns.add_motion(Verb.PASS, first, ctx.site, path.nodes, path.behind, loaded, mentions)
    twin_path, twin_behind = path.nodes + loaded, path.behind + [0] * len(loaded)
    twin_mentions = None
    if node.twin is not None:
        own = Path()
        good = add_items(ctx, scope, own, node.twin.through)
        good = add_items(ctx, scope, own, node.twin.gathering, gathering=True) and good
        if not good or not check_path(ctx, own, scope.file.place(node.twin.span)):
            return first
        if size == 1:
            ctx.fail("no-twin", scope.file.place(node.twin.span))
            return first
        twin_path, twin_behind, twin_mentions = own.nodes, own.behind, tuple(own.mentions)
    for companion in range(1, size):
        columns.born[first + companion] = columns.add_motion(
            Verb.TWIN, first + companion, ctx.site, twin_path, twin_behind, (), twin_mentions
        )
    lie(ctx, first, size, lies, path, place)
    return first


def _is_plain(node: Pass, path: Path) -> bool:
    return (
        len(node.through) == 1
        and isinstance(node.through[0].picks[0], Relative)
        and not node.through[0].eye
        and not node.gathering
        and not path.gaps
        and node.join is None
        and len(path.mentions) == 1
    )


def _pass_at_handed(
    ctx: Context, scope: Scope, node: Pass, handed: list[int], path: Path, good: bool
) -> None:
    """At a place that was handed in, what the ring would carry is opened and passed through it instead."""
    place = scope.file.place(node.span)
    if not good:
        return
    if path.nodes:
        ctx.fail("closed-meets-closed", place, name=node_name(ctx, handed[0]))
        return
    rings = [ring for first in handed for ring in ctx.columns.strand_nodes(first)]
    load = Load()
    if not draft_load(ctx, scope, node.carrying, load):
        return
    if load.findings:
        ctx.fail("closed-meets-closed", place, "finding", name=node_name(ctx, handed[0]))
        return
    for sink, kind, sizes in load.rings:
        for size in sizes:
            pass_strand(ctx, sink, kind, size, rings)
    if node.join is not None:
        plan = plan_join(ctx, scope, node.join)
        if plan is not None:
            plan.pass_open(ctx, scope, rings)
