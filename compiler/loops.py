"""Loops of links from which every other loop can be put together: a cycle basis of the graph of links.

In: how many rings, and which are linked. Out: loops as rings in order, each linked with the next, the last with the
first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise


def loops_of(count: int, links: Sequence[tuple[int, int]]) -> list[tuple[int, ...]]:
    """Loops of linked rings from which every other loop can be put together, short ones first.

    Candidates are triangles, loops of four, and the loops that each link closes with a spanning tree grown in
    breadth; one is kept when it is no sum of those kept before (elimination over the field of two elements). The
    last kind alone is a basis, so the result always is one.
    """
    around: list[list[int]] = [[] for _ in range(count)]
    for a, b in links:
        around[a].append(b)
        around[b].append(a)
    number = {link: index for index, link in enumerate(links)}
    missing = len(links) - count + _parts(around)
    kept: dict[int, int] = {}
    found: list[tuple[int, ...]] = []
    for loop in _candidates(around, links):
        if len(found) == missing:
            break
        rest = sum(1 << number[min(a, b), max(a, b)] for a, b in pairwise((*loop, loop[0])))
        while rest:
            top = rest.bit_length()
            if top not in kept:
                kept[top] = rest
                found.append(loop)
                break
            rest ^= kept[top]
    return found


def _candidates(
    around: Sequence[Sequence[int]], links: Sequence[tuple[int, int]]
) -> Iterator[tuple[int, ...]]:
    sets = [set(others) for others in around]
    for a, b in links:
        for c in around[a]:
            if c > max(a, b) and c in sets[b]:
                yield a, b, c
    for a, others in enumerate(around):
        for place, b in enumerate(others):
            for d in others[:place]:
                for c in around[b]:
                    if c > a and c != a and c in sets[d] and b > a and d > a:
                        yield a, b, c, d
    yield from _closed_by_tree(around, links)


def _closed_by_tree(
    around: Sequence[Sequence[int]], links: Sequence[tuple[int, int]]
) -> Iterator[tuple[int, ...]]:
    parent, depth = _tree(around)
    for a, b in links:
        if parent[a] == b or parent[b] == a:
            continue
        left, right = [a], [b]
        while left[-1] != right[-1]:
            if depth[left[-1]] >= depth[right[-1]]:
                left.append(parent[left[-1]])
            else:
                right.append(parent[right[-1]])
        yield (*left, *reversed(right[:-1]))


def _tree(around: Sequence[Sequence[int]]) -> tuple[list[int], list[int]]:
    """Parent (-1 at a root) and depth of each ring in a spanning forest grown in breadth."""
    parent, depth = [-1] * len(around), [-1] * len(around)
    for root in range(len(around)):
        if depth[root] >= 0:
            continue
        depth[root] = 0
        queue = [root]
        for ring in queue:
            for other in around[ring]:
                if depth[other] < 0:
                    parent[other], depth[other] = ring, depth[ring] + 1
                    queue.append(other)
    return parent, depth


def _parts(around: Sequence[Sequence[int]]) -> int:
    """How many parts hang together."""
    return sum(step == 0 for step in _tree(around)[1])
