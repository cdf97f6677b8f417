"""How fast everything is, in one table: each line beside a floor that is measured in the same run.

    python -m tests.bench [--quick] [PART ...]

The parts are start-up, parse, sheets, geometry, booklet, folder, commands; all of them take some minutes, with
--quick one.

The floor is what somebody else's code takes for as much of the same work as it does: the interpreter with some
imports, bare Lark, networkx on the same graph, scipy on the same circles, bare reportlab with the same marks. What the
seconds are, `measure` tells. This is no test: nothing here can fail for being slow.
"""

from __future__ import annotations

import json
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import bare_reportlab
import networkx as nx
import numpy as np
import sheet
from lark import Lark
from measure import (
    HEADING,
    ROOT,
    Line,
    annulet,
    call_seconds,
    clock_seconds,
    exponent,
    paired_calls,
    paired_processes,
)
from scipy.spatial import cKDTree

from compiler.booklet.compose import Options, compose
from compiler.booklet.page import Document, Page
from compiler.booklet.typeset import typeset
from compiler.expand.driver import expand
from compiler.figure.source import Figures
from compiler.hints import hinted
from compiler.layout import Circle, Layout, LayoutProblem
from compiler.loader import load
from compiler.problem import problem_of
from compiler.prove import prove
from compiler.proved import from_kept
from compiler.settle.search import settle
from compiler.timings import Timings
from compiler.weave import Weave
from compiler.word.words import word
from grammar.automaton import START
from grammar.build import GRAMMAR
from grammar.lines import split
from grammar.parse import parse
from notation.source import Source

RHOMBUS = "patterns/units/rhombus.annulet"
BOOKLET = "patterns/lyra-earrings.annulet"
NECKLACE = "patterns/lyra-necklace.annulet"
IMPORTS = "import lark, argparse, dataclasses"
SHEETS = (100, 1_000, 10_000, 100_000, 1_000_000)
POINTS = 64
"""On each ring, for the tree of scipy."""


def start_up(folder: Path, pairs: int) -> Iterator[Line]:
    """Whole processes that do next to nothing."""
    floor = [sys.executable, "-c", IMPORTS]
    alone = folder / "rhombus.annulet"
    shutil.copy(ROOT / RHOMBUS, alone)
    for what, words in (
        ("check, 50 rings, whole process", ("check", str(alone))),
        ("check, 50 rings, kept layout proved too", ("check", RHOMBUS)),
        ("format --check, whole process", ("format", "--check", RHOMBUS)),
    ):
        yield Line(what, *paired_processes(annulet(*words), floor, pairs), IMPORTS)


