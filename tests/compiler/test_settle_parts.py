"""The parts of the search by themselves: signs of links, contacts of circles, drawings of graphs."""

import itertools
import math

import numpy as np
import pytest
import solver_graphs as graphs

from compiler.geometry import least_distance, link_sign, pair_state
from compiler.layout import Circle, CycleSign, PairState
from compiler.settle.contacts import find_contacts, linking, near_pairs
from compiler.settle.drawing import Graph, draw_graph
from compiler.settle.signs import chosen_signs, loop_links


def test_signs_of_links_follow_from_signs_of_loops() -> None:
    cycles = (
        CycleSign(rings=(0, 1, 2), product=-1),
        CycleSign(rings=(0, 2, 3), product=1),
        CycleSign(rings=(0, 1, 2, 3), product=-1),
    )
    present = {(0, 1): 1, (1, 2): 1, (0, 2): 1, (2, 3): 1, (0, 3): 0}
    chosen = chosen_signs(cycles, present)
    assert chosen is not None
    for cycle in cycles:
        assert math.prod(chosen[link] for link in loop_links(cycle)) == cycle.product
    turned = [link for link, sign in chosen.items() if present[link] and sign != present[link]]
    assert len(turned) <= 1
    against = (*cycles[:2], CycleSign(rings=(0, 1, 2, 3), product=1))
    assert chosen_signs(against, present) is None


def test_states_and_contacts_of_the_search_are_those_of_the_closed_formulas() -> None:
    source = np.random.default_rng(5)
    count = 40
    places = source.uniform(-4, 4, (3, count))
    normals = source.normal(size=(3, count))
    normals /= np.sqrt((normals**2).sum(axis=0))
    radii = source.uniform(1, 4, count)
    a, b = near_pairs(places, radii + 0.5, np.arange(count))
    circles = [
        Circle(
            centre=tuple(places[:, k].tolist()),
            normal=tuple(normals[:, k].tolist()),
            core_radius=float(radii[k]),
            tube_radius=0.1,
        )
        for k in range(count)
    ]
    near = {
        (i, j)
        for i, j in itertools.combinations(range(count), 2)
        if math.dist(circles[i].centre, circles[j].centre) < radii[i] + radii[j] + 1
    }
    assert set(zip(a.tolist(), b.tolist(), strict=True)) == near
    sign, around = linking(places, normals, radii, a, b)
    contacts = find_contacts(places, normals, radii, a, b, np.full(a.size, 20.0))
    gap = places[:, contacts.b] + radii[contacts.b] * contacts.on_b
    gap -= places[:, contacts.a] + radii[contacts.a] * contacts.on_a
    least = np.full(a.size, np.inf)
    np.minimum.at(least, contacts.pair, np.sqrt((gap**2).sum(axis=0)))
    states = {1: PairState.A_AROUND_B, -1: PairState.B_AROUND_A}
    for k, (i, j) in enumerate(zip(a.tolist(), b.tolist(), strict=True)):
        assert link_sign(circles[i], circles[j]) == sign[k]
        expected = states.get(int(around[k]), PairState.LINKED if sign[k] else PairState.APART)
        assert pair_state(circles[i], circles[j]) is expected
        assert least[k] == pytest.approx(least_distance(circles[i], circles[j])[1], abs=0.01)


def test_a_graph_with_a_regular_drawing_is_drawn_regularly() -> None:
    for cells, steps in (
        ([(q, r) for q in range(4) for r in range(5)], graphs.SQUARE),
        ([(q, r) for q in range(4) for r in range(4)], graphs.TRIANGULAR),
        # rhombi joined at their tips: nothing holds them straight but the wish to be
        (
            sorted({(q + 2 * k, r + 2 * k) for k in range(4) for q in range(3) for r in range(3)}),
            graphs.TRIANGULAR,
        ),
    ):
        number = {cell: k for k, cell in enumerate(cells)}
        edges = [
            (number[q, r], number[q + dq, r + dr])
            for q, r in cells
            for dq, dr in steps
            if (q + dq, r + dr) in number
        ]
        graph = Graph(
            count=len(cells),
            edge_a=np.array([a for a, _ in edges]),
            edge_b=np.array([b for _, b in edges]),
            lengths=np.full(len(edges), 4.0),
            joint=np.zeros(len(cells), dtype=bool),
        )
        plane = draw_graph(graph)
        step = np.sqrt(((plane[:, graph.edge_a] - plane[:, graph.edge_b]) ** 2).sum(axis=0))
        assert abs(step - 4.0).max() < 0.15
        distances = np.sqrt(((plane[:, :, None] - plane[:, None, :]) ** 2).sum(axis=0)) + 9 * np.eye(
            len(cells)
        )
        assert distances.min() > 3.7


def test_a_large_graph_is_drawn_from_pivots_without_folds() -> None:
    cells = [(q, r) for q in range(40) for r in range(20)]
    number = {cell: k for k, cell in enumerate(cells)}
    edges = [
        (number[q, r], number[q + dq, r + dr])
        for q, r in cells
        for dq, dr in graphs.SQUARE
        if (q + dq, r + dr) in number
    ]
    graph = Graph(
        count=len(cells),
        edge_a=np.array([a for a, _ in edges]),
        edge_b=np.array([b for _, b in edges]),
        lengths=np.full(len(edges), 4.0),
        joint=np.zeros(len(cells), dtype=bool),
    )
    plane = draw_graph(graph)
    step = np.sqrt(((plane[:, graph.edge_a] - plane[:, graph.edge_b]) ** 2).sum(axis=0))
    assert 3.2 < step.min() <= step.max() < 4.6
    distances = np.sqrt(((plane[:, :, None] - plane[:, None, :]) ** 2).sum(axis=0)) + 9 * np.eye(len(cells))
    assert distances.min() > 3.0
