"""What comes of steps that are followed, and what their messages mean for it."""

from __future__ import annotations

from dataclasses import dataclass, field

from compiler.messages import Say, Turning, TwinPlace
from compiler.weave import Companionship, Pose, PoseKind, RelationKind
from notation.nodes import Hand


@dataclass(slots=True)
class Rebuilt:
    """What came of the steps."""

    links: list[tuple[int, int, int]] = field(default_factory=list)
    """(what was open, what it went through or carried, +1 or -1 for the side), in order."""
    relations: list[tuple[RelationKind, int, tuple[int, ...]]] = field(default_factory=list)
    companionship: dict[int, Companionship] = field(default_factory=dict)
    poses: list[Pose] = field(default_factory=list)
    helpers: list[str] = field(default_factory=list)
    """Those put in, in order; each is taken out again."""
    kinds: list[str] = field(default_factory=list)
    """By ring: its kind's key; by eye: the finding's."""


RELATIONS = {
    Say.AROUND: RelationKind.AROUND,
    Say.AROUND_JOINT: RelationKind.AROUND,
    Say.BETWEEN: RelationKind.BETWEEN,
    Say.INSIDE: RelationKind.INSIDE,
    Say.OVER: RelationKind.OVER,
    Say.UNDER: RelationKind.UNDER,
}
FROM_THE_BACK = {RelationKind.OVER: RelationKind.UNDER, RelationKind.UNDER: RelationKind.OVER}
COMPANIONSHIP = {
    TwinPlace.BEHIND: Companionship.FRONT_AND_BACK,
    TwinPlace.BEFORE: Companionship.FRONT_AND_BACK,
    TwinPlace.INSIDE: Companionship.NESTED,
}
LEANING = {Hand.LEFT: PoseKind.LEAN_LEFT, Hand.RIGHT: PoseKind.LEAN_RIGHT}
DIRECTIONS = {Turning.CLOCKWISE: PoseKind.CLOCKWISE, Turning.ANTICLOCKWISE: PoseKind.ANTICLOCKWISE}
HANDS = (
    Say.HANDLE_WORK,
    Say.ROWS_LEAN,
    Say.BACK_FACES,
    Say.FRONT_FACES,
    Say.FOLD,
    Say.FOLD_ONE,
    Say.FOLD_ONTO,
    Say.FOLD_ONE_ONTO,
    Say.SPREAD,
    Say.LEAN,
    Say.TURN_BY,
    Say.TURN_EACH_BY,
    Say.HALF_TURNS,
    Say.NO_HALF_TURNS,
    Say.FACING_INSIDE,
    Say.FACING_OUTSIDE,
    Say.WORK_INSIDE,
    Say.WORK_OUTSIDE,
    Say.WORK_DIRECTION,
    Say.HELPER_IN,
    Say.HELPER_OUT,
)
