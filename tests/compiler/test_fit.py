"""Fit: bounds of the fullest hole, sizes from a stock, and what is said of them."""

import math
from decimal import Decimal
from pathlib import Path

import pytest
from msgspec.structs import replace
from woven import CHAIN, RHOMBUS, weave_of

from compiler import fit
from compiler.commands import fit as command
from compiler.fit import (
    Hole,
    Outcome,
    bounds,
    combinations,
    continued,
    holes,
    refused,
    resized,
    used_kinds,
)
from compiler.problem import problem_of
from compiler.prove import prove
from compiler.settling import geometry_of
from compiler.stock_file import StockSize, load_sizes
from compiler.timings import Timings
from notation.source import Source

LARGE, SMALL, LINK = 0, 1, 2
GOOD = """\
title "Vela"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 4:
        pass 1 link through the one before
"""


def stock(*sizes: str) -> tuple[StockSize, ...]:
    pairs = [size.split("/") for size in sizes]
    return tuple(StockSize(inner_mm=Decimal(inner), wire_mm=Decimal(wire)) for inner, wire in pairs)


def nobody(_number: int, _count: int) -> None:
    """No progress."""


# ---------------------------------------------------------------- bounds


def test_the_fullest_hole_of_each_kind_counts() -> None:
    large, small = bounds(weave_of(RHOMBUS))
    # the ring in the middle has six neighbours with two small rings each; a small one joins two pairs of large
    assert (large.kind, large.wires) == (LARGE, ((Decimal("0.7"), 12),))
    assert (small.kind, small.wires) == (SMALL, ((Decimal("0.9"), 4),))
    assert large.filled == pytest.approx(12 * 0.7**2 / 5**2)
    assert large.rim == math.floor(math.pi / math.asin(0.7 / (5 - 0.7)))
    assert not large.refused
    assert large.known <= large.at_most


def test_every_different_hole_is_there_once() -> None:
    ends, middle = Hole(kind=LINK, eye=0, through=(LINK,)), Hole(kind=LINK, eye=0, through=(LINK, LINK))
    assert holes(weave_of(CHAIN)) == (ends, middle)


def test_a_hole_is_refused_with_the_sizes_that_are_tried() -> None:
    weave = weave_of(RHOMBUS)
    found = holes(weave)
    assert refused(weave, found, {}) is None
    hole = refused(weave, found, {LARGE: stock("2/0.9")[0]})
    assert hole is not None
    assert hole.kind == LARGE


# ---------------------------------------------------------------- other sizes


def test_a_resized_problem_has_the_new_rings_and_nothing_else_is_changed() -> None:
    weave = weave_of(CHAIN)
    problem = problem_of(weave, 0)
    other, scale = resized(problem, weave.pieces[0], {LINK: stock("8/1.6")[0]})
    assert scale == pytest.approx(2.0)
    assert {(ring.core_radius, ring.tube_radius) for ring in other.rings} == {(4.8, 0.8)}
    assert (other.pairs, other.strands, other.cycles) == (problem.pairs, problem.strands, problem.cycles)
    same, scale = resized(problem, weave.pieces[0], {})
    assert (same, scale) == (problem, 1.0)


def test_the_thick_rhombus_is_found_from_the_thin_one() -> None:
    weave = weave_of(RHOMBUS)
    (found,) = geometry_of(weave, None, Timings())
    thick = {LARGE: stock("5/1.0")[0], SMALL: stock("3/0.8")[0]}
    assert found.problem is not None
    problem, scale = resized(found.problem, weave.pieces[0], thick)
    assert continued(problem, found.layout, scale).verdict.proved


def test_combinations_stand_in_their_groups_with_slack_and_reason() -> None:
    weave = weave_of(CHAIN)
    geometry = geometry_of(weave, None, Timings())
    tried: list[int] = []
    found = combinations(
        weave, geometry, [LINK], stock("2/1.5", "4/0.8", "6/0.8"), lambda number, _: tried.append(number)
    )
    assert [(str(each.sizes[0]), each.outcome) for each in found] == [
        ("6 mm, wire 0.8 mm", Outcome.WOVEN),
        ("4 mm, wire 0.8 mm", Outcome.WOVEN),
        ("2 mm, wire 1.5 mm", Outcome.EXCLUDED),
    ]
    assert found[0].slack > found[1].slack > 1
    assert found[2].hole == Hole(kind=LINK, eye=0, through=(LINK, LINK))
    assert tried == [2, 3]  # what a bound excludes costs no search


def test_what_is_not_found_is_told_with_its_clearance(monkeypatch: pytest.MonkeyPatch) -> None:
    weave = weave_of(CHAIN)
    geometry = geometry_of(weave, None, Timings())
    unproved = geometry[0].layout
    assert unproved is not None
    monkeypatch.setattr(fit, "settle", lambda problem, _: failing(problem, unproved))
    (found,) = combinations(weave, geometry, [LINK], stock("4/0.9"), nobody)
    assert found.outcome is Outcome.NOT_FOUND
    assert 0 < found.clearance < 1


def failing(problem, layout):
    """The circles of another size, which come too near."""
    circles = tuple(
        replace(circle, core_radius=ring.core_radius, tube_radius=2 * ring.tube_radius)
        for circle, ring in zip(layout.circles, problem.rings, strict=True)
    )
    return replace(layout, circles=circles, verdict=prove(problem, circles))


