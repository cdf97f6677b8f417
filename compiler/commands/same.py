"""`annulet same`: whether two patterns make the same weave."""

from __future__ import annotations

import argparse
import json

from compiler.catalogue.same_english import SAME, difference_text
from compiler.commands.files import add_root
from compiler.console import print_result, say_diagnostics, write_json
from compiler.pipeline import Checked, checked
from compiler.report import as_json
from compiler.same.compare import Difference, compare
from compiler.timings import Timings


def configure(parser: argparse.ArgumentParser) -> None:
    """Describe the command and its arguments."""
    parser.description = (
        "Says whether two patterns make the same weave: the same rings, linked from the same sides, lying around,\n"
        "between and over each other alike, folded, spread, leaned and turned alike. Names, steps, words and the\n"
        "order of making play no part; pieces are compared one by one, in order. Exit code 0: the same; 1: not the\n"
        "same, and the first difference is printed, or one of them has errors."
    )
    parser.epilog = "example:\n  annulet same vela.annulet vela-other-way.annulet"
    parser.add_argument("first", metavar="FILE", help="a pattern file, or - for standard input")
    parser.add_argument("second", metavar="FILE", help="another")
    add_root(parser)
    parser.add_argument("--json", action="store_true", help="the answer as JSON, on standard output")


def run(arguments: argparse.Namespace, timings: Timings) -> int:
    """Compare; 0 when they are the same weave."""
    names = list(dict.fromkeys((arguments.first, arguments.second)))
    results = [checked(name, arguments.root, timings) for name in names]
    wrong = [result for result in results if result.weave is None or result.has_errors]
    if wrong:
        _tell(wrong, names, as_json_too=arguments.json)
        return 1
    first, second = results[0].weave, results[-1].weave
    assert first is not None
    assert second is not None
    with timings.stage("same"):
        found = compare(first, second)
    text = SAME if found is None else difference_text(found.name, dict(found.arguments))
    if arguments.json:
        write_json(_as_json(found, text))
    else:
        print_result(f"{text}\n")
    return int(found is not None)


def _tell(wrong: list[Checked], names: list[str], *, as_json_too: bool) -> None:
    told = [diagnostic for result in wrong for diagnostic in result.diagnostics]
    sources = {name: source for result in wrong for name, source in result.loaded.sources.items()}
    if as_json_too:
        write_json(as_json(told, sources, names))
    else:
        say_diagnostics(told, sources, names)


def _as_json(found: Difference | None, text: str) -> str:
    difference = None if found is None else {"name": found.name, **dict(found.arguments)}
    answer = {"same": found is None, "difference": difference, "text": text}
    return json.dumps(answer, ensure_ascii=False) + "\n"
