"""What figures call rings, and what they tell a reader who hears the page.

In: nodes and roles. Out: text. `FigureWords` is what a figure needs of a language; `EnglishWords` gives it in the nouns
of the English catalogue, so that a ring is called in its figure as it is in the step.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Protocol

from compiler.booklet.figuretypes import Mark
from compiler.catalogue.english import here_of, step_text
from compiler.catalogue.nouns import NOWHERE, Here, finding, listed, members, unbound
from compiler.figure.notes import Note
from compiler.figure.roles import Roles, steps_looked_at
from compiler.messages import Members, Thing
from compiler.names import Names
from compiler.steps import PieceWords, StepRecord
from compiler.weave import PieceWeave, Weave


class FigureWords(Protocol):
    """The words of the figures."""

    def names(self, piece: int, step: int, nodes: Sequence[int]) -> tuple[str, ...]:
        """What strands and findings are called in the figure of a step, by their first nodes: `point 4`, `ear wire`."""

    def short(self, name: str) -> str:
        """The least that tells a ring from the others of its mark where its name finds no place; often empty."""

    def behind(self, name: str, count: int) -> str:
        """The name of rings that lie straight behind one another, so many."""

    def lines(self, piece: int, step: int) -> int:
        """How many lines the text of a step takes in its column, about."""

    def step(self, piece: int, step: int, roles: Roles) -> str:
        """What is done in a step, a whole sentence."""

    def finished(self, piece: int) -> str:
        """What the finished piece is, a whole sentence."""

    def shown(self, seen: int, new: int) -> str:
        """That not all that comes in with a step is seen in its figure."""

    def fold(self) -> tuple[str, str]:
        """What stands above the rings before a fold, which are drawn as a schematic, and after it."""

    def rolled(self) -> str:
        """That a sheet that lay flat in the figures before is closed from this one on."""

    def note(self, note: Note) -> str:
        """A sentence to stand under a figure."""

    def begun(self, piece: int, rings: int, *, outlined: bool) -> str:
        """That only the first rings and eyes of a piece are drawn; and that the whole is shown in outline."""


_NOTES = {
    Note.CUT_OPEN: "The work is drawn cut open where it closes on itself.",
    Note.SIGNS: "The bodies of findings are signs, not to scale.",
    Note.LEVEL: "Turned so that the rows lie level.",
    Note.ROUND: "Turned as it lies since the step before, so that these rows lie level.",
    Note.INSET: "What the thin frame holds is drawn again in the thick one, larger.",
}


SEVERAL = "\N{MULTIPLICATION SIGN}"
"""Before the number of rings that lie straight behind one another."""
_LETTERS, _ROUGHLY = 47, 4
"""Letters of a line in the column of a step's text, about, and to how many lines it is told."""


