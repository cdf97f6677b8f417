"""`annulet fit`: how much room the rings have, and which sizes of a stock would do."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from decimal import Decimal
from difflib import get_close_matches
from textwrap import fill

from compiler.commands.files import add_edition, edition
from compiler.console import on_terminal, print_result, say, say_diagnostics
from compiler.fit import (
    TRIED,
    Combination,
    Hole,
    KindBounds,
    Outcome,
    bounds,
    combinations,
    holes,
    inner_of,
    refused,
    used_kinds,
    wires_through,
)
from compiler.infile import InputError, read_text
from compiler.layout import kept_beside
from compiler.pipeline import Checked
from compiler.proved import PieceGeometry, from_kept, said, told_of_search
from compiler.report import printable, severity
from compiler.settle.search import slack
from compiler.settling import geometry_of, progress_on_terminal
from compiler.stock_file import StockSize, load_sizes
from compiler.timings import Timings
from compiler.weave import Weave
from notation.diagnostic import Severity
from notation.lengths import in_mm, plain

_MOST = 400
"""Combinations of sizes that are tried in one run."""
_COUNTED = 20
"""The table of the packings that are known ends here."""


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Tells for each kind of ring how many wires go through its hole and how many there is room for, and by\n"
        "how much all wire could be thicker and the piece still be woven (the slack). With a list of sizes it\n"
        "tries every combination of them: those that were made to weave, by slack; those that a bound excludes;\n"
        "and those for which nothing was found, of which nothing is known."
    )
    parser.epilog = (
        "example:\n"
        "  annulet fit vela.annulet --stock drawer.yaml --kind large\n\n"
        "drawer.yaml is a list of sizes, or the stock file of `annulet kit`:\n"
        "  - {inner: 5 mm, wire: 0.9 mm}\n"
        "  - {inner: 3/16 in, wire: 18 awg}"
    )
    add_edition(parser)
    parser.add_argument("--stock", metavar="LIST", help="a YAML file with the sizes that are to be had")
    parser.add_argument(
        "--kind", metavar="NAME", help="try the sizes for this kind of ring only; the others stay as they are"
    )


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Print it; 1 when the pattern has other errors than of fit. Raises InputError."""
    stock = None if arguments.stock is None else _stock(arguments.stock)
    if arguments.kind is not None and stock is None:
        raise InputError("--kind says for which kind the sizes of --stock are tried: give --stock too.")
    changes, result = edition(arguments, arguments.file, timings)
    if result.weave is None or _other_errors(result):
        say_diagnostics(result.diagnostics, result.loaded.sources, [arguments.file])
        return 1
    weave = result.weave
    kinds = used_kinds(weave) if stock is None else _kinds(weave, arguments.kind, len(stock))
    for bound in bounds(weave):
        print_result(fill(_bound_text(weave, bound), 100, subsequent_indent="  ") + "\n")
    too_tight = refused(weave, holes(weave), {})
    with timings.stage("fit"):
        if too_tight is not None:
            print_result(f"\nNothing is placed in these sizes: {_why(weave, too_tight, {})}.\n")
            geometry = from_kept(weave, None, timings)
        else:
            geometry = geometry_of(
                weave, kept_beside(arguments.file, changes.variant), timings, progress_on_terminal
            )
            say_diagnostics(told_of_search(weave, geometry), result.loaded.sources, [arguments.file])
            print_result("\n")
            for each in geometry:
                print_result(fill(_slack_text(weave, each, timings), 100, subsequent_indent="  ") + "\n")
        if stock is not None:
            found = combinations(weave, geometry, kinds, stock, _progress)
            print_result(_table(weave, kinds, found))
    return 0


def _other_errors(result: Checked) -> bool:
    """Errors but those that this command is about."""
    return any(
        severity(each) is Severity.ERROR and each.rule != "does-not-fit" for each in result.diagnostics
    )


# ---------------------------------------------------------------- what is asked for


def _stock(name: str) -> tuple[StockSize, ...]:
    text = read_text(name)
    if text.problem is not None:
        raise InputError(f"Cannot read {printable(name)}: it is not UTF-8 text.")
    sizes, problems = load_sizes(text.source)
    if problems:
        lines = [f"{printable(name)}:{each.line}:{each.column}: {each.message}." for each in problems]
        raise InputError("the list of sizes cannot be used:\n" + "\n".join(lines))
    return sizes


def _kinds(weave: Weave, name: str | None, sizes: int) -> tuple[int, ...]:
    """The kinds that are varied. Raises InputError for a name that is none, and for too many combinations."""
    used = used_kinds(weave)
    if name is None:
        if sizes ** len(used) > _MOST:
            raise InputError(
                f"{sizes} sizes for {len(used)} kinds of ring are {sizes ** len(used)} combinations, and {_MOST} "
                "are the most that are tried: give fewer sizes, or one kind with --kind."
            )
        return used
    names = [weave.ring_kinds[kind].name for kind in used]
    if name not in names:
        close = get_close_matches(name, names, n=1)
        hint = f"Did you mean {close[0]}?" if close else f"There are {', '.join(names)}."
        raise InputError(f"The pieces use no kind of ring {printable(name)}. {hint}")
    return (used[names.index(name)],)


