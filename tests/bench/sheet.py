"""A four-in-one sheet of many rings: expansion and checks beside networkx on the same links, in a process of its own.

networkx builds the graph of the same links and says whether it is connected. Memory is the most that the process held
while expanding and checking, less what it held before.
"""

from __future__ import annotations

import multiprocessing
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import NamedTuple

import networkx as nx
from measure import call_seconds

from compiler.check.run import check
from compiler.expand.driver import expand
from grammar.parse import parse
from notation.source import Source


class Sheet(NamedTuple):
    """What one sheet took."""

    rings: int
    links: int
    expand: float
    """Seconds."""
    check: float
    """Seconds."""
    networkx: float
    """Seconds."""
    memory: int
    """Bytes."""


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


def measured(rings: int) -> Sheet:
    """A sheet of about so many rings, in a new process."""
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as pool:
        return pool.submit(_measured, rings).result()


def _measured(size: int) -> Sheet:
    pattern, _ = parse(Source(name="sheet.annulet", text=text(size)))
    before = _most_memory()
    in_expansion, (weave, told) = call_seconds(lambda: expand(pattern, {}))
    in_check, told_in_check = call_seconds(lambda: check(weave))
    memory = _most_memory() - before
    piece = weave.pieces[0]
    pairs = list(zip(piece.link_a, piece.link_b, strict=True))
    seconds, whole = call_seconds(lambda: _connected(len(piece), pairs))
    assert whole and not told and not told_in_check, (whole, told, told_in_check)
    return Sheet(
        rings=len(piece),
        links=len(pairs),
        expand=in_expansion,
        check=in_check,
        networkx=seconds,
        memory=memory,
    )


def _connected(nodes: int, pairs: list[tuple[int, int]]) -> bool:
    graph = nx.Graph()
    graph.add_nodes_from(range(nodes))
    graph.add_edges_from(pairs)
    return bool(nx.is_connected(graph))


def _most_memory() -> int:
    """The most that this process has held so far; what `getrusage` tells counts in the process that started it."""
    status = Path("/proc/self/status").read_text("ascii")
    return 1024 * int(status[status.index("VmHWM:") :].split()[1])
