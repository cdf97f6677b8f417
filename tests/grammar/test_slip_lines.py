"""Slips of one line against what is told of them, in `cases/slips`: each line after `> `, and under it a report a line.

A report is the rule, its variant, its columns, what its message says, where it points besides, and what it would put
there. ANNULET_REWRITE=1 writes the reports anew; the difference is read like code. What may stand in a place is left
out: it changes with every construct.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from casefile import CASES

from grammar.parse import parse
from notation.diagnostic import Diagnostic, Place
from notation.source import Source

FILES = sorted((CASES / "slips").glob("*.txt"))
HEAD = 'title "Corvus"\nring link: inner 5 mm, wire 0.9 mm, metal copper\n'
BEFORE = {"margin": HEAD, "piece": f"{HEAD}piece arm:\n"}


def reports(before: str, line: str) -> list[str]:
    indent = "" if before == HEAD else "    "
    source = Source(name="corvus.annulet", text=f"{before}{indent}{line}\n")

    def columns(place: Place) -> str:
        start, end = (source.position(offset) for offset in place.span)
        row = "" if start.line == before.count("\n") + 1 else f"line {start.line} "
        return f"{row}{start.column - len(indent)}-{end.column - len(indent)}"

    def report(one: Diagnostic) -> str:
        said = [f"{name}={value}" for name, value in one.arguments if name != "expected"]
        labels = [f"{label.note} {columns(label.place)}" for label in one.labels]
        edits = [f"put {edit.replacement!r} at {columns(edit.place)}" for edit in one.edits]
        rule = f"{one.rule}/{one.variant}" if one.variant else one.rule
        return "; ".join((f"{rule} {columns(one.place)}", *said, *labels, *edits))

    return [report(one) for one in parse(source)[1]]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_slip_is_told_as_it_was_approved(path: Path) -> None:
    approved = path.read_text("utf-8")
    lines = [line.removeprefix("> ") for line in approved.splitlines() if line.startswith("> ")]
    assert len(lines) > 50
    found = "".join(
        f"> {line}\n" + "".join(f"{report}\n" for report in reports(BEFORE[path.stem], line))
        for line in lines
    )
    if os.environ.get("ANNULET_REWRITE"):
        path.write_text(found, "utf-8")
    assert found == approved


def test_lines_of_the_margin_and_of_a_piece_are_compared() -> None:
    assert [path.stem for path in FILES] == sorted(BEFORE)
