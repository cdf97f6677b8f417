"""How a ring lies to rings that it is not linked with, in messages: around, between, inside, over, under, in a gap.

In: relations of one motion. Out: a message for each, as the maker sees it: over is nearer to the maker.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from compiler.messages import Message, Say, Thing, message
from compiler.names import Names
from compiler.weave import RelationKind
from compiler.word.sides import Sides

_SAY = {
    RelationKind.AROUND: Say.AROUND,
    RelationKind.BETWEEN: Say.BETWEEN,
    RelationKind.INSIDE: Say.INSIDE,
    RelationKind.OVER: Say.OVER,
    RelationKind.UNDER: Say.UNDER,
    RelationKind.GAP: Say.GAP,
}
_FROM_THE_BACK = {Say.OVER: Say.UNDER, Say.UNDER: Say.OVER}


class LiesWords:
    """Makes messages of a piece's relations."""

    def __init__(self, names: Names, sides: Sides) -> None:
        self._names = names
        self._sides = sides
        self._links: set[tuple[int, int]] | None = None

    def tell(self, related: Iterable[tuple[RelationKind, tuple[int, ...]]]) -> Iterator[Message]:
        """A message for each relation."""
        for kind, others in related:
            say = _SAY[kind]
            if say is Say.GAP:
                hole = self._whole(others[:1])
                yield message(say, path=(*hole, *self._whole(others[1:])))
                continue
            if say is Say.AROUND and self._is_joint(others):
                say = Say.AROUND_JOINT
            elif self._sides.turned:
                say = _FROM_THE_BACK.get(say, say)
            yield message(say, path=self._names.things(others))

    def _whole(self, firsts: tuple[int, ...]) -> tuple[Thing, ...]:
        """Rings, given by their first ones, and eyes as whole members."""
        piece, strands = self._names.piece, self._names.strands
        nodes = [node for first in firsts for node in strands[piece.strand[first]]]
        return self._names.things(nodes)

    def _is_joint(self, others: tuple[int, ...]) -> bool:
        """Whether these are two members that are linked with one another."""
        piece = self._names.piece
        leads = tuple(dict.fromkeys(piece.strand[node] for node in others))
        if len(leads) != 2:
            return False
        if self._links is None:
            pairs = zip(piece.link_a, piece.link_b, strict=True)
            self._links = {(piece.strand[a], piece.strand[b]) for a, b in pairs}
        return leads in self._links or leads[::-1] in self._links
