"""Plurals by the rules of English, and names as they are printed."""

import pytest

from notation.plurals import plural, printed


@pytest.mark.parametrize(
    ("noun", "several"),
    [
        ("ring", "rings"),
        ("cross", "crosses"),
        ("box", "boxes"),
        ("topaz", "topazes"),
        ("branch", "branches"),
        ("brush", "brushes"),
        ("berry", "berries"),
        ("day", "days"),
        ("key", "keys"),
        ("toy", "toys"),
        ("buy", "buys"),
        ("rosette", "rosettes"),
        ("path", "paths"),
    ],
)
def test_the_plural_of_a_noun(noun: str, several: str) -> None:
    assert plural(noun) == several


def test_a_name_is_printed_with_its_words_apart() -> None:
    assert printed("inner-ring-pair") == "inner ring pair"
