"""Expectations of how rings lie: around, between, inside, over; companions, poses, half turns; loops plain or crossed.

One that does not hold is an error that says what is so. One that holds becomes a checkpoint for the maker.
In a mirrored use a unit expects the mirror image of what it says.
"""

from __future__ import annotations

from compiler.expand.context import Context
from compiler.expand.handling import WHOLE_TURN
from compiler.expand.live import LiveGroup, Scope
from compiler.expand.paths import node_list, node_name
from compiler.expand.picks import strands_of, things_of
from compiler.weave import Companionship, Event, EventKind, Pose, PoseKind, RelationKind
from notation.diagnostic import Place
from notation.expectations import (
    ExpectCompanions,
    ExpectFace,
    ExpectLeans,
    ExpectLies,
    ExpectLoop,
    ExpectTurned,
    ExpectTurns,
    Lies,
)
from notation.nodes import Hand, Name

_RELATIONS = {
    Lies.AROUND: (RelationKind.AROUND, RelationKind.INSIDE),
    Lies.INSIDE: (RelationKind.INSIDE, RelationKind.AROUND),
    Lies.BETWEEN: (RelationKind.BETWEEN, None),
    Lies.OVER: (RelationKind.OVER, RelationKind.UNDER),
}


Asserted = ExpectFace | ExpectLies | ExpectCompanions | ExpectLeans | ExpectTurned | ExpectLoop | ExpectTurns


def do_assert(ctx: Context, scope: Scope, node: Asserted) -> None:
    """Carries out an expectation; in a piece that is already wrong it stays quiet."""
    match node:
        case ExpectLies():
            _lies(ctx, scope, node)
        case ExpectCompanions():
            _companions(ctx, scope, node)
        case ExpectLeans():
            _leans(ctx, scope, node)
        case ExpectTurned():
            _turned(ctx, scope, node)
        case ExpectLoop():
            _loop(ctx, scope, node)
        case ExpectTurns():
            _turns(ctx, scope, node)
        case ExpectFace():
            _face(ctx, scope, node)


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
            if ((ring, other) in said) is node.denied:
                name, other_name = node_name(ctx, ring), node_name(ctx, other)
                place = scope.file.place(node.span)
                variant = "lies-not" if node.denied else "lies"
                ctx.report(
                    "not-as-expected", place, variant, name=name, lies=node.lies.value, other=other_name
                )
                return
    text = f"not {node.lies.value}" if node.denied else node.lies.value
    _checkpoint(ctx, text, tuple(nodes), tuple(others))


def _companions(ctx: Context, scope: Scope, node: ExpectCompanions) -> None:
    nodes = node_list(ctx, scope, node.pick)
    if nodes is None or ctx.columns.broken:
        return
    columns = ctx.columns
    for first in dict.fromkeys(columns.strand[ring] for ring in nodes):
        way = columns.companionship.get(first, Companionship.SIDE_BY_SIDE)
        there = way.value if len(columns.strand_nodes(first)) > 1 else "alone"
        if there != node.companions.value:
            _not_so(ctx, scope.file.place(node.span), first, there, node.companions.value)
            return
    _checkpoint(ctx, node.companions.value, tuple(nodes))


def _leans(ctx: Context, scope: Scope, node: ExpectLeans) -> None:
    nodes = node_list(ctx, scope, node.pick)
    if nodes is None or ctx.columns.broken:
        return
    left, right = PoseKind.LEAN_LEFT, PoseKind.LEAN_RIGHT
    last = {
        ring: pose.kind for pose in ctx.columns.poses if pose.kind in (left, right) for ring in pose.nodes
    }
    is_right = (node.hand is Hand.RIGHT) is not ctx.columns.mirrored
    words = {None: "upright", left: "leaning left", right: "leaning right"}
    wanted = right if is_right else left
    for ring in nodes:
        if last.get(ring) is not wanted:
            _not_so(ctx, scope.file.place(node.span), ring, words[last.get(ring)], words[wanted])
            return
    _checkpoint(ctx, wanted.value, tuple(nodes))


