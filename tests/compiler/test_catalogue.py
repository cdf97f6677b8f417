"""The English catalogue: a sentence for every message, and nouns as English has them."""

from __future__ import annotations

import string
from dataclasses import replace

from word_weaves import WEAVES

from compiler.catalogue import english, nouns
from compiler.catalogue import making_english as making
from compiler.catalogue.sentences import AGAIN, BY_ARGUMENT, GLOSSARY, SENTENCES
from compiler.messages import GroupName, KindName, Members, Message, Range, Say, TwinPlace
from compiler.steps import Term, Title, TitleKind
from compiler.word.words import word
from notation.nodes import Direction, Hand, Relative
from notation.plurals import plural
from notation.source import Span

BELOW, NOWHERE = Direction.BELOW, Span(0, 0)

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
    assert [plural(noun) for noun in ("lozenge", "cross", "branch", "lily", "spray")] == [
        "lozenges", "crosses", "branches", "lilies", "sprays",
    ]  # fmt: skip


def test_folded_steps_that_make_nothing_of_one_name_say_which_are_worked_again() -> None:
    for number, last, said in ((4, 6, "Steps 4 to 6 again"), (2, 2, "Step 2 again")):
        assert english.title(Title(kind=TitleKind.AGAIN, number=number, last=last)) == said


# ---------------------------------------------------------------- discs

RING = KindName(key="ring", singular="ring", plural="rings", finding=False)
DISC = GroupName(
    singular="disc",
    plural="discs",
    owner="",
    kind=RING,
    strand=1,
    rows=True,
    tube=False,
    disc=True,
    alone=False,
)


def places(row: int, first: int, last: int, relation: Relative | None = None) -> Members:
    return Members(group=DISC, ranges=(Range(row=row, first=first, last=last),), relation=relation)


def bare(text: str) -> str:
    """Without marks and no-break spaces."""
    return nouns.unbound("".join(run.text for run in english.runs(text)))


def test_a_round_of_a_disc_lies_outside_the_one_before() -> None:
    message = Message(
        name=Say.NEXT_ROUND_OUTSIDE, arguments=(("what", places(3, 1, 18)), ("onto", places(2, 1, 12)))
    )
    here = nouns.Here(group=DISC, row=3)
    text = english.sentence(message, here)
    assert text == "Round\u00a03 lies outside round\u00a02 and has 18 rings."
    assert nouns.unbound(text) == "Round 3 lies outside round 2 and has 18 rings."


def test_below_in_a_disc_is_inside() -> None:
    here = nouns.Here(group=DISC, row=3)
    below = {
        "the one inside it (ring 4 of round 2)": (4, Relative(count=1, direction=BELOW, span=NOWHERE)),
        "the two inside it (rings 4 and 5 of round 2)": (5, Relative(count=2, direction=BELOW, span=NOWHERE)),
        "the first of the two inside it (ring 4 of round 2)": (
            4,
            Relative(count=2, direction=BELOW, only=Hand.LEFT, span=NOWHERE),
        ),
        "the one outside it (ring 4 of round 2)": (
            4,
            Relative(count=1, direction=Direction.ABOVE, span=NOWHERE),
        ),
    }
    for said, (last, relation) in below.items():
        text = nouns.thing(places(2, 4, last, relation), here)
        assert bare(text) == said


# ---------------------------------------------------------------- who owns what, and how many rings are meant


def lozenge(number: int, *, strand: int = 2) -> GroupName:
    return GroupName(
        singular="point",
        plural="points",
        owner=f"lozenge {number}",
        kind=RING,
        strand=strand,
        rows=True,
        tube=False,
        alone=False,
    )


def point(number: int, row: int, place: int, last: int = 0, *, strand: int = 2) -> Members:
    ranges = (Range(row=row, first=place, last=last or place),)
    return Members(group=lozenge(number, strand=strand), ranges=ranges)


def test_an_owner_is_said_again_after_another_one() -> None:
    here = nouns.Here(owner="lozenge 2")
    assert bare(nouns.path((point(2, 1, 2), point(1, 3, 3)), here)) == (
        "point 2 of row 1 and point 3 of row 3 of lozenge 1"
    )
    waits = replace(point(2, 2, 1), waits_on=(point(1, 3, 3), point(2, 1, 2)))
    text = bare(nouns.path((waits,), here))
    assert text.endswith("which waits on point 3 of row 3 of lozenge 1 and point 2 of row 1 of this lozenge")
    assert nouns.this_owner("upper wing") == "the upper wing"


def test_both_rings_are_said_the_first_time_in_a_step() -> None:
    here = nouns.Here(all_rings=("point",))
    texts = [
        bare(nouns.path(path, here))
        for path in (
            (point(1, 1, 1),),
            (point(1, 1, 1, 2),),
            (point(1, 1, 1, 2, strand=3),),
            (point(1, 1, 1), point(2, 1, 3)),
            (replace(point(1, 1, 1), companion=1),),
        )
    ]
    assert texts == [
        "both rings of point 1 of row 1 of lozenge 1",
        "both rings of each of points 1 and 2 of row 1 of lozenge 1",
        "all three rings of each of points 1 and 2 of row 1 of lozenge 1",
        "both rings of point 1 of row 1 of lozenge 1 and point 3 of row 1 of lozenge 2",
        "the twin of point 1 of row 1 of lozenge 1",
    ]


def test_a_noun_and_its_number_stay_on_one_line() -> None:
    text = nouns.path((point(1, 2, 3),))
    assert "point\u00a03 of row\u00a02 of lozenge\u00a01" in text


def test_open_and_close_are_explained_in_one_wording() -> None:
    told = (
        " ".join(making.HOW_TO_OPEN_TEXT)
        .replace("To open it, turn", "Turn")
        .replace("To close it, turn", "Turn")
    )
    assert f"{GLOSSARY[Term.OPEN][1]} {GLOSSARY[Term.CLOSE][1]}" == told


# ---------------------------------------------------------------- twins


def test_what_is_said_of_twins_depends_on_how_they_lie() -> None:
    beside, behind = (
        Message(name=Say.TWIN_SAME, arguments=(("kind", RING), ("lies", place)))
        for place in (TwinPlace.BESIDE, TwinPlace.BEHIND)
    )
    assert english.sentence(beside) == "Its twin, another open ring, follows the same way and lies beside it."
    assert english.sentence(beside, again=True) == "Its twin follows the same way."
    assert english.sentence(behind, again=True) == "Its twin follows the same way and lies behind it."
