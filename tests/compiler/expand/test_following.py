"""A ring that is nested in one of another pass follows its way: what it goes through, and from which side."""

from __future__ import annotations

from woven import weave_of

from compiler.same.compare import compare

START = """take 1 link as a
take 1 link as b
pass 1 large as hub through a and b from behind
pass 1 link as later through hub from behind
"""
HEAD = """title "Lyra"
ring link: inner 5 mm, wire 0.8 mm, metal copper
ring large: inner 8 mm, wire 1 mm, metal copper
ring small: inner 4 mm, wire 0.8 mm, metal brass
"""
SAID = "pass 1 small as liner through a and b from behind and later from behind inside hub"
SHORT = "pass 1 small nested as liner inside hub"


def test_its_way_is_that_of_the_ring_around_it_with_all_sides() -> None:
    said, short = weave_of(START + SAID, HEAD), weave_of(START + SHORT, HEAD)
    (one,), (other,) = said.pieces, short.pieces
    assert sorted(zip(one.link_a, one.link_b, one.link_sign, strict=True)) == sorted(
        zip(other.link_a, other.link_b, other.link_sign, strict=True)
    )
    assert compare(said, short) is None
    assert one.followers == {}
    assert other.followers == {4: 2}


def test_a_way_that_is_said_is_kept() -> None:
    weave = weave_of(START + "pass 1 small nested as liner through a inside hub", HEAD)
    (piece,) = weave.pieces
    assert [(a, b) for a, b in zip(piece.link_a, piece.link_b, strict=True) if a == 4] == [(4, 0)]
    assert piece.followers == {4: 2}