def _progress(number: int, count: int) -> None:
    if on_terminal():
        say(f"trying combination {number} of {count} ...")


# ---------------------------------------------------------------- words


def _bound_text(weave: Weave, bound: KindBounds) -> str:
    """A kind and its closed bounds, in words."""
    kind = weave.ring_kinds[bound.kind]
    head = f"{kind.name}, inner {in_mm(kind.inner_mm, 2)}, wire {in_mm(kind.wire_mm, 2)}: "
    count = sum(number for _, number in bound.wires)
    wires = "wire goes" if count == 1 else "wires go"
    through = f"up to {count} {wires} through one ({_listed(bound.wires)}), filling {bound.filled:.0%} of its hole. "
    if bound.refused:
        return f"{head}{through}A bound refuses this: they cannot share the hole."
    thickest = in_mm(bound.wires[0][0], 2)
    known = f"{bound.known} or more" if bound.known >= _COUNTED else f"{bound.known}"
    return (
        f"{head}{through}Of wire of {thickest} the hole holds {bound.at_most} at the very most; {known} are known to "
        f"lie in it, and {bound.rim} lie side by side along its rim."
    )


def _listed(wires: Sequence[tuple[Decimal, int]]) -> str:
    return ", ".join(f"{number} of {in_mm(wire, 2)}" for wire, number in wires)


def _slack_text(weave: Weave, geometry: PieceGeometry, timings: Timings) -> str:
    """The verdict on a piece and its slack."""
    head = said(weave, geometry)
    if geometry.problem is None or geometry.layout is None:
        return head
    with timings.stage("slack"):
        if geometry.layout.verdict.proved:
            factor = slack(geometry.problem, geometry.layout)
            return f"{head}. Slack: at least {_factor(factor)} times this wire at the same inner diameters."
        factor = slack(geometry.problem, geometry.layout, TRIED)
    if factor:
        return f"{head}. A layout was found when all wire is {_factor(factor)} of this."
    return f"{head}. Nor was a layout found in thinner wire."


def _factor(factor: float) -> str:
    """Two decimals, cut: what is printed is never more than was found."""
    return f"{int(factor * 100 + 1e-6) / 100:.2f}"


def _why(weave: Weave, hole: Hole, chosen: dict[int, StockSize]) -> str:
    """A bound that refuses a hole, in words."""
    wires: dict[Decimal, int] = {}
    for wire in sorted(wires_through(weave, hole, chosen), reverse=True):
        wires[wire] = wires.get(wire, 0) + 1
    if hole.kind >= 0:
        name = weave.ring_kinds[hole.kind].name
    else:
        name = f"the eye of {weave.finding_kinds[-1 - hole.kind].name}"
    return f"{_listed(tuple(wires.items()))} cannot lie in {name} (inner {in_mm(inner_of(weave, hole, chosen), 2)})"


_HEADS = {
    Outcome.WOVEN: "Woven, loosest first:",
    Outcome.EXCLUDED: "Excluded by a bound:",
    Outcome.NOT_FOUND: "Not found, which does not say impossible:",
}


def _table(weave: Weave, kinds: Sequence[int], found: Sequence[Combination]) -> str:
    """The combinations in three groups, a line each."""
    names = [weave.ring_kinds[kind].name for kind in kinds]
    now = tuple((weave.ring_kinds[kind].inner_mm, weave.ring_kinds[kind].wire_mm) for kind in kinds)
    rows: dict[Outcome, list[list[str]]] = {outcome: [] for outcome in Outcome}
    for each in found:
        cells = [
            f"{name} {plain(size.inner_mm, 2)} × {plain(size.wire_mm, 2)} mm"
            for name, size in zip(names, each.sizes, strict=True)
        ]
        if each.outcome is Outcome.WOVEN:
            cells.append(f"at least {_factor(each.slack)}")
        elif each.outcome is Outcome.NOT_FOUND:
            cells.append(f"best clearance {_factor(each.clearance)}")
        elif each.hole is not None:
            cells.append(_why(weave, each.hole, dict(zip(kinds, each.sizes, strict=True))))
        if tuple((size.inner_mm, size.wire_mm) for size in each.sizes) == now:
            cells[-1] += " (as the pattern has it)"
        rows[each.outcome].append(cells)
    widths = [
        max(len(row[column]) for group in rows.values() for row in group) for column in range(len(kinds))
    ]
    out = []
    for outcome, group in rows.items():
        if group:
            out.append(f"\n{_HEADS[outcome]}\n")
        for row in group:
            padded = [cell.ljust(width) for cell, width in zip(row, widths, strict=False)]
            out.append(f"  {'   '.join([*padded, row[-1]])}\n")
    return "".join(out)
