"""The words of nodes are those of the grammar, and what is not written is not said."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum

import msgspec
import pytest

from grammar.automaton import automaton
from notation import expectations, handling, margin, nodes, statements
from notation.lengths import LengthUnit
from notation.nodes import THOSE, Bundle, Companions, Name, Node, Side, Which
from notation.source import Span

MODULES = (expectations, handling, margin, nodes, statements)
SAID = sorted(
    {
        one
        for module in MODULES
        for one in vars(module).values()
        if isinstance(one, type) and issubclass(one, Enum) and one is not Enum
    },
    key=lambda one: one.__name__,
)
UNSAID = {None, False, (), Bundle.AS_KIND, Companions.SIDE_BY_SIDE, Side.FRONT}
"""What a field is that the text does not mention. The last two are the usual case and are not written."""


def kinds_of_node(of: type[Node] = Node) -> Iterator[type[Node]]:
    for kind in of.__subclasses__():
        yield kind
        yield from kinds_of_node(kind)


@pytest.mark.parametrize("said", SAID, ids=lambda one: one.__name__)
def test_the_values_of_a_choice_are_words_or_signs_of_the_notation(said: type[Enum]) -> None:
    scanner = automaton().scanner
    for one in said:
        if one is not Bundle.AS_KIND:
            assert one.value
            assert all(word in scanner.words or word in scanner.signs for word in one.value.split()), one
    assert len({one.value for one in said}) == len(said.__members__)


def test_nothing_is_written_where_a_count_is_bundled_as_its_kind_says() -> None:
    assert Bundle("") is Bundle.AS_KIND


def test_units_of_length_are_words_of_the_notation() -> None:
    assert {unit.value for unit in LengthUnit} <= {*automaton().scanner.words}


def test_a_field_that_the_text_does_not_mention_says_nothing() -> None:
    fields = [(kind, field) for kind in kinds_of_node() for field in msgspec.structs.fields(kind)]
    assert len(fields) > 200
    defaults = [(kind, field) for kind, field in fields if field.default is not msgspec.NODEFAULT]
    assert [f"{kind.__name__}.{field.name}" for kind, field in defaults if field.default not in UNSAID] == []
    assert all(field.default_factory is msgspec.NODEFAULT for _, field in fields)


def test_what_has_a_count_of_its_own_is_no_number_of_neighbours() -> None:
    assert THOSE == 0


def name(text: str, start: int = 0) -> Name:
    return Name(text=text, span=Span(start, start + len(text)))


def test_nodes_are_equal_that_say_the_same_wherever_they_stand() -> None:
    assert name("arm") == name("arm", 9)
    assert hash(name("arm")) == hash(name("arm", 9))
    assert name("arm") != name("leg")
    assert name("arm") != "arm"
    assert len({name("arm"), name("arm", 9), name("leg")}) == 2


def test_nodes_of_two_kinds_differ_though_they_say_the_same() -> None:
    text, number = nodes.Text(value="3", span=Span(0, 1)), nodes.Number(value=3, span=Span(0, 1))
    not_ = nodes.Negative(value=number, span=Span(0, 2))
    assert text != number
    assert not_ != number
    assert hash(nodes.Variable(name=name("k"), span=Span(0, 1))) != hash(name("k"))


def test_a_node_is_shown_without_its_place() -> None:
    assert repr(name("arm")) == "Name(text='arm')"
    chosen = nodes.IsPlace(which=Which.FIRST, span=Span(3, 8))
    assert repr(nodes.Not(condition=chosen, span=Span(0, 8))) == (
        "Not(condition=IsPlace(which=<Which.FIRST: 'first'>))"
    )
    compared = nodes.IsParity(value=nodes.Number(value=2, span=Span(0, 1)), even=True, span=Span(0, 9))
    assert repr(compared) == "IsParity(value=Number(value=2), even=True)"


def test_two_numbers_compare_as_the_sign_says() -> None:
    holds = {
        sign.value: [sign.holds(left, right) for left, right in ((1, 2), (2, 2), (3, 2))]
        for sign in nodes.Comparison
    }
    assert holds == {
        "=": [False, True, False],
        "<>": [True, False, True],
        "<": [True, False, False],
        "<=": [True, True, False],
        ">": [False, False, True],
        ">=": [False, True, True],
    }
