"""The facts that make a weave what it is, taken from a piece: what `match` compares.

In: a piece and its weave. Out: `Structure`, nodes with colours and poses and edges with labels. A link has a sign, +1
entered from the front, -1 from behind. A ring's own front is a choice, so only the product of signs round a loop of
links is a fact; turning a ring round changes the signs of all its links (switching, in the words of signed graphs:
Zaslavsky, "Signed graphs", Discrete Applied Mathematics 4 (1982), named from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from compiler.weave import Companionship, PieceWeave, PoseKind, RelationKind, Weave

COMPANION = ("companion",)
"""How the rings of a strand that lie side by side are related, and nothing else is."""
IN_A_GAP = "in a gap"
"""The colour of a node that stands for a gap that was stated, between what lies there."""
_RELATION_WORDS: dict[RelationKind, tuple[str, str]] = {
    RelationKind.AROUND: ("around", "inside"),
    RelationKind.INSIDE: ("inside", "around"),
    RelationKind.BETWEEN: ("between", "beside"),
    RelationKind.OVER: ("over", "under"),
    RelationKind.UNDER: ("under", "over"),
}
_AROUND_JOINT = ("around the joint", "with a ring around their joint")
_FOLDED = ("folded onto", "with others folded onto it")
_FRONT_AND_BACK = ("front and back, later", "front and back, earlier")
_TURNED_OVER = {
    "over": "under",
    "under": "over",
    "leaned left": "leaned right",
    "leaned right": "leaned left",
    _FRONT_AND_BACK[0]: _FRONT_AND_BACK[1],
    _FRONT_AND_BACK[1]: _FRONT_AND_BACK[0],
}
_MIRRORED = {"leaned left": "leaned right", "leaned right": "leaned left"}
WHOLE_TURN = 360
"""Degrees."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Structure:
    """One piece as a graph."""

    colours: tuple[str, ...]
    """By node: sizes and metal of a ring, or type and eye of a finding."""
    links: tuple[dict[int, int], ...]
    """By node: each linked node and the sign of the link."""
    others: tuple[dict[int, tuple[str, ...]], ...]
    """By node: each node related otherwise (companion, around, between) and the sorted names of the relations."""
    poses: tuple[tuple[str, ...], ...]
    """By node: the poses it has in the end, sorted; one that is so many ends in its number: `turned 120`."""

    def part(self, nodes: Sequence[int]) -> Structure:
        """Some of the nodes, numbered anew; nothing may join them to the rest."""
        number = {node: index for index, node in enumerate(nodes)}

        return Structure(
            colours=tuple(self.colours[node] for node in nodes),
            links=tuple({number[other]: sign for other, sign in self.links[node].items()} for node in nodes),
            others=tuple(
                {number[other]: names for other, names in self.others[node].items()} for node in nodes
            ),
            poses=tuple(self.poses[node] for node in nodes),
        )

    def links_alone(self) -> Structure:
        """What is linked with what, without sides, relations or poses."""
        return replace(self.without_sides().without_poses(), others=({},) * len(self.colours))

    def without_sides(self) -> Structure:
        """The same with every ring entered from the front."""
        return replace(self, links=tuple(dict.fromkeys(near, 1) for near in self.links))

    def without_poses(self) -> Structure:
        """The same with no poses."""
        return replace(self, poses=((),) * len(self.colours))

    def mirrored(self) -> Structure:
        """The mirror image: entries from the other side, left for right, turned the other way; the front stays."""
        links = tuple({other: -sign for other, sign in near.items()} for near in self.links)
        return replace(self, links=links, poses=_renamed(self.poses, _mirrored))

    def turned_over(self) -> Structure:
        """The same seen from the back: over is under, left is right, and what was in front lies behind."""
        others = tuple(
            {
                other: tuple(sorted(_TURNED_OVER.get(name, name) for name in names))
                for other, names in near.items()
            }
            for near in self.others
        )
        poses = _renamed(self.poses, lambda pose: _TURNED_OVER.get(pose, pose))
        return replace(self, others=others, poses=poses)


def _renamed(poses: tuple[tuple[str, ...], ...], rename: Callable[[str], str]) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(sorted(map(rename, each))) for each in poses)


def _mirrored(pose: str) -> str:
    name, _, amount = pose.rpartition(" ")
    if name == PoseKind.TURNED.value:
        return f"{name} {-int(amount) % WHOLE_TURN}"
    if name == PoseKind.HALF_TURNS.value:
        return f"{name} {-int(amount)}"
    return _MIRRORED.get(pose, pose)


