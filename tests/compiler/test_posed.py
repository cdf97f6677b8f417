"""Poses measured on circles laid by hand, of both kinds: leaning, turned from ring to ring, front and back."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace
from word_weaves import weave_of_text

from compiler import surfaces
from compiler.geometry import frame, unit
from compiler.layout import Ahead, Circle, LayoutProblem, Lean, Over, RingSize, Turn, mirrored
from compiler.posed import sides_ahead, turns_of, wrong_aheads, wrong_leans, wrong_turns
from compiler.prove import prove
from compiler.weave import PieceWeave


def ring(x: float, y: float, z: float, normal: tuple[float, float, float] = (0.0, 0.0, 1.0)) -> Circle:
    return Circle(centre=(x, y, z), normal=unit(normal), core_radius=3.0, tube_radius=0.1)


# ---------------------------------------------------------------- leaning

ROW, WIDTH = range(2), 4


def sheet(*leans: float) -> list[Circle]:
    """Rows of rings seen from +z, apart; of each row the normals are turned to the right by its number."""
    return [
        ring(8.0 * k, 8.0 * row, 0.0, (lean, 0.0, 1.0))
        for row, lean in enumerate(leans)
        for k in range(WIDTH)
    ]


def leans(*right: bool) -> tuple[Lean, ...]:
    return tuple(
        Lean(ring=row * WIDTH + k, right=to_right, frame=(row * WIDTH, row * WIDTH + 3, k, WIDTH + k))
        for row, to_right in enumerate(right)
        for k in range(WIDTH)
    )


def test_a_ring_leans_to_the_side_to_which_its_nearest_edge_lies() -> None:
    """With the normal turned to the right, what is nearest to the eye lies to the left of the middle."""
    assert wrong_leans(sheet(0.4, 0.4), leans(False, False)) == ()
    assert wrong_leans(sheet(-0.4, -0.4), leans(True, True)) == ()
    assert wrong_leans(sheet(0.4, -0.4), leans(False, True)) == ()


def test_rows_that_lean_alike_are_not_rows_that_lean_by_turns() -> None:
    assert wrong_leans(sheet(0.4, 0.4), leans(False, True)) == leans(False, True)[WIDTH:]
    assert wrong_leans(sheet(0.4, -0.4), leans(False, False)) == leans(False, False)[WIDTH:]


def test_a_ring_that_stands_upright_leans_to_no_side() -> None:
    for right in (True, False):
        assert wrong_leans(sheet(0.02, 0.0), leans(right, right)) == leans(right, right)


def test_the_side_is_that_of_the_front_and_not_of_the_normal_or_the_eye() -> None:
    circles = sheet(0.4, -0.4)
    turned = [replace(each, normal=(-each.normal[0], -each.normal[1], -each.normal[2])) for each in circles]
    assert wrong_leans(turned, leans(False, True)) == ()
    # turned about the x axis as a whole, the front turns with it
    over = [
        replace(each, centre=(each.centre[0], -each.centre[1], -each.centre[2]), normal=_over(each.normal))
        for each in circles
    ]
    assert wrong_leans(over, leans(False, True)) == ()
    assert wrong_leans(mirrored(circles), leans(False, True)) == leans(False, True)


def _over(normal: tuple[float, float, float]) -> tuple[float, float, float]:
    return normal[0], -normal[1], -normal[2]


# ---------------------------------------------------------------- turned from ring to ring


def spiral(degrees: float, ahead: float = 0.3, count: int = 8) -> list[Circle]:
    """Rings along x, each turned about x by so many degrees, clockwise for one who looks along x; apart."""
    return [
        ring(
            8.0 * k,
            0.0,
            0.0,
            (ahead, math.cos(math.radians(degrees * k)), math.sin(math.radians(degrees * k))),
        )
        for k in range(count)
    ]


def turn(degrees: int, count: int = 8) -> tuple[Turn, ...]:
    return (Turn(rings=tuple(range(count)), degrees=degrees),)


def test_frames_are_right_handed() -> None:
    """Looking along n, from u to v is clockwise: y to z looking along x, as a right-handed screw goes in."""
    u, v, n = frame((1.0, 0.0, 0.0))
    cross = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
    assert cross == pytest.approx(n)


@pytest.mark.parametrize("degrees", [-120, -60, 0, 60, 120, 170])
def test_turns_are_measured_with_their_hand(degrees: int) -> None:
    for turned, whole in turns_of(spiral(degrees)):
        assert whole
        assert turned == pytest.approx(degrees % 360)


def test_a_normal_that_is_called_the_other_way_round_changes_nothing() -> None:
    circles = spiral(-120)
    circles[3] = replace(circles[3], normal=tuple(-each for each in circles[3].normal))
    assert [turned for turned, _ in turns_of(circles)] == pytest.approx([240.0] * 7)


def test_a_tight_spiral_is_not_a_loose_one() -> None:
    """Of one hand of loops the tight one turns by 120 degrees anticlockwise, the loose one by 60 clockwise.

    Found by a search over regular lines of circles: aspect ratios of at least 2.8 and 3.7.
    """
    tight, loose = spiral(-120), spiral(60)
    assert wrong_turns(tight, turn(240)) == wrong_turns(loose, turn(60)) == ()
    assert wrong_turns(tight, turn(60)) == turn(60)
    assert wrong_turns(loose, turn(240)) == turn(240)
    assert wrong_turns(mirrored(tight), turn(120)) == ()
    assert wrong_turns(mirrored(tight), turn(240)) == turn(240)


def test_of_rings_that_stand_straight_across_half_turns_are_not_told() -> None:
    straight = spiral(-120, ahead=0.0)
    assert not any(whole for _, whole in turns_of(straight))
    assert wrong_turns(straight, turn(240)) == wrong_turns(straight, turn(60)) == ()
    assert wrong_turns(straight, turn(0)) == turn(0)


def test_a_few_rings_may_hang_askew() -> None:
    circles = spiral(-120)
    circles[0] = replace(circles[0], normal=(0.3, 0.0, -1.0))
    assert wrong_turns(circles, turn(240)) == ()
    for k in (3, 5):
        circles[k] = replace(circles[k], normal=(0.3, *spiral(-30)[k].normal[1:]))
    assert wrong_turns(circles, turn(240)) == turn(240)


# ---------------------------------------------------------------- front and back


def pairs(*heights: float) -> list[Circle]:
    """Pairs along x in the plane, the first of each higher by so much than the second."""
    return [
        ring(8.0 * k, 4.0 * (k % 2), side * height / 2)
        for k, height in enumerate(heights)
        for side in (1, -1)
    ]


def aheads(count: int, *, framed: bool = False) -> tuple[Ahead, ...]:
    four = (0, 4, 0, 2) if framed else None
    return tuple(Ahead(rings=(2 * k, 2 * k + 1), frame=four) for k in range(count))


def test_in_front_is_what_lies_nearer_from_one_side_of_the_whole() -> None:
    facts = aheads(4)
    assert wrong_aheads(pairs(1.0, 1.0, 1.0, 1.0), facts, ()) == ()
    assert wrong_aheads(pairs(-1.0, -1.0, -1.0, -1.0), facts, ()) == ()  # seen from the other side
    assert wrong_aheads(pairs(1.0, 1.0, -1.0, 1.0), facts, ()) == facts[2:3]


def test_companions_side_by_side_are_not_front_and_back() -> None:
    beside = [ring(8.0 * k + side, 4.0 * (k % 2), 0.0) for k in range(4) for side in (0.5, -0.5)]
    assert wrong_aheads(beside, aheads(4), ()) == aheads(4)


def test_the_front_is_that_of_the_sheet_and_of_what_lies_over() -> None:
    circles = pairs(1.0, 1.0, 1.0, 1.0)
    framed = aheads(4, framed=True)
    assert wrong_aheads(circles, framed, ()) == ()
    assert wrong_aheads(mirrored(circles), framed, ()) == framed
    over = (Over(upper=9, lower=8),)
    stacked = [*circles, ring(0.0, 8.0, -3.0), ring(4.0, 8.0, -5.0)]
    assert wrong_aheads(stacked, aheads(4), (Over(upper=8, lower=9),)) == ()
    assert wrong_aheads(stacked, aheads(4), over) == aheads(4)


def test_a_view_is_taken_from_the_side_from_which_the_first_are_in_front() -> None:
    eye = (0.0, 0.0, 1.0)
    assert sides_ahead(pairs(1.0, 1.0), aheads(2), eye, (1.0, -1.0)) == (1.0,)
    assert sides_ahead(pairs(-1.0, -1.0), aheads(2), eye, (1.0, -1.0)) == (-1.0,)
    assert sides_ahead(pairs(1.0, 1.0), (), eye, (1.0, -1.0)) == (1.0, -1.0)


# ---------------------------------------------------------------- the proof


def test_the_proof_refuses_what_lies_otherwise_and_names_it() -> None:
    circles = sheet(0.4, 0.4)
    sizes = tuple(RingSize(core_radius=3.0, tube_radius=0.1) for _ in circles)
    right = LayoutProblem(rings=sizes, pairs=(), leans=leans(False, False))
    assert prove(right, circles).proved
    wrong = LayoutProblem(rings=sizes, pairs=(), leans=leans(False, True))
    verdict = prove(wrong, circles)
    assert not verdict.proved
    assert verdict.wrong_leans == leans(False, True)[WIDTH:]
    assert verdict.wrong_facts == verdict.wrong_poses == WIDTH
    line = spiral(-120)
    sizes = sizes[: len(line)]
    assert prove(LayoutProblem(rings=sizes, pairs=(), turns=turn(240)), line).proved
    assert prove(LayoutProblem(rings=sizes, pairs=(), turns=turn(60)), line).wrong_turns == turn(60)
    two = pairs(1.0, -1.0, 1.0, 1.0)
    assert prove(LayoutProblem(rings=sizes, pairs=(), aheads=aheads(4)), two).wrong_aheads == aheads(4)[1:2]


# ---------------------------------------------------------------- what is asked of a piece

HEAD = "\nring link: inner 5 mm, wire 0.9 mm, metal copper\n"


def piece(body: str) -> PieceWeave:
    return weave_of_text(f"piece study:\n{body}", HEAD).pieces[0]


def test_what_a_ring_was_leaned_to_last_is_asked_where_its_row_shows_it() -> None:
    body = """
    sheet mesh of 2 rows of 3, staggered:
        pass 1 link through the two below
    take 1 link as spare
    lean mesh left
    lean mesh[2] right
    lean spare left
