"""Rings, links and degrees of regular weaves against graphs that networkx makes, and against published counts.

Triangular and square lattices: rhombic and hexagonal matchstick numbers, OEIS A045944 and A045945, centred
hexagonal numbers, A003215. Four in one: each ring of mail goes through two of the row above and two of the row
below (Wijnhoven, Journal of Conservation and Museum Studies 13(1):8, 2015); six in one: a denser variant (Dries,
Wallmersperger and Kessler, Acta Mechanica, 2022). Counts of finite patches follow from that: R rows of n have
(R - 1)(2n - 1) and (R - 1)(3n - 2) links.
"""

from collections import Counter

import networkx as nx
import pytest
from bench_text import count, graph, piece, strands


def subdivided(lattice: nx.Graph) -> nx.Graph:
    """Every edge a node between its ends: a weave whose neighbours are joined by connectors."""
    found = nx.Graph()
    found.add_nodes_from(lattice.nodes)
    for number, (a, b) in enumerate(lattice.edges):
        found.add_edges_from([(a, ("edge", number)), (("edge", number), b)])
    return found


def triangular(places: set[tuple[int, int]]) -> nx.Graph:
    """Axial coordinates: neighbours differ by (1, 0), (0, 1) or (1, -1)."""
    found = nx.Graph()
    found.add_nodes_from(places)
    for q, r in places:
        for dq, dr in ((1, 0), (0, 1), (1, -1)):
            if (q + dq, r + dr) in places:
                found.add_edge((q, r), (q + dq, r + dr))
    return found


def sheet(widths: str, options: str, quantity: str = "1 link", by: str = "1 link as seam") -> nx.Graph:
    return strands(piece(f"sheet point of {widths}{options}:\n    pass {quantity} joined all round by {by}"))


@pytest.mark.parametrize(("rows", "across"), [(1, 4), (2, 2), (2, 3), (3, 3), (4, 4), (5, 7)])
def test_a_leaning_sheet_is_a_rhombus_of_the_triangular_lattice(rows: int, across: int) -> None:
    lattice = triangular({(q, r) for q in range(across) for r in range(rows)})
    assert lattice.number_of_edges() == 3 * rows * across - 2 * rows - 2 * across + 1
    for options in (", leaning right", ", leaning left"):
        assert nx.is_isomorphic(sheet(f"{rows} rows of {across}", options), subdivided(lattice))


@pytest.mark.parametrize("radius", [1, 2, 3])
def test_a_centred_sheet_is_a_hexagon_of_the_triangular_lattice(radius: int) -> None:
    hexagon = nx.ego_graph(nx.triangular_lattice_graph(20, 20), (5, 10), radius=radius)
    assert hexagon.number_of_nodes() == 3 * radius * (radius + 1) + 1
    assert hexagon.number_of_edges() == 3 * radius * (3 * radius + 1)
    widths = f"{radius + 1} to {2 * radius + 1}, {2 * radius} down to {radius + 1}"
    woven = piece(f"sheet point of {widths}, centred:\n    pass 2 large joined all round by 2 small as seam")
    assert nx.is_isomorphic(strands(woven), subdivided(hexagon))
    assert (count(woven, "large"), count(woven, "small"), len(woven.link_a)) == (
        2 * hexagon.number_of_nodes(),
        2 * hexagon.number_of_edges(),
        8 * hexagon.number_of_edges(),
    )


@pytest.mark.parametrize("side", [1, 2, 3, 4])
def test_a_widening_sheet_is_a_triangle(side: int) -> None:
    lattice = triangular({(q, r) for r in range(side + 1) for q in range(side + 1 - r)})
    assert lattice.number_of_edges() == 3 * side * (side + 1) // 2
    assert nx.is_isomorphic(sheet(f"1 to {side + 1}", ", centred"), subdivided(lattice))


@pytest.mark.parametrize(("rows", "across"), [(2, 2), (3, 3), (4, 5)])
def test_an_aligned_sheet_is_the_square_lattice(rows: int, across: int) -> None:
    lattice = nx.grid_2d_graph(rows, across)
    assert lattice.number_of_edges() == 2 * rows * across - rows - across
    assert nx.is_isomorphic(sheet(f"{rows} rows of {across}", ""), subdivided(lattice))


@pytest.mark.parametrize(("rows", "across"), [(3, 4), (4, 3), (3, 5)])
def test_an_aligned_tube_is_the_lattice_wound_up(rows: int, across: int) -> None:
    lattice = nx.cartesian_product(nx.path_graph(rows), nx.cycle_graph(across))
    woven = piece(
        f"tube cuff of {rows} rows of {across}:\n    pass 1 link joined all round by 1 link as seam"
    )
    assert nx.is_isomorphic(graph(woven), subdivided(lattice))


@pytest.mark.parametrize(("rows", "across", "links"), [(3, 5, 18), (5, 5, 36), (7, 10, 114), (10, 20, 351)])
def test_four_in_one(rows: int, across: int, links: int) -> None:
    found = graph(
        piece(f"sheet mesh of {rows} rows of {across}, staggered:\n    pass 1 link through the two below")
    )
    assert (found.number_of_nodes(), found.number_of_edges()) == (rows * across, links)
    assert links == (rows - 1) * (2 * across - 1)
    degrees = Counter(dict(found.degree()).values())
    assert max(degrees) == 4
    assert degrees[4] == (rows - 2) * (across - 1)
    assert nx.is_bipartite(found) and nx.is_connected(found)


@pytest.mark.parametrize(("rows", "across", "links"), [(3, 5, 26), (5, 5, 52), (7, 10, 168)])
def test_six_in_one(rows: int, across: int, links: int) -> None:
    found = graph(piece(f"sheet mesh of {rows} rows of {across}:\n    pass 1 link through the three below"))
    assert (found.number_of_nodes(), found.number_of_edges()) == (rows * across, links)
    assert links == (rows - 1) * (3 * across - 2)
    degrees = Counter(dict(found.degree()).values())
    assert max(degrees) == 6
    assert degrees[6] == (rows - 2) * (across - 2)


@pytest.mark.parametrize("size", [1, 2, 3])
@pytest.mark.parametrize("groups", [3, 5, 8])
def test_chains_of_so_many_and_so_many(size: int, groups: int) -> None:
    """k in k: every ring of a group goes through every ring of the one before."""
    line = graph(piece(f"line chain of {groups}:\n    pass {size} link through the one before"))
    hoop = graph(
        piece(f"round chain of {groups}:\n    pass {size} link through the one before and the one after")
    )
    assert line.number_of_nodes() == hoop.number_of_nodes() == size * groups
    assert line.number_of_edges() == size**2 * (groups - 1)
    assert hoop.number_of_edges() == size**2 * groups
    assert nx.is_isomorphic(hoop, nx.lexicographic_product(nx.cycle_graph(groups), nx.empty_graph(size)))
