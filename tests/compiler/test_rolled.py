"""A sheet whose edges are joined lies flat in the figures until then, true where the flat sheet is kept."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from woven import CHAIN, RHOMBUS, SHEET, weave_of

from compiler.build import figures_of, worded
from compiler.figure.true_view import true_view
from compiler.kept import parsed
from compiler.layout import kept_path
from compiler.pipeline import checked
from compiler.proved import flat_name, from_kept
from compiler.rolled import before_closing, closing_step
from compiler.sheetsides import faces_out, in_the_mirror, leaning
from compiler.timings import Timings
from compiler.weave import Weave

PATTERN = Path(__file__).parents[2] / "patterns" / "hydra-sleeve.annulet"
CLOSED = """\
sheet mesh of 4 rows of 4, staggered:
    pass 1 link through the two below
step "Close the edges":
    line seam of 3:
        pass 1 link through 2 along mesh[4] and 2 along mesh[1]
"""


def hydra() -> Weave:
    weave = checked(str(PATTERN), None, Timings()).weave
    assert weave is not None
    return weave


def test_the_step_that_joins_the_edges_is_found_by_its_rings() -> None:
    piece = weave_of(CLOSED).pieces[0]
    assert closing_step(piece) == len(piece.steps) == 5
    assert [closing_step(weave_of(body).pieces[0]) for body in (CHAIN, RHOMBUS, SHEET)] == [0, 0, 0]


def test_before_it_the_piece_has_none_of_its_rings() -> None:
    weave = weave_of(CLOSED)
    flat = before_closing(weave, 0)
    assert flat is not None
    assert (len(flat.pieces[0]), len(flat.pieces[0].steps)) == (16, 4)
    assert max(max(flat.pieces[0].link_a), max(flat.pieces[0].link_b)) < 16
    assert before_closing(weave_of(SHEET), 0) is None


def test_the_flat_sheet_is_kept_and_proved_beside_the_piece() -> None:
    weave = hydra()
    (found,) = from_kept(weave, kept_path(PATTERN), Timings())
    assert found.flat is not None and found.flat.verdict.proved
    entries = parsed(kept_path(PATTERN).read_text(encoding="utf-8"))
    assert entries is not None
    assert list(entries) == ["sleeve", flat_name(weave, 0)]
    heights = [circle.centre for circle in found.flat.circles]
    assert min(max(axis) - min(axis) for axis in zip(*heights, strict=True)) < 2.0


def test_steps_are_drawn_flat_until_the_edges_are_joined_and_the_figure_says_so() -> None:
    weave = hydra()
    found = from_kept(weave, kept_path(PATTERN), Timings())
    figures = figures_of(weave, found, Timings(), worded(weave, Timings()))
    last = len(weave.pieces[0].steps)
    flat, closed = figures.step(0, last - 1, 440.0, 400.0), figures.step(0, last, 440.0, 400.0)
    assert flat is not None and closed is not None
    assert not flat.schematic and "Rolled up" not in flat.caption
    assert closed.caption.startswith("Rolled up:")
    assert flat.scale == closed.scale


def test_without_a_proof_of_the_flat_sheet_its_steps_are_schematic() -> None:
    weave = hydra()
    found = [replace(each, flat=None) for each in from_kept(weave, kept_path(PATTERN), Timings())]
    figures = figures_of(weave, found, Timings(), worded(weave, Timings()))
    first, last = figures.step(0, 2, 440.0, 300.0), figures.step(0, 10, 440.0, 300.0)
    assert first is not None and last is not None
    assert first.schematic and not last.schematic


def test_rolled_up_the_sheet_is_the_one_that_lay_flat_and_its_front_is_outside() -> None:
    weave = hydra()
    (found,) = from_kept(weave, kept_path(PATTERN), Timings())
    before = before_closing(weave, 0)
    assert before is not None and found.whole is not None and found.flat is not None
    flat, rolled = before.pieces[0], weave.pieces[0]
    assert faces_out(rolled, found.whole.circles) > 0
    assert leaning(flat, found.flat.circles) * leaning(rolled, found.whole.circles) > 0


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_in_the_mirror_a_rolled_sheet_has_its_front_inside_and_leans_the_other_way(axis: int) -> None:
    weave = hydra()
    (found,) = from_kept(weave, kept_path(PATTERN), Timings())
    assert found.whole is not None
    circles, piece = found.whole.circles, weave.pieces[0]
    other = in_the_mirror(circles, axis)
    assert faces_out(piece, other) == pytest.approx(-faces_out(piece, circles))
    assert leaning(piece, other) == pytest.approx(-leaning(piece, circles))


def test_the_seam_faces_the_eye_with_the_first_row_above_it_and_ring_1_at_the_left() -> None:
    weave = hydra()
    (found,) = from_kept(weave, kept_path(PATTERN), Timings())
    assert found.whole is not None
    loops = true_view(weave, 0, found.whole).loops
    middle = [sum(loop.centre[axis] for loop in loops) / len(loops) for axis in range(3)]
    seam = [loop.centre for loop in loops[180:]]
    assert min(place[2] for place in seam) > middle[2]
    first, last, top = loops[0].centre, loops[19].centre, loops[160].centre
    assert first[0] < last[0]
    assert first[1] > seam[0][1] > top[1]
