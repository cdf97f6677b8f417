"""The weave told in words: steps, tallies, checkpoints, what to open and close before starting.

In: a `Weave`. Out: `Words` of `compiler.steps`, all typed, in no language; a catalogue turns them into sentences.
Linear in motions. The tally after a piece's last step is the count of everything in the piece.
"""

from __future__ import annotations

from array import array
from collections import deque
from collections.abc import Iterator, Sequence

from compiler.messages import KindCount, KindName, Members, Message, Range, Say
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
from compiler.weave import Event, EventKind, PieceWeave, SiteKind, StepRange, Verb, Weave
from compiler.word.fold import fold_steps
from compiler.word.motions import MotionWords, message
from compiler.word.names import Names, counted, finding_kind_names, ring_kind_names
from compiler.word.series import fold_runs
from compiler.word.terms import terms_of
from notation.handling import HandMotion, RemarkKind


def word(weave: Weave) -> Words:
    """Everything that the booklet says about the making."""
    pieces = tuple(_PieceWriter(weave, piece).write() for piece in weave.pieces)
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
        terms=terms_of(pieces),
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
        self.weave = weave
        self.piece = piece
        self.names = Names(weave, piece)
        self.motions = MotionWords(weave, self.names)
        self.kinds = (*self.names.rings, *self.names.findings)
        self.tally = [0] * len(self.kinds)
        self.links = 0
        self.rows_begun: set[tuple[int, ...]] = set()
        self.shared_told: set[tuple[int, int]] = set()
        self.family_node = array("i", [-1]) * len(piece.groups)
        for node in range(len(piece) - 1, -1, -1):
            if piece.group[node] >= 0:
                self.family_node[piece.group[node]] = node
        self.titles: dict[str, int] = {}
        for step in piece.steps:
            self.titles[step.title] = self.titles.get(step.title, 0) + 1
        count = len(piece.motions.verb)
        self.links_by = array("i", bytes(4 * count))
        for motion in piece.link_motion:
            self.links_by[motion] += 1
        self.found_by = [0] * count
        for use in piece.findings:
            self.found_by[use.motion] += 1

    def write(self) -> PieceWords:
        opens = [0] * len(self.kinds)
        closes = [0] * len(self.kinds)
        steps = []
        for number, step in enumerate(self.piece.steps, start=1):
            steps.append(self._step(number, step, opens, closes))
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
                messages = tuple(self._event(event, event.at >= step.stop))
                if event.kind is EventKind.CHECKPOINT and event.at >= step.stop:
                    checkpoint.extend(messages)
                elif messages:
                    told.append(_between(_KIND_OF[event.kind], messages, motion))
            if motion >= step.stop:
                return told, tuple(checkpoint)
            actor = self.piece.motions.actor[motion]
            if self.piece.group[actor] >= 0 and self.piece.born[actor] == motion:
                told.extend(self._shared(motion))
                told.extend(self._row(motion, actor))
            stop = min(events[0].at, step.stop) if events else step.stop
            instruction, motion = self.motions.tell(motion, stop)
            told.append(instruction)

    def _row(self, motion: int, node: int) -> Iterator[Instruction]:
        """How the row of a ring lies to the one before; told once, before its first ring."""
        row = self.names.in_row(node)
        if row is None or row in self.rows_begun:
            return
        self.rows_begun.add(row)
        what = self.names.row_members(node)
        shape = self.piece.groups[self.piece.group[node]].shape
        if row[1] == 1 or shape is None:
            say = Say.FIRST_ROUND if what.group.tube else Say.FIRST_ROW
            yield _between(InstructionKind.ROW, (message(say, what=what),), motion)
            return
        say = Say.NEXT_ROW_BELOW if shape.downward else Say.NEXT_ROW_ABOVE
        onto = self.names.row_members(node, back=1)
        yield _between(InstructionKind.ROW, (message(say, what=what, onto=onto),), motion)

    def _shared(self, motion: int) -> Iterator[Instruction]:
        """The place of a family that a ring of another group takes, told when a connector is passed through it."""
        piece, motions = self.piece, self.piece.motions
        group = piece.group[motions.actor[motion]]
        family = piece.groups[group].connector_of
        path = motions.path_node[motions.path_start[motion] : motions.path_start[motion + 1]]
        if family < 0 or motions.verb[motion] != Verb.PASS or (family, group) in self.shared_told:
            return
        handed = next((node for node in path if piece.group[node] not in (family, -1)), -1)
        of_family = self.family_node[family]
        shape = piece.groups[family].shape
        if handed < 0 or of_family < 0 or shape is None:
            return
        self.shared_told.add((family, group))
        first = piece.born[of_family] > motion
        yield from self._row(motion, of_family) if first else ()
        row, _ = self.names.spot(of_family)
        if row and not first:
            row += len(shape.widths) - 1
        place = 1 if first else shape.widths[-1]
        what = Members(
            group=self.names.group_name(of_family), ranges=(Range(row=row, first=place, last=place),)
        )
        shared = message(Say.SHARED, what=what, same_as=self.names.one(handed))
        yield _between(InstructionKind.ROW, (shared,), motion)

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
        if step.group >= 0 and step.number and self.family_node[step.group] < 0:
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

    # ------------------------------------------------------------ events

    def _event(self, event: Event, at_end: bool) -> Iterator[Message]:
        match event.kind:
            case EventKind.REMARK:
                if event.remark is not None and event.remark is not RemarkKind.CAUTION:
                    yield message(Say.REMARK, kind=event.remark, text=event.text)
            case EventKind.HANDLE:
                yield from self._handle(event)
            case EventKind.CHECKPOINT:
                yield from self._checkpoint(event, at_end)

    def _handle(self, event: Event) -> Iterator[Message]:
        motion = event.handle
        if motion is None:
            return
        if motion is HandMotion.TURN_OVER and not event.nodes:
            self.motions.turned = not self.motions.turned
        path = self.names.things(event.nodes)
        if event.until:
            yield message(Say.HOLD_UNTIL, path=path, until=event.until)
        elif event.onto:
            yield message(Say.FOLD_ONTO, path=path, onto=self.names.things(event.onto))
        elif path:
            yield message(Say.HANDLE, motion=motion, path=path)
        else:
            yield message(Say.HANDLE_WORK, motion=motion)

    def _checkpoint(self, event: Event, at_end: bool) -> Iterator[Message]:
        """An assertion that held; told as counts so far where they are counted from the piece's start."""
        kinds = {kind.key: kind for kind in self.kinds}
        if event.nodes:
            path = self.names.things(event.nodes)
            for name, count in event.counts:
                if name in kinds:
                    held = KindCount(kind=kinds[name], count=count)
                    yield message(Say.CHECK_HOLDS_KIND, path=path, held=(held,))
                else:
                    yield message(Say.CHECK_HOLDS, path=path, count=count)
            return
        part = self._unit_around(event.site)
        # Counts of a unit that is all there is so far are simply the counts so far.
        if part and at_end and self._is_all(event):
            part = ""
        plain = [entry for entry in event.counts if entry[0] in kinds]
        counts = tuple(KindCount(kind=kinds[name], count=count) for name, count in plain)
        if counts and part:
            yield message(Say.CHECK_PART_USED, counts=counts, part=part)
        elif counts:
            yield message(Say.CHECK_USED, counts=counts)
        for name, count in event.counts:
            if name == "rings":
                yield _checked(Say.CHECK_RINGS, Say.CHECK_PART_RINGS, count, part)
            elif name == "links":
                yield _checked(Say.CHECK_LINKS, Say.CHECK_PART_LINKS, count, part)

    def _is_all(self, event: Event) -> bool:
        """Whether what a checkpoint at the end of a step counts is everything in the piece."""
        tally = {kind.key: count for kind, count in zip(self.kinds, self.tally, strict=True)}
        tally["links"] = self.links
        tally["rings"] = sum(self.tally[: len(self.names.rings)])
        return all(tally.get(name) == count for name, count in event.counts)

    def _unit_around(self, site: int) -> str:
        """The name of the unit use around a site; empty in the piece itself, or where one use began the piece."""
        sites = self.weave.sites
        while site >= 0 and sites[site].kind is not SiteKind.PIECE:
            if sites[site].kind is SiteKind.UNIT:
                return sites[site].name
            site = sites[site].parent
        return ""


_KIND_OF = {
    EventKind.REMARK: InstructionKind.REMARK,
    EventKind.HANDLE: InstructionKind.HANDLE,
    EventKind.CHECKPOINT: InstructionKind.CHECKPOINT,
}


def _checked(whole: Say, within: Say, count: int, part: str) -> Message:
    return message(within, count=count, part=part) if part else message(whole, count=count)


def _between(kind: InstructionKind, messages: tuple[Message, ...], motion: int) -> Instruction:
    """An instruction that makes no link."""
    return Instruction(kind=kind, head=None, messages=messages, first_motion=motion, stop_motion=motion)
