"""Facts of a piece that need to know its front: what lies over what, and how rounds and tubes close on themselves.

In: a piece. Out: `Over` and `Closing` facts for its layout problem. In a sheet or tube the front is the side from which
its places run from left to right and its rows upward; there a fact brings four rings near by that say which side
that is. Elsewhere the front is one side of the whole piece.

A chain without a word is closed with no half turn, a tube with its front outside. Of a round whose rings are linked
otherwise than each with the next nothing is asked that is not said: how far its rings are turned from each to
the next belongs to the weave.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.layout import Closing, Over
from compiler.weave import FamilyShape, PieceWeave, PoseKind, RelationKind
from notation.statements import FamilyKind

MOST_UNSAID = 200
"""Of a longer round nothing is asked that is not said: the measure looks at all pairs of its rings."""
_SURFACES = (FamilyKind.SHEET, FamilyKind.TUBE)


def over_facts(piece: PieceWeave) -> tuple[Over, ...]:
    """Which ring lies over which, for every such relation of the text."""
    pairs = []
    for relation in piece.relations:
        for other in relation.others:
            if relation.kind is RelationKind.OVER:
                pairs.append((relation.node, other))
            elif relation.kind is RelationKind.UNDER:
                pairs.append((other, relation.node))
    if not pairs:
        return ()
    frames: dict[int, tuple[int, int, int, int]] = {}
    for group, rows in _rows(piece).items():
        shape = piece.groups[group].shape
        if shape is not None and shape.kind in _SURFACES and len(rows) > 1:
            frames.update(_frames(shape, rows))
    leads = [piece.strand[upper] for upper, _ in pairs], [piece.strand[lower] for _, lower in pairs]
    return tuple(
        Over(upper=upper, lower=lower, frame=frames.get(first, frames.get(second)))
        for (upper, lower), first, second in zip(pairs, *leads, strict=True)
    )


def closings(piece: PieceWeave) -> tuple[Closing, ...]:
    """How each round and each tube of a piece closes on itself."""
    turned: dict[int, int] = {}
    inside: set[int] = set()
    for pose in piece.poses:
        if pose.kind is PoseKind.HALF_TURNS:
            turned[piece.group[pose.nodes[0]]] = pose.amount
        elif pose.kind is PoseKind.FRONT_INSIDE:
            inside.add(piece.group[pose.nodes[0]])
    wanted = (FamilyKind.ROUND, FamilyKind.TUBE)
    if not any(group.shape is not None and group.shape.kind in wanted for group in piece.groups):
        return ()
    found = []
    for group, rows in _rows(piece).items():
        shape = piece.groups[group].shape
        if shape is None or shape.kind not in wanted or min(map(len, rows)) < 3:
            continue
        half_turns = turned.get(group)
        if half_turns is None and (len(rows) > 1 or _is_chain(piece, rows[0])):
            half_turns = 0
        front = group not in inside if len(rows) > 1 and not half_turns else None
        if half_turns is not None or front is not None:
            upward = rows[::-1] if shape.downward else rows
            found.append(Closing(rows=tuple(map(tuple, upward)), half_turns=half_turns, front_outside=front))
    return tuple(found)


def _rows(piece: PieceWeave) -> dict[int, list[list[int]]]:
    """By group: the first rings of its places, row by row; a family of which a place is missing is left out."""
    members: dict[int, dict[int, int]] = {}
    for node, group in enumerate(piece.group):
        if group >= 0 and piece.groups[group].shape is not None and piece.companion[node] == 0:
            members.setdefault(group, {})[piece.member[node]] = node
    found = {}
    for group, nodes in members.items():
        shape = piece.groups[group].shape
        if shape is None or not all(number + 1 in nodes for number in range(sum(shape.widths))):
            continue
        numbers = iter(range(1, sum(shape.widths) + 1))
        found[group] = [[nodes[next(numbers)] for _ in range(width)] for width in shape.widths]
    return found


def _frames(shape: FamilyShape, rows: Sequence[Sequence[int]]) -> dict[int, tuple[int, int, int, int]]:
    """By first ring of a place: the places to its left and right, below and above, or itself at an edge."""
    found = {}
    for number, row in enumerate(rows):
        under, upper = (1, -1) if shape.downward else (-1, 1)
        for place, node in enumerate(row):
            if shape.kind is FamilyKind.TUBE:
                left, right = row[place - 1], row[(place + 1) % len(row)]
            else:
                left, right = row[max(place - 1, 0)], row[min(place + 1, len(row) - 1)]
            below, above = (_nearest(shape, rows, number, place, number + step) for step in (under, upper))
            if left != right and below != above:
                found[node] = left, right, below, above
    return found


def _nearest(shape: FamilyShape, rows: Sequence[Sequence[int]], number: int, place: int, other: int) -> int:
    """The place of another row that is nearest along the row, or the place itself where there is no such row."""
    if not 0 <= other < len(rows):
        return rows[number][place]
    at = 2 * place + shape.offsets[number] - shape.offsets[other]
    if shape.kind is FamilyKind.TUBE:
        return rows[other][at // 2 % len(rows[other])]
    return rows[other][min(max(at // 2, 0), len(rows[other]) - 1)]


def _is_chain(piece: PieceWeave, row: Sequence[int]) -> bool:
    """Whether each ring of a round is linked with the next one round about and with no other of them."""
    if not 4 <= len(row) <= MOST_UNSAID:
        return False
    place = {piece.strand[node]: number for number, node in enumerate(row)}
    links = set()
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        one, other = place.get(piece.strand[a]), place.get(piece.strand[b])
        if one is not None and other is not None and one != other:
            links.add((min(one, other), max(one, other)))
    wanted = {(number, number + 1) for number in range(len(row) - 1)} | {(0, len(row) - 1)}
    return links == wanted
