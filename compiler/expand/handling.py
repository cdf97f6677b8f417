"""Motions of the hands: what passes (hold, let go, turn over, helpers) and what lasts (poses).

In: a statement and its scope. Out: events for the words, and poses for whoever lays the work out.
"""

from __future__ import annotations

from compiler.expand.context import Context
from compiler.expand.live import LiveGroup, LiveHelper, LiveUse, Scope
from compiler.expand.picks import strands_of, things_of
from compiler.weave import Event, EventKind, Pose, PoseKind
from notation.handling import Handle, HandMotion, Helper, Remark, Remove, WorkDirection
from notation.nodes import Hand, Item, Pick
from notation.statements import Family, FamilyKind

WHOLE_TURN = 360
"""Degrees."""


def do_remark(ctx: Context, node: Remark) -> None:
    """Notes a remark."""
    at = ctx.columns.next_motion()
    ctx.columns.add_event(
        Event(at=at, kind=EventKind.REMARK, site=ctx.site, remark=node.kind, text=node.text.value)
    )


def do_handle(ctx: Context, scope: Scope, node: Handle) -> None:
    """Carries out a motion of the hands."""
    nodes = () if node.pick is None else _nodes(ctx, scope, node.pick)
    onto = () if node.onto is None else _nodes(ctx, scope, node.onto)
    if nodes is None or onto is None:
        return
    if node.motion in _LASTING:
        degrees = 0 if node.degrees is None else ctx.number(scope, node.degrees)
        if degrees is not None:
            # Clockwise, looking along the work from where it began; in a mirror image the other way.
            if ctx.columns.mirrored and node.motion is HandMotion.TURN:
                degrees = -degrees % WHOLE_TURN
            _pose(ctx, Pose(kind=_pose_kind(ctx, node), nodes=nodes, onto=onto, amount=degrees, at=_now(ctx)))
        return
    until = ""
    if node.until is not None:
        owner = scope.unit_scope()
        there = scope.find(node.until.text)
        place = scope.file.place(node.until.span)
        if isinstance(there, LiveGroup | LiveUse):
            ctx.fail("already-made", place, name=node.until.text)
            return
        if node.until.text not in owner.upcoming:
            ctx.unknown("unknown-name", place, node.until.text, sorted(owner.upcoming))
            return
        line = owner.labels.get(node.until.text)
        until = line.singular.value if line is not None else node.until.text
    ctx.columns.add_event(
        Event(
            at=_now(ctx),
            kind=EventKind.HANDLE,
            site=ctx.site,
            handle=node.motion,
            nodes=nodes,
            onto=onto,
            until=until,
        )
    )


def _now(ctx: Context) -> int:
    return ctx.columns.next_motion()


def _nodes(ctx: Context, scope: Scope, pick: Pick) -> tuple[int, ...] | None:
    things = things_of(ctx, scope, pick)
    if things is None:
        return None
    firsts = strands_of(ctx, things, scope.file.place(pick.span))
    if firsts is None:
        return None
    return tuple(node for first in firsts for node in ctx.columns.strand_nodes(first))


# ---------------------------------------------------------------- what lasts

_LASTING = {
    HandMotion.FOLD_BACK: PoseKind.FOLDED,
    HandMotion.SPREAD: PoseKind.SPREAD,
    HandMotion.LEAN: PoseKind.LEAN_LEFT,
    HandMotion.TURN: PoseKind.TURNED,
}


def _pose_kind(ctx: Context, node: Handle) -> PoseKind:
    """The kind of pose; in a mirrored use left and right change places."""
    if node.motion is HandMotion.LEAN:
        right = (node.hand is Hand.RIGHT) is not ctx.columns.mirrored
        return PoseKind.LEAN_RIGHT if right else PoseKind.LEAN_LEFT
    return _LASTING[node.motion]


