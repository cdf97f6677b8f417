"""Neighbours of every node, as two flat columns; in: the links of a piece. Made once and shared by the
checks."""

from __future__ import annotations

from array import array
from functools import cached_property
from itertools import accumulate

from compiler.weave import PieceWeave


class Adjacency:
    """Who is linked with whom: `node[start[i]:start[i + 1]]` are the neighbours of i, in order of linking.

    Compressed rows, so that a million rings need two arrays and not a million lists. A link told twice stands
    there twice. The neighbours are put in their rows when the first is asked for: most weaves that have nothing
    wrong with them are judged by how many each ring has.
    """

    def __init__(self, piece: PieceWeave) -> None:
        """Time and memory linear in the links of the piece."""
        self._piece = piece
        degree = [0] * len(piece)
        for a, b in zip(piece.link_a, piece.link_b, strict=True):
            degree[a] += 1
            degree[b] += 1
        self.start = array("i", accumulate(degree, initial=0))
        """`i`, nodes + 1 entries."""

    @cached_property
    def node(self) -> array[int]:
        """`i`, two entries for each link."""
        piece = self._piece
        filled = self.start[:]
        node = array("i", bytes(8 * len(piece.link_a)))
        for a, b in zip(piece.link_a, piece.link_b, strict=True):
            place = filled[a]
            node[place] = b
            filled[a] = place + 1
            place = filled[b]
            node[place] = a
            filled[b] = place + 1
        return node

    def of(self, node: int) -> array[int]:
        """The neighbours of a node."""
        return self.node[self.start[node] : self.start[node + 1]]

    def degree(self, node: int) -> int:
        """How many links a node has."""
        return self.start[node + 1] - self.start[node]


def adjacency(piece: PieceWeave) -> Adjacency:
    """The neighbours of every node of a piece."""
    return Adjacency(piece)
