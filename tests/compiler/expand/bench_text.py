"""Texts to weaves for the tests of the expansion, and weaves as names and graphs."""

from __future__ import annotations

from collections.abc import Mapping

import networkx as nx

from compiler.expand.driver import expand
from compiler.weave import PieceWeave, Weave
from grammar.parse import parse
from notation.diagnostic import Diagnostic
from notation.margin import Use
from notation.source import Source

HEAD = """\
title "Corvus"
ring link: inner 5 mm, wire 0.9 mm, metal copper
ring large: inner 5 mm, wire 0.9 mm, metal copper, doubled
ring small: inner 3 mm, wire 0.7 mm, metal copper, doubled
ring triple: inner 5 mm, wire 0.9 mm, metal copper, tripled
finding hook: ear-wire, eye 2 mm opens, metal copper
finding drop: drop, eye 1.5 mm, metal copper
finding lanyard: chain, eye start 2 mm opens, eye end 2 mm, metal copper
"""
NOT_ASKED = ("unused-kind", "unused-unit", "unused-number", "left-over")
"""What short texts may be warned of without a word about it."""


def expanded(text: str, others: Mapping[str, str] | None = None) -> tuple[Weave, tuple[Diagnostic, ...]]:
    """The weave of a text and what is told, of the parser too; `others` are files by the path in `use`."""
    pattern, told = parse(Source(name="corvus.annulet", text=text))
    library = {}
    waiting = [pattern]
    while waiting:
        user = waiting.pop()
        for statement in user.statements:
            if isinstance(statement, Use):
                path = statement.path.value
                used, more = parse(Source(name=path, text=(others or {})[path]))
                told = (*told, *more)
                library[(user.source.name, path)] = used
                waiting.append(used)
    weave, in_expansion = expand(pattern, library)
    return weave, (*told, *in_expansion)


def indented(body: str) -> str:
    """Statements as the block of a piece."""
    return "".join(f"    {line}\n" if line.strip() else "\n" for line in body.strip("\n").split("\n"))


def told(body: str, before: str = "") -> list[str]:
    """The rules, with their variants, that a piece of these statements breaks: `linked-twice/path`."""
    _, diagnostics = expanded(f"{HEAD}{before}\npiece earring:\n{indented(body)}")
    return [
        f"{one.rule}/{one.variant}" if one.variant else one.rule
        for one in diagnostics
        if one.rule not in NOT_ASKED
    ]


def piece(body: str, before: str = "", others: Mapping[str, str] | None = None) -> PieceWeave:
    """The piece of these statements, which must hold no mistake."""
    weave, diagnostics = expanded(f"{HEAD}{before}\npiece earring:\n{indented(body)}", others)
    wrong = [one for one in diagnostics if one.rule not in NOT_ASKED]
    assert not wrong, wrong
    assert weave.complete and not weave.pieces[0].broken
    return weave.pieces[0]


def name(woven: PieceWeave, node: int) -> str:
    """`arm 3`, its twin `arm 3'`, the second place of row 1 `mesh 1.2`; for an eye `drop 2 eye 1`."""
    if woven.kind[node] < 0:
        return f"{woven.findings[woven.member[node]].label} eye {woven.companion[node] + 1}"
    group = woven.groups[woven.group[node]]
    member = woven.member[node]
    said = str(member)
    if group.shape is not None and len(group.shape.widths) > 1:
        row, left = 0, member - 1
        while left >= group.shape.widths[row]:
            left -= group.shape.widths[row]
            row += 1
        said = f"{row + 1}.{left + 1}"
    return f"{group.key} {said}" + "'" * woven.companion[node]


def links(woven: PieceWeave) -> list[str]:
    """Every link in order of making: `actor - what it went through or carried`."""
    return [f"{name(woven, a)} - {name(woven, b)}" for a, b in zip(woven.link_a, woven.link_b, strict=True)]


def graph(woven: PieceWeave) -> nx.Graph:
    """The link graph, every node by its number; that no two are linked twice is asserted."""
    found = nx.Graph()
    found.add_nodes_from(range(len(woven)))
    found.add_edges_from(zip(woven.link_a, woven.link_b, strict=True))
    assert found.number_of_edges() == len(woven.link_a)
    return found


def strands(woven: PieceWeave) -> nx.Graph:
    """The link graph of strands: companions are one node."""
    found = nx.Graph()
    found.add_nodes_from(woven.strand)
    found.add_edges_from(
        (woven.strand[a], woven.strand[b]) for a, b in zip(woven.link_a, woven.link_b, strict=True)
    )
    return found


def count(woven: PieceWeave, weave_kind: str) -> int:
    """How many rings of the kinds of HEAD, in the order of HEAD, a piece has."""
    order = ("link", "large", "small", "triple")
    return sum(kind == order.index(weave_kind) for kind in woven.kind)
