"""Builders of layout problems for the tests and benches of the solver: graphs of known weaves, with known counts."""

import itertools

from compiler.layout import (
    Between,
    CycleSign,
    DeclaredPair,
    Hint,
    LayoutProblem,
    PairState,
    RingSize,
)

Cell = tuple[int, int]


def size(inner: float, wire: float) -> RingSize:
    """The size of a ring of this inner diameter and wire, mm."""
    return RingSize(core_radius=(inner + wire) / 2, tube_radius=wire / 2)


def linked(pairs: list[tuple[int, int]]) -> tuple[DeclaredPair, ...]:
    return tuple(DeclaredPair(a=a, b=b, state=PairState.LINKED) for a, b in pairs)


def two_size_sheet(
    nodes: list[Cell],
    steps: list[Cell],
    large: RingSize,
    small: RingSize,
    node_rings: int = 2,
    edge_rings: int = 2,
) -> LayoutProblem:
    """Groups of large rings at the nodes of a lattice, a group of small rings joining each two neighbours."""
    edges = [
        (node, (node[0] + step[0], node[1] + step[1]))
        for node in nodes
        for step in steps
        if (node[0] + step[0], node[1] + step[1]) in nodes
    ]
    rings: list[RingSize] = []
    at: dict[Cell, tuple[int, ...]] = {}
    for node in nodes:
        at[node] = tuple(range(len(rings), len(rings) + node_rings))
        rings += [large] * node_rings
    strands = [*at.values()]
    links = []
    for one, other in edges:
        group = tuple(range(len(rings), len(rings) + edge_rings))
        rings += [small] * edge_rings
        strands.append(group)
        links += [(ring, hub) for ring in group for hub in (*at[one], *at[other])]
    return LayoutProblem(
        rings=tuple(rings), pairs=linked(links), strands=tuple(s for s in strands if len(s) > 1)
    )


TRIANGULAR = [(1, 0), (0, 1), (1, -1)]  # axial coordinates
SQUARE = [(1, 0), (0, 1)]


def rhombus(rows: int, columns: int, large: RingSize, small: RingSize) -> LayoutProblem:
    """The doubled triangular weave on a rhombus: 3x3 has 18 large, 32 small rings and 128 links."""
    cells = [(q, r) for q in range(rows) for r in range(columns)]
    return two_size_sheet(cells, TRIANGULAR, large, small)


def hexagon(radius: int, large: RingSize, small: RingSize) -> LayoutProblem:
    """The doubled triangular weave on a hexagon: radius 1 has 14 large, 24 small rings and 96 links."""
    span = range(-radius, radius + 1)
    cells = [(q, r) for q in span for r in span if abs(q + r) <= radius]
    return two_size_sheet(cells, TRIANGULAR, large, small)


def square(
    rows: int, columns: int, large: RingSize, small: RingSize, node_rings: int = 1, edge_rings: int = 1
) -> LayoutProblem:
    """Large rings on a square lattice joined by small ones; 2 and 2 is eight-in-two."""
    cells = [(q, r) for q in range(rows) for r in range(columns)]
    return two_size_sheet(cells, SQUARE, large, small, node_rings, edge_rings)


def rows_sheet(rows: int, columns: int, ring: RingSize, reach: int, hinted: bool = True) -> LayoutProblem:
    """A staggered sheet: reach 2 is four-in-one, (R-1)(2n-1) links; reach 3 is six-in-one, (R-1)(3n-2) links."""
    links = []
    for row in range(rows - 1):
        shift = row % 2  # odd rows stand half a step to the right
        steps = {2: (-1 + shift, shift), 3: (-1, 0, 1)}[reach]
        for column in range(columns):
            links += [
                (row * columns + column, (row + 1) * columns + column + step)
                for step in steps
                if 0 <= column + step < columns
            ]
    stagger = 0.5 if reach == 2 else 0.0
    hints = tuple(
        Hint(
            ring=row * columns + column,
            place=(column + stagger * (row % 2), float(row), 0.0),
            normal=(0.6 if row % 2 else -0.6, 0.0, 0.8),
        )
        for row in range(rows)
        for column in range(columns)
    )
    return LayoutProblem(rings=(ring,) * (rows * columns), pairs=linked(links), hints=hints if hinted else ())


def tube(rows: int, around: int, ring: RingSize, reach: int) -> LayoutProblem:
    """Rows that close on themselves: reach 2 is four-in-one, 2 (R - 1) n links; 3 is six-in-one, 3 (R - 1) n links.

    Hinted as it lies cut open on the table; the links over the cut are as long as the rows.
    """
    steps, offset = ((0, 1), 0.5) if reach == 2 else ((-1, 0, 1), 0.0)
    links = [
        (row * around + column, (row + 1) * around + (column + step) % around)
        for row in range(rows - 1)
        for column in range(around)
        for step in steps
    ]
    hints = tuple(
        Hint(ring=row * around + column, place=(column - offset * row, 1.2 * row * (1 - offset), 0.0))
        for row in range(rows)
        for column in range(around)
    )
    return LayoutProblem(rings=(ring,) * (rows * around), pairs=linked(links), hints=hints)


