"""`annulet catalogue`: index, figures, measured slack and the PDF of a folder, written and compared."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest

from compiler.library.fitted import read_table

CHAIN = """\
title "Vela | chain"
by "Tamsin Orrell"
licence "CC-BY-4.0"
version "1.0.0"
level "beginner"

ring link: inner 4 mm, wire 1 mm, metal copper

piece chain made 2 times:
    line body of 4:
        pass 1 link through the one before
"""
UNITS = """\
title "Chains"
by "Tamsin Orrell"
licence "CC-BY-4.0"
version "1.0.0"

ring link: inner 4 mm, wire 1 mm, metal copper

unit two-in-two(repeats = 4):
    line body of repeats:
        pass 2 link through the one before
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    found = tmp_path / "pieces"
    (found / "units").mkdir(parents=True)
    (found / "vela.annulet").write_text(CHAIN)
    (found / "units" / "chains.annulet").write_text(UNITS)
    return found


def test_the_index_has_counts_ratios_level_licence_and_a_figure(run: Callable, folder: Path) -> None:
    assert run("catalogue", "pieces").code == 0
    text = (folder / "README.md").read_text(encoding="utf-8")
    assert "1 patterns" not in text
    row = next(line for line in text.splitlines() if "vela.annulet" in line)
    for part in (
        r"[Vela \| chain](vela.annulet)",
        "beginner · by Tamsin Orrell · version 1.0.0 · CC-BY-4.0",
        "Chain, made 2 times",
        "4 links, 4 × 1 mm",
        "| 4.00 | – | – |",
        "figures/vela-chain.svg",
        "schematic",
    ):
        assert part in row
    assert "8 links, 4 × 1 mm" in next(line for line in text.splitlines() if "| `two-in-two`" in line)
    assert (folder / "figures" / "vela-chain.svg").exists()


def test_check_tells_what_is_stale_and_writes_nothing(run: Callable, folder: Path) -> None:
    told = run("catalogue", "pieces", "--check")
    assert (told.code, "README.md is not up to date" in told.err) == (1, True)
    assert not (folder / "README.md").exists()
    run("catalogue", "pieces")
    assert run("catalogue", "pieces", "--check") == (0, "", "")
    (folder / "vela.annulet").write_text(CHAIN.replace("of 4", "of 5"))
    told = run("catalogue", "pieces", "--check")
    assert told.code == 1
    assert "README.md is" in told.err
    assert "figures/vela-chain.svg is" in told.err
    assert "units" not in told.err


def test_a_figure_that_nothing_shows_any_more_goes_and_other_files_stay(run: Callable, folder: Path) -> None:
    run("catalogue", "pieces")
    (folder / "figures" / "own.svg").write_text("<svg/>")
    (folder / "vela.annulet").rename(folder / "lyra.annulet")
    assert run("catalogue", "pieces", "--check").code == 1
    assert run("catalogue", "pieces").code == 0
    names = sorted(path.name for path in (folder / "figures").iterdir())
    assert names == ["chains-two-in-two.svg", "lyra-chain.svg", "own.svg"]


def test_a_page_of_ones_own_is_not_written_over(run: Callable, folder: Path) -> None:
    (folder / "README.md").write_text("# Mine\n")
    told = run("catalogue", "pieces")
    assert (told.code, "Move it away" in told.err) == (2, True)
    assert (folder / "README.md").read_text() == "# Mine\n"


def test_a_pattern_with_errors_is_named(run: Callable, folder: Path) -> None:
    (folder / "vela.annulet").write_text(CHAIN.replace("the one before", "nothing"))
    told = run("catalogue", "pieces")
    assert (told.code, "pieces/vela.annulet has errors" in told.err) == (2, True)


def test_measured_slack_is_kept_for_what_is_proved(run: Callable, folder: Path) -> None:
    run("settle", "pieces/vela.annulet")
    assert run("catalogue", "pieces", "--measure").code == 0
    (row,) = read_table((folder / "fit.tsv").read_text()).values()
    assert (row.pattern, row.piece) == ("vela.annulet", "chain")
    assert 1 < row.slack < 4
    text = (folder / "README.md").read_text(encoding="utf-8")
    assert f"| {row.slack} |" in text
    told = run("catalogue", "pieces", "--measure")
    assert "measuring" not in told.err


def test_the_catalogue_has_every_title_and_is_the_same_each_time(run: Callable, folder: Path) -> None:
    for name in ("a.pdf", "b.pdf"):
        assert run("catalogue", "pieces", "-o", name).code == 0
    data = (folder.parent / "a.pdf").read_bytes()
    assert data == (folder.parent / "b.pdf").read_bytes()
    pages = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
    assert len(pages) == 4
    for title in ("Vela | chain", "Chains"):
        assert title in pages[1]
    assert "Vela | chain" in pages[2]
    assert "Two in two" in pages[3]
