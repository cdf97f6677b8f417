"""What sentences ask for, as motions, and what comes of them: links with sides, relations, companions, folds, kinds.

In: motions as `read_english` finds them. Out: `Made`, whose nodes are numbered in the order in which the words bring
them in. Of the pattern only the eyes of each finding are known, as a maker knows them from the kit.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from read_phrases import Name

from compiler.weave import Companionship, Pose, PoseKind, RelationKind

Item = TypeVar("Item")
Met = tuple[Name, int]
"""What an open ring goes through, and +1 where it enters from the front, -1 from behind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What an open ring carries."""

    name: Name
    rings: int
    """0 for a finding."""
    kind: str = ""
    sign: int = 1


@dataclass(slots=True, kw_only=True)
class Motion:
    """One ring or strand after another that is passed, taken or hung, each in the same way."""

    targets: list[Name | None] = field(default_factory=list)
    """None for a ring that has no name."""
    kind: str = ""
    """What the rings are called among the materials."""
    strand: int = 1
    lies: Companionship = Companionship.SIDE_BY_SIDE
    paths: list[list[Met]] = field(default_factory=list)
    """For each target, or one for all; so with the next two."""
    carried: list[list[Load]] = field(default_factory=list)
    relations: list[tuple[RelationKind, list[list[Name]]]] = field(default_factory=list)
    hung: Name | None = None
    """The finding that is hung, instead of a ring."""
    same_as: Name | None = None
    """A place that is there already, and has a new name."""
    pose: PoseKind | None = None
    """Instead of a ring: what is done to `posed`."""
    posed: list[Name] = field(default_factory=list)
    onto: list[Name] = field(default_factory=list)
    stands: RelationKind | None = None
    """Instead of a ring: what is to be checked of `posed` and `onto`."""

    def add(self, place: int, met: Sequence[Met]) -> None:
        """More that the target at this place goes through."""
        while len(self.paths) <= place:
            self.paths.append([])
        self.paths[place].extend(met)

    def mapped(self, change: Callable[[Name], Name]) -> Motion:
        """The motion with every name changed."""
        return replace(
            self,
            targets=[None if name is None else change(name) for name in self.targets],
            paths=[[(change(name), sign) for name, sign in path] for path in self.paths],
            carried=[[replace(load, name=change(load.name)) for load in loads] for loads in self.carried],
            relations=[
                (kind, [[change(name) for name in names] for names in each]) for kind, each in self.relations
            ],
            hung=None if self.hung is None else change(self.hung),
            same_as=None if self.same_as is None else change(self.same_as),
            posed=[change(name) for name in self.posed],
            onto=[change(name) for name in self.onto],
        )


def _at(told: Sequence[Sequence[Item]], place: int) -> Sequence[Item]:
    """What is told for a target: one entry may stand for all."""
    return told[place if len(told) > 1 else 0] if told else ()


_HOLD = (RelationKind.AROUND, RelationKind.INSIDE, RelationKind.BETWEEN)


class Made:
    """What a piece has so far."""

    def __init__(self, eyes: Mapping[str, tuple[str, ...]]) -> None:
        """`eyes`: the names of the eyes of each finding, by what it is called in print."""
        self.eyes = eyes
        self.links: dict[tuple[int, int], int] = {}
        """(what was open, what it met) -> the side."""
        self.relations: list[tuple[RelationKind, int, tuple[int, ...]]] = []
        self.companionship: dict[int, Companionship] = {}
        self.poses: list[Pose] = []
        self.kinds: list[str] = []
        self.members: dict[Name, list[int]] = {}
        self.motions = 0

    def follow(self, motions: Sequence[Motion]) -> None:
        """Carries motions out."""
        for motion in motions:
            if motion.same_as is not None:
                (name,) = motion.targets
                assert name is not None
                self.members[name] = self.find(motion.same_as)
            elif motion.pose is not None:
                nodes, onto = self._nodes(motion.posed), self._nodes(motion.onto)
                self.poses.append(Pose(kind=motion.pose, nodes=nodes, onto=onto, at=self.motions))
            elif motion.stands is not None:
                self._check(motion.stands, self._nodes(motion.posed), self._nodes(motion.onto))
            else:
                for place, target in enumerate(motion.targets):
                    self._one(motion, place, target)

    def loose(self, rings: Collection[str]) -> int:
        """How many of the rings, of kinds that are called so, nothing is joined to: by a link, or by how they lie."""
        held = {node for pair in self.links for node in pair}
        held.update(ring for kind, ring, _ in self.relations if kind in _HOLD)
        return sum(kind in rings and node not in held for node, kind in enumerate(self.kinds))

    def _one(self, motion: Motion, place: int, target: Name | None) -> None:
        met = [(node, sign) for name, sign in _at(motion.paths, place) for node in self.find(name)]
        relations = [(kind, self._nodes(_at(names, place))) for kind, names in motion.relations]
        if motion.hung is not None:
            strand = self._part(motion.hung)
        else:
            strand = self._bring_in(target, motion.strand, motion.kind)
            if motion.lies is not Companionship.SIDE_BY_SIDE:
                self.companionship[strand[0]] = motion.lies
        for load in _at(motion.carried, place):
            new = self._bring_in(load.name, load.rings, load.kind) if load.rings else self._part(load.name)
            met.extend((node, load.sign) for node in new)
        for ring in strand:
            self.motions += 1
            self.relations.extend((kind, ring, others) for kind, others in relations)
            for node, sign in met:
                assert not {(ring, node), (node, ring)} & self.links.keys(), f"{target} is linked twice"
                self.links[ring, node] = sign

    def _check(self, kind: RelationKind, nodes: tuple[int, ...], onto: tuple[int, ...]) -> None:
        """What the maker is told to look for is so: each lies so to each that is named; over one is under the other."""
        lie = {(kind, node, other) for kind, node, others in self.relations for other in others}
        for node in nodes:
            for other in onto:
                turned = (RelationKind.UNDER, other, node) in lie and kind is RelationKind.OVER
                assert (kind, node, other) in lie or turned, (kind, node, other)

    def _nodes(self, names: Sequence[Name]) -> tuple[int, ...]:
        return tuple(node for name in names for node in self.find(name))

    def _bring_in(self, name: Name | None, rings: int, kind: str) -> list[int]:
        nodes = list(range(len(self.kinds), len(self.kinds) + rings))
        self.kinds.extend([kind] * rings)
        if name is not None:
            assert name not in self.members, f"{name} is brought in twice"
            self.members[name] = nodes
        return nodes

    def _part(self, name: Name) -> list[int]:
        """A finding that comes in: all its eyes, and the one that is met."""
        eyes = self.eyes[name.noun]
        nodes = self._bring_in(None, len(eyes), name.noun)
        for eye, node in zip(eyes, nodes, strict=True):
            self.members[replace(name, eye=eye if len(eyes) > 1 else "")] = [node]
        return self.members[name]

    def find(self, name: Name) -> list[int]:
        """What a name means: in this owner, else the one that is called so."""
        for tried in (name, replace(name, row=0), replace(name, owner=""), replace(name, owner="", row=0)):
            if tried in self.members:
                return self.members[tried]
        alike = [each for each in self.members if each.bare() == name.bare() and each.eye == name.eye]
        alike = [each for each in alike if each.owner == name.owner] or alike
        assert len(alike) == 1, f"{name}: {alike}"
        return self.members[alike[0]]
