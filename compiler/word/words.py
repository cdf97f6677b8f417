"""The weave told in words: steps, tallies, checkpoints, what to open and close before starting.

In: a `Weave`. Out: `Words` of `compiler.steps`, all typed, in no language; a catalogue turns them into sentences.
Linear in motions. The tally after a piece's last step is the count of everything in the piece.
"""

from __future__ import annotations

from array import array
from collections import deque
from collections.abc import Sequence

from compiler.messages import KindCount, KindName, Members, Message
from compiler.names import Names, counted, finding_kind_names, ring_kind_names
from compiler.steps import (
    BeforeYouStart,
    Instruction,
    InstructionKind,
    PieceWords,
    StepRecord,
    Title,
    TitleKind,
    Words,
)
from compiler.weave import EventKind, PieceWeave, RelationKind, StepRange, Verb, Weave
from compiler.word.called import called
from compiler.word.early import checks_early
from compiler.word.events import EventWords
from compiler.word.fold import fold_steps
from compiler.word.motions import MotionWords
from compiler.word.rows import RowWords, note
from compiler.word.series import fold_runs
from compiler.word.sides import Sides
from compiler.word.terms import terms_of
from compiler.word.unnamed import leave_unnamed
from notation.handling import RemarkKind


def word(weave: Weave) -> Words:
    """Everything that the booklet says about the making."""
    writers = [_PieceWriter(weave, piece) for piece in weave.pieces]
    pieces = tuple(writer.write() for writer in writers)
    return Words(
        title=weave.title,
        by=weave.by,
        version=weave.version,
        level=weave.level,
        about=weave.about,
        before=BeforeYouStart(
            opens=_in_all(ring_kind_names(weave), [(piece.opens, piece.times) for piece in pieces]),
            closes=_in_all(ring_kind_names(weave), [(piece.closes, piece.times) for piece in pieces]),
            findings=_in_all(finding_kind_names(weave), [(piece.closes, piece.times) for piece in pieces]),
        ),
        pieces=pieces,
        terms=(*terms_of(pieces), *called(writer.names for writer in writers)),
        helpers=tuple(dict.fromkeys(helper for piece in weave.pieces for helper in piece.helpers)),
    )


def _in_all(
    kinds: Sequence[KindName], counts: Sequence[tuple[tuple[KindCount, ...], int]]
) -> tuple[KindCount, ...]:
    """Counts of these kinds over pieces, each as often as the piece is made."""
    total = dict.fromkeys(kinds, 0)
    for entries, times in counts:
        for entry in entries:
            if entry.kind in total:
                total[entry.kind] += entry.count * times
    return counted(kinds, [total[kind] for kind in kinds])


