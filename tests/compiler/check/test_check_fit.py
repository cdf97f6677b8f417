"""Fit: closed bounds on the wires in a hole."""

from decimal import Decimal

import pytest
from weave_bench import Bench, eye, finding_kind, place, ring_kind

from compiler.check.run import check
from compiler.weave import RelationKind
from notation.diagnostic import Diagnostic

FAMILY = {"does-not-fit", "crowded-hole", "slips-off"}


def told(bench: Bench) -> list[Diagnostic]:
    return [diagnostic for diagnostic in check(bench.weave()) if diagnostic.rule in FAMILY]


def hub(inner: str, wire: str, wires: int) -> Bench:
    """A ring with so many others through it, a statement each; the others' holes are wide."""
    bench = Bench(rings=(ring_kind("hub", inner, wire), ring_kind("spoke", "50", wire)))
    (centre,) = bench.strand("heart", kind="hub")
    for _ in range(wires):
        (spoke,) = bench.strand("spoke", kind="spoke")
        bench.link(spoke, centre)
    return bench


@pytest.mark.parametrize("wires", [1, 2, 4, 6, 7])
def test_seven_wires_fit_a_hole_three_wires_wide(wires: int) -> None:
    # Graham, Lubachevsky, Nurmela, Ostergard, Discrete Mathematics 181 (1998): ratio 3 for seven
    assert [d for d in told(hub("3", "1", wires)) if d.rule == "does-not-fit"] == []


def test_the_eighth_wire_is_told_at_its_statement_with_the_figures() -> None:
    (tight,) = told(hub("3", "1", 9))
    assert (tight.rule, tight.place) == ("does-not-fit", place(8))
    arguments = dict(tight.arguments)
    assert (arguments["count"], arguments["most"], arguments["inner"]) == (9, 7, "3 mm")
    assert arguments["enough"] == "3.7 mm"  # nine need 1 + sqrt(2 (2 + sqrt 2)) = 3.613 wires


def test_seven_in_three_lie_two_deep() -> None:
    (crowded,) = told(hub("3", "1", 7))
    assert (crowded.rule, dict(crowded.arguments)["most"]) == ("crowded-hole", 6)


def test_kirkburn_mail_is_accepted() -> None:
    # Stead, Iron Age Cemeteries in East Yorkshire (1991) p. 54: rings 8.2 to 9.2 mm outside, wire 1.5 to
    # 1.9 mm, linked with four others; middle figures 5.3 mm inside and 1.7 mm wire
    assert told(hub("5.3", "1.7", 4)) == []


def test_a_wire_thicker_than_the_hole_is_told_once_for_the_link() -> None:
    bench = Bench(rings=(ring_kind("fine", "1", "0.5"), ring_kind("thick", "8", "1.2")))
    (a,) = bench.strand("a", kind="fine")
    (b,) = bench.strand("b", kind="thick")
    bench.link(b, a)
    (tight,) = told(bench)
    assert (tight.rule, tight.variant, tight.place) == ("does-not-fit", "wire", place(1))
    assert dict(tight.arguments)["name"] == "a"


def test_wires_of_several_thicknesses_are_listed() -> None:
    bench = Bench(
        rings=(ring_kind("hub", "3", "1"), ring_kind("thick", "20", "1.6"), ring_kind("thin", "20", "1"))
    )
    (centre,) = bench.strand("heart", kind="hub")
    for kind in ("thin", "thick", "thick"):
        (ring,) = bench.strand(kind, kind=kind)
        bench.link(ring, centre)
    (tight,) = told(bench)
    assert (tight.variant, tight.place) == ("mixed", place(3))
    assert dict(tight.arguments)["wires"] == "2 of 1.6 mm, 1 of 1 mm"


