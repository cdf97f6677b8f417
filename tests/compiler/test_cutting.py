"""Coils that rings are cut from: against the closed form in floating point, and a helix measured in small pieces."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.cutting import coil
from compiler.kit import wire_length_mm

_SIZES = st.decimals("0.2", "40", places=2)


def test_by_hand() -> None:
    found = coil(Decimal(5), Decimal(1), 99, Decimal("0.3141592653589793238462643383"))
    assert found.turns == 100
    assert found.length_mm == 100
    assert float(found.mandrel_mm) == pytest.approx(5.1)
    assert float(found.wire_mm) == pytest.approx(100 * math.hypot(6.1 * math.pi, 1))


@given(_SIZES, _SIZES, st.integers(1, 10**6), st.decimals("0.01", "2", places=2))
def test_a_ring_cut_and_closed_has_the_size_wanted(
    inner: Decimal, wire: Decimal, count: int, kerf: Decimal
) -> None:
    found = coil(inner, wire, count, kerf)
    # along its middle a turn, less what the saw takes, is the wire of the ring
    assert float(wire_length_mm(found.mandrel_mm, wire) - kerf) == pytest.approx(
        float(wire_length_mm(inner, wire))
    )


@given(_SIZES, _SIZES, st.integers(1, 30))
def test_the_wire_is_as_long_as_the_helix(inner: Decimal, wire: Decimal, count: int) -> None:
    found = coil(inner, wire, count, Decimal("0.1"))
    radius, rise = float(found.mandrel_mm + wire) / 2, float(wire)
    pieces = 2000
    step = math.dist(
        (radius, 0.0, 0.0),
        (
            radius * math.cos(2 * math.pi / pieces),
            radius * math.sin(2 * math.pi / pieces),
            rise / pieces,
        ),
    )
    assert float(found.wire_mm) == pytest.approx(step * pieces * found.turns, rel=1e-5)
    assert float(found.length_mm) == pytest.approx(rise * (count + 1))
