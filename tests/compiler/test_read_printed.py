"""From the printed words alone every weave of the library comes back: text of the PDF to sentences, motions, a weave.

Compared, node by node in the order of the words: what kind of ring or finding it is, every link with the side at which
it is entered, what lies around, between, inside, over or under what, how companions lie, folds and the direction of
work. Checks that say what lies where are looked up in what was made. After each step the rings are counted, and those
that nothing joins yet. Not compared: other poses (leans, turns, half turns) and work that is turned over, which no
pattern of the library has: a sentence about them would be refused; sizes of rings, which stand in the tables; counts
in checks, remarks, helpers.
"""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from read_english import Reader
from read_motion import Made
from read_page import PrintedStep, pieces
from read_phrases import number as in_figures

from compiler.booklet.compose import Options, compose
from compiler.booklet.figuretypes import NO_FIGURES
from compiler.booklet.typeset import typeset
from compiler.pipeline import checked
from compiler.timings import Timings
from compiler.weave import PieceWeave, Weave
from compiler.word.words import word

PATTERNS = Path(__file__).parent.parent.parent / "patterns"
FILES = sorted(PATTERNS.rglob("*.annulet"))


def printed(weave: Weave) -> list[str]:
    """What another program reads on the pages of the booklet; figures have no part in it."""
    data = typeset(compose(weave, word(weave), NO_FIGURES, Options()))
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]


def tally(made: Made, kinds: Mapping[str, str]) -> tuple[dict[str, int], int]:
    """Rings of each kind in the work, and how many nothing is joined to."""
    rings = set(kinds.values())
    return dict(Counter(kind for kind in made.kinds if kind in rings)), made.loose(rings)


def told_of(text: str, kinds: Mapping[str, str]) -> tuple[dict[str, int], int]:
    """The same as it is printed under a step."""
    head, _, counts = text.rstrip(".").partition(": ")
    counts, _, loose = counts.partition("; ")
    found = {}
    for each in re.split(r", | and ", counts):
        count, _, noun = each.partition(" ")
        if noun in kinds:
            found[kinds[noun]] = int(count)
    if head.startswith("Laid out"):
        return found, sum(found.values())
    return found, in_figures(loose.split()[0]) if loose else 0


def read(weave: Weave, told: list[list[PrintedStep]], *, count: bool = False) -> list[Made]:
    """What is made of each piece by one who has the words, and the list of materials; who may `count` at each step."""
    eyes = {kind.singular: tuple(eye.name for eye in kind.eyes) for kind in weave.finding_kinds}
    kinds = {name: kind.singular for kind in weave.ring_kinds for name in (kind.singular, kind.plural)}
    out = []
    for steps in told:
        reader = Reader(eyes, kinds)
        for step in steps:
            reader.step(step)
            assert not count or tally(reader.made, kinds) == told_of(step.tally, kinds), step.tally
        out.append(reader.made)
    return out


def differs(weave: Weave, piece: PieceWeave, made: Made) -> str:
    """What in the piece is other than was made of the words; empty where nothing is."""
    called = {eye: weave.finding_kinds[use.kind].singular for use in piece.findings for eye in use.eyes}
    kinds = [
        weave.ring_kinds[kind].singular if kind >= 0 else called[node] for node, kind in enumerate(piece.kind)
    ]
    links = {(a, b): sign for a, b, sign in zip(piece.link_a, piece.link_b, piece.link_sign, strict=True)}
    relations = Counter((each.kind, each.node, each.others) for each in piece.relations)
    compared = (
        ("kinds", kinds, made.kinds),
        ("links", links, made.links),
        ("relations", relations, Counter(made.relations)),
        ("companions", dict(piece.companionship), made.companionship),
        ("poses", Counter(piece.poses), Counter(made.poses)),
    )
    return next((name for name, meant, found in compared if meant != found), "")


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_the_weave_comes_back_from_the_printed_words(path: Path) -> None:
    weave = checked(str(path), PATTERNS, Timings()).weave
    assert weave is not None
    found = read(weave, pieces(printed(weave)), count=True)
    for piece, made in zip(weave.pieces, found, strict=True):
        assert differs(weave, piece, made) == "", piece.name


def other(weave: Weave, steps: list[PrintedStep]) -> bool:
    """Whether the words make another weave, or none."""
    try:
        (made,) = read(weave, [steps])
        return differs(weave, weave.pieces[0], made) != ""
    except (AssertionError, ValueError, KeyError):
        return True


def test_a_number_that_is_wrong_in_print_gives_another_weave() -> None:
    weave = checked(str(PATTERNS / "lyra-earrings.annulet"), PATTERNS, Timings()).weave
    assert weave is not None
    (steps,) = pieces(printed(weave))
    tried = 0
    for place, step in enumerate(steps):
        for number, text in enumerate(step.sentences):
            found = re.match(r"(?:Go through|Hang it on) [^0-9]*(\d+)", text)
            if not found:
                continue
            slip = f"{text[: found.start(1)]}{int(found[1]) + 1}{text[found.end(1) :]}"
            sentences = (*step.sentences[:number], slip, *step.sentences[number + 1 :])
            wrong = [*steps[:place], replace(step, sentences=sentences), *steps[place + 1 :]]
            tried += 1
            assert other(weave, wrong), slip
    assert tried >= 10


SLIPS = (
    ("serpens-bracelet", "From behind", "From the front"),
    (
        "serpens-bracelet",
        "Lay it over right ring 1, on the side facing you",
        "Lay it over left ring 1, on the side facing you",
    ),
    (
        "reticulum-pendants",
        "Lay it under ring 4, on the side facing away from",
        "Lay it over ring 4, on the side facing",
    ),
    ("reticulum-pendants", "Each also enters from the front", "Each also enters from behind"),
    ("aries-fob", "follows the same way and lies behind it", "follows the same way and lies beside it"),
    ("aries-fob", ", one behind the other, the first nearest to you", ""),
    ("orion-earrings", "back onto hinge pair 1", "back onto the end pair"),
    ("orion-earrings", "between the two rings of hinge pair 1", "between the two rings of the end pair"),
    ("mensa-fobs", "joint of left pair 2 and right pair 2", "joint of left pair 1 and right pair 1"),
    ("pisces-pendants", "in the hole of scale ring 1 of row 2", "in the hole of scale ring 2 of row 2"),
    ("scutum-brooch", "Take an open large ring", "Take an open small ring"),
    ("scutum-brooch", "Work clockwise", "Work anticlockwise"),
)


@pytest.mark.parametrize(("name", "right", "wrong"), SLIPS, ids=[right for _, right, _ in SLIPS])
def test_another_word_in_print_gives_another_weave(name: str, right: str, wrong: str) -> None:
    weave = checked(str(PATTERNS / f"{name}.annulet"), PATTERNS, Timings()).weave
    assert weave is not None
    told = pieces(printed(weave))
    tried = 0
    for number, steps in enumerate(told):
        for place, step in enumerate(steps):
            for at, text in enumerate(step.sentences):
                if right not in text or tried:
                    continue
                tried += 1
                sentences = (*step.sentences[:at], text.replace(right, wrong), *step.sentences[at + 1 :])
                slip = [*steps[:place], replace(step, sentences=sentences), *steps[place + 1 :]]
                (made,) = read(weave, [slip])
                assert differs(weave, weave.pieces[number], made) != ""
    assert tried == 1, right
