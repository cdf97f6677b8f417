"""What parsing gives: nodes and their places, comments, names that may also be words, what is left of a bad line."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from grammar.lines import split
from grammar.parse import parse
from notation.expectations import (
    ExpectHolds,
    ExpectLies,
    ExpectLoop,
    ExpectTotal,
    ExpectTurned,
    ExpectTurns,
    ExpectUsed,
)
from notation.lengths import Length, LengthUnit
from notation.margin import Heading, HeadingLine, Pattern, PieceBlock, RingLine, UnitBlock
from notation.nodes import (
    Bundle,
    Carry,
    Direction,
    Hand,
    Item,
    Join,
    Name,
    Named,
    Number,
    Quantity,
    Relative,
    Select,
    Side,
    Target,
    Text,
    Which,
)
from notation.source import Source, Span
from notation.statements import Broken, If, Pass

NOWHERE = Span(0, 0)


def read(text: str) -> Pattern:
    pattern, told = parse(Source(name="lyra", text=text))
    assert told == ()
    return pattern


def statement(text: str) -> object:
    """The one statement of a unit."""
    (unit,) = read(f"unit x:\n    {text}\n").statements
    assert isinstance(unit, UnitBlock)
    (found,) = unit.body
    return found


def name(text: str) -> Name:
    return Name(text=text, span=NOWHERE)


def number(value: int) -> Number:
    return Number(value=value, span=NOWHERE)


def named(text: str) -> Named:
    return Named(name=name(text), span=NOWHERE)


def test_the_example_of_the_module_holds() -> None:
    assert read('title "Lyra"\nring small: inner 3 mm, wire 0.7 mm, metal copper\n').statements == (
        HeadingLine(heading=Heading.TITLE, text=Text(value="Lyra", span=NOWHERE), span=NOWHERE),
        RingLine(
            name=name("small"),
            inner=Length(value=Decimal(3), unit=LengthUnit.MM),
            wire=Length(value=Decimal("0.7"), unit=LengthUnit.MM),
            metal=name("copper"),
            bundle=Bundle.AS_KIND,
            span=NOWHERE,
        ),
    )


def test_a_pass_with_many_clauses() -> None:
    found = statement(
        "pass 2 large as arm[3] through next pair of spoke from behind carrying 6 pairs of small as rim"
        " joined to the one before and the left of the two below by 2 small as seam"
    )
    item = Item(
        picks=(
            Select(which=Which.NEXT, count=None, bundle=Bundle.PAIRS, group=named("spoke"), span=NOWHERE),
        ),
        side=Side.BEHIND,
        span=NOWHERE,
    )
    small = name("small")
    assert found == Pass(
        quantity=Quantity(count=number(2), bundle=Bundle.AS_KIND, kind=name("large"), span=NOWHERE),
        target=Target(name=name("arm"), index=(number(3),), span=NOWHERE),
        through=(item,),
        carrying=(
            Carry(
                quantity=Quantity(count=number(6), bundle=Bundle.PAIRS, kind=small, span=NOWHERE),
                target=Target(name=name("rim"), span=NOWHERE),
                span=NOWHERE,
            ),
        ),
        join=Join(
            neighbours=(
                Relative(count=1, direction=Direction.BEFORE, span=NOWHERE),
                Relative(count=2, direction=Direction.BELOW, only=Hand.LEFT, span=NOWHERE),
            ),
            quantity=Quantity(count=number(2), bundle=Bundle.AS_KIND, kind=small, span=NOWHERE),
            target=Target(name=name("seam"), span=NOWHERE),
            span=NOWHERE,
        ),
        span=NOWHERE,
    )


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        ("pass 2 large through a, and b", "pass 2 large through a and b"),
        ("pass 2 large through a as arm", "pass 2 large as arm through a"),
        ("pass 1 pair of large", "pass a pair of large"),
        ("let n = k-1", "let n = k - 1"),
        ("let n = ((k))*(2)", "let n = k * 2"),
        ("let n = (1 + 2) + 3", "let n = 1 + 2 + 3"),
        ("pass 2large", "pass 2 large"),
        ("pass 2 large\n        through a,\n  b", "pass 2 large through a and b"),
        ("let n = (1 +\n2)", "let n = 1 + 2"),
        ("pass 2 large as a nested", "pass 2 large nested as a"),
        ("pass 2 large side by side as a", "pass 2 large as a"),
        (
            "pass 2 large\n        front and back as a\n        inside b",
            "pass 2 large front and back as a inside b",
        ),
        (
            "pass 2 large\n        nested\n        over a\n        under b",
            "pass 2 large nested over a under b",
        ),
        ("pass 2 large under a inside b as c", "pass 2 large as c inside b under a"),
        ("pass 2 large between c through a", "pass 2 large through a between c"),
        ("pass 2 large through a between c gathering b", "pass 2 large gathering b through a between c"),
        ("pass 2 large through b between c and d and a", "pass 2 large through b between c and d, and a"),
        ("take 1 small inside scale as x", "take 1 small as x inside scale"),
        ('helper "x" as b through a', 'helper "x" through a as b'),
        ("expect b closes with a half turn", "expect b closes with 1 half turn"),
    ],
)
def test_two_ways_to_write_one_thing(written: str, canonical: str) -> None:
    assert statement(written) == statement(canonical)


def test_a_hyphen_belongs_to_a_name_in_front_of_a_letter_only() -> None:
    assert statement("let n = ear-wire") != statement("let n = ear - wire")
    assert statement("let n = k-1") == statement("let n = k - 1")


def test_the_two_ways_to_write_a_letter_with_an_accent_are_one_name() -> None:
    assert statement("let e\u0301toile = 1") == statement("let \u00e9toile = 1")


@pytest.mark.parametrize(
    "word",
    [
        *("a", "tip", "pair", "triple", "down", "left", "eye", "wire", "part", "title", "front", "side"),
        *("nested", "loop", "plain", "crossed", "half", "turns", "both", "hands", "mirrored", "degrees"),
    ],
)
def test_some_words_are_names_where_they_can_be_nothing_else(word: str) -> None:
    read(
        f"ring {word}: inner 5 mm, wire 1 mm, metal {word}\n"
        f"unit {word}({word} = 2, port {word}):\n"
        f'    label {word} "x"\n'
        f"    pass 2 {word} as {word}[{word}] through {word} of {word}, {word}, first of {word} carrying 1 {word}\n"
        f"    pass {word} * 2 large through the eye of {word} and {word}\n"
        f"    make {word} of {word} with {word} = {word}, {word} = {word} of {word} as {word}\n"
        f"    sheet {word} of {word} rows of {word}, {word} down to 1, first is {word}:\n"
        f"        lay {word} flat\n"
        f"    for each {word} in {word}, {word} of {word}:\n"
        f"        fold {word} back onto {word}\n"
        f"    expect {word} holds {word}\n"
        f"    expect {word} is around {word}\n"
        f"    expect {word} closes with {word} half turns\n"
        f"    expect loop {word}[1], {word} is crossed\n"
        f"    round {word} of {word}, closed with {word} half turns:\n"
        f"        lean {word} left\n"
        f"    turn {word} by {word} degrees\n"
        f'    helper "x" through {word} between {word} and {word} as {word}\n'
        f"    remove {word}\n"
    )


WINGS = Named(name=Name(text="wings", span=NOWHERE), span=NOWHERE)
GAP = (named("a"), named("b"))


@pytest.mark.parametrize(
    ("path", "gaps", "between"),
    [
        ("through heart between wings", [None], WINGS),
        ("through heart between a and b", [GAP], None),
        ("through heart between a and b between wings", [GAP], WINGS),
        ("through heart between a and b and tip", [GAP, None], None),
        ("through tip, heart between a and b", [None, GAP], None),
        ("through tip and heart between wings", [None, None], WINGS),
        ("through tip, heart between wings as arm", [None, None], WINGS),
        ("through heart between a and b, tip between a and b", [GAP, GAP], None),
        ("through heart from behind if there between a and b", [GAP], None),
        ("through heart as arm between wings", [None], WINGS),
        ("between wings through heart between a and b", [GAP], WINGS),
        ("through heart around tip between wings", [None], WINGS),
        ("through heart between a and b around tip between wings", [GAP], WINGS),
        ("through heart inside tip between wings", [None], WINGS),
        ("through heart carrying 2 small as tip between wings", [None], WINGS),
    ],
)
def test_between_is_a_gap_with_two_neighbours_and_a_clause_with_one(
    path: str, gaps: list[object], between: object
) -> None:
    found = statement(f"pass 2 large {path}")
    assert isinstance(found, Pass)
    assert [item.gap for item in found.through] == gaps
    assert found.between == between


def test_an_eye_is_gone_through_in_front_of_the_clause_between() -> None:
    found = statement("pass 2 large through the eye of a and b between wings")
    assert isinstance(found, Pass)
    assert (found.through[0].eye, found.through[0].gap, found.between) == (True, None, WINGS)


def test_a_twin_line_leaves_its_pass_as_it_is() -> None:
    header = "pass 2 large front and back as arm through heart inside scale over a under b"
    found = statement(f"{header}:\n        twin through tip")
    plain = statement(header)
    assert isinstance(found, Pass)
    assert isinstance(plain, Pass)
    assert found.twin is not None
    assert replace(found, twin=None) == plain


def test_loop_begins_a_loop_only_in_front_of_a_pick() -> None:
    assert isinstance(statement("expect loop a, b is plain"), ExpectLoop)
    assert isinstance(statement("expect loop (2) along a is plain"), ExpectLoop)
    assert isinstance(statement("expect loop holds 2"), ExpectHolds)
    assert isinstance(statement("expect loop of a holds 2"), ExpectHolds)
    assert isinstance(statement("expect loop is over a"), ExpectLies)
    assert isinstance(statement("expect loop links"), ExpectTotal)
    assert isinstance(statement("expect loop turns by 90 degrees"), ExpectTurned)
    assert isinstance(statement("expect (n) turns used"), ExpectUsed)
    assert isinstance(statement("expect (loop) large used"), ExpectUsed)
    assert isinstance(statement("expect loop closes with 1 half turn"), ExpectTurns)


def test_places_are_those_of_the_text() -> None:
    text = (
        "# first\n"
        "unit x(a = 3):  # why\n"
        "    pass 2 large\n"
        "        through base  # because\n"
        "\n"
        "    if first:\n"
        "        lay flat\n"
        "    else:\n"
        "        turn over\n"
    )
    pattern = read(text)
    (unit,) = pattern.statements
    assert isinstance(unit, UnitBlock)
    motion, condition = unit.body
    assert isinstance(motion, Pass)
    assert isinstance(condition, If)
    assert condition.else_span is not None
    places = [
        unit.span,
        unit.parameters[0].span,
        motion.span,
        motion.through[0].span,
        condition.span,
        condition.else_span,
    ]
    assert [text[start:end] for start, end in places] == [
        "unit x(a = 3):",
        "a = 3",
        "pass 2 large\n        through base",
        "base",
        "if first:",
        "else:",
    ]
    assert [
        (comment.text, comment.line, comment.column, comment.own_line) for comment in pattern.comments
    ] == [
        ("# first", 0, 0, True),
        ("# why", 1, 16, False),
        ("# because", 3, 22, False),
    ]
    assert pattern.blank_before == {5}


def test_a_hash_in_a_text_begins_no_comment() -> None:
    assert read('title "a # b" # c\n').comments[0].text == "# c"


def test_else_if_is_an_if_in_otherwise_and_has_no_else_span() -> None:
    found = statement("if first:\n        lay flat\n    else if last:\n        lay flat")
    assert isinstance(found, If)
    assert isinstance(found.otherwise[0], If)
    assert found.else_span is None


def test_a_broken_statement_hides_neither_the_rest_nor_its_block_nor_its_names() -> None:
    text = (
        "unit rosette(:\n"
        "    pass 2 large as\n"
        "    pass 2 large as arm trough base\n"
        "    lay flat\n"
        "piece lyra:\n"
        "    make rosette\n"
    )
    pattern, told = parse(Source(name="lyra", text=text))
    assert [one.rule for one in told] == ["unclosed-bracket", "unexpected", "misspelt-word"]
    assert pattern.incomplete
    unit, piece = pattern.statements
    assert isinstance(unit, Broken)
    assert isinstance(piece, PieceBlock)
    assert (unit.word, unit.names) == ("unit", (name("rosette"),))
    assert [type(one).__name__ for one in unit.body] == ["Broken", "Broken", "Handle"]
    assert isinstance(unit.body[1], Broken)
    assert unit.body[1].names == (name("arm"),)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("ring large: 5", ["large"]),
        ("let n = ", ["n"]),
        ("port tip first", ["tip"]),
        ("line chain of :", ["chain"]),
        ("disc rose of :", ["rose"]),
        ('helper "twist" as twist', ["twist"]),
        ("for k to 3:", ["k"]),
        ("for each end on tip:", ["end"]),
        ("use units as shared", ["shared"]),
        ("pass 2 as arm carrying 2 small as seam", ["arm", "seam"]),
        ("glue 2", []),
    ],
)
def test_names_of_a_broken_line(text: str, names: list[str]) -> None:
    pattern, _ = parse(Source(name="lyra", text=f"piece x:\n    {text}\n"))
    (piece,) = pattern.statements
    assert isinstance(piece, PieceBlock)
    (broken,) = piece.body
    assert isinstance(broken, Broken)
    assert [one.text for one in broken.names] == names


def test_a_line_goes_on_and_a_statement_ends_it() -> None:
    text = (
        "kit: 2 large, # why\n"
        "\n"
        "# alone\n"
        "  3 small\n"
        "unit x(a,\n"
        "  port b):\n"
        "  pass 2 large\n"
        "    through c\n"
        "  pass 1 x as y[2,\n"
        "  lay flat\n"
    )
    lines = split(Source(name="lyra", text=text)).lines
    assert [" ".join(text[line.start : line.end].split()) for line in lines] == [
        "kit: 2 large, # why # alone 3 small",
        "unit x(a, port b):",
        "pass 2 large through c",
        "pass 1 x as y[2,",
        "lay flat",
    ]
    assert [line.indent for line in lines] == [0, 0, 2, 2, 2]


def test_indents_of_any_width_are_read() -> None:
    narrow = "unit x:\n repeat 2 times:\n   lay flat\n turn over\n"
    wide = "unit x:\n        repeat 2 times:\n            lay flat\n        turn over\n"
    assert read(narrow) == read(wide)
