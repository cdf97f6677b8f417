"""Statement by statement: steps, loops, conditions, uses of units, remarks and expectations.

The dispatch of the expansion. What makes links is in `passes`, families in `families`; this file keeps order.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.expand.assertions import do_assert
from compiler.expand.context import Context
from compiler.expand.expects import do_expect
from compiler.expand.families import do_family
from compiler.expand.handling import do_handle, do_helper, do_remark, do_remove, do_work
from compiler.expand.live import Bound, Broken, LiveFinding, LiveUse, PlaceOf, Scope, Thing, Whole
from compiler.expand.motions import do_hang, do_reopen, do_take
from compiler.expand.passes import do_pass
from compiler.expand.picks import things_of
from compiler.expand.units import do_make
from compiler.expand.walk import names_made
from compiler.weave import SiteKind
from notation.diagnostic import Frame
from notation.expectations import (
    ExpectCompanions,
    ExpectFace,
    ExpectHolds,
    ExpectLeans,
    ExpectLies,
    ExpectLoop,
    ExpectTotal,
    ExpectTurned,
    ExpectTurns,
    ExpectUsed,
)
from notation.handling import Handle, Helper, LabelLine, Remark, Remove, WorkDirection
from notation.nodes import Pick, Target
from notation.statements import Broken as Unread
from notation.statements import (
    Family,
    For,
    ForEach,
    Hang,
    If,
    Let,
    MadeToLength,
    Make,
    Pass,
    Port,
    Reopen,
    Repeat,
    Statement,
    Step,
    Take,
)

MAKING = Pass | Take | Reopen | Hang


def run_body(ctx: Context, body: Iterable[Statement], scope: Scope) -> None:
    """Carries out statements in order; stops quietly once a limit has been told."""
    outer = ctx.site
    ctx.depth += 1
    for statement in body:
        place = scope.file.place(statement.span)
        if ctx.stopped or not ctx.spend_statement(place) or not ctx.not_too_deep(place):
            break
        ctx.site = outer
        _run(ctx, scope, statement)
    ctx.depth -= 1
    ctx.site = outer


def _run(ctx: Context, scope: Scope, statement: Statement) -> None:
    match statement:
        case Pass() | Take() | Reopen() | Hang():
            _make(ctx, scope, statement)
        case Make():
            do_make(ctx, scope, statement)
        case Family():
            do_family(ctx, scope, statement)
        case Step():
            _step(ctx, scope, statement)
        case For():
            _for(ctx, scope, statement)
        case ForEach():
            _for_each(ctx, scope, statement)
        case Repeat():
            _repeat(ctx, scope, statement)
        case If():
            _if(ctx, scope, statement)
        case Let():
            _let(ctx, scope, statement)
        case Port():
            _port(ctx, scope, statement)
        case Remark():
            do_remark(ctx, statement)
        case Handle():
            do_handle(ctx, scope, statement)
        case WorkDirection():
            do_work(ctx, scope, statement)
        case Helper():
            do_helper(ctx, scope, statement)
        case Remove():
            do_remove(ctx, scope, statement)
        case (
            ExpectLies()
            | ExpectCompanions()
            | ExpectLeans()
            | ExpectTurned()
            | ExpectLoop()
            | ExpectTurns()
            | ExpectFace()
        ):
            do_assert(ctx, scope, statement)
        case ExpectUsed() | ExpectTotal() | ExpectHolds():
            do_expect(ctx, scope, statement)
        case LabelLine() | MadeToLength():
            pass
        case Unread():
            _unread(ctx, scope, statement)


def _if(ctx: Context, scope: Scope, node: If) -> None:
    """Carries out the first branch that holds; a long chain of `else if` is gone along, not into."""
    holds = ctx.holds(scope, node.condition)
    while holds is False and len(node.otherwise) == 1 and isinstance(node.otherwise[0], If):
        node = node.otherwise[0]
        holds = ctx.holds(scope, node.condition)
    if holds is None:
        _not_carried_out(ctx, scope, node)
    else:
        run_body(ctx, node.body if holds else node.otherwise, scope)


def _unread(ctx: Context, scope: Scope, node: Unread) -> None:
    """A statement that could not be read: what it would have made is not asked after."""
    ctx.columns.broken = True
    made = (*(name.text for name in node.names), *sorted(names_made(node.body)))
    scope.break_names(made, scope.file.place(node.span))


def _not_carried_out(ctx: Context, scope: Scope, node: For | ForEach | Repeat | If) -> None:
    """A block whose header is wrong: what it would have made is not asked after."""
    ctx.columns.broken = True
    made = sorted(names_made((*node.body, *(node.otherwise if isinstance(node, If) else ()))))
    scope.break_names(made, scope.file.place(node.span))


# ---------------------------------------------------------------- what makes links


def _make(ctx: Context, scope: Scope, statement: MAKING) -> None:
    """Carries out one making statement, in a step of its own when no step is open."""
    place = scope.file.place(statement.span)
    ctx.site = ctx.add_site(SiteKind.STATEMENT, place, statement=statement)
    own_step = ctx.columns.step_open is None
    if own_step:
        owner = scope.unit_scope()
        name = _step_name(statement)
        ctx.columns.begin_step(f"{owner.key}/{name}" if owner.key else name, "", ctx.site)
    groups_before = len(ctx.columns.groups)
    first_node = len(ctx.columns.kind)
    match statement:
        case Pass():
            do_pass(ctx, scope, statement)
        case Take():
            do_take(ctx, scope, statement)
        case Reopen():
            do_reopen(ctx, scope, statement)
        case Hang():
            do_hang(ctx, scope, statement)
    if own_step and ctx.columns.step_open is not None:
        if len(ctx.columns.kind) > first_node and ctx.columns.group[first_node] >= 0:
            step = ctx.columns.step_open
            step.group = ctx.columns.group[first_node]
            if step.group < groups_before:
                step.number = ctx.columns.member[first_node]
        ctx.columns.end_step()


def _step_name(statement: MAKING) -> str:
    match statement:
        case Pass() | Take():
            return _target_name(statement.target) or statement.quantity.kind.text
        case Hang():
            return _target_name(statement.target) or statement.finding.text
        case Reopen():
            return "reopen"


def _target_name(target: Target | None) -> str:
    return "" if target is None else target.name.text


def _step(ctx: Context, scope: Scope, node: Step) -> None:
    if ctx.columns.step_open is not None:
        # The parser has told it.
        ctx.columns.broken = True
        return
    owner = scope.unit_scope()
    slug = _slug(node.title.value)
    ctx.columns.begin_step(f"{owner.key}/{slug}" if owner.key else slug, node.title.value, ctx.site)
    run_body(ctx, node.body, scope)
    ctx.columns.end_step()


def _slug(title: str) -> str:
    words = "".join(char.lower() if char.isalnum() else " " for char in title).split()
    return "-".join(words) or "step"


# ---------------------------------------------------------------- loops


def _for(ctx: Context, scope: Scope, node: For) -> None:
    values = ctx.span_of_values(scope, node.first, node.last, node.down, node.span)
    place = scope.file.place(node.span)
    if values is None or not ctx.spend_rounds(len(values), place):
        _not_carried_out(ctx, scope, node)
        return
    owner = scope.unit_scope()
    counter = Whole(value=0, made_at=scope.file.place(node.counter.span))
    if not ctx.define(owner, node.counter, counter):
        _not_carried_out(ctx, scope, node)
        return
    outer = ctx.site
    for value in values:
        if ctx.stopped:
            break
        counter.value = value
        ctx.site = outer
        ctx.site = ctx.add_site(SiteKind.ROUND, place, node.counter.text, value)
        arguments = (("name", node.counter.text), ("value", value))
        ctx.frames.append(Frame(place=counter.made_at, note="in-round", arguments=arguments))
        run_body(ctx, node.body, scope)
        ctx.frames.pop()
    ctx.site = outer
    owner.names.pop(node.counter.text, None)


def _for_each(ctx: Context, scope: Scope, node: ForEach) -> None:
    things = picked(ctx, scope, node.picks)
    place = scope.file.place(node.span)
    if things is None or not ctx.spend_rounds(len(things), place):
        _not_carried_out(ctx, scope, node)
        return
    owner = scope.unit_scope()
    bound = Bound(things=[], made_at=scope.file.place(node.name.span))
    if not ctx.define(owner, node.name, bound):
        _not_carried_out(ctx, scope, node)
        return
    outer = ctx.site
    for number, thing in enumerate(things, 1):
        if ctx.stopped:
            break
        owner.names[node.name.text] = _named_thing(thing, bound)
        ctx.site = outer
        ctx.site = ctx.add_site(SiteKind.ROUND, place, node.name.text, number)
        arguments = (("name", node.name.text), ("value", number))
        ctx.frames.append(Frame(place=bound.made_at, note="in-each", arguments=arguments))
        run_body(ctx, node.body, scope)
        ctx.frames.pop()
    ctx.site = outer
    owner.names.pop(node.name.text, None)


def _named_thing(thing: Thing, bound: Bound) -> Bound | LiveUse | LiveFinding:
    if isinstance(thing, LiveUse | LiveFinding):
        return thing
    if isinstance(thing, PlaceOf) and thing.ordinal in thing.family.uses:
        return thing.family.uses[thing.ordinal]
    return Bound(things=[thing], made_at=bound.made_at)


def _repeat(ctx: Context, scope: Scope, node: Repeat) -> None:
    times = ctx.count(scope, node.times, least=0)
    place = scope.file.place(node.span)
    if times is None or not ctx.spend_rounds(times, place):
        _not_carried_out(ctx, scope, node)
        return
    outer = ctx.site
    for number in range(1, times + 1):
        if ctx.stopped:
            break
        ctx.site = outer
        ctx.site = ctx.add_site(SiteKind.ROUND, place, "", number)
        ctx.frames.append(Frame(place=place, note="in-repeat", arguments=(("value", number),)))
        run_body(ctx, node.body, scope)
        ctx.frames.pop()
    ctx.site = outer


# ---------------------------------------------------------------- names


def _let(ctx: Context, scope: Scope, node: Let) -> None:
    value = ctx.number(scope, node.value)
    owner = scope.unit_scope()
    at = scope.file.place(node.name.span)
    there = owner.names.get(node.name.text)
    if isinstance(there, Whole) and there.made_at == at and value is not None:
        there.value = value
        return
    entity: Whole | Broken = Broken(made_at=at) if value is None else Whole(value=value, made_at=at)
    ctx.define(owner, node.name, entity)


def picked(ctx: Context, scope: Scope, picks: tuple[Pick, ...]) -> list[Thing] | None:
    """The things of several picks, in order, or None when one of them is wrong."""
    found: list[Thing] = []
    good = True
    for pick in picks:
        things = things_of(ctx, scope, pick)
        if things is None:
            good = False
        else:
            found.extend(things)
    return found if good else None


def _port(ctx: Context, scope: Scope, node: Port) -> None:
    owner = scope.unit_scope()
    things = picked(ctx, scope, node.picks)
    at = scope.file.place(node.name.span)
    entity: Bound | Broken = Broken(made_at=at) if things is None else Bound(things=things, made_at=at)
    if ctx.define(owner, node.name, entity):
        owner.ports[node.name.text] = entity
