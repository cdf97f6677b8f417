"""What figures call rings, and what they tell a reader who hears the page.

In: nodes and roles. Out: text. `FigureWords` is what a figure needs of a language; `EnglishWords` gives it in the nouns
of the English catalogue, so that a ring is called in its figure as it is in the step.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from itertools import groupby
from typing import Protocol

from compiler.booklet.figuretypes import Mark
from compiler.catalogue.nouns import Here, finding, listed, members, unbound
from compiler.figure.picture import Note
from compiler.figure.roles import Roles
from compiler.messages import Members, Thing
from compiler.names import Names
from compiler.weave import PieceWeave, Weave


class FigureWords(Protocol):
    """The words of the figures."""

    def names(self, piece: int, nodes: Sequence[int], new: Sequence[int]) -> tuple[str, ...]:
        """What strands and findings are called in one figure, by their first nodes: `point 4`, `ear wire`.

        `new` are the nodes that come in with the step: what they all belong to need not be said.
        """

    def short(self, name: str) -> str:
        """The least that tells a ring from the others of its mark where its name finds no place; often empty."""

    def step(self, piece: int, step: int, roles: Roles) -> str:
        """What is done in a step, a whole sentence."""

    def finished(self, piece: int) -> str:
        """What the finished piece is, a whole sentence."""

    def note(self, note: Note) -> str:
        """A sentence to stand under a figure."""


_NOTES = {
    Note.CUT_OPEN: "The work is drawn cut open where it closes on itself.",
    Note.SIGNS: "The bodies of findings are signs, not to scale.",
    Note.LEVEL: "Turned so that the rows lie level.",
    Note.AS_WORN: "This figure shows the piece as it is worn.",
}


class EnglishWords:
    """Words of the figures in English."""

    def __init__(self, weave: Weave, unnamed: Sequence[Collection[int]] = ()) -> None:
        """For all pieces of a weave; `unnamed` are by piece the rings that the words leave without a name."""
        self._pieces = [
            _Nouns(weave, piece, unnamed[number] if unnamed else ())
            for number, piece in enumerate(weave.pieces)
        ]

    def names(self, piece: int, nodes: Sequence[int], new: Sequence[int]) -> tuple[str, ...]:
        """`ring 3` for a new one, `ring 2 of row 1` for what it goes through, `seam 4`, `ear wire`."""
        return self._pieces[piece].names(nodes, new)

    def short(self, name: str) -> str:
        """The first number in it: `12` of `seam 12`, `3` of `point 3 of row 1`."""
        found = re.search(r"\d+", name)
        return "" if found is None else found[0]

    def step(self, piece: int, step: int, roles: Roles) -> str:
        """`Step 3, Edge: points 1 and 2 are added, through seams 3 to 6, carrying seam 9.`"""
        nouns = self._pieces[piece]
        title = nouns.piece.steps[step - 1].title
        begin = f"Step {step}, {title}" if title else f"Step {step}"
        new = list(dict.fromkeys(leads(nouns.piece, roles.of(Mark.NEW))))
        if not new and roles.of(Mark.CARRIED):
            taken = list(dict.fromkeys(leads(nouns.piece, roles.of(Mark.CARRIED))))
            return f"{begin}: {nouns.listed(taken)} {'is' if len(taken) == 1 else 'are'} taken, closed."
        if not new:
            return f"{begin}: nothing is added, the work stays as it is."
        parts = [f"{nouns.listed(new)} {'is' if len(new) == 1 else 'are'} added"]
        for word, mark in (("through", Mark.PASSED), ("carrying", Mark.CARRIED)):
            found = roles.of(mark)
            if found:
                parts.append(f"{word} {nouns.listed(leads(nouns.piece, found))}")
        return f"{begin}: {', '.join(parts)}."

    def finished(self, piece: int) -> str:
        """`The finished earring: 50 rings and 4 findings.`"""
        weave = self._pieces[piece].piece
        rings = sum(kind >= 0 for kind in weave.kind)
        findings = len(weave.findings)
        more = f" and {findings} {'finding' if findings == 1 else 'findings'}" if findings else ""
        return f"The finished {weave.singular}: {rings} {'ring' if rings == 1 else 'rings'}{more}."

    def note(self, note: Note) -> str:
        """The note in English."""
        return _NOTES[note]


class _Nouns:
    """The nouns of one piece."""

    def __init__(self, weave: Weave, piece: PieceWeave, unnamed: Collection[int]) -> None:
        self.piece = piece
        self._unnamed = unnamed
        self._weave = weave
        self._names = Names(weave, piece)

    def names(self, nodes: Sequence[int], new: Sequence[int]) -> tuple[str, ...]:
        """Names for one figure."""
        rings = [node for node in new if self.piece.group[node] >= 0]
        groups = [group for group in dict.fromkeys(map(self._names.group_name, rings)) if not group.alone]
        rows = {self._names.spot(node)[0] for node in rings}
        owners = {group.owner for group in groups}
        here = Here(
            owner=owners.pop() if len(owners) == 1 else "", group=groups[0] if len(groups) == 1 else None
        )
        row = rows.pop() if len(rows) == 1 and len(groups) == 1 else 0
        names = [self._name(node, here, row) for node in nodes]
        # two rings of one name are told apart by all that can be said of them
        return tuple(
            name if names.count(name) == 1 or node in self._unnamed else self._name(node, Here(), 0)
            for node, name in zip(nodes, names, strict=True)
        )

    def listed(self, nodes: Iterable[int]) -> str:
        """All of some nodes in one list, neighbours as a range."""
        found: list[Thing | str] = []
        for named, run in groupby(dict.fromkeys(nodes), lambda node: node not in self._unnamed):
            found += self._names.things(run) if named else [f"a {self._new(node)}" for node in run]
        return listed([each if isinstance(each, str) else _noun(each) for each in found])

    def _name(self, node: int, here: Here, row: int) -> str:
        if self.piece.group[node] < 0:
            return unbound(finding(self._names.eye(node))).removeprefix("the ")
        if node in self._unnamed:
            return self._new(node)
        them = self._names.one(node)
        told = them.ranges[0].row != row or them.group != here.group
        return members(them, here, rows=told).removeprefix("the ")

    def _new(self, node: int) -> str:
        return f"new {self._weave.ring_kinds[self.piece.kind[node]].singular}"


def _noun(thing: Thing) -> str:
    return members(thing) if isinstance(thing, Members) else unbound(finding(thing))


def leads(piece: PieceWeave, nodes: Iterable[int]) -> list[int]:
    """The first node of each node's strand or finding."""
    return [
        piece.strand[node] if piece.group[node] >= 0 else piece.findings[piece.member[node]].eyes[0]
        for node in nodes
    ]
