"""Neighbours of every node, as two flat columns; in: the links of a piece. Made once and shared by the
checks."""

from __future__ import annotations

from array import array
from itertools import accumulate

from msgspec import Struct

from compiler.weave import PieceWeave


class Adjacency(Struct, frozen=True, kw_only=True):
    """Who is linked with whom: `node[start[i]:start[i + 1]]` are the neighbours of i, in order of linking.

    Compressed rows, so that a million rings need two arrays and not a million lists. A link told twice stands
    there twice.
    """

    start: array[int]
    """`i`, nodes + 1 entries."""
    node: array[int]
    """`i`, two entries for each link."""

    def of(self, node: int) -> array[int]:
        """The neighbours of a node."""
        return self.node[self.start[node] : self.start[node + 1]]

    def degree(self, node: int) -> int:
        """How many links a node has."""
        return self.start[node + 1] - self.start[node]


def adjacency(piece: PieceWeave) -> Adjacency:
    """The neighbours of every node of a piece; time and memory linear in its links."""
    count = array("i", bytes(4 * (len(piece) + 1)))
    for end in piece.link_a:
        count[end + 1] += 1
    for end in piece.link_b:
        count[end + 1] += 1
    start = array("i", accumulate(count))
    filled = start[:]
    node = array("i", bytes(8 * len(piece.link_a)))
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        place = filled[a]
        node[place] = b
        filled[a] = place + 1
        place = filled[b]
        node[place] = a
        filled[b] = place + 1
    return Adjacency(start=start, node=node)
