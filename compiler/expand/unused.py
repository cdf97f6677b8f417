"""What a pattern declares and never names again: kinds, findings, units, used files, numbers.

In: the names of the pattern that is built. Out: warnings. Read from the text alone, so that a branch that is not
taken this time counts as well.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct, field

from compiler.expand.context import Context
from compiler.expand.live import FileNames
from compiler.expand.walk import parts_in, statements_in
from notation.expectations import ExpectHolds
from notation.margin import PieceBlock, UnitBlock, Use
from notation.nodes import Name, Node, Quantity, Variable
from notation.statements import For, Hang, Let, Make


def tell_unused(ctx: Context, file: FileNames) -> None:
    """Warns of what nothing names; quiet in a pattern that could not be read whole, and about things of a sort
    of which one was misspelt: that one is most likely meant.
    """
    pattern = file.pattern
    if pattern.incomplete:
        return
    told = {diagnostic.rule for diagnostic in ctx.diagnostics}
    named_by = [(statement, _named(statement)) for statement in pattern.statements]
    kinds = set().union(*(named.kinds for _, named in named_by))
    kinds.update(_kinds_of_used_files(ctx, file.files.values()))
    declared = [ring.name for ring in file.rings.values()]
    declared.extend(finding.name for finding in file.findings.values())
    for kind in declared:
        if kind.text not in kinds and told.isdisjoint(("unknown-kind", "unknown-finding")):
            ctx.report("unused-kind", file.place(kind.span), name=kind.text)
    units = set().union(*(named.units for _, named in named_by))
    if any(isinstance(statement, PieceBlock) for statement in pattern.statements):
        for name, unit in file.units.items():
            if name not in units and "unknown-unit" not in told:
                ctx.report("unused-unit", file.place(unit.name.span), name=name)
    aliases = set().union(*(named.aliases for _, named in named_by))
    for statement, named in named_by:
        if isinstance(statement, Use):
            if statement.alias.text not in aliases and told.isdisjoint(("unknown-alias", "unknown-unit")):
                ctx.report("unused-import", file.place(statement.alias.span), name=statement.alias.text)
        elif isinstance(statement, UnitBlock | PieceBlock) and "unknown-number" not in told:
            _tell_numbers(ctx, file, statement, named.numbers)
    read = set().union(*(named.numbers for _, named in named_by))
    for name, number in file.numbers.items():
        if name not in read and "unknown-number" not in told:
            ctx.report("unused-number", number.made_at, name=name)


def _tell_numbers(ctx: Context, file: FileNames, block: UnitBlock | PieceBlock, read: set[str]) -> None:
    named: list[Name] = []
    for node in statements_in(block.body):
        if isinstance(node, Let):
            named.append(node.name)
        elif isinstance(node, For):
            named.append(node.counter)
    if isinstance(block, UnitBlock):
        named.extend(parameter.name for parameter in block.parameters if not parameter.is_port)
    for name in named:
        if name.text not in read:
            ctx.report("unused-number", file.place(name.span), name=name.text)


class _Named(Struct):
    """What a statement of the margin names, at any depth."""

    kinds: set[str] = field(default_factory=set)
    """Kinds and findings, those of a kit and of a `use` line included."""
    units: set[str] = field(default_factory=set)
    """Units of this file that are made."""
    aliases: set[str] = field(default_factory=set)
    """Files of which a unit is made."""
    numbers: set[str] = field(default_factory=set)
    """Numbers that are read."""


def _named(statement: Node) -> _Named:
    found = _Named()
    for node in parts_in((statement,)):
        match node:
            case Quantity():
                found.kinds.add(node.kind.text)
            case Hang():
                found.kinds.add(node.finding.text)
            case ExpectHolds() if node.kind is not None:
                found.kinds.add(node.kind.text)
            case Use():
                found.kinds.update(ours.text for _, ours in node.kinds)
            case Make():
                if node.alias is None:
                    found.units.add(node.unit.text)
                else:
                    found.aliases.add(node.alias.text)
            case Variable():
                found.numbers.add(node.name.text)
            case _:
                pass
    return found


def _kinds_of_used_files(ctx: Context, files: Iterable[FileNames]) -> set[str]:
    """The kinds and findings of the built pattern that stand for those which used files name."""
    found: set[str] = set()
    named: dict[str, set[str]] = {}
    waiting, met = list(files), set[int]()
    while waiting:
        file = waiting.pop()
        if id(file) in met:
            continue
        met.add(id(file))
        if file.name not in named:
            named[file.name] = set().union(*(_named(each).kinds for each in file.pattern.statements))
        for name in named[file.name]:
            if name in file.kind_numbers:
                found.add(ctx.ring_kinds[file.kind_numbers[name]].name)
            if name in file.finding_numbers:
                found.add(ctx.finding_kinds[file.finding_numbers[name]].name)
        waiting.extend(file.files.values())
    return found
