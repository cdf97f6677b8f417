"""The export and `same` on weaves by chance: made in another order, with rings turned round, mirrored, or changed.

A weave is drawn first, as signs of pairs and what lies over what; a text makes its rings one by one in some order.
networkx finds the isomorphisms, and the facts of the export are compared under each of them.
"""

from __future__ import annotations

import itertools
import math
import operator
import random
from dataclasses import dataclass, replace

import networkx as nx
import pytest
from test_facts import HEAD

from compiler.expand.driver import expand
from compiler.facts import cycle_rows, relation_rows
from compiler.same.compare import compare
from compiler.weave import Weave
from grammar.parse import parse
from notation.source import Source

Pair = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A weave: +1 or -1 by linked pair, and (upper, lower) for each pair that overlaps."""

    count: int
    signs: dict[Pair, int]
    overs: tuple[Pair, ...]

    def text(self, order: list[int]) -> str:
        """Its rings made in an order, each through those of its neighbours that are there."""
        lines, made = [], list[int]()
        for ring in order:
            path = [
                f"r{other}" + (" from behind" if self.signs[pair(ring, other)] < 0 else "")
                for other in made
                if pair(ring, other) in self.signs
            ]
            over = [f"r{low}" for high, low in self.overs if high == ring and low in made]
            under = [f"r{high}" for high, low in self.overs if low == ring and high in made]
            clauses = [
                f"pass 1 link as r{ring} through {' and '.join(path)}" if path else f"take 1 link as r{ring}"
            ]
            clauses += [f"over {' and '.join(over)}"] if over else []
            clauses += [f"under {' and '.join(under)}"] if under else []
            lines.append(f"    {' '.join(clauses)}\n")
            made.append(ring)
        return "".join(lines)

    def orders(self, rng: random.Random) -> list[int]:
        """An order in which every ring but the first goes through one that is there."""
        order = [rng.randrange(self.count)]
        while len(order) < self.count:
            near = [
                r
                for r in range(self.count)
                if r not in order and any(pair(r, o) in self.signs for o in order)
            ]
            order.append(rng.choice(near))
        return order


def pair(a: int, b: int) -> Pair:
    return (min(a, b), max(a, b))


def drawn(seed: int) -> tuple[random.Random, Drawn]:
    """Three to six rings that hang together, some of the unlinked ones over others."""
    rng = random.Random(seed)
    count = rng.randint(3, 6)
    signs = {pair(ring, rng.randrange(ring)): rng.choice((1, -1)) for ring in range(1, count)}
    overs = []
    for a, b in itertools.combinations(range(count), 2):
        if (a, b) not in signs and rng.random() < 0.55:
            signs[a, b] = rng.choice((1, -1))
        elif (a, b) not in signs and rng.random() < 0.4:
            overs.append(rng.choice(((a, b), (b, a))))
    return rng, Drawn(count=count, signs=signs, overs=tuple(overs))


def turned(weave: Drawn, ring: int) -> Drawn:
    """The other side of one ring is called its front."""
    return replace(weave, signs={each: -sign if ring in each else sign for each, sign in weave.signs.items()})


def weave_of(text: str, units: str = "") -> Weave:
    pattern, told = parse(Source(name="test", text=f"{HEAD}{units}piece star:\n{text}"))
    assert told == ()
    return expand(pattern, {})[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the export says of a piece, by the names of its rings."""

    signs: dict[frozenset[str], int]
    loops: tuple[tuple[tuple[str, ...], int], ...]
    overs: frozenset[tuple[str, str]]