def seamed_tube(long: int, around: int, ring: RingSize) -> LayoutProblem:
    """A staggered sheet rolled up, its long edges closed by a row that is hinted half way between them."""
    sheet = rows_sheet(around - 1, long, ring, 2)
    first, last = len(sheet.rings), (around - 2) * long
    seam = range(long - 1)
    links = [(first + k, edge + k + end) for k in seam for edge in (0, last) for end in (0, 1)]
    hints = tuple(Hint(ring=first + k, place=(k + 0.5, (around - 2) / 2, 0.0)) for k in seam)
    places = tuple(Hint(ring=hint.ring, place=hint.place) for hint in sheet.hints)
    return LayoutProblem(
        rings=(ring,) * (first + long - 1), pairs=(*sheet.pairs, *linked(links)), hints=(*places, *hints)
    )


def chain(group: int, count: int, ring: RingSize, closed: bool = False) -> LayoutProblem:
    """Groups of rings in a row, each ring linked with all of the next group."""
    strands = [tuple(range(group * k, group * (k + 1))) for k in range(count)]
    following = [*itertools.pairwise(strands), *([(strands[-1], strands[0])] if closed else [])]
    links = [(a, b) for one, other in following for a in one for b in other]
    return LayoutProblem(
        rings=(ring,) * (group * count),
        pairs=linked(links),
        strands=tuple(strands) if group > 1 else (),
    )


def eye_chain(count: int, ring: RingSize, reach: int = 2, sign: int = 0) -> LayoutProblem:
    """Each ring through the `reach` rings before it; `sign` is that of every three neighbours, 0 leaves it open."""
    links = [(k, k - step) for k in range(count) for step in range(1, reach + 1) if k >= step]
    triples = [(k, k + 1, k + 2) for k in range(count - 2)] if sign else []
    return LayoutProblem(
        rings=(ring,) * count,
        pairs=linked(links),
        cycles=tuple(CycleSign(rings=triple, product=sign) for triple in triples),
    )


def rosette(count: int, ring: RingSize, sign: int = 0) -> LayoutProblem:
    """Every ring linked with every other; `sign` is that of every triple, 0 leaves it open."""
    triples = itertools.combinations(range(count), 3) if sign else ()
    return LayoutProblem(
        rings=(ring,) * count,
        pairs=linked([*itertools.combinations(range(count), 2)]),
        cycles=tuple(CycleSign(rings=triple, product=sign) for triple in triples),
    )


def folded_chain(units: int, ring: RingSize, plain_pairs: int) -> LayoutProblem:
    """A chain of pairs in which every so-many-th pair is folded back and the next one lies between its rings.

    No plain pair between two folds is box chain, one is byzantine. Rings of a folded pair are not side by
    side.
    """
    pairs: list[tuple[int, int]] = []
    links: list[tuple[int, int]] = []
    between: list[Between] = []
    strands: list[tuple[int, int]] = []

    def add() -> tuple[int, int]:
        pair = (2 * len(pairs), 2 * len(pairs) + 1)
        if pairs:
            links.extend((a, b) for a in pairs[-1] for b in pair)
        pairs.append(pair)
        strands.append(pair)
        return pair

    period = 2 + plain_pairs
    for index in range(units * period + 1):
        pair = add()
        # of three pairs in a row p, q, r: q folds back beside p, and r passes between the rings of p
        if index >= 2 and (index - 2) % period == 0:
            between += [
                Between(ring=ring_index, first=pairs[-3][0], second=pairs[-3][1]) for ring_index in pair
            ]
    return LayoutProblem(
        rings=(ring,) * (2 * len(pairs)),
        pairs=linked(links),
        strands=tuple(strands),
        between=tuple(between),
    )


def orbital(links_in_chain: int, ring: RingSize, collar: RingSize) -> LayoutProblem:
    """A plain chain with a collar round each joint, linked with nothing."""
    base = chain(1, links_in_chain, ring)
    rings = list(base.rings)
    pairs = list(base.pairs)
    for joint in range(links_in_chain - 1):
        rings.append(collar)
        pairs += [DeclaredPair(a=len(rings) - 1, b=joint + end, state=PairState.A_AROUND_B) for end in (0, 1)]
    return LayoutProblem(rings=tuple(rings), pairs=tuple(pairs))
