"""How many repeats make a length, asked of measures that are made up."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.tolength import Measured, NoLengthError, repeats_for


@given(
    st.integers(1, 60),
    st.floats(0.5, 30),
    st.floats(0, 40),
    st.floats(50, 900),
    st.lists(st.floats(-1, 1), max_size=9),
)
def test_the_wanted_length_lies_between_the_two_numbers(
    start: int, pitch: float, ends: float, wanted: float, noise: list[float]
) -> None:
    asked: list[int] = []

    def measure(repeats: int) -> float:
        asked.append(repeats)
        off = noise[repeats % len(noise)] if noise else 0.0
        return ends + pitch * repeats + 0.05 * pitch * off

    try:
        found = repeats_for(measure, start, wanted)
    except NoLengthError:
        assert wanted < measure(1) or (wanted - ends) / pitch > 1500
        return
    assert found.below.length_mm <= wanted < found.above.length_mm
    assert found.above.repeats == found.below.repeats + 1
    assert len(asked) == len(set(asked)), "each number is measured once"
    assert len(asked) <= 14


def test_the_nearest_is_the_shorter_of_two_as_near() -> None:
    found = repeats_for(lambda repeats: 10.0 * repeats, 4, 45.0)
    assert found.below == Measured(repeats=4, length_mm=40.0)
    assert found.nearest(45.0).repeats == 4
    assert found.nearest(46.0).repeats == 5
    assert found.pitch_mm == 10.0


@pytest.mark.parametrize(
    ("measure", "wanted", "part"),
    [
        (lambda _: 50.0, 90.0, "a repeat more makes it no longer"),
        (lambda repeats: 40.0 + repeats, 20.0, "a single repeat makes it 41 mm long already"),
        (lambda repeats: 0.1 * repeats, 900.0, "that takes more than 2000 repeats"),
        (lambda repeats: 10.0 * repeats if repeats < 9 else 0.0, 900.0, "does not grow evenly"),
    ],
)
def test_a_length_that_cannot_be_is_refused(measure, wanted: float, part: str) -> None:
    with pytest.raises(NoLengthError) as error:
        repeats_for(measure, 4, wanted)
    assert part in error.value.message