def told_of(text: str, units: str = "") -> Told:
    (piece,) = weave_of(text, units).pieces
    names = [piece.groups[group].name for group in piece.group]
    rows = cycle_rows(piece)
    assert rows is not None
    overs = set()
    for row in relation_rows(piece):
        for other in row["others"]:  # type: ignore[attr-defined]
            two = (names[row["ring"]], names[other])  # type: ignore[call-overload]
            overs.add(two if row["kind"] == "over" else two[::-1])
    links = zip(piece.link_a, piece.link_b, piece.link_sign, strict=True)
    return Told(
        signs={frozenset((names[a], names[b])): sign for a, b, sign in links},
        loops=tuple((tuple(names[ring] for ring in row["rings"]), row["product"]) for row in rows),  # type: ignore[misc, attr-defined]
        overs=frozenset(overs),
    )


def product(told: Told, loop: tuple[str, ...]) -> int:
    return math.prod(told.signs[frozenset(two)] for two in itertools.pairwise((*loop, loop[0])))


SEEDS = range(30)


@pytest.mark.parametrize("seed", SEEDS)
def test_another_order_and_another_front_give_the_same_relations_and_products(seed: int) -> None:
    rng, weave = drawn(seed)
    first = told_of(weave.text(weave.orders(rng)))
    again = turned(weave, rng.randrange(weave.count))
    second = told_of(again.text(again.orders(rng)))
    assert first.overs == second.overs == {(f"r{a}", f"r{b}") for a, b in weave.overs}
    for one, other in ((first, second), (second, first)):
        assert [product(other, loop) for loop, _ in one.loops] == [value for _, value in one.loops]
    assert len(first.loops) == len(nx.cycle_basis(nx.Graph(list(weave.signs))))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_mirror_image_has_the_opposite_product_round_odd_loops(seed: int) -> None:
    rng, weave = drawn(seed)
    unit = "unit knot:\n" + weave.text(weave.orders(rng))
    plain, mirrored = told_of("    make knot\n", unit), told_of("    make knot mirrored\n", unit)
    assert plain.overs == mirrored.overs
    for (loop, one), (again, other) in zip(plain.loops, mirrored.loops, strict=True):
        assert loop == again
        assert other == (-one if len(loop) % 2 else one)


def isomorphic(first: Drawn, second: Drawn) -> bool:
    """Some isomorphism keeps links, overs and the products round a basis of loops."""

    def graph(weave: Drawn) -> nx.DiGraph:
        made = nx.DiGraph()
        made.add_nodes_from(range(weave.count))
        made.add_edges_from((a, b, {"what": "link"}) for two in weave.signs for a, b in (two, two[::-1]))
        made.add_edges_from((a, b, {"what": "over"}) for a, b in weave.overs)
        return made

    def value(weave: Drawn, loop: list[int]) -> int:
        found = 1
        for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
            found *= weave.signs[pair(a, b)]
        return found

    basis = nx.cycle_basis(nx.Graph(list(first.signs)))
    matcher = nx.isomorphism.DiGraphMatcher(graph(first), graph(second), edge_match=operator.eq)
    return any(
        all(value(first, loop) == value(second, [image[ring] for ring in loop]) for loop in basis)
        for image in matcher.isomorphisms_iter()
    )


def changed(rng: random.Random, weave: Drawn) -> Drawn:
    """One side of entry, or one over, the other way round."""
    if weave.overs and rng.random() < 0.4:
        place = rng.randrange(len(weave.overs))
        overs = list(weave.overs)
        overs[place] = overs[place][::-1]
        return replace(weave, overs=tuple(overs))
    one = rng.choice(list(weave.signs))
    return replace(weave, signs=weave.signs | {one: -weave.signs[one]})


def test_texts_are_the_same_weave_exactly_when_an_isomorphism_keeps_all_facts() -> None:
    verdicts = set()
    for seed in range(60):
        rng, weave = drawn(seed)
        other = changed(rng, weave) if seed % 3 else turned(weave, rng.randrange(weave.count))
        found = compare(*(weave_of(each.text(each.orders(rng))) for each in (weave, other)))
        assert (found is None) is isomorphic(weave, other), seed
        verdicts.add((seed % 3 > 0, found is None))
    assert verdicts == {(False, True), (True, True), (True, False)}
