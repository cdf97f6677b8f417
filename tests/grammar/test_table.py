"""The grammar and the table made from it: current, without conflicts, every terminal with words of its own."""

import logging

import lark
import pytest

from grammar.actions.statements import StatementActions
from grammar.automaton import TABLE, automaton
from grammar.build import GRAMMAR, table_of
from grammar.tokens import ALSO_NAMES, STRAY, Token
from grammar.words import NUMBER_WORDS, OTHER_WORDS, listed, phrase, shown

TEXT = GRAMMAR.read_text(encoding="utf-8")


def test_the_table_is_the_one_of_the_grammar() -> None:
    assert TABLE.read_text(encoding="utf-8") == table_of(TEXT)


def test_the_grammar_has_no_conflicts(caplog: pytest.LogCaptureFixture) -> None:
    def conflicts(text: str) -> list[str]:
        caplog.clear()
        with caplog.at_level(logging.DEBUG, logger=lark.logger.name):
            lark.Lark(text, parser="lalr", lexer="basic", debug=True)
        return [record.message for record in caplog.records if "conflict" in record.message.lower()]

    lark.logger.propagate = True
    assert conflicts('start: A | A start\nA: "a"') == []
    assert conflicts('start: a "b"?\na: "x" "b"?') != []
    assert conflicts(TEXT) == []


def test_every_production_has_an_action() -> None:
    actions = StatementActions("lyra")
    assert [
        one.action for one in automaton().productions if not one.hands_on and not hasattr(actions, one.action)
    ] == []


def test_every_terminal_has_words() -> None:
    values = automaton().values
    phrases = [phrase(name, values) for name, _, _ in automaton().terminals if name != "__IGNORE_0"]
    assert len(set(phrases)) == len(phrases)
    assert all(text.startswith(("a ", "the ", "`")) for text in phrases)
    for name, _, _ in automaton().terminals:
        if name != "__IGNORE_0":
            assert phrase(name, values) in listed(frozenset({name}), values)


def test_what_is_expected_is_listed_in_one_order() -> None:
    values = automaton().values
    expected = frozenset({"NEWLINE", "THROUGH", "NAME", "PLUS", "AROUND", "NUMBER"})
    assert listed(expected, values) == "a name, a number, `around`, `through` or the end of the line"
    assert listed(frozenset({"EQUAL", "UNEQUAL", "LESS", "AT_MOST", "MORE", "AT_LEAST", "PLUS"}), values) == (
        "a sign such as `=` or `<`"
    )


def test_a_token_is_shown_as_it_stands() -> None:
    assert shown(Token("NAME", "arm", 0, 3)) == "`arm`"
    assert shown(Token("NEWLINE", "\n", 0, 1)) == "the end of the line"
    assert shown(Token(STRAY, ";", 0, 1)) == ";"
    assert shown(Token("TEXT", '"' + "x" * 50 + '"', 0, 52)) == '`"' + "x" * 29 + '…"`'


def test_other_words_lead_to_words_of_the_notation() -> None:
    words = automaton().scanner.words
    assert [meant for meant in OTHER_WORDS.values() if meant.split()[0] not in words] == []
    assert [word for word in NUMBER_WORDS if word != word.lower()] == []


def test_words_that_may_be_names_are_words() -> None:
    assert set(automaton().scanner.words.values()) >= ALSO_NAMES