def test_companions_count_each() -> None:
    bench = Bench(rings=(ring_kind("hub", "2", "1"), ring_kind("spoke", "9", "1")))
    (centre,) = bench.strand("heart", kind="hub")
    for _ in range(2):
        for ring in bench.strand("spoke", kind="spoke", rings=2):
            bench.link(ring, centre)
    (tight,) = told(bench)
    assert dict(tight.arguments)["count"] == 4


def test_an_eye_is_a_hole_and_wire_of_unknown_thickness_is_left_out() -> None:
    bench = Bench(
        rings=(ring_kind("link", "1.2", "1.1"),),
        findings=(finding_kind("bead", eye(inner="1")), finding_kind("bar", eye(inner="9"), wire="1.5")),
    )
    (ring,) = bench.strand("a")
    (bead,), (bar,) = bench.finding("bead"), bench.finding("bar")
    bench.link(ring, bead)
    bench.link(ring, bar)
    first, second = sorted(told(bench), key=lambda d: d.place.span)
    assert (dict(first.arguments)["name"], first.variant) == ("bead", "wire")
    assert (dict(second.arguments)["name"], dict(second.arguments)["count"]) == ("a", 1)


def test_a_ring_that_is_gone_around_sends_two_wires_through() -> None:
    bench = Bench(rings=(ring_kind("link", "6", "1"), ring_kind("collar", "2.3", "1")))
    (a,), (b,) = bench.strand("a"), bench.strand("b")
    bench.link(b, a)
    (collar,) = bench.strand("collar", kind="collar")
    bench.relate(RelationKind.AROUND, collar, a, b)
    (tight,) = told(bench)
    assert (dict(tight.arguments)["count"], dict(tight.arguments)["most"]) == (4, 3)


def test_a_collar_as_wide_as_what_it_is_around_slips_off() -> None:
    for inner, rules in (("7.9", []), ("8", ["slips-off"])):
        bench = Bench(rings=(ring_kind("link", "6", "1"), ring_kind("collar", inner, "1")))
        (a,), (b,) = bench.strand("a"), bench.strand("b")
        bench.link(b, a)
        (collar,) = bench.strand("collar", kind="collar")
        bench.relate(RelationKind.AROUND, collar, a, b)
        assert [d.rule for d in told(bench)] == rules


def test_a_ring_inside_one_other_slips_out_of_it_where_it_is_small_enough() -> None:
    for inner, rules in (("5.9", []), ("6", ["slips-off"])):
        bench = Bench(rings=(ring_kind("link", "4", "1"), ring_kind("scale", inner, "1")))
        (scale,), (other,) = bench.strand("scale", kind="scale"), bench.strand("other", kind="scale")
        bench.link(other, scale)
        (filling,) = bench.strand("filling")
        bench.relate(RelationKind.INSIDE, filling, scale)
        found = told(bench)
        assert [d.rule for d in found] == rules
        assert all(dict(d.arguments)["name"] == "scale" for d in found)


def test_a_ring_inside_several_is_caged_by_them() -> None:
    bench = Bench(rings=(ring_kind("link", "4", "1"), ring_kind("scale", "8", "1")))
    (scale,), (other,) = bench.strand("scale", kind="scale"), bench.strand("other", kind="scale")
    bench.link(other, scale)
    (filling,) = bench.strand("filling")
    bench.relate(RelationKind.INSIDE, filling, scale, other)
    assert told(bench) == []


def test_a_ring_inside_sends_its_wire_through_the_hole_twice() -> None:
    bench = Bench(rings=(ring_kind("link", "3", "1"), ring_kind("scale", "1.9", "1")))
    (scale,) = bench.strand("scale", kind="scale")
    (filling,) = bench.strand("filling")
    bench.relate(RelationKind.INSIDE, filling, scale)
    (tight,) = told(bench)
    assert dict(tight.arguments)["count"] == 2


