"""How rows and rounds lie, which places are shared, and which parts are mirror images, told before they are made.

In: a motion that is about to be told. Out: instructions that make no link.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator

from compiler.messages import Members, Message, Range, Say, message
from compiler.names import Names
from compiler.steps import Instruction, InstructionKind
from compiler.weave import FamilyShape, PieceWeave, PoseKind, RelationKind, Verb
from compiler.word.sides import Sides
from notation.statements import FamilyKind


class RowWords:
    """Tells what comes before a ring; each thing once."""

    def __init__(self, names: Names, sides: Sides) -> None:
        self._names = names
        self._sides = sides
        self._piece: PieceWeave = names.piece
        self._begun: set[tuple[int, ...]] = set()
        self._from_right: dict[int, bool] = {}
        """By group: whether its last row ran from right to left."""
        self._shared_told: set[tuple[int, int]] = set()
        self._mirrors_told: set[int] = set()
        self.family_node = array("i", [-1]) * len(self._piece.groups)
        """By group: its first ring; -1 where it has none."""
        for node in range(len(self._piece) - 1, -1, -1):
            if self._piece.group[node] >= 0:
                self.family_node[self._piece.group[node]] = node

    def before(self, motion: int) -> Iterator[Instruction]:
        """All that must be told before a motion."""
        for site, part, like in self._sides.mirror_images(motion):
            if site not in self._mirrors_told:
                self._mirrors_told.add(site)
                yield note(InstructionKind.ROW, (message(Say.MIRROR, part=part, like=like),), motion)
        actor = self._piece.motions.actor[motion]
        if self._piece.group[actor] >= 0 and self._piece.born[actor] == motion:
            yield from self._shared(motion)
            yield from self._row(motion, actor)

    def _row(self, motion: int, node: int) -> Iterator[Instruction]:
        """How the row of a ring lies to the one before; told once, before its first ring."""
        row = self._names.in_row(node)
        if row is None or row in self._begun:
            return
        self._begun.add(row)
        group = self._piece.group[node]
        shape = self._piece.groups[group].shape
        first = row[1] == 1 or shape is None
        if shape is not None and shape.kind in (FamilyKind.TUBE, FamilyKind.DISC):
            told = self._round(node, shape, first)
        else:
            told = self._level(node, shape, first)
            right = self._sides.from_right(motion)
            if first and right:
                told = message(Say.FIRST_ROW_FROM_RIGHT, what=self._names.row_members(node))
            if not first and right is not self._from_right.get(group, False):
                after = message(Say.FROM_RIGHT if right else Say.FROM_LEFT)
                self._from_right[group] = right
                yield note(InstructionKind.ROW, (told, after), motion)
                return
            self._from_right[group] = right
        if first and shape is not None and self._lean_by_turns(group, shape):
            onto = self._names.row_members(node, back=-1)
            lean = message(Say.ROWS_LEAN, what=self._names.row_members(node), onto=onto)
            yield note(InstructionKind.ROW, (told, lean), motion)
            return
        yield note(InstructionKind.ROW, (told,), motion)

    def _lean_by_turns(self, group: int, shape: FamilyShape) -> bool:
        """Whether a family is a sheet of mail, all of it entered from the front: then its odd rows lean to the left.

        Measured on the proved layouts of every such sheet of the library. Not so where rings of one row are linked,
        where each ring meets but one of the next row, or where others lie in their holes and hold them flat.
        """
        piece = self._piece
        if shape.kind is not FamilyKind.SHEET or len(shape.widths) < 2 or self._sides.said:
            return False
        if any(pose.kind in (PoseKind.LEAN_LEFT, PoseKind.LEAN_RIGHT) for pose in piece.poses):
            return False
        if any(relation.kind is RelationKind.INSIDE for relation in piece.relations):
            return False
        met: dict[int, set[int]] = {}
        for a, b in zip(piece.link_a, piece.link_b, strict=True):
            if piece.group[a] == group == piece.group[b]:
                if self._names.spot(a)[0] == self._names.spot(b)[0]:
                    return False
                met.setdefault(piece.strand[a], set()).add(piece.strand[b])
        return max(map(len, met.values()), default=0) > 1

    def _round(self, node: int, shape: FamilyShape, first: bool) -> Message:
        what = self._names.row_members(node)
        if first:
            known = self._sides.direction is not None or what.count == 1
            return message(Say.ROUND_BEGINS if known else Say.FIRST_ROUND, what=what)
        if shape.kind is FamilyKind.DISC:
            return message(Say.NEXT_ROUND_OUTSIDE, what=what, onto=self._names.row_members(node, back=1))
        return self._level(node, shape, first)

    def _level(self, node: int, shape: FamilyShape | None, first: bool) -> Message:
        what = self._names.row_members(node)
        if first or shape is None:
            return message(Say.FIRST_ROW, what=what)
        say = Say.NEXT_ROW_BELOW if shape.downward else Say.NEXT_ROW_ABOVE
        return message(say, what=what, onto=self._names.row_members(node, back=1))

    def _shared(self, motion: int) -> Iterator[Instruction]:
        """The place of a family that a ring of another group takes, told when a connector is passed through it."""
        piece, motions = self._piece, self._piece.motions
        group = piece.group[motions.actor[motion]]
        family = piece.groups[group].connector_of
        path = motions.path_node[motions.path_start[motion] : motions.path_start[motion + 1]]
        if family < 0 or motions.verb[motion] != Verb.PASS or (family, group) in self._shared_told:
            return
        handed = next((node for node in path if piece.group[node] not in (family, -1)), -1)
        of_family = self.family_node[family]
        shape = piece.groups[family].shape
        if handed < 0 or of_family < 0 or shape is None:
            return
        self._shared_told.add((family, group))
        first = piece.born[of_family] > motion
        yield from self._row(motion, of_family) if first else ()
        row, _ = self._names.spot(of_family)
        if row and not first:
            row += len(shape.widths) - 1
        place = 1 if first else shape.widths[-1]
        what = Members(
            group=self._names.group_name(of_family), ranges=(Range(row=row, first=place, last=place),)
        )
        shared = message(Say.SHARED, what=what, same_as=self._names.one(handed))
        yield note(InstructionKind.ROW, (shared,), motion)


def note(kind: InstructionKind, messages: tuple[Message, ...], motion: int) -> Instruction:
    """An instruction that makes no link."""
    return Instruction(kind=kind, head=None, messages=messages, first_motion=motion, stop_motion=motion)
