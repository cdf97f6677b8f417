"""Strict YAML: what is read, what is refused and where the finger points."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.yamlread import (
    DEEPEST_NESTING,
    MOST_CHARACTERS,
    YamlEntry,
    YamlMapping,
    YamlNode,
    YamlProblem,
    YamlScalar,
    YamlSequence,
    YamlTaker,
    did_you_mean,
    read_yaml,
    read_yaml_bytes,
)
from notation.source import Source, Span

NOWHERE = Span(0, 0)


def source_of(text: str) -> Source:
    return Source(name="own.yaml", text=text)


def root_of(text: str) -> YamlNode:
    node, problems = read_yaml(source_of(text))
    assert problems == ()
    assert node is not None
    return node


def told(problems: tuple[YamlProblem, ...]) -> list[tuple[int, int, str]]:
    return [(problem.line, problem.column, problem.message) for problem in problems]


def told_of(text: str) -> list[tuple[int, int, str]]:
    node, problems = read_yaml(source_of(text))
    assert node is None
    return told(problems)


def plain(text: str) -> YamlScalar:
    return YamlScalar(text=text, is_plain=True, span=NOWHERE)


def test_mappings_sequences_and_scalars_keep_their_order_and_text() -> None:
    assert root_of("b: [1, 'two']\na:\n  - x: |\n      long\n      text\n") == YamlMapping(
        entries=(
            YamlEntry(
                key=plain("b"),
                value=YamlSequence(
                    items=(plain("1"), YamlScalar(text="two", is_plain=False, span=NOWHERE)), span=NOWHERE
                ),
            ),
            YamlEntry(
                key=plain("a"),
                value=YamlSequence(
                    items=(
                        YamlMapping(
                            entries=(
                                YamlEntry(
                                    key=plain("x"),
                                    value=YamlScalar(text="long\ntext\n", is_plain=False, span=NOWHERE),
                                ),
                            ),
                            span=NOWHERE,
                        ),
                    ),
                    span=NOWHERE,
                ),
            ),
        ),
        span=NOWHERE,
    )


@pytest.mark.parametrize(
    "word", ["no", "NULL", "~", "012", "0x1F", "12:30:00", "1_000", "1e3", "2024-01-01", ".inf"]
)
def test_words_that_yaml_would_turn_into_something_else_stay_text(word: str) -> None:
    assert root_of(word) == plain(word)


def test_spans_cover_what_was_written_and_no_blank_lines_below() -> None:
    text = "\na: [é, \U0001f48d]\nb:\n  c: 'd'\n\n# end\n"
    root = root_of(text)
    assert isinstance(root, YamlMapping)
    spans = [text[slice(*node.span)] for entry in root.entries for node in (entry.key, entry.value)]
    assert spans == ["a", "[é, \U0001f48d]", "b", "c: 'd'"]
    assert text[slice(*root.span)] == "a: [é, \U0001f48d]\nb:\n  c: 'd'"


def test_a_line_end_of_any_kind_and_a_byte_order_mark_leave_places_alone() -> None:
    source, node, problems = read_yaml_bytes("own.yaml", b"\xef\xbb\xbfa: 1\r\nb: 2\rb: 3\n")
    assert node is None
    assert told(problems) == [(3, 1, "`b` is given twice; it is first given in line 2")]
    assert source.line_text(3) == "b: 3"


def test_every_anchor_alias_tag_and_repeated_key_is_told_in_one_run_by_place() -> None:
    text = "a: &x 1\nb: *x\nc: !!int 3\nd: {e: 1, e: 2}\na: 4\n!t f: !<tag:x> {}\n"
    assert told_of(text) == [
        (1, 4, "the anchor `&x` is not taken here; leave it out"),
        (2, 4, "`*x` repeats another part; write it out here"),
        (3, 4, "tags (`!...`) are not taken here; leave it out"),
        (4, 11, "`e` is given twice; it is first given in line 4"),
        (5, 1, "`a` is given twice; it is first given in line 1"),
        (6, 1, "tags (`!...`) are not taken here; leave it out"),
        (6, 7, "tags (`!...`) are not taken here; leave it out"),
    ]


@pytest.mark.parametrize(
    ("text", "line", "column", "message"),
    [
        ("", 1, 1, "there is nothing in the file"),
        ("# only this\n", 1, 1, "there is nothing in the file"),
        ("a: 1\n---\nb: 2\n", 2, 1, "a second document begins here; a file holds one"),
        ("%YAML 1.1\n---\na: 1\n", 1, 1, "directives (`%YAML`, `%TAG`) are not taken here"),
        ("%TAG ! tag:x,2000:\n---\na: 1\n", 1, 1, "directives (`%YAML`, `%TAG`) are not taken here"),
        (
            "a: 1\nb: [1, 2\n",
            3,
            1,
            "this cannot be read as YAML: expected ',' or ']', but got '<stream end>'",
        ),
        ("a: b: c\n", 1, 5, "this cannot be read as YAML: mapping values are not allowed here"),
        ("a:\n\tb: 1\n", 2, 1, "a tab cannot stand here; indent with spaces"),
        ("a: 'open\n", 2, 1, "this cannot be read as YAML: found unexpected end of stream"),
        ("a: \x07\n", 1, 4, "the character U+0007 is not taken in a YAML text"),
        ("a: 1\nb: \x00\n", 2, 4, "the character U+0000 is not taken in a YAML text"),
        ("a: \ud800\n", 1, 4, "the character U+D800 is not taken in a YAML text"),
        ('a: "x\\e"\n', 1, 4, "the character U+001B is not taken in a value"),
        ('a: "\\uD800"\n', 1, 4, "the character U+D800 is not taken in a value"),
        ("? [a]\n: 1\n", 1, 3, "a key is a single word or text, not a list or a mapping"),
    ],
)
def test_what_is_not_taken_is_told_with_its_place(text: str, line: int, column: int, message: str) -> None:
    assert told_of(text) == [(line, column, message)]


@pytest.mark.parametrize("text", ['a: "\\UFFFFFFFF"\n', "%YAML 1." + "9" * 5000 + "\n---\na: 1\n"])
def test_numbers_too_large_for_the_scanner_are_a_problem(text: str) -> None:
    ((line, _, message),) = told_of(text)
    assert line == 1
    assert message == "what follows here cannot be read as YAML: it holds a number too large"


def test_bytes_that_are_no_utf8_are_a_problem_where_they_stand() -> None:
    _, node, problems = read_yaml_bytes("own.yaml", b"a: 1\nb: caf\xe9\n")
    assert node is None
    assert told(problems) == [(2, 7, "the byte 0xE9 is not UTF-8 text; save the file as UTF-8")]


@pytest.mark.parametrize("opening", ["[", "{", "- ", "? ", "[{a: "])
def test_deep_nesting_is_a_problem_and_no_recursion(opening: str) -> None:
    text = opening * (MOST_CHARACTERS // len(opening))
    assert [message for _, _, message in told_of(text)] == [f"nested more than {DEEPEST_NESTING} deep"]


def test_nesting_up_to_the_limit_is_read() -> None:
    deepest = "[" * DEEPEST_NESTING + "]" * DEEPEST_NESTING
    node: YamlNode = root_of(deepest)
    for _ in range(DEEPEST_NESTING - 1):
        assert isinstance(node, YamlSequence)
        (node,) = node.items
    assert node == YamlSequence(items=(), span=NOWHERE)
    assert told_of("[" + deepest + "]") == [
        (1, DEEPEST_NESTING + 1, f"nested more than {DEEPEST_NESTING} deep")
    ]


def test_a_text_too_long_is_not_read_at_all() -> None:
    assert told_of("#" * (MOST_CHARACTERS + 1)) == [
        (1, 1, f"the file is longer than {MOST_CHARACTERS} characters")
    ]


# Pieces that mean something to YAML, separated here by spaces; `~` stands for a space, `^` for a line end.
PIECES = (
    "a b:~ -~ ^ ~~ ?~ :~ [ ] { } , ' \" |^ >- &x~ *x !t~ # %YAML~ --- ..."
    " \t \\ \\x \\U0011 1.5 << é \x85 \u2028 \x07 @"
)
FRAGMENTS = st.lists(
    st.sampled_from([piece.replace("~", " ").replace("^", "\n") for piece in PIECES.split(" ")]), max_size=25
).map("".join)


@given(FRAGMENTS | st.text(max_size=30))
def test_any_text_gives_a_tree_or_problems_inside_the_text(text: str) -> None:
    source = source_of(text)
    node, problems = read_yaml(source)
    assert (node is None) == bool(problems)
    for problem in problems:
        assert 0 <= problem.span.start <= problem.span.end <= len(source.text)
        assert source.position(problem.span.start) == (problem.line, problem.column)


@given(st.binary(max_size=40))
def test_any_bytes_give_a_tree_or_problems(data: bytes) -> None:
    _, node, problems = read_yaml_bytes("own.yaml", data)
    assert (node is None) == bool(problems)


def taken(method: str, text: str) -> object:
    """What a method of the taker gives for the text, or the message of the only problem."""
    taker = YamlTaker(source_of(text))
    value = getattr(taker, method)(root_of(text))
    if value is not None:
        assert taker.problems == ()
        return value
    (problem,) = taker.problems
    return problem.message


@pytest.mark.parametrize(("text", "value"), [("0", 0), ("12", 12), ("-7", -7)])
def test_whole_numbers_are_plain_digits(text: str, value: int) -> None:
    assert taken("integer", text) == value


@pytest.mark.parametrize(
    "text", ["012", "0x1F", "0o17", "1_000", "12:30", "+3", "1.0", "1e3", "'12'", "٣", "no", "[1]"]
)
def test_what_looks_like_a_whole_number_in_another_way_is_refused(text: str) -> None:
    assert taken("integer", text) == "a whole number in plain digits is expected here, as in `12`"


@pytest.mark.parametrize(("text", "value"), [("8.96", "8.96"), ("10", "10"), ("-0.10", "-0.10")])
def test_decimals_keep_the_digits_as_written(text: str, value: str) -> None:
    assert str(taken("decimal", text)) == str(Decimal(value))


@pytest.mark.parametrize("text", [".5", "5.", "1,5", "1e3", ".nan", ".inf", "'8.96'", "08.96", "{a: 1}"])
def test_what_looks_like_a_decimal_in_another_way_is_refused(text: str) -> None:
    assert taken("decimal", text) == "a number in plain digits is expected here, as in `8.96`"


def test_a_number_of_endless_digits_is_refused() -> None:
    assert taken("integer", "9" * 5000) == "the number has more than 30 digits"
    assert taken("decimal", "0." + "9" * 5000) == "the number has more than 30 digits"


def test_truth_is_true_or_false_and_nothing_else() -> None:
    assert taken("boolean", "true") is True
    assert taken("boolean", "false") is False
    for text in ("yes", "no", "on", "True", "'true'", "1"):
        assert taken("boolean", text) == "`true` or `false` is expected here"


def test_a_text_may_be_quoted_or_not_but_not_missing() -> None:
    assert taken("text", "no") == "no"
    assert taken("text", "''") == ""
    taker = YamlTaker(source_of("a:\nb: 1\n"))
    values = taker.mapping(root_of("a:\nb: 1\n"), ("a", "b"))
    assert values is not None
    assert taker.text(values["a"]) is None
    assert told(taker.problems) == [(1, 3, "a text is expected here")]


def test_a_mapping_tells_missing_and_unknown_keys_and_gives_the_rest() -> None:
    text = "copper:\n  titel: copper\n  density: 8.96\n  colour: red\n"
    taker = YamlTaker(source_of(text))
    entries = taker.entries(root_of(text))
    assert entries is not None
    assert taker.mapping(entries[0].value, ("title", "density"), ("source",)) == {"density": plain("8.96")}
    assert told(taker.problems) == [
        (2, 3, "`titel` is not known here; did you mean `title`?"),
        (2, 3, "`title` is missing here"),
        (4, 3, "`colour` is not known here"),
    ]


def test_a_node_of_the_wrong_kind_is_told() -> None:
    assert taken("entries", "[a]") == "a mapping is expected here: `key: value`"
    assert taken("sequence", "a: 1") == "a list is expected here: `[one, two]`"
    assert taken("text", "[a]") == "a text is expected here"


def test_a_choice_names_the_nearest_word_or_all_of_them() -> None:
    def message(text: str) -> str:
        taker = YamlTaker(source_of(text))
        assert taker.choice(root_of(text), ("nickel", "lead")) is None
        return taker.problems[0].message

    assert YamlTaker(source_of("lead")).choice(root_of("lead"), ("nickel", "lead")) == "lead"
    assert message("nickle") == "`nickle` is not known here; did you mean `nickel`?"
    assert message("zinc") == "`zinc` is not known here; it is one of nickel, lead"


@pytest.mark.parametrize("method", ["entries", "sequence", "text", "integer", "decimal", "boolean"])
def test_a_key_that_is_not_there_is_not_told_a_second_time(method: str) -> None:
    taker = YamlTaker(source_of(""))
    assert getattr(taker, method)(None) is None
    assert taker.problems == ()


def test_a_suggestion_is_made_only_for_a_near_word() -> None:
    assert did_you_mean("densty", ("title", "density")) == "; did you mean `density`?"
    assert did_you_mean("colour", ("title", "density")) == ""
