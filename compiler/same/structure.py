"""The facts that make a weave what it is, taken from a piece: what `match` compares.

In: a piece and its weave. Out: `Structure`, nodes with colours and edges with labels. A link has a sign, +1 entered
from the front, -1 from behind. A ring's own front is a choice, so only the product of signs round a loop of links
is a fact; turning a ring round changes the signs of all its links (switching, in the words of signed graphs:
Zaslavsky, "Signed graphs", Discrete Applied Mathematics 4 (1982), named from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from compiler.weave import Companionship, PieceWeave, Pose, PoseKind, RelationKind, Weave


@dataclass(frozen=True, slots=True, kw_only=True)
class Structure:
    """One piece as a graph."""

    colours: tuple[str, ...]
    """By node: sizes and metal of a ring, or type and eye of a finding."""
    links: tuple[dict[int, int], ...]
    """By node: each linked node and the sign of the link."""
    others: tuple[dict[int, tuple[str, ...]], ...]
    """By node: each node related otherwise (companion, around, between) and the sorted names of the relations."""
    names: tuple[str, ...]
    """By node: what to call it in a message."""
    poses: tuple[str, ...]
    """What is asked of the whole, in sorted order: half turns at a closing and the like."""
    mirrored_poses: tuple[str, ...] = ()
    """The same of the mirror image: left for right, turned the other way."""


_RELATION_WORDS: dict[RelationKind, tuple[str, str]] = {
    RelationKind.AROUND: ("around", "inside"),
    RelationKind.INSIDE: ("inside", "around"),
    RelationKind.BETWEEN: ("between", "beside"),
    RelationKind.OVER: ("over", "under"),
    RelationKind.UNDER: ("under", "over"),
}
_WHOLE_POSES = (PoseKind.HALF_TURNS, PoseKind.TURNED, PoseKind.LEAN_LEFT, PoseKind.LEAN_RIGHT)


_OTHER_HAND = {PoseKind.LEAN_LEFT: PoseKind.LEAN_RIGHT, PoseKind.LEAN_RIGHT: PoseKind.LEAN_LEFT}
WHOLE_TURN = 360
"""Degrees."""
_AMOUNTS = (PoseKind.HALF_TURNS, PoseKind.TURNED)
"""Poses of so many; of none of them is no pose."""


def _poses(piece: PieceWeave, *, mirrored: bool) -> tuple[str, ...]:
    return tuple(sorted(_pose(pose, mirrored) for pose in piece.poses if _is_whole_pose(pose)))


def _pose(pose: Pose, mirrored: bool) -> str:
    kind = _OTHER_HAND.get(pose.kind, pose.kind) if mirrored else pose.kind
    amount = f" {_amount(pose, mirrored)}" if pose.kind in _AMOUNTS else ""
    return f"{kind.value}{amount} on {len(pose.nodes)}"


def _amount(pose: Pose, mirrored: bool = False) -> int:
    if pose.kind is not PoseKind.TURNED:
        return pose.amount
    return (-pose.amount if mirrored else pose.amount) % WHOLE_TURN


def _is_whole_pose(pose: Pose) -> bool:
    return pose.kind in _WHOLE_POSES and (pose.kind not in _AMOUNTS or _amount(pose) != 0)


def structure_of(weave: Weave, piece: PieceWeave) -> Structure:
    """The structure of a piece."""
    count = len(piece)
    links: list[dict[int, int]] = [{} for _ in range(count)]
    for a, b, sign in zip(piece.link_a, piece.link_b, piece.link_sign, strict=True):
        links[a][b] = links[b][a] = sign
    related: list[dict[int, list[str]]] = [{} for _ in range(count)]

    def relate(a: int, b: int, name: str, back: str) -> None:
        related[a].setdefault(b, []).append(name)
        related[b].setdefault(a, []).append(back)

    for node in range(count):
        first = piece.strand[node]
        if first != node and piece.kind[node] >= 0:
            way = piece.companionship.get(first, Companionship.SIDE_BY_SIDE)
            for other in range(first, node):
                if way is Companionship.SIDE_BY_SIDE:
                    relate(node, other, "companion", "companion")
                else:
                    relate(node, other, f"{way.value}, later", f"{way.value}, earlier")
    for relation in piece.relations:
        if relation.kind is RelationKind.GAP:
            hole, *beside = relation.others
            relate(relation.node, hole, "placed on", "placed on by")
            for other in beside:
                relate(relation.node, other, "placed next to", "placed next to")
            continue
        for other in relation.others:
            name, back = _RELATION_WORDS[relation.kind]
            relate(relation.node, other, name, back)
    for finding in piece.findings:
        for eye in finding.eyes[1:]:
            relate(finding.eyes[0], eye, "same finding", "same finding")
    return Structure(
        colours=tuple(_colour(weave, piece, node) for node in range(count)),
        links=tuple(links),
        others=tuple({b: tuple(sorted(names)) for b, names in near.items()} for near in related),
        names=tuple(_name(piece, node) for node in range(count)),
        poses=_poses(piece, mirrored=False),
        mirrored_poses=_poses(piece, mirrored=True),
    )


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


def _name(piece: PieceWeave, node: int) -> str:
    if piece.kind[node] < 0:
        return piece.findings[piece.member[node]].label
    group = piece.groups[piece.group[node]]
    name = f"{group.singular} {piece.member[node]}"
    return f"{name} of {group.owner}" if group.owner else name
