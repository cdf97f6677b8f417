"""Neighbours that a family speaks of and never meets: told once for the family, not at each place.

In: a family that has been carried out. Out: warnings, from its shape alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from compiler.expand.context import Context
from compiler.expand.live import FileNames, LiveGroup
from compiler.expand.shape import neighbours, step_to_row
from compiler.expand.walk import statements_in
from notation.nodes import Direction, Item, Relative
from notation.statements import FamilyKind, Pass, Statement

_ACROSS = (Direction.BELOW, Direction.ABOVE)


def tell_missing(ctx: Context, file: FileNames, family: LiveGroup, body: Iterable[Statement]) -> None:
    """Warns of a relative that is left out at every place, or at every place of a row that has a row to meet.

    That a line has no rows at all was told as an error, and a family of one place has no neighbours to speak of.
    """
    assert family.shape is not None
    if sum(family.shape.widths) == 1:
        return
    one_row = len(family.shape.widths) == 1
    for item, relative in _relatives(body):
        if one_row and relative.direction in _ACROSS:
            continue
        missed = _missed_row(family, relative)
        if missed == 0:
            ctx.report("never-there", file.place(item.span), family=family.name)
        elif missed is not None:
            ctx.report("rows-apart", file.place(item.span), family=family.name, row=missed)


def _relatives(body: Iterable[Statement]) -> Iterator[tuple[Item, Relative]]:
    for statement in statements_in(body):
        if isinstance(statement, Pass):
            for item in (*statement.through, *statement.gathering):
                pick = item.picks[0]
                if len(item.picks) == 1 and isinstance(pick, Relative):
                    yield item, pick


def _missed_row(family: LiveGroup, relative: Relative) -> int | None:
    """The number of the first row that misses the row it should meet; 0 when there is never one to meet."""
    shape = family.shape
    assert shape is not None
    rows = range(len(shape.widths))
    if relative.direction not in _ACROSS:
        return None if any(_meets(family, row, relative) for row in rows) else 0
    if step_to_row(shape, relative.direction) > 0:
        return 0
    met: dict[tuple[int, int, int], bool] = {}
    for row in rows[1:]:
        below, apart = shape.widths[row - 1], shape.offsets[row] - shape.offsets[row - 1]
        alike = (shape.widths[row], below, apart)
        if alike not in met or shape.kind is FamilyKind.DISC:
            met[alike] = _meets(family, row, relative)
        if not met[alike]:
            return row + 1
    return None


def _meets(family: LiveGroup, row: int, relative: Relative) -> bool:
    shape, starts = family.shape, family.row_starts
    assert shape is not None
    for column in range(shape.widths[row]):
        here = starts[row] + column
        if any(starts[other] + place < here for other, place in neighbours(shape, row, column, relative)):
            return True
    return False