class EnglishWords:
    """Words of the figures in English."""

    def __init__(self, weave: Weave, words: Sequence[PieceWords] = ()) -> None:
        """For all pieces of a weave; rings are called as in these words of theirs, by their full names without."""
        self._words = tuple(words)
        self._pieces = [
            _Nouns(weave, piece, words[number].steps if words else ())
            for number, piece in enumerate(weave.pieces)
        ]

    def depends_on(self) -> str:
        """All that names and scales depend on beside the weave: places, nameless rings, lengths of texts."""
        return repr(
            [
                (
                    nouns.here,
                    sorted(nouns.unnamed),
                    [self.lines(number, step) for step in steps_looked_at(len(nouns.piece.steps))],
                )
                for number, nouns in enumerate(self._pieces)
            ]
        )

    def names(self, piece: int, step: int, nodes: Sequence[int]) -> tuple[str, ...]:
        """`ring 3` for a new one, `ring 2 of row 1` for what it goes through, `seam 4`, `ear wire`."""
        return self._pieces[piece].names(step, nodes)

    def short(self, name: str) -> str:
        """The first number in it: `12` of `seam 12`, `3` of `point 3 of row 1`."""
        found = re.search(r"\d+", name)
        return "" if found is None else found[0]

    def behind(self, name: str, count: int) -> str:
        """`point 2 ×2`; a pair says so itself."""
        return name if re.search(r"\bpairs?\b", name) else f"{name} {SEVERAL}{count}"

    def lines(self, piece: int, step: int) -> int:
        """By the letters of its paragraphs; 0 where these words are not known."""
        if not self._words:
            return 0
        told = step_text(self._words[piece].steps[step - 1])
        lines = sum(1 + sum(len(run.text) for run in each.runs) // _LETTERS for each in told)
        return -(-lines // _ROUGHLY) * _ROUGHLY

    def step(self, piece: int, step: int, roles: Roles) -> str:
        """`Step 3, Edge: points 1 and 2 are added, through seams 3 to 6, carrying seam 9.`"""
        nouns = self._pieces[piece]
        title = nouns.piece.steps[step - 1].title
        begin = f"Step {step}, {title}" if title else f"Step {step}"
        new, taken = roles.of(Mark.NEW), roles.of(Mark.CARRIED)
        if not new and taken:
            return f"{begin}: {nouns.them(taken)} {nouns.is_or_are(taken)} taken, closed."
        if not new:
            return f"{begin}: nothing is added, the work stays as it is."
        parts = [f"{nouns.them(new)} {nouns.is_or_are(new)} added"]
        for word, mark in (("through", Mark.PASSED), ("carrying", Mark.CARRIED)):
            found = roles.of(mark)
            if found:
                parts.append(f"{word} {nouns.them(found)}")
        return f"{begin}: {', '.join(parts)}."

    def finished(self, piece: int) -> str:
        """`The finished earring: 50 rings and 4 findings.`"""
        weave = self._pieces[piece].piece
        rings = sum(kind >= 0 for kind in weave.kind)
        findings = len(weave.findings)
        more = f" and {findings} {'finding' if findings == 1 else 'findings'}" if findings else ""
        return f"The finished {weave.singular}: {rings} {'ring' if rings == 1 else 'rings'}{more}."

    def shown(self, seen: int, new: int) -> str:
        """`14 of the 20 new rings are drawn.`"""
        return f"{seen} of the {new} new rings {'is' if seen == 1 else 'are'} drawn."

    def fold(self) -> tuple[str, str]:
        """In English."""
        return "before the fold (schematic)", "after it"

    def rolled(self) -> str:
        """The sentence in English."""
        return "Rolled up: until the step before the work lay flat."

    def note(self, note: Note) -> str:
        """The note in English."""
        return _NOTES[note]

    def begun(self, piece: int, rings: int, *, outlined: bool) -> str:
        """`The first 600 of 2,400 rings are drawn, the work goes on in the same way.`"""
        shown = f"The first {rings:,} of {len(self._pieces[piece].piece):,} rings are drawn"
        if not outlined:
            return f"{shown}, the work goes on in the same way."
        return f"{shown}; the darker part of the outline shows where they lie in the whole."


class _Nouns:
    """The nouns of one piece."""

    def __init__(self, weave: Weave, piece: PieceWeave, steps: Sequence[StepRecord]) -> None:
        self.piece = piece
        self.here = [here_of(step) for step in steps]
        self.unnamed = frozenset(
            piece.motions.actor[motion]
            for step in steps
            for told in step.instructions
            if not told.named
            for motion in range(told.first_motion, told.stop_motion)
        )
        self._weave = weave
        self._names = Names(weave, piece)

    def names(self, step: int, nodes: Sequence[int]) -> tuple[str, ...]:
        """Names for the figure of a step."""
        here = self.here[step - 1] if self.here else NOWHERE
        names = [self._name(node, here) for node in nodes]
        # two rings of one name are told apart by all that can be said of them
        return tuple(
            name if names.count(name) == 1 or node in self.unnamed else self._name(node, NOWHERE)
            for node, name in zip(nodes, names, strict=True)
        )

    def them(self, nodes: Iterable[int]) -> str:
        """All of some nodes: rings of a strand as a whole, findings once, rings without names each by one."""
        piece = self.piece
        return self.listed(
            node
            if piece.group[node] >= 0 and piece.strand[node] not in self.unnamed
            else leads(piece, (node,))[0]
            for node in nodes
        )

    def is_or_are(self, nodes: Iterable[int]) -> str:
        """By how many strands and findings there are."""
        return "is" if len(dict.fromkeys(leads(self.piece, nodes))) == 1 else "are"

    def listed(self, nodes: Iterable[int]) -> str:
        """All of some nodes in one list, neighbours as a range."""
        found: list[Thing | str] = []
        for unnamed, run in groupby(dict.fromkeys(nodes), self.unnamed.__contains__):
            rings = tuple(run)
            found += [f"a {self._new(node)}" for node in rings] if unnamed else self._names.things(rings)
        return listed([each if isinstance(each, str) else _noun(each) for each in found])

    def _name(self, node: int, here: Here) -> str:
        if self.piece.group[node] < 0:
            return unbound(finding(self._names.eye(node))).removeprefix("the ")
        if node in self.unnamed:
            return self._new(node)
        them = self._names.one(node)
        told = them.ranges[0].row != here.row or them.group != here.group
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
