"""What figures call rings, and what they tell a reader who hears the page.

In: nodes and roles. Out: text. `FigureWords` is what a figure needs; the catalogue of a language can give it, and
`PlainWords` gives it from the labels of the weave, in English.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Protocol

from compiler.booklet.figuretypes import Mark
from compiler.figure.roles import Roles
from compiler.graph import Addresses
from compiler.weave import PieceWeave, Weave


class FigureWords(Protocol):
    """The words of the figures."""

    def names(self, piece: int, nodes: Sequence[int], new: Sequence[int]) -> tuple[str, ...]:
        """What strands and findings are called in one figure, by their first nodes: `point 4`, `ear wire`.

        `new` are the nodes that come in with the step: what they all belong to need not be said.
        """

    def step(self, piece: int, step: int, roles: Roles) -> str:
        """What is done in a step, a whole sentence."""

    def finished(self, piece: int) -> str:
        """What the finished piece is, a whole sentence."""


class PlainWords:
    """Words from labels and numbers alone."""

    def __init__(self, weave: Weave) -> None:
        """For all pieces of a weave."""
        self._weave = weave
        self._addresses = [Addresses(piece) for piece in weave.pieces]
        self._sizes = [_group_sizes(piece) for piece in weave.pieces]

    def names(self, piece: int, nodes: Sequence[int], new: Sequence[int]) -> tuple[str, ...]:
        """`point 2 of row 1`, `seam 4`, `ear wire`."""
        weave = self._weave.pieces[piece]
        owners = {weave.groups[weave.group[node]].owner for node in new if weave.group[node] >= 0}
        here = owners.pop() if len(owners) == 1 else ""
        return tuple(self._name(piece, node, here) for node in nodes)

    def _name(self, piece: int, node: int, here: str) -> str:
        weave = self._weave.pieces[piece]
        if weave.group[node] < 0:
            return weave.findings[weave.member[node]].label
        group = weave.groups[weave.group[node]]
        address = self._addresses[piece].of(node)
        number = "" if self._sizes[piece][weave.group[node]] == 1 else f" {address.place}"
        row = f" of row {address.row}" if address.row else ""
        owner = f" of {group.owner}" if group.owner not in ("", here) else ""
        return f"{group.singular}{number}{row}{owner}"

    def step(self, piece: int, step: int, roles: Roles) -> str:
        """`New in step 3: point 1 of row 2. It goes through seams 3 and 4 and carries seam 9.`"""
        weave = self._weave.pieces[piece]
        new = self._names(piece, roles.of(Mark.NEW))
        passed, carried = (
            self._names(piece, roles.of(Mark.PASSED)),
            self._names(piece, roles.of(Mark.CARRIED)),
        )
        title = weave.steps[step - 1].title
        begin = f"Step {step}, {title}" if title else f"Step {step}"
        if not new:
            return f"{begin}: nothing is added, the work stays as it is."
        one = len(dict.fromkeys(leads(weave, roles.of(Mark.NEW)))) == 1
        parts = [f"{_listed(new)} {'is' if one else 'are'} added"]
        if passed:
            parts.append(f"through {_listed(passed)}")
        if carried:
            parts.append(f"carrying {_listed(carried)}")
        return f"{begin}: {', '.join(parts)}."

    def finished(self, piece: int) -> str:
        """`The finished earring: 50 rings and 4 findings.`"""
        weave = self._weave.pieces[piece]
        rings = sum(kind >= 0 for kind in weave.kind)
        findings = len(weave.findings)
        more = f" and {findings} {'finding' if findings == 1 else 'findings'}" if findings else ""
        return f"The finished {weave.singular}: {rings} {'ring' if rings == 1 else 'rings'}{more}."

    def _names(self, piece: int, nodes: Iterable[int]) -> list[str]:
        """Names of the strands of some nodes, runs of numbers drawn together."""
        weave = self._weave.pieces[piece]
        runs: list[tuple[str, str, int, int]] = []
        for lead in dict.fromkeys(leads(weave, nodes)):
            if weave.group[lead] < 0 or self._sizes[piece][weave.group[lead]] == 1:
                runs.append((self._name(piece, lead, ""), "", 0, 0))
                continue
            group, address = weave.groups[weave.group[lead]], self._addresses[piece].of(lead)
            row = f" of row {address.row}" if address.row else ""
            tail = row + (f" of {group.owner}" if group.owner else "")
            last = runs[-1] if runs else None
            if last and last[:2] == (group.singular, tail) and last[3] + 1 == address.place:
                runs[-1] = (*last[:3], address.place)
            else:
                runs.append((group.singular, tail, address.place, address.place))
        plurals = {group.singular: group.plural for group in weave.groups}
        out = []
        for noun, tail, first, last_place in runs:
            if not first:
                out.append(noun)
            elif first == last_place:
                out.append(f"{noun} {first}{tail}")
            else:
                word = "and" if last_place == first + 1 else "to"
                out.append(f"{plurals[noun]} {first} {word} {last_place}{tail}")
        return out


def leads(piece: PieceWeave, nodes: Iterable[int]) -> list[int]:
    """The first node of each node's strand or finding."""
    return [
        piece.strand[node] if piece.group[node] >= 0 else piece.findings[piece.member[node]].eyes[0]
        for node in nodes
    ]


def _group_sizes(piece: PieceWeave) -> list[int]:
    sizes = [0] * len(piece.groups)
    for node, strand in enumerate(piece.strand):
        if node == strand and piece.group[node] >= 0:
            sizes[piece.group[node]] += 1
    return sizes


def _listed(parts: Sequence[str]) -> str:
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"
