"""Uses of units: arguments, ports, and the scope in which a unit's statements are carried out.

In: a `make` statement. Out: the unit's rings in the columns, and a name through which its parts are reached.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.expand.context import Context
from compiler.expand.live import Bound, Broken, FileNames, LiveUse, NotGiven, Scope, Thing, Whole
from compiler.expand.picks import things_of
from compiler.expand.sinks import label_of
from compiler.expand.walk import names_made, statements_in
from compiler.weave import SiteKind
from notation.diagnostic import Frame, Label, Place
from notation.handling import LabelLine
from notation.limits import DEEPEST_UNITS
from notation.margin import Parameter, UnitBlock
from notation.nodes import Name, Named, Pick
from notation.plurals import printed
from notation.statements import Argument, Make, Statement, Step


def labels_in(ctx: Context, file: FileNames, body: Iterable[Statement]) -> dict[str, LabelLine]:
    """The `label` lines of a body, by name; a second one for a name is an error."""
    labels: dict[str, LabelLine] = {}
    for line in statements_in(body):
        if not isinstance(line, LabelLine):
            continue
        first = labels.get(line.name.text)
        if first is not None:
            label = Label(place=file.place(first.span), note="first-made-here")
            ctx.fail("label-again", file.place(line.span), labels=(label,), name=line.name.text)
            continue
        labels[line.name.text] = line
    made = names_made(body)
    for name, line in labels.items():
        if name not in made:
            ctx.report("label-unused", file.place(line.name.span), name=name)
    return labels


# ---------------------------------------------------------------- make


def do_make(ctx: Context, scope: Scope, node: Make) -> None:
    """Carries out a unit."""
    if ctx.columns.step_open is not None and any(
        isinstance(inner, Step) for inner in statements_in(_unit_body(scope, node))
    ):
        ctx.fail("make-in-step", scope.file.place(node.span), name=node.unit.text)
        _break(ctx, scope, node)
        return
    found = _find_unit(ctx, scope, node)
    if found is None:
        _break(ctx, scope, node)
        return
    file, unit = found
    key = f"{file.name}:{unit.name.text}"
    place = scope.file.place(node.span)
    if key in ctx.calls:
        chain = " → ".join([*(call.rsplit(":", 1)[1] for call in ctx.calls), unit.name.text])
        ctx.fail("unit-in-itself", place, name=unit.name.text, chain=chain)
        _break(ctx, scope, node)
        return
    if len(ctx.calls) >= DEEPEST_UNITS:
        ctx.fail("units-too-deep", place, limit=DEEPEST_UNITS)
        _break(ctx, scope, node)
        return
    inner = _inner_scope(ctx, scope, node, file, unit)
    if inner is None:
        _break(ctx, scope, node)
        return
    use = LiveUse(name=inner.owner, scope=inner, made_at=place)
    if not _define_use(ctx, scope, node, use):
        return
    mirrored = ctx.columns.mirrored is not node.mirrored
    if not _hand_said(ctx, key, mirrored, place):
        return
    outer, outer_hand = ctx.site, ctx.columns.mirrored
    ctx.columns.mirrored = mirrored
    ctx.site = inner.site = ctx.add_site(SiteKind.UNIT, place, inner.owner, mirrored=mirrored)
    ctx.frames.append(Frame(place=place, note="in-use", arguments=(("unit", unit.name.text),)))
    ctx.calls.append(key)
    ctx.run_body(unit.body, inner)
    ctx.calls.pop()
    ctx.frames.pop()
    ctx.site, ctx.columns.mirrored = outer, outer_hand


def _hand_said(ctx: Context, key: str, mirrored: bool, place: Place) -> bool:
    """A piece that makes one unit in both hands says so in its header."""
    first = ctx.hands.setdefault(key, (mirrored, place))
    if first[0] is mirrored or ctx.both_hands:
        return True
    labels = (Label(place=first[1], note="first-made-here"),)
    ctx.fail("hand-changes", place, labels=labels, name=key.rsplit(":", 1)[1])
    return False


def _unit_body(scope: Scope, node: Make) -> tuple[Statement, ...]:
    file: FileNames | None = scope.file
    if node.alias is not None:
        file = scope.file.files.get(node.alias.text)
    unit = None if file is None else file.units.get(node.unit.text)
    return () if unit is None else unit.body


def _break(ctx: Context, scope: Scope, node: Make) -> None:
    ctx.columns.broken = True
    at = scope.file.place(node.span)
    if node.target is not None and scope.find(node.target.name.text) is None:
        scope.break_names((node.target.name.text,), at)
    elif scope.family is not None:
        scope.unit_scope().names[scope.family.name] = Broken(made_at=at)


def _find_unit(ctx: Context, scope: Scope, node: Make) -> tuple[FileNames, UnitBlock] | None:
    file = scope.file
    place = file.place(node.unit.span)
    if node.alias is not None:
        other = file.files.get(node.alias.text)
        if other is None:
            if node.alias.text in file.broken:
                ctx.columns.broken = True
            else:
                alias_place = file.place(node.alias.span)
                ctx.unknown("unknown-alias", alias_place, node.alias.text, file.files)
            return None
        file = other
    unit = file.units.get(node.unit.text)
    if unit is not None:
        return file, unit
    if node.unit.text in file.broken:
        ctx.columns.broken = True
        return None
    elsewhere = [alias for alias, other in scope.file.files.items() if node.unit.text in other.units]
    if node.alias is None and elsewhere:
        ctx.fail("unknown-unit", place, "alias", name=node.unit.text, alias=elsewhere[0])
    else:
        ctx.unknown("unknown-unit", place, node.unit.text, file.units)
    return None


def _define_use(ctx: Context, scope: Scope, node: Make, use: LiveUse) -> bool:
    if node.target is not None:
        if node.target.index or node.target.grows:
            ctx.fail("no-index-here", scope.file.place(node.target.span), name=node.target.name.text)
            _break(ctx, scope, node)
            return False
        return ctx.define(scope.home(), node.target.name, use)
    if scope.family is not None:
        scope.family.uses[scope.ordinal] = use
    return True


def _use_label(scope: Scope, node: Make) -> str:
    """What a use is called in print: `body`, `lozenge 2`, or the unit's own name."""
    if node.target is not None:
        words = label_of(scope, node.target.name.text)
        return words[0] if words else printed(node.target.name.text)
    if scope.family is not None:
        words = label_of(scope, scope.family.name)
        return f"{words[0] if words else printed(scope.family.name)} {scope.ordinal + 1}"
    words = label_of(scope, node.unit.text)
    return words[0] if words else printed(node.unit.text)


