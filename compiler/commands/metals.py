"""`annulet metals`: the metals that a pattern can name."""

from __future__ import annotations

import argparse

from compiler.console import print_result
from compiler.timings import Timings
from notation.lengths import plain
from notation.metals import METALS


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Lists the metals and other wire materials that a ring or finding can be made of: the name to write, the\n"
        "density in grams per cubic centimetre, the name in print, and other names that mean the same."
    )
    parser.epilog = "example:\n  annulet metals"


def run(arguments: argparse.Namespace, timings: Timings) -> int:  # noqa: ARG001
    """Print the list."""
    width = max(map(len, METALS))
    with timings.stage("metals"):
        for metal in METALS.values():
            also = f" (also {', '.join(metal.aliases)})" if metal.aliases else ""
            print_result(f"{metal.name:<{width}}  {plain(metal.density):>6}  {metal.title}{also}\n")
    return 0
