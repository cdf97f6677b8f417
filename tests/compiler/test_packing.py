"""The packing sheet: its counts, and outlines as large on paper as the rings are."""

from __future__ import annotations

from pathlib import Path

import pytest
from pattern_books import EARRING, HEAD, KIT, STRESS, cells, groups, leaves, pdf_text, weave_of

from compiler.booklet.page import Circle, Document, Role
from compiler.booklet.style import HAIRLINE, Paper
from compiler.booklet.typeset import typeset
from compiler.kit import quantities, ring_mass_g
from compiler.packing import packing_sheet
from compiler.price import Terms, plan
from notation.metals import METALS

POINTS_A_MM = 72 / 25.4


def sheet_of(text: str, sets: int = 1, paper: Paper = Paper.A4) -> Document:
    weave = weave_of(text)
    return packing_sheet(weave, plan(weave, quantities(weave), None, Terms(sets=sets)), paper, None)


def test_the_pick_list_has_every_count() -> None:
    document = sheet_of(HEAD + KIT + EARRING, 12)
    rows = cells(document.pages[0])
    assert rows[0][3:6] == ["In kit", "Weighs", "For 12 kits"]
    assert [(row[0], row[3], row[5]) for row in rows[1:]] == [
        ("Large rings", "40", "480"),
        ("Small rings", "9", "108"),
        ("Ear wires", "2", "24"),
        ("Glass drops", "5", "60"),
    ]
    large = next(kind for kind in weave_of(HEAD + KIT + EARRING).ring_kinds if kind.name == "large")
    mass = 40 * ring_mass_g(large.inner_mm, large.wire_mm, METALS["brass"].density)
    assert rows[1][4].replace("\N{NO-BREAK SPACE}", " ") == f"{mass:.1f} g"


def test_each_bag_has_a_label_with_its_count() -> None:
    text = pdf_text(sheet_of(HEAD + KIT + EARRING, 12))[1]
    for label in ("40 large rings", "9 small rings", "2 ear wires", "5 glass drops"):
        assert f"{label} " in text
    assert text.count("Corvus earrings") == 4
    assert "12 times, once for each kit, at 100 %" in text


@pytest.mark.parametrize("paper", list(Paper), ids=lambda paper: paper.name)
def test_outlines_have_the_true_diameters(paper: Paper) -> None:
    page = sheet_of(HEAD + KIT + EARRING, paper=paper).pages[1]
    sizes = []
    for figure in groups(page.items, Role.FIGURE):
        circles = [item for item in leaves(figure.items) if isinstance(item, Circle)]
        if circles:
            outer, inner = sorted((circle.radius for circle in circles), reverse=True)
            sizes.append(((2 * outer + HAIRLINE) / POINTS_A_MM, (2 * inner - HAIRLINE) / POINTS_A_MM))
    assert sizes == [pytest.approx((7.4, 5.0), abs=0.011), pytest.approx((4.4, 3.0), abs=0.011)]


def test_long_names_and_many_kinds_are_set_on_more_pages() -> None:
    document = sheet_of(STRESS)
    assert len(document.pages) > 2
    width = Paper.A4.width
    for page in document.pages:
        for item in leaves(page.items):
            assert getattr(item, "x", 0.0) <= width
    assert typeset(document).startswith(b"%PDF-")


def test_the_command_writes_the_sheet_the_same_every_time(run) -> None:
    text = (HEAD + KIT + EARRING).replace("eye 2 mm opens", "eye 3 mm opens")
    Path("corvus.annulet").write_text(text, "utf-8")
    ran = run("kit", "corvus.annulet", "--sets", "3", "--sheet", "a.pdf")
    assert (ran.code, ran.err) == (0, "a.pdf is written\n")
    assert run("kit", "corvus.annulet", "--sets", "3", "--sheet", "b.pdf", "--json").code == 0
    assert Path("a.pdf").read_bytes() == Path("b.pdf").read_bytes()


def test_a_sheet_is_not_written_over_what_is_read(run) -> None:
    text = (HEAD + KIT + EARRING).replace("eye 2 mm opens", "eye 3 mm opens")
    Path("corvus.annulet").write_text(text, "utf-8")
    ran = run("kit", "corvus.annulet", "--sheet", "./corvus.annulet")
    assert ran.code == 2
    assert "must not be written over it" in ran.err
    assert Path("corvus.annulet").read_text("utf-8") == text


def test_a_text_that_the_fonts_lack_is_told(run) -> None:
    text = (HEAD + KIT + EARRING).replace("eye 2 mm opens", "eye 3 mm opens").replace("glass drop", "\u9285")
    Path("corvus.annulet").write_text(text, "utf-8")
    ran = run("kit", "corvus.annulet", "--sheet", "a.pdf")
    assert ran.code == 1
    assert "error[no-glyph]" in ran.err
    assert not Path("a.pdf").exists()
