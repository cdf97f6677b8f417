"""How many repeats make a piece as long as is wanted; in: how long it is at a number of repeats, out: the two numbers
between which the length lies.

Nothing is known here of rings: the piece is measured by whoever calls, at few numbers, for each is a search.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

MOST_REPEATS = 2000
_APART = 2
"""Repeats between the first two measures: two, so that what turns with each second repeat does not mislead."""
LEAST_PITCH_MM = 0.05
"""A repeat that adds less adds no length."""
_MOST_TRIES = 6


class NoLengthError(Exception):
    """Why no number of repeats is found; the message is one sentence without a full stop."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """How long the piece is at a number of repeats."""

    repeats: int
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Between:
    """The most repeats that are not longer than is wanted, and one more."""

    below: Measured
    above: Measured

    @property
    def pitch_mm(self) -> float:
        """What that one repeat adds."""
        return self.above.length_mm - self.below.length_mm

    def nearest(self, wanted_mm: float) -> Measured:
        """The nearer of the two; the shorter where both are as near."""
        return min(self.below, self.above, key=lambda each: (abs(each.length_mm - wanted_mm), each.repeats))


def repeats_for(measure: Callable[[int], float], start: int, wanted_mm: float) -> Between:
    """The repeats for a length, by the pitch that two measures from `start` on give, and then by measuring there.

    Raises NoLengthError, and whatever `measure` raises.
    """
    known: dict[int, float] = {}

    def at(repeats: int) -> Measured:
        if repeats not in known:
            known[repeats] = measure(repeats)
        return Measured(repeats=repeats, length_mm=known[repeats])

    first, second = at(start), at(start + _APART)
    pitch = (second.length_mm - first.length_mm) / _APART
    if pitch < LEAST_PITCH_MM:
        raise NoLengthError("a repeat more makes it no longer")
    repeats = start + math.floor((wanted_mm - first.length_mm) / pitch)
    for _ in range(_MOST_TRIES):
        repeats = max(1, repeats)
        if repeats > MOST_REPEATS:
            raise NoLengthError(f"that takes more than {MOST_REPEATS} repeats")
        below, above = at(repeats), at(repeats + 1)
        if below.length_mm <= wanted_mm < above.length_mm:
            return Between(below=below, above=above)
        if repeats == 1 and below.length_mm > wanted_mm:
            raise NoLengthError(f"a single repeat makes it {below.length_mm:.0f} mm long already")
        if repeats > start and below.length_mm > first.length_mm:
            # over more repeats the pitch is known better
            pitch = (below.length_mm - first.length_mm) / (repeats - start)
        step = math.floor((wanted_mm - below.length_mm) / pitch)
        repeats += step or 1
    raise NoLengthError("its length does not grow evenly with the repeats")
