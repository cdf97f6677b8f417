"""`annulet format`: the one usual way to write a pattern."""

from __future__ import annotations

import argparse
from pathlib import Path

from compiler.commands.files import add_files, pattern_files
from compiler.console import print_result, say, say_diagnostics, write_result
from compiler.infile import STANDARD_INPUT, Text, read_text
from compiler.outfile import write_whole
from compiler.report import printable, severity
from compiler.timings import Timings
from grammar.format import format_pattern
from grammar.parse import parse
from notation.diagnostic import Severity


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Rewrites patterns the one usual way: four spaces, canonical order of clauses, one empty line where\n"
        "there were several. Comments stay and the meaning does not change. A file with a mistake in its text\n"
        "is left as it is. Standard input (-) is answered on standard output."
    )
    parser.epilog = "example:\n  annulet format --check patterns/      exit code 1 if a file would change"
    add_files(parser)
    how = parser.add_mutually_exclusive_group()
    how.add_argument("--check", action="store_true", help="write nothing, list the files that would change")
    how.add_argument("--diff", action="store_true", help="write nothing, print what would change")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Format the files; 1 when one has errors or, with --check, would change."""
    code = 0
    for name in pattern_files(arguments.files):
        code = max(code, _one(name, arguments, timings))
    return code


def _one(name: str, arguments: argparse.Namespace, timings: Timings) -> int:
    text = read_text(name)
    with timings.stage("parse"):
        pattern, told = parse(text.source)
    told = told if text.problem is None else (text.problem,)
    errors = [diagnostic for diagnostic in told if severity(diagnostic) is Severity.ERROR]
    if errors or pattern.incomplete:
        say_diagnostics(errors, {text.source.name: text.source}, [text.source.name])
        say(f"{printable(text.source.name)} is left as it is")
        return 1
    with timings.stage("format"):
        formatted = format_pattern(pattern)
    data = formatted.encode("utf-8")
    if arguments.diff:
        _print_diff(text, formatted)
        return 0
    if arguments.check:
        if data != text.data:
            say(f"{printable(text.source.name)} would change")
        return int(data != text.data)
    if name == STANDARD_INPUT:
        write_result(data)
    elif data != text.data:
        write_whole(Path(name), data)
        say(f"{printable(name)} is formatted")
    return 0


def _print_diff(text: Text, formatted: str) -> None:
    # Only here: the module takes longer to import than a pattern to format.
    from difflib import unified_diff

    before = text.source.text.splitlines(keepends=True)
    after = formatted.splitlines(keepends=True)
    name = printable(text.source.name)
    print_result("".join(unified_diff(before, after, name, f"{name} (formatted)")))
