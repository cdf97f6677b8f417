"""The words of weaves that links cannot tell apart: enough to know which one is made, and never more different."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from read_folds import read_through, singles
from rebuild import Rebuilt, rebuild
from test_word import check_rebuilt, eyes_of
from word_look_alikes import HANDS, HEAD, TURNED_OVER
from word_weaves import FAMILIES, weave_of_file, weave_of_text

from compiler.catalogue import english
from compiler.steps import InstructionKind
from compiler.weave import PieceWeave, RelationKind, Weave
from compiler.word.plain import plain_text
from compiler.word.words import word


def printed(weave: Weave) -> str:
    return " ".join(plain_text(word(weave)).split())


EACH = [
    pytest.param(weave, id=f"{family}: {name}")
    for family, weaves in FAMILIES.items()
    for name, weave in weaves.items()
]
PAIRS = [
    pytest.param(weaves[a], weaves[b], id=f"{family}: {a} and {b}")
    for family, weaves in FAMILIES.items()
    for a, b in combinations(weaves, 2)
]

# ---------------------------------------------------------------- back from the steps


def check_made_from_words(weave: Weave) -> Rebuilt:
    (piece,), (told,) = weave.pieces, word(weave).pieces
    check_rebuilt(piece, rebuild(read_through(told), eyes_of(weave)))
    made = rebuild(list(told.steps), eyes_of(weave))
    check_rebuilt(piece, made)
    return made


@pytest.mark.parametrize("weave", EACH)
def test_which_look_alike_it_is_comes_back_from_the_steps_alone(weave: Weave) -> None:
    check_made_from_words(weave)


def test_poses_helpers_and_twins_come_back_from_the_steps_alone() -> None:
    made = check_made_from_words(weave_of_text(HANDS, HEAD))
    assert made.helpers == ["twist of wire"]
    assert len(made.poses) == 4
    assert len(made.companionship) == 3


# ---------------------------------------------------------------- told apart


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_look_alikes_have_the_same_links_and_other_words(one: Weave, other: Weave) -> None:
    (a,), (b,) = one.pieces, other.pieces
    assert pairs_linked(a) == pairs_linked(b)
    assert printed(one) != printed(other)


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_the_words_of_a_ring_differ_exactly_where_the_hands_differ(one: Weave, other: Weave) -> None:
    told_one, told_other = told_by_motion(one), told_by_motion(other)
    shared = told_one.keys() & told_other.keys()
    assert shared
    for motion in sorted(shared):
        same_hands = facts_of(one.pieces[0], motion) == facts_of(other.pieces[0], motion)
        assert (told_one[motion] == told_other[motion]) == same_hands


def pairs_linked(piece: PieceWeave) -> list[tuple[int, int]]:
    return sorted((min(a, b), max(a, b)) for a, b in zip(piece.link_a, piece.link_b, strict=True))


Motions = tuple[int, int]
"""First motion of a ring with its twins, and the first one after them."""


def told_by_motion(weave: Weave) -> dict[Motions, str]:
    """What is said of each ring by itself, a series written out; `from the front`, which may stay unsaid, left out."""
    (told,) = word(weave).pieces
    found: dict[Motions, str] = {}
    for step in told.steps:
        for instruction in step.instructions:
            if instruction.first_motion == instruction.stop_motion:
                continue
            ones = [instruction]
            if instruction.kind is InstructionKind.SERIES:
                ones = list(singles(instruction))
            size = (instruction.stop_motion - instruction.first_motion) // len(ones)
            for index, each in enumerate(ones):
                first = instruction.first_motion + index * size
                text = "".join(map(english.plain, english.step_text(replace(step, instructions=(each,)))))
                text = text.replace(", entered from the front", "").replace("From the front, g", "G")
                found[first, first + size] = text
    return found


def facts_of(piece: PieceWeave, motions: Motions) -> tuple[object, ...]:
    """Links with their sides, relations and twins that come of some motions."""
    span = range(*motions)
    columns = zip(piece.link_motion, piece.link_a, piece.link_b, piece.link_sign, strict=True)
    links = sorted((a, b, sign) for motion, a, b, sign in columns if motion in span)
    relations = [each for each in piece.relations if each.motion in span]
    ways = {lead: way for lead, way in piece.companionship.items() if piece.born[lead] in span}
    return links, relations, ways


CASES = sorted((Path(__file__).parents[1] / "cases" / "lookalikes").iterdir())


@pytest.mark.parametrize("folder", CASES, ids=lambda folder: folder.name)
def test_each_of_a_group_of_look_alikes_has_words_of_its_own(folder: Path) -> None:
    weaves = [weave_of_file(path) for path in sorted(folder.glob("*.annulet"))]
    assert len(weaves) > 1
    steps = [printed(weave).partition("Words used")[0] for weave in weaves]
    assert len(set(steps)) == len(steps)
    for weave in weaves:
        check_made_from_words(weave)


# ---------------------------------------------------------------- what is said

SAID = {
    ("chains of pairs", "byzantine"): "read pairs 4 to 7 for pairs 1 to 4",
    ("chains of pairs", "box"): "Spread the two rings of pair 2 apart.",
    ("spirals", "left"): "Each also enters from behind: ring 3 through ring 1, ring 4 through ring 2",
    ("pair of spirals", "mirror images"): "Work the lower as the mirror image of the upper.",
    (
        "rosettes of five",
        "one",
    ): "From behind, go through petal ring 1. From the front, go through petal ring 2.",
    ("persian edges", "from behind"): "Each enters from behind: ring 1 through base rings 1 and 2",
    ("persian edges", "over"): "lay ring 2 over ring 1, ring 3 over ring 2",
    ("persian twins", "side by side"): "follows the same way and lies beside it.",
    ("persian twins", "front and back"): "follows the same way and lies behind it.",
    ("persian twins", "nested"): "follows the same way and lies inside it.",
    ("collars", "joint"): "Go around the joint of body rings 1 and 2, not through.",
    ("collars", "ring"): "Go around body ring 2, not through.",
    ("collars", "two rings"): "Go around body ring 1, not through. Go around body ring 3, not through.",
    ("collars", "caged"): "Lay it in the hole of body ring 2; do not link them.",
    ("caged rings", "inside"): "Lay ring 1 in the hole of plate ring 1, ring 2 in the hole of plate ring 2",
    ("caged rings", "around"): "Ring 1 goes around plate ring 1, ring 2 around plate ring 2",
    ("caged rings", "over"): "On the side facing you, lay ring 1 over plate ring 1",
    ("caged rings", "under"): "On the side facing away from you, lay ring 1 under plate ring 1",
    ("bands", "plain"): "Close the band without a twist.",
    ("bands", "half"): "Before you close the band, give the loose end one half turn clockwise, "
    "looking along the work from where it began.",
    ("bands", "whole"): "Before you close the band, give the loose end two half turns clockwise, "
    "looking along the work from where it began.",
    ("leaning rows", "alike"): "Lean c rings 1 and 2 to the left.",
    ("leaning rows", "in turn"): "Lean c rings 1 and 2 to the right.",
    ("places on a ring", "beside the first"): "On the hub ring, place it between spoke rings 1 and 2.",
    ("places on a ring", "opposite"): "On the hub ring, place it between spoke rings 4 and 5.",
    ("places on a ring", "where it begins"): "On the hub ring, place it between spoke rings 6 and 1.",
}


@pytest.mark.parametrize(("family", "name"), SAID)
def test_what_tells_a_look_alike_is_said_in_a_sentence(family: str, name: str) -> None:
    assert SAID[family, name] in printed(FAMILIES[family][name])
    plain = next(iter(FAMILIES[family].values()))
    if plain is not FAMILIES[family][name]:
        assert SAID[family, name] not in printed(plain)


def test_a_piece_all_from_the_front_stays_silent_about_sides() -> None:
    for weave in (FAMILIES["spirals"]["right"], FAMILIES["rosettes of five"]["plain"]):
        text = printed(weave)
        assert "from the front" not in text
        assert "behind" not in text


# ---------------------------------------------------------------- turned over


def test_turned_over_the_words_speak_of_the_side_that_faces_the_maker() -> None:
    texts = {name: printed(weave_of_text(text, HEAD)) for name, text in TURNED_OVER.items()}
    assert "Go through base rings 1 and 2. Close the ring." in texts["not"]
    assert "Turn the work over. The back now faces you." in texts["turned"]
    assert "From the side facing away from you, go through base rings 1 and 2." in texts["turned"]
    assert "From the side facing you, go through base rings 1 and 2." in texts["turned, from behind"]


def test_turning_over_changes_the_words_and_not_the_weave() -> None:
    made = {name: check_made_from_words(weave_of_text(text, HEAD)) for name, text in TURNED_OVER.items()}
    assert made["not"].links == made["turned"].links != made["turned, from behind"].links


def test_turned_over_left_is_right_and_over_is_under() -> None:
    weave = weave_of_text(HANDS, HEAD)
    (piece,) = weave.pieces
    assert [each.kind for each in piece.relations][:1] == [RelationKind.OVER]
    text = printed(weave)
    for sentence in (
        "Lay it under plate ring 3, on the side facing away from you; do not link them.",
        "follows the same way and lies in front of it.",
        "Fold the wing back onto the bar ring, one ring to each side.",
        "Lean plate ring 3 to the right.",
        "Turn plate ring 4 anticlockwise by 60 degrees, looking along the work from where it began.",
        "Check: The bar ring lies under plate ring 3, further from you.",
        "Turn the work over. The front faces you again.",
        "Lay two closed small rings as bead rings 1 and 2 in the hole of plate ring 4; link nothing.",
        "Lay one pair of closed small rings as the core in the hole of plate ring 4, one inside the other, "
        "the first outermost; link nothing.",
        "follow the same way and lie inside it, one inside the other.",
        "Bead rings 1 and 2 lie in the hole of plate ring 4.",
        "Put a twist of wire through plate ring 1: it holds the work for now.",
        "Take the twist of wire out again.",
        "Have at hand a twist of wire.",
    ):
        assert sentence in text


EYE = """
piece clasp:
    take 2 link as base
    pass 1 link as key through the eye of base[1] and base[2]{side}
"""


@pytest.mark.parametrize(("side", "said"), [("", "From the front"), (" from behind", "From behind")])
def test_an_eye_is_said_as_one_and_from_which_side(side: str, said: str) -> None:
    weave = weave_of_text(EYE.format(side=side), HEAD)
    check_made_from_words(weave)
    assert f"{said}, go through the eye where base rings 1 and 2 overlap" in printed(weave)
