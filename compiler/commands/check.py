"""`annulet check`: every mistake of every file in one run."""

from __future__ import annotations

import argparse

from compiler.commands.files import add_files, add_root, pattern_files
from compiler.console import print_result, say, say_diagnostics
from compiler.pipeline import checked
from compiler.report import as_json, summary, tally
from compiler.timings import Timings
from notation.diagnostic import Diagnostic
from notation.source import Source


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Reads patterns and tells everything that is wrong with them: names and counts, rings that hang on\n"
        "nothing, twins that missed a ring, what the kit lacks, holes too small for the wires in them. Nothing\n"
        "is written. Exit code 0: no errors (with --strict: nor warnings); 1: there are some."
    )
    parser.epilog = "example:\n  annulet check patterns/ --strict      every pattern below a folder"
    add_files(parser)
    add_root(parser)
    parser.add_argument("--strict", action="store_true", help="warnings count as errors for the exit code")
    shape = parser.add_mutually_exclusive_group()
    shape.add_argument("--short", action="store_true", help="one line for each mistake")
    shape.add_argument("--json", action="store_true", help="the report as JSON, on standard output")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Check the files; 1 when one of them has errors."""
    names = pattern_files(arguments.files)
    told: list[Diagnostic] = []
    sources: dict[str, Source] = {}
    for name in names:
        result = checked(name, arguments.root, timings)
        told.extend(result.diagnostics)
        sources.update(result.loaded.sources)
    with timings.stage("report"):
        if arguments.json:
            print_result(as_json(told, sources, names))
        elif told:
            say_diagnostics(told, sources, names, short=arguments.short)
        else:
            say(summary(told, names))
    counts = tally(told)
    return int(counts.errors > 0 or (arguments.strict and counts.warnings > 0))
