"""Matching two structures: an isomorphism that keeps colours, poses, links, relations and the signs of all loops.

Signs are kept up to turning rings round. Each ring is therefore taken twice, once each way round; a link from the front
joins those of a way, a link from behind those of different ways (the signed covering graph: two signed graphs can be
switched into one another exactly when their coverings are isomorphic and pairs stay pairs; Zaslavsky, "Signed graphs",
Discrete Applied Mathematics 4 (1982), named from memory). The coverings are matched by refining colours; where
that leaves a choice, a node is set apart and every choice for it is tried in turn. Parts that hang together by
nothing are matched one by one. A budget bounds the work on graphs of extreme regularity.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum

from compiler.same.alike import together
from compiler.same.refine import Cells
from compiler.same.structure import Structure

MOST_LOOKED_AT = 20_000_000
"""Edges looked at before a match gives up, on top of MOST_TIMES each."""
MOST_TIMES = 40
"""No colouring that is refined looks at an edge more often than the logarithm of the number of rings."""
_ITSELF = 0
"""The label of the edge between the two ways round of one ring; 1 is a link, and relations follow."""
_LINK = 1


class Outcome(Enum):
    """What came of a match."""

    SAME = "same"
    DIFFERENT = "different"
    UNDECIDED = "undecided"


def match(a: Structure, b: Structure) -> Outcome:
    """Whether there is an isomorphism from a to b."""
    if len(a.colours) != len(b.colours):
        return Outcome.DIFFERENT
    kinds: dict[tuple[object, ...], list[tuple[Structure, int]]] = {}
    """Parts that are alike, by what can be counted: one of them, and how many more a has of it than b."""
    doubt = False
    for one, worth in ((a, 1), (b, -1)):
        for part in _parts(together(one)):
            known = kinds.setdefault(_counted(part), [])
            for index, (like, count) in enumerate(known):
                outcome = _match_parts(like, part)
                doubt = doubt or outcome is Outcome.UNDECIDED
                if outcome is Outcome.SAME:
                    known[index] = (like, count + worth)
                    break
            else:
                known.append((part, worth))
    if all(count == 0 for known in kinds.values() for _, count in known):
        return Outcome.SAME
    return Outcome.UNDECIDED if doubt else Outcome.DIFFERENT


def _parts(one: Structure) -> list[Structure]:
    """The parts of a structure that no link or relation joins."""
    part_of = [-1] * len(one.colours)
    parts: list[list[int]] = []
    for start in range(len(part_of)):
        if part_of[start] >= 0:
            continue
        part_of[start] = len(parts)
        nodes = [start]
        for node in nodes:
            for other in (*one.links[node], *one.others[node]):
                if part_of[other] < 0:
                    part_of[other] = len(parts)
                    nodes.append(other)
        parts.append(nodes)
    return [one] if len(parts) == 1 else [one.part(nodes) for nodes in parts]


def _counted(one: Structure) -> tuple[object, ...]:
    """What must agree at least: colours, poses and how much each is linked."""
    columns = zip(one.colours, one.poses, one.links, one.others, strict=True)
    return tuple(sorted((colour, poses, len(near), len(rest)) for colour, poses, near, rest in columns))


def _match_parts(a: Structure, b: Structure) -> Outcome:
    names: dict[tuple[str, ...], int] = {}
    edges = [*_covering(a, names, 0), *_covering(b, names, 2 * len(a.colours))]
    cells = Cells(edges, 2 * len(a.colours))
    if not cells.begin([key for one in (a, b) for key in _keys(one)]):
        return Outcome.DIFFERENT
    most = MOST_LOOKED_AT + MOST_TIMES * sum(map(len, edges))
    looked_at = 0
    waiting = [(cells, _choices(cells))]
    while waiting:
        now, choices = waiting[-1]
        if not now.leaves_choice():
            return Outcome.SAME
        chosen = next(choices, None)
        if chosen is None:
            waiting.pop()
            continue
        tried = now.copy()
        if tried.set_apart(*chosen):
            waiting.append((tried, _choices(tried)))
        looked_at += tried.looked_at + len(tried.colour)
        if looked_at > most:
            return Outcome.UNDECIDED
    return Outcome.DIFFERENT


def _choices(now: Cells) -> Iterator[tuple[int, int]]:
    """A node of the first graph that has a choice, with each node of the second that it may be matched with.

    Where both ways round of a ring are among them, they are worth the same.
    """
    cell = now.smallest()
    one = next((node for node in cell if node < now.half), 0)
    for node in cell:
        if node >= now.half and (node % 2 == 0 or now.colour[node] != now.colour[node - 1]):
            yield one, node


def _keys(one: Structure) -> list[str]:
    return [
        f"{colour}; {poses}" for colour, poses in zip(one.colours, one.poses, strict=True) for _ in (0, 1)
    ]


def _covering(one: Structure, names: dict[tuple[str, ...], int], start: int) -> list[list[tuple[int, int]]]:
    """Edges of the covering graph: the two ways round of node n are start + 2 n and start + 2 n + 1."""
    found: list[list[tuple[int, int]]] = []
    for node, near in enumerate(one.links):
        for way in (0, 1):
            edges = [(_ITSELF, start + 2 * node + 1 - way)]
            edges.extend(
                (_LINK, start + 2 * other + (way if sign > 0 else 1 - way)) for other, sign in near.items()
            )
            for other, said in one.others[node].items():
                label = names.setdefault(said, len(names) + _LINK + 1)
                edges.extend(((label, start + 2 * other), (label, start + 2 * other + 1)))
            found.append(edges)
    return found
