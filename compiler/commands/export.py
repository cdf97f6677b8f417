"""`annulet export`: the weave as JSON."""

from __future__ import annotations

import argparse

from compiler.catalogue import english
from compiler.commands.files import add_file, add_root
from compiler.console import say_diagnostics, write_result
from compiler.export import StepText, export
from compiler.pipeline import checked
from compiler.steps import PieceWords
from compiler.timings import Timings
from compiler.word.words import word

_LINES_AT_ONCE = 10_000


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Prints the weave as JSON: rings with sizes and keys, links, findings, steps with their words, and the\n"
        "materials. The format is described by export-schema.json. A pattern with errors is not exported."
    )
    parser.epilog = "example:\n  annulet export vela.annulet > vela.json"
    add_file(parser)
    add_root(parser)


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Print the JSON; 1 when the pattern has errors."""
    result = checked(arguments.file, arguments.root, timings)
    if result.weave is None or result.has_errors:
        say_diagnostics(result.diagnostics, result.loaded.sources, [arguments.file])
        return 1
    with timings.stage("word"):
        texts = [step_texts(piece) for piece in word(result.weave).pieces]
    with timings.stage("export"):
        lines: list[str] = []
        for line in export(result.weave, texts):
            lines.append(line)
            if len(lines) == _LINES_AT_ONCE:
                write_result("".join(lines).encode("utf-8"))
                lines.clear()
        write_result("".join(lines).encode("utf-8"))
    return 0


def step_texts(piece: PieceWords) -> list[StepText]:
    """The words of each step of a piece."""
    return [
        StepText(
            title=english.title(step.title),
            text="\n\n".join(english.plain(paragraph) for paragraph in english.step_text(step)),
        )
        for step in piece.steps
    ]
