"""Facts of a piece that need to know its front: what lies over what, lasting poses, how rounds and tubes close.

In: a piece. Out: `Over`, `Lean`, `Turn`, `Ahead` and `Closing` facts for its layout problem. In a sheet or tube the
front is the side from which its places run from left to right and its rows upward; there a fact brings four rings near
by that say which side that is. Elsewhere the front is one side of the whole piece.

A chain without a word is closed with no half turn, a tube with its front outside. Of a round whose rings are linked
otherwise than each with the next nothing is asked that is not said: how far its rings are turned from each to
the next belongs to the weave.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.layout import Ahead, Closing, FourRings, Lean, Over, Turn
from compiler.weave import Companionship, FamilyShape, PieceWeave, PoseKind, RelationKind
from notation.statements import FamilyKind

MOST_UNSAID = 200
"""Of a longer round nothing is asked that is not said: the measure looks at all pairs of its rings."""
LEAST_TURNED = 4
"""Fewer rings in a line show no turn from each to the next that could be told from how its ends hang."""
WHOLE_TURN = 360
"""Degrees."""
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
    frames = _frames_of(piece)
    leads = [piece.strand[upper] for upper, _ in pairs], [piece.strand[lower] for _, lower in pairs]
    return tuple(
        Over(upper=upper, lower=lower, frame=frames.get(first, frames.get(second)))
        for (upper, lower), first, second in zip(pairs, *leads, strict=True)
    )


def leans(piece: PieceWeave) -> tuple[Lean, ...]:
    """To which side each ring of a sheet or tube leans that was leaned, by what was said last."""
    said = {
        ring: pose.kind is PoseKind.LEAN_RIGHT
        for pose in piece.poses
        if pose.kind in (PoseKind.LEAN_LEFT, PoseKind.LEAN_RIGHT)
        for ring in pose.nodes
    }
    if not said:
        return ()
    frames = _frames_of(piece)
    return tuple(
        Lean(ring=ring, right=right, frame=frames[piece.strand[ring]])
        for ring, right in sorted(said.items())
        if piece.strand[ring] in frames
    )


def turns(piece: PieceWeave) -> tuple[Turn, ...]:
    """How far the rings of each line are turned from each to the next, where all of them are turned alike."""
    said: dict[int, int] = {}
    for pose in piece.poses:
        if pose.kind is PoseKind.TURNED:
            for ring in pose.nodes:
                said[ring] = (said.get(ring, 0) + pose.amount) % WHOLE_TURN
    if not said:
        return ()
    found = []
    for group, (row, *more) in _rows(piece).items():
        shape = piece.groups[group].shape
        if shape is None or shape.kind is not FamilyKind.LINE or more or len(row) < LEAST_TURNED:
            continue
        amounts = {said.get(ring) for ring in row}
        if len(amounts) == 1 and (amount := amounts.pop()) is not None:
            found.append(Turn(rings=tuple(row), degrees=amount))
    return tuple(found)


def aheads(piece: PieceWeave) -> tuple[Ahead, ...]:
    """Strands that lie front and back."""
    leads = [lead for lead, way in piece.companionship.items() if way is Companionship.FRONT_AND_BACK]
    if not leads:
        return ()
    strands: dict[int, list[int]] = {lead: [] for lead in leads}
    for node, lead in enumerate(piece.strand):
        if lead in strands:
            strands[lead].append(node)
    frames = _frames_of(piece)
    return tuple(
        Ahead(rings=tuple(nodes), frame=frames.get(lead)) for lead, nodes in strands.items() if len(nodes) > 1
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


def _frames_of(piece: PieceWeave) -> dict[int, FourRings]:
    """By first ring of each place of a sheet or tube: the four rings near by that say where the front is."""
    frames: dict[int, FourRings] = {}
    for group, rows in _rows(piece).items():
        shape = piece.groups[group].shape
        if shape is not None and shape.kind in _SURFACES and len(rows) > 1:
            frames.update(_frames(shape, rows))
    return frames


def _frames(shape: FamilyShape, rows: Sequence[Sequence[int]]) -> dict[int, FourRings]:
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
