"""Statements to canonical text: each a list of clauses, between which a long line may be broken.

In: nodes of `notation.statements`. Out: clauses, or for a block those of its header. Used by `grammar.format`.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import singledispatch
from typing import Any

from grammar import phrases
from grammar.expected import expected
from grammar.phrases import expression, listed, pick, quoted
from notation.expectations import Expect
from notation.handling import Handle, HandMotion, Helper, LabelLine, Remark, Remove, WorkDirection
from notation.lengths import Length
from notation.margin import (
    Eye,
    FindingLine,
    HeadingLine,
    KitLine,
    LengthChange,
    Parameter,
    PieceBlock,
    RingLine,
    UnitBlock,
    Use,
    VariantBlock,
)
from notation.nodes import Bundle, Companions, Number, Target
from notation.statements import (
    Argument,
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
    RowsFromTo,
    RowsOf,
    RowsTimes,
    Stagger,
    Step,
    Take,
    Twin,
    Widths,
)

_BUNDLINGS = {Bundle.SINGLE: "single", Bundle.PAIRS: "doubled", Bundle.TRIPLES: "tripled"}


@singledispatch
def clauses(node: Any) -> list[str]:
    """The clauses of a statement, or of the header of a block without its colon."""
    raise TypeError(f"no canonical text for {type(node).__name__}")


_says: Callable[..., Any] = clauses.register

# ---------------------------------------------------------------- at the left margin


@_says
def _heading(node: HeadingLine) -> list[str]:
    return [f"{node.heading.value} {quoted(node.text)}"]


@_says
def _use(node: Use) -> list[str]:
    head = f"use {quoted(node.path)} as {node.alias.text}"
    if not node.kinds:
        return [head]
    return [head, "with " + ", ".join(f"{theirs.text} = {ours.text}" for theirs, ours in node.kinds)]


@_says
def _ring(node: RingLine) -> list[str]:
    parts = []
    if node.inner is not None:
        parts.append(f"inner {phrases.length(node.inner)}")
    if node.wire is not None:
        parts.append(f"wire {phrases.length(node.wire)}")
    if node.metal is not None:
        parts.append(f"metal {node.metal.text}")
    if node.bundle in _BUNDLINGS:
        parts.append(_BUNDLINGS[node.bundle])
    return [f"ring {node.name.text}: {', '.join(parts)}"]


@_says
def _finding(node: FindingLine) -> list[str]:
    parts = [node.type.text, *(_eye(eye) for eye in node.eyes)]
    if node.wire is not None:
        parts.append(f"wire {phrases.length(node.wire)}")
    if node.length is not None:
        parts.append(f"length {phrases.length(node.length)}")
    if node.metal is not None:
        parts.append(f"metal {node.metal.text}")
    return [f"finding {node.name.text}: {', '.join(parts)}"]


def _eye(eye: Eye) -> str:
    name = f" {eye.name.text}" if eye.name else ""
    return f"eye{name} {phrases.length(eye.inner)}{' opens' * eye.opens}{' free' * eye.free}"


@_says
def _kit(node: KitLine) -> list[str]:
    return [f"kit: {', '.join(phrases.quantity(entry) for entry in node.entries)}"]


@_says
def _length_change(node: LengthChange) -> list[str]:
    piece = "" if node.piece is None else f"of {node.piece.text} "
    return [f"length {piece}{_length(node.wanted)}"]


def _length(wanted: Length | None) -> str:
    assert wanted is not None, "a pattern with a length that could not be read is not formatted"
    return phrases.length(wanted)


@_says
def _label(node: LabelLine) -> list[str]:
    plural = f", {quoted(node.plural)}" if node.plural else ""
    return [f"label {node.name.text} {quoted(node.singular)}{plural}"]


@_says
def _unit(node: UnitBlock) -> list[str]:
    parameters = ", ".join(_parameter(parameter) for parameter in node.parameters)
    return [f"unit {node.name.text}({parameters})" if parameters else f"unit {node.name.text}"]


def _parameter(node: Parameter) -> str:
    if node.is_port:
        return f"port {node.name.text}"
    return f"{node.name.text} = {expression(node.default)}" if node.default is not None else node.name.text


@_says
def _variant(node: VariantBlock) -> list[str]:
    return [f"variant {node.name.text}"]


@_says
def _piece(node: PieceBlock) -> list[str]:
    counts = []
    if node.times is not None:
        counts.append(f"made {expression(node.times)} times")
    if node.parts is not None:
        one = isinstance(node.parts, Number) and node.parts.value == 1
        counts.append(f"in {expression(node.parts)} {'part' if one else 'parts'}")
    if node.both_hands:
        counts.append("in both hands")
    return [" ".join(["piece", node.name.text, ", ".join(counts)]).rstrip()]


# ---------------------------------------------------------------- what makes links


def _rings_passed(node: Pass | Take) -> str:
    how = "" if node.companions is Companions.SIDE_BY_SIDE else f" {node.companions.value}"
    return f"{phrases.quantity(node.quantity)}{how}{phrases.and_target(node.target)}"


@_says
def _pass(node: Pass) -> list[str]:
    found = [f"pass {_rings_passed(node)}"]
    if node.through:
        found.append(f"through {phrases.items(node.through)}")
    if node.gathering:
        found.append(f"gathering {phrases.items(node.gathering)}")
    if node.carrying:
        found.append(f"carrying {listed([phrases.carry(carry) for carry in node.carrying])}")
    if node.join is not None:
        found.append(phrases.join(node.join))
    if node.around:
        found.append(f"around {phrases.items(node.around)}")
    if node.between is not None:
        found.append(f"between {pick(node.between)}")
    if node.inside is not None:
        found.append(f"inside {pick(node.inside)}")
    if node.over:
        found.append(f"over {phrases.items(node.over)}")
    if node.under:
        found.append(f"under {phrases.items(node.under)}")
    return found


@_says
def _twin(node: Twin) -> list[str]:
    found = ["twin"]
    if node.through:
        found.append(f"through {phrases.items(node.through)}")
    if node.gathering:
        found.append(f"gathering {phrases.items(node.gathering)}")
    return found


@_says
def _take(node: Take) -> list[str]:
    found = [f"take {_rings_passed(node)}"]
    return [*found, f"inside {pick(node.inside)}"] if node.inside is not None else found


@_says
def _reopen(node: Reopen) -> list[str]:
    found = [f"reopen {pick(node.pick)}"]
    if node.through:
        found.append(f"through {phrases.items(node.through)}")
    if node.carrying:
        found.append(f"carrying {listed([phrases.carry(carry) for carry in node.carrying])}")
    return found


@_says
def _hang(node: Hang) -> list[str]:
    what = f"{node.finding.text}{phrases.indexed(node.index)}{phrases.by_eye(node.eye)}"
    found = [f"hang {what} from {phrases.items(node.items)}"]
    return _with_target(found, node.target)


@_says
def _make(node: Make) -> list[str]:
    alias = f" of {node.alias.text}" if node.alias else ""
    found = [f"make {node.unit.text}{alias}{' mirrored' * node.mirrored}"]
    if node.arguments:
        found.append("with " + ", ".join(_argument(argument) for argument in node.arguments))
    return _with_target(found, node.target)


def _with_target(found: list[str], target: Target | None) -> list[str]:
    """The clauses with the target behind them; `added to` cannot begin a line, `as` can."""
    if target is None:
        return found
    if target.grows:
        return [*found[:-1], f"{found[-1]} {phrases.target(target)}"]
    return [*found, phrases.target(target)]


def _argument(node: Argument) -> str:
    if node.number is not None:
        value = expression(node.number)
    else:
        value = pick(node.pick) if node.pick is not None else ""
    return f"{node.name.text} = {value}"


# ---------------------------------------------------------------- families


@_says
def _family(node: Family) -> list[str]:
    parts = [_widths(row) for row in node.widths]
    if node.stagger is not Stagger.ALIGNED:
        parts.append(node.stagger.value)
    if node.downward:
        parts.append("downward")
    parts += [f"{which.value} is {group.text}" for which, group in node.handed]
    if node.half_turns is not None:
        parts.append(f"closed with {phrases.half_turns(node.half_turns, node.anticlockwise)}")
    if node.front_inside:
        parts.append("closed with front inside")
    return [f"{node.kind.value} {node.name.text} of {', '.join(parts)}"]


def _widths(node: Widths) -> str:
    if isinstance(node, RowsOf):
        return f"{expression(node.rows)} rows of {expression(node.width)}"
    if isinstance(node, RowsFromTo):
        return f"{expression(node.first)} {'down to' if node.down else 'to'} {expression(node.last)}"
    if isinstance(node, RowsTimes):
        return f"{expression(node.times)} times ({', '.join(_widths(row) for row in node.rows)})"
    return expression(node.width)


# ---------------------------------------------------------------- the order of statements


@_says
def _step(node: Step) -> list[str]:
    return [f"step {quoted(node.title)}"]


@_says
def _for(node: For) -> list[str]:
    to = "down to" if node.down else "to"
    return [f"for {node.counter.text} from {expression(node.first)} {to} {expression(node.last)}"]


@_says
def _for_each(node: ForEach) -> list[str]:
    return [f"for each {node.name.text} in {', '.join(pick(one) for one in node.picks)}"]


@_says
def _repeat(node: Repeat) -> list[str]:
    return [f"repeat {expression(node.times)} times"]


@_says
def _if(node: If) -> list[str]:
    return [f"if {phrases.condition(node.condition)}"]


@_says
def _let(node: Let) -> list[str]:
    return [f"let {node.name.text} = {expression(node.value)}"]


@_says
def _made_to_length(node: MadeToLength) -> list[str]:
    return [f"length {_length(node.wanted)} varying {node.varying.text}"]


@_says
def _port(node: Port) -> list[str]:
    return [f"port {node.name.text} = {', '.join(pick(one) for one in node.picks)}"]


# ---------------------------------------------------------------- words and motions of the hands


@_says
def _remark(node: Remark) -> list[str]:
    return [f"{node.kind.value} {quoted(node.text)}"]


@_says
def _handle(node: Handle) -> list[str]:
    if node.pick is None:
        return [node.motion.value]
    what = pick(node.pick)
    if node.motion is HandMotion.LAY_FLAT:
        return [f"lay {what} flat"]
    if node.motion is HandMotion.HOLD:
        return [f"hold {what} until {node.until.text} is made" if node.until else f"hold {what}"]
    if node.motion is HandMotion.LET_GO:
        return [f"let go of {what}"]
    if node.motion is HandMotion.SPREAD:
        return [f"spread {what}"]
    if node.hand is not None:
        return [f"lean {what} {node.hand.value}"]
    if node.degrees is not None:
        return [f"turn {what} by {expression(node.degrees)} degrees"]
    return [f"fold {what} back onto {pick(node.onto)}" if node.onto else f"fold {what} back"]


@_says
def _work(node: WorkDirection) -> list[str]:
    return [f"work {'clockwise' if node.clockwise else 'anticlockwise'}"]


@_says
def _helper(node: Helper) -> list[str]:
    return [
        f"helper {quoted(node.text)}",
        f"through {phrases.items(node.items)}",
        phrases.target(node.target),
    ]


@_says
def _remove(node: Remove) -> list[str]:
    return [f"remove {node.name.text}"]


# ---------------------------------------------------------------- assertions


@_says
def _expect(node: Expect) -> list[str]:
    return [f"expect {expected(node)}"]
