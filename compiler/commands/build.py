"""`annulet build`: the instruction booklet."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterator
from contextlib import redirect_stderr
from dataclasses import replace
from io import StringIO
from pathlib import Path
from traceback import print_exception

from msgspec import Struct, json

from compiler.booklet.compose import Options
from compiler.booklet.style import Paper
from compiler.build import build, not_printable, remembered_figures, timed, worded
from compiler.commands.files import (
    SUFFIX,
    add_changes,
    add_files,
    add_root,
    changes_of,
    edition,
    metals_of,
    pattern_files,
)
from compiler.console import on_terminal, pass_on, progress, say, say_diagnostics, write_result
from compiler.housefile import house_style
from compiler.infile import STANDARD_INPUT, InputError
from compiler.outfile import OutputError, source_date, write_whole
from compiler.proved import PieceGeometry
from compiler.remembered import cache_folder
from compiler.report import printable, severity, tally
from compiler.settling import geometry_and_told
from compiler.style import PAPERS
from compiler.timings import Timings
from compiler.workers import in_order, usable_cores
from notation.diagnostic import Severity

MOST_JOBS = 256
"""Patterns built at once."""


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Checks patterns and makes the booklet of each: materials, what to open and close beforehand, every\n"
        "step. The same text gives the same file, byte for byte. A pattern with errors gets no booklet, and a\n"
        "booklet that is there already stays as it is until the new one is whole. Figures are drawn to scale from\n"
        "rings that were placed and proved; `annulet settle` keeps their places, without it they are searched for.\n"
        "A piece for which none are found gets schematic figures, and a warning."
    )
    parser.epilog = (
        "example:\n"
        "  annulet build vela.annulet                    writes vela.pdf beside it\n"
        "  annulet build patterns/ -o out --page letter  a booklet in out/ for each pattern"
    )
    add_files(parser)
    add_root(parser)
    add_changes(parser)
    parser.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="the file to write, a folder that is there, or - for standard output (default: beside the pattern)",
    )
    parser.add_argument(
        "--schematic",
        action="store_true",
        help="schematic figures for all pieces, at once: nothing is settled",
    )
    parser.add_argument(
        "--page", choices=PAPERS, help="the size of the paper (default: that of the house style, else a4)"
    )
    parser.add_argument(
        "--jobs",
        metavar="N",
        type=_jobs,
        help="how many patterns to build at once (default: as many as there are processor cores)",
    )
    parser.add_argument(
        "--style",
        metavar="FILE",
        help="a house style: publisher, colours, fonts, logo, parts to print (YAML)",
    )


def _jobs(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:9]) <= MOST_JOBS and len(text) < 9):
        raise argparse.ArgumentTypeError(
            f"a whole number from 1 to {MOST_JOBS} is wanted, not {printable(text)!r}"
        )
    return int(text)


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Build the booklets; 1 when a pattern has errors. Raises InputError and OutputError."""
    names = pattern_files(arguments.files)
    places = [booklet_place(name, arguments.output, len(names)) for name in names]
    _refuse_clashes(names, places)
    style = house_style(arguments.style)
    paper = PAPERS[arguments.page] if arguments.page else style.paper or Paper.A4
    options = Options(
        paper=paper,
        house=style.house,
        rates=style.rates,
        created=source_date(os.environ),
        changes=str(changes_of(arguments, metals_of(arguments))),
    )
    if len(names) == 1:
        return _one(names[0], places[0], options, arguments, timings)
    built = _several(names, places, options, arguments)
    code = 0
    for number, (name, each) in enumerate(zip(names, built, strict=True), 1):
        progress("")
        if each.said:
            pass_on(each.said.removesuffix("\n"))
        if each.mistake:
            raise BuildMistakeError(f"{printable(name)}: {each.mistake}")
        timings.take(each.seconds)
        code = max(code, each.code)
        progress(f"{number} of {len(names)} built" if number < len(names) else "")
    return code


class BuildMistakeError(Exception):
    """A mistake of ours met in one of several builds."""


class _Built(Struct, frozen=True, kw_only=True):
    """What came of one pattern of several."""

    code: int
    said: str
    """What is to be told, in the order of the patterns and not in that of the work."""
    seconds: dict[str, float]
    mistake: str = ""


