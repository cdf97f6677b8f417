"""Families: lines, rounds, sheets and tubes, carried out place by place (or in bulk, see `bulk`).

In: a family statement and its scope. Out: the family's members, its steps (a place of a line or round, or a row of
a sheet or tube, is a step of its own unless the text has steps), and the names of each place.
"""

from __future__ import annotations

from compiler.expand.bulk import make_rows, simple_pass
from compiler.expand.context import Context
from compiler.expand.edges import tell_missing
from compiler.expand.handling import close_family
from compiler.expand.live import Bound, Broken, LiveGroup, NotGiven, Scope
from compiler.expand.picks import strands_of
from compiler.expand.shape import make_shape
from compiler.expand.sinks import new_group
from compiler.expand.walk import names_made, statements_in
from compiler.weave import FamilyShape, SiteKind
from notation.diagnostic import Frame, Place
from notation.limits import MOST_RINGS
from notation.nodes import Which
from notation.statements import (
    Family,
    FamilyKind,
    Make,
    RowOf,
    RowsFromTo,
    RowsOf,
    RowsTimes,
    Stagger,
    Step,
    Widths,
)


def do_family(ctx: Context, scope: Scope, node: Family) -> None:
    """Carries out a family."""
    owner = scope.unit_scope()
    place = scope.file.place(node.span)
    shape: FamilyShape | None = None
    if scope.family is not None:
        ctx.fail("family-in-family", place, name=node.name.text)
    else:
        widths = _widths(ctx, scope, node)
        shape = None if widths is None else _shape(ctx, scope, node, widths)
    if shape is None:
        scope.break_names((node.name.text, *sorted(names_made(node.body))), place)
        return
    family = new_group(ctx, owner, node.name.text, scope.file.place(node.name.span), shape)
    if not ctx.define(owner, node.name, family):
        ctx.columns.groups.pop()
        scope.break_names((node.name.text, *sorted(names_made(node.body))), place)
        return
    _hand_in(ctx, owner, node, family)
    statement = simple_pass(node)
    if statement is not None:
        if not make_rows(ctx, scope, family, node, statement):
            owner.names[node.name.text] = Broken(made_at=place)
    else:
        _make_places(ctx, owner, family, node)
    _name_ports(owner, node, family)
    close_family(ctx, owner, node, family)


# ---------------------------------------------------------------- shape


def _shape(ctx: Context, scope: Scope, node: Family, widths: tuple[int, ...]) -> FamilyShape | None:
    if node.kind is FamilyKind.TUBE and len(set(widths)) > 1:
        ctx.fail("tube-widths", scope.file.place(node.span), name=node.name.text)
        return None
    if node.kind is FamilyKind.TUBE and node.stagger is Stagger.CENTRED:
        ctx.fail("tube-widths", scope.file.place(node.span), "centred", name=node.name.text)
        return None
    return make_shape(node.kind, widths, node.stagger, node.downward, ctx.columns.mirrored)


def _widths(ctx: Context, scope: Scope, node: Family) -> tuple[int, ...] | None:
    if node.kind in (FamilyKind.LINE, FamilyKind.ROUND):
        row = node.widths[0] if node.widths else None
        if not isinstance(row, RowOf):
            return None
        count = ctx.count(scope, row.width)
        if count is None:
            return None
        if node.kind is FamilyKind.ROUND and count < 2:
            ctx.fail("round-too-small", scope.file.place(row.span), count=count)
            return None
        if count > MOST_RINGS:
            ctx.fail("too-many-rings", scope.file.place(row.span), count=count, limit=MOST_RINGS)
            return None
        return (count,)
    rows: list[int] = []
    for widths in node.widths:
        more = _rows_of(ctx, scope, widths)
        if more is None:
            return None
        rows.extend(more)
        if sum(rows) > MOST_RINGS or len(rows) > MOST_RINGS:
            ctx.fail("too-many-rings", scope.file.place(node.span), count=sum(rows), limit=MOST_RINGS)
            return None
    if not rows:
        ctx.fail("no-rows", scope.file.place(node.span), name=node.name.text)
        return None
    return tuple(rows)


def _rows_of(ctx: Context, scope: Scope, widths: Widths) -> list[int] | None:
    place = scope.file.place(widths.span)
    match widths:
        case RowOf():
            width = ctx.count(scope, widths.width)
            return None if width is None else [width]
        case RowsOf():
            rows, width = ctx.count(scope, widths.rows), ctx.count(scope, widths.width)
            if rows is None or width is None:
                return None
            if rows * width > MOST_RINGS:
                ctx.fail("too-many-rings", place, count=rows * width, limit=MOST_RINGS)
                return None
            return [width] * rows
        case RowsFromTo():
            values = ctx.span_of_values(scope, widths.first, widths.last, widths.down, widths.span)
            if not values:
                return None if values is None else []
            low, high = sorted((values[0], values[-1]))
            if low < 1:
                ctx.fail("count-too-small", place, value=low, least=1)
                return None
            rings = (low + high) * len(values) // 2
            if rings > MOST_RINGS:
                ctx.fail("too-many-rings", place, count=rings, limit=MOST_RINGS)
                return None
            return list(values)
        case RowsTimes():
            times = ctx.count(scope, widths.times, least=0)
            inner: list[int] = []
            for one in widths.rows:
                more = _rows_of(ctx, scope, one)
                if more is None:
                    return None
                inner.extend(more)
            if times is None:
                return None
            if times * max(sum(inner), 1) > MOST_RINGS:
                ctx.fail("too-many-rings", place, count=times * sum(inner), limit=MOST_RINGS)
                return None
            return inner * times


