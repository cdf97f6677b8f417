"""Neighbours as columns."""

import random

import networkx
from weave_bench import Bench

from compiler.check.adjacency import adjacency


def test_neighbours_are_those_of_networkx_in_order_of_linking() -> None:
    chance = random.Random(7)
    bench = Bench()
    for _ in range(60):
        bench.strand("a")
    graph = networkx.Graph()
    graph.add_nodes_from(range(60))
    for _ in range(150):
        a, b = chance.sample(range(60), 2)
        if not graph.has_edge(a, b):
            graph.add_edge(a, b)
            bench.link(a, b)
    rows = adjacency(bench.piece())
    for node in range(60):
        assert list(rows.of(node)) == list(graph.adj[node])
        assert rows.degree(node) == graph.degree(node)


def test_an_empty_piece_has_no_neighbours() -> None:
    assert list(adjacency(Bench().piece()).start) == [0]