def structure_of(weave: Weave, piece: PieceWeave) -> Structure:
    """The structure of a piece; after its nodes come some that stand for gaps."""
    count = len(piece)
    gaps = sum(relation.kind is RelationKind.GAP for relation in piece.relations)
    links: list[dict[int, int]] = [{} for _ in range(count + gaps)]
    for a, b, sign in zip(piece.link_a, piece.link_b, piece.link_sign, strict=True):
        links[a][b] = links[b][a] = sign
    related: list[dict[int, list[str]]] = [{} for _ in range(count + gaps)]

    def relate(a: int, b: int, names: tuple[str, str]) -> None:
        related[a].setdefault(b, []).append(names[0])
        related[b].setdefault(a, []).append(names[1])

    for node in range(count):
        first = piece.strand[node]
        if first != node and piece.kind[node] >= 0:
            for other in range(first, node):
                relate(node, other, _companions(piece, first))
    gap = count
    for relation in piece.relations:
        if relation.kind is RelationKind.GAP:
            for other, name in zip((relation.node, *relation.others), _GAP, strict=True):
                relate(gap, other, (name, f"{name}, of"))
            gap += 1
            continue
        names = _RELATION_WORDS[relation.kind]
        is_joint = len({piece.strand[other] for other in relation.others}) > 1
        if relation.kind is RelationKind.AROUND and is_joint:
            names = _AROUND_JOINT
        for other in relation.others:
            relate(relation.node, other, names)
    for node, onto in dict.fromkeys(
        (node, onto)
        for pose in piece.poses
        if pose.kind is PoseKind.FOLDED
        for node in pose.nodes
        for onto in pose.onto
    ):
        relate(node, onto, _FOLDED)
    for finding in piece.findings:
        for eye in finding.eyes[1:]:
            relate(finding.eyes[0], eye, ("same finding", "same finding"))
    return Structure(
        colours=(*(_colour(weave, piece, node) for node in range(count)), *((IN_A_GAP,) * gaps)),
        links=tuple(links),
        others=tuple({b: tuple(sorted(names)) for b, names in near.items()} for near in related),
        poses=(*_poses(piece), *(((),) * gaps)),
    )


_GAP = ("lies there", "on", "next to", "next to")
_NESTED = ("nested, later", "nested, earlier")


def _companions(piece: PieceWeave, first: int) -> tuple[str, str]:
    match piece.companionship.get(first, Companionship.SIDE_BY_SIDE):
        case Companionship.FRONT_AND_BACK:
            return _FRONT_AND_BACK
        case Companionship.NESTED:
            return _NESTED
        case Companionship.SIDE_BY_SIDE:
            return COMPANION * 2


def _poses(piece: PieceWeave) -> list[tuple[str, ...]]:
    """By node, in the end: the last lean, all turns together, half turns of each ring of a round."""
    leans: dict[int, str] = {}
    turned: dict[int, int] = {}
    found: list[set[str]] = [set() for _ in range(len(piece))]
    members: dict[int, list[int]] | None = None
    for pose in piece.poses:
        match pose.kind:
            case PoseKind.LEAN_LEFT:
                leans.update(dict.fromkeys(pose.nodes, "leaned left"))
            case PoseKind.LEAN_RIGHT:
                leans.update(dict.fromkeys(pose.nodes, "leaned right"))
            case PoseKind.TURNED:
                for node in pose.nodes:
                    turned[node] = (turned.get(node, 0) + pose.amount) % WHOLE_TURN
            case PoseKind.SPREAD:
                for node in pose.nodes:
                    found[node].add(pose.kind.value)
            case PoseKind.FOLDED if not pose.onto:
                for node in pose.nodes:
                    found[node].add(pose.kind.value)
            case PoseKind.HALF_TURNS | PoseKind.FRONT_INSIDE if (
                pose.amount or pose.kind is PoseKind.FRONT_INSIDE
            ):
                if members is None:
                    members = {}
                    for node, group in enumerate(piece.group):
                        members.setdefault(group, []).append(node)
                for node in members[piece.group[pose.nodes[0]]]:
                    found[node].add(f"{pose.kind.value} {pose.amount}" if pose.amount else pose.kind.value)
            case _:
                continue
    for node, lean in leans.items():
        found[node].add(lean)
    for node, degrees in turned.items():
        if degrees:
            found[node].add(f"{PoseKind.TURNED.value} {degrees}")
    return [tuple(sorted(each)) for each in found]


def _colour(weave: Weave, piece: PieceWeave, node: int) -> str:
    kind = piece.kind[node]
    if kind >= 0:
        ring = weave.ring_kinds[kind]
        return f"ring {_mm(ring.inner_mm)} {_mm(ring.wire_mm)} {ring.metal}"
    finding = weave.finding_kinds[-1 - kind]
    eye = finding.eyes[piece.companion[node]]
    return f"finding {finding.type} {_mm(eye.inner_mm)} {'opens' if eye.opens else 'closed'}"


def _mm(length: Decimal) -> str:
    """A length without zeros at its end, never in powers of ten."""
    return f"{length.normalize():f}"
