"""`annulet kit`: what goes into a kit, what to buy for so many, what one costs."""

from __future__ import annotations

import argparse
import os
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from compiler.changes import edition_of
from compiler.commands.files import add_edition, edition, metals_of
from compiler.console import print_result, say, say_diagnostics, write_json, write_result
from compiler.infile import InputError
from compiler.kit import USUAL_RATES, Rates, quantities
from compiler.kitlist import as_csv, as_json, as_text
from compiler.measures import MeasureError, read_hourly, read_length, read_share
from compiler.outfile import source_date, write_whole
from compiler.ownfiles import own_source, refuse
from compiler.pipeline import Checked
from compiler.price import MOST_SETS, Plan, Spare, Terms, plan
from compiler.report import printable, severity
from compiler.stock import Stock, load_stock
from compiler.timings import Timings
from notation.diagnostic import Severity
from notation.metals import Metal

PAPERS = ("a4", "letter")
_MOST_SPARE = Decimal(1)
_MOST_LEAST = 1000
_WIDEST_KERF_MM = Decimal(2)
_HIGHEST_RATE = Decimal(10_000)


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    spare = Spare()
    parser.description = (
        "Lists what goes into one kit of a pattern. With a stock file (notation/stock.md describes it): whole packs\n"
        "to buy for all kits, what is left over, what one kit costs and, given a margin or an hourly rate, prices.\n"
        "What the stock lacks is listed, and no cost is guessed. Where the pattern has a kit line, that says what\n"
        "goes in; the spare allowance is for the kinds that no kit line names. Findings get no spares."
    )
    parser.epilog = "example:\n  annulet kit vela.annulet --stock drawer.yaml --sets 12 --margin 40%"
    add_edition(parser)
    parser.add_argument(
        "--stock", metavar="FILE", help="what can be bought, in which packs, for how much (YAML)"
    )
    parser.add_argument("--sets", metavar="N", type=int, default=1, help="how many kits (default: 1)")
    parser.add_argument(
        "--spare",
        metavar="SHARE",
        default=f"{spare.share * 100:.0f}%",
        help=f"spare rings of each kind, rounded up to whole rings (default: {spare.share * 100:.0f}%%)",
    )
    parser.add_argument(
        "--spare-least",
        metavar="N",
        type=int,
        default=spare.least,
        help=f"spare rings of each kind at least (default: {spare.least})",
    )
    parser.add_argument(
        "--margin", metavar="SHARE", help="the part of the price that is not cost, as in 40%%; gives a price"
    )
    parser.add_argument(
        "--rate", metavar="MONEY/h", help="pay for an hour, as in 18/h; gives a price of the finished work"
    )
    parser.add_argument(
        "--kerf",
        metavar="LENGTH",
        help="what your saw takes, as in 0.3mm: tells mandrel, turns, coil and wire",
    )
    parser.add_argument(
        "--sheet",
        metavar="OUT.pdf",
        help="also write a packing sheet: a list to pick by and labels for the bags",
    )
    parser.add_argument(
        "--page", choices=PAPERS, help="the paper of the sheet (default: that of the style, else a4)"
    )
    parser.add_argument(
        "--style", metavar="FILE", help="a house style (YAML): the rates of the time, and the paper"
    )
    shape = parser.add_mutually_exclusive_group()
    shape.add_argument("--csv", action="store_true", help="the lines as CSV, on standard output")
    shape.add_argument("--json", action="store_true", help="all of it as JSON, on standard output")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Print the list; 1 when the pattern has errors. Raises InputError and OutputError."""
    terms = _terms(arguments)
    _refuse_place(arguments)
    rates, page = _style(arguments)
    stock = None if arguments.stock is None else _stock(arguments.stock, metals_of(arguments), timings)
    changes, result = edition(arguments, arguments.file, timings)
    if result.weave is None or result.has_errors:
        told = [each for each in result.diagnostics if severity(each) is not Severity.ADVICE]
        say_diagnostics(told, result.loaded.sources, [result.loaded.pattern.source.name])
        return 1
    weave = result.weave
    with timings.stage("kit"):
        terms = replace(terms, changes=edition_of(changes, result.lengths))
        found: Plan = plan(weave, quantities(weave, rates), stock, terms)
        if arguments.csv:
            write_result(as_csv(found).encode("utf-8"))
        elif arguments.json:
            write_json(as_json(weave, found))
        else:
            print_result(as_text(weave, found))
    if arguments.sheet is not None:
        return _sheet(arguments.sheet, page, result, found, timings)
    return 0


def _style(arguments: argparse.Namespace) -> tuple[Rates, str]:
    """The rates of the time, and the name of the paper. Raises InputError."""
    if arguments.style is None:
        return USUAL_RATES, arguments.page or PAPERS[0]
    # Only here: a style knows fonts and colours, which take longer to load than the list to make.
    from compiler.housefile import house_style

    style = house_style(arguments.style)
    named = PAPERS[0] if style.paper is None else style.paper.name.lower()
    return style.rates, arguments.page or named


def _sheet(place: str, page: str, result: Checked, found: Plan, timings: Timings) -> int:
    """Writes the packing sheet; 1 where a text of the pattern cannot be printed."""
    # Only here: fonts and pages take longer than the list.
    from compiler.booklet.style import Paper
    from compiler.booklet.typeset import typeset
    from compiler.build import not_printable
    from compiler.packing import packing_sheet

    assert result.weave is not None
    told = not_printable(result, timings)
    if told:
        say_diagnostics(told, result.loaded.sources, [result.loaded.pattern.source.name])
        return 1
    with timings.stage("sheet"):
        document = packing_sheet(result.weave, found, Paper[page.upper()], source_date(os.environ))
        data = typeset(document)
    with timings.stage("write"):
        write_whole(Path(place), data)
        say(f"{printable(place)} is written")
    return 0


def _refuse_place(arguments: argparse.Namespace) -> None:
    """A sheet must not be written over what it is made from."""
    if arguments.sheet is not None and os.path.realpath(arguments.sheet) in [
        os.path.realpath(name) for name in (arguments.file, arguments.stock) if name is not None
    ]:
        raise InputError(f"{printable(arguments.sheet)} is read here: the sheet must not be written over it.")


def _stock(name: str, metals: Mapping[str, Metal], timings: Timings) -> Stock:
    with timings.stage("stock"):
        stock, problems = load_stock(own_source(name), metals)
        refuse(name, problems)
    assert stock is not None
    return stock


def _terms(arguments: argparse.Namespace) -> Terms:
    """What the options say. Raises InputError for what makes no sense."""
    try:
        share = read_share(arguments.spare)
        margin = None if arguments.margin is None else read_share(arguments.margin)
        rate = None if arguments.rate is None else read_hourly(arguments.rate)
        kerf = None if arguments.kerf is None else read_length(arguments.kerf).mm
    except MeasureError as error:
        raise InputError(f"{error.message}.") from error
    if not 1 <= arguments.sets <= MOST_SETS:
        raise InputError(f"--sets is from 1 to {MOST_SETS}, not {arguments.sets}.")
    if share > _MOST_SPARE:
        raise InputError(f"--spare is at most {_MOST_SPARE * 100}%, not {arguments.spare}.")
    if not 0 <= arguments.spare_least <= _MOST_LEAST:
        raise InputError(f"--spare-least is from 0 to {_MOST_LEAST}, not {arguments.spare_least}.")
    if margin is not None and margin >= 1:
        raise InputError("--margin is a part of the price, so it is less than 100%.")
    if rate is not None and rate > _HIGHEST_RATE:
        raise InputError(f"--rate is at most {_HIGHEST_RATE}/h.")
    if kerf is not None and kerf > _WIDEST_KERF_MM:
        raise InputError(f"--kerf is at most {_WIDEST_KERF_MM} mm.")
    if (margin is not None or rate is not None) and arguments.stock is None:
        raise InputError("A price needs what things cost: give --stock FILE.")
    spare = Spare(share=share, least=arguments.spare_least)
    return Terms(
        sets=arguments.sets,
        spare=spare,
        margin=margin,
        rate=rate,
        kerf_mm=kerf,
    )
