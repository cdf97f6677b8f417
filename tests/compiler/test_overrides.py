"""Other editions of a pattern: what --set and --ring change, what they refuse, what the booklet says."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pypdf
import pytest

UNIT = """\
title "Arms"
ring link: inner 5 mm, wire 1 mm, metal copper
unit arms(arms = 3, long):
    round hub of arms:
        pass 1 link through the one before and the one after
    line arm of long:
        if first:
            pass 1 link through first of hub
        else:
            pass 1 link through the one before
"""
PATTERN = """\
title "Corvus"
by "Tamsin Orrell"
version "1.2.0"
use "arms.annulet" as shared
ring link: inner 5 mm, wire 1 mm, metal copper
ring small: inner 3 mm, wire 0.7 mm, metal brass
unit chain(repeats = 4, twice = 2 * repeats):
    line loop of repeats:
        pass 1 link through the one before
    repeat twice times:
        pass 1 small through last of loop
piece pendant:
    make chain
piece brooch:
    make arms of shared with long = 2
piece fixed:
    make chain with repeats = 2, twice = 1
"""


@pytest.fixture(autouse=True)
def files(tmp_path: Path) -> None:
    (tmp_path / "corvus.annulet").write_text(PATTERN, "utf-8")
    (tmp_path / "arms.annulet").write_text(UNIT, "utf-8")


def totals(run, *words: str) -> dict[str, dict[str, int]]:
    ran = run("export", "corvus.annulet", *words)
    assert ran.code == 0, ran.err
    return {row["kind"]: row["each"] for row in json.loads(ran.out)["materials"]}


def test_as_written(run) -> None:
    assert totals(run) == {
        "link": {"pendant": 4, "brooch": 5, "fixed": 2},
        "small": {"pendant": 8, "brooch": 0, "fixed": 1},
    }


def test_a_setting_is_the_default_of_a_unit_and_what_follows_from_it(run) -> None:
    assert totals(run, "--set", "chain.repeats=6") == {
        "link": {"pendant": 6, "brooch": 5, "fixed": 2},
        "small": {"pendant": 12, "brooch": 0, "fixed": 1},
    }


def test_a_unit_of_a_used_file_is_set_by_its_alias(run) -> None:
    assert totals(run, "--set", "shared.arms.arms=8", "--set", "chain.twice=1") == {
        "link": {"pendant": 4, "brooch": 10, "fixed": 2},
        "small": {"pendant": 1, "brooch": 0, "fixed": 1},
    }


def test_a_setting_to_what_is_written_is_no_mistake(run) -> None:
    assert totals(run, "--set", "chain.repeats=4") == totals(run)


@pytest.mark.parametrize(
    ("word", "part"),
    [
        ("chains.repeats=3", "there is no unit chains in corvus.annulet; perhaps chain is meant"),
        ("arms.arms=3", "a unit of a file that is used is written shared.arms.arms"),
        ("chain.repeat=3", "the unit chain takes no number repeat; perhaps repeats is meant"),
        ("shard.arms.arms=3", "no file is used as shard; perhaps shared is meant"),
        ("shared.arm.arms=3", "there is no unit arm in arms.annulet; perhaps arms is meant"),
        ("shared.arms.long=9", "changes nothing: every use of the unit gives a number of its own"),
        ("chain.repeats=-3", "is not understood"),
        ("chain.repeats=3.5", "is not understood"),
        ("repeats=3", "is called repeats; the unit chain takes it: chain.repeats=3"),
        ("a.b.c.d=3", "is not understood"),
    ],
)
def test_a_setting_that_means_nothing_is_refused(run, word: str, part: str) -> None:
    ran = run("check", "corvus.annulet", "--set", word)
    assert (ran.code, ran.out) == (2, "")
    assert part in ran.err


def test_a_setting_may_be_given_once(run) -> None:
    ran = run("check", "corvus.annulet", "--set", "chain.repeats=3", "--set", "chain.repeats=4")
    assert ran.err == "annulet: --set changes chain.repeats twice.\n"


def test_a_ring_is_moved_to_another_size_and_metal(run) -> None:
    ran = run("export", "corvus.annulet", "--ring", "link=1/4 in/18awg,brass")
    rings = json.loads(ran.out)["pieces"][0]["rings"]
    assert {
        (ring["inner_mm"], ring["wire_mm"], ring["metal"]) for ring in rings if ring["kind"] == "link"
    } == {(6.35, 1.0237, "brass")}
    assert {ring["metal"] for ring in rings if ring["kind"] == "small"} == {"brass"}
    ran = run("kit", "corvus.annulet", "--ring", "link=6mm/1.2mm", "--json")
    line = json.loads(ran.out)["lines"][0]
    assert (line["inner_mm"], line["wire_mm"], line["metal"]) == ("6", "1.2", "copper")


def test_the_kit_list_and_the_packing_sheet_say_which_edition_they_are_of(run) -> None:
    words = ("--set", "chain.repeats=6", "--ring", "link=6mm/1.2mm,brass")
    changes = "chain.repeats = 6 · link = 6 mm/1.2 mm, brass"
    ran = run("kit", "corvus.annulet", *words, "--sheet", "s.pdf")
    assert f"\nWith {changes}.\n" in ran.out
    texts = [" ".join(page.extract_text().split()) for page in pypdf.PdfReader("s.pdf").pages]
    assert f"With {changes}." in texts[0]
    assert texts[1].count("chain.repeats = 6") == len(
        json.loads(run("kit", "corvus.annulet", "--json").out)["lines"]
    )
    assert json.loads(run("kit", "corvus.annulet", *words, "--json").out)["changes"] == changes


def test_a_moved_ring_is_checked_for_fit(run) -> None:
    assert run("check", "corvus.annulet").code == 0
    ran = run("check", "corvus.annulet", "--ring", "link=2mm/1mm")
    assert ran.code == 1
    assert "does-not-fit" in ran.err


@pytest.mark.parametrize(
    ("word", "part"),
    [
        ("lnk=5mm/1mm", "there is no ring lnk; perhaps link is meant"),
        ("link=5mm", "is not understood"),
        ("link=5/1mm", "`5` has no unit"),
        ("link=5mm/18ga", "gauge 18 alone could be"),
        ("link=5mm/1mm,coper", "coper is not in the table of metals; perhaps copper is meant"),
        ("link=5mm/1mm,silver", "silver could be several metals: "),
    ],
)
def test_a_ring_that_is_none_is_refused(run, word: str, part: str) -> None:
    ran = run("steps", "corvus.annulet", "--ring", word)
    assert (ran.code, ran.out) == (2, "")
    assert part in ran.err


def test_the_booklet_says_which_edition_it_is(run) -> None:
    words = ("--set", "chain.repeats=6", "--ring", "link=6mm/1.2mm,brass", "--schematic", "-o", "c.pdf")
    assert run("build", "corvus.annulet", *words).code == 0
    reader = pypdf.PdfReader(io.BytesIO(Path("c.pdf").read_bytes()))
    texts = [" ".join(page.extract_text().split()) for page in reader.pages]
    changes = "chain.repeats = 6 · link = 6 mm/1.2 mm, brass"
    assert f"Edition 1.2.0 · With {changes}" in texts[0]
    assert any(f"Edition 1.2.0 Changed {changes}" in text for text in texts[1:])
    assert any("6 mm 1.2 mm" in text and "brass" in text for text in texts)
