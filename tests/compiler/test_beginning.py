"""The beginning of a large piece, what is told of it, and the whole in outline. The limits are lowered here."""

import json
import math
from pathlib import Path

import jsonschema
import pytest
from msgspec.structs import replace
from woven import CHAIN, HUNG, RHOMBUS, SHEET, weave_of

import compiler.export
from compiler import beginning, proved
from compiler.beginning import beginning_of, cut_off, part_size, with_beginning
from compiler.build import figures_of, worded
from compiler.layout import only_rings
from compiler.outline import outline_of
from compiler.problem import problem_of
from compiler.prove import prove
from compiler.proved import from_kept, said, told_of_search
from compiler.settling import geometry_of
from compiler.size import size_of
from compiler.surfaces import over_facts
from compiler.timings import Timings

SCHEMA = json.loads(Path(compiler.export.__file__).with_name("export-schema.json").read_text("utf-8"))
LARGE_SHEET = "sheet mesh of 6 rows of 5, staggered:\n    pass 1 link through the two below"
LONG = """\
title "Vela"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 30:
        pass 1 link through the one before
"""


@pytest.fixture
def low(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pieces of more than 20 rings are large, and their beginning has 12 at most."""
    monkeypatch.setattr(proved, "MOST_SETTLED", 20)
    monkeypatch.setattr(beginning, "PART", 12)


# ---------------------------------------------------------------- where it ends


def test_the_beginning_ends_with_a_whole_row() -> None:
    weave = weave_of(LARGE_SHEET)
    piece = weave.pieces[0]
    count = part_size(piece, 12)
    assert count == 10
    part = only_rings(problem_of(weave, 0), range(count))
    assert len(part.rings) == 10
    assert all(max(pair.a, pair.b) < 10 for pair in part.pairs)
    assert part_size(piece) == len(piece)


def test_the_beginning_never_tears_apart_what_comes_in_with_one_motion() -> None:
    piece = weave_of(RHOMBUS).pieces[0]
    for most in range(16, 40):
        count = part_size(piece, most)
        assert 0 < count <= most
        assert max(piece.born[:count]) < min(piece.born[count:])


@pytest.mark.parametrize("body", [CHAIN, SHEET, RHOMBUS, HUNG, LARGE_SHEET])
def test_a_piece_cut_off_has_all_that_is_declared_of_its_first_rings_alone(body: str) -> None:
    weave = weave_of(body)
    whole = weave.pieces[0]
    for count in range(2, len(whole)):
        stop = min(whole.born[count:])
        if max(whole.born[:count]) >= stop:
            continue
        part = replace(weave, pieces=(cut_off(whole, count),))
        wanted, found = only_rings(problem_of(weave, 0), range(count)), problem_of(part, 0)
        assert (found.rings, found.pairs, found.strands) == (wanted.rings, wanted.pairs, wanted.strands)
        assert found.between == wanted.between
        steps = part.pieces[0].steps
        assert [each.key for each in steps] == [each.key for each in whole.steps[: len(steps)]]
        assert steps[-1].stop == stop
    assert cut_off(whole, len(whole)) is whole


def test_whole_rows_of_a_sheet_keep_the_side_that_is_its_front() -> None:
    body = """
sheet mesh of 4 rows of 3, staggered:
    pass 1 link joined to the two below by 1 link as tie over the two below
"""
    piece = weave_of(body).pieces[0]
    parts = [cut_off(piece, part_size(piece, most)) for most in range(6, len(piece))]
    widths = {part.groups[0].shape.widths: part for part in parts}
    assert {(3, 3), (3, 3, 3)} <= widths.keys()
    for rows in ((3, 3), (3, 3, 3)):
        facts = over_facts(widths[rows])
        assert facts
        assert all(fact.frame is not None for fact in facts)


@pytest.mark.usefixtures("low")
def test_a_beginning_that_is_hardly_linked_tells_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    weave = weave_of("sheet mesh of 3 rows of 20, staggered:\n    pass 1 link through the two below")
    monkeypatch.setattr(beginning, "LARGEST_PART", 20)
    assert with_beginning(weave, 0) is None
    (found,) = geometry_of(weave, None, Timings())
    assert (found.layout, found.part) == (None, True)
    assert [(each.rule, each.variant) for each in told_of_search(weave, [found])] == [
        ("settled-in-part", "loose")
    ]
    monkeypatch.setattr(beginning, "LARGEST_PART", 45)
    part = beginning_of(weave.pieces[0])
    assert part is not None
    assert len(part) == 40


# ---------------------------------------------------------------- what is told of it


@pytest.mark.usefixtures("low")
def test_of_a_piece_that_is_too_large_only_the_beginning_is_settled() -> None:
    weave = weave_of(LARGE_SHEET)
    (unknown,) = from_kept(weave, None, Timings())
    assert (len(unknown.problem.rings), unknown.layout) == (10, None)
    (found,) = geometry_of(weave, None, Timings())
    assert (found.part, found.whole) == (True, None)
    assert found.beginning is not None
    assert found.beginning.verdict == prove(unknown.problem, found.beginning.circles)
    assert said(weave, found).startswith("earring, the first 10 of 30 rings and eyes: proved, clearance 1.0")
    (told,) = told_of_search(weave, [found])
    assert (told.rule, dict(told.arguments)) == (
        "settled-in-part",
        {"piece": "earring", "rings": 30, "part": 10},
    )


@pytest.mark.usefixtures("low")
def test_a_beginning_that_is_not_proved_is_told_and_not_drawn() -> None:
    weave = weave_of(LARGE_SHEET)
    (found,) = geometry_of(weave, None, Timings())
    verdict = replace(found.layout.verdict, proved=False)
    failed = replace(found, layout=replace(found.layout, verdict=verdict))
    (told,) = told_of_search(weave, [failed])
    assert told.rule == "not-proved"
    assert dict(told.arguments)["piece"] == "the first 10 rings of earring"
    figures = figures_of(weave, [failed], Timings(), worded(weave, Timings()))
    assert figures.finished(0, 400, 400).schematic
    assert all(figures.step(0, step, 400, 400).schematic for step in (1, 2))
    assert figures.extent(0) is None


@pytest.mark.usefixtures("low")
def test_the_beginning_is_kept_and_proved_again(run) -> None:
    Path("vela.annulet").write_text(LONG, "utf-8")
    assert "the first 12 of 30 rings and eyes: proved" in run("settle", "vela.annulet").err
    assert "12 rings" in Path("vela.layout").read_text("utf-8")
    for words in (("check",), ("check", "--fit")):
        ran = run(*words, "vela.annulet")
        assert ran.code == 0
        assert "the first 12 of 30 rings and eyes: proved" in ran.out + ran.err
        assert "as it is kept" in ran.out + ran.err


# ---------------------------------------------------------------- how it is drawn


@pytest.mark.usefixtures("low")
def test_the_first_steps_are_true_the_later_ones_schematic_and_the_whole_in_outline() -> None:
    weave = weave_of(LARGE_SHEET)
    found = geometry_of(weave, None, Timings())
    figures = figures_of(weave, found, Timings(), worded(weave, Timings()))
    assert [figures.step(0, step, 400, 400).schematic for step in range(1, 7)] == [False] * 2 + [True] * 4
    finished = figures.finished(0, 400, 400)
    assert not finished.schematic
    assert finished.width <= 400
    assert finished.height <= 400
    assert finished.caption == (
        "The first 10 of 30 rings are drawn; the darker part of the outline shows where they lie in the whole."
    )
    assert figures.actual(0, 400, 400) is None
    assert figures.extent(0).of_first == 10


@pytest.mark.usefixtures("low")
def test_a_step_that_goes_on_after_the_beginning_says_how_much_is_drawn() -> None:
    weave = weave_of(
        'step "All":\n    take 1 link as pair\n'
        "    repeat 29 times:\n        pass 1 link added to pair through last of pair"
    )
    figures = figures_of(weave, geometry_of(weave, None, Timings()), Timings(), worded(weave, Timings()))
    figure = figures.step(0, 1, 400, 400)
    assert not figure.schematic
    assert figure.caption.endswith("The first 12 of 30 rings are drawn, the work goes on in the same way.")


@pytest.mark.usefixtures("low")
def test_a_booklet_says_that_the_size_follows_from_the_pitch(run) -> None:
    Path("vela.annulet").write_text(LONG, "utf-8")
    ran = run("build", "vela.annulet")
    assert ran.code == 0
    assert "its first 12 are proved and drawn true, the whole in outline" in ran.err


@pytest.mark.usefixtures("low")
def test_the_export_has_the_size_of_the_whole_and_says_of_how_many_rings_it_is(run) -> None:
    Path("vela.annulet").write_text(LONG, "utf-8")
    run("settle", "vela.annulet")
    (piece,) = json.loads(run("export", "vela.annulet").out)["pieces"]
    assert "geometry" not in piece
    size = piece["size"]
    assert size["of_first"] == 12
    (pitch,) = size["pitches"]
    assert math.isclose(size["length_mm"], 29 * pitch["along_mm"] + 7, rel_tol=0.01)
    jsonschema.validate(json.loads(run("export", "vela.annulet").out), SCHEMA)


# ---------------------------------------------------------------- the outline


@pytest.mark.parametrize(
    ("body", "count"),
    [
        (CHAIN.replace("of 5", "of 30"), 8),
        ("sheet mesh of 8 rows of 6, staggered:\n    pass 1 link through the two below", 24),
        (RHOMBUS.replace("3 rows of 3", "4 rows of 4"), 40),
    ],
)
def test_the_size_by_the_pitch_of_a_beginning_is_nearly_that_of_the_whole(body: str, count: int) -> None:
    weave = weave_of(body)
    (found,) = geometry_of(weave, None, Timings())
    true = size_of(found.whole.circles)
    part = replace(found.whole, circles=found.whole.circles[:count])
    outline = outline_of(weave, 0, part)
    assert outline.begun == count
    assert math.isclose(outline.size.length, true.length, rel_tol=0.04)
    assert math.isclose(outline.size.width, true.width, rel_tol=0.08)


def test_of_a_tube_no_outline_is_told() -> None:
    weave = weave_of("tube body of 4 rows of 6, staggered:\n    pass 1 link through the two below")
    (found,) = geometry_of(weave, None, Timings())
    assert outline_of(weave, 0, found.whole) is None


def test_a_beginning_that_lies_otherwise_than_it_is_drawn_flat_tells_no_outline() -> None:
    weave = weave_of(SHEET)
    (found,) = geometry_of(weave, None, Timings())
    circles = found.whole.circles[::-1]
    mixed = tuple(circles[7 * number % len(circles)] for number in range(len(circles)))
    assert outline_of(weave, 0, replace(found.whole, circles=mixed)) is None
    assert outline_of(weave, 0, found.whole) is not None
