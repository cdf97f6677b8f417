"""`annulet settle`: places the rings of a pattern in space and keeps what is proved beside it."""

from __future__ import annotations

import argparse
from pathlib import Path
from time import perf_counter

from compiler.commands.files import add_changes, add_files, add_root, edition, pattern_files
from compiler.console import say, say_diagnostics
from compiler.infile import STANDARD_INPUT, InputError
from compiler.kept import write_kept
from compiler.layout import kept_beside, kept_path
from compiler.proved import Origin, flat_name, said, told_of_search
from compiler.report import printable
from compiler.settling import geometry_of, progress_on_terminal
from compiler.timings import Timings


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Places every ring of a pattern in space, proves that each is linked as the text says and that no wire\n"
        "passes through another, and keeps the places in a file beside the pattern (vela.layout). With it, `build`\n"
        "draws the same figures on every machine without searching again. What fits already is left as it is. A\n"
        "piece for which no layout is found is told with the rings concerned; that is no error. It is remembered, so\n"
        "that other commands do not search again; --again does."
    )
    parser.epilog = "example:\n  annulet settle vela.annulet       writes vela.layout beside it"
    add_files(parser)
    add_root(parser)
    add_changes(parser)
    parser.add_argument("--again", action="store_true", help="search anew, whatever is kept")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Settle the patterns; 1 when one has errors. Raises InputError and OutputError."""
    names = pattern_files(arguments.files)
    if STANDARD_INPUT in names:
        raise InputError("A pattern from standard input has no place for a layout beside it: give a file.")
    return max(_one(name, arguments, timings) for name in names)


def _one(name: str, arguments: argparse.Namespace, timings: Timings) -> int:
    changes, result = edition(arguments, name, timings)
    if result.weave is None or result.has_errors:
        say_diagnostics(result.diagnostics, result.loaded.sources, [name])
        return 1
    weave = result.weave
    start = perf_counter()
    found = geometry_of(
        weave,
        kept_beside(name, changes.variant),
        timings,
        progress_on_terminal,
        again=arguments.again,
        flats=True,
    )
    seconds = perf_counter() - start
    for geometry in found:
        if geometry.layout is not None:
            say(f"{printable(name)}: {said(weave, geometry)}")
    problems = {
        weave.pieces[geometry.piece].name: geometry.problem
        for geometry in found
        if geometry.problem is not None
    }
    layouts = {
        weave.pieces[geometry.piece].name: geometry.layout
        for geometry in found
        if geometry.layout is not None
    }
    flats = {flat_name(weave, geometry.piece): geometry for geometry in found}
    problems |= {name: each.flat_problem for name, each in flats.items() if each.flat_problem is not None}
    layouts |= {name: each.flat for name, each in flats.items() if each.flat is not None}
    with timings.stage("write"):
        if layouts and any(each.origin is Origin.SETTLED or each.flat_searched for each in found):
            if changes and not changes.only_variant:
                say(f"{printable(name)}: the layout of an edition that has no name in the text is not kept")
            else:
                path = kept_path(Path(name), changes.variant)
                write_kept(path, problems, layouts)
                say(f"{printable(str(path))} is written, after {seconds:.1f} s")
    say_diagnostics(told_of_search(weave, found), result.loaded.sources, [name])
    return 0
