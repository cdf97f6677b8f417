"""The words: enough to make every piece, counted right, said in whole sentences."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from msgspec import structs
from read_folds import read_through
from rebuild import Rebuilt, rebuild
from word_weaves import PATTERNS, TEXTS, WEAVES, weave_of_file, weave_of_text

from compiler.catalogue import english, folds, nouns
from compiler.steps import Fold, Words
from compiler.weave import PieceWeave, Pose, PoseKind, Verb, Weave
from compiler.word.plain import plain_text
from compiler.word.words import word


def eyes_of(weave: Weave) -> dict[str, tuple[str, ...]]:
    return {kind.name: tuple(eye.name for eye in kind.eyes) for kind in weave.finding_kinds}


def check_rebuilt(piece: PieceWeave, got: Rebuilt) -> None:
    """Every link with its side, every relation, twin, pose and helper is as the weave has it."""
    wanted = sorted(zip(piece.link_a, piece.link_b, piece.link_sign, strict=True))
    assert wanted
    assert sorted(got.links) == wanted
    assert Counter(got.relations) == Counter((each.kind, each.node, each.others) for each in piece.relations)
    assert got.companionship == piece.companionship
    assert Counter(map(pose_told, got.poses)) == Counter(map(pose_told, piece.poses))
    assert got.helpers == list(piece.helpers)


def pose_told(pose: Pose) -> Pose:
    """Half turns are asked for at the end of a round, and told before it is closed."""
    return structs.replace(pose, at=0) if pose.kind in (PoseKind.HALF_TURNS, PoseKind.FRONT_INSIDE) else pose


@pytest.mark.parametrize("weave", [weave for _, weave in WEAVES], ids=[name for name, _ in WEAVES])
class TestEveryPattern:
    def test_a_maker_with_only_the_steps_makes_the_same_links(self, weave: Weave) -> None:
        for piece, words in zip(weave.pieces, word(weave).pieces, strict=True):
            check_rebuilt(piece, rebuild(list(words.steps), eyes_of(weave)))

    def test_a_maker_who_reads_the_folded_steps_makes_the_same_links(self, weave: Weave) -> None:
        for piece, words in zip(weave.pieces, word(weave).pieces, strict=True):
            read = read_through(words)
            assert [step.number for step in read] == list(range(1, len(words.steps) + 1))
            check_rebuilt(piece, rebuild(read, eyes_of(weave)))

    def test_the_last_tally_is_everything_in_the_piece(self, weave: Weave) -> None:
        for piece, words in zip(weave.pieces, word(weave).pieces, strict=True):
            wanted = Counter(weave.ring_kinds[kind].name for kind in piece.kind if kind >= 0)
            wanted.update(weave.finding_kinds[use.kind].name for use in piece.findings)
            last = words.steps[-1]
            assert {each.kind.key: each.count for each in last.tally} == dict(wanted)
            assert last.links == words.links == len(piece.link_a)

    def test_what_is_opened_and_closed_beforehand_follows_from_the_motions(self, weave: Weave) -> None:
        opened: Counter[str] = Counter()
        closed: Counter[str] = Counter()
        for piece in weave.pieces:
            for node, kind in enumerate(piece.kind):
                if kind < 0:
                    continue
                born = piece.born[node]
                actor = piece.motions.actor[born] == node
                is_open = actor and piece.motions.verb[born] in (Verb.PASS, Verb.TWIN)
                (opened if is_open else closed)[weave.ring_kinds[kind].name] += piece.times
        before = word(weave).before
        assert {each.kind.key: each.count for each in before.opens} == dict(opened)
        assert {each.kind.key: each.count for each in before.closes} == dict(closed)

    def test_every_step_is_shown_once(self, weave: Weave) -> None:
        for words in word(weave).pieces:
            shown: list[int] = []
            for each in words.shown:
                numbers = range(each.first, each.last + 1) if isinstance(each, Fold) else [each.number]
                shown.extend(numbers)
            assert shown == [step.number for step in words.steps]

    def test_each_repetition_knows_what_is_in_the_piece_after_it(self, weave: Weave) -> None:
        for words in word(weave).pieces:
            for fold in (each for each in words.shown if isinstance(each, Fold)):
                length = fold.model_last - fold.model_first + 1
                for each in fold.repetitions:
                    assert each.tally == words.steps[each.first + length - 2].tally

    def test_the_text_is_whole_sentences_without_marks(self, weave: Weave) -> None:
        words = word(weave)
        for paragraph in paragraphs(words):
            text = english.plain(paragraph)
            assert not set(text) & set(nouns.MARKS)
            assert text[0].isupper()
            assert text.endswith((".", "!", "?"))
            assert "  " not in text
            assert "{" not in text
            assert not re.search(r"\b(\w+) \1\b", text), text

    def test_the_terminal_text_keeps_its_width(self, weave: Weave) -> None:
        for width in (60, 100):
            assert max(len(line) for line in plain_text(word(weave), width).splitlines()) <= width

    def test_the_same_weave_gives_the_same_words(self, weave: Weave) -> None:
        assert plain_text(word(weave)) == plain_text(word(weave))


def paragraphs(words: Words) -> list[english.Paragraph]:
    found: list[english.Paragraph] = []
    for piece in words.pieces:
        for shown in piece.shown:
            found.extend(
                folds.fold_text(shown, piece) if isinstance(shown, Fold) else english.step_text(shown)
            )
    return found


# ---------------------------------------------------------------- sheets


def test_a_row_of_a_large_sheet_is_a_few_sentences() -> None:
    (piece,) = word(weave_of_text(TEXTS["sheet"])).pieces
    assert len(piece.steps) == 20
    assert len(piece.shown) < 6
    for step in piece.steps:
        assert sum(len(each.messages) for each in step.instructions) <= 8
    text = plain_text(word(weave_of_text(TEXTS["sheet"])))
    assert "Go through the two below: ring 1 through rings 1 and 2 of row 1" in " ".join(text.split())


# ---------------------------------------------------------------- mirror images and direction

SHEETS = """
unit wing:
    label mesh "wing"
    sheet mesh of 2 rows of 3, staggered:
        pass 1 small through the left of the two below if there
