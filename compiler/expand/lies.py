"""How a new ring lies to others without being linked with them: around, between, inside, over, under, in a gap.

In: the clauses of a pass or take. Out: the nodes concerned, checked, and later the relations in the columns.
"""

from __future__ import annotations

from itertools import groupby

from msgspec import Struct, field

from compiler.expand.context import Context
from compiler.expand.live import Scope
from compiler.expand.paths import Path, node_list, node_name
from compiler.weave import Companionship, Relation, RelationKind
from notation.diagnostic import Place
from notation.nodes import Companions, Item, Pick
from notation.statements import Pass, Take

COMPANIONSHIP = {
    Companions.FRONT_AND_BACK: Companionship.FRONT_AND_BACK,
    Companions.NESTED: Companionship.NESTED,
}


class Lies(Struct):
    """How a ring will lie: for each relation the nodes it lies so to."""

    said: list[tuple[RelationKind, tuple[int, ...]]] = field(default_factory=list)

    def __bool__(self) -> bool:
        return bool(self.said)


def plan_lies(ctx: Context, scope: Scope, node: Pass | Take) -> Lies | None:
    """The relations that a statement asks for, or None when one of its picks is wrong."""
    lies = Lies()
    good = True
    if isinstance(node, Pass):
        for kind, items in (
            (RelationKind.AROUND, node.around),
            (RelationKind.OVER, node.over),
            (RelationKind.UNDER, node.under),
        ):
            for item in items:
                good = _add(ctx, lies, kind, _item_nodes(ctx, scope, item)) and good
        if node.between is not None:
            good = _add_between(ctx, scope, lies, node.between) and good
    if node.inside is not None:
        good = _add(ctx, lies, RelationKind.INSIDE, node_list(ctx, scope, node.inside)) and good
    return lies if good else None


def _add(ctx: Context, lies: Lies, kind: RelationKind, nodes: list[int] | None) -> bool:
    if nodes is None:
        ctx.columns.broken = True
        return False
    if nodes:
        lies.said.append((kind, tuple(nodes)))
    return True


def _add_between(ctx: Context, scope: Scope, lies: Lies, pick: Pick) -> bool:
    nodes = node_list(ctx, scope, pick)
    if nodes is None:
        return False
    strands = {ctx.columns.strand[node] for node in nodes}
    if len(strands) != 1 or len(nodes) < 2:
        ctx.fail("between-what", scope.file.place(pick.span), count=len(nodes))
        return False
    lies.said.append((RelationKind.BETWEEN, tuple(nodes)))
    return True


def _item_nodes(ctx: Context, scope: Scope, item: Item) -> list[int] | None:
    found: list[int] = []
    for pick in item.picks:
        nodes = node_list(ctx, scope, pick)
        if nodes is None:
            return None
        found.extend(nodes)
    return found


def lie(ctx: Context, first: int, size: int, lies: Lies, path: Path, place: Place) -> None:
    """Enters the relations of a strand that has been made; lying so to a ring one is linked with is an error."""
    columns = ctx.columns
    for companion in range(size):
        ring = first + companion
        linked = set(columns.linked_with(ring)) if lies else set[int]()
        born = columns.born[ring]
        for kind, others in lies.said:
            both = next((other for other in others if other in linked), None)
            if both is not None:
                name, other_name = node_name(ctx, ring), node_name(ctx, both)
                ctx.fail("lies-and-linked", place, name=name, lies=kind.value, other=other_name)
                return
            columns.relations.append(Relation(kind=kind, node=ring, others=others, motion=born))
        for hole, one, other in path.gaps:
            columns.relations.append(
                Relation(kind=RelationKind.GAP, node=ring, others=(hole, one, other), motion=born)
            )


def note_companions(ctx: Context, node: Pass | Take, first: int, size: int) -> None:
    """Keeps how the rings of a strand lie to one another, where it is not side by side."""
    if node.companions is Companions.SIDE_BY_SIDE:
        return
    if isinstance(node, Pass) and node.inside is not None and (size == 1 or not _way_said(node)):
        return  # nested in a ring of another pass, see `follow`
    if size == 1:
        ctx.fail("no-companions", ctx.sites[ctx.site].place, words=node.companions.value)
        return
    ctx.columns.companionship[first] = COMPANIONSHIP[node.companions]


def follow(ctx: Context, scope: Scope, node: Pass, path: Path) -> int | None:
    """The strand that a nested one follows inside it, or None; where no way is said, its way is put into the path."""
    if node.companions is not Companions.NESTED or node.inside is None:
        return None
    nodes = node_list(ctx, scope, node.inside)
    if nodes is None:  # told with the other clauses
        return None
    leads = tuple(dict.fromkeys(ctx.columns.strand[ring] for ring in nodes))
    if len(leads) != 1:
        ctx.fail("nested-in-what", scope.file.place(node.inside.span), count=len(leads))
        return None
    if not _way_said(node):
        path.items += 1
        for behind, run in groupby(ctx.columns.sides_of(leads[0]), key=lambda each: each[1]):
            path.add([ring for ring, _ in run], bool(behind), None)
    return leads[0]


def _way_said(node: Pass) -> bool:
    return bool(node.through or node.gathering)
