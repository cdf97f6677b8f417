"""Matching two structures: an isomorphism that keeps colours, links, relations and the signs of all loops.

Colours are refined by neighbours until they settle (one-dimensional Weisfeiler-Leman refinement), then nodes are
matched one by one along links, with backtracking. Signs are kept up to turning rings round: each matched node carries a
turn, +1 or -1, and every link must agree with the turns of its ends; along a spanning tree the turns follow, so
this says exactly that the product round every loop is the same. A budget of tries bounds the work on regular weaves.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from compiler.same.structure import Structure

MOST_TRIES = 2_000_000
"""Nodes tried before the match gives up; a match needs at least one try for each node."""


class Outcome(Enum):
    """What came of a match."""

    SAME = "same"
    DIFFERENT = "different"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True, kw_only=True)
class Keep:
    """What the match has to keep."""

    relations: bool = True
    signs: bool = True
    mirrored: bool = False
    """Whether every sign of the second structure is turned first."""


def match(a: Structure, b: Structure, keep: Keep) -> Outcome:
    """Whether there is an isomorphism from a to b that keeps what is asked."""
    if len(a.colours) != len(b.colours):
        return Outcome.DIFFERENT
    colours = _refine(a, b, keep)
    if colours is None:
        return Outcome.DIFFERENT
    return _Search(a, b, keep, *colours).run()


# ---------------------------------------------------------------- refinement


def _refine(a: Structure, b: Structure, keep: Keep) -> tuple[list[int], list[int]] | None:
    """Settled colours of both, numbered alike; None when they cannot match."""
    now_a, now_b = _numbered(_first(a, keep, 1), _first(b, keep, -1 if keep.mirrored else 1))
    while True:
        if sorted(now_a) != sorted(now_b):
            return None
        next_a, next_b = _numbered(_spread(a, now_a, keep), _spread(b, now_b, keep))
        if len(set(next_a)) == len(set(now_a)):
            return (next_a, next_b) if sorted(next_a) == sorted(next_b) else None
        now_a, now_b = next_a, next_b


def _first(one: Structure, keep: Keep, turn: int) -> list[tuple[object, ...]]:
    """First colours: the kind, and with signs how many loops of three are negative and positive."""
    found: list[tuple[object, ...]] = []
    for node, near in enumerate(one.links):
        positive = negative = 0
        if keep.signs:
            for other, sign in near.items():
                for third, across in one.links[other].items():
                    if third in near and third > other:
                        product = sign * across * near[third] * turn
                        positive += product > 0
                        negative += product < 0
        found.append((one.colours[node], len(near), positive, negative))
    return found


def _spread(one: Structure, colours: list[int], keep: Keep) -> list[tuple[object, ...]]:
    found: list[tuple[object, ...]] = []
    for node, near in enumerate(one.links):
        linked = tuple(sorted(colours[other] for other in near))
        related: tuple[tuple[tuple[str, ...], int], ...] = ()
        if keep.relations:
            related = tuple(sorted((names, colours[other]) for other, names in one.others[node].items()))
        found.append((colours[node], linked, related))
    return found


def _numbered(a: list[tuple[object, ...]], b: list[tuple[object, ...]]) -> tuple[list[int], list[int]]:
    numbers: dict[tuple[object, ...], int] = {}
    for key in sorted(set(a) | set(b), key=repr):
        numbers[key] = len(numbers)
    return [numbers[key] for key in a], [numbers[key] for key in b]


# ---------------------------------------------------------------- search


class _Search:
    """Depth-first matching with an explicit stack."""

    def __init__(
        self, a: Structure, b: Structure, keep: Keep, colours_a: list[int], colours_b: list[int]
    ) -> None:
        self.a, self.b, self.keep = a, b, keep
        self.colours_a, self.colours_b = colours_a, colours_b
        self.turn = -1 if keep.mirrored else 1
        self.by_colour: dict[int, list[int]] = {}
        for node, colour in enumerate(colours_b):
            self.by_colour.setdefault(colour, []).append(node)
        self.order, self.anchor = self._plan()
        self.image: dict[int, int] = {}
        self.turned: dict[int, int] = {}
        self.taken: set[int] = set()

    def _plan(self) -> tuple[list[int], list[int]]:
        """The order of matching, along links and relations, rare colours first; and for each node one before it."""
        order: list[int] = []
        anchor: list[int] = []
        seen = [False] * len(self.a.colours)
        size = {colour: len(nodes) for colour, nodes in self.by_colour.items()}
        starts = sorted(range(len(seen)), key=lambda node: (size[self.colours_a[node]], node))
        for start in starts:
            if seen[start]:
                continue
            seen[start] = True
            order.append(start)
            anchor.append(-1)
            position = len(order) - 1
            while position < len(order):
                node = order[position]
                near = list(self.a.links[node])
                if self.keep.relations:
                    near.extend(self.a.others[node])
                for other in sorted(set(near), key=lambda one: (size[self.colours_a[one]], one)):
                    if not seen[other]:
                        seen[other] = True
                        order.append(other)
                        anchor.append(node)
                position += 1
        return order, anchor

    def run(self) -> Outcome:
        tries = 0
        waiting: list[list[tuple[int, int]]] = [self._choices(0)] if self.order else []
        depth = 0
        while waiting:
            if depth == len(self.order):
                return Outcome.SAME
            if not waiting[-1]:
                waiting.pop()
                depth -= 1
                if depth >= 0:
                    self._undo(self.order[depth])
                continue
            candidate, turned = waiting[-1].pop()
            tries += 1
            if tries > MOST_TRIES:
                return Outcome.UNDECIDED
            node = self.order[depth]
            if not self._fits(node, candidate, turned):
                continue
            self.image[node] = candidate
            self.turned[node] = turned
            self.taken.add(candidate)
            depth += 1
            if depth == len(self.order):
                return Outcome.SAME
            waiting.append(self._choices(depth))
        return Outcome.SAME if not self.order else Outcome.DIFFERENT

    def _undo(self, node: int) -> None:
        self.taken.discard(self.image.pop(node))
        del self.turned[node]

    def _choices(self, depth: int) -> list[tuple[int, int]]:
        """Candidates for the node at this depth with their turns, the likeliest last."""
        node, anchor = self.order[depth], self.anchor[depth]
        colour = self.colours_a[node]
        if anchor < 0:
            return [(other, 1) for other in reversed(self.by_colour.get(colour, []))]
        at = self.image[anchor]
        near = set(self.b.links[at])
        if self.keep.relations:
            near.update(self.b.others[at])
        found = [other for other in sorted(near, reverse=True) if self.colours_b[other] == colour]
        if not self.keep.signs:
            return [(other, 1) for other in found]
        if node in self.a.links[anchor]:
            return [
                (
                    other,
                    self.turned[anchor] * self.a.links[anchor][node] * self.b.links[at][other] * self.turn,
                )
                for other in found
                if other in self.b.links[at]
            ]
        return [(other, turned) for other in found for turned in (-1, 1)]

    def _fits(self, node: int, candidate: int, turned: int) -> bool:
        if candidate in self.taken:
            return False
        near_a, near_b = self.a.links[node], self.b.links[candidate]
        if len(near_a) != len(near_b):
            return False
        met = 0
        for other, sign in near_a.items():
            image = self.image.get(other)
            if image is None:
                continue
            there = near_b.get(image)
            if there is None:
                return False
            if self.keep.signs and sign * turned * self.turned[other] != there * self.turn:
                return False
            met += 1
        if met != sum(1 for other in near_b if other in self.taken):
            return False
        if not self.keep.relations:
            return True
        others_b = self.b.others[candidate]
        met = 0
        for other, names in self.a.others[node].items():
            image = self.image.get(other)
            if image is None:
                continue
            if others_b.get(image) != names:
                return False
            met += 1
        return met == sum(1 for other in others_b if other in self.taken)
