"""`annulet new`: a pattern to begin with, which builds as it is."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from compiler.commands.files import SUFFIX
from compiler.console import say
from compiler.infile import InputError
from compiler.outfile import OutputError
from compiler.report import printable
from compiler.timings import Timings
from notation.limits import LONGEST_TEXT

_STARTER = """\
# A bracelet of paired rings. Change what you like, then: annulet check {file}
title "{title}"
by "Your name"
licence "CC-BY-4.0"
version "0.1.0"
level "beginner"
about "A chain of pairs that closes with a toggle."

ring link: inner 4 mm, wire 1.2 mm, metal copper, doubled
finding toggle: toggle-ring, eye 2.5 mm, wire 1.2 mm, metal copper
finding bar: toggle-bar, eye 2.5 mm, wire 1.2 mm, length 20 mm, metal copper

label link "ring"
label toggle "toggle ring"
label bar "toggle bar"

kit: 60 link, 1 toggle, 1 bar

unit chain(repeats = 24):
    label pair "pair"
    line pair of repeats:
        pass 2 link through the one before
    port start = first of pair
    port finish = last of pair

piece bracelet:
    make chain as body
    step "Add the toggle":
        pass 1 single link through start of body carrying 1 toggle
    step "Add the bar":
        pass 1 single link as tail through finish of body
        pass 1 single link through tail carrying 1 bar
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Writes a small pattern that checks and builds as it is, for you to change. A file that is there\n"
        "already is never written over."
    )
    parser.epilog = "example:\n  annulet new designs/vela      writes designs/vela.annulet"
    parser.add_argument(
        "name", metavar="NAME", help=f"the file to write; {SUFFIX} is added if it is not there"
    )


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Write the file. Raises InputError for a name that is none, OutputError where it cannot be written."""
    path = Path(arguments.name)
    if path.suffix != SUFFIX:
        path = path.with_name(path.name + SUFFIX) if path.name else path
    stem = path.name.removesuffix(SUFFIX)
    if not stem or stem == ".." or not stem.isprintable() or len(stem) > LONGEST_TEXT:
        raise InputError(f"{printable(arguments.name) or 'Nothing'} is no name for a pattern.")
    with timings.stage("new"):
        _write_new(path, starter(path.name, title_of(stem)).encode("utf-8"))
    say(f"{path} is written; `annulet build {path}` makes its booklet")
    return 0


def starter(file: str, title: str) -> str:
    """The text of the starter pattern."""
    escaped = title.replace("\\", "\\\\").replace('"', '\\"')
    return _STARTER.format(file=file, title=escaped)


def title_of(stem: str) -> str:
    """A title from the name of a file: `vela-bracelet` is "Vela bracelet"."""
    words = stem.replace("-", " ").replace("_", " ").strip() or stem
    return words[0].upper() + words[1:]


def _write_new(path: Path, data: bytes) -> None:
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
    except FileExistsError as error:
        raise OutputError(f"{path} is there already, and is left as it is.") from error
    except FileNotFoundError as error:
        raise OutputError(f"Cannot write {path}: there is no folder {path.parent}.") from error
    except OSError as error:
        raise OutputError(f"Cannot write {path}: {(error.strerror or str(error)).lower()}.") from error