def _use_key(scope: Scope, node: Make) -> str:
    outer = scope.unit_scope().key
    if node.target is not None:
        own = node.target.name.text
    elif scope.family is not None:
        own = f"{scope.family.name}[{scope.ordinal + 1}]"
    else:
        own = node.unit.text
    return f"{outer}/{own}" if outer else own


# ---------------------------------------------------------------- arguments


def _inner_scope(ctx: Context, scope: Scope, node: Make, file: FileNames, unit: UnitBlock) -> Scope | None:
    owner = _use_label(scope, node)
    outer_owner = scope.unit_scope().owner
    inner = Scope(
        file=file,
        parent=None,
        key=_use_key(scope, node),
        owner=f"{owner} of {outer_owner}" if outer_owner else owner,
        unit=unit,
        upcoming=names_made(unit.body),
        labels=labels_in(ctx, file, unit.body),
        start_counts=tuple(ctx.columns.counts),
        start_links=len(ctx.columns.link_a),
        start_findings=len(ctx.columns.findings),
    )
    given: dict[str, Argument] = {}
    good = True
    known = [parameter.name.text for parameter in unit.parameters]
    for argument in node.arguments:
        place = scope.file.place(argument.name.span)
        if argument.name.text not in known:
            ctx.unknown("unknown-parameter", place, argument.name.text, known, unit=unit.name.text)
            good = False
        elif argument.name.text in given:
            ctx.fail("argument-again", place, name=argument.name.text)
            good = False
        else:
            given[argument.name.text] = argument
    for parameter in unit.parameters:
        argument_or_none = given.get(parameter.name.text)
        if parameter.is_port:
            good = _bind_port(ctx, scope, inner, parameter, argument_or_none) and good
        else:
            good = _bind_number(ctx, scope, inner, parameter, argument_or_none, node) and good
    return inner if good else None


def _bind_port(
    ctx: Context, scope: Scope, inner: Scope, parameter: Parameter, argument: Argument | None
) -> bool:
    at = inner.file.place(parameter.name.span)
    name = parameter.name.text
    if argument is None:
        inner.names[name] = NotGiven(made_at=at)
        return True
    place = scope.file.place(argument.span)
    if argument.pick is None:
        ctx.fail("port-wants-rings", place, name=name)
        return False
    if _hands_on_nothing(scope, argument.pick):
        inner.names[name] = NotGiven(made_at=at)
        return True
    things: list[Thing] | None = things_of(ctx, scope, argument.pick)
    if things is None:
        return False
    if not things:
        inner.names[name] = NotGiven(made_at=at)
        return True
    bound = Bound(things=things, made_at=at)
    inner.names[name] = bound
    inner.ports[name] = bound
    inner.given.add(name)
    return True


def _hands_on_nothing(scope: Scope, pick: Pick) -> bool:
    """Whether a unit hands on a port of its own that was handed nothing."""
    return isinstance(pick, Named) and not pick.index and isinstance(scope.find(pick.name.text), NotGiven)


def _bind_number(
    ctx: Context, scope: Scope, inner: Scope, parameter: Parameter, argument: Argument | None, node: Make
) -> bool:
    name: Name = parameter.name
    at = inner.file.place(name.span)
    value: int | None
    if argument is not None:
        if argument.number is None:
            ctx.fail("parameter-wants-number", scope.file.place(argument.span), name=name.text)
            return False
        value = ctx.number(scope, argument.number)
    elif parameter.default is not None:
        value = ctx.number(inner, parameter.default)
    else:
        label = Label(place=at, note="declared-here")
        ctx.fail("missing-argument", scope.file.place(node.span), labels=(label,), name=name.text)
        return False
    if value is None:
        return False
    inner.names[name.text] = Whole(value=value, made_at=at)
    return True


def default_scope(ctx: Context, file: FileNames, unit: UnitBlock) -> Scope | None:
    """The scope of a unit made by itself, with its defaults; None when a parameter has none."""
    inner = Scope(
        file=file,
        parent=None,
        key="",
        owner="",
        unit=unit,
        upcoming=names_made(unit.body),
        labels=labels_in(ctx, file, unit.body),
        start_counts=tuple(ctx.columns.counts),
    )
    for parameter in unit.parameters:
        at = file.place(parameter.name.span)
        if parameter.is_port:
            inner.names[parameter.name.text] = NotGiven(made_at=at)
            continue
        value = None if parameter.default is None else ctx.number(inner, parameter.default)
        if value is None:
            return None
        inner.names[parameter.name.text] = Whole(value=value, made_at=at)
    return inner
