"""What hangs on an end of a piece points away from it."""

import math

from msgspec.structs import replace

from compiler.layout import DeclaredPair, Layout, LayoutProblem, PairState, RingSize, rounded_circle
from compiler.prove import prove
from compiler.settle.ends import ends_of, pointing_outward

LARGE, SMALL, EYE = (RingSize(core_radius=radius, tube_radius=0.3) for radius in (6.0, 1.5, 1.4))
TWO = LayoutProblem(
    rings=(LARGE, SMALL, EYE),
    pairs=tuple(DeclaredPair(a=0, b=ring, state=PairState.LINKED) for ring in (1, 2)),
)


def laid(angles: tuple[float, float]) -> Layout:
    """The large ring, and the small ones on its wire at these angles, degrees."""
    circles = [rounded_circle((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), LARGE)]
    for angle, size in zip(angles, (SMALL, EYE), strict=True):
        x, y = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        circles.append(rounded_circle((6.7 * x, 6.7 * y, 0.0), (-y, x, 0.0), size))
    return Layout(circles=tuple(circles), verdict=prove(TWO, tuple(circles)))


def test_rings_that_hang_on_one_ring_alone_are_ends() -> None:
    assert [(end.rings, end.on, end.beside) for end in ends_of(TWO)] == [
        ((1,), (0,), (2,)),
        ((2,), (0,), (1,)),
    ]


def test_a_ring_like_its_neighbours_is_a_corner_and_no_end() -> None:
    alike = LayoutProblem(rings=(LARGE, SMALL, SMALL), pairs=TWO.pairs)
    assert ends_of(alike) == ()


def test_what_lies_in_the_hole_of_a_ring_does_not_hang() -> None:
    caged = DeclaredPair(a=0, b=2, state=PairState.A_AROUND_B)
    assert [end.rings for end in ends_of(replace(TWO, pairs=(TWO.pairs[0], caged)))] == [(1,)]


def test_an_end_that_lies_beside_what_its_ring_is_linked_with_is_turned_to_the_other_side() -> None:
    before = laid((20.0, -20.0))
    after = pointing_outward(TWO, before)
    assert before.verdict.proved and after.verdict.proved
    first, second = (circle.centre for circle in after.circles[1:])
    assert first[0] * second[0] + first[1] * second[1] < -30.0


def test_what_points_outward_or_is_not_proved_is_left_as_it_is() -> None:
    apart, through = laid((0.0, 180.0)), laid((0.0, 2.0))
    assert apart.verdict.proved and not through.verdict.proved
    assert pointing_outward(TWO, apart) is apart
    assert pointing_outward(TWO, through) is through
