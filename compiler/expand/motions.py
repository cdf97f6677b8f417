"""Takes, reopened rings and hung findings.

In: a statement and its scope. Out: motions, nodes and links in the columns, or a report and nothing.
"""

from __future__ import annotations

from compiler.expand.context import Context
from compiler.expand.lies import lie, note_companions, plan_lies
from compiler.expand.live import Bound, Broken, Entity, LiveFinding, Scope, Thing
from compiler.expand.paths import (
    Load,
    Path,
    add_finding,
    add_items,
    break_targets,
    bring_in,
    check_path,
    define_findings,
    draft_load,
    eye_by_name,
    handed_here,
    node_name,
)
from compiler.expand.picks import strands_of, things_of
from compiler.expand.sinks import open_sink, ring_kind, strand_sizes
from compiler.weave import Verb
from notation.diagnostic import Place
from notation.limits import RINGS_FOR_FINDING
from notation.nodes import Companions, Named
from notation.statements import Hang, Reopen, Take


def do_take(ctx: Context, scope: Scope, node: Take) -> None:
    """Carries out a take: closed rings that hang on nothing yet."""
    place = scope.file.place(node.span)
    if handed_here(scope, node) is not None:
        return
    number = ring_kind(ctx, scope, node.quantity)
    kind = None if number is None else ctx.ring_kinds[number]
    sizes = None if kind is None else strand_sizes(ctx, scope, node.quantity, kind, one_strand=False)
    lies = plan_lies(ctx, scope, node)
    if number is None or kind is None or sizes is None or lies is None:
        break_targets(ctx, scope, node)
        return
    sink = open_sink(ctx, scope, node.target, kind, place, len(sizes), members_of_family=True)
    if sink is None:
        break_targets(ctx, scope, node)
        return
    columns = ctx.columns
    rings = range(len(columns.kind), len(columns.kind) + sum(sizes))
    motion = columns.next_motion()
    firsts = sink.add_all(number, sizes, range(motion, motion + len(rings)))
    columns.add_takes(rings, ctx.site)
    if not lies and node.companions is Companions.SIDE_BY_SIDE:
        return
    for first, size in zip(firsts, sizes, strict=True):
        note_companions(ctx, node, first, size)
        lie(ctx, first, size, lies, Path(), place)


def do_reopen(ctx: Context, scope: Scope, node: Reopen) -> None:
    """Carries out a reopening: a ring of the work, with its companions, makes further links."""
    place = scope.file.place(node.span)
    things = things_of(ctx, scope, node.pick)
    firsts = None if things is None else strands_of(ctx, things, scope.file.place(node.pick.span))
    path, load = Path(), Load()
    good = add_items(ctx, scope, path, node.through)
    good = draft_load(ctx, scope, node.carrying, load) and good
    if firsts is None or not good or not check_path(ctx, path, place):
        break_targets(ctx, scope, node)
        return
    if len(firsts) != 1 or ctx.columns.kind[firsts[0]] < 0:
        picked = scope.file.place(node.pick.span)
        if len(firsts) == 1:
            ctx.fail("reopen-one", picked, "eye", name=node_name(ctx, firsts[0]))
        else:
            ctx.fail("reopen-one", picked, count=len(firsts))
        break_targets(ctx, scope, node)
        return
    rings = ctx.columns.strand_nodes(firsts[0])
    for ring in rings:
        if not _may_link(ctx, ring, path.nodes, place):
            break_targets(ctx, scope, node)
            return
    if not path.nodes and not load:
        ctx.fail("nothing-to-pass", place, "reopen", name=node_name(ctx, firsts[0]))
        return
    loaded = bring_in(ctx, scope, load, ctx.columns.next_motion())
    mentions = tuple(path.mentions)
    for companion, ring in enumerate(rings):
        if companion == 0:
            ctx.columns.add_motion(Verb.REOPEN, ring, ctx.site, path.nodes, path.behind, loaded, mentions)
        else:
            behind = path.behind + [0] * len(loaded)
            ctx.columns.add_motion(Verb.REOPEN, ring, ctx.site, path.nodes + loaded, behind, (), mentions)


