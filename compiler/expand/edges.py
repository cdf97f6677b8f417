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
from notation.statements import Pass, Statement


def tell_missing(ctx: Context, file: FileNames, family: LiveGroup, body: Iterable[Statement]) -> None:
    """Warns of a relative that is left out at every place, or at every place of a row that has a row to meet."""
    for item, relative in _relatives(body):
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
    """The number of the first row that misses the row it should meet; 0 when every row does, None when none does."""
    shape = family.shape
    assert shape is not None
    across = relative.direction in (Direction.BELOW, Direction.ABOVE)
    if across and step_to_row(shape, relative.direction) > 0:
        return 0
    met = False
    missed: int | None = None
    for row in range(len(shape.widths)):
        if _meets(family, row, relative):
            met = True
        elif missed is None and across and row > 0:
            missed = row + 1
        if met and (missed is not None or not across):
            break
    return missed if met else 0


def _meets(family: LiveGroup, row: int, relative: Relative) -> bool:
    shape, starts = family.shape, family.row_starts
    assert shape is not None
    for column in range(shape.widths[row]):
        here = starts[row] + column
        if any(starts[other] + place < here for other, place in neighbours(shape, row, column, relative)):
            return True
    return False
