"""The command line: which command, and what a run of it comes to; the logic is in the commands.

Exit codes: 0 done, 1 the pattern has errors, 2 wrong usage or a file that cannot be read or written, 3 a mistake
of ours. A command's module is imported when it is called for, so that `check` waits for no fonts and no geometry.
"""

from __future__ import annotations

import argparse
import importlib
import os
import sys
from collections.abc import Sequence
from typing import NoReturn, Protocol, cast

from compiler.console import print_result, say
from compiler.infile import InputError
from compiler.outfile import OutputError
from compiler.report import harmless
from compiler.timings import Timings

VERSION = "0.1.0"

DONE = 0
PATTERN_HAS_ERRORS = 1
WRONG_USAGE = 2
OUR_MISTAKE = 3
INTERRUPTED = 130
PIPE_CLOSED = 141

COMMANDS = {
    "build": "make the instruction booklet (PDF) of a pattern",
    "check": "tell everything that is wrong with a pattern",
    "format": "write a pattern the one usual way",
    "steps": "print the steps of a pattern as plain text",
    "export": "print the weave of a pattern as JSON",
    "same": "say whether two patterns make the same weave",
    "settle": "place the rings of a pattern in space, prove them, and keep the places",
    "fit": "tell how much room the rings of a pattern have, and which sizes would do",
    "figure": "draw one figure of a pattern",
    "kit": "list what goes into a kit, what to buy, what it costs",
    "catalogue": "write the index of a folder of patterns, and its catalogue",
    "explain": "say what a rule means and what to do",
    "metals": "list the metals that a pattern can name",
    "new": "begin a new pattern that builds",
}
"""Every command, in the order of the help: `compiler.commands.NAME` is its module."""

_DESCRIPTION = """\
Annulet compiles patterns for woven-ring jewellery: a text that reads like the instruction becomes a checked,
printable booklet. It counts the rings, finds the ring that hangs on nothing and the twin that missed one, and says
what the kit lacks, before anybody opens a ring.
"""
_CLOSING = """\
example:
  annulet new vela               begin a pattern, vela.annulet
  annulet check vela.annulet     is everything held together, doubled, in the kit?
  annulet build vela.annulet     vela.pdf, the booklet

`annulet COMMAND --help` tells more about each command.
"""


class _Parser(argparse.ArgumentParser):
    """Tells wrong usage without obeying what was typed."""

    def error(self, message: str) -> NoReturn:
        super().error(harmless(message))


class Command(Protocol):
    """What the module of a command has."""

    def configure(self, parser: argparse.ArgumentParser) -> None:
        """Describe the command and its arguments."""

    def run(self, arguments: argparse.Namespace, timings: Timings) -> int:
        """Carry it out and give the exit code; raises InputError and OutputError."""


def main(argv: Sequence[str] | None = None) -> int:
    """The `annulet` command; gives its exit code."""
    words = list(sys.argv[1:] if argv is None else argv)
    try:
        code = _run(words)
    except (InputError, OutputError) as error:
        say(f"annulet: {error.message}")
        return WRONG_USAGE
    except SystemExit as ended:  # argparse: help was printed, or the usage was wrong
        return ended.code if isinstance(ended.code, int) else WRONG_USAGE
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        return PIPE_CLOSED  # whoever read our output has gone
    except Exception as error:
        _our_mistake(error)
        return OUR_MISTAKE
    return code


def _run(words: list[str]) -> int:
    if not words or words[0] not in COMMANDS:
        _without_command(words)
    command = cast(Command, importlib.import_module(f"compiler.commands.{words[0]}"))
    parser = _Parser(prog=f"annulet {words[0]}", formatter_class=argparse.RawDescriptionHelpFormatter)
    command.configure(parser)
    parser.add_argument("--timings", action="store_true", help="print the seconds of each stage at the end")
    arguments = parser.parse_args(words[1:])
    timings = Timings()
    code = command.run(arguments, timings)
    if arguments.timings:
        say(timings.text().rstrip("\n"))
    return code


def _without_command(words: list[str]) -> NoReturn:
    """Answers `--help` and `--version`, and whatever is no command; always ends the run."""
    width = max(map(len, COMMANDS))
    parser = _Parser(
        prog="annulet",
        usage="annulet COMMAND ...",
        description=_DESCRIPTION,
        epilog="commands:\n"
        + "".join(f"  {name:<{width}}  {does}\n" for name, does in COMMANDS.items())
        + f"\n{_CLOSING}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"annulet {VERSION}")
    if not words:
        print_result(parser.format_help())
        parser.exit(WRONG_USAGE)
    _, rest = parser.parse_known_args(words)
    parser.error(f"there is no command {rest[0] if rest else words[0]!r}; there are {', '.join(COMMANDS)}")


def _our_mistake(error: Exception) -> None:
    """Tells of a bug; with ANNULET_DEBUG set, with its traceback."""
    if os.environ.get("ANNULET_DEBUG"):
        import traceback  # slow to import, and seldom wanted

        traceback.print_exception(error)
    say(
        f"annulet: this is a mistake in annulet, not in your pattern ({type(error).__name__}: {error}).\n"
        "Please send us the pattern file and this line. ANNULET_DEBUG=1 shows where it happened."
    )
