"""A maker who has only the steps: rebuilds a piece ring by ring from the step records alone.

A name is looked up among what the steps have introduced before; one that was not is an error. Rings get numbers in
the order in which the steps bring them in, which is the order of a weave's nodes, so links can be compared as they
are. Of a pattern, only the list of findings is known (which eyes each has), as a maker knows it from the kit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from read_folds import SERIES_OF, singles
from rebuilt import COMPANIONSHIP, DIRECTIONS, FROM_THE_BACK, HANDS, LEANING, RELATIONS, Rebuilt

from compiler.messages import (
    Entry,
    FindingPart,
    Members,
    Message,
    Range,
    Say,
    Thing,
    Turning,
    TwinPlace,
)
from compiler.steps import (
    Instruction,
    InstructionKind,
    StepRecord,
)
from compiler.weave import Pose, PoseKind, RelationKind
from notation.handling import HandMotion
from notation.nodes import Direction, Hand

Name = tuple[str, str, int, int]
"""Noun, owner, row, place: how a maker finds a member."""


class Maker:
    """Follows steps."""

    def __init__(self, eyes: Mapping[str, tuple[str, ...]]) -> None:
        """`eyes`: the names of the eyes of each kind of finding."""
        self.eyes = eyes
        self.made = Rebuilt()
        self.members: dict[Name, list[int]] = {}
        self.findings: dict[tuple[str, int], list[int]] = {}
        self.open = -1
        self.met: list[tuple[int, int]] = []
        """What the open ring met: node and sign."""
        self.related: list[tuple[RelationKind, tuple[int, ...]]] = []
        self.turned = False
        self.motions = 0
        self.helpers_in: list[str] = []
        self.promised: dict[int, Name] = {}
        """First ring of a connector -> the member that it is meant for, until that goes through it."""
        self.strand: list[int] = []
        self.companion = 0

    # ------------------------------------------------------------ names

    def names(self, them: Members) -> Iterator[Name]:
        for each in them.ranges:
            for place in range(each.first, each.last + 1):
                yield (them.group.singular, them.group.owner, each.row, place)

    def bring_in(self, them: Members) -> list[int]:
        """New members: each name must be new."""
        nodes: list[int] = []
        for name in self.names(them):
            assert name not in self.members, f"{name} is introduced twice"
            strand = list(range(len(self.made.kinds), len(self.made.kinds) + them.group.strand))
            self.made.kinds.extend([them.group.kind.key] * them.group.strand)
            self.members[name] = strand
            nodes.extend(strand)
        return nodes

    def promise(self, them: Members) -> None:
        """Notes for which later members connectors are meant."""
        names = list(self.names(them))
        for meant in them.meant_for:
            at = meant.at
            for later in self.names(meant.members):
                for name in names[at : at + meant.each]:
                    self.promised[self.members[name][0]] = later
                at += meant.each

    def keep_promises(self, nodes: list[int]) -> None:
        """What goes through a connector is what it was meant for."""
        for node in nodes:
            later = self.promised.pop(node, None)
            assert later is None or self.open in self.members[later], (
                f"{later} was meant to go through {node}"
            )

    def unnamed(self, them: Members) -> Members:
        """A ring without a name: whatever the maker calls it, no sentence may ask for it."""
        spot = Range(row=0, first=-len(self.made.kinds), last=-len(self.made.kinds))
        return replace(them, ranges=(spot,))

    def bring_in_finding(self, part: FindingPart) -> int:
        key = (part.label, part.number)
        assert key not in self.findings, f"{key} is introduced twice"
        eyes = self.eyes[part.kind.key]
        first = len(self.made.kinds)
        self.findings[key] = list(range(first, first + len(eyes)))
        self.made.kinds.extend([part.kind.key] * len(eyes))
        return self.eye(part)

    def eye(self, part: FindingPart) -> int:
        names = self.eyes[part.kind.key]
        assert bool(part.eye) == (len(names) > 1), "an eye is named exactly where there are several"
        return self.findings[(part.label, part.number)][names.index(part.eye) if part.eye else 0]

    def find(self, thing: Thing) -> list[int]:
        """What a noun phrase means; it must have been introduced."""
        if isinstance(thing, FindingPart):
            return [self.eye(thing)]
        found: list[int] = []
        for name in self.names(thing):
            strand = self.members[name]
            found.extend(strand if thing.companion < 0 else [strand[thing.companion]])
        self.check_relation(thing)
        self.check_waiting(thing, found)
        return found

    def check_relation(self, them: Members) -> None:
        """`the two below` are two, and lie in the row below; `the one before` comes before."""
        if them.relation is None:
            return
        assert them.count == (1 if them.relation.only else them.relation.count)
        if them.relation.direction in (Direction.BELOW, Direction.ABOVE):
            assert len({each.row for each in them.ranges}) == 1
            assert (them.ranges[0].row > 0) == them.group.rows

    def check_waiting(self, them: Members, found: list[int]) -> None:
        """What waits on a member hangs on that member and on nothing else."""
        if not them.waits_on:
            return
        carriers = [self.members[name] for each in them.waits_on for name in self.names(each)]
        size = them.group.strand
        assert len(carriers) * size == len(found)
        for place, carrier in enumerate(carriers):
            for node in found[place * size : (place + 1) * size]:
                met = {b for a, b, _ in self.made.links if a == node}
                met |= {a for a, b, _ in self.made.links if b == node}
                assert met == set(carrier), "a ring that waits hangs on one member only"

    # ------------------------------------------------------------ hands

    def take_open(self, node: int) -> None:
        assert self.open < 0, "one ring is open at a time"
        self.open, self.met, self.related = node, [], []
        self.motions += 1

    def link(self, nodes: list[int], sign: int = 1) -> None:
        assert self.open >= 0, "only an open ring makes links"
        for node in nodes:
            self.made.links.append((self.open, node, sign))
            self.met.append((node, sign))

    def relate(self, kind: RelationKind, others: list[int]) -> None:
        assert self.open >= 0, "only an open ring is laid"
        self.related.append((kind, tuple(others)))
        self.made.relations.append((kind, self.open, tuple(others)))

    def close(self) -> None:
        assert self.open >= 0, "only an open ring is closed"
        self.open = -1

    def follow(self, node: int) -> None:
        """A companion does what the first ring did."""
        self.made.links.extend((node, other, sign) for other, sign in self.met)
        self.made.relations.extend((kind, node, others) for kind, others in self.related)
        self.motions += 1

    def lies(self, message: Message) -> None:
        """How the twins of the strand lie: behind is further from the maker, unless the work is turned over."""
        place = message["lies"]
        assert isinstance(place, TwinPlace)
        assert place not in (TwinPlace.BEHIND, TwinPlace.BEFORE) or self.turned == (place is TwinPlace.BEFORE)
        if place is not TwinPlace.BESIDE:
            self.made.companionship[self.strand[0]] = COMPANIONSHIP[place]

    def pose(self, kind: PoseKind, nodes: list[int], onto: list[int], amount: int) -> None:
        self.made.poses.append(
            Pose(kind=kind, nodes=tuple(nodes), onto=tuple(onto), amount=amount, at=self.motions)
        )

    def next_companion(self) -> int:
        self.companion += 1
        return self.strand[self.companion]

    # ------------------------------------------------------------ messages

    def step(self, step: StepRecord) -> None:
        for instruction in step.instructions:
            if instruction.kind is InstructionKind.SERIES:
                for single in singles(instruction):
                    self.instruction(single)
            else:
                self.instruction(instruction)

    def instruction(self, instruction: Instruction) -> None:
        head = instruction.head
        if instruction.kind is InstructionKind.PASS:
            assert isinstance(head, Members) and head.count == 1
            self.strand = self.bring_in(head if instruction.named else self.unnamed(head))
            self.companion = 0
        for message in instruction.messages:
            self.message(message)
        assert self.open < 0, "every ring is closed at the end of its instruction"
        if instruction.kind is InstructionKind.PASS:
            assert self.companion == len(self.strand) - 1, "every ring of the strand is told"

    def message(self, message: Message) -> None:
        match message.name:
            case Say.TAKE_OPEN:
                self.take_open(self.strand[0])
            case Say.TAKE_TWIN_OPEN:
                self.take_open(self.next_companion())
            case Say.GO_THROUGH | Say.FEED | Say.HANG_ON:
                self.keep_promises(self.path(message))
                self.link(self.path(message))
            case Say.GO_THROUGH_FROM | Say.GO_THROUGH_EYE | Say.FEED_FROM | Say.HANG_ON_FROM:
                self.keep_promises(self.path(message))
                self.link(self.path(message), self.sign(message))
            case Say.CARRY:
                self.link(self.bring_in(members(message)))
                self.promise(members(message))
            case Say.CARRY_FROM:
                self.link(self.bring_in(members(message)), self.sign(message))
                self.promise(members(message))
            case Say.CARRY_FINDING | Say.CARRY_FINDING_BY:
                self.link([self.bring_in_finding(part(message))])
            case Say.CARRY_FINDING_FROM | Say.CARRY_FINDING_BY_FROM:
                self.link([self.bring_in_finding(part(message))], self.sign(message))
            case Say.AROUND | Say.AROUND_JOINT | Say.BETWEEN | Say.INSIDE | Say.OVER | Say.UNDER:
                kind = RELATIONS[message.name]
                self.relate(FROM_THE_BACK.get(kind, kind) if self.turned else kind, self.path(message))
            case Say.GAP:
                self.relate(RelationKind.GAP, self.firsts(message))
            case Say.CLOSE | Say.CLOSE_PLAIN | Say.CLOSE_EYE:
                self.close()
            case Say.TWIN_SAME:
                self.lies(message)
                self.follow(self.next_companion())
            case Say.TWINS_SAME:
                count = message["count"]
                assert isinstance(count, int)
                self.lies(message)
                for _ in range(count):
                    self.follow(self.next_companion())
            case Say.LIES_BESIDE:
                self.lies(message)
            case Say.TAKE_CLOSED:
                self.motions += len(self.bring_in(members(message)))
            case Say.TAKE_LAID | Say.TAKE_LAID_INSIDE:
                laid_in = tuple(self.path(message)) if message.name is Say.TAKE_LAID_INSIDE else ()
                for name in self.names(members(message)):
                    self.strand = self.bring_in(one_of(members(message), name))
                    self.motions += len(self.strand)
                    self.lies(message)
                    if laid_in:
                        found = ((RelationKind.INSIDE, node, laid_in) for node in self.strand)
                        self.made.relations.extend(found)
            case Say.TAKE_INSIDE:
                holes = tuple(self.path(message))
                for node in self.bring_in(members(message)):
                    self.made.relations.append((RelationKind.INSIDE, node, holes))
                    self.motions += 1
            case Say.OPEN_AGAIN:
                self.take_open(self.one(message))
            case Say.TWIN_AGAIN:
                self.follow(self.one(message))
            case Say.TAKE_FINDING:
                self.take_open(self.bring_in_finding(part(message)))
            case Say.OPEN_EYE:
                self.take_open(self.eye(part(message)))
            case Say.SHARED:
                what, same_as = message["what"], message["same_as"]
                assert isinstance(what, Members) and isinstance(same_as, Members)
                (alias,), (name,) = self.names(what), self.names(same_as)
                self.members[alias] = self.members[name]
            case _ if message.name in HANDS:
                self.hands(message)
            case _:
                assert message.name not in SERIES_OF, "a series is told one by one"

    def hands(self, message: Message) -> None:
        """Motions of the hands, poses, helpers."""
        match message.name:
            case Say.HANDLE_WORK:
                self.turned = self.turned is not (message["motion"] is HandMotion.TURN_OVER)
            case Say.BACK_FACES | Say.FRONT_FACES:
                assert self.turned == (message.name is Say.BACK_FACES)
            case Say.FOLD | Say.FOLD_ONE:
                self.pose(PoseKind.FOLDED, self.path(message), [], 0)
            case Say.FOLD_ONTO | Say.FOLD_ONE_ONTO:
                self.pose(PoseKind.FOLDED, self.path(message), self.path(message, "onto"), 0)
            case Say.SPREAD:
                self.pose(PoseKind.SPREAD, self.path(message), [], 0)
            case Say.LEAN:
                left = (message["hand"] is Hand.LEFT) is not self.turned
                self.pose(LEANING[Hand.LEFT if left else Hand.RIGHT], self.path(message), [], 0)
            case Say.TURN_BY | Say.TURN_EACH_BY:
                degrees = number(message, "degrees")
                amount = degrees if message["turning"] is Turning.CLOCKWISE else 360 - degrees
                self.pose(PoseKind.TURNED, self.path(message), [], amount)
            case Say.HALF_TURNS | Say.NO_HALF_TURNS:
                first = self.members[next(self.names(members(message)))][0]
                count = number(message, "count") if message.name is Say.HALF_TURNS else 0
                clockwise = count and message["turning"] is Turning.CLOCKWISE
                self.pose(PoseKind.HALF_TURNS, [first], [], count if clockwise else -count)
            case Say.FACING_INSIDE | Say.FACING_OUTSIDE:
                assert self.turned == (message.name is Say.FACING_OUTSIDE)
                first = self.members[next(self.names(members(message)))][0]
                self.pose(PoseKind.FRONT_INSIDE, [first], [], 0)
            case Say.WORK_INSIDE | Say.WORK_OUTSIDE:
                assert self.turned == (message.name is Say.WORK_OUTSIDE)
                self.pose(PoseKind.FRONT_INSIDE, [len(self.made.kinds)], [], 0)  # the ring that comes next
            case Say.WORK_DIRECTION:
                turning = message["turning"]
                assert isinstance(turning, Turning)
                self.pose(DIRECTIONS[turning], [], [], 0)
            case Say.HELPER_IN:
                self.made.helpers.append(str(message["helper"]))
                self.helpers_in.append(str(message["helper"]))
                assert self.path(message), "a helper is put through something"
            case Say.HELPER_OUT:
                self.helpers_in.remove(str(message["helper"]))

    def sign(self, message: Message) -> int:
        """+1 from the front: the side facing the maker, unless the work is turned over."""
        entry = message["entry"]
        assert isinstance(entry, Entry)
        assert self.turned == (entry in (Entry.FRONT_TURNED, Entry.BEHIND_TURNED))
        return -1 if entry in (Entry.BEHIND, Entry.BEHIND_TURNED) else 1

    def path(self, message: Message, key: str = "path") -> list[int]:
        path = message[key]
        assert isinstance(path, tuple)
        return [
            node for thing in path if isinstance(thing, Members | FindingPart) for node in self.find(thing)
        ]

    def firsts(self, message: Message) -> list[int]:
        """The first rings of the members of a path."""
        path = message["path"]
        assert isinstance(path, tuple)
        found: list[int] = []
        for thing in path:
            if isinstance(thing, Members):
                found.extend(self.members[name][0] for name in self.names(thing))
            elif isinstance(thing, FindingPart):
                found.append(self.eye(thing))
        return found

    def one(self, message: Message) -> int:
        what = message["what"]
        assert isinstance(what, Members)
        (node,) = self.find(what)
        return node


def members(message: Message) -> Members:
    """The members that a message is about."""
    what = message["what"]
    assert isinstance(what, Members)
    return what


def one_of(them: Members, name: Name) -> Members:
    """The member of this name alone."""
    return replace(them, ranges=(Range(row=name[2], first=name[3], last=name[3]),))


def number(message: Message, key: str) -> int:
    """A number in a message."""
    value = message[key]
    assert isinstance(value, int)
    return value


def part(message: Message) -> FindingPart:
    """The finding that a message is about."""
    what = message["what"]
    assert isinstance(what, FindingPart)
    return what


def rebuild(steps: list[StepRecord], eyes: Mapping[str, tuple[str, ...]]) -> Rebuilt:
    """What a maker gets who follows these steps."""
    maker = Maker(eyes)
    for step in steps:
        maker.step(step)
    assert not maker.helpers_in, "every helper is taken out"
    assert not maker.promised, "every connector is gone through by what it is meant for"
    return maker.made
