"""From the printed words alone every weave of the library comes back: text of the PDF to sentences, motions, links."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from read_english import Reader
from read_page import PrintedStep, pieces

from compiler.booklet.compose import Options, compose
from compiler.booklet.figuretypes import NO_FIGURES
from compiler.booklet.typeset import typeset
from compiler.pipeline import checked
from compiler.timings import Timings
from compiler.weave import Weave
from compiler.word.words import word

PATTERNS = Path(__file__).parent.parent.parent / "patterns"
FILES = sorted(PATTERNS.rglob("*.annulet"))


def printed(weave: Weave) -> list[str]:
    """What another program reads on the pages of the booklet; figures have no part in it."""
    data = typeset(compose(weave, word(weave), NO_FIGURES, Options()))
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]


Links = set[tuple[int, int]]


def read(weave: Weave, told: list[list[PrintedStep]]) -> list[tuple[int, Links]]:
    """How many nodes each piece has, and which are linked, as the words say."""
    eyes = {kind.singular: tuple(eye.name for eye in kind.eyes) for kind in weave.finding_kinds}
    out = []
    for steps in told:
        reader = Reader(eyes)
        for step in steps:
            reader.step(step)
        out.append((reader.nodes, reader.links))
    return out


def meant(weave: Weave) -> list[tuple[int, Links]]:
    return [
        (len(piece), {(min(a, b), max(a, b)) for a, b in zip(piece.link_a, piece.link_b, strict=True)})
        for piece in weave.pieces
    ]


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_the_links_come_back_from_the_printed_words(path: Path) -> None:
    weave = checked(str(path), PATTERNS, Timings()).weave
    assert weave is not None
    assert read(weave, pieces(printed(weave))) == meant(weave)


def other(weave: Weave, steps: list[PrintedStep]) -> bool:
    """Whether the words make another weave, or none."""
    try:
        return read(weave, [steps]) != meant(weave)
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
