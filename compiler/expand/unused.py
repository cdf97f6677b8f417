"""What a pattern declares and never names again: kinds, findings, units, used files, numbers.

In: the names of the pattern that is built. Out: warnings. Read from the text alone, so that a branch that is not
taken this time counts as well.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.expand.context import Context
from compiler.expand.live import FileNames
from compiler.expand.walk import parts_in, statements_in
from notation.expectations import ExpectHolds
from notation.margin import Pattern, PieceBlock, UnitBlock, Use
from notation.nodes import Quantity, Variable
from notation.statements import For, Hang, Let, Make


def tell_unused(ctx: Context, file: FileNames) -> None:
    """Warns of what nothing names; quiet in a pattern that could not be read whole, and about things of a sort
    of which one was misspelt: that one is most likely meant.
    """
    pattern = file.pattern
    if pattern.incomplete:
        return
    told = {diagnostic.rule for diagnostic in ctx.diagnostics}
    kinds = _kinds_named(pattern)
    kinds.update(_kinds_of_used_files(ctx, file.files.values()))
    declared = [ring.name for ring in file.rings.values()]
    declared.extend(finding.name for finding in file.findings.values())
    for kind in declared:
        if kind.text not in kinds and told.isdisjoint(("unknown-kind", "unknown-finding")):
            ctx.report("unused-kind", file.place(kind.span), name=kind.text)
    made = [node for node in parts_in(pattern.statements) if isinstance(node, Make)]
    units = {node.unit.text for node in made if node.alias is None}
    if any(isinstance(statement, PieceBlock) for statement in pattern.statements):
        for name, unit in file.units.items():
            if name not in units and "unknown-unit" not in told:
                ctx.report("unused-unit", file.place(unit.name.span), name=name)
    aliases = {node.alias.text for node in made if node.alias is not None}
    for statement in pattern.statements:
        if isinstance(statement, Use):
            if statement.alias.text not in aliases and told.isdisjoint(("unknown-alias", "unknown-unit")):
                ctx.report("unused-import", file.place(statement.alias.span), name=statement.alias.text)
        elif isinstance(statement, UnitBlock | PieceBlock) and "unknown-number" not in told:
            _tell_numbers(ctx, file, statement)
    read = {node.name.text for node in parts_in(pattern.statements) if isinstance(node, Variable)}
    for name, number in file.numbers.items():
        if name not in read and "unknown-number" not in told:
            ctx.report("unused-number", number.made_at, name=name)


def _tell_numbers(ctx: Context, file: FileNames, block: UnitBlock | PieceBlock) -> None:
    read = {node.name.text for node in parts_in([block]) if isinstance(node, Variable)}
    named = [node.name for node in statements_in(block.body) if isinstance(node, Let)]
    named.extend(node.counter for node in statements_in(block.body) if isinstance(node, For))
    if isinstance(block, UnitBlock):
        named.extend(parameter.name for parameter in block.parameters if not parameter.is_port)
    for name in named:
        if name.text not in read:
            ctx.report("unused-number", file.place(name.span), name=name.text)


def _kinds_named(pattern: Pattern) -> set[str]:
    """Every kind and finding that the statements of a file name, its kit and its `use` lines included."""
    found: set[str] = set()
    for node in parts_in(pattern.statements):
        match node:
            case Quantity():
                found.add(node.kind.text)
            case Hang():
                found.add(node.finding.text)
            case ExpectHolds() if node.kind is not None:
                found.add(node.kind.text)
            case Use():
                found.update(ours.text for _, ours in node.kinds)
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
            named[file.name] = _kinds_named(file.pattern)
        for name in named[file.name]:
            if name in file.kind_numbers:
                found.add(ctx.ring_kinds[file.kind_numbers[name]].name)
            if name in file.finding_numbers:
                found.add(ctx.finding_kinds[file.finding_numbers[name]].name)
        waiting.extend(file.files.values())
    return found
