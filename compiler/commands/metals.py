"""`annulet metals`: the metals that a pattern can name."""

from __future__ import annotations

import argparse

from compiler.commands.files import add_metals, metals_of
from compiler.console import print_result
from compiler.timings import Timings
from notation.lengths import plain


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Lists the metals and other wire materials that a ring or finding can be made of: the name to write, the\n"
        "density in grams per cubic centimetre, the name in print, and other names that mean the same."
    )
    parser.epilog = "example:\n  annulet metals --metals bench.yaml"
    add_metals(parser)


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Print the list. Raises InputError."""
    metals = metals_of(arguments)
    width = max(map(len, metals))
    with timings.stage("metals"):
        for metal in metals.values():
            also = f" (also {', '.join(metal.aliases)})" if metal.aliases else ""
            print_result(f"{metal.name:<{width}}  {plain(metal.density):>6}  {metal.title}{also}\n")
    return 0
