"""Paths and loads: what a motion goes through and what it carries, on the way from text to nodes.

In: the clauses of a pass, a reopening or a hanging. Out: the nodes gone through, in order, with their sides and how
the text names them; and drafts of what is carried, brought in when the motion is made.
"""

from __future__ import annotations

from array import array

from msgspec import Struct, field

from compiler.expand.context import Context
from compiler.expand.gaps import find_gap
from compiler.expand.live import Bound, LiveFinding, Scope
from compiler.expand.picks import left_out, strands_of, tell_no_such_eye, things_of
from compiler.expand.sinks import Sink, open_sink, ring_kind, strand_sizes
from compiler.expand.walk import targets_of
from compiler.weave import Mention
from notation.diagnostic import Place
from notation.limits import MOST_PATH, RINGS_FOR_FINDING
from notation.nodes import Carry, Item, Pick, Relative, Select, Side, Target, Which
from notation.statements import Hang, Pass, Reopen, Take


class Path(Struct):
    """A path under way: nodes gone through, sides, and how the text names them."""

    nodes: list[int] = field(default_factory=list)
    behind: list[int] = field(default_factory=list)
    mentions: list[Mention] = field(default_factory=list)
    items: int = 0
    """Items written, left out or not."""
    gaps: list[tuple[int, int, int]] = field(default_factory=list)
    """Ring gone through, and the two neighbours on it between which the new ring hangs."""

    def add(
        self,
        nodes: list[int],
        behind: bool,
        form: Relative | Which | None,
        eye: bool = False,
        gathering: bool = False,
        waiting: bool = False,
    ) -> None:
        start = len(self.nodes)
        self.nodes.extend(nodes)
        self.behind.extend([int(behind)] * len(nodes))
        self.mentions.append(
            Mention(
                form=form,
                start=start,
                stop=len(self.nodes),
                eye=eye,
                gathering=gathering,
                waiting=waiting,
            )
        )


class Load(Struct):
    """What a motion carries: drafts of strands and findings, brought in when the motion is made."""

    rings: list[tuple[Sink, int, list[int]]] = field(default_factory=list)
    """Where to, kind, sizes of strands."""
    findings: list[tuple[int, int, int, Carry]] = field(default_factory=list)
    """Kind, how many, which eye."""

    def __bool__(self) -> bool:
        return bool(self.rings or self.findings)


def node_list(ctx: Context, scope: Scope, pick: Pick) -> list[int] | None:
    """Every node that a pick comes to, strand by strand."""
    things = things_of(ctx, scope, pick)
    if things is None:
        return None
    firsts = strands_of(ctx, things, scope.file.place(pick.span))
    if firsts is None:
        return None
    return [node for first in firsts for node in ctx.columns.strand_nodes(first)]


def add_items(
    ctx: Context, scope: Scope, path: Path, items: tuple[Item, ...], gathering: bool = False
) -> bool:
    """Adds the items of a `through` or `gathering` clause to a path; False when one is wrong."""
    good = True
    for item in items:
        path.items += 1
        if left_out(ctx, scope, item):
            continue
        nodes: list[int] = []
        for pick in item.picks:
            found = node_list(ctx, scope, pick)
            if found is None:
                good = False
            else:
                nodes.extend(found)
        if not nodes:
            continue
        if item.gap is not None:
            gap = find_gap(ctx, scope, item, nodes)
            if gap is None:
                good = False
                continue
            path.gaps.append(gap)
        pick = item.picks[0]
        form = pick if isinstance(pick, Relative) else pick.which if isinstance(pick, Select) else None
        path.add(nodes, item.side is Side.BEHIND, form, eye=item.eye, gathering=gathering)
    return good


def check_path(ctx: Context, path: Path, place: Place) -> bool:
    """No ring twice in one path, and no path without end."""
    if len(path.nodes) > MOST_PATH:
        ctx.fail("path-too-long", place, count=len(path.nodes), limit=MOST_PATH)
        return False
    seen: set[int] = set()
    for node in path.nodes:
        if node in seen:
            ctx.fail("linked-twice", place, "path", name=node_name(ctx, node))
            return False
        seen.add(node)
    return True


def node_name(ctx: Context, node: int) -> str:
    """What a ring or eye is called in a message: `arm 3`, or `mesh[2, 3]` where there are rows."""
    columns = ctx.columns
    if columns.kind[node] < 0:
        return ctx.finding_kinds[-1 - columns.kind[node]].singular
    draft = columns.groups[columns.group[node]]
    live, member = draft.live, columns.member[node]
    if live.shape is not None and len(live.shape.widths) > 1 and member <= live.row_starts[-1]:
        row, column = live.where(member - 1)
        return f"{live.name}[{row + 1}, {column + 1}]"
    return f"{draft.singular} {member}" if len(live.members) > 1 else draft.singular


