"""From motions to instructions: each ring with its twins, each ring opened again, each finding hung.

In: a piece and a stretch of its motions. Out: one `Instruction` for each ring that is told by itself; runs are
folded afterwards by `compiler.word.series`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from compiler.messages import FindingPart, KindName, Members, Message, Say, Thing, TwinPlace, message
from compiler.names import Names, join_things
from compiler.steps import Instruction, InstructionKind
from compiler.weave import Companionship, Mention, Relation, RelationKind, Verb
from compiler.word.lies import LiesWords
from compiler.word.meant import MeantWords
from compiler.word.sides import Sides
from notation.nodes import Relative
from notation.statements import Pass


class _How(Enum):
    """How a part of a path is met."""

    THROUGH = "through"
    FED = "fed"
    EYE = "eye"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """What an open ring meets in one motion, as sets and lists of nodes."""

    path: tuple[int, ...]
    behind: tuple[int, ...]
    """By node of the path: 1 where entered from behind."""
    load: tuple[int, ...]
    load_behind: tuple[int, ...]
    related: tuple[tuple[RelationKind, tuple[int, ...]], ...]

    def sides(self) -> dict[int, int]:
        """Node gone through or carried -> 1 where entered from behind."""
        return {
            **dict(zip(self.load, self.load_behind, strict=True)),
            **dict(zip(self.path, self.behind, strict=True)),
        }


class MotionWords:
    """Makes instructions of a piece's motions."""

    def __init__(self, names: Names, sides: Sides) -> None:
        self.names = names
        self.piece = names.piece
        self.sides = sides
        self.meant = MeantWords(names)
        self._lies = LiesWords(names, sides)
        self._linked = min(self.piece.link_motion, default=len(self.piece.motions.verb))
        """The first motion that links anything."""
        self._relations: dict[int, list[Relation]] = {}
        for relation in self.piece.relations:
            self._relations.setdefault(relation.motion, []).append(relation)

    # ------------------------------------------------------------ reading the columns

    def _way(self, motion: int) -> _Way:
        motions = self.piece.motions
        start, stop = motions.path_start[motion], motions.path_start[motion + 1]
        load = tuple(motions.load_node[motions.load_start[motion] : motions.load_start[motion + 1]])
        actor = motions.actor[motion]
        return _Way(
            path=tuple(motions.path_node[start:stop]),
            behind=tuple(motions.path_behind[start:stop]),
            load=load,
            load_behind=tuple(self.sides.load_behind(actor, node) for node in load),
            related=tuple((each.kind, each.others) for each in self._relations.get(motion, ())),
        )

    def _companionship(self, node: int) -> Companionship | None:
        """How the rings of a ring's strand lie; None where they lie side by side."""
        return self.piece.companionship.get(self.piece.strand[node])

    def _mentions(self, motion: int, length: int) -> tuple[Mention, ...]:
        """The mentions of a path; where none are kept, the statement's one relative pick."""
        known = self.piece.motions.mentions.get(motion)
        if known is not None:
            return known
        statement = self.sides.sites[self.piece.motions.site[motion]].statement
        form: Relative | None = None
        if isinstance(statement, Pass) and len(statement.through) == 1:
            picks = statement.through[0].picks
            if len(picks) == 1 and isinstance(picks[0], Relative):
                form = picks[0]
        return (Mention(form=form, start=0, stop=length, eye=False, gathering=False, waiting=False),)

    # ------------------------------------------------------------ paths

    def _path_messages(self, motion: int, way: _Way, through: Say, through_from: Say) -> Iterator[Message]:
        """The messages that tell a path: a new one where the side changes, or feeding takes turns with going."""
        runs: list[tuple[_How, int, list[Thing]]] = []
        for mention in self._mentions(motion, len(way.path)):
            start = mention.start
            while start < mention.stop:
                side = way.behind[start]
                stop = start + 1
                while stop < mention.stop and way.behind[stop] == side:
                    stop += 1
                relation = None
                if isinstance(mention.form, Relative) and not mention.waiting:
                    relation = self._seen(mention.form, motion, way.path[start])
                things = self.names.things(way.path[start:stop], relation, mention.waiting)
                how = _How.EYE if mention.eye else _How.FED if mention.gathering else _How.THROUGH
                if runs and runs[-1][:2] == (how, side) and how is not _How.EYE:
                    runs[-1][2].extend(things)
                else:
                    runs.append((how, side, list(things)))
                start = stop
        for how, side, parts in runs:
            path = join_things(parts)
            plain, from_side = (Say.FEED, Say.FEED_FROM) if how is _How.FED else (through, through_from)
            if how is _How.EYE and through is Say.GO_THROUGH:
                yield message(Say.GO_THROUGH_EYE, path=path, entry=self.sides.entry(side))
            elif self.sides.said:
                yield message(from_side, path=path, entry=self.sides.entry(side))
            else:
                yield message(plain, path=path)

    def _seen(self, relative: Relative, motion: int, node: int) -> Relative:
        """A relative as the maker sees it: left and right change places in a mirror image, and from the back."""
        group = self.piece.group[node]
        disc = group >= 0 and self.names.group_name(node).disc
        return self.sides.seen(relative, motion, disc=disc)

    def _way_messages(self, motion: int, way: _Way) -> Iterator[Message]:
        yield from self._path_messages(motion, way, Say.GO_THROUGH, Say.GO_THROUGH_FROM)
        yield from self._lies.tell(way.related)
        start = 0
        while start < len(way.load):
            stop = start + 1
            while stop < len(way.load) and way.load_behind[stop] == way.load_behind[start]:
                stop += 1
            for thing in self.meant.told(way.load[start:stop]):
                yield self._carried(thing, way.load_behind[start])
            start = stop

    def _carried(self, thing: Thing, side: int) -> Message:
        if isinstance(thing, Members):
            plain, from_side = Say.CARRY, Say.CARRY_FROM
        elif thing.eye:
            plain, from_side = Say.CARRY_FINDING_BY, Say.CARRY_FINDING_BY_FROM
        else:
            plain, from_side = Say.CARRY_FINDING, Say.CARRY_FINDING_FROM
        if self.sides.said:
            return message(from_side, what=thing, entry=self.sides.entry(side))
        return message(plain, what=thing)

    # ------------------------------------------------------------ instructions

    def tell(self, first: int, stop: int) -> tuple[Instruction, int]:
        """The instruction for the motion `first` and those that belong to it, and the motion after them."""
        verb = Verb(self.piece.motions.verb[first])
        if verb is Verb.TAKE:
            return self._take(first, stop)
        if verb is Verb.HANG:
            return self._hang(first)
        if verb is Verb.REOPEN:
            return self._reopen(first, stop)
        return self._pass(first, stop)

    def _take(self, first: int, stop: int) -> tuple[Instruction, int]:
        motions = self.piece.motions
        site = motions.site[first]
        after = first
        related, way = self._way(first).related, self._companionship(motions.actor[first])
        while (
            after < stop
            and motions.verb[after] == Verb.TAKE
            and motions.site[after] == site
            and self._way(after).related == related
            and self._companionship(motions.actor[after]) is way
        ):
            after += 1
        things = self.names.things(motions.actor[first:after])
        holes = self.names.things(
            node for kind, others in related if kind is RelationKind.INSIDE for node in others
        )
        messages = [self._taken(thing, holes, way) for thing in things]
        if not holes and self._linked <= first:
            messages.append(message(Say.APART))
        elif not holes and self.names.in_row(motions.actor[first]) is not None and after > first + 1:
            messages.append(message(Say.LOOSE))
        return _instruction(InstructionKind.TAKE, None, tuple(messages), first, after), after

    def _taken(self, what: Thing, holes: tuple[Thing, ...], way: Companionship | None) -> Message:
        """Closed rings taken in hand: laid into the hole of others, laid in a way of their own, or neither."""
        lies = self.sides.twin_place(way)
        if holes and way is not None:
            return message(Say.TAKE_LAID_INSIDE, what=what, path=holes, lies=lies)
        if holes:
            return message(Say.TAKE_INSIDE, what=what, path=holes)
        if way is not None:
            return message(Say.TAKE_LAID, what=what, lies=lies)
        return message(Say.TAKE_CLOSED, what=what)

    def _hang(self, first: int) -> tuple[Instruction, int]:
        actor = self.piece.motions.actor[first]
        finding = self.names.eye(actor)
        new = self.piece.born[actor] == first
        way = self._way(first)
        messages = (
            message(Say.TAKE_FINDING if new else Say.OPEN_EYE, what=finding),
            *self._path_messages(first, way, Say.HANG_ON, Say.HANG_ON_FROM),
            *self._lies.tell(way.related),
            message(Say.CLOSE_EYE),
        )
        return _instruction(InstructionKind.HANG, finding, messages, first, first + 1), first + 1

    def _reopen(self, first: int, stop: int) -> tuple[Instruction, int]:
        motions, piece = self.piece.motions, self.piece
        actor = motions.actor[first]
        way = self._way(first)
        told: list[Message] = [message(Say.OPEN_AGAIN, what=self.names.companion(actor))]
        told.extend(self._way_messages(first, way))
        told.append(message(Say.CLOSE))
        after = first + 1
        while (
            after < stop
            and motions.verb[after] == Verb.REOPEN
            and piece.strand[motions.actor[after]] == piece.strand[actor]
            and self._follows(way, self._way(after))
        ):
            told.append(message(Say.TWIN_AGAIN, what=self.names.companion(motions.actor[after])))
            after += 1
        head = self.names.one(actor)
        return _instruction(InstructionKind.REOPEN, head, tuple(told), first, after), after

    def _pass(self, first: int, stop: int) -> tuple[Instruction, int]:
        motions = self.piece.motions
        actor = motions.actor[first]
        kind = self.names.kind_of(actor)
        lies = self.sides.twin_place(self._companionship(actor))
        way = self._way(first)
        told: list[Message] = [message(Say.TAKE_OPEN, kind=kind)]
        told.extend(self._way_messages(first, way))
        told.append(message(Say.CLOSE if len(told) > 1 else Say.CLOSE_PLAIN))
        after, same = first + 1, 0
        while after < stop and motions.verb[after] == Verb.TWIN:
            twin = self._way(after)
            if self._follows(way, twin):
                same += 1
            else:
                told.extend(_twins_same(kind, same, lies))
                same = 0
                told.append(message(Say.TAKE_TWIN_OPEN, kind=kind))
                told.extend(self._way_messages(after, twin))
                told.append(message(Say.CLOSE))
                told.append(message(Say.LIES_BESIDE, lies=lies))
            after += 1
        told.extend(_twins_same(kind, same, lies))
        size = self.names.strands.size(self.piece.strand[actor])
        head = self.names.one(actor) if after - first == size else self.names.companion(actor)
        return _instruction(InstructionKind.PASS, head, tuple(told), first, after), after

    def _follows(self, way: _Way, twin: _Way) -> bool:
        """Whether a twin meets exactly what the first ring meets, its load too, from the same sides."""
        return not twin.load and twin.sides() == way.sides() and twin.related == way.related


def _twins_same(kind: KindName, count: int, lies: TwinPlace) -> tuple[Message, ...]:
    if count == 0:
        return ()
    if count == 1:
        return (message(Say.TWIN_SAME, kind=kind, lies=lies),)
    return (message(Say.TWINS_SAME, kind=kind, count=count, lies=lies),)


def _instruction(
    kind: InstructionKind,
    head: Members | FindingPart | None,
    messages: tuple[Message, ...],
    first: int,
    stop: int,
) -> Instruction:
    return Instruction(kind=kind, head=head, messages=messages, first_motion=first, stop_motion=stop)
