"""A bench for the checks: weaves put together ring by ring, without text and without the expansion.

Each motion is one statement; `places` maps a motion to the place of its statement, ten characters a motion
unless a place is given by hand (a repeat that carries out one statement many times).
"""

from __future__ import annotations

from array import array
from decimal import Decimal

from compiler.weave import (
    EyeKind,
    FindingKind,
    FindingUse,
    Group,
    KitEntry,
    Motions,
    PieceWeave,
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
from notation.nodes import Bundle
from notation.source import Span


def place(number: int) -> Place:
    """The place of statement `number`."""
    return Place(source="bench.annulet", span=Span(1000 + 10 * number, 1008 + 10 * number))


def ring_kind(name: str, inner: str, wire: str) -> RingKind:
    return RingKind(
        name=name,
        inner_mm=Decimal(inner),
        wire_mm=Decimal(wire),
        metal="copper",
        bundle=Bundle.SINGLE,
        singular=name,
        plural=f"{name}s",
        gauge=None,
        place=Place(source="bench.annulet", span=Span(0, 5)),
    )


def finding_kind(name: str, *eyes: EyeKind, wire: str | None = None) -> FindingKind:
    return FindingKind(
        name=name,
        type="drop",
        eyes=eyes,
        wire_mm=None if wire is None else Decimal(wire),
        length_mm=None,
        metal=None,
        singular=name,
        plural=f"{name}s",
        place=Place(source="bench.annulet", span=Span(10, 15)),
    )


def eye(name: str = "eye", inner: str = "2", *, opens: bool = False, free: bool = False) -> EyeKind:
    return EyeKind(name=name, inner_mm=Decimal(inner), opens=opens, free=free)


LINK = ring_kind("link", "5", "1")
SMALL = ring_kind("small", "3", "0.7")
DROP = finding_kind("drop", eye())


class Bench:
    """One piece in the making; `weave()` gives the whole pattern."""

    def __init__(
        self,
        *,
        rings: tuple[RingKind, ...] = (LINK, SMALL),
        findings: tuple[FindingKind, ...] = (DROP,),
        kit: tuple[tuple[str, int], ...] | None = None,
        times: int = 1,
        parts: int = 1,
        name: str = "earring",
    ) -> None:
        self.ring_kinds, self.finding_kinds, self.kit = rings, findings, kit
        self.times, self.parts, self.name = times, parts, name
        self.sites = [Site(parent=-1, kind=SiteKind.PIECE, place=place(-1), name=name, number=0)]
        self.site = 0
        self.group_names: list[str] = []
        self.members: dict[str, int] = {}
        self.columns: dict[str, list[int]] = {
            key: []
            for key in ("kind", "group", "member", "companion", "strand", "born", "a", "b", "m", "verb", "at")
        }
        self.relations: list[Relation] = []
        self.uses: list[FindingUse] = []
        self.broken = False

    def motion(self, at: Place | None = None) -> int:
        """A new statement with its motion; gives the number of the motion."""
        number = len(self.columns["at"])
        self.sites.append(
            Site(
                parent=self.site,
                kind=SiteKind.STATEMENT,
                place=place(number) if at is None else at,
                name="",
                number=0,
            )
        )
        self.columns["at"].append(len(self.sites) - 1)
        self.columns["verb"].append(Verb.PASS)
        return number

    def inside(self, kind: SiteKind, name: str, number: int, at: Place) -> None:
        """What follows is carried out in a round, place or use under the one before."""
        self.sites.append(Site(parent=self.site, kind=kind, place=at, name=name, number=number))
        self.site = len(self.sites) - 1

    def strand(self, group: str, kind: str = "link", rings: int = 1, at: Place | None = None) -> list[int]:
        """Rings side by side, one motion for each, as the next member of a group; gives their nodes."""
        if group not in self.group_names:
            self.group_names.append(group)
        self.members[group] = self.members.get(group, 0) + 1
        kinds = [ring.name for ring in self.ring_kinds]
        first = len(self.columns["kind"])
        for companion in range(rings):
            values = (
                kinds.index(kind),
                self.group_names.index(group),
                self.members[group],
                companion,
                first,
                self.motion(at),
            )
            for key, value in zip(
                ("kind", "group", "member", "companion", "strand", "born"), values, strict=True
            ):
                self.columns[key].append(value)
        return list(range(first, first + rings))

    def finding(self, kind: str = "drop", at: Place | None = None) -> list[int]:
        """A finding with a motion of its own; gives the nodes of its eyes."""
        number = [found.name for found in self.finding_kinds].index(kind)
        first, motion = len(self.columns["kind"]), self.motion(at)
        eyes = len(self.finding_kinds[number].eyes)
        for index in range(eyes):
            values = (-1 - number, -1, len(self.uses), index, first + index, motion)
            for key, value in zip(
                ("kind", "group", "member", "companion", "strand", "born"), values, strict=True
            ):
                self.columns[key].append(value)
        nodes = tuple(range(first, first + eyes))
        self.uses.append(FindingUse(kind=number, key=f"{kind}", label=kind, eyes=nodes, motion=motion))
        return list(nodes)

    def link(self, a: int, b: int, motion: int | None = None) -> None:
        """A link; by default of the motion that brought in the later of the two."""
        born = self.columns["born"]
        self.columns["a"].append(a)
        self.columns["b"].append(b)
        self.columns["m"].append(max(born[a], born[b]) if motion is None else motion)

    def relate(self, kind: RelationKind, node: int, *others: int) -> None:
        self.relations.append(
            Relation(kind=kind, node=node, others=others, motion=self.columns["born"][node])
        )

    def piece(self) -> PieceWeave:
        c = self.columns
        motions = len(c["at"])
        return PieceWeave(
            name=self.name,
            singular=self.name,
            times=self.times,
            parts=self.parts,
            place=place(-1),
            site=0,
            kind=array("h", c["kind"]),
            group=array("i", c["group"]),
            member=array("i", c["member"]),
            companion=array("B", c["companion"]),
            strand=array("i", c["strand"]),
            born=array("i", c["born"]),
            link_a=array("i", c["a"]),
            link_b=array("i", c["b"]),
            link_motion=array("i", c["m"]),
            link_sign=array("b", [1] * len(c["a"])),
            relations=tuple(self.relations),
            groups=tuple(
                Group(
                    key=name,
                    name=name,
                    singular=name,
                    plural=f"{name}s",
                    owner="",
                    shape=None,
                    connector_of=-1,
                )
                for name in self.group_names
            ),
            motions=Motions(
                verb=array("B", c["verb"]),
                actor=array("i", [0] * motions),
                site=array("i", c["at"]),
                path_start=array("i", [0] * (motions + 1)),
                path_node=array("i"),
                path_behind=array("b"),
                load_start=array("i", [0] * (motions + 1)),
                load_node=array("i"),
                mentions={},
            ),
            findings=tuple(self.uses),
            steps=(
                StepRange(
                    key="all", title="All", site=0, first=0, stop=motions, events=(), group=-1, number=0
                ),
            ),
            broken=self.broken,
        )

    def weave(self, *pieces: PieceWeave) -> Weave:
        """The pattern of this piece, and of others that share its sites and kinds."""
        kit = None
        if self.kit is not None:
            kit = tuple(
                KitEntry(
                    kind=kind, count=count, place=Place(source="bench.annulet", span=Span(20 + i, 21 + i))
                )
                for i, (kind, count) in enumerate(self.kit)
            )
        return Weave(
            source="bench.annulet",
            title="",
            by="",
            licence="",
            version="",
            level="",
            about="",
            ring_kinds=self.ring_kinds,
            finding_kinds=self.finding_kinds,
            kit=kit,
            sites=tuple(self.sites),
            pieces=pieces or (self.piece(),),
            complete=not self.broken,
        )
