"""Quantities: counts of the weave, and masses and lengths against values from outside."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from msgspec.structs import replace

from compiler.expand.driver import expand
from compiler.kit import (
    FINDING_SECONDS,
    PI,
    PREPARE_SECONDS,
    WEAVE_SECONDS,
    quantities,
    ring_mass_g,
    ring_volume_mm3,
    wire_length_mm,
)
from compiler.weave import PieceWeave, Verb, Weave
from grammar.parse import parse
from notation.lengths import LengthUnit
from notation.metals import METALS
from notation.source import Source

HEAD = """\
title "Lyra"
ring large: inner 5 mm, wire 0.9 mm, metal copper, doubled
ring small: inner 3 mm, wire 0.7 mm, metal sterling-silver
ring spare: inner 4 mm, wire 18 awg, metal copper
finding drop: drop, eye 1.5 mm, wire 0.6 mm
"""
KIT = "kit: 30 large, 20 small, 5 drop\n"
PIECES = """
piece earring made 2 times:
    line pair of 4:
        pass 2 large through the one before
    step "Drops":
        repeat 2 times:
            pass 1 small through last of pair carrying 1 drop
piece pendant:
    take 1 small as a
    pass 1 small through a
    pass 2 large through a
"""


def weave_of(text: str) -> Weave:
    pattern, told = parse(Source(name="test.annulet", text=text))
    weave, more = expand(pattern, {})
    wrong = [each.rule for each in (*told, *more) if not each.rule.startswith("unused")]
    assert wrong == []
    return weave


def brought_in(piece: PieceWeave, kind: int) -> int:
    """Rings of a kind by the motions that bring them in: an other way than counting nodes."""
    motions, count = piece.motions, 0
    for motion in range(len(motions.verb)):
        new = [
            motions.load_node[at] for at in range(motions.load_start[motion], motions.load_start[motion + 1])
        ]
        if motions.verb[motion] in (Verb.TAKE, Verb.PASS, Verb.TWIN):
            new.append(motions.actor[motion])
        count += sum(piece.kind[node] == kind for node in new)
    return count


@pytest.mark.parametrize(
    ("inner", "wire", "volume"),
    [
        # trimesh tori, Richardson-extrapolated, and sympy's washer integral: 3 pi^2 / 2 for the first
        ("5", "1.0", 14.8044066),
        ("4", "0.8", 7.5799),
        ("3", "0.6", 3.1978),
        ("6", "1.2", 25.582),
        ("8", "1.6", 60.6388),
        ("6.35", "1.6256", 52.0033),
    ],
)
def test_volume_is_that_of_a_torus(inner: str, wire: str, volume: float) -> None:
    found = ring_volume_mm3(Decimal(inner), Decimal(wire))
    assert float(found) == pytest.approx(volume, rel=2e-5)
    washer = math.pi**2 / 4 * float(wire) ** 2 * (float(inner) + float(wire))
    assert float(found) == pytest.approx(washer, rel=1e-14)


@pytest.mark.parametrize(
    ("inner", "wire", "density", "mass"),
    [
        ("5", "1", "8.96", 0.132647),
        ("4", "0.8", "2.70", 0.02046),
        ("3", "0.6", "10.36", 0.03313),
        ("6", "1.2", "8.00", 0.20466),
    ],
)
def test_mass_is_volume_times_density(inner: str, wire: str, density: str, mass: float) -> None:
    found = ring_mass_g(Decimal(inner), Decimal(wire), Decimal(density))
    assert float(found) == pytest.approx(mass, abs=6e-6)


def test_wire_of_a_ring_is_pi_times_its_middle_diameter() -> None:
    assert float(wire_length_mm(Decimal(5), Decimal(1))) == pytest.approx(18.849556, abs=5e-7)
    assert float(PI) == math.pi


def test_copper_wire_weighs_what_a_wire_table_says() -> None:
    # Kuphaldt, Lessons in Electric Circuits V, solid copper wire: 18 AWG has 4.917 lb/1000 ft, at the 8.89 g/cm3 of
    # the International Annealed Copper Standard. So many mm of it as are in a ring must weigh as much as the ring.
    wire = Decimal("1.0237")
    per_mm = 4.917 * 453.59237 / (1000 * 304.8)
    length = float(wire_length_mm(Decimal(5), wire))
    assert float(ring_mass_g(Decimal(5), wire, Decimal("8.89"))) == pytest.approx(per_mm * length, rel=2e-4)


def test_counts_agree_with_the_motions_that_bring_rings_in() -> None:
    weave = weave_of(HEAD + KIT + PIECES)
    found = quantities(weave)
    assert [row.kind.name for row in found.rings] == ["large", "small", "spare"]
    for index, row in enumerate(found.rings):
        by_motions = tuple(brought_in(piece, index) for piece in weave.pieces)
        assert row.per_piece == by_motions
        assert row.needed == 2 * by_motions[0] + by_motions[1]
    assert [row.needed for row in found.rings] == [18, 6, 0]
    assert found.ring_count == 24
    assert [(row.per_piece, row.needed) for row in found.findings] == [((2, 0), 4)]


def test_what_the_kit_has_over_is_packed_less_needed() -> None:
    found = quantities(weave_of(HEAD + KIT + PIECES))
    assert [(row.packed, row.spare) for row in found.rings] == [(30, 12), (20, 14), (None, None)]
    assert [(row.packed, row.spare) for row in found.findings] == [(5, 1)]
    bare = quantities(weave_of(HEAD + PIECES))
    assert {row.packed for row in (*bare.rings, *bare.findings)} == {None}


def test_the_sum_of_masses_is_that_of_all_rings_one_by_one() -> None:
    weave = weave_of(HEAD + PIECES)
    found = quantities(weave)
    grams = 0.0
    for piece in weave.pieces:
        for kind in piece.kind:
            if kind >= 0:
                ring = weave.ring_kinds[kind]
                radius, tube = float(ring.inner_mm + ring.wire_mm) / 2, float(ring.wire_mm) / 2
                density = float(METALS[ring.metal].density)
                grams += piece.times * 2 * math.pi**2 * radius * tube**2 * density / 1000
    assert found.mass_g is not None
    assert float(found.mass_g) == pytest.approx(grams, rel=1e-12)
    parts = [row.total_mass_g for row in found.rings if row.total_mass_g is not None]
    assert float(sum(parts)) == pytest.approx(grams, rel=1e-12)


def test_links_and_rings_of_a_piece_are_those_of_its_weave() -> None:
    weave = weave_of(HEAD + PIECES)
    found = quantities(weave)
    for sums, piece in zip(found.pieces, weave.pieces, strict=True):
        assert sums.links == len(piece.link_a)
        assert sums.rings == sum(kind >= 0 for kind in piece.kind)


def test_without_a_density_there_is_no_mass_and_everything_else() -> None:
    found = quantities(
        replace(weave_of(HEAD + PIECES), metals={"sterling-silver": METALS["sterling-silver"]})
    )
    large, small, _ = found.rings
    assert large.metal is None
    assert large.mass_g is None
    assert large.total_mass_g is None
    assert small.total_mass_g is not None
    assert found.mass_g is None
    assert large.needed == 18
    assert float(large.total_wire_mm) == pytest.approx(18 * math.pi * 5.9, rel=1e-14)


def test_gauges_are_told_in_both_systems() -> None:
    found = quantities(weave_of(HEAD + PIECES))
    large, _, spare = found.rings
    assert (large.awg.number, large.awg.unit) == (19, LengthUnit.AWG)
    assert (large.swg.number, large.swg.unit) == (20, LengthUnit.SWG)
    assert (spare.awg.number, spare.awg.error_mm) == (18, 0)
    assert (spare.swg.number, spare.swg.error_mm) == (19, Decimal("0.0077"))


def test_time_grows_with_rings_motions_and_findings() -> None:
    found = quantities(weave_of(HEAD + PIECES))
    # 24 rings to prepare; woven: of each earring 3 pairs beyond the one laid down and 2 drops' rings, of the pendant
    # 1 and 2 rings; 4 drops hung.
    woven = 2 * (3 * 2 + 2) + 3
    low = 24 * PREPARE_SECONDS[0] + woven * WEAVE_SECONDS[0] + 4 * FINDING_SECONDS[0]
    high = 24 * PREPARE_SECONDS[1] + woven * WEAVE_SECONDS[1] + 4 * FINDING_SECONDS[1]
    assert found.time.least == low // 60
    assert found.time.most == math.ceil(high / 60)
    assert found.time.least < found.time.most


def test_a_row_has_the_volume_and_the_wire_of_its_kind() -> None:
    rows = quantities(weave_of(HEAD + PIECES)).rings
    for row in rows:
        sizes = row.kind.inner_mm, row.kind.wire_mm
        assert row.volume_mm3 == ring_volume_mm3(*sizes)
        assert row.wire_mm == wire_length_mm(*sizes)