def _turned(ctx: Context, scope: Scope, node: ExpectTurned) -> None:
    nodes, said = node_list(ctx, scope, node.pick), ctx.number(scope, node.degrees)
    if nodes is None or said is None or ctx.columns.broken:
        return
    turned: dict[int, int] = {}
    for pose in ctx.columns.poses:
        if pose.kind is PoseKind.TURNED:
            for ring in pose.nodes:
                turned[ring] = (turned.get(ring, 0) + pose.amount) % WHOLE_TURN
    wanted = (-said if ctx.columns.mirrored else said) % WHOLE_TURN
    for ring in nodes:
        there = turned.get(ring, 0)
        if there != wanted:
            place = scope.file.place(node.span)
            _not_so(ctx, place, ring, f"turned by {there} degrees", f"turned by {wanted} degrees")
            return
    _checkpoint(ctx, "turned", tuple(nodes), counts=(("degrees", wanted),))


def _not_so(ctx: Context, place: Place, ring: int, there: str, wanted: str) -> None:
    ctx.report("not-as-expected", place, "pose", name=node_name(ctx, ring), there=there, wanted=wanted)


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
    # Round an odd loop the mirror image has the other sign.
    is_turned = columns.mirrored and len(rings) % 2 == 1
    wanted = "crossed" if node.crossed is not is_turned else "plain"
    there = "crossed" if product < 0 else "plain"
    if there != wanted:
        ctx.report("not-as-expected", place, "loop", there=there, wanted=wanted)
        return
    _checkpoint(ctx, there, tuple(rings))


def _turns(ctx: Context, scope: Scope, node: ExpectTurns) -> None:
    said = ctx.count(scope, node.half_turns, least=0)
    first = _round(ctx, scope, node.name)
    if said is None or first is None:
        return
    wanted = -said if node.anticlockwise is not ctx.columns.mirrored else said
    there = next((pose.amount for pose in _closings(ctx, PoseKind.HALF_TURNS, first)), 0)
    if there != wanted:
        span = scope.file.place(node.span)
        ctx.report(
            "not-as-expected",
            span,
            "turns",
            name=node.name.text,
            wanted=_half_turns(wanted),
            there=_half_turns(there),
        )
        return
    _checkpoint(ctx, "half turns", (first,), counts=(("half turns", there),))


def _half_turns(amount: int) -> str:
    """`1 half turn`, `2 half turns anticlockwise`, as in the notation."""
    turns = f"{abs(amount)} half {'turn' if abs(amount) == 1 else 'turns'}"
    return f"{turns} anticlockwise" if amount < 0 else turns


def _face(ctx: Context, scope: Scope, node: ExpectFace) -> None:
    first = _round(ctx, scope, node.name)
    if first is None:
        return
    is_inside = bool(_closings(ctx, PoseKind.FRONT_INSIDE, first))
    if is_inside is not node.front_inside:
        place, name = scope.file.place(node.span), node.name.text
        ctx.report(
            "not-as-expected", place, "front-inside" if node.front_inside else "back-inside", name=name
        )
        return
    _checkpoint(ctx, "front inside" if is_inside else "back inside", (first,))


def _round(ctx: Context, scope: Scope, name: Name) -> int | None:
    """The first member of the family of a name; None where there is none, which is told."""
    family = scope.find(name.text)
    if ctx.columns.broken:
        return None
    if not isinstance(family, LiveGroup) or family.shape is None or not family.members:
        ctx.fail("no-turns-here", scope.file.place(name.span), name=name.text)
        return None
    return family.members[0]


def _closings(ctx: Context, kind: PoseKind, first: int) -> list[Pose]:
    return [pose for pose in ctx.columns.poses if pose.kind is kind and pose.nodes == (first,)]
