"""Paragraphs: where lines end, and what stands on them."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.booklet import style
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Block, Circle, Face, Group, Item, Role, Text
from compiler.booklet.text import (
    Align,
    Run,
    emphasis,
    narrowest_width,
    natural_width,
    plain,
    set_text,
    strong,
    unprintable,
)

BODY = style.BODY
PROSE = (
    "Take an open large ring and bring it from the front through the next two of the spoke rings, "
    "hang four closed small rings on it, and close it; its twin follows the same way and lies beside it."
)


def texts(items: tuple[Item, ...]) -> list[Text]:
    """All runs of text, in order."""
    out: list[Text] = []
    for item in items:
        if isinstance(item, Group):
            out.extend(texts(item.items))
        elif isinstance(item, Text):
            out.append(item)
    return out


def lines(block: Block) -> list[str]:
    """The characters of each line."""
    by_line = itertools.groupby(texts(block.items), key=lambda text: text.y)
    return ["".join(text.string for text in line) for _, line in by_line]


def right_edge(text: Text) -> float:
    """Where the run ends."""
    return text.x + text_width(text.string, text.face, text.size, text.tracking)


@given(
    words=st.lists(st.text(alphabet="abcdefgij-–", min_size=1, max_size=30), max_size=40),
    width=st.floats(min_value=60, max_value=400),
)
def test_no_line_is_wider_than_its_room_and_no_character_is_lost(words: list[str], width: float) -> None:
    block = set_text(plain(" ".join(words)), BODY, width)
    assert all(right_edge(text) <= width + 1e-6 for text in texts(block.items))
    assert "".join(lines(block)).replace(" ", "") == "".join(words)
    assert block.height == len(lines(block)) * BODY.leading


def test_a_paragraph_takes_no_more_lines_than_filling_one_after_another_would() -> None:
    for width in range(120, 480, 7):
        greedy, used = 1, 0.0
        for word in PROSE.split():
            advance = text_width(word, BODY.face, BODY.size)
            if used and used + text_width(" ", BODY.face, BODY.size) + advance > width:
                greedy, used = greedy + 1, 0.0
            used += advance + (text_width(" ", BODY.face, BODY.size) if used else 0.0)
        assert len(lines(set_text(plain(PROSE), BODY, width))) == greedy


def test_lines_are_the_best_of_all_ways_to_break_a_short_paragraph() -> None:
    words = ["Its", "twin", "follows", "the", "same", "way", "and", "lies", "beside", "everything"]
    width = 78.0

    def cost(ends: tuple[int, ...]) -> tuple[int, float] | None:
        total, start = 0.0, 0
        for end in ends:
            used = text_width(" ".join(words[start:end]), BODY.face, BODY.size)
            if used > width:
                return None
            total += (1 - used / width) ** 2 if end < len(words) else 0.0
            start = end
        return len(ends), total

    ways = [
        (*inner, len(words))
        for count in range(len(words))
        for inner in itertools.combinations(range(1, len(words)), count)
    ]
    best = min((found, ends) for ends in ways if (found := cost(ends)) is not None)[1]
    expected = [" ".join(words[start:end]) for start, end in itertools.pairwise((0, *best))]
    assert len(expected) > 2
    assert lines(set_text(plain(" ".join(words)), BODY, width)) == expected


def test_a_last_line_of_one_short_word_is_avoided_where_the_lines_allow() -> None:
    text = "bring it through the next two of the spoke it"
    width = text_width("bring it through the next two of the spoke", BODY.face, BODY.size) + 1
    assert lines(set_text(plain(text), BODY, width))[-1] != "it"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("mmmm mmmm", ["mmmm", "mmmm"]),
        ("mmmm\xa0m", ["mmmm", "\xa0m"]),  # kept together until there is no room at all
        ("mm well-known", ["mm", "well-", "known"]),
        ("1-2-3-4-5-6", ["1-2-3-4-", "5-6"]),
        ("mm – mm", ["mm –", "mm"]),
        ("mmm–mmm", ["mmm–", "mmm"]),
    ],
)
def test_lines_end_only_where_they_may(text: str, expected: list[str]) -> None:
    width = text_width("mmmm", BODY.face, BODY.size) + 0.5
    assert lines(set_text(plain(text), BODY, width)) == expected


def test_a_no_break_space_keeps_number_and_unit_together() -> None:
    width = text_width("wire of 0.9", BODY.face, BODY.size) + 1
    assert lines(set_text(plain("wire of 0.9\xa0mm"), BODY, width)) == ["wire of", "0.9\xa0mm"]


def test_white_space_of_any_length_is_one_space() -> None:
    assert lines(set_text(plain("  one \n\t two  "), BODY, 200)) == ["one two"]
    assert set_text(plain(" \n"), BODY, 200) == Block(width=200, height=0.0, items=())


def test_runs_keep_their_faces_and_touch_each_other() -> None:
    runs = (Run(text="Open "), strong("14 large"), Run(text=" and "), emphasis("six"), Run(text="."))
    found = texts(set_text(runs, BODY, 400).items)
    assert [(text.string, text.face) for text in found] == [
        ("Open ", Face.REGULAR),
        ("14 large", Face.SEMIBOLD),
        (" and ", Face.REGULAR),
        ("six", Face.ITALIC),
        (".", Face.REGULAR),
    ]
    for left, right in itertools.pairwise(found):
        assert right_edge(left) == pytest.approx(right.x)
    assert right_edge(found[-1]) == pytest.approx(natural_width(runs, BODY))
    assert narrowest_width(runs, BODY) == pytest.approx(text_width("Open", BODY.face, BODY.size))


def test_a_word_that_changes_its_face_inside_is_not_broken_there() -> None:
    runs = (Run(text="one ring"), strong("let"))
    width = text_width("one ring", BODY.face, BODY.size) + 1
    assert lines(set_text(runs, BODY, width)) == ["one", "ringlet"]


@pytest.mark.parametrize(("align", "share"), [(Align.LEFT, 0.0), (Align.CENTRE, 0.5), (Align.RIGHT, 1.0)])
def test_lines_are_set_to_their_edge(align: Align, share: float) -> None:
    (text,) = texts(set_text(plain("ring"), BODY, 100, align=align).items)
    assert text.x == pytest.approx(share * (100 - text_width("ring", BODY.face, BODY.size)))


def test_capitals_stand_in_the_middle_of_their_line() -> None:
    block = set_text(plain("H"), BODY, 100)
    cap = 0.689 * BODY.size
    assert block.baseline - cap == pytest.approx(BODY.leading - block.baseline, abs=1e-3)


def test_a_sign_the_font_lacks_is_drawn_in_place_and_says_what_it_is() -> None:
    block = set_text(plain("⌀ 5"), BODY, 100)
    (paragraph,) = block.items
    assert isinstance(paragraph, Group)
    assert paragraph.role is Role.PARAGRAPH
    sign, rest = paragraph.items
    assert isinstance(sign, Group)
    assert (sign.role, sign.alt) == (Role.SPAN, "⌀")
    circle = sign.items[0]
    assert isinstance(circle, Circle)
    assert isinstance(rest, Text)
    assert 0 < circle.x - circle.radius < circle.x + circle.radius < rest.x == pytest.approx(0.72 * BODY.size)
    assert rest.string == " 5"


def test_what_cannot_be_printed_is_named() -> None:
    assert unprintable("⌀ 5 mm\n⚠ é") == ()
    assert unprintable("環 ⌀ ①") == ("環", "①")
