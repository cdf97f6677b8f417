"""`annulet explain`: the page of a rule."""

from __future__ import annotations

import argparse

from compiler.console import print_result
from compiler.infile import InputError
from compiler.report import printable
from compiler.timings import Timings
from notation.rules.table import RULES


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Prints what a rule means, why it matters at the bench and what to do. The name of a rule stands in\n"
        "square brackets in each report. Without a name: the list of all rules."
    )
    parser.epilog = "example:\n  annulet explain lone-twin"
    parser.add_argument("rule", metavar="RULE", nargs="?", help="the name of a rule, as a report has it")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Print the page. Raises InputError for a rule that there is not."""
    with timings.stage("explain"):
        if arguments.rule is None:
            width = max(map(len, RULES))
            lines = (
                f"{name:<{width}}  {rule.severity.value:<7}  {rule.title}" for name, rule in RULES.items()
            )
            print_result("\n".join(lines) + "\n")
            return 0
        rule = RULES.get(arguments.rule)
        if rule is None:
            raise InputError(f"There is no rule {printable(arguments.rule)}.{_close(arguments.rule)}")
        print_result(f"{rule.name} ({rule.severity.value}): {rule.title}\n\n{rule.page.rstrip()}\n")
    return 0


def _close(name: str) -> str:
    from difflib import get_close_matches

    close = get_close_matches(name, list(RULES), n=1, cutoff=0.6)
    return f" Did you mean {close[0]}?" if close else " `annulet explain` lists them all."
