"""The kept table of slack: rows hold for one problem, and nothing is rounded to the better."""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.library.fitted import Fitted, known, read_table, table_text, tightest

ROW = Fitted(pattern="units/chains.annulet", piece="two-in-two", slack=Decimal("1.16"), key="a" * 64)


def test_a_table_reads_back_sorted() -> None:
    other = Fitted(pattern="lyra.annulet", piece="earring", slack=Decimal("1.00"), key="b" * 64)
    text = table_text([ROW, other])
    assert list(read_table(text).values()) == [other, ROW]
    assert table_text(read_table(text).values()) == text


@pytest.mark.parametrize("line", ["", "# x", "a\tb\t1.1\tc", "a\tb\tc\t1.16\t" + "a" * 64, "a\tb\t1.16\tzz"])
def test_a_line_that_is_no_row_is_passed_by(line: str) -> None:
    assert read_table(line) == {}


def test_a_row_says_nothing_of_another_state_of_the_piece() -> None:
    table = {(ROW.pattern, ROW.piece): ROW}
    assert known(table, ROW.pattern, ROW.piece, "a" * 64) == Decimal("1.16")
    assert known(table, ROW.pattern, ROW.piece, "b" * 64) is None
    assert known(table, ROW.pattern, "one-in-one", "a" * 64) is None


def test_the_smallest_ratio_is_never_less_than_what_was_settled() -> None:
    # inner 5 mm, wire 1 mm made 1.16 times as thick: 5 / 1.16 = 4.3103...
    assert tightest(Decimal(5), Decimal("1.16")) == Decimal("4.32")
    assert tightest(Decimal(5), Decimal(1)) == Decimal(5)
