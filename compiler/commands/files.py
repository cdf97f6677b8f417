"""What the commands share: the FILE and --root arguments, and the pattern files that they name."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from pathlib import Path

from compiler.changes import NO_CHANGES, Changes
from compiler.infile import STANDARD_INPUT, InputError

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
    """What makes another edition of a pattern."""
    parser.add_argument(
        "--set",
        metavar="UNIT.NAME=NUMBER",
        action="append",
        default=[],
        help="another number for a unit where no use of it gives one: rhombus.across=4, shared.rhombus.across=4",
    )
    parser.add_argument(
        "--ring",
        metavar="KIND=INNER/WIRE[,METAL]",
        action="append",
        default=[],
        help="another size, and metal, for a kind of ring: large=6mm/1.2mm,brass",
    )


def changes_of(arguments: argparse.Namespace) -> Changes:
    """The changes that are asked for. Raises InputError."""
    if not arguments.set and not arguments.ring:
        return NO_CHANGES
    from compiler.overrides import read_changes  # not needed for a pattern as written

    return read_changes(arguments.set, arguments.ring)


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
