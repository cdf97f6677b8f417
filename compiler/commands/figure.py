"""`annulet figure`: one figure of a pattern, alone."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from difflib import get_close_matches
from io import BytesIO
from pathlib import Path

from compiler.booklet.figuretypes import Figure
from compiler.booklet.page import Document, Group, Item, Page, Role, moved
from compiler.booklet.typeset import typeset
from compiler.build import figures_of, not_printable, worded
from compiler.catalogue import booklet_english
from compiler.commands.files import add_edition, edition
from compiler.console import say, say_diagnostics
from compiler.figure.svg import svg
from compiler.infile import InputError
from compiler.outfile import write_whole
from compiler.proved import PieceGeometry
from compiler.report import printable, severity, tally
from compiler.settling import geometry_and_told
from compiler.timings import Timings
from compiler.weave import Weave
from notation.diagnostic import Diagnostic, Severity

_ENDINGS = (".svg", ".pdf", ".png")
_LARGEST, _LEAST, _MOST = 420.0, 60.0, 2000.0
"""Points: the room for a figure when nothing is said, and bounds of what may be said."""
_MARGIN = 8.0
"""Points of white on each side."""
_PNG_SCALE = 3.0
"""Pixels for a point: 216 dots per inch."""


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Draws one figure of a pattern: the finished piece, or the work at the end of a step, as the booklet has\n"
        "it. It is drawn to scale from places that are kept beside the pattern or searched for, and schematic where\n"
        "none are found. What the figure shows goes into the file as alternative text (SVG and PDF)."
    )
    parser.epilog = "example:\n  annulet figure vela.annulet --step 3 -o vela-3.svg"
    add_edition(parser)
    parser.add_argument("--piece", metavar="NAME", help="which piece (default: the first)")
    parser.add_argument(
        "--step", metavar="N", type=int, help="the number of a step (default: the finished piece)"
    )
    parser.add_argument("--schematic", action="store_true", help="a schematic figure, at once")
    parser.add_argument(
        "--size",
        metavar="POINTS",
        type=float,
        default=_LARGEST,
        help=f"the most that the figure may be wide and high (default: {_LARGEST:.0f}, 72 to the inch)",
    )
    parser.add_argument(
        "-o", "--output", metavar="OUT", required=True, help="the file to write: .svg, .pdf or .png"
    )


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Draw it; 1 when the pattern has errors. Raises InputError and OutputError."""
    place = Path(arguments.output)
    if place.suffix.lower() not in _ENDINGS:
        raise InputError(
            f"{printable(arguments.output)} must end in {', '.join(_ENDINGS[:-1])} or {_ENDINGS[-1]}."
        )
    if not _LEAST <= arguments.size <= _MOST:
        raise InputError(f"A figure is from {_LEAST:.0f} to {_MOST:.0f} points large.")
    changes, result = edition(arguments, arguments.file, timings)
    told = [*result.diagnostics, *not_printable(result, timings)]
    names, sources = [result.loaded.pattern.source.name], result.loaded.sources
    if result.weave is None or tally(told).errors:
        say_diagnostics([each for each in told if severity(each) is not Severity.ADVICE], sources, names)
        return 1
    weave = result.weave
    piece = _piece(weave, arguments.piece)
    _refuse_step(weave, piece, arguments.step)
    found: tuple[PieceGeometry, ...] = ()
    if not arguments.schematic:
        found, more = geometry_and_told(weave, arguments.file, timings, changes)
        say_diagnostics(_about(weave, piece, more), sources, names)
    source = figures_of(weave, found, timings, worded(weave, timings))
    room = arguments.size
    figure = (
        source.finished(piece, room, room)
        if arguments.step is None
        else source.step(piece, arguments.step, room, room)
    )
    if figure is None:
        raise InputError("There is nothing to draw yet at the end of that step.")
    with timings.stage("typeset"):
        data = _file(figure, place.suffix.lower(), weave.title)
    with timings.stage("write"):
        write_whole(place, data)
    say(f"{printable(str(place))} is written")
    return 0


def _piece(weave: Weave, name: str | None) -> int:
    """The index of a piece. Raises InputError where there is none of this name."""
    names = [piece.name for piece in weave.pieces]
    if not names:
        raise InputError("The pattern has no piece to draw.")
    if name is None:
        return 0
    if name in names:
        return names.index(name)
    close = get_close_matches(name, names, n=1)
    hint = f"Did you mean {close[0]}?" if close else f"There are {', '.join(names)}."
    raise InputError(f"There is no piece {printable(name)}. {hint}")


def _refuse_step(weave: Weave, piece: int, step: int | None) -> None:
    count = len(weave.pieces[piece].steps)
    if step is not None and not 1 <= step <= count:
        raise InputError(
            f"{weave.pieces[piece].name} has no step {step}: its steps are numbered 1 to {count}."
        )


def _about(weave: Weave, piece: int, told: Sequence[Diagnostic]) -> list[Diagnostic]:
    """What is told of the piece that is drawn, and not of others."""
    return [each for each in told if each.place == weave.pieces[piece].place]


def _file(figure: Figure, ending: str, title: str) -> bytes:
    """The bytes of the picture with a margin of white."""
    width, height = figure.width + 2 * _MARGIN, figure.height + 2 * _MARGIN
    block: Item = Group(role=Role.FIGURE, alt=figure.alt, items=figure.items)
    items = moved((block,), _MARGIN, _MARGIN)
    if ending == ".svg":
        return svg(items, width, height, figure.alt).encode("utf-8")
    page = Page(width=width, height=height, label="1", items=items)
    document = Document(
        title=title,
        author="",
        subject=booklet_english.SUBJECT,
        language=booklet_english.LANGUAGE,
        keywords=booklet_english.KEYWORDS,
        created=None,
        pages=(page,),
    )
    data = typeset(document)
    return data if ending == ".pdf" else _png(data)


def _png(pdf: bytes) -> bytes:
    """The page as pixels. Raises InputError where the library for that is not installed."""
    try:
        import pypdfium2  # type: ignore[import-untyped]
    except ImportError as error:
        raise InputError(
            "A PNG needs the library pypdfium2 (pip install pypdfium2); SVG and PDF do without."
        ) from error
    document = pypdfium2.PdfDocument(pdf)
    try:
        picture = document[0].render(scale=_PNG_SCALE).to_pil()
    finally:
        document.close()
    out = BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()
