"""Characters that the fonts lack are told with their place, and what is not told can be printed."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from pattern_books import HEAD

from compiler.booklet.compose import Options, compose
from compiler.booklet.figuretypes import NO_FIGURES
from compiler.booklet.glyphs import check_glyphs
from compiler.booklet.typeset import typeset
from compiler.expand.driver import expand
from compiler.metals_file import METALS
from compiler.weave import Weave
from compiler.word.words import word
from grammar.parse import parse
from notation.diagnostic import Diagnostic
from notation.metals import Metal
from notation.source import Source


def checked(text: str) -> tuple[Weave, tuple[Diagnostic, ...], Source]:
    source = Source(name="test.annulet", text=text)
    pattern, _ = parse(source)
    weave, _ = expand(pattern, {})
    return weave, check_glyphs(weave, (pattern,)), source


def told(text: str) -> list[tuple[str, str]]:
    """What stands at the place of each diagnostic, and the characters that it names."""
    _, found, source = checked(text)
    assert {each.rule for each in found} <= {"no-glyph"}
    return [
        (source.text[each.place.span.start : each.place.span.end], dict(each.arguments)["characters"])
        for each in found
    ]


CHARM = "piece charm:\n    take 1 small as a\n"


@pytest.mark.parametrize(
    ("text", "place", "characters"),
    [
        (HEAD.replace("Corvus", "Corvus ✨") + CHARM, '"Corvus ✨ earrings"', "U+2728 SPARKLES"),
        (HEAD.replace("Tamsin", "環"), '"環 Orrell"', "U+74B0 CJK UNIFIED IDEOGRAPH-74B0"),
        (HEAD + CHARM + '    tip "ש"\n', '"ש"', "U+05E9 HEBREW LETTER SHIN"),
        (
            HEAD + CHARM + '    step "ab✂cd✂":\n        pass 1 small through a\n',
            '"ab✂cd✂"',
            "U+2702 BLACK SCISSORS",
        ),
        (HEAD + 'label hook "\u200bwire"\n', '"\u200bwire"', "U+200B ZERO WIDTH SPACE"),
    ],
)
def test_a_text_is_told_where_it_stands(text: str, place: str, characters: str) -> None:
    assert told(text) == [(place, characters)]


def test_a_name_that_is_printed_is_told_unless_a_label_stands_for_it() -> None:
    ring = "ring 鎖: inner 5 mm, wire 1 mm, metal copper\n"
    piece = "piece charm:\n    take 1 鎖 as a\n"
    assert told(f'title "Vela"\n{ring}{piece}') == [("鎖", "U+9396 CJK UNIFIED IDEOGRAPH-9396")]
    assert told(f'title "Vela"\n{ring}label 鎖 "chain ring"\n{piece}') == []


def test_the_name_of_a_group_is_told_at_the_statement_that_makes_it() -> None:
    (place, characters), *more = told(HEAD + CHARM + "    pass 1 small as 星 through a\n")
    assert more == []
    assert place.startswith("pass 1 small")
    assert characters == "U+661F CJK UNIFIED IDEOGRAPH-661F"


def test_of_a_piece_that_was_not_made_whole_no_name_is_looked_at() -> None:
    text = (
        "ring link: inner 6 mm, wire 0.8 of metal copper\n"  # a slip, so that `collar` hangs on nothing
        "ring collar: inner 5.5 mm, wire 0.8 mm, metal brass\n"
        "piece chain:\n"
        "    line place of 3:\n"
        "        pass 1 link through the one before\n"
        "        if not first:\n"
        "            pass 1 collar as orbit around the joint of last of place and the one before\n"
    )
    assert told(text) == []


def test_the_title_of_a_metal_of_ones_own_is_told() -> None:
    text = f'title "Vela"\nring link: inner 5 mm, wire 1 mm, metal copper\n{CHARM.replace("small", "link")}'
    pattern, _ = parse(Source(name="test.annulet", text=text))
    weave, _ = expand(pattern, {})
    copper = METALS["copper"]
    own = {
        "copper": Metal(
            name="copper",
            title="銅",
            density=copper.density,
            tolerance=copper.tolerance,
            basis=copper.basis,
            source=copper.source,
            cautions=(),
            aliases=(),
        )
    }
    assert check_glyphs(weave, (pattern,)) == ()
    assert [each.rule for each in check_glyphs(replace(weave, metals=own), (pattern,))] == ["no-glyph"]


@pytest.mark.parametrize("word_", ["Ελληνικά", "Кириллица", "Škrabák łódź ß", "⌀ ⚠ ½ × – … “ ”", "a\u00a0b"])
def test_what_is_not_told_can_be_printed(word_: str) -> None:
    text = HEAD.replace("Corvus", word_) + f'piece charm:\n    take 1 small as a\n    note "{word_}"\n'
    weave, found, _ = checked(text)
    assert found == ()
    assert typeset(compose(weave, word(weave), NO_FIGURES, Options())).startswith(b"%PDF")
