"""How long a four-in-one sheet takes to expand and to check, beside networkx on the same links in the same run.

    python tests/bench/sheet.py [rings ...]

For each size (1,000, 10,000, 100,000 and 1,000,000 rings unless sizes are given) prints the seconds of processor
time that expansion and checks take, those in which networkx builds the graph of the same links and says whether it
is connected, the ratio of the two, and the largest memory of the process so far.
"""

from __future__ import annotations

import resource
import sys
from time import process_time

import networkx as nx

from compiler.check.run import check
from compiler.expand.driver import expand
from grammar.parse import parse
from notation.source import Source

SIZES = (1_000, 10_000, 100_000, 1_000_000)


def text(rings: int) -> str:
    """A staggered sheet of about so many rings, as square as it comes."""
    rows = max(2, round(rings**0.5))
    return (
        'title "Carina"\n'
        "ring link: inner 5 mm, wire 1.2 mm, metal copper\n"
        "piece sheet-of-rings:\n"
        f"    sheet mesh of {rows} rows of {rings // rows}, staggered:\n"
        "        pass 1 link through the two below\n"
    )


def main(sizes: tuple[int, ...]) -> None:
    print(f"{'rings':>9} {'links':>9} {'expand':>8} {'check':>8} {'networkx':>9} {'ratio':>6} {'memory':>8}")
    for size in sizes:
        pattern, _ = parse(Source(name="sheet.annulet", text=text(size)))
        start = process_time()
        weave, told = expand(pattern, {})
        expanded = process_time()
        told_in_check = check(weave)
        checked = process_time()
        piece = weave.pieces[0]
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        rings, links = len(piece), len(piece.link_a)
        pairs = list(zip(piece.link_a, piece.link_b, strict=True))
        before = process_time()
        graph = nx.Graph()
        graph.add_nodes_from(range(rings))
        graph.add_edges_from(pairs)
        whole = nx.is_connected(graph)
        seconds = process_time() - before
        assert whole and not told and not told_in_check, (whole, told, told_in_check)
        ours = checked - start
        print(
            f"{rings:>9} {links:>9} {expanded - start:>7.2f}s {checked - expanded:>7.2f}s "
            f"{seconds:>8.2f}s {ours / seconds:>6.2f} {memory:>6.0f}MB"
        )


if __name__ == "__main__":
    main(tuple(int(size) for size in sys.argv[1:]) or SIZES)