"""
    assert [(fact.ring, fact.right) for fact in surfaces.leans(piece(body))] == [
        *((ring, False) for ring in range(3)),
        *((ring, True) for ring in range(3, 6)),
    ]
    assert surfaces.leans(piece(body.partition("    lean")[0])) == ()


def test_turns_are_asked_of_a_line_that_is_turned_alike_and_in_all() -> None:
    body = """
    line coil of 5:
        pass 1 link through the two before
    turn coil by 100 degrees
    turn coil by 140 degrees
"""
    assert surfaces.turns(piece(body)) == (Turn(rings=(0, 1, 2, 3, 4), degrees=240),)
    assert surfaces.turns(piece(body + "    turn coil[2] by 10 degrees\n")) == ()
    assert surfaces.turns(piece(body.replace("of 5", "of 3"))) == ()
    assert surfaces.turns(piece(body.replace("turn coil by", "turn coil[2] by"))) == ()


def test_front_and_back_is_asked_of_the_strands_of_which_it_is_said() -> None:
    body = """
    take a pair of link front and back as base
    pass 2 link as tail through base
    pass 3 link front and back as wing through tail
"""
    assert surfaces.aheads(piece(body)) == (Ahead(rings=(0, 1)), Ahead(rings=(4, 5, 6)))
