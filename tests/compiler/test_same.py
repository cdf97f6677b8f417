"""Same weave or not: matching against networkx on small graphs, and the signed complete graph on five nodes."""

from __future__ import annotations

import itertools
import random

import networkx as nx
import pytest

from compiler.same.match import Keep, Outcome, match
from compiler.same.structure import Structure

Edges = dict[tuple[int, int], int]


def structure(count: int, edges: Edges, colours: list[str] | None = None) -> Structure:
    links: list[dict[int, int]] = [{} for _ in range(count)]
    for (a, b), sign in edges.items():
        links[a][b] = links[b][a] = sign
    return Structure(
        colours=tuple(colours or ["ring"] * count),
        links=tuple(links),
        others=tuple({} for _ in range(count)),
        names=tuple(map(str, range(count))),
        poses=(),
    )


def random_edges(rng: random.Random, count: int, chance: float) -> Edges:
    pairs = itertools.combinations(range(count), 2)
    return {pair: rng.choice((1, -1)) for pair in pairs if rng.random() < chance}


def relabelled(rng: random.Random, count: int, edges: Edges) -> Edges:
    """The same weave: nodes renumbered, and some rings turned round."""
    number = list(range(count))
    rng.shuffle(number)
    turned = [rng.choice((1, -1)) for _ in range(count)]
    return {
        (min(number[a], number[b]), max(number[a], number[b])): sign * turned[a] * turned[b]
        for (a, b), sign in edges.items()
    }


def graph(count: int, edges: Edges) -> nx.Graph:
    made = nx.Graph()
    made.add_nodes_from(range(count))
    made.add_edges_from((a, b, {"sign": sign}) for (a, b), sign in edges.items())
    return made


def oracle(count: int, first: Edges, second: Edges) -> bool:
    """Some isomorphism of networkx under which every loop of a cycle basis keeps the product of its signs."""
    one, two = graph(count, first), graph(count, second)
    matcher = nx.isomorphism.GraphMatcher(one, two)
    basis = nx.cycle_basis(one)
    for image in matcher.isomorphisms_iter():
        if all(product(one, loop) == product(two, [image[node] for node in loop]) for loop in basis):
            return True
    return False


def product(one: nx.Graph, loop: list[int]) -> int:
    value = 1
    for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
        value *= one.edges[a, b]["sign"]
    return value


@pytest.mark.parametrize("seed", range(40))
def test_renumbering_and_turning_rings_round_changes_nothing(seed: int) -> None:
    rng = random.Random(seed)
    count = rng.randint(3, 9)
    edges = random_edges(rng, count, 0.5)
    other = relabelled(rng, count, edges)
    assert match(structure(count, edges), structure(count, other), Keep()) is Outcome.SAME


@pytest.mark.parametrize("seed", range(120))
def test_agrees_with_networkx_on_small_graphs(seed: int) -> None:
    rng = random.Random(seed)
    count = rng.randint(3, 6)
    first = random_edges(rng, count, 0.6)
    second = relabelled(rng, count, first)
    for pair in second:
        if rng.random() < 0.3:
            second[pair] = -second[pair]
    wanted = Outcome.SAME if oracle(count, first, second) else Outcome.DIFFERENT
    assert match(structure(count, first), structure(count, second), Keep()) is wanted


def test_five_rings_all_linked_have_seven_arrangements() -> None:
    """Switching classes of the complete graph on five nodes (two-graphs): 7.

    Source: Mallows and Sloane, "Two-graphs, switching classes and Euler graphs are equal in number", SIAM J. Appl.
    Math. 28 (1975), 876-880, and OEIS A002854 (1, 1, 2, 3, 7, 16, ...); both named from memory.
    """
    pairs = list(itertools.combinations(range(5), 2))
    kinds: list[Structure] = []
    for signs in itertools.product((1, -1), repeat=len(pairs)):
        one = structure(5, dict(zip(pairs, signs, strict=True)))
        if not any(match(known, one, Keep()) is Outcome.SAME for known in kinds):
            kinds.append(one)
    assert len(kinds) == 7
    mirrored = [
        [
            number
            for number, other in enumerate(kinds)
            if match(one, other, Keep(mirrored=True)) is Outcome.SAME
        ]
        for one in kinds
    ]
    assert sorted(len(images) for images in mirrored) == [1] * 7
    assert sum(images == [number] for number, images in enumerate(mirrored)) == 1


def test_colours_must_agree() -> None:
    edges = {(0, 1): 1, (1, 2): 1}
    first = structure(3, edges, ["a", "b", "a"])
    second = structure(3, edges, ["b", "a", "a"])
    assert match(first, second, Keep()) is Outcome.DIFFERENT
    assert match(first, structure(3, edges, ["a", "b", "a"]), Keep()) is Outcome.SAME
