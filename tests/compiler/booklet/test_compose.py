"""The booklet as a whole: page numbers, contents, counts, steps, and the same bytes for the same text."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest
from pattern_books import (
    EARRING,
    HEAD,
    KIT,
    SHEET,
    STRESS,
    Boxes,
    cells,
    document_of,
    groups,
    leaves,
    pdf_text,
    text_of,
    weave_of,
)

from compiler.booklet.compose import CONTENTS_FROM, Options, compose
from compiler.booklet.figuretypes import NO_FIGURES
from compiler.booklet.fonts import text_width
from compiler.booklet.page import Anchor, Document, Group, Link, Rectangle, Role, Text
from compiler.booklet.style import Paper, frame
from compiler.booklet.typeset import typeset
from compiler.kit import quantities
from compiler.word.words import word

FULL = HEAD + KIT + EARRING
LONG = HEAD + SHEET + EARRING
TEXTS = {
    "earring": FULL,
    "two pieces": LONG,
    "stress": STRESS,
    "bare": 'title "Vela"\n' + HEAD[HEAD.index("ring large") :] + EARRING,
}
PAPERS = pytest.mark.parametrize("paper", list(Paper), ids=lambda paper: paper.name)


@PAPERS
@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_every_page_but_the_cover_says_page_n_of_m(text: str, paper: Paper) -> None:
    pages = pdf_text(document_of(text, paper=paper))
    assert "Page 1 of" not in pages[0]
    for number, page in enumerate(pages[1:], start=2):
        assert page.endswith(f"Page {number} of {len(pages)}"), number


@PAPERS
@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_nothing_stands_outside_the_text_area(text: str, paper: Paper) -> None:
    area = frame(paper)
    for page in document_of(text, Boxes(), paper).pages:
        feet = [item for item in page.items if isinstance(item, Group) and "Page " in text_of(item)]
        for item in leaves(tuple(each for each in page.items if each not in feet)):
            if isinstance(item, Text):
                right = item.x + text_width(item.string, item.face, item.size, item.tracking)
                assert area.x - 0.1 <= item.x <= right <= area.x + area.width + 0.1, item.string
                assert area.y <= item.y <= area.bottom, item.string
            if isinstance(item, Rectangle):
                assert item.y + item.height <= area.bottom + 0.1


def test_every_step_number_is_on_a_page() -> None:
    weave = weave_of(LONG)
    words = word(weave)
    assert len(words.pieces[0].shown) < len(words.pieces[0].steps)  # some are folded
    document = compose(weave, words, NO_FIGURES, Options())
    printed = pdf_text(document)
    for index, piece in enumerate(words.pieces, start=1):
        numbers = set(re.findall(r"\d+", " ".join(printed[page] for page in pages_of_piece(document, index))))
        assert {str(step.number) for step in piece.steps} <= numbers


def pages_of_piece(document: Document, index: int) -> list[int]:
    """The pages from a piece's title up to the next section's, each as its index."""
    found: list[int] = []
    inside = False
    for number, page in enumerate(document.pages):
        names = [item.name for item in page.items if isinstance(item, Anchor)]
        sections = [name for name in names if "-step-" not in name]
        inside = f"piece-{index}" in sections if sections else inside
        found += [number] if inside else []
    return found


def test_counts_of_the_materials_table_are_those_of_the_weave() -> None:
    weave = weave_of(FULL)
    sums = quantities(weave)
    document = compose(weave, word(weave), NO_FIGURES, Options())
    rows = {row[0]: row for page in document.pages for row in cells(page) if len(row) == 11}
    for ring in sums.rings:
        row = rows[f"{ring.kind.plural[0].upper()}{ring.kind.plural[1:]}"]
        nodes = [
            sum(weave.ring_kinds[k] is ring.kind for k in piece.kind if k >= 0) for piece in weave.pieces
        ]
        needed = sum(count * piece.times for count, piece in zip(nodes, weave.pieces, strict=True))
        assert row[7:] == [str(nodes[0]), str(needed), str(ring.packed), str(ring.packed - needed)]
    text = " ".join(pdf_text(document))
    for ring in sums.rings:
        assert f"{ring.kind.plural[1:]} {ring.kind.inner_mm} mm {ring.kind.wire_mm} mm" in text


def test_the_last_tally_is_the_whole_piece() -> None:
    text = " ".join(pdf_text(document_of(FULL)))
    tallies = re.findall(r"(?:In the work now|Laid out, not joined yet): ([^.;]*)[.;]", text)
    assert tallies[-1] == "12 large rings, 2 small rings, 1 ear wire and 2 glass drops"


def test_opened_and_closed_rings_are_all_rings() -> None:
    before = next(page for page in pdf_text(document_of(FULL)) if page.startswith("Before you start"))
    assert "Open 20 large rings 4 small rings Close 4 large rings Lay out 2 ear wires 4 glass drops" in before


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_the_contents_list_gives_the_pages_on_which_the_sections_begin(text: str) -> None:
    document = document_of(text)
    assert len(document.pages) > CONTENTS_FROM
    links = [item for page in document.pages for item in page.items if isinstance(item, Link)]
    said = [
        text_of(group)
        for page in document.pages
        if any(isinstance(item, Link) for item in page.items)
        for group in groups(page.items, Role.PARAGRAPH)
    ]
    lines = said[-len(links) :]
    where = {
        item.name: number
        for number, page in enumerate(document.pages, start=1)
        for item in page.items
        if isinstance(item, Anchor)
    }
    assert len(links) == len(lines) > 8
    for link, line in zip(links, lines, strict=True):
        assert line.endswith(str(where[link.anchor]))


def test_a_short_booklet_has_no_contents_list() -> None:
    short = 'title "Vela"\nring link: inner 5 mm, wire 1 mm, metal niobium\npiece charm:\n    take 1 link\n'
    pages = pdf_text(document_of(short))
    assert len(pages) < CONTENTS_FROM
    assert not any(page.startswith("Contents") for page in pages)


def test_the_outline_has_every_section_and_every_step() -> None:
    reader = pypdf.PdfReader(io.BytesIO(typeset(document_of(FULL))))
    titles = []
    for entry in reader.outline:
        titles += [part.title for part in entry] if isinstance(entry, list) else [entry.title]
    assert titles == [
        "Cover",
        "At a glance",
        "Materials",
        "True size",
        "Before you start",
        "Earring, made twice",
        "1. Pair 1",
        "2. Pair 2",
        "3–6. Pairs 3 to 6",
        "7. Hang the drops",
        "8. Hang the ear wire",
        "Finishing",
        "Cautions",
        "Words used",
        "This edition",
    ]


def test_cautions_are_those_of_the_metals_in_use() -> None:
    text = " ".join(pdf_text(document_of(FULL)))
    assert "Some grades of brass release nickel" in text
    assert "Brass and sterling silver will darken in air" in text
    assert "Ear wires Wear clean ear wires" in text
    plain = 'title "Vela"\nring link: inner 5 mm, wire 1 mm, metal niobium\npiece charm:\n    take 1 link\n'
    text = " ".join(pdf_text(document_of(plain)))
    assert "release nickel" not in text
    assert "darken" not in text
    assert "Ear wires" not in text
    assert "children under three" in text


def test_metadata_name_title_and_designer() -> None:
    document = document_of(FULL)
    assert (document.title, document.author, document.language) == ("Corvus earrings", "Tamsin Orrell", "en")
    assert document.created is None


_PRINT_HASH = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from pattern_books import EARRING, HEAD, KIT, SHEET, document_of
from compiler.booklet.typeset import typeset
print(hashlib.sha256(typeset(document_of(HEAD + KIT + SHEET + EARRING))).hexdigest())
"""


def test_the_same_text_gives_the_same_bytes_whatever_the_hash_seed() -> None:
    found = set()
    for seed in ("0", "1", "4242"):
        run = subprocess.run(
            [sys.executable, "-c", _PRINT_HASH, str(Path(__file__).parent)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        )
        found.add(run.stdout)
    assert len(found) == 1
