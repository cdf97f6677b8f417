"""The English catalogue: a sentence for every message, and nouns as English has them."""

from __future__ import annotations

import string

from word_weaves import WEAVES

from compiler.catalogue import nouns
from compiler.catalogue.sentences import AGAIN, BY_ARGUMENT, GLOSSARY, SENTENCES
from compiler.messages import Say
from compiler.steps import Term
from compiler.word.words import word

# ---------------------------------------------------------------- the catalogue


def placeholders(template: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(template) if name}


def test_every_message_has_its_sentence() -> None:
    for say in Say:
        assert (say in SENTENCES) != (say in BY_ARGUMENT)
    assert set(GLOSSARY) == set(Term)


def test_a_shorter_sentence_asks_for_nothing_that_the_full_one_lacks() -> None:
    for say, template in AGAIN.items():
        assert placeholders(template) <= placeholders(SENTENCES[say])


def test_every_argument_of_a_message_is_said() -> None:
    for _, weave in WEAVES:
        for piece in word(weave).pieces:
            for step in piece.steps:
                for instruction in step.instructions:
                    for message in instruction.messages:
                        if message.name in SENTENCES:
                            given = {key for key, _ in message.arguments}
                            assert placeholders(SENTENCES[message.name]) == given


def test_fixed_sentences_are_short() -> None:
    for template in SENTENCES.values():
        for sentence in template.split(". "):
            assert len(sentence.split()) <= 20


def test_english_numbers_lists_and_articles() -> None:
    assert [nouns.number(count) for count in (1, 2, 10, 11)] == ["one", "two", "ten", "11"]
    assert [nouns.ordinal(place) for place in (1, 3, 11, 12, 22, 23)] == [
        "first", "third", "11th", "12th", "22nd", "23rd",
    ]  # fmt: skip
    assert nouns.listed(["a"]) == "a"
    assert nouns.listed(["a", "b", "c"]) == "a, b and c"
    assert nouns.article("open ring") == "an open ring"
    assert nouns.article("ring") == "a ring"
