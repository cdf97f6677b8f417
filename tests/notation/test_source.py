"""Source text: line ends, byte order marks, bad bytes, lines and columns."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notation.diagnostic import Place
from notation.margin import Pattern
from notation.source import DecodeProblem, Position, Source, Span, decode, normalise

AWKWARD = st.text(alphabet="ab\n\r\u00e9\ufeff\u2028\x0c\U0001f48d", max_size=30)


def test_spans_compare_by_start_and_then_end() -> None:
    assert sorted([Span(4, 6), Span(1, 9), Span(4, 5)]) == [Span(1, 9), Span(4, 5), Span(4, 6)]


def test_a_span_and_a_source_cannot_be_changed() -> None:
    with pytest.raises(AttributeError):
        Span(1, 2).start = 3  # type: ignore[misc]
    with pytest.raises(AttributeError):
        Source(name="lyra.annulet", text="").text = "x"  # type: ignore[misc]


@pytest.mark.parametrize(
    ("offset", "line", "column"),
    [(0, 1, 1), (4, 1, 5), (5, 2, 1), (6, 3, 1), (8, 3, 3), (9, 4, 1)],
)
def test_position_counts_lines_and_columns_from_one(offset: int, line: int, column: int) -> None:
    source = Source(name="lyra.annulet", text="ring\n\nid\n")
    assert source.position(offset) == Position(line, column)


def test_columns_count_characters_not_bytes() -> None:
    source = Source(name="lyra.annulet", text="é\U0001f48dx")
    assert source.position(2) == (1, 3)


@pytest.mark.parametrize("offset", [-1, 4])
def test_an_offset_outside_the_text_is_refused(offset: int) -> None:
    with pytest.raises(ValueError, match="outside the text"):
        Source(name="lyra.annulet", text="abc").position(offset)


@pytest.mark.parametrize("line", [0, 3])
def test_a_line_outside_the_text_is_refused(line: int) -> None:
    with pytest.raises(ValueError, match="outside the text"):
        Source(name="lyra.annulet", text="a\nb").line_text(line)


def test_an_empty_text_is_one_empty_line() -> None:
    source = Source(name="lyra.annulet", text="")
    assert (source.line_count, source.line_text(1), source.position(0)) == (1, "", (1, 1))


@pytest.mark.parametrize("text", ["a\r\nb\rc\nd", "\ufeffa\nb\nc\nd", "\ufeffa\rb\r\nc\r\nd"])
def test_every_line_end_becomes_a_line_feed_and_the_byte_order_mark_goes(text: str) -> None:
    assert normalise(text) == "a\nb\nc\nd"
    assert Source(name="lyra.annulet", text=text) == Source(name="lyra.annulet", text="a\nb\nc\nd")
    assert decode(text.encode()) == ("a\nb\nc\nd", None)


@given(AWKWARD)
def test_normalising_twice_changes_nothing_more(text: str) -> None:
    assert normalise(normalise(text)) == normalise(text)
    assert Source(name="lyra.annulet", text=normalise(text)).text == normalise(text)


def test_form_feeds_and_unicode_separators_end_no_line() -> None:
    assert Source(name="lyra.annulet", text="a\x0cb\u2028c\x85d").line_count == 1


@given(AWKWARD)
def test_lines_and_positions_agree_with_counting_by_hand(text: str) -> None:
    source = Source(name="lyra.annulet", text=text)
    lines = [source.line_text(line) for line in range(1, source.line_count + 1)]
    assert "\n".join(lines) == source.text
    line, column = 1, 1
    for offset, character in enumerate(source.text):
        assert source.position(offset) == (line, column)
        line, column = (line + 1, 1) if character == "\n" else (line, column + 1)
    assert source.position(len(source.text)) == (line, column)


@given(AWKWARD)
def test_decoding_what_was_encoded_gives_the_normalised_text(text: str) -> None:
    assert decode(text.encode("utf-8")) == (normalise(text), None)


def test_the_first_bad_byte_is_told_with_its_place_in_the_normalised_text() -> None:
    text, problem = decode(b"\xef\xbb\xbfa\r\nb\xe9c\xff")
    assert text == "a\nb\ufffdc\ufffd"
    assert problem == DecodeProblem(byte_offset=7, byte=0xE9, span=Span(3, 4), looks_like_utf16=False)


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_a_utf16_file_is_recognised_by_its_mark(encoding: str) -> None:
    _, problem = decode("\ufeffring".encode(encoding))
    assert problem is not None
    assert problem.looks_like_utf16
    assert problem.byte_offset == 0


@pytest.mark.parametrize("data", [b"\xc0\x80", b"\xed\xa0\x80", b"\xf4\x90\x80\x80", b"ab\xe2\x82"])
def test_overlong_surrogate_too_large_and_cut_off_sequences_are_not_text(data: bytes) -> None:
    assert decode(data)[1] is not None


@given(st.binary(max_size=40))
def test_any_bytes_give_text_and_a_problem_points_at_a_replacement(data: bytes) -> None:
    text, problem = decode(data)
    assert "\r" not in text
    if problem is None:
        assert data.decode("utf-8").count("\ufffd") == text.count("\ufffd")
    else:
        assert text[slice(*problem.span)] == "\ufffd"
        data[: problem.byte_offset].decode("utf-8")


def test_the_place_of_a_pattern_is_in_the_file_it_was_read_from() -> None:
    source = Source(name="corvus.annulet", text="")
    pattern = Pattern(source=source, statements=(), comments=(), blank_before=frozenset())
    assert pattern.place(Span(3, 5)) == Place(source="corvus.annulet", span=Span(3, 5))
    assert not pattern.incomplete


def test_what_is_outside_the_text_is_said_with_the_bounds() -> None:
    source = Source(name="corvus.annulet", text="a\nb")
    with pytest.raises(ValueError, match=r"^offset 4 is outside the text \(0 to 3\)$"):
        source.position(4)
    with pytest.raises(ValueError, match=r"^line 3 is outside the text \(1 to 2\)$"):
        source.line_text(3)
