"""Pouring of parts and tables into pages, and the small functions of setting."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.booklet.flow import ROWS_TOGETHER, Flow, Part
from compiler.booklet.page import Block, Group, Rectangle, Role, Text
from compiler.booklet.setting import LONGEST_PARAGRAPH, divided, short
from compiler.booklet.style import Paper
from compiler.booklet.tables import Column, set_table
from compiler.booklet.text import Run, plain


def block(height: float) -> Block:
    return Block(width=10.0, height=height, items=(Rectangle(x=0.0, y=0.0, width=10.0, height=height),))


def heights(flow: Flow) -> list[list[float]]:
    return [[item.height for item in page if isinstance(item, Rectangle)] for page in flow.pages]


def test_parts_follow_one_another_with_no_gap_at_the_top_of_a_page() -> None:
    flow = Flow(Paper.A4)
    for each in (100.0, 200.0, 500.0):
        flow.put(Part(block=block(each), gap=20.0))
    assert heights(flow) == [[100.0, 200.0], [500.0]]
    assert [item.y for item in flow.pages[0]] == [flow.frame.y, flow.frame.y + 120.0]
    assert flow.pages[1][0].y == flow.frame.y


def test_a_held_heading_goes_to_the_next_page_with_what_it_heads() -> None:
    flow = Flow(Paper.A4)
    flow.put(Part(block=block(flow.frame.height - 100.0)))
    flow.hold(Part(block=block(30.0), gap=10.0, keep=True))
    flow.put(Part(block=block(70.0), gap=5.0))
    assert heights(flow)[1] == [30.0, 70.0]


def test_parts_that_belong_together_are_parted_only_where_no_page_holds_them() -> None:
    flow = Flow(Paper.A4)
    flow.put(Part(block=block(300.0)))
    flow.together([Part(block=block(250.0)), Part(block=block(250.0))])
    assert heights(flow) == [[300.0], [250.0, 250.0]]
    flow = Flow(Paper.A4)
    flow.together([Part(block=block(300.0), keep=True), Part(block=block(300.0)), Part(block=block(300.0))])
    assert heights(flow) == [[300.0, 300.0], [300.0]]


rows = st.lists(st.integers(min_value=1, max_value=6), min_size=1, max_size=150)


@settings(deadline=None)
@given(lines=rows, before=st.floats(min_value=0, max_value=690), held=st.booleans(), noted=st.booleans())
def test_a_table_keeps_its_rows_and_never_leaves_the_page(
    lines: list[int], before: float, held: bool, noted: bool
) -> None:
    flow = Flow(Paper.A4)
    if before:
        flow.put(Part(block=block(before)))
    if held:
        flow.hold(Part(block=block(22.0), gap=32.0, keep=True))
    cells = [
        (plain(f"row{index}"), plain(" ".join(["word"] * 12 * count))) for index, count in enumerate(lines)
    ]
    table = set_table([Column(title="A"), Column(title="B", grows=True)], cells, 300.0)
    note = Part(block=block(26.0), gap=12.0) if noted else None
    flow.table(table, 8.0, note)
    names = []
    for page in flow.pages:
        parts = [item for item in page if isinstance(item, Group) and item.role is Role.TABLE]
        assert len(parts) <= 1
        for part in parts:
            shown = [_first_text(row) for row in part.items if isinstance(row, Group)]
            assert shown[0] == "A"
            names += shown[1:]
            assert len(shown) > min(ROWS_TOGETHER, len(lines))
        assert all(text.y <= flow.frame.bottom for text in _texts(page))
    assert names == [f"row{index}" for index in range(len(lines))]
    if noted:
        assert [item.height for item in flow.pages[-1] if isinstance(item, Rectangle)][-1] == 26.0
        assert any(isinstance(item, Group) and item.role is Role.TABLE for item in flow.pages[-1])


def _texts(items) -> list[Text]:
    found: list[Text] = []
    for item in items:
        found += _texts(item.items) if isinstance(item, Group) else [item] if isinstance(item, Text) else []
    return found


def _first_text(row: Group) -> str:
    return _texts([row.items[0]])[0].string


@settings(deadline=None)
@given(st.lists(st.text(alphabet="abc. ", max_size=1500), max_size=4))
def test_a_divided_paragraph_loses_no_character(texts: list[str]) -> None:
    pieces = divided([Run(text=text) for text in texts])
    assert "".join(run.text for piece in pieces for run in piece) == "".join(texts)
    assert all(sum(len(run.text) for run in piece) <= LONGEST_PARAGRAPH for piece in pieces)


@settings(deadline=None)
@given(st.text(alphabet="ab ", max_size=80), st.integers(min_value=2, max_value=40))
def test_a_shortened_text_is_short_and_says_that_it_is(text: str, most: int) -> None:
    whole = " ".join(text.split())
    found = short(text, most)
    assert len(found) <= most
    assert (
        found == whole
        if len(whole) <= most
        else whole.startswith(found.removesuffix("…")) and found.endswith("…")
    )


def test_pages_of_another_flow_follow_on_pages_of_their_own() -> None:
    flow, others = Flow(Paper.A4), Flow(Paper.A4)
    flow.put(Part(block=block(100.0)))
    others.mark("there", "There", 0)
    others.put(Part(block=block(200.0)))
    flow.join(others)
    flow.put(Part(block=block(50.0), gap=20.0))
    assert heights(flow) == [[100.0], [200.0, 50.0]]
    assert [(each.anchor, each.page) for each in flow.entries] == [("there", 1)]
