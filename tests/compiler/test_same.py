"""Same weave or not: matching against networkx on small graphs, and the signed complete graph on five nodes."""

from __future__ import annotations

import itertools
import operator
import random
from collections.abc import Sequence
from dataclasses import replace

import networkx as nx
import pytest

from compiler.same.match import Outcome, match
from compiler.same.structure import Structure

Edges = dict[tuple[int, int], int]


def structure(
    count: int, edges: Edges, colours: list[str] | None = None, over: Sequence[tuple[int, int]] = ()
) -> Structure:
    links: list[dict[int, int]] = [{} for _ in range(count)]
    for (a, b), sign in edges.items():
        links[a][b] = links[b][a] = sign
    others: list[dict[int, tuple[str, ...]]] = [{} for _ in range(count)]
    for a, b in over:
        others[a][b], others[b][a] = ("over",), ("under",)
    return Structure(
        colours=tuple(colours or ["ring"] * count),
        links=tuple(links),
        others=tuple(others),
        poses=((),) * count,
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
    assert match(structure(count, edges), structure(count, other)) is Outcome.SAME


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
    assert match(structure(count, first), structure(count, second)) is wanted


def test_five_rings_all_linked_have_seven_arrangements() -> None:
    """Switching classes of the complete graph on five nodes (two-graphs): 7.

    Source: Mallows and Sloane, "Two-graphs, switching classes and Euler graphs are equal in number", SIAM J. Appl.
    Math. 28 (1975), 876-880, and OEIS A002854 (1, 1, 2, 3, 7, 16, ...); both named from memory.
    """
    pairs = list(itertools.combinations(range(5), 2))
    kinds: list[Structure] = []
    for signs in itertools.product((1, -1), repeat=len(pairs)):
        one = structure(5, dict(zip(pairs, signs, strict=True)))
        if not any(match(known, one) is Outcome.SAME for known in kinds):
            kinds.append(one)
    assert len(kinds) == 7
    mirrored = [
        [number for number, other in enumerate(kinds) if match(one.mirrored(), other) is Outcome.SAME]
        for one in kinds
    ]
    assert sorted(len(images) for images in mirrored) == [1] * 7
    assert sum(images == [number] for number, images in enumerate(mirrored)) == 1


def test_colours_must_agree() -> None:
    edges = {(0, 1): 1, (1, 2): 1}
    first = structure(3, edges, ["a", "b", "a"])
    second = structure(3, edges, ["b", "a", "a"])
    assert match(first, second) is Outcome.DIFFERENT
    assert match(first, structure(3, edges, ["a", "b", "a"])) is Outcome.SAME


# ---------------------------------------------------------------- kinds, poses, relations and signs at once


def random_weave(rng: random.Random, count: int) -> nx.DiGraph:
    """Kinds and poses of few sorts, so that much is alike; some rings linked, some over others."""
    made = nx.DiGraph()
    for node in range(count):
        made.add_node(node, kind=rng.choice("ab"), pose=rng.choice(("", "", "spread")))
    for a, b in itertools.combinations(range(count), 2):
        chance = rng.random()
        if chance < 0.45:
            sign = rng.choice((1, 1, -1))
            made.add_edge(a, b, sign=sign)
            made.add_edge(b, a, sign=sign)
        elif chance < 0.6:
            made.add_edge(*rng.choice(((a, b), (b, a))), sign=0)
    return made


def structure_of_graph(weave: nx.DiGraph) -> Structure:
    count = len(weave)
    signs = {(a, b): sign for a, b, sign in weave.edges(data="sign") if sign and a < b}
    over = [(a, b) for a, b, sign in weave.edges(data="sign") if not sign]
    made = structure(count, signs, [weave.nodes[node]["kind"] for node in range(count)], over)
    return replace(made, poses=tuple((weave.nodes[node]["pose"],) for node in range(count)))


def shuffled(rng: random.Random, weave: nx.DiGraph) -> nx.DiGraph:
    """The same weave, numbered anew and with some rings turned round."""
    count = len(weave)
    number = rng.sample(range(count), count)
    turned = [rng.choice((1, -1)) for _ in range(count)]
    made = nx.DiGraph()
    made.add_nodes_from((number[node], dict(weave.nodes[node])) for node in range(count))
    made.add_edges_from(
        (number[a], number[b], {"sign": sign * turned[a] * turned[b]})
        for a, b, sign in weave.edges(data="sign")
    )
    return made


def weave_oracle(first: nx.DiGraph, second: nx.DiGraph) -> bool:
    """Some isomorphism of networkx keeps kinds, poses, links and overs, and the signs of a basis of loops."""
    matcher = nx.isomorphism.DiGraphMatcher(
        first, second, operator.eq, lambda a, b: abs(a["sign"]) == abs(b["sign"])
    )
    links = [
        nx.Graph((a, b, {"sign": sign}) for a, b, sign in each.edges(data="sign") if sign)
        for each in (first, second)
    ]
    basis = nx.cycle_basis(links[0])
    return any(
        all(product(links[0], loop) == product(links[1], [image[node] for node in loop]) for loop in basis)
        for image in matcher.isomorphisms_iter()
    )


@pytest.mark.parametrize("seed", range(300))
def test_agrees_with_networkx_on_kinds_poses_relations_and_signs(seed: int) -> None:
    rng = random.Random(seed)
    first = random_weave(rng, rng.randint(2, 7))
    second = shuffled(rng, first)
    assert match(structure_of_graph(first), structure_of_graph(second)) is Outcome.SAME
    change = seed % 3
    for a, b, sign in list(second.edges(data="sign")):
        if change and a < b and sign and rng.random() < 0.3:
            second.edges[a, b]["sign"] = second.edges[b, a]["sign"] = -sign
    if change == 2:
        a, b = rng.sample(range(len(second)), 2)
        poses = second.nodes[a]["pose"], second.nodes[b]["pose"]
        second.nodes[b]["pose"], second.nodes[a]["pose"] = poses
    wanted = Outcome.SAME if weave_oracle(first, second) else Outcome.DIFFERENT
    assert match(structure_of_graph(first), structure_of_graph(second)) is wanted


# ---------------------------------------------------------------- weaves of great regularity are decided


def regular(weave: nx.Graph) -> Structure:
    return structure(len(weave), {(min(a, b), max(a, b)): 1 for a, b in weave.edges})


REGULAR = {
    "rook's graph and Shrikhande graph": (
        nx.line_graph(nx.complete_bipartite_graph(4, 4)),
        nx.Graph(
            ((a, b), ((a + x) % 4, (b + y) % 4))
            for a in range(4)
            for b in range(4)
            for x, y in ((0, 1), (1, 0), (1, 1))
        ),
    ),
    "one bracelet and two": (
        nx.cycle_graph(240),
        nx.disjoint_union(nx.cycle_graph(120), nx.cycle_graph(120)),
    ),
    "tube and a tube joined one ring on": (
        nx.circulant_graph(240, [1, 12]),
        nx.cartesian_product(nx.cycle_graph(12), nx.cycle_graph(20)),
    ),
    "cube of six dimensions and a twisted one": (
        nx.hypercube_graph(6),
        nx.disjoint_union(nx.hypercube_graph(5), nx.hypercube_graph(5)),
    ),
}


@pytest.mark.parametrize("name", REGULAR)
def test_weaves_that_counting_cannot_tell_apart_are_decided(name: str) -> None:
    one, other = (regular(nx.convert_node_labels_to_integers(each)) for each in REGULAR[name])
    assert match(one, other) is Outcome.DIFFERENT
    assert match(other, one) is Outcome.DIFFERENT
    for each in (one, other):
        edges = {(a, b): sign for a, near in enumerate(each.links) for b, sign in near.items() if a < b}
        count = len(each.colours)
        assert match(each, structure(count, relabelled(random.Random(1), count, edges))) is Outcome.SAME


def test_a_bracelet_that_is_crossed_once_is_told_from_one_that_is_not() -> None:
    edges = {(node, node + 1): 1 for node in range(199)} | {(0, 199): 1}
    crossed = edges | {(57, 58): -1}
    moved = edges | {(101, 102): -1}
    assert match(structure(200, edges), structure(200, crossed)) is Outcome.DIFFERENT
    assert match(structure(200, crossed), structure(200, moved)) is Outcome.SAME


def test_many_rings_that_can_change_places_are_matched_at_once() -> None:
    """A hub with spokes, one crossed loop among pairs of twins: as many orders as would never be tried one by one."""
    pairs = 30
    edges: Edges = {}
    for pair in range(pairs):
        for a, b in itertools.product((4 * pair, 4 * pair + 1), (4 * pair + 2, 4 * pair + 3)):
            edges[a, b] = 1
        if pair:
            for a, b in itertools.product((4 * pair - 2, 4 * pair - 1), (4 * pair, 4 * pair + 1)):
                edges[a, b] = 1
    crossed = edges | {(0, 2): -1}
    further = edges | {(8, 10): -1}
    assert match(structure(4 * pairs, edges), structure(4 * pairs, crossed)) is Outcome.DIFFERENT
    assert match(structure(4 * pairs, crossed), structure(4 * pairs, further)) is Outcome.DIFFERENT
    mirrored = {(4 * pairs - 1 - b, 4 * pairs - 1 - a): sign for (a, b), sign in further.items()}
    assert match(structure(4 * pairs, further), structure(4 * pairs, mirrored)) is Outcome.SAME


def four_in_one(rows: int, width: int, sides: Sequence[int]) -> Structure:
    """A sheet, every other row half a place to the right; each ring goes through the two below, from the row's side."""
    edges: Edges = {}
    for row in range(1, rows):
        for column, step in itertools.product(range(width), (0, 1)):
            below = column + step - (row % 2 == 0)
            if 0 <= below < width:
                edges[(row - 1) * width + below, row * width + column] = sides[row]
    return structure(rows * width, edges)


def test_from_which_side_a_row_of_four_in_one_enters_is_no_fact_of_the_weave() -> None:
    """Every loop of links enters a row as often as it leaves it, so how the rows lean has to be said as a pose."""
    plain = four_in_one(5, 5, (1,) * 5)
    for sides in itertools.product((1, -1), repeat=5):
        assert match(plain, four_in_one(5, 5, sides)) is Outcome.SAME
