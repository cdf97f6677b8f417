"""The columns of one piece while it grows: nodes, links, motions, steps. Becomes a `PieceWeave` at its end."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Mapping, Sequence
from itertools import chain, repeat

from msgspec import Struct, field

from compiler.expand.live import LiveGroup
from compiler.weave import (
    Companionship,
    Event,
    FamilyShape,
    FindingUse,
    Group,
    Mention,
    Motions,
    PieceWeave,
    Pose,
    Relation,
    Site,
    StepRange,
    Verb,
)
from notation.diagnostic import Place


class OpenStep(Struct):
    """A step that is being filled, or was."""

    key: str
    title: str
    site: int
    first: int
    group: int
    number: int
    stop: int = -1
    events: list[Event] = field(default_factory=list)


class GroupDraft(Struct):
    """A group's printed facts before its owner is decided."""

    live: LiveGroup
    singular: str
    plural: str
    site: int
    """The site of the unit use that it lives in; -1 in the piece itself."""
    connector_of: int


class Columns:
    """Grows one piece. Nodes, motions, groups and steps are numbered in order of making."""

    def __init__(self, kinds: int) -> None:
        self.kind = array("h")
        self.group = array("i")
        self.member = array("i")
        self.companion = array("B")
        self.strand = array("i")
        self.born = array("i")
        self.link_a = array("i")
        self.link_b = array("i")
        self.link_motion = array("i")
        self.link_sign = array("b")
        self.verb = array("B")
        self.actor = array("i")
        self.motion_site = array("i")
        self.path_start = array("i", [0])
        self.path_node = array("i")
        self.path_behind = array("b")
        self.load_start = array("i", [0])
        self.load_node = array("i")
        self.mentions: dict[int, tuple[Mention, ...]] = {}
        self.relations: list[Relation] = []
        self.findings: list[FindingUse] = []
        self.groups: list[GroupDraft] = []
        self.steps: list[OpenStep] = []
        self.step_open: OpenStep | None = None
        self.early_events: list[Event] = []
        self.counts = [0] * kinds
        self.broken = False
        self.mirrored = False
        """Whether what is made now is a mirror image: every side is turned."""
        self.companionship: dict[int, Companionship] = {}
        self.followers: dict[int, int] = {}
        self.poses: list[Pose] = []
        self.helpers: list[str] = []
        self._neighbours: dict[int, list[int]] = {}
        self._indexed = 0

    # ------------------------------------------------------------ nodes

    def add_strand(self, kind: int, size: int, live: LiveGroup, member: int, born: int) -> int:
        """Brings in `size` companions as one strand of a group; gives the node of its first ring."""
        first = len(self.kind)
        for companion in range(size):
            self.kind.append(kind)
            self.group.append(live.number)
            self.member.append(member)
            self.companion.append(companion)
            self.strand.append(first)
            self.born.append(born)
        self.counts[kind] += size
        live.members.append(first)
        return first

    def add_strands(self, kind: int, size: int, live: LiveGroup, count: int, born: Sequence[int]) -> range:
        """Brings in so many strands as the next members of a group, their rings by the motions `born`; their firsts."""
        rings = range(len(self.kind), len(self.kind) + size * count)
        firsts = rings[::size]
        number = len(live.members) + 1
        self.kind.extend(repeat(kind, len(rings)))
        self.group.extend(repeat(live.number, len(rings)))
        self.member.extend(chain.from_iterable(map(repeat, range(number, number + count), repeat(size))))
        self.companion.frombytes(bytes(range(size)) * count)
        self.strand.extend(chain.from_iterable(map(repeat, firsts, repeat(size))))
        self.born.extend(born)
        self.counts[kind] += len(rings)
        live.members.extend(firsts)
        return firsts

    def add_finding(self, kind: int, eyes: int, key: str, label: str, born: int) -> FindingUse:
        """Brings in a finding with its eyes as nodes."""
        first = len(self.kind)
        number = len(self.findings)
        for eye in range(eyes):
            self.kind.append(-1 - kind)
            self.group.append(-1)
            self.member.append(number)
            self.companion.append(eye)
            self.strand.append(first + eye)
            self.born.append(born)
        use = FindingUse(kind=kind, key=key, label=label, eyes=tuple(range(first, first + eyes)), motion=born)
        self.findings.append(use)
        return use

    def strand_nodes(self, first: int) -> range:
        """The nodes of the strand whose first ring is `first`."""
        stop = first + 1
        while stop < len(self.strand) and self.strand[stop] == first:
            stop += 1
        return range(first, stop)

    def next_motion(self) -> int:
        """The number that the next motion will have."""
        return len(self.verb)

    # ------------------------------------------------------------ motions

    def add_motion(
        self,
        verb: Verb,
        actor: int,
        site: int,
        path: Sequence[int] = (),
        behind: Iterable[int] | None = None,
        load: Sequence[int] = (),
        mentions: tuple[Mention, ...] | None = None,
    ) -> int:
        """Adds a motion with its links; path and load are nodes, `behind` a 0 or 1 for each node of the path.

        In a mirrored use every side is turned here, those of carried rings too.
        """
        motion = len(self.verb)
        self.verb.append(verb)
        self.actor.append(actor)
        self.motion_site.append(site)
        self.path_node.extend(path)
        turned = int(self.mirrored)
        sides = [turned] * len(path) if behind is None else [side ^ turned for side in behind]
        self.path_behind.extend(sides)
        self.path_start.append(len(self.path_node))
        self.load_node.extend(load)
        self.load_start.append(len(self.load_node))
        if mentions is not None:
            self.mentions[motion] = mentions
        links = len(path) + len(load)
        self.link_a.extend(repeat(actor, links))
        self.link_b.extend(path)
        self.link_b.extend(load)
        self.link_motion.extend(repeat(motion, links))
        self.link_sign.extend([-1 if side else 1 for side in sides])
        self.link_sign.extend(repeat(-1 if turned else 1, len(load)))
        return motion

    def add_takes(self, rings: range, site: int) -> None:
        """Adds a motion for each of these rings, which is taken in hand or laid down."""
        self.verb.frombytes(bytes((Verb.TAKE,)) * len(rings))
        self.actor.extend(rings)
        self.motion_site.extend(repeat(site, len(rings)))
        self.path_start.extend(repeat(len(self.path_node), len(rings)))
        self.load_start.extend(repeat(len(self.load_node), len(rings)))

    def linked_with(self, node: int) -> Sequence[int]:
        """The nodes linked with a node, in order of linking; the index is brought up to date at each question."""
        for link in range(self._indexed, len(self.link_a)):
            a, b = self.link_a[link], self.link_b[link]
            self._neighbours.setdefault(a, []).append(b)
            self._neighbours.setdefault(b, []).append(a)
        self._indexed = len(self.link_a)
        return self._neighbours.get(node, ())

    def sides_of(self, node: int) -> list[tuple[int, int]]:
        """The nodes linked with a node, and for each 1 where it is entered from behind, else 0; in order of linking."""
        columns = zip(self.link_a, self.link_b, self.link_sign, strict=True)
        return [(b if a == node else a, int(sign < 0)) for a, b, sign in columns if node in (a, b)]

    # ------------------------------------------------------------ groups

    def new_group(
        self,
        name: str,
        key: str,
        singular: str,
        plural: str,
        site: int,
        made_at: Place,
        shape: FamilyShape | None = None,
        connector_of: int = -1,
    ) -> LiveGroup:
        live = LiveGroup(number=len(self.groups), name=name, key=key, made_at=made_at, shape=shape)
        self.groups.append(
            GroupDraft(live=live, singular=singular, plural=plural, site=site, connector_of=connector_of)
        )
        return live

    # ------------------------------------------------------------ steps

    def begin_step(self, key: str, title: str, site: int, group: int = -1, number: int = 0) -> OpenStep:
        """Opens a step; the one before must be closed. Keys are kept apart with `~2`, `~3`."""
        step = OpenStep(key=key, title=title, site=site, first=len(self.verb), group=group, number=number)
        step.events.extend(self.early_events)
        self.early_events.clear()
        self.steps.append(step)
        self.step_open = step
        return step

    def whole_step(self, key: str, site: int, group: int, number: int, first: int, stop: int) -> None:
        """Adds a step of motions that are made all at once afterwards."""
        step = self.begin_step(key, "", site, group, number)
        step.first, step.stop = first, stop
        self.step_open = None

    def end_step(self) -> None:
        if self.step_open is not None:
            self.step_open.stop = len(self.verb)
            self.step_open = None

    def add_event(self, event: Event) -> None:
        """Puts an event into the open step, else at the end of the last one, else before the first."""
        if self.step_open is not None:
            self.step_open.events.append(event)
        elif self.steps:
            self.steps[-1].events.append(event)
        else:
            self.early_events.append(event)

    def finish(
        self,
        name: str,
        singular: str,
        times: int,
        parts: int,
        place: Place,
        site: int,
        uses: Mapping[int, Site],
    ) -> PieceWeave:
        """The finished piece; `uses`: the sites of units by number, with the names that are printed."""
        self.end_step()
        same_label: dict[str, int] = {}
        group_keys = []
        used_keys: dict[str, int] = {}
        for draft in self.groups:
            same_label[draft.singular] = same_label.get(draft.singular, 0) + 1
            group_keys.append(_told_apart(draft.live.key, used_keys))
        used_keys = {}
        steps = []
        for step in self.steps:
            if step.first == step.stop and not step.events:
                continue
            steps.append(
                StepRange(
                    key=_told_apart(step.key, used_keys),
                    title=step.title,
                    site=step.site,
                    first=step.first,
                    stop=step.stop,
                    events=tuple(step.events),
                    group=step.group,
                    number=step.number,
                )
            )
        return PieceWeave(
            name=name,
            singular=singular,
            times=times,
            parts=parts,
            place=place,
            site=site,
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
            groups=tuple(
                Group(
                    key=key,
                    name=draft.live.name,
                    singular=draft.singular,
                    plural=draft.plural,
                    owner=uses[draft.site].name if draft.site >= 0 and same_label[draft.singular] > 1 else "",
                    shape=draft.live.shape,
                    connector_of=draft.connector_of,
                )
                for key, draft in zip(group_keys, self.groups, strict=True)
            ),
            motions=Motions(
                verb=self.verb,
                actor=self.actor,
                site=self.motion_site,
                path_start=self.path_start,
                path_node=self.path_node,
                path_behind=self.path_behind,
                load_start=self.load_start,
                load_node=self.load_node,
                mentions=self.mentions,
            ),
            findings=tuple(self.findings),
            steps=tuple(steps),
            broken=self.broken,
            companionship=self.companionship,
            followers=self.followers,
            poses=tuple(self.poses),
            helpers=tuple(self.helpers),
        )


def _told_apart(key: str, used: dict[str, int]) -> str:
    """The key, or with `~2`, `~3` behind it where it has been used."""
    used[key] = used.get(key, 0) + 1
    return key if used[key] == 1 else f"{key}~{used[key]}"