def _pose(ctx: Context, pose: Pose) -> None:
    ctx.columns.poses.append(pose)
    ctx.columns.add_event(Event(at=pose.at, kind=EventKind.POSE, site=ctx.site, pose=pose))


def do_work(ctx: Context, scope: Scope, node: WorkDirection) -> None:
    """Notes the direction of work; a second, other one in the same piece is an error."""
    clockwise = node.clockwise is not ctx.columns.mirrored
    kind = PoseKind.CLOCKWISE if clockwise else PoseKind.ANTICLOCKWISE
    there = [pose for pose in ctx.columns.poses if pose.kind in (PoseKind.CLOCKWISE, PoseKind.ANTICLOCKWISE)]
    if any(pose.kind is not kind for pose in there):
        ctx.fail("direction-again", scope.file.place(node.span))
    elif not there:
        _pose(ctx, Pose(kind=kind, at=_now(ctx)))


def close_family(ctx: Context, owner: Scope, node: Family, family: LiveGroup) -> None:
    """Notes how a round or tube is closed on itself; for other families the parser has told."""
    count = None if node.half_turns is None else ctx.count(owner, node.half_turns, least=0)
    if node.kind not in (FamilyKind.ROUND, FamilyKind.TUBE) or not family.members:
        return
    nodes = (family.members[0],)
    if count is not None:
        if (
            count % 2
            and node.half_turns is not None
            and family.shape is not None
            and len(family.shape.widths) > 1
        ):
            ctx.fail("rows-close-themselves", owner.file.place(node.half_turns.span), count=count)
            return
        amount = -count if node.anticlockwise is not ctx.columns.mirrored else count
        _pose(ctx, Pose(kind=PoseKind.HALF_TURNS, nodes=nodes, amount=amount, at=_now(ctx)))
    if node.front_inside:
        _pose(ctx, Pose(kind=PoseKind.FRONT_INSIDE, nodes=nodes, at=_now(ctx)))


# ---------------------------------------------------------------- helpers


def do_helper(ctx: Context, scope: Scope, node: Helper) -> None:
    """A helper wire is put in."""
    nodes: list[int] = []
    for item in node.items:
        found = _item(ctx, scope, item)
        if found is None:
            return
        nodes.extend(found)
    at = scope.file.place(node.target.name.span)
    helper = LiveHelper(text=node.text.value, made_at=at, nodes=tuple(nodes))
    if not ctx.define(scope.unit_scope(), node.target.name, helper):
        return
    ctx.columns.helpers.append(node.text.value)
    ctx.helpers.append(helper)
    ctx.columns.add_event(
        Event(at=_now(ctx), kind=EventKind.HELPER_IN, site=ctx.site, text=node.text.value, nodes=tuple(nodes))
    )


def _item(ctx: Context, scope: Scope, item: Item) -> list[int] | None:
    found: list[int] = []
    for pick in item.picks:
        nodes = _nodes(ctx, scope, pick)
        if nodes is None:
            return None
        found.extend(nodes)
    return found


def do_remove(ctx: Context, scope: Scope, node: Remove) -> None:
    """A helper wire is taken out."""
    place = scope.file.place(node.span)
    helper = scope.find(node.name.text)
    if not isinstance(helper, LiveHelper):
        names = [name for name in ctx.names_in_sight(scope) if isinstance(scope.find(name), LiveHelper)]
        ctx.unknown("unknown-helper", scope.file.place(node.name.span), node.name.text, names)
        return
    if helper.removed:
        ctx.fail("helper-is-out", place, name=node.name.text)
        return
    helper.removed = True
    ctx.columns.add_event(
        Event(at=_now(ctx), kind=EventKind.HELPER_OUT, site=ctx.site, text=helper.text, nodes=helper.nodes)
    )


def tell_helpers_left(ctx: Context) -> None:
    """Warns of helpers that are still in the work when the piece ends."""
    for helper in ctx.helpers:
        if not helper.removed:
            ctx.report("helper-left-in", helper.made_at, text=helper.text)
