"""For which later members new connectors are meant: `seam 3 for point 3, seams 4 and 5 for points 1 and 2 of row 2`.

In: the nodes that an open ring carries. Out: noun phrases in which each connector knows the one member that goes
through it later. Linear in the motions' paths.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from dataclasses import replace

from compiler.messages import Meant, Members, Range, Thing
from compiler.names import Names
from compiler.weave import Verb

_NONE, _SEVERAL = -1, -2
MOST_TOLD = 4
"""More kinds of neighbours than these are not told: the steps that go through the connectors tell them."""


class MeantWords:
    """Knows what goes through each ring that was carried."""

    def __init__(self, names: Names) -> None:
        self._names = names
        piece, motions = names.piece, names.piece.motions
        self._user = array("i", [_NONE]) * len(piece)
        carrier = array("i", self._user)
        for motion, verb in enumerate(motions.verb):
            actor = piece.strand[motions.actor[motion]]
            hung = verb == Verb.HANG
            for at in range(motions.load_start[motion], motions.load_start[motion + 1]):
                carrier[piece.strand[motions.load_node[at]]] = actor
            for at in range(motions.path_start[motion], motions.path_start[motion + 1]):
                lead = piece.strand[motions.path_node[at]]
                known = self._user[lead]
                # The twin of what carries a connector goes through it too.
                if carrier[lead] == actor:
                    continue
                self._user[lead] = actor if known in (_NONE, actor) and not hung else _SEVERAL

    def told(self, nodes: Sequence[int]) -> tuple[Thing, ...]:
        """Carried nodes as noun phrases."""
        leads = list(dict.fromkeys(self._names.piece.strand[node] for node in nodes))
        found: list[Thing] = []
        start = 0
        for thing in self._names.things(nodes):
            count = thing.count if isinstance(thing, Members) else 1
            if isinstance(thing, Members) and thing.companion < 0:
                found.append(replace(thing, meant_for=self._meant(leads[start : start + count])))
            else:
                found.append(thing)
            start += count
        return tuple(found)

    def _meant(self, leads: Sequence[int]) -> tuple[Meant, ...]:
        found: list[Meant] = []
        for at, lead in enumerate(leads):
            user = self._named(lead)
            if user == _NONE:
                continue
            for_one = Meant(at=at, each=1, members=self._names.one(user))
            if found and found[-1].members == for_one.members and found[-1].at + found[-1].each == at:
                found[-1] = replace(found[-1], each=found[-1].each + 1)
            else:
                found.append(for_one)
        joined: list[Meant] = []
        for each in found:
            if joined and _goes_on(joined[-1], each):
                joined[-1] = _joined(joined[-1], each)
            else:
                joined.append(each)
        return tuple(joined) if len(joined) <= MOST_TOLD else ()

    def _named(self, lead: int) -> int:
        """The one member that goes through a connector later, where it has a name of its own in the same unit use."""
        piece = self._names.piece
        user = self._user[lead]
        if user < 0 or piece.group[user] < 0 or piece.group[lead] < 0:
            return _NONE
        if piece.groups[piece.group[user]].owner != piece.groups[piece.group[lead]].owner:
            return _NONE
        return _NONE if self._names.nameless(user) else user


def _goes_on(before: Meant, after: Meant) -> bool:
    """Whether connectors and members both go on where those before them end."""
    end, start = before.members.ranges[-1], after.members.ranges[0]
    return (
        before.members.group == after.members.group
        and before.each == after.each
        and before.at + before.each * before.members.count == after.at
        and (end.row, end.last + 1) == (start.row, start.first)
    )


def _joined(before: Meant, after: Meant) -> Meant:
    end, start = before.members.ranges[-1], after.members.ranges[0]
    ranges = (Range(row=end.row, first=end.first, last=start.last),)
    return replace(before, members=replace(before.members, ranges=ranges))
