"""`annulet steps`: the instruction as plain text."""

from __future__ import annotations

import argparse

from compiler.changes import edition_of
from compiler.commands.files import add_edition, edition
from compiler.console import print_result, say_diagnostics
from compiler.timings import Timings
from compiler.word.plain import plain_text
from compiler.word.words import word


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Prints what the maker is told, without figures: what to open and close beforehand, every step, the\n"
        "running tally. A pattern with errors has no steps; they are told instead."
    )
    parser.epilog = "example:\n  annulet steps vela.annulet | less"
    add_edition(parser)
    parser.add_argument(
        "--width", type=int, default=80, metavar="N", help="characters in a line (default: 80)"
    )


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Print the steps; 1 when the pattern has errors."""
    changes, result = edition(arguments, arguments.file, timings)
    if result.weave is None or result.has_errors:
        say_diagnostics(result.diagnostics, result.loaded.sources, [arguments.file])
        return 1
    with timings.stage("word"):
        text = plain_text(word(result.weave), max(arguments.width, 20), edition_of(changes, result.lengths))
    print_result(text)
    return 0
