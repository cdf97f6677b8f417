"""What it takes to cut rings of one's own: mandrel, turns, coil and wire; beside the price of a kit.

In: sizes of a ring, how many, and how much the saw takes. Out: a `Coil`. Wire is wound close on a mandrel, turn on
turn, and each turn is cut once; the wire springs open a little, which is not counted, for it depends on its temper.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal, DivisionByZero, InvalidOperation, Overflow

from compiler.kit import PI

_DIGITS = Context(prec=40, rounding=ROUND_HALF_EVEN, traps=[InvalidOperation, DivisionByZero, Overflow])

TURNS_LOST = 1
"""Turns beyond the rings: the two ends of a coil are not whole turns. Common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Coil:
    """The coil that so many rings are cut from; lengths in mm, exact to 40 digits."""

    mandrel_mm: Decimal
    """Its diameter: the ring closes by the kerf, so it is wound larger by kerf / pi than it is to be inside."""
    turns: int
    length_mm: Decimal
    """Of the coil, turn on turn: turns times wire."""
    wire_mm: Decimal
    """Wire in it: each turn is one of a helix about the wire's middle, sqrt((pi (mandrel + wire))^2 + wire^2) long."""


def coil(inner_mm: Decimal, wire_mm: Decimal, count: int, kerf_mm: Decimal) -> Coil:
    """The coil for `count` rings (above 0) of these sizes, when the saw takes `kerf_mm` off each."""
    mandrel = _DIGITS.add(inner_mm, _DIGITS.divide(kerf_mm, PI))
    turns = count + TURNS_LOST
    round_it = _DIGITS.multiply(PI, _DIGITS.add(mandrel, wire_mm))
    turn = _DIGITS.sqrt(_DIGITS.add(_DIGITS.multiply(round_it, round_it), _DIGITS.multiply(wire_mm, wire_mm)))
    return Coil(
        mandrel_mm=mandrel,
        turns=turns,
        length_mm=_DIGITS.multiply(wire_mm, Decimal(turns)),
        wire_mm=_DIGITS.multiply(turn, Decimal(turns)),
    )
