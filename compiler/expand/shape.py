"""How the places of a family lie, and who is whose neighbour.

In: the kind of family and its widths. Out: `FamilyShape`, and for a place the ordinals of `the two below` and its
kin. Positions are counted in half places: place c of row r lies at `offsets[r] + 2 * c`, so rows shifted by half
a place stay whole numbers. Places are numbered from 0, row by row.
"""

from __future__ import annotations

from itertools import accumulate

from msgspec.structs import replace

from compiler.weave import FamilyShape
from notation.nodes import THOSE, Direction, Hand, Relative
from notation.source import Span
from notation.statements import FamilyKind, Stagger

NO_SPAN = Span(0, 0)

OPPOSITE = {
    Direction.BEFORE: Direction.AFTER,
    Direction.AFTER: Direction.BEFORE,
    Direction.BELOW: Direction.ABOVE,
    Direction.ABOVE: Direction.BELOW,
}


def make_shape(
    kind: FamilyKind, widths: tuple[int, ...], stagger: Stagger, downward: bool, mirrored: bool = False
) -> FamilyShape:
    """The shape of a family with rows of these widths (one row for a line or round); mirrored, left for right."""
    rows = range(len(widths))
    offsets: tuple[int, ...]
    if stagger is Stagger.STAGGERED:
        offsets = tuple(row % 2 for row in rows)
    elif stagger is Stagger.LEANING_RIGHT:
        offsets = tuple(rows)
    elif stagger is Stagger.LEANING_LEFT:
        offsets = tuple(-row for row in rows)
    elif stagger is Stagger.CENTRED:
        offsets = tuple(1 - width for width in widths)
    else:
        offsets = (0,) * len(widths)
    if mirrored and stagger is not Stagger.CENTRED:
        offsets = tuple(-offset for offset in offsets)
    return FamilyShape(kind=kind, widths=widths, offsets=offsets, stagger=stagger, downward=downward)


def row_starts(shape: FamilyShape) -> tuple[int, ...]:
    """The ordinal of each row's first place, and one past the last place of all."""
    return (0, *accumulate(shape.widths))


def wraps(shape: FamilyShape) -> bool:
    """Whether the last place of a row lies beside its first."""
    return shape.kind in (FamilyKind.ROUND, FamilyKind.TUBE, FamilyKind.DISC)


def as_mirrored(relative: Relative, mirrored: bool) -> Relative:
    """The relative that a mirrored use means: the left of some is the right of them."""
    if not mirrored or relative.only is None:
        return relative
    return replace(relative, only=Hand.RIGHT if relative.only is Hand.LEFT else Hand.LEFT)


def disc_neighbours(
    shape: FamilyShape, row: int, column: int, relative: Relative
) -> tuple[tuple[int, int], ...]:
    """Below, towards the centre: the places of the round inside that lie nearest by angle, in clockwise order.

    `those below` are the two of that round that it lies between, or the one that it lies straight over.
    Above, outwards: the places of the round outside to which this one is below. Place c of a round of w lies at
    (2 c + offset) / (2 w) of a turn; of two equally near the one met first is meant.
    """
    other = row + step_to_row(shape, relative.direction)
    if not 0 <= other < len(shape.widths):
        return ()
    if step_to_row(shape, relative.direction) > 0:
        found = tuple(
            (other, c)
            for c in range(shape.widths[other])
            if column in _nearest(shape, other, c, row, relative.count)
        )
    else:
        found = tuple((other, c) for c in _nearest(shape, row, column, other, relative.count))
    if relative.only is None or not found:
        return found
    return found[:1] if relative.only is Hand.LEFT else found[-1:]


def _nearest(shape: FamilyShape, row: int, column: int, other: int, count: int) -> list[int]:
    """The `count` places of round `other` nearest to a place by angle, in order of angle from one end."""
    width, reach = shape.widths[row], shape.widths[other]
    turn = 2 * width * reach
    here = (2 * column + shape.offsets[row]) * reach

    def away(place: int) -> int:
        apart = ((2 * place + shape.offsets[other]) * width - here) % turn
        return apart - turn if apart * 2 > turn else apart

    near = sorted(range(reach), key=lambda place: (abs(away(place)), away(place)))
    near = near[: count or (1 if away(near[0]) == 0 else 2)]
    return sorted(near, key=away)


def step_to_row(shape: FamilyShape, direction: Direction) -> int:
    """By how much the row number changes on the way below or above."""
    earlier = (direction is Direction.BELOW) is not shape.downward
    return -1 if earlier else 1


def row_shifts(shape: FamilyShape, row: int, relative: Relative) -> tuple[int, tuple[int, ...]]:
    """The row that a BELOW or ABOVE relative of `row` reaches, and by how many places each member is shifted.

    The member of place c is place c + shift of that row, where there is one. Rows that lie so that no place can be
    there (an even shift is asked for and the rows are half a place apart) give no shifts; so does a missing row.
    """
    other = row + step_to_row(shape, relative.direction)
    if not 0 <= other < len(shape.widths):
        return other, ()
    apart = shape.offsets[row] - shape.offsets[other]
    reach = (relative.count or 1 + apart % 2) - 1
    shifts = tuple((apart + half) // 2 for half in range(-reach, reach + 1, 2) if (apart + half) % 2 == 0)
    return other, only_hand(shifts, relative.only)


def only_hand(members: tuple[int, ...], hand: Hand | None) -> tuple[int, ...]:
    """All of them, or just the one furthest to the left or right."""
    if hand is None or not members:
        return members
    return members[:1] if hand is Hand.LEFT else members[-1:]


def neighbours(shape: FamilyShape, row: int, column: int, relative: Relative) -> tuple[tuple[int, int], ...]:
    """The (row, column) of each place meant that exists in the shape, from left to right."""
    if shape.kind is FamilyKind.DISC and relative.direction in (Direction.BELOW, Direction.ABOVE):
        return disc_neighbours(shape, row, column, relative)
    width = shape.widths[row]
    if relative.direction in (Direction.BEFORE, Direction.AFTER):
        sign = -1 if relative.direction is Direction.BEFORE else 1
        steps = range(1, relative.count + 1) if sign > 0 else range(-relative.count, 0)
        columns = tuple(column + step for step in steps)
        other = row
    else:
        other, shifts = row_shifts(shape, row, relative)
        if not shifts:
            return ()
        columns = tuple(column + shift for shift in shifts)
        width = shape.widths[other]
    if wraps(shape):
        found = tuple(dict.fromkeys((other, c % width) for c in columns))
        if relative.direction in (Direction.BEFORE, Direction.AFTER):
            found = tuple(place for place in found if place != (row, column))
    else:
        found = tuple((other, c) for c in columns if 0 <= c < width)
    if relative.direction in (Direction.BEFORE, Direction.AFTER) and relative.only is not None:
        return found[:1] if relative.only is Hand.LEFT else found[-1:]
    return found


def all_round(shape: FamilyShape, row: int) -> tuple[Relative, ...]:
    """The relatives that `joined all round` stands for in a row: beside, and below and above where rows lie."""
    beside = [
        Relative(count=1, direction=direction, span=NO_SPAN)
        for direction in (Direction.BEFORE, Direction.AFTER)
    ]
    for direction in (Direction.BELOW, Direction.ABOVE):
        other = row + step_to_row(shape, direction)
        if 0 <= other < len(shape.widths):
            count = 1 if shape.kind is FamilyKind.DISC else THOSE
            beside.append(Relative(count=count, direction=direction, span=NO_SPAN))
    return tuple(beside)
