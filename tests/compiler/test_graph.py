"""Indexes over a piece, against its columns."""

from __future__ import annotations

from collections import Counter

from weave_build import PieceBuilder, ring_kind, sheet_shape
from word_weaves import WEAVES

from compiler.graph import (
    Addresses,
    incident_links,
    neighbours,
    strand_members,
    strand_neighbours,
    written_name,
)

# ---------------------------------------------------------------- indexes


def test_indexes_agree_with_the_columns() -> None:
    for _, weave in WEAVES:
        for piece in weave.pieces:
            near, at, beside = neighbours(piece), incident_links(piece), strand_members(piece)
            pairs: Counter[tuple[int, int]] = Counter()
            for node in range(len(piece)):
                assert len(near[node]) == near.size(node) == at.size(node)
                pairs.update((node, other) for other in near[node])
                for link in at[node]:
                    assert node in (piece.link_a[link], piece.link_b[link])
                lead = piece.strand[node]
                assert node in beside[lead]
            wanted = Counter(zip(piece.link_a, piece.link_b, strict=True))
            wanted.update(zip(piece.link_b, piece.link_a, strict=True))
            assert pairs == wanted
            merged = strand_neighbours(piece)
            for lead in range(len(piece)):
                others = {piece.strand[other] for ring in beside[lead] for other in near[ring]} - {lead}
                assert sorted(merged[lead]) == sorted(others)


def test_addresses_count_rows_and_places_from_one() -> None:
    build = PieceBuilder([ring_kind("link", "ring")])
    mesh = build.new_group("strap", "left wing", shape=sheet_shape([1, 2, 3]))
    nodes = [build.take(mesh)[0] for _ in range(6)]
    build.step("All")
    piece = build.piece()
    addresses = Addresses(piece)
    spots = [(addresses.of(node).row, addresses.of(node).place) for node in nodes]
    assert spots == [(1, 1), (2, 1), (2, 2), (3, 1), (3, 2), (3, 3)]
    assert written_name(piece, addresses, nodes[4]) == "strap[3, 2] of left wing"
