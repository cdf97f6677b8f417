"""A small hand builder of weaves for tests: rings, passes, takes, carries, findings, steps, without a pattern.

Nodes are given back as tuples of ids (a strand), so that a test can say what later motions go through.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from decimal import Decimal

from compiler.weave import (
    Companionship,
    Event,
    EventKind,
    EyeKind,
    FamilyShape,
    FindingKind,
    FindingUse,
    Group,
    Mention,
    Motions,
    PieceWeave,
    Pose,
    PoseKind,
    Relation,
    RelationKind,
    RingKind,
    Site,
    SiteKind,
    StepRange,
    Verb,
    Weave,
)
from notation.diagnostic import Place
from notation.handling import HandMotion
from notation.nodes import Bundle, Relative
from notation.source import Span
from notation.statements import FamilyKind, Stagger

Strand = tuple[int, ...]
NOWHERE = Place(source="test", span=Span(0, 0))


def ring_kind(name: str, singular: str | None = None) -> RingKind:
    """A kind of ring; sizes do not matter to the words."""
    noun = singular or name
    return RingKind(
        name=name,
        inner_mm=Decimal(5),
        wire_mm=Decimal(1),
        metal="copper",
        bundle=Bundle.SINGLE,
        singular=noun,
        plural=noun + "s",
        gauge=None,
        place=NOWHERE,
    )


def finding_kind(name: str, eyes: Sequence[str] = ("eye",)) -> FindingKind:
    """A kind of finding with eyes of these names."""
    return FindingKind(
        name=name,
        type="drop",
        eyes=tuple(EyeKind(name=eye, inner_mm=Decimal(2), opens=True, free=False) for eye in eyes),
        wire_mm=None,
        length_mm=None,
        metal=None,
        singular=name,
        plural=name + "s",
        place=NOWHERE,
    )


def sheet_shape(widths: Sequence[int], *, downward: bool = False) -> FamilyShape:
    """Rows, aligned; the words only need their widths."""
    return FamilyShape(
        kind=FamilyKind.SHEET,
        widths=tuple(widths),
        offsets=(0,) * len(widths),
        stagger=Stagger.ALIGNED,
        downward=downward,
    )


class PieceBuilder:
    """Builds one piece, motion by motion."""

    def __init__(self, rings: Sequence[RingKind], findings: Sequence[FindingKind] = ()) -> None:
        self.rings = tuple(rings)
        self.finding_kinds = tuple(findings)
        self.kind, self.group, self.member = array("h"), array("i"), array("i")
        self.companion, self.strand, self.born = array("B"), array("i"), array("i")
        self.link_a, self.link_b, self.link_motion = array("i"), array("i"), array("i")
        self.link_sign = array("b")
        self.verb, self.actor, self.site = array("B"), array("i"), array("i")
        self.path_start, self.path_node, self.path_behind = array("i", [0]), array("i"), array("b")
        self.load_start, self.load_node = array("i", [0]), array("i")
        self.mentions: dict[int, tuple[Mention, ...]] = {}
        self.relations: list[Relation] = []
        self.companionship: dict[int, Companionship] = {}
        self.poses: list[Pose] = []
        self.uses: list[FindingUse] = []
        self.groups: list[Group] = []
        self.sizes: list[int] = []
        self.steps: list[StepRange] = []
        self.events: list[Event] = []
        self.first = 0

    # ------------------------------------------------------------ groups and nodes

    def new_group(
        self, singular: str, owner: str = "", shape: FamilyShape | None = None, connector_of: int = -1
    ) -> int:
        """A group, by its label; gives its number."""
        self.groups.append(
            Group(
                key=f"{owner}/{singular}",
                name=singular,
                singular=singular,
                plural=singular + "s",
                owner=owner,
                shape=shape,
                connector_of=connector_of,
            )
        )
        self.sizes.append(0)
        return len(self.groups) - 1

    def _strand(self, group: int, kind: int, size: int, born: int) -> Strand:
        first = len(self.kind)
        self.sizes[group] += 1
        for companion in range(size):
            self.kind.append(kind)
            self.group.append(group)
            self.member.append(self.sizes[group])
            self.companion.append(companion)
            self.strand.append(first)
            self.born.append(born)
        return tuple(range(first, first + size))

    def _finding(self, kind: int, born: int) -> Strand:
        first = len(self.kind)
        eyes = tuple(range(first, first + len(self.finding_kinds[kind].eyes)))
        for eye in range(len(eyes)):
            self.kind.append(-1 - kind)
            self.group.append(-1)
            self.member.append(len(self.uses))
            self.companion.append(eye)
            self.strand.append(first + eye)
            self.born.append(born)
        name = self.finding_kinds[kind].name
        self.uses.append(FindingUse(kind=kind, key=name, label=name, eyes=eyes, motion=born))
        return eyes

    # ------------------------------------------------------------ motions

    def _motion(
        self,
        verb: Verb,
        actor: int,
        path: Sequence[int],
        behind: Sequence[int],
        load: Sequence[int],
        load_behind: int = 0,
    ) -> None:
        motion = len(self.verb)
        self.verb.append(verb)
        self.actor.append(actor)
        self.site.append(0)
        self.path_node.extend(path)
        self.path_behind.extend(behind)
        self.path_start.append(len(self.path_node))
        self.load_node.extend(load)
        self.load_start.append(len(self.load_node))
        for node, side in (*zip(path, behind, strict=True), *((node, load_behind) for node in load)):
            self.link_a.append(actor)
            self.link_b.append(node)
            self.link_motion.append(motion)
            self.link_sign.append(-1 if side else 1)

    def take(self, group: int, kind: int = 0, size: int = 1) -> Strand:
        """A closed strand taken in hand."""
        nodes = self._strand(group, kind, size, len(self.verb))
        for companion, node in enumerate(nodes):
            self.born[node] = len(self.verb)
            self._motion(Verb.TAKE, nodes[companion], (), (), ())
        return nodes

    def pass_(
        self,
        group: int,
        through: Sequence[Strand] = (),
        *,
        kind: int = 0,
        size: int = 1,
        behind: Sequence[int] = (),
        carry: Sequence[tuple[int, int, int, int]] = (),
        hang: Sequence[int] = (),
        waiting: bool = False,
        relative: Relative | None = None,
        gathering: bool = False,
        twin: Sequence[Strand] | None = None,
        around: Strand = (),
        between: Strand = (),
        inside: Strand = (),
        over: Strand = (),
        under: Strand = (),
        gap: Strand = (),
        way: Companionship | None = None,
        mirrored: bool = False,
    ) -> tuple[Strand, list[Strand]]:
        """A pass with its twins; gives its strand and what it carries.

        `carry` has (group, kind, strands, size of each); `hang` has kinds of findings, by their first eye; `behind`
        a 0 or 1 for each strand gone through; `twin` the twin's own way; `around` and its kin what the ring lies so to;
        `way` how twins lie; `mirrored` turns all sides.
        """
        motion = len(self.verb)
        nodes = self._strand(group, kind, size, motion)
        carried = [
            self._strand(into, of, each, motion) for into, of, count, each in carry for _ in range(count)
        ]
        found = [self._finding(of, motion) for of in hang]
        load = [node for strand in carried for node in strand] + [eyes[0] for eyes in found]
        path = [node for strand in through for node in strand]
        sides = behind or [0] * len(through)
        turned = [side ^ mirrored for side, strand in zip(sides, through, strict=True) for _ in strand]
        mentions, at = [], 0
        for strand in [path] if relative is not None else through:
            mentions.append(
                Mention(
                    form=relative,
                    start=at,
                    stop=at + len(strand),
                    eye=False,
                    gathering=gathering,
                    waiting=waiting,
                )
            )
            at += len(strand)
        self.mentions[motion] = tuple(mentions)
        self._motion(Verb.PASS, nodes[0], path, turned, load, int(mirrored))
        if way is not None:
            self.companionship[nodes[0]] = way
        for companion in nodes[1:]:
            self.born[companion] = len(self.verb)
            if twin is None:
                self._motion(
                    Verb.TWIN, companion, [*path, *load], [*turned, *([int(mirrored)] * len(load))], ()
                )
            else:
                own = [node for strand in twin for node in strand]
                mention = Mention(
                    form=None, start=0, stop=len(own), eye=False, gathering=False, waiting=False
                )
                self.mentions[len(self.verb)] = (mention,)
                self._motion(Verb.TWIN, companion, own, [int(mirrored)] * len(own), ())
        for kind_of, others in (
            (RelationKind.AROUND, around),
            (RelationKind.BETWEEN, between),
            (RelationKind.INSIDE, inside),
            (RelationKind.OVER, over),
            (RelationKind.UNDER, under),
            (RelationKind.GAP, gap),
        ):
            if others:
                self.relations.extend(
                    Relation(kind=kind_of, node=node, others=others, motion=self.born[node]) for node in nodes
                )
        return nodes, [*carried, *found]

    def reopen(self, strand: Strand, through: Sequence[Strand]) -> None:
        """Opens every ring of a strand again and passes it on."""
        path = [node for each in through for node in each]
        for node in strand:
            mention = Mention(form=None, start=0, stop=len(path), eye=False, gathering=False, waiting=False)
            self.mentions[len(self.verb)] = (mention,)
            self._motion(Verb.REOPEN, node, path, [0] * len(path), ())

    def hang(self, kind: int, on: Strand) -> Strand:
        """A finding hung by its first eye."""
        eyes = self._finding(kind, len(self.verb))
        self._motion(Verb.HANG, eyes[0], on, [0] * len(on), ())
        return eyes

    def turn_over(self) -> None:
        """The work is turned over."""
        self.events.append(
            Event(at=len(self.verb), kind=EventKind.HANDLE, site=0, handle=HandMotion.TURN_OVER)
        )

    def pose(self, kind: PoseKind, nodes: Strand = (), onto: Strand = (), amount: int = 0) -> None:
        """A lasting pose."""
        pose = Pose(kind=kind, nodes=nodes, onto=onto, amount=amount, at=len(self.verb))
        self.poses.append(pose)
        self.events.append(Event(at=pose.at, kind=EventKind.POSE, site=0, pose=pose))

    # ------------------------------------------------------------ steps

    def step(self, title: str = "", group: int = -1, number: int = 0) -> None:
        """Ends a step: all motions since the one before."""
        self.steps.append(
            StepRange(
                key=f"step-{len(self.steps) + 1}",
                title=title,
                site=0,
                first=self.first,
                stop=len(self.verb),
                events=tuple(self.events),
                group=group,
                number=number,
            )
        )
        self.events = []
        self.first = len(self.verb)

    def piece(self, name: str = "piece", times: int = 1) -> PieceWeave:
        """The piece."""
        return PieceWeave(
            name=name,
            singular=name,
            times=times,
            parts=1,
            place=NOWHERE,
            site=0,
            kind=self.kind,
            group=self.group,
            member=self.member,
            companion=self.companion,
            strand=self.strand,
            born=self.born,
            link_a=self.link_a,
            link_b=self.link_b,
            link_motion=self.link_motion,
            link_sign=self.link_sign,
            relations=tuple(self.relations),
            groups=tuple(self.groups),
            motions=Motions(
                verb=self.verb,
                actor=self.actor,
                site=self.site,
                path_start=self.path_start,
                path_node=self.path_node,
                path_behind=self.path_behind,
                load_start=self.load_start,
                load_node=self.load_node,
                mentions=self.mentions,
            ),
            findings=tuple(self.uses),
            steps=tuple(self.steps),
            broken=False,
            companionship=self.companionship,
            poses=tuple(self.poses),
        )

    def weave(self, name: str = "piece", times: int = 1) -> Weave:
        """A weave of this one piece."""
        site = Site(parent=-1, kind=SiteKind.PIECE, place=NOWHERE, name=name, number=0)
        return Weave(
            source="test",
            title="Corvus",
            by="Tamsin Orrell",
            licence="CC-BY-4.0",
            version="1",
            level="beginner",
            about="",
            ring_kinds=self.rings,
            finding_kinds=self.finding_kinds,
            kit=None,
            sites=(site,),
            pieces=(self.piece(name, times),),
            complete=True,
        )