def test_kinds_that_are_used_are_varied() -> None:
    assert used_kinds(weave_of(RHOMBUS)) == (LARGE, SMALL)
    assert used_kinds(weave_of(CHAIN)) == (LINK,)


# ---------------------------------------------------------------- the list of sizes


def test_sizes_are_read_with_units_and_gauges() -> None:
    text = (
        "- inner: 5 mm\n  wire: 0.9 mm\n- {inner: 3/16 in, wire: 18 awg}\n- {inner: 0.5 cm, wire: 18 swg}\n"
    )
    sizes, problems = load_sizes(Source(name="s.yaml", text=text))
    assert problems == ()
    assert sizes == stock("5/0.9", "4.7625/1.0237", "5/1.2192")


def test_the_stock_file_of_a_kit_will_do() -> None:
    ring = "{inner: 5 mm, wire: 0.9 mm, metal: METAL, pack: 10, price: 1}"
    rings = "".join(f"  - {ring.replace('METAL', metal)}\n" for metal in ("copper", "brass"))
    sizes, problems = load_sizes(Source(name="s.yaml", text=f"currency: EUR\nrings:\n{rings}"))
    assert problems == ()
    assert sizes == stock("5/0.9")


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("- inner: 5 mm\n", 1, "`wire` is missing"),
        ("- inner: 5 mm\n  wire: 0.9\n", 2, "`0.9` has no unit"),
        ("- inner: 5 mm\n  wire: 99 awg\n", 2, "gauges go from"),
        ("- inner: 0 mm\n  wire: 1 mm\n", 1, "more than nothing"),
        ("- inner: 5 mm\n  wire: 1 mm\n  colour: red\n", 3, "`colour` is not known"),
        ("- inner: 5 mm\n  wire: 1 mm\n- wire: 1 mm\n  inner: 5 mm\n", 3, "in the list already"),
        ("sizes: 3\n", 1, "`sizes` is not known"),
        ("text\n", 1, "a list is expected"),
        ("[]\n", 1, "there is no size"),
        ("currency: EUR\n", 1, "there is no size"),
        ("", 1, "nothing in the file"),
    ],
)
def test_a_mistake_in_the_list_is_told_with_its_line(text: str, line: int, words: str) -> None:
    _, problems = load_sizes(Source(name="s.yaml", text=text))
    assert (problems[0].line, words in problems[0].message) == (line, True), problems


# ---------------------------------------------------------------- the command


def test_fit_tells_bounds_and_slack(run) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    ran = run("fit", "vela.annulet")
    assert ran.code == 0
    text = " ".join(ran.out.split())
    assert "link, inner 5 mm, wire 1 mm: up to 2 wires go through one (2 of 1 mm), filling 8%" in text
    assert "Slack: at least" in text
    assert run("fit", "vela.annulet").out == ran.out


def test_fit_tables_a_stock(run) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    Path("s.yaml").write_text("- {inner: 5 mm, wire: 1 mm}\n- {inner: 2 mm, wire: 1.5 mm}\n", "utf-8")
    ran = run("fit", "vela.annulet", "--stock", "s.yaml")
    assert ran.code == 0
    lines = ran.out.splitlines()
    woven, excluded = lines.index("Woven, loosest first:"), lines.index("Excluded by a bound:")
    assert "link 5 × 1 mm" in lines[woven + 1]
    assert lines[woven + 1].endswith("(as the pattern has it)")
    assert lines[excluded + 1].endswith("2 of 1.5 mm cannot lie in link (inner 2 mm)")


def test_sizes_that_a_bound_refuses_are_said_and_nothing_is_searched_for(
    run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(command, "geometry_of", lambda *_: pytest.fail("a search"))
    Path("vela.annulet").write_text(GOOD.replace("wire 1 mm", "wire 2.6 mm"), "utf-8")
    ran = run("fit", "vela.annulet")
    assert ran.code == 0
    assert "Nothing is placed in these sizes" in ran.out


def test_fit_refuses_what_it_cannot_do_in_one_line(run, monkeypatch: pytest.MonkeyPatch) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    Path("s.yaml").write_text("- {inner: 5 mm, wire: 1 mm}\n- {inner: 6 mm}\n", "utf-8")
    ran = run("fit", "vela.annulet", "--stock", "s.yaml")
    assert ran.code == 2
    assert "s.yaml:2:3: `wire` is missing here" in ran.err
    assert run("fit", "vela.annulet", "--kind", "link").code == 2
    Path("s.yaml").write_text("- {inner: 5 mm, wire: 1 mm}\n- {inner: 6 mm, wire: 1 mm}\n", "utf-8")
    ran = run("fit", "vela.annulet", "--stock", "s.yaml", "--kind", "lnik")
    assert ran.err == "annulet: The pieces use no kind of ring lnik. Did you mean link?\n"
    monkeypatch.setattr(command, "_MOST", 1)
    assert "2 combinations" in run("fit", "vela.annulet", "--stock", "s.yaml").err
    Path("vela.annulet").write_text(GOOD.replace("1 link", "1 links"), "utf-8")
    assert run("fit", "vela.annulet").code == 1
