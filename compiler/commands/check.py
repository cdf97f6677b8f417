"""`annulet check`: every mistake of every file in one run.

The geometry is looked at only where a layout is kept beside the pattern, or with `--fit`; the modules for that are
imported then, so that an ordinary check waits for none of them.
"""

from __future__ import annotations

import argparse

from compiler.changes import Changes
from compiler.commands.files import (
    add_changes,
    add_files,
    add_root,
    by_search,
    changes_of,
    metals_of,
    pattern_files,
    say_lengths,
)
from compiler.console import say, say_diagnostics, write_json
from compiler.layout import kept_beside
from compiler.pipeline import checked, every_variant
from compiler.report import as_json, printable, summary, tally
from compiler.timings import Timings
from compiler.weave import Weave
from notation.diagnostic import Diagnostic
from notation.source import Source


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Reads patterns and tells everything that is wrong with them: names and counts, rings that hang on\n"
        "nothing, twins that missed a ring, what the kit lacks, holes too small for the wires in them; also what\n"
        "is wrong in a variant only. Nothing is written. A layout that is kept beside a pattern is proved again.\n"
        "Exit code 0: no errors (with --strict: nor warnings); 1: there are some."
    )
    parser.epilog = "example:\n  annulet check patterns/ --strict      every pattern below a folder"
    add_files(parser)
    add_root(parser)
    add_changes(parser)
    parser.add_argument("--strict", action="store_true", help="warnings count as errors for the exit code")
    parser.add_argument(
        "--fit",
        action="store_true",
        help="search for places of all rings as well, and warn where none are found",
    )
    shape = parser.add_mutually_exclusive_group()
    shape.add_argument("--short", action="store_true", help="one line for each mistake")
    shape.add_argument("--json", action="store_true", help="the report as JSON, on standard output")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Check the files; 1 when one of them has errors."""
    names = pattern_files(arguments.files)
    told: list[Diagnostic] = []
    known: list[str] = []
    sources: dict[str, Source] = {}
    metals = metals_of(arguments)
    changes = changes_of(arguments, metals)
    search = by_search if arguments.fit else None
    for name in names:
        result = checked(name, arguments.root, timings, changes, search, metals)
        told.extend(result.diagnostics)
        if not changes:
            told.extend(every_variant(result, name, timings, search, metals))
        if not arguments.short and not arguments.json:
            say_lengths(result)
        sources.update(result.loaded.sources)
        # a layout beside the pattern is of the pattern as written, and not of another edition
        only_named = not changes or changes.only_variant
        if result.weave is not None and not result.has_errors and (arguments.fit or only_named):
            more, lines = _geometry(result.weave, name, timings, changes, search=arguments.fit)
            told.extend(more)
            known.extend(lines)
    with timings.stage("report"):
        if arguments.json:
            write_json(as_json(told, sources, names))
        else:
            if not arguments.short:
                for line in known:
                    say(line)
            if told:
                say_diagnostics(told, sources, names, short=arguments.short)
            else:
                say(summary(told, names))
    counts = tally(told)
    return int(counts.errors > 0 or (arguments.strict and counts.warnings > 0))


def _geometry(
    weave: Weave, name: str, timings: Timings, changes: Changes, *, search: bool
) -> tuple[tuple[Diagnostic, ...], list[str]]:
    """What is wrong with the geometry, and a line for each piece of which something is known."""
    if search:
        from compiler.proved import said
        from compiler.settling import geometry_and_told

        found, told = geometry_and_told(weave, name, timings, changes)
        return told, [f"{printable(name)}: {said(weave, each)}" for each in found if each.layout is not None]
    path = kept_beside(name, changes.variant)
    if path is None or not path.exists():
        return (), []
    from compiler.proved import MOST_IN_A_MOMENT, from_kept, said_of_kept, told_of_kept

    found = from_kept(weave, path, timings, MOST_IN_A_MOMENT)
    meant = not changes or path != kept_beside(name)
    return told_of_kept(weave, path, found) if meant else (), said_of_kept(
        weave, path, found, MOST_IN_A_MOMENT
    )
