"""What the commands share: the FILE and --root arguments, and the pattern files that they name."""

from __future__ import annotations

import argparse
import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from compiler.changes import NO_CHANGES, Changes
from compiler.console import say
from compiler.infile import STANDARD_INPUT, InputError
from compiler.pipeline import Checked, checked
from compiler.report import printable
from compiler.timings import Timings
from compiler.weave import Weave
from notation.metals import METALS, Metal

SUFFIX = ".annulet"
"""How the name of a pattern file ends."""


def add_files(parser: argparse.ArgumentParser) -> None:
    """One or more files or folders."""
    parser.add_argument(
        "files",
        metavar="FILE",
        nargs="+",
        help=f"a pattern file, a folder to search for {SUFFIX} files, or - for standard input",
    )


def add_file(parser: argparse.ArgumentParser) -> None:
    """One file."""
    parser.add_argument("file", metavar="FILE", help="a pattern file, or - for standard input")


def add_edition(parser: argparse.ArgumentParser) -> None:
    """One file, and what makes another edition of it: what `edition` reads."""
    add_file(parser)
    add_root(parser)
    add_changes(parser)


def add_root(parser: argparse.ArgumentParser) -> None:
    """The bound of what `use` may read."""
    parser.add_argument(
        "--root",
        metavar="FOLDER",
        type=Path,
        help="the folder that `use` lines may read from (default: the nearest with a file annulet.project, else the "
        "pattern's own)",
    )


def add_changes(parser: argparse.ArgumentParser) -> None:
    """What makes another edition of a pattern, and the metals that it may name."""
    add_metals(parser)
    parser.add_argument("--variant", metavar="NAME", help="a variant that the pattern names")
    parser.add_argument(
        "--set",
        metavar="NAME=NUMBER",
        action="append",
        default=[],
        help="another number for a `let` at the left margin (arms=8), or for a unit where no use of it gives one "
        "(rhombus.across=4, shared.rhombus.across=4); or another length for a piece that is made to one "
        "(length=185mm, bracelet.length=185mm)",
    )
    parser.add_argument(
        "--ring",
        metavar="KIND=INNER/WIRE[,METAL]",
        action="append",
        default=[],
        help="another size, and metal, for a kind of ring: large=6mm/1.2mm,brass",
    )


def changes_of(arguments: argparse.Namespace, metals: Mapping[str, Metal]) -> Changes:
    """The changes that are asked for. Raises InputError."""
    if not arguments.set and not arguments.ring and arguments.variant is None:
        return NO_CHANGES
    from compiler.overrides import read_changes  # not needed for a pattern as written

    return read_changes(arguments.set, arguments.ring, arguments.variant, metals)


def add_metals(parser: argparse.ArgumentParser) -> None:
    """Metals of one's own."""
    parser.add_argument(
        "--metals", metavar="FILE", help="metals of your own (YAML), added to those of `annulet metals`"
    )


def metals_of(arguments: argparse.Namespace) -> Mapping[str, Metal]:
    """The metals that can be named. Raises InputError."""
    if arguments.metals is None:
        return METALS
    # YAML, which an ordinary check need not wait for
    from compiler.metals_file import load_metals
    from compiler.ownfiles import own_source, refuse

    metals, problems = load_metals(own_source(arguments.metals))
    refuse(arguments.metals, problems)
    return metals


def by_search(weave: Weave, piece: int) -> float:
    """How long a piece is, mm, by laying it out. Raises NoLengthError."""
    from compiler.settling import searched_length  # numpy: only where something has to be searched for

    return searched_length(weave, piece)


def edition(arguments: argparse.Namespace, name: str, timings: Timings) -> tuple[Changes, Checked]:
    """A pattern file in the edition that is asked for, checked; says what its lengths come to. Raises InputError."""
    metals = metals_of(arguments)
    changes = changes_of(arguments, metals)
    result = checked(name, arguments.root, timings, changes, by_search, metals)
    say_lengths(result)
    return changes, result


def say_lengths(result: Checked) -> None:
    """Says, on standard error, what was worked out for the pieces that are made to a length."""
    for length in result.lengths:
        say(printable(length.in_full))


def pattern_files(names: Sequence[str]) -> list[str]:
    """The files that the arguments name, each once: a folder stands for the pattern files in it, sorted.

    Raises InputError for a folder that has none or that cannot be listed.
    """
    found: list[str] = []
    for name in names:
        found.extend(_in_folder(name) if name != STANDARD_INPUT and Path(name).is_dir() else [name])
    return list(dict.fromkeys(found))


def _in_folder(name: str) -> list[str]:
    """Pattern files at any depth; folders whose names begin with a dot and linked folders are passed by."""

    def refuse(error: OSError) -> None:
        raise InputError(
            f"Cannot read the folder {error.filename}: {(error.strerror or str(error)).lower()}."
        )

    found: list[str] = []
    for folder, inner, files in os.walk(name, onerror=refuse):
        inner[:] = [each for each in inner if not each.startswith(".")]
        found.extend(Path(folder, file).as_posix() for file in files if file.endswith(SUFFIX))
    if not found:
        raise InputError(f"There is no {SUFFIX} file in the folder {name}.")
    return sorted(found)