class _Told(StringIO):
    """Messages kept for later, painted as the terminal would get them."""

    def __init__(self) -> None:
        super().__init__()
        self._painted = on_terminal()

    def isatty(self) -> bool:
        return self._painted


def _several(
    names: list[str], places: list[Path | None], options: Options, arguments: argparse.Namespace
) -> Iterator[_Built]:
    """Each built by whichever worker is free; one that cannot be read or written keeps none from the others."""

    def task(number: int) -> bytes:
        spent, told, code, mistake = Timings(), _Told(), 0, ""
        with redirect_stderr(told):
            try:
                code = _one(names[number], places[number], options, arguments, spent)
            except (InputError, OutputError) as error:
                say(f"annulet: {error.message}")
                code = 2
            except Exception as error:
                mistake = f"{type(error).__name__}: {error}"
                if os.environ.get("ANNULET_DEBUG"):
                    print_exception(error)
        return json.encode(_Built(code=code, said=told.getvalue(), seconds=spent.seconds(), mistake=mistake))

    workers = arguments.jobs if arguments.jobs is not None else usable_cores()
    for result in in_order(len(names), workers, task):
        yield json.decode(result, type=_Built)


def booklet_place(name: str, output: str | None, count: int) -> Path | None:
    """Where the booklet of a pattern goes; None for standard output.

    Raises InputError where that cannot be told.
    """
    base = "" if name == STANDARD_INPUT else Path(name).name.removesuffix(SUFFIX)
    if output == STANDARD_INPUT:
        if count > 1:
            raise InputError("Standard output has room for one booklet: name one pattern, or give a folder.")
        if sys.stdout is not None and sys.stdout.isatty():
            raise InputError(
                "A booklet is no text for a terminal: give -o FILE, or send the output to a file."
            )
        return None
    if output is not None and not Path(output).is_dir():
        if count > 1:
            raise InputError(f"{printable(output)} is not a folder, and there are {count} patterns to build.")
        return Path(output)
    if not base:
        raise InputError(
            "A pattern from standard input has no name: give -o FILE, or -o - for standard output."
        )
    folder = Path(name).parent if output is None else Path(output)
    return folder / f"{base}.pdf"


def _refuse_clashes(names: list[str], places: list[Path | None]) -> None:
    """Two patterns of one name must not write the same booklet, nor a pattern be written over."""
    taken: dict[str, str] = {}
    patterns = {os.path.realpath(name) for name in names if name != STANDARD_INPUT}
    for name, place in zip(names, places, strict=True):
        if place is None:
            continue
        real = os.path.realpath(place)
        if real in patterns:
            raise InputError(f"{place} is a pattern: the booklet must not be written over it.")
        if real in taken:
            raise InputError(f"{taken[real]} and {name} would both be written to {place}.")
        taken[real] = name


def _one(
    name: str, place: Path | None, options: Options, arguments: argparse.Namespace, timings: Timings
) -> int:
    changes, result = edition(arguments, name, timings)
    # Advice is for whoever checks; a build tells what should not go to print.
    found = (*result.diagnostics, *not_printable(result, timings))
    told = [each for each in found if severity(each) is not Severity.ADVICE]
    names, sources = [result.loaded.pattern.source.name], result.loaded.sources
    if result.weave is None or tally(told).errors:
        say_diagnostics(told, sources, names)
        return 1
    weave = result.weave
    geometry: tuple[PieceGeometry, ...] = ()
    if not arguments.schematic:
        # advice on the geometry too: it says what the figures are
        geometry, more = geometry_and_told(weave, name, timings, changes)
        told += more
    say_diagnostics(told, sources, names)
    options = replace(options, lengths=tuple(str(each) for each in result.lengths))
    words = worded(weave, timings)
    with timings.stage("remember"):
        figures = remembered_figures(weave, geometry, words, cache_folder(os.environ))
    data = build(weave, words, timed(figures, timings), options, timings)
    with timings.stage("remember"):
        figures.keep()
    with timings.stage("write"):
        if place is None:
            write_result(data)
        else:
            write_whole(place, data)
            say(f"{printable(str(place))} is written")
    return 0
