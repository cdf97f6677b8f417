"""Sheets made in bulk are, column by column, what carrying them out place by place gives."""

from __future__ import annotations

from itertools import product

import pytest
from bench_text import HEAD, expanded, indented

from compiler.weave import PieceWeave, Weave

OPTIONS = ("", ", staggered", ", centred", ", leaning left", ", leaning right", ", staggered, downward")
SAID = (
    "the one below",
    "the two below",
    "the three below",
    "the four below",
    "the left of the two below",
    "the right of the three below",
    "the two above",
    "the one before",
    "the two before",
    "the one after",
    "the two below from behind",
)
WIDTHS = ("4 rows of 5", "1 to 4", "3, 1, 4, 1, 5", "2 times (2, 3)", "3 rows of 1")
COLUMNS = (
    "kind",
    "group",
    "member",
    "companion",
    "strand",
    "born",
    "link_a",
    "link_b",
    "link_motion",
    "link_sign",
)
MOTIONS = ("verb", "actor", "path_start", "path_node", "path_behind", "load_start", "load_node", "mentions")


def woven(family: str, statement: str, by_place: bool) -> tuple[Weave, list[str]]:
    """A sheet on a ring that is there before it; a remark in its body keeps it from being made in bulk."""
    more = '\n        note "Place by place."' if by_place else ""
    text = f"{HEAD}piece earring:\n    take 1 link as base\n    {family}:\n        {statement}{more}\n"
    weave, diagnostics = expanded(text)
    return weave, sorted(
        f"{one.rule} {one.variant} {one.arguments} {one.place}" for one in diagnostics if one.trace == ()
    )


def assert_same(fast: PieceWeave, slow: PieceWeave) -> None:
    for column in COLUMNS:
        assert getattr(fast, column) == getattr(slow, column), column
    for column in MOTIONS:
        assert getattr(fast.motions, column) == getattr(slow.motions, column), column
    assert fast.groups == slow.groups
    assert [(one.key, one.first, one.stop, one.group, one.number) for one in fast.steps] == [
        (one.key, one.first, one.stop, one.group, one.number) for one in slow.steps
    ]


@pytest.mark.parametrize("said", SAID)
def test_a_sheet_in_bulk_is_the_sheet_place_by_place(said: str) -> None:
    for options, widths, quantity in product(OPTIONS, WIDTHS, ("1 link", "2 large", "3 link")):
        statement = f"pass {quantity} through {said}"
        fast, told_fast = woven(f"sheet mesh of {widths}{options}", statement, False)
        slow, told_slow = woven(f"sheet mesh of {widths}{options}", statement, True)
        assert_same(fast.pieces[0], slow.pieces[0])
        assert told_fast == told_slow


@pytest.mark.parametrize("said", SAID)
def test_a_tube_in_bulk_is_the_tube_place_by_place(said: str) -> None:
    options = ("", ", staggered", ", leaning left", ", leaning right", ", staggered, downward")
    for option, width, quantity in product(options, (1, 2, 3, 5), ("1 link", "2 large")):
        family = f"tube cuff of 3 rows of {width}{option}"
        fast, told_fast = woven(family, f"pass {quantity} through {said}", False)
        slow, told_slow = woven(family, f"pass {quantity} through {said}", True)
        assert_same(fast.pieces[0], slow.pieces[0])
        assert told_fast == told_slow


def test_bulk_is_a_step_a_row_and_inside_a_step_of_the_text_none() -> None:
    body = 'step "All of it":\n    sheet mesh of 3 rows of 4:\n        pass 1 link through the one below'
    weave, _ = expanded(f"{HEAD}piece earring:\n{indented(body)}")
    assert [(step.title, step.first, step.stop) for step in weave.pieces[0].steps] == [("All of it", 0, 12)]