piece pair made 2 times, in both hands:
    make wing as upper
    make wing mirrored as lower
"""


def test_a_mirror_image_is_said_so_and_worked_from_the_other_side() -> None:
    text = " ".join(plain_text(word(weave_of_text(SHEETS))).split())
    first, _, second = text.partition("Work the lower as the mirror image of the upper.")
    assert "Work from left to right." in first
    assert "go through the left of the two below" in first
    assert "Work from right to left." in second
    assert "go through the right of the two below" in second


def test_the_direction_of_work_is_said_once() -> None:
    tube = TEXTS["tube"]
    assert "Work round in one direction." in " ".join(plain_text(word(weave_of_text(tube))).split())
    text = " ".join(
        plain_text(word(weave_of_text(tube.replace("    tube", "    work anticlockwise\n    tube")))).split()
    )
    assert text.count("Work anticlockwise throughout, seen from the front.") == 1
    assert "Work round in one direction." not in text


def test_helpers_are_listed_once_among_what_to_have_at_hand() -> None:
    put_in = '    helper "twist of wire" through base[1] as {0}\n    remove {0}\n'
    piece = "piece study:\n    take 2 small as base\n" + put_in.format("twist") + put_in.format("other")
    words = word(weave_of_text(piece + "    pass 1 small through base[1] and base[2]\n"))
    assert words.helpers == ("twist of wire",)
    assert english.helpers_text(words.helpers) == "Have at hand a twist of wire."


# ---------------------------------------------------------------- folds


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("carina-strap", "Steps 7 to 46. Rows 7 to 46 of the strap"),
        ("carina-strap", "After step 8: 28 rings. After step 10: 37 rings. Each time 9 rings more."),
        ("lyra-necklace", "Steps 7 to 12. Lozenges 3 and 4"),
        ("lyra-necklace", "After step 9: 50 large rings and 96 small rings."),
        ("vela-bracelet", "Steps 3 to 45. Pairs 3 to 45"),
        ("auriga-chain", "Steps 8 to 79. Twists 3 to 26 Work steps 5 to 7 another 24 times"),
        ("delphinus-anklet", "Steps 8 to 63. Steps 4 to 7 again"),
        (
            "delphinus-anklet",
            "Steps 12 to 15: read knot 4 for knot 2 and knot 3 for knot 1; read joining ring 3 for joining ring 1.",
        ),
    ],
)
def test_a_fold_says_what_it_makes_and_what_is_there_after_each_repetition(name: str, said: str) -> None:
    weave = weave_of_file(next(path for path in PATTERNS if path.stem == name))
    assert said in " ".join(plain_text(word(weave)).split())


# ---------------------------------------------------------------- words used


def test_the_designers_own_names_are_among_the_words_used() -> None:
    words = word(weave_of_file(next(path for path in PATTERNS if path.stem == "lyra-necklace")))
    entries = dict(map(english.glossary_entry, words.terms))
    assert (
        entries["seam"] == "A pair of small rings that joins two points. There are 64, the first in step 1."
    )
    assert entries["point"] == "A pair of large rings. There are 33, the first in step 1."
    assert entries["lozenge"] == "A part of the necklace, which has four."
    assert entries["row"].startswith("Rings side by side.")


def test_a_name_that_says_what_it_is_needs_no_explanation() -> None:
    words = word(
        weave_of_text(
            "piece study:\n    take 2 single small as base\n"
            "    pass 1 small as bridge through base[1] and base[2]\n"
        )
    )
    assert not {"base ring", "bridge ring"} & dict(map(english.glossary_entry, words.terms)).keys()


# ---------------------------------------------------------------- printed text, read back

LIST = r"(\d+(?:(?:, | and | to )\d+)*)"
"""`1 and 2`, `3 to 5`, `6, 7 and 9`."""
NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4}


def numbers_of(text: str) -> list[int]:
    """`1 and 2`, `3 to 5` as numbers."""
    found: list[int] = []
    for first, last in re.findall(r"(\d+)(?: to (\d+))?", text):
        found.extend(range(int(first), int(last or first) + 1))
    return found


def test_the_printed_steps_of_a_rhombus_can_be_read_back() -> None:
    """From the printed English alone: which seams hang on which points, against the weave, as was said of each."""
    weave = weave_of_file(next(path for path in PATTERNS if path.stem == "lyra-earrings"))
    (words,), (piece,) = word(weave).pieces, weave.pieces
    met: set[tuple[tuple[int, int], int]] = set()
    seen: set[int] = set()
    promised: dict[int, tuple[int, int]] = {}
    for step in words.steps:
        title = re.match(r"Row (\d+) of the points$", english.title(step.title))
        if title is None:
            continue
        row = int(title.group(1))
        for paragraph in english.step_text(step):
            head = re.match(r"Point (\d+)\. ", english.plain(paragraph))
            if head is None:
                continue
            text = english.plain(paragraph)
            point = (row, int(head.group(1)))
            through = re.search(rf"Go through (?:both rings of (?:each of )?)?seams? {LIST}, which", text)
            carried = re.search(
                rf"Slip (\w+) pairs? of closed small rings onto the open ring as seams? {LIST}(?: for|:|\.)",
                text,
            )
            meant = re.findall(
                rf"seams? {LIST} for points? {LIST}(?: of row (\d+))?", text.split("Carry")[-1]
            )
            gone = numbers_of(through.group(1)) if through else []
            assert set(gone) <= seen, "named before it is there"
            assert all(promised.pop(seam) == point for seam in gone)
            for seams, places, of_row in meant:
                spots = [(int(of_row or row), place) for place in numbers_of(places)]
                promised.update(zip(numbers_of(seams), spots, strict=True))
            new = numbers_of(carried.group(2)) if carried else []
            assert len(new) == (NUMBERS[carried.group(1)] if carried else 0)
            seen.update(new)
            met.update((point, seam) for seam in (*gone, *new))
            assert promised.keys() >= set(new)
            assert "Its twin" in text
    assert not promised
    group = {name.name: index for index, name in enumerate(piece.groups)}
    widths = piece.groups[group["point"]].shape.widths  # type: ignore[union-attr]
    wanted = set()
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        for point_node, seam_node in ((a, b), (b, a)):
            if piece.group[point_node] == group["point"] and piece.group[seam_node] == group["seam"]:
                place = piece.member[point_node] - 1
                spot = (place // widths[0] + 1, place % widths[0] + 1)
                wanted.add((spot, piece.member[seam_node]))
    assert met == wanted
    assert len(wanted) == 32
