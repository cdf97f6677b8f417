"""`annulet export`: the weave as JSON."""

from __future__ import annotations

import argparse
from pathlib import Path

from compiler.catalogue import english
from compiler.changes import edition_of
from compiler.commands.files import add_edition, edition
from compiler.console import say_diagnostics, write_json
from compiler.export import StepText, export
from compiler.layout import kept_beside
from compiler.outline import outline_of
from compiler.proved import Origin, PieceGeometry, from_kept
from compiler.settling import geometry_of, progress_on_terminal
from compiler.steps import PieceWords
from compiler.timings import Timings
from compiler.weave import Weave
from compiler.word.words import word

_LINES_AT_ONCE = 10_000


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Prints the weave as JSON: rings with sizes and keys, links, findings, steps with their words, and the\n"
        "materials; where a layout is kept beside the pattern, also where every ring lies and the finished size. The\n"
        "format is described by export-schema.json. A pattern with errors is not exported."
    )
    parser.epilog = "example:\n  annulet export vela.annulet > vela.json"
    add_edition(parser)
    parser.add_argument(
        "--geometry", action="store_true", help="search for the places of the rings where none are kept"
    )


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Print the JSON; 1 when the pattern has errors."""
    changes, result = edition(arguments, arguments.file, timings)
    if result.weave is None or result.has_errors:
        say_diagnostics(result.diagnostics, result.loaded.sources, [arguments.file])
        return 1
    weave = result.weave
    found = _found(weave, kept_beside(arguments.file, changes.variant), timings, search=arguments.geometry)
    layouts = {each.piece: each.layout for each in found if each.layout is not None and not each.part}
    outlines = {}
    for each in found:
        outline = None if each.beginning is None else outline_of(weave, each.piece, each.beginning)
        if outline is not None and each.beginning is not None:
            outlines[each.piece] = outline, each.beginning
    with timings.stage("word"):
        texts = [step_texts(piece) for piece in word(weave).pieces]
    with timings.stage("export"):
        lines: list[str] = []
        for line in export(weave, texts, layouts, edition_of(changes, result.lengths), outlines):
            lines.append(line)
            if len(lines) == _LINES_AT_ONCE:
                write_json("".join(lines))
                lines.clear()
        write_json("".join(lines))
    return 0


def _found(weave: Weave, path: Path | None, timings: Timings, *, search: bool) -> tuple[PieceGeometry, ...]:
    """What is known of the pieces: kept and proved, and with `search` what else was found, proved or not."""
    if search:
        return geometry_of(weave, path, timings, progress_on_terminal)
    found = from_kept(weave, path, timings) if path is not None and path.exists() else ()
    return tuple(each for each in found if each.origin is not Origin.SOUGHT)


def step_texts(piece: PieceWords) -> list[StepText]:
    """The words of each step of a piece."""
    return [
        StepText(
            title=english.title(step.title),
            text="\n\n".join(english.plain(paragraph) for paragraph in english.step_text(step)),
        )
        for step in piece.steps
    ]