class _PieceWriter:
    """Writes the steps of one piece."""

    def __init__(self, weave: Weave, piece: PieceWeave) -> None:
        self.piece = piece
        self.names = Names(weave, piece)
        sides = Sides(weave.sites, piece)
        self.motions = MotionWords(self.names, sides)
        self.rows = RowWords(self.names, sides)
        self.kinds = (*self.names.rings, *self.names.findings)
        self.events = EventWords(self.names, sides, self.kinds)
        self.tally = [0] * len(self.kinds)
        self.links = 0
        self.titles: dict[str, int] = {}
        for step in piece.steps:
            self.titles[step.title] = self.titles.get(step.title, 0) + 1
        count = len(piece.motions.verb)
        self.links_by = array("i", bytes(4 * count))
        for motion in piece.link_motion:
            self.links_by[motion] += 1
        self.loose = 0
        self.loose_by = _loosened(piece)
        self.found_by = [0] * count
        for use in piece.findings:
            self.found_by[use.motion] += 1

    def write(self) -> PieceWords:
        opens = [0] * len(self.kinds)
        closes = [0] * len(self.kinds)
        steps = []
        for number, step in enumerate(checks_early(self.piece), start=1):
            steps.append(self._step(number, step, opens, closes))
        steps = leave_unnamed(steps)
        return PieceWords(
            name=self.piece.name,
            singular=self.piece.singular,
            times=self.piece.times,
            steps=tuple(steps),
            shown=fold_steps(steps),
            opens=counted(self.kinds, opens),
            closes=counted(self.kinds, closes),
            links=self.links,
        )

    # ------------------------------------------------------------ a step

    def _step(self, number: int, step: StepRange, all_opens: list[int], all_closes: list[int]) -> StepRecord:
        opens, closes = [0] * len(self.kinds), [0] * len(self.kinds)
        links = 0
        for motion in range(step.first, step.stop):
            self._count(motion, opens, closes)
            links += self.links_by[motion]
            self.loose += self.loose_by[motion]
        for index in range(len(self.kinds)):
            all_opens[index] += opens[index]
            all_closes[index] += closes[index]
            self.tally[index] += opens[index] + closes[index]
        self.links += links
        told, checkpoint = self._tell(step)
        return StepRecord(
            number=number,
            key=step.key,
            title=self._title(step),
            opens=counted(self.kinds, opens),
            closes=counted(self.kinds, closes),
            instructions=fold_runs(told),
            cautions=tuple(
                event.text for event in step.events if event.remark is RemarkKind.CAUTION and event.text
            ),
            checkpoint=checkpoint,
            tally=counted(self.kinds, self.tally),
            links_added=links,
            links=self.links,
            loose=self.loose,
            first_motion=step.first,
            stop_motion=step.stop,
        )

    def _count(self, motion: int, opens: list[int], closes: list[int]) -> None:
        """Adds what a motion brings in: an open ring, closed rings, findings."""
        piece = self.piece
        motions = piece.motions
        actor = motions.actor[motion]
        if piece.born[actor] == motion and piece.kind[actor] >= 0:
            bucket = closes if motions.verb[motion] == Verb.TAKE else opens
            bucket[piece.kind[actor]] += 1
        for at in range(motions.load_start[motion], motions.load_start[motion + 1]):
            kind = piece.kind[motions.load_node[at]]
            if kind >= 0:
                closes[kind] += 1
        if self.found_by[motion]:
            seen: set[int] = set()
            nodes = (actor, *motions.load_node[motions.load_start[motion] : motions.load_start[motion + 1]])
            for node in nodes:
                use = piece.member[node]
                if piece.kind[node] < 0 and use not in seen and piece.findings[use].motion == motion:
                    seen.add(use)
                    closes[len(self.names.rings) - 1 - piece.kind[node]] += 1

    def _tell(self, step: StepRange) -> tuple[list[Instruction], tuple[Message, ...]]:
        """The instructions of a step in order, and what can be counted at its end."""
        told: list[Instruction] = []
        checkpoint: list[Message] = []
        events = deque(step.events)
        motion = step.first
        while True:
            while events and events[0].at <= motion:
                event = events.popleft()
                at_end = event.at >= step.stop
                messages = tuple(self.events.tell(event, at_end, self._so_far() if at_end else {}))
                if event.kind is EventKind.CHECKPOINT and at_end:
                    checkpoint.extend(messages)
                elif messages:
                    told.append(note(_KIND_OF[event.kind], messages, motion))
            if motion >= step.stop:
                return told, tuple(dict.fromkeys(checkpoint))  # a unit and its piece may expect the same
            told.extend(self.rows.before(motion))
            told.extend(
                note(InstructionKind.HANDLE, tuple(self.events.pose(pose)), motion)
                for pose in self.events.closings.get(motion, ())
            )
            stop = min(events[0].at, step.stop) if events else step.stop
            instruction, motion = self.motions.tell(motion, stop)
            told.append(instruction)

    def _so_far(self) -> dict[str, int]:
        """Everything in the piece after the step that is being told, by what a checkpoint can count."""
        found = {kind.key: count for kind, count in zip(self.kinds, self.tally, strict=True)}
        found["links"] = self.links
        found["rings"] = sum(self.tally[: len(self.names.rings)])
        return found

    # ------------------------------------------------------------ titles

    def _title(self, step: StepRange) -> Title:
        made = self._made(step)
        owners = {
            self.piece.groups[self.piece.group[node]].owner for node in made if self.piece.group[node] >= 0
        }
        owner = owners.pop() if len(owners) == 1 else ""
        if step.title:
            part = owner if self.titles[step.title] > 1 else ""
            return Title(kind=TitleKind.TYPED, text=step.title, part=part)
        if step.group >= 0 and step.number and self.rows.family_node[step.group] < 0:
            words = self.piece.groups[step.group].singular
            return Title(kind=TitleKind.PART, text=words, number=step.number, part=owner)
        if not made:
            return Title(kind=TitleKind.GROUP)
        first = made[0]
        row = self.names.in_row(first)
        if row is not None and all(self.names.in_row(node) == row for node in made):
            return Title(kind=TitleKind.ROW, part=owner, what=self.names.row_members(first))
        members = self.names.things(made)
        if len(members) == 1 and isinstance(members[0], Members):
            kind = TitleKind.MEMBER if members[0].count == 1 else TitleKind.GROUP
            return Title(kind=kind, part=owner, what=members[0])
        return Title(kind=TitleKind.GROUP, part=owner, what=members[0])

    def _made(self, step: StepRange) -> list[int]:
        """The rings that the step brings in, of the group that titles it where it has any of them."""
        piece = self.piece
        motions = piece.motions
        made: list[int] = []
        wanted: list[int] = []
        for motion in range(step.first, step.stop):
            actor = motions.actor[motion]
            if piece.born[actor] == motion:
                made.append(actor)
                if piece.group[actor] == step.group and step.group >= 0:
                    wanted.append(actor)
        return wanted or made


def _loosened(piece: PieceWeave) -> array[int]:
    """By motion: rings that it brings in, less those that it joins to something for the first time."""
    joined = array("i", [-1]) * len(piece)
    for a, b, motion in zip(piece.link_a, piece.link_b, piece.link_motion, strict=True):
        for node in (a, b):
            if joined[node] < 0 or motion < joined[node]:
                joined[node] = motion
    for relation in piece.relations:
        if relation.kind in _HOLD and joined[relation.node] < 0:
            joined[relation.node] = relation.motion
    found = array("i", bytes(4 * len(piece.motions.verb)))
    for node, kind in enumerate(piece.kind):
        if kind >= 0:
            found[piece.born[node]] += 1
            if joined[node] >= 0:
                found[joined[node]] -= 1
    return found


_HOLD = (RelationKind.AROUND, RelationKind.INSIDE, RelationKind.BETWEEN)
"""How a ring lies where it is held without a link."""

_KIND_OF = {
    EventKind.REMARK: InstructionKind.REMARK,
    EventKind.HANDLE: InstructionKind.HANDLE,
    EventKind.POSE: InstructionKind.HANDLE,
    EventKind.HELPER_IN: InstructionKind.HANDLE,
    EventKind.HELPER_OUT: InstructionKind.HANDLE,
    EventKind.CHECKPOINT: InstructionKind.CHECKPOINT,
}
