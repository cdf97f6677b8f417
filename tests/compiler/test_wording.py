"""What a stranger would stumble on in print, and what the words of the library therefore never say."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from compiler.catalogue import english
from compiler.catalogue import making_english as making
from compiler.kept import parsed
from compiler.layout import kept_path
from compiler.messages import Members, Say
from compiler.names import Names
from compiler.pipeline import checked
from compiler.steps import NameTerm, PartTerm, Term, Words
from compiler.timings import Timings
from compiler.weave import Weave
from compiler.word.plain import plain_text
from compiler.word.words import word

PATTERNS = Path(__file__).parent.parent.parent / "patterns"
FILES = sorted(PATTERNS.glob("*.annulet"))


@cache
def weave_of(path: Path) -> Weave:
    weave = checked(str(path), PATTERNS, Timings()).weave
    assert weave is not None
    return weave


@cache
def words_of(path: Path) -> Words:
    return word(weave_of(path))


def steps_of(path: Path) -> str:
    text = " ".join(plain_text(words_of(path)).split())
    return text[text.index("Step 1.") : text.rindex("Words used")]


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_a_count_of_links_is_not_called_by_a_word_that_means_rings(path: Path) -> None:
    text = steps_of(path)
    assert not re.search(r"\bhas (?:now )?\S+ links?\b", text)
    assert Term.CONNECTION in words_of(path).terms or "connection" not in text


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_a_use_of_a_unit_has_a_number_and_not_a_chain_of_names(path: Path) -> None:
    owners = {group.owner for piece in weave_of(path).pieces for group in piece.groups} - {""}
    assert not [owner for owner in owners if " of " in owner]
    assert all(re.fullmatch(r".* \d+", owner) for owner in owners)


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_a_word_used_says_more_than_its_own_name(path: Path) -> None:
    words = words_of(path)
    heads = [english.glossary_entry(term, words.terms)[0] for term in words.terms]
    assert len(set(heads)) == len(heads)
    for term in words.terms:
        _, meaning = english.glossary_entry(term, words.terms)
        assert len(meaning.split()) >= 4
        assert not (isinstance(term, NameTerm) and len(words.pieces) == 1) or "step" in meaning
        assert not isinstance(term, PartTerm) or any(piece.singular in meaning for piece in words.pieces)


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_what_a_piece_does_not_have_is_not_explained(path: Path) -> None:
    words = words_of(path)
    findings = bool(words.before.findings)
    said = " ".join(english.glossary_entry(term, words.terms)[1] for term in words.terms)
    assert findings or not re.search(r"\b(?:finding|eye)\b", said)
    assert ("twin" in making.mark(making.Mark.NEW, words.terms)) is (Term.TWIN in words.terms)
    assert ("finding" in making.mark(making.Mark.CARRIED, words.terms)) is findings


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_rings_that_nothing_joins_yet_are_not_called_work(path: Path) -> None:
    for piece in words_of(path).pieces:
        first = piece.steps[0]
        alone = not first.links and not first.opens
        assert english.all_loose(first) is alone


def test_sheets_of_mail_lean_in_the_proved_layouts_as_their_words_say() -> None:
    seen = 0
    for path in sorted(PATTERNS.rglob("*.annulet")):
        weave = weave_of(path)
        kept = parsed(kept_path(path).read_text(encoding="utf-8"))
        assert kept is not None
        for piece, told in zip(weave.pieces, word(weave).pieces, strict=True):
            says = [
                message
                for step in told.steps
                for instruction in step.instructions
                for message in instruction.messages
                if message.name is Say.ROWS_LEAN
            ]
            names = Names(weave, piece)
            for message in says if path.stem != "hydra-sleeve" else ():  # rolled up: its rows lie round about
                what = message["what"]
                assert isinstance(what, Members)
                for node, (_, normal) in enumerate(kept[piece.name].places):
                    if piece.kind[node] < 0 or names.group_name(node) != what.group:
                        continue
                    right = normal[0] * normal[2] < 0  # what is nearest to the eye lies to the right
                    assert right is (names.spot(node)[0] % 2 == 0), (path.stem, piece.name, node)
                    seen += 1
    assert seen > 900