def _may_link(ctx: Context, actor: int, nodes: list[int], place: Place) -> bool:
    for node in nodes:
        if node == actor:
            ctx.fail("through-itself", place, name=node_name(ctx, actor))
            return False
        if node in ctx.columns.linked_with(actor):
            name, other = node_name(ctx, actor), node_name(ctx, node)
            ctx.fail("linked-twice", place, name=name, other=other)
            return False
    return True


def do_hang(ctx: Context, scope: Scope, node: Hang) -> None:
    """Carries out a hanging: an eye that opens is closed on rings of the work."""
    place = scope.file.place(node.span)
    path = Path()
    good = add_items(ctx, scope, path, node.items)
    found = _hung(ctx, scope, node)
    if found is None or not good or not check_path(ctx, path, place):
        break_targets(ctx, scope, node)
        return
    kind, there = found
    eyes = ctx.finding_kinds[kind].eyes
    eye: int | None = 0
    if node.eye is not None:
        eye = eye_by_name(ctx, kind, node.eye.text, scope.file.place(node.eye.span))
    elif len(eyes) > 1:
        names = ", ".join(one.name for one in eyes)
        ctx.fail("which-eye", place, "by", finding=ctx.finding_kinds[kind].singular, eyes=names)
        eye = None
    if eye is None:
        break_targets(ctx, scope, node)
        return
    if not eyes[eye].opens:
        finding = ctx.finding_kinds[kind].singular
        ctx.fail("eye-is-closed", place, "" if node.eye else "only", finding=finding, eye=eyes[eye].name)
        break_targets(ctx, scope, node)
        return
    if not path.nodes:
        ctx.fail("nothing-to-pass", place, "hang", name=ctx.finding_kinds[kind].singular)
        return
    motion = ctx.columns.next_motion()
    if there is None:
        there = add_finding(ctx, scope, kind, motion)
        define_findings(ctx, scope, node.target, [there])
    elif not _may_link(ctx, there.eyes[eye], path.nodes, place):
        return
    ctx.columns.add_motion(
        Verb.HANG, there.eyes[eye], ctx.site, path.nodes, path.behind, (), tuple(path.mentions)
    )


def _hung(ctx: Context, scope: Scope, node: Hang) -> tuple[int, LiveFinding | None] | None:
    name = node.finding.text
    place = scope.file.place(node.finding.span)
    entity: Entity | Thing | None = scope.find(name)
    if isinstance(entity, Broken):
        ctx.columns.broken = True
        return None
    if isinstance(entity, Bound) or node.index:
        pick = Named(name=node.finding, index=node.index, span=node.finding.span)
        things = things_of(ctx, scope, pick)
        if things is None:
            return None
        if len(things) != 1:
            ctx.fail("unknown-finding", place, "several", name=name, count=len(things))
            return None
        entity = things[0]
    if isinstance(entity, LiveFinding):
        if node.target is not None:
            ctx.fail("name-in-use", scope.file.place(node.target.span), "hang", name=name)
            return None
        return entity.kind, entity
    if name in scope.file.finding_numbers and entity is None:
        if not ctx.spend_rings(1, place, RINGS_FOR_FINDING):
            return None
        return scope.file.finding_numbers[name], None
    if name in scope.file.broken:
        ctx.columns.broken = True
    elif name in scope.file.unmapped:
        ctx.fail("kind-not-mapped", scope.file.unmapped[name], name=name)
    else:
        ctx.unknown("unknown-finding", place, name, [*scope.file.findings, *_live_findings(scope)])
    return None


def _live_findings(scope: Scope) -> list[str]:
    names: list[str] = []
    inner: Scope | None = scope
    while inner is not None:
        names.extend(name for name, entity in inner.names.items() if isinstance(entity, LiveFinding))
        inner = inner.parent
    return names
