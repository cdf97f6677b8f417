"""Tables: columns, rows and continuation."""

import itertools

import pytest

from compiler.booklet.fonts import text_width
from compiler.booklet.page import Block, Group, Item, Role, Text
from compiler.booklet.style import SMALL
from compiler.booklet.tables import Cell, Column, SetTable, set_table
from compiler.booklet.text import Align, plain

COLUMNS = (
    Column(title="Ring", grows=True),
    Column(title="Inner diameter", align=Align.RIGHT),
    Column(title="Metal"),
)
ROWS: tuple[tuple[Cell, ...], ...] = (
    (plain("large"), plain("5.0\xa0mm"), plain("copper")),
    (plain("small"), plain("3.0\xa0mm"), plain("sterling silver")),
    (plain("hook"), plain("2.0\xa0mm"), plain("ear wire")),
)


def cells(block: Block) -> list[list[list[Text]]]:
    """Rows of cells of runs."""

    def groups(items: tuple[Item, ...], role: tuple[Role, ...]) -> list[Group]:
        return [item for item in items if isinstance(item, Group) and item.role in role]

    (table,) = groups(block.items, (Role.TABLE,))
    return [
        [
            [item for item in cell.items if isinstance(item, Text)]
            for cell in groups(row.items, (Role.CELL, Role.HEADER_CELL))
        ]
        for row in groups(table.items, (Role.ROW,))
    ]


def right(text: Text) -> float:
    """Where the run ends."""
    return text_width(text.string, text.face, text.size, text.tracking) + text.x


def test_rows_and_cells_come_in_order_with_the_head_first() -> None:
    block = set_table(COLUMNS, ROWS, 400).whole()
    strings = [["".join(text.string for text in cell) for cell in row] for row in cells(block)]
    assert strings[0] == ["Ring", "Inner diameter", "Metal"]
    assert strings[2] == ["small", "3.0\xa0mm", "sterling silver"]
    assert len(strings) == 4


def test_columns_are_aligned_and_the_growing_one_takes_the_rest() -> None:
    rows = cells(set_table(COLUMNS, ROWS, 400).whole())
    assert {round(row[0][0].x, 6) for row in rows} == {0.0}
    assert len({round(right(row[1][0]), 1) for row in rows}) == 1
    assert len({round(row[2][0].x, 6) for row in rows}) == 1
    assert max(right(row[2][0]) for row in rows) == pytest.approx(400, abs=0.1)


@pytest.mark.parametrize("width", [400.0, 190.0, 120.0, 60.0])
def test_nothing_stands_outside_the_table_or_in_the_next_column(width: float) -> None:
    rows = cells(set_table(COLUMNS, ROWS, width, gap=8).whole())
    for row in rows:
        assert all(right(text) <= width + 0.1 for cell in row for text in cell)
        for cell, following in itertools.pairwise(row):
            edge = min(text.x for text in following)
            assert all(right(text) < edge for text in cell)


def test_a_table_is_continued_with_its_head_again() -> None:
    table: SetTable = set_table(COLUMNS, ROWS, 400)
    room = table.head.height + table.rows[0].height + table.rows[1].height
    assert table.fitting(0, room) == 2
    assert table.fitting(0, room - 0.1) == 1
    assert table.fitting(2, 1000) == 3
    rest = cells(table.part(2, 3))
    assert [row[0][0].string for row in rest] == ["Ring", "hook"]
    assert table.part(0, 2).height == pytest.approx(room)


def test_a_cell_with_no_text_is_allowed() -> None:
    block = set_table(COLUMNS, [((), plain("1"), ())], 300).whole()
    assert cells(block)[1][0] == []
    assert block.height > 2 * SMALL.leading
