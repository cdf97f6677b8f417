"""Tables with measured columns; in: columns and cells of runs, out: blocks, one for the head and one a row.

Every column gets the width of its widest cell. If that is more than there is room for, the columns that may
be broken into lines give way, in proportion to what they can give; if it is less, the columns that grow
share the rest.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from compiler.booklet.page import Block, Group, Item, Line, Role, Stroke
from compiler.booklet.style import HAIRLINE, INK, LABEL, RULE, SMALL, SPACE_1, SPACE_4, THIN, TextStyle
from compiler.booklet.text import Align, Run, narrowest_width, natural_width, plain, set_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table."""

    title: str
    align: Align = Align.LEFT
    grows: bool = False
    """Whether room left over widens it."""


Cell = tuple[Run, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetTable:
    """A table whose parts are measured, so that it can be continued on another page."""

    width: float
    head: Block
    rows: tuple[Block, ...]

    def part(self, first: int, last: int) -> Block:
        """The head with the rows from `first` up to, not including, `last`, and a closing rule."""
        items: list[Item] = list(self.head.items)
        y = self.head.height
        rules: list[Item] = []
        for row in self.rows[first:last]:
            if y > self.head.height:
                rules.append(_rule(self.width, y, Stroke(color=RULE, width=HAIRLINE)))
            items.extend(row.at(0.0, y))
            y += row.height
        rules.append(_rule(self.width, self.head.height, Stroke(color=INK, width=THIN)))
        rules.append(_rule(self.width, y, Stroke(color=INK, width=THIN)))
        table = Group(role=Role.TABLE, items=tuple(items))
        lines = Group(role=Role.DECORATION, items=tuple(rules))
        return Block(width=self.width, height=y, items=(lines, table), baseline=self.head.baseline)

    def whole(self) -> Block:
        """The head with all rows."""
        return self.part(0, len(self.rows))

    def fitting(self, first: int, room: float) -> int:
        """Up to which row the table fits into `room` points of height, when it starts with row `first`."""
        used, last = self.head.height, first
        while last < len(self.rows) and used + self.rows[last].height <= room:
            used += self.rows[last].height
            last += 1
        return last


def set_table(
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    width: float,
    *,
    style: TextStyle = SMALL,
    gap: float = SPACE_4,
) -> SetTable:
    """The table measured to be exactly `width` points wide, `gap` points between columns."""
    widths = _column_widths(columns, rows, width - gap * (len(columns) - 1), style)
    titles = [plain(column.title) for column in columns]
    return SetTable(
        width=width,
        head=_row(columns, titles, widths, gap, LABEL, Role.HEADER_CELL),
        rows=tuple(_row(columns, row, widths, gap, style, Role.CELL) for row in rows),
    )


def _column_widths(
    columns: Sequence[Column], rows: Sequence[Sequence[Cell]], room: float, style: TextStyle
) -> list[float]:
    natural, narrowest = [], []
    for index, column in enumerate(columns):
        title = plain(column.title)
        cells = [row[index] for row in rows]
        natural.append(
            max([natural_width(title, LABEL)] + [natural_width(cell, style) for cell in cells]) + 0.01
        )
        narrowest.append(
            max([narrowest_width(title, LABEL)] + [narrowest_width(cell, style) for cell in cells]) + 0.01
        )
    spare = room - sum(natural)
    if spare >= 0:
        growing = [index for index, column in enumerate(columns) if column.grows]
        return [
            size + (spare / len(growing) if index in growing else 0.0) for index, size in enumerate(natural)
        ]
    give = [wide - narrow for wide, narrow in zip(natural, narrowest, strict=True)]
    if sum(give) > -spare:
        return [wide + spare * part / sum(give) for wide, part in zip(natural, give, strict=True)]
    # even the longest words do not stand side by side: all give way, and words are broken
    return [room * narrow / sum(narrowest) for narrow in narrowest]


def _row(
    columns: Sequence[Column],
    cells: Sequence[Cell],
    widths: Sequence[float],
    gap: float,
    style: TextStyle,
    role: Role,
) -> Block:
    x, height, items = 0.0, 0.0, []
    baseline = 0.0
    for column, cell, width in zip(columns, cells, widths, strict=True):
        block = set_text(cell, style, width, align=column.align, role=None)
        items.append(Group(role=role, items=block.at(x, SPACE_1)))
        height = max(height, block.height)
        baseline = baseline or block.baseline + SPACE_1
        x += width + gap
    row = Group(role=Role.ROW, items=tuple(items))
    total = sum(widths) + gap * (len(widths) - 1)
    return Block(width=total, height=height + 2 * SPACE_1, items=(row,), baseline=baseline)


def _rule(width: float, y: float, stroke: Stroke) -> Line:
    return Line(x1=0.0, y1=y, x2=width, y2=y, stroke=stroke)
