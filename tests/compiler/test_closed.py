"""Half turns and the outside of a tube, measured on circles that are laid by hand."""

from __future__ import annotations

import math

import pytest
from woven import weave_of

from compiler.closed import half_turns_of_row, half_turns_of_rows, is_closed_so, volume_in
from compiler.geometry import unit
from compiler.layout import Circle, Closing, Vector, mirrored
from compiler.problem import problem_of
from compiler.surfaces import closings


def chain(count: int, half_turns: float, bend: float = 0.0, across: int = 1) -> list[Circle]:
    """A closed chain of rings that stand across one another (`across` 1) or side by side (0).

    It lies in a circle, or with `bend` on a line that rises and falls; each is turned by its share, right-handed
    about the way round.
    """
    rings = []
    for k in range(count):
        angle = 2 * math.pi * k / count
        c, s = math.cos(angle), math.sin(angle)
        along: Vector = unit((-s, c, -2 * bend * math.sin(2 * angle)))
        outward: Vector = (c, s, 0.0)
        up = (
            along[1] * outward[2] - along[2] * outward[1],
            along[2] * outward[0] - along[0] * outward[2],
            along[0] * outward[1] - along[1] * outward[0],
        )
        turned = math.pi * half_turns * k / count + across * math.pi / 2 * k
        p, q = math.cos(turned), math.sin(turned)
        x, y, z = (p * outward[axis] + q * up[axis] for axis in range(3))
        centre = (10 * c, 10 * s, 10 * bend * math.cos(2 * angle))
        rings.append(Circle(centre=centre, normal=(x, y, z), core_radius=2.0, tube_radius=0.3))
    return rings


@pytest.mark.parametrize("half_turns", [-3, -2, -1, 0, 1, 2, 3])
@pytest.mark.parametrize("bend", [0.0, 0.4])
@pytest.mark.parametrize("across", [0, 1])
def test_half_turns_are_counted_with_their_hand(half_turns: int, bend: float, across: int) -> None:
    row = chain(20, half_turns, bend, across)
    assert half_turns_of_row(row) == half_turns
    assert half_turns_of_row(mirrored(row)) == -half_turns
    assert (
        half_turns_of_row(row[::-1]) == half_turns
    )  # a screw looked at from its other end is the same screw
    assert half_turns_of_row(row[7:] + row[:7]) == half_turns


def test_which_way_a_normal_points_plays_no_part() -> None:
    row = chain(20, 1)
    x, y, z = row[3].normal
    turned = Circle(centre=row[3].centre, normal=(-x, -y, -z), core_radius=2.0, tube_radius=0.3)
    assert half_turns_of_row([*row[:3], turned, *row[4:]]) == 1


def test_a_chain_of_an_odd_number_is_a_quarter_turn_off() -> None:
    row = chain(15, 0.5)
    assert half_turns_of_row(row) == 0.5
    for wanted, right in ((0, True), (1, True), (-1, False), (2, False)):
        assert is_closed_so(row, Closing(rows=(tuple(range(15)),), half_turns=wanted)) is right


def test_what_is_turned_too_far_from_ring_to_ring_shows_no_half_turns() -> None:
    assert half_turns_of_row(chain(8, 2, across=0)) is None  # half a quarter turn each: either way
    facing = [
        Circle(centre=c.centre, normal=(-c.centre[1], c.centre[0], 0.0), core_radius=2, tube_radius=0.3)
        for c in chain(8, 0)
    ]
    assert half_turns_of_row(facing) is None  # each faces along the row


def test_a_round_of_the_other_hand_is_not_closed_so() -> None:
    row = chain(16, 1)
    right = Closing(rows=(tuple(range(16)),), half_turns=1)
    assert is_closed_so(row, right)
    assert not is_closed_so(mirrored(row), right)
    assert is_closed_so(mirrored(row), Closing(rows=right.rows, half_turns=-1))


def band(count: int, half_turns: int, rows: int = 3) -> list[list[Circle]]:
    """Rows round about, one over the other, or turned about the middle one."""
    found: list[list[Circle]] = []
    for row in range(rows):
        found.append([])
        for k in range(count):
            angle = 2 * math.pi * k / count
            c, s = math.cos(angle), math.sin(angle)
            aside = 2.0 * (row - (rows - 1) / 2)
            turned = math.pi * half_turns * k / count
            radius, up = 12 + aside * math.sin(turned), aside * math.cos(turned)
            found[-1].append(
                Circle(
                    centre=(radius * c, radius * s, up), normal=(c, s, 0.0), core_radius=2, tube_radius=0.3
                )
            )
    return found


@pytest.mark.parametrize("half_turns", [-2, 0, 2, 4])
def test_half_turns_of_a_band_are_those_of_its_edges(half_turns: int) -> None:
    rows = band(24, half_turns)
    # seen along the row, up turns outward: left-handed about a way that goes round counter-clockwise seen from above
    assert half_turns_of_rows(rows[0], rows[-1]) == half_turns
    image = [list(mirrored(row)) for row in rows]
    assert half_turns_of_rows(image[0], image[-1]) == -half_turns


def test_a_tube_with_its_front_outside_holds_its_volume_and_inside_out_less_than_none() -> None:
    rows = band(24, 0, rows=5)
    area = 24 / 2 * math.sin(2 * math.pi / 24) * 12**2  # of a regular polygon
    assert volume_in(rows) == pytest.approx(area * 8.0)
    assert volume_in([row[::-1] for row in rows]) == pytest.approx(-area * 8.0)
    assert volume_in(rows[::-1]) == pytest.approx(-area * 8.0)
    circles = [circle for row in rows for circle in row]
    numbers = tuple(tuple(range(24 * k, 24 * k + 24)) for k in range(5))
    for outside in (True, False):
        fact = Closing(rows=numbers, half_turns=0, front_outside=outside)
        assert is_closed_so(circles, fact) is outside
        assert is_closed_so(mirrored(circles), fact) is not outside


# ---------------------------------------------------------------- what is asked of a piece


@pytest.mark.parametrize(
    ("text", "half_turns", "outside"),
    [
        ("round band of 8{}:\n    pass 1 link through the one before and the one after", 0, None),
        ("tube band of 3 rows of 8, staggered{}:\n    pass 1 link through the two below", 0, True),
        ("tube band of 3 rows of 8, staggered, downward{}:\n    pass 1 link through the two above", 0, True),
    ],
)
def test_a_chain_and_a_tube_are_asked_about_even_where_nothing_is_said(
    text: str, half_turns: int, outside: bool | None
) -> None:
    (fact,) = problem_of(weave_of(text.format("")), 0).closings
    assert (fact.half_turns, fact.front_outside) == (half_turns, outside)
    (fact,) = problem_of(weave_of(text.format(", closed with 2 half turns anticlockwise")), 0).closings
    assert (fact.half_turns, fact.front_outside) == (-2, None)
    if outside is not None:
        (fact,) = problem_of(weave_of(text.format(", closed with front inside")), 0).closings
        assert (fact.half_turns, fact.front_outside) == (0, False)
        assert (fact.rows[0][0] == 0) is ("downward" not in text)  # the lowest row comes first


def test_of_a_round_that_turns_by_itself_only_what_is_said_is_asked() -> None:
    text = "round band of 12{}:\n    pass 1 link through the two before and the two after"
    assert closings(weave_of(text.format("")).pieces[0]) == ()
    (fact,) = closings(weave_of(text.format(", closed with 1 half turn")).pieces[0])
    assert fact.half_turns == 1