def test_many_tight_rings_of_one_statement_are_told_once_and_counted() -> None:
    bench = Bench(rings=(ring_kind("link", "1.5", "1"),))
    before = bench.strand("a", at=place(3))
    for _ in range(10):
        ring = bench.strand("a", at=place(3))
        bench.link(ring[0], before[0])
        before = ring
    (tight,) = told(bench)
    assert [(frame.note, dict(frame.arguments)) for frame in tight.trace] == [("more-places", {"count": 8})]


def test_the_larger_diameter_that_is_proposed_is_not_refused() -> None:
    (tight,) = told(hub("2", "0.9", 15))
    enough = str(dict(tight.arguments)["enough"]).removesuffix(" mm")
    assert [d for d in told(hub(enough, "0.9", 15)) if d.rule == "does-not-fit"] == []
    below = Decimal(enough) - Decimal("0.1")
    assert [d.rule for d in told(hub(str(below), "0.9", 15))] == ["does-not-fit"]


def test_each_eye_of_a_finding_has_its_own_hole() -> None:
    for wide, narrow in (("9", "1"), ("1", "9")):
        bench = Bench(findings=(finding_kind("bar", eye("left", wide), eye("right", narrow)),))
        left, right = bench.finding("bar")
        (a,), (b,) = bench.strand("a"), bench.strand("b")
        bench.link(a, left)
        bench.link(b, right)
        bench.ring_kinds = (ring_kind("link", "5", "1.1"),)
        (tight,) = told(bench)
        assert dict(tight.arguments)["name"] == ("right of bar" if narrow == "1" else "left of bar")


def test_a_ring_inside_one_other_cannot_slip_away_where_it_is_linked_elsewhere() -> None:
    bench = Bench(rings=(ring_kind("link", "4", "1"), ring_kind("scale", "8", "1")))
    (scale,), (other,) = bench.strand("scale", kind="scale"), bench.strand("other", kind="scale")
    bench.link(other, scale)
    (filling,) = bench.strand("filling")
    bench.relate(RelationKind.INSIDE, filling, scale)
    assert [d.rule for d in told(bench)] == ["slips-off"]
    bench.link(filling, other)
    assert told(bench) == []


@pytest.mark.parametrize("others", [1, 6, 7, 12])
def test_with_many_thicknesses_of_wire_the_same_is_told(others: int) -> None:
    # The hub and so many more kinds: up to eight thicknesses are counted in one way, more in another.
    fine = [ring_kind(f"fine{n}", "50", f"0.5{n:02d}") for n in range(others)]
    bench = Bench(rings=(ring_kind("hub", "3", "1"), ring_kind("collar", "60", "1"), *fine))
    (centre,) = bench.strand("heart", kind="hub")
    (collar,) = bench.strand("collar", kind="collar")
    for _ in range(9):
        (spoke,) = bench.strand("spoke", kind="collar")
        bench.link(spoke, centre)
    for kind in fine:
        (ring,) = bench.strand(kind.name, kind=kind.name)
        bench.link(ring, collar)
    bench.link(collar, centre)
    bench.relate(RelationKind.AROUND, collar, centre)
    (tight,) = [one for one in told(bench) if one.rule == "does-not-fit"]
    assert (dict(tight.arguments)["count"], dict(tight.arguments)["most"]) == (10, 7)
    inside = Bench(rings=(ring_kind("hub", "3", "1"), *fine))
    (centre,) = inside.strand("heart", kind="hub")
    for kind in fine:
        (ring,) = inside.strand(kind.name, kind=kind.name)
        inside.link(ring, centre)
    for _ in range(3):
        (ring,) = inside.strand("in", kind="hub")
        inside.relate(RelationKind.INSIDE, ring, centre)
    # Each ring inside counts for its two sides: six wires of 1 mm and the fine ones.
    found = [dict(one.arguments)["count"] for one in told(inside) if one.rule == "does-not-fit"]
    # Wires cannot have a larger section together than the hole has.
    sections = 6 + sum(kind.wire_mm**2 for kind in fine)
    assert found == ([6 + others] if sections > 9 else [])