def draft_load(ctx: Context, scope: Scope, carries: tuple[Carry, ...], load: Load) -> bool:
    """Prepares what a `carrying` clause brings in; False when something is wrong."""
    good = True
    for carry in carries:
        name = carry.quantity.kind.text
        if name in scope.file.finding_numbers:
            kind = scope.file.finding_numbers[name]
            count = ctx.count(scope, carry.quantity.count)
            eye = _eye_number(ctx, scope, kind, carry)
            if count is None or eye is None:
                good = False
                continue
            if not ctx.spend_rings(count, scope.file.place(carry.span), RINGS_FOR_FINDING):
                good = False
                continue
            load.findings.append((kind, count, eye, carry))
            continue
        number = ring_kind(ctx, scope, carry.quantity)
        if number is None:
            good = False
            continue
        if carry.eye is not None:
            ctx.fail("no-eye-here", scope.file.place(carry.eye.span), kind=name)
            good = False
            continue
        kind_of = ctx.ring_kinds[number]
        sizes = strand_sizes(ctx, scope, carry.quantity, kind_of, one_strand=False)
        if sizes is None:
            good = False
            continue
        sink = open_sink(ctx, scope, carry.target, kind_of, scope.file.place(carry.span), len(sizes))
        if sink is None:
            good = False
            continue
        load.rings.append((sink, number, sizes))
    return good


def _eye_number(ctx: Context, scope: Scope, kind: int, carry: Carry) -> int | None:
    eyes = ctx.finding_kinds[kind].eyes
    if carry.eye is None:
        if len(eyes) > 1:
            names = ", ".join(eye.name for eye in eyes)
            place = scope.file.place(carry.span)
            ctx.fail("which-eye", place, "by", finding=ctx.finding_kinds[kind].singular, eyes=names)
            return None
        return 0
    return eye_by_name(ctx, kind, carry.eye.text, scope.file.place(carry.eye.span))


def eye_by_name(ctx: Context, kind: int, name: str, place: Place) -> int | None:
    """The number of a named eye of a finding kind."""
    eyes = ctx.finding_kinds[kind].eyes
    for number, eye in enumerate(eyes):
        if eye.name == name:
            return number
    tell_no_such_eye(ctx, kind, name, place)
    return None


def bring_in(ctx: Context, scope: Scope, load: Load, motion: int) -> list[int]:
    """Brings the load into the work; gives the nodes that hang on the open ring."""
    nodes: list[int] = []
    for sink, kind, sizes in load.rings:
        first = len(ctx.columns.kind)
        sink.add_all(kind, sizes, array("i", [motion]) * sum(sizes))
        nodes.extend(range(first, len(ctx.columns.kind)))
    for kind, count, eye, carry in load.findings:
        brought = [add_finding(ctx, scope, kind, motion) for _ in range(count)]
        define_findings(ctx, scope, carry.target, brought)
        nodes.extend(finding.eyes[eye] for finding in brought)
    return nodes


def add_finding(ctx: Context, scope: Scope, kind: int, motion: int) -> LiveFinding:
    """Brings in one finding."""
    from_kind = ctx.finding_kinds[kind]
    owner = scope.unit_scope()
    key = f"{owner.key}/{from_kind.name}" if owner.key else from_kind.name
    use = ctx.columns.add_finding(kind, len(from_kind.eyes), key, from_kind.singular, motion)
    at = ctx.sites[ctx.site].place
    return LiveFinding(number=len(ctx.columns.findings) - 1, kind=kind, eyes=use.eyes, made_at=at)


def define_findings(ctx: Context, scope: Scope, target: Target | None, findings: list[LiveFinding]) -> None:
    """Gives findings the name of their target, in the place of a family or else in the unit."""
    if target is None:
        return
    if target.index or target.grows:
        ctx.fail("no-index-here", scope.file.place(target.span), name=target.name.text)
        return
    at = scope.file.place(target.name.span)
    one = findings[0] if len(findings) == 1 else None
    if one is not None:
        one.made_at = at
    ctx.define(scope.home(), target.name, one or Bound(things=list(findings), made_at=at))


def handed_here(scope: Scope, node: Pass | Take) -> list[int] | None:
    """The strands handed in for this place, if the statement would make the family's member here."""
    if node.target is not None or scope.family is None:
        return None
    return scope.family.handed.get(scope.ordinal)


def break_targets(ctx: Context, scope: Scope, node: Pass | Take | Reopen | Hang) -> None:
    """Marks the names that a failed statement would have made, so that their use stays quiet."""
    names = [target.name.text for target in targets_of(node)]
    scope.break_names(names, scope.file.place(node.span))
    ctx.columns.broken = True
