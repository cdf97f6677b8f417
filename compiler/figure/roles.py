"""What each node does in a step: new, carried, passed, placed, or not there yet.

In: a piece and a step. Out: `Roles`. A finding that is hung is new; a ring opened again is new in that step too,
since it is the one in the pliers; a ring made and gone through in the same step stays new. A ring that is taken
comes in closed, so it is marked as what is carried.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from compiler.booklet.figuretypes import Mark
from compiler.weave import PieceWeave, Verb
from notation.handling import HandMotion

_MOST_STEPS = 40
"""Steps of a piece that its scale is chosen by: some from its beginning, others spread over the rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Roles:
    """The marks of the nodes that are there at the end of a step."""

    marks: dict[int, Mark]
    """By node; a node that is not there yet has none."""
    actor: int
    """The first node that is opened in the step, or -1."""
    through: tuple[int, ...]
    """What that one goes through, in order; then what it carries."""
    behind: tuple[bool, ...]
    """For each of these, whether it is entered from behind."""
    turned: bool
    """The back of the work faces the maker."""

    def of(self, mark: Mark) -> tuple[int, ...]:
        """The nodes with this mark, in order of making."""
        return tuple(node for node, each in sorted(self.marks.items()) if each is mark)


def roles_at(piece: PieceWeave, step: int) -> Roles:
    """The roles at the end of step number `step`, from 1."""
    motions, steps = piece.motions, piece.steps[step - 1]
    new: dict[int, None] = {}
    carried: dict[int, None] = {}
    passed: dict[int, None] = {}
    actor = -1
    through: tuple[int, ...] = ()
    behind: tuple[bool, ...] = ()
    for motion in range(steps.first, steps.stop):
        path = range(motions.path_start[motion], motions.path_start[motion + 1])
        load = motions.load_node[motions.load_start[motion] : motions.load_start[motion + 1]]
        taken = motions.verb[motion] == Verb.TAKE and not load and not len(path)
        (carried if taken else new)[motions.actor[motion]] = None
        passed.update((motions.path_node[place], None) for place in path)
        carried.update(dict.fromkeys(load))
        if actor < 0 and motions.verb[motion] != Verb.TAKE and (path or load):
            actor = motions.actor[motion]
            through = (*(motions.path_node[place] for place in path), *load)
            behind = (*(bool(motions.path_behind[place]) for place in path), *(False for _ in load))
    for use in piece.findings:
        mates = [eye for eye in use.eyes if eye in carried or eye in new]
        if mates and steps.first <= use.motion < steps.stop:
            (new if mates[0] in new else carried).update(dict.fromkeys(use.eyes))
    marks: dict[int, Mark] = {}
    for node in range(len(piece)):
        if node in new:
            marks[node] = Mark.NEW
        elif node in carried:
            marks[node] = Mark.CARRIED
        elif node in passed:
            marks[node] = Mark.PASSED
        elif piece.born[node] < steps.stop:
            marks[node] = Mark.PLACED
    return Roles(marks=marks, actor=actor, through=through, behind=behind, turned=turned_at(piece, step))


def turned_at(piece: PieceWeave, step: int) -> bool:
    """Whether the work lies turned over while the motions of a step are made; turning it at the end is left out."""
    turns = 0
    for number, each in enumerate(piece.steps[:step], start=1):
        for event in each.events:
            if event.handle is HandMotion.TURN_OVER and not event.nodes:
                last = number == step and event.at >= each.stop > each.first
                turns += 0 if last else 1
    return turns % 2 == 1


def steps_looked_at(count: int) -> list[int]:
    """Numbers of the steps that tell the scale of a piece of so many."""
    few = range(1, min(count, _MOST_STEPS // 2) + 1)
    rest = range(len(few) + 1, count + 1)
    return [*few, *rest[:: max(1, math.ceil(len(rest) / (_MOST_STEPS // 2)))]]
