"""Colour refinement of two graphs at once: nodes of both that look alike from where they stand share a colour.

In: the edges of both, as one graph of which the first half is the first. Out: cells of one colour, as fine as
neighbours can tell, or that the two cannot match. A cell is divided by how many neighbours its nodes have in another,
and only parts that are new are looked at again (Hopcroft, "An n log n algorithm for minimizing states in a finite
automaton", 1971; for graphs, McKay, "Practical graph isomorphism", Congressus Numerantium 30 (1981); both named
from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

Edges = Sequence[Sequence[tuple[int, int]]]
"""By node: label and other end of each edge."""
Cell = dict[int, None]
"""Nodes in order; a dictionary, because parts are taken out of it."""


class Cells:
    """A colouring of both graphs, every cell with as many nodes of the one as of the other."""

    __slots__ = ("cells", "colour", "edges", "half", "looked_at")

    def __init__(self, edges: Edges, half: int) -> None:
        self.edges, self.half = edges, half
        self.colour: list[int] = []
        self.cells: list[Cell] = []
        self.looked_at = 0
        """Edges looked at so far, for a budget."""

    def begin(self, keys: Sequence[str]) -> bool:
        """First colours from the keys of the nodes, then refined; False when the two cannot match."""
        numbers: dict[str, int] = {}
        for node, key in enumerate(keys):
            number = numbers.setdefault(key, len(numbers))
            if number == len(self.cells):
                self.cells.append({})
            self.cells[number][node] = None
            self.colour.append(number)
        return all(map(self._is_even, self.cells)) and self._refine(list(range(len(self.cells))))

    def copy(self) -> Cells:
        """The same colouring, to go on from in another way."""
        made = Cells(self.edges, self.half)
        made.colour = self.colour.copy()
        made.cells = [cell.copy() for cell in self.cells]
        return made

    def set_apart(self, one: int, other: int) -> bool:
        """A colour of their own for a node of each; False when the two cannot match so."""
        return self._refine([self._part([one, other], self.colour[one])])

    def smallest(self) -> Cell:
        """The smallest cell that leaves a choice, the first made of equals; an empty one when none does."""
        return min((cell for cell in self.cells if len(cell) > 2), key=len, default={})

    def leaves_choice(self) -> bool:
        """Whether some node may be matched with more than one."""
        return 2 * len(self.cells) < len(self.colour)

    def _is_even(self, nodes: Cell | list[int]) -> bool:
        return 2 * sum(node < self.half for node in nodes) == len(nodes)

    def _part(self, nodes: list[int], old: int) -> int:
        """Moves nodes from a cell to a new one; gives its number."""
        number = len(self.cells)
        self.cells.append(dict.fromkeys(nodes))
        for node in nodes:
            del self.cells[old][node]
            self.colour[node] = number
        return number

    def _refine(self, waiting: list[int]) -> bool:
        is_waiting = set(waiting)
        while waiting:
            number = waiting.pop()
            is_waiting.discard(number)
            for old, parts in self._touched(number).items():
                if not all(map(self._is_even, parts)):
                    return False
                untouched = len(self.cells[old]) - sum(map(len, parts))
                if not untouched:
                    parts.remove(max(parts, key=len))
                made = [self._part(nodes, old) for nodes in parts]
                if old not in is_waiting:
                    made.append(old)
                    made.remove(max(made, key=lambda each: len(self.cells[each])))
                waiting.extend(made)
                is_waiting.update(made)
        return True

    def _touched(self, number: int) -> dict[int, list[list[int]]]:
        """The nodes next to a cell, by their own cell and by how they are next to it."""
        labels: dict[int, list[int]] = {}
        for node in self.cells[number]:
            self.looked_at += len(self.edges[node])
            for label, other in self.edges[node]:
                labels.setdefault(other, []).append(label)
        found: dict[int, dict[tuple[int, ...], list[int]]] = {}
        for node, said in labels.items():
            found.setdefault(self.colour[node], {}).setdefault(tuple(sorted(said)), []).append(node)
        return {old: list(parts.values()) for old, parts in found.items()}
