"""`annulet length`: how many repeats make a piece as long as is wanted."""

from __future__ import annotations

import argparse
from difflib import get_close_matches

from msgspec import structs

from compiler.changes import Changes, Setting
from compiler.commands.files import add_changes, add_file, add_root, changes_of
from compiler.console import print_result, say_diagnostics
from compiler.infile import InputError
from compiler.measures import MeasureError, read_length
from compiler.overrides import default_of, read_changes
from compiler.pipeline import Checked, checked
from compiler.report import printable, severity
from compiler.settling import geometry_of, progress_on_terminal
from compiler.size import size_of
from compiler.timings import Timings
from compiler.tolength import Between, NoLengthError, repeats_for
from compiler.weave import Weave
from notation.diagnostic import Severity
from notation.lengths import in_mm

_OF_THE_KIT = ("over-budget", "not-in-kit")
"""Rules that a longer piece may break without being another piece."""


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Works out how many repeats of a unit make a piece as long as you want it: the piece is laid out and proved\n"
        "at two numbers of repeats, which gives the pitch, and then at those that come nearest. Its length is that\n"
        "of rings and eyes lying flat, as the booklet has it; the bodies of findings are not counted."
    )
    parser.epilog = "example:\n  annulet length vela.annulet --vary chain.repeats --to 185mm"
    add_file(parser)
    add_root(parser)
    add_changes(parser)
    parser.add_argument(
        "--vary", metavar="UNIT.NAME", required=True, help="the number that may vary, as --set names it"
    )
    parser.add_argument(
        "--to", metavar="LENGTH", required=True, help="how long the piece is to be, as in 185mm"
    )
    parser.add_argument("--piece", metavar="NAME", help="which piece (default: the first)")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Print the numbers; 1 when the pattern has errors. Raises InputError."""
    try:
        wanted = read_length(arguments.to)
    except MeasureError as error:
        raise InputError(f"--to: {error.message}.") from error
    changes = changes_of(arguments)
    varied = read_changes([f"{arguments.vary}=1"], []).settings[0]
    if varied.name in [each.name for each in changes.settings]:
        raise InputError(f"{varied.name} cannot be set and vary.")
    result = checked(arguments.file, arguments.root, timings, changes)
    if result.weave is None or _errors(result):
        told = [each for each in result.diagnostics if severity(each) is Severity.ERROR]
        say_diagnostics(told, result.loaded.sources, [arguments.file])
        return 1
    name = _piece(result.weave, arguments.piece)
    start = default_of(result.loaded.pattern, result.loaded.library, varied) or 4

    def measure(repeats: int) -> float:
        setting = Setting(path=varied.path, value=repeats)
        edition = Changes(settings=(*changes.settings, setting), rings=changes.rings)
        return _length(arguments, timings, edition, name)

    try:
        found = repeats_for(measure, start, float(wanted.mm))
    except NoLengthError as error:
        raise InputError(
            f"No {varied.name} makes {name} {in_mm(wanted.mm)} long: {error.message}."
        ) from error
    _tell(arguments.file, name, varied.name, found, float(wanted.mm))
    return 0


def _tell(file: str, piece: str, varied: str, found: Between, wanted_mm: float) -> None:
    for each in (found.below, found.above):
        print_result(f"{varied} = {each.repeats}: {piece} is {each.length_mm:.1f} mm long\n")
    nearest = found.nearest(wanted_mm)
    print_result(
        f"A repeat adds {found.pitch_mm:.1f} mm. For the booklet of the nearest:\n"
        f"annulet build {printable(file)} --set {varied}={nearest.repeats}\n"
    )


def _errors(result: Checked) -> bool:
    """Whether something is wrong beside the kit."""
    return any(
        severity(each) is Severity.ERROR and each.rule not in _OF_THE_KIT for each in result.diagnostics
    )


def _piece(weave: Weave, name: str | None) -> str:
    """The name of a piece that there is. Raises InputError."""
    names = [piece.name for piece in weave.pieces]
    if not names:
        raise InputError("The pattern has no piece.")
    if name is None or name in names:
        return name or names[0]
    close = get_close_matches(name, names, n=1)
    hint = f"Did you mean {close[0]}?" if close else f"There are {', '.join(names)}."
    raise InputError(f"There is no piece {printable(name)}. {hint}")


def _length(arguments: argparse.Namespace, timings: Timings, edition: Changes, name: str) -> float:
    """Length of the piece in an edition, mm. Raises InputError where it cannot be made or laid out."""
    result = checked(arguments.file, arguments.root, timings, edition)
    if result.weave is None or _errors(result):
        first = next((each.rule for each in result.diagnostics if severity(each) is Severity.ERROR), "")
        raise InputError(f"With {edition} the pattern has errors ({first}): `annulet check` tells them.")
    weave = result.weave
    piece = next(each for each in weave.pieces if each.name == name)
    # only this piece is searched for
    (geometry,) = geometry_of(structs.replace(weave, pieces=(piece,)), None, timings, progress_on_terminal)
    if geometry.whole is None:
        raise InputError(f"With {edition} no layout of {name} is found, so that its length is not known.")
    return size_of(geometry.whole.circles).length