def parsing(pairs: int) -> Iterator[Line]:
    """A text of half a megabyte. Bare Lark gets it as the line layer leaves it, and builds its tree."""
    pattern = (ROOT / "patterns/carina-strap.annulet").read_text("utf-8")
    head, piece = pattern[: pattern.index("piece ")], pattern[pattern.index("piece ") :]
    source = Source(name="long.annulet", text=head + "\n".join([piece] * (500_000 // len(piece))))
    bare = Lark(GRAMMAR.read_text("utf-8"), parser="lalr", start=START, propagate_positions=True)
    masked = split(source).masked
    ours, floor = paired_calls(lambda: parse(source), lambda: bare.parse(masked), pairs)
    yield Line(
        f"parse, {len(source.text) / 1e6:.2f} MB, to nodes", ours, floor, "bare Lark, positions, a tree"
    )


def sheets(sizes: tuple[int, ...]) -> Iterator[Line | str]:
    """Four-in-one sheets, expanded and checked."""
    found = []
    for size in sizes:
        one = sheet.measured(size)
        found.append(one)
        yield Line(
            f"expand + check, {one.rings:,} rings",
            one.expand + one.check,
            one.networkx,
            f"networkx: graph, connected? ({one.memory / 1e6:.0f} MB of ours, {one.memory / one.rings:.0f} a ring)",
        )
    first, last = found[1], found[-1]  # of a hundred rings most of the time is none of theirs
    rings = (first.rings, last.rings)
    ours = exponent(rings, (first.expand + first.check, last.expand + last.check))
    floor = exponent(rings, (first.networkx, last.networkx))
    yield f"    grows with the power {ours:.2f} of the rings; networkx with {floor:.2f}"


def geometry(quick: bool) -> Iterator[Line]:
    """Places in space: searched for, proved, drawn."""
    rows = 'title "Carina"\nring link: inner 5 mm, wire 1 mm, metal copper\npiece sheet-of-rings:\n'
    rows += "    sheet mesh of 20 rows of 30, staggered:\n        pass 1 link through the two below\n"
    cases = [("rhombus", _weave(load(str(ROOT / RHOMBUS)).pattern))]
    if not quick:
        cases.append(("sheet", _weave(parse(Source(name="sheet.annulet", text=rows))[0])))
    for name, weave in cases:
        problem = hinted(problem_of(weave, 0), weave, 0)
        rings = len(problem.rings)
        graph = nx.Graph((pair.a, pair.b) for pair in problem.pairs)
        floor = call_seconds(lambda graph=graph: nx.spring_layout(graph, dim=3, seed=1))[0]
        seconds, layout = call_seconds(lambda problem=problem: settle(problem))
        proved = "proved" if layout.verdict.proved else "NOT proved"
        yield Line(
            f"settle, {name} of {rings} rings, {proved}", seconds, floor, "networkx: spring layout in space"
        )
        yield _proof(f"prove, {name} of {rings} rings", problem, layout.circles)
        yield _drawing(f"draw, {name} of {rings} rings", weave, layout)


def _proof(what: str, problem: LayoutProblem, circles: tuple[Circle, ...]) -> Line:
    """The proof beside a sample of each circle and a tree that finds the points nearer than the wires are thick."""

    def sampled() -> int:
        turns = np.linspace(0.0, 2 * np.pi, POINTS, endpoint=False)
        points = []
        for circle in circles:
            normal = np.array(circle.normal)
            first = np.cross(normal, np.eye(3)[np.argmin(np.abs(normal))])
            first /= np.linalg.norm(first)
            second = np.cross(normal, first)
            ring = np.outer(np.cos(turns), first) + np.outer(np.sin(turns), second)
            points.append(np.array(circle.centre) + circle.core_radius * ring)
        thick = 2 * min(circle.tube_radius for circle in circles)
        near = cKDTree(np.concatenate(points)).query_pairs(thick, output_type="ndarray") // POINTS
        return int((near[:, 0] != near[:, 1]).sum())

    ours, floor = paired_calls(lambda: prove(problem, circles), sampled, 3)
    return Line(what, ours, floor, f"scipy: tree of {POINTS} points a ring, pairs too near")


def _drawing(what: str, weave: Weave, layout: Layout) -> Line:
    width, height = 360.0, 480.0
    figure = Figures(weave, {0: layout}).finished(0, width, height)
    assert figure is not None
    marks = _through_json(
        bare_reportlab.marks_of([Page(width=width, height=height, label="", items=figure.items)])
    )
    ours, floor = paired_calls(
        lambda: Figures(weave, {0: layout}).finished(0, width, height), lambda: _bare(marks), 3
    )
    return Line(what, ours, floor, "bare reportlab, the same marks to a page")


def booklet(folder: Path, pairs: int) -> Iterator[Line]:
    """A booklet whose geometry is kept, as after an edit of words."""
    document = _document()
    marks = bare_reportlab.marks_of(document.pages)
    count = f"{len(document.pages)} pages"
    kept = _through_json(marks)
    script = "bare reportlab, the same marks"
    yield Line(
        f"typeset, {count}", *paired_calls(lambda: typeset(document), lambda: _bare(kept), pairs), script
    )
    file, out = folder / "marks.json", folder / "out.pdf"
    file.write_text(json.dumps(marks), encoding="utf-8")
    bare = [sys.executable, str(Path(bare_reportlab.__file__)), str(file), str(out)]
    build = annulet("build", BOOKLET, "-o", str(folder / "ours.pdf"))
    anew = ["env", "ANNULET_CACHE=off", *build]
    for what, command in (
        (f"rebuild, {count}, whole process", build),
        ("the same, figures drawn anew", anew),
    ):
        yield Line(what, *paired_processes(command, bare, pairs), f"{script}, whole process")


def folder_of_patterns(folder: Path, count: int) -> Iterator[Line]:
    """So many small patterns, built by two workers and by one; on the clock."""
    patterns = folder / "many"
    patterns.mkdir()
    for number in range(count):
        (patterns / f"chain-{number}.annulet").write_text(
            f'title "Vela {number}"\nring link: inner 5 mm, wire 1 mm, metal copper\npiece strap:\n'
            f"    line chain of {5 + number % 20}:\n        pass 1 link through the one before\n",
            encoding="utf-8",
        )
    build = ["env", "ANNULET_CACHE=off", *annulet("build", "--schematic", str(patterns), "-o", str(folder))]
    two, one = (clock_seconds([*build, "--jobs", str(jobs)]) for jobs in (2, 1))
    yield Line(f"build, a folder of {count}, two workers", two, one, "one worker; seconds on the clock")


def _document() -> Document:
    loaded = load(str(ROOT / BOOKLET))
    weave, _ = expand(loaded.pattern, loaded.library)
    known = from_kept(weave, (ROOT / BOOKLET).with_suffix(".layout"), Timings())
    layouts = {each.piece: each.whole for each in known if each.whole is not None}
    return compose(weave, word(weave), Figures(weave, layouts), Options())


def commands(pairs: int) -> Iterator[Line]:
    """Other commands on a pattern of some two hundred rings, whole processes."""
    floor = [sys.executable, "-c", IMPORTS]
    for words in (
        ("check", NECKLACE),
        ("format", NECKLACE),
        ("steps", NECKLACE),
        ("export", NECKLACE),
    ):
        yield Line(f"annulet {' '.join(words)}", *paired_processes(annulet(*words), floor, pairs), IMPORTS)


def _weave(pattern: object) -> Weave:
    weave, told = expand(pattern, {})  # type: ignore[arg-type]
    assert not told, told
    return weave


def _bare(marks: dict[str, object]) -> None:
    with tempfile.NamedTemporaryFile(suffix=".pdf") as out:
        bare_reportlab.draw(marks, out.name)


def _through_json(marks: object) -> dict[str, object]:
    found: dict[str, object] = json.loads(json.dumps(marks))
    return found


def main(arguments: list[str]) -> None:
    """Print the table, or the parts of it that are named."""
    quick = "--quick" in arguments
    pairs, few = (5, 3) if quick else (21, 7)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        parts = {
            "start-up": start_up(folder, pairs),
            "parse": parsing(few),
            "sheets": sheets(SHEETS[:3] if quick else SHEETS),
            "geometry": geometry(quick),
            "booklet": booklet(folder, few),
            "folder": folder_of_patterns(folder, 20 if quick else 200),
            "commands": commands(few),
        }
        named = [word for word in arguments if word != "--quick"] or list(parts)
        print(HEADING)
        for word in named:
            for line in parts[word]:
                print(line if isinstance(line, str) else line.text(), flush=True)