# ---------------------------------------------------------------- handed places


def _hand_in(ctx: Context, owner: Scope, node: Family, family: LiveGroup) -> None:
    """Notes which places are groups handed in for a port."""
    assert family.shape is not None
    last = sum(family.shape.widths) - 1
    parameters = owner.unit.parameters if owner.unit is not None else ()
    ports = [parameter.name.text for parameter in parameters if parameter.is_port]
    for which, name in node.handed:
        if name.text not in ports:
            ctx.tell_no_port(owner, name, ports)
            continue
        port = owner.ports.get(name.text)
        if port is None or isinstance(port, NotGiven | Broken):
            continue
        things = list(port.things) if isinstance(port, Bound) else []
        strands = strands_of(ctx, things, owner.file.place(name.span))
        if strands is None:
            continue
        if not strands and ctx.columns.broken:
            continue  # what would be handed in could not be made, and that was told
        if len(strands) != 1 or ctx.columns.kind[strands[0]] < 0:
            ctx.fail("port-not-one", owner.file.place(name.span), name=name.text, count=len(strands))
            continue
        family.handed[0 if which is Which.FIRST else last] = strands


def _name_ports(owner: Scope, node: Family, family: LiveGroup) -> None:
    """`first is start` also makes `start` the name of that place for others to reach."""
    for which, name in node.handed:
        if not family.members:
            continue
        member = family.members[0 if which is Which.FIRST else -1]
        owner.ports[name.text] = Bound(things=[member], made_at=owner.file.place(name.span))
        owner.names[name.text] = owner.ports[name.text]


# ---------------------------------------------------------------- places


def _make_places(ctx: Context, owner: Scope, family: LiveGroup, node: Family) -> None:
    shape = family.shape
    assert shape is not None
    total = sum(shape.widths)
    if not ctx.spend_rounds(total, owner.file.place(node.span)):
        return
    by_row = node.kind not in (FamilyKind.LINE, FamilyKind.ROUND)
    # A unit's statements make steps of their own.
    own_steps = any(isinstance(inner, Step | Make) for inner in statements_in(node.body))
    title_steps = ctx.columns.step_open is None and not own_steps
    outer, ordinal = ctx.site, 0
    for row, width in enumerate(shape.widths):
        if title_steps and by_row:
            _begin(ctx, owner, family, node, row + 1)
        for column in range(width):
            if ctx.stopped:
                break
            number = column + 1
            ctx.site = outer
            ctx.site = ctx.add_site(
                SiteKind.PLACE, owner.file.place(node.span), family.name, row + 1 if by_row else number
            )
            if title_steps and not by_row:
                _begin(ctx, owner, family, node, number)
            ctx.frames.append(
                _at_place(owner.file.place(node.name.span), family.name, by_row, row + 1, number)
            )
            _one_place(ctx, owner, family, node, ordinal)
            ctx.frames.pop()
            if title_steps and not by_row:
                ctx.columns.end_step()
            ordinal += 1
        if title_steps and by_row:
            ctx.columns.end_step()
    ctx.site = outer
    if not ctx.stopped:
        tell_missing(ctx, owner.file, family, node.body)


def _at_place(place: Place, name: str, by_row: bool, row: int, number: int) -> Frame:
    if by_row:
        return Frame(
            place=place, note="at-place-in-row", arguments=(("name", name), ("row", row), ("place", number))
        )
    return Frame(place=place, note="at-place", arguments=(("name", name), ("place", number)))


def _begin(ctx: Context, owner: Scope, family: LiveGroup, node: Family, number: int) -> None:
    site = ctx.add_site(SiteKind.PLACE, owner.file.place(node.span), family.name, number)
    ctx.columns.begin_step(f"{family.key}[{number}]", "", site, family.number, number)


def _one_place(ctx: Context, owner: Scope, family: LiveGroup, node: Family, ordinal: int) -> None:
    family.place_start.append(len(family.members))
    family.members.extend(family.handed.get(ordinal, ()))
    inner = Scope(
        file=owner.file,
        parent=owner,
        key=owner.key,
        owner=owner.owner,
        unit=None,
        family=family,
        ordinal=ordinal,
    )
    family.scopes[ordinal] = inner
    ctx.run_body(node.body, inner)
