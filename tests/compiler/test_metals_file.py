"""Metals of one's own: what is added, what is replaced, what is told."""

import json
import math
import re
from decimal import Decimal
from pathlib import Path

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.metals_file import DEFAULT_TOLERANCE, load_metals
from notation.metals import HEAVIEST, LIGHTEST, METALS, Basis, Caution, Metal, find_metal
from notation.source import Source

PAGE = Path(__file__).parents[2] / "notation" / "metals.md"
RED_BRASS = "  red-brass:\n    title: red brass\n    density: 8.75\n    source: scales, Lyra class\n"


def told(text: str) -> list[tuple[int, int, str]]:
    _, problems = load_metals(Source(name="own.yaml", text=text))
    return [(problem.line, problem.column, problem.message) for problem in problems]


def test_a_metal_needs_only_title_density_and_source() -> None:
    metals, problems = load_metals(Source(name="own.yaml", text="metals:\n" + RED_BRASS))
    assert problems == ()
    assert list(metals) == [*METALS, "red-brass"]
    assert metals["red-brass"] == Metal(
        name="red-brass",
        title="red brass",
        density=Decimal("8.75"),
        tolerance=DEFAULT_TOLERANCE,
        basis=Basis.TABULATED,
        source="scales, Lyra class",
        cautions=(),
        aliases=(),
    )


def test_every_field_can_be_given() -> None:
    text = (
        "metals:\n" + RED_BRASS + "    tolerance: 0.01\n    basis: memory\n"
        "    cautions: [tarnishes, stains-skin, tarnishes]\n    aliases: [gilding-metal, tombac]\n"
    )
    metals, problems = load_metals(Source(name="own.yaml", text=text))
    assert problems == ()
    metal = metals["red-brass"]
    assert (metal.tolerance, metal.basis) == (Decimal("0.01"), Basis.MEMORY)
    assert metal.cautions == (Caution.TARNISHES, Caution.STAINS_SKIN)
    assert find_metal("tombac", metals) is metal


def test_a_metal_of_a_built_in_name_takes_its_place_and_its_aliases_are_free() -> None:
    text = (
        "metals:\n  aluminium:\n    title: my aluminium\n    density: 2.68\n    source: scales\n"
        "  aluminum:\n    title: its aluminum\n    density: 2.71\n    source: scales\n"
    )
    metals, problems = load_metals(Source(name="own.yaml", text=text))
    assert problems == ()
    assert list(metals) == [*METALS, "aluminum"]
    assert metals["aluminium"].title == "my aluminium"
    assert find_metal("aluminum", metals) is metals["aluminum"]
    assert METALS["aluminium"].title == "aluminium"


def test_a_metal_with_a_problem_is_left_out_and_the_others_are_there() -> None:
    text = "metals:\n  bad:\n    title: bad\n    density: heavy\n    source: none\n" + RED_BRASS
    metals, problems = load_metals(Source(name="own.yaml", text=text))
    assert [problem.line for problem in problems] == [4]
    assert list(metals) == [*METALS, "red-brass"]


@pytest.mark.parametrize(
    ("added", "line", "column", "message"),
    [
        ("    densty: 1\n", 6, 5, "`densty` is not known here; did you mean `density`?"),
        ("    tolerance: 2\n", 6, 16, "`2` is not from 0 to 0.5 (0.02 is 2 %)"),
        ("    basis: guess\n", 6, 12, "`guess` is not known here; it is one of tabulated, computed, memory"),
        (
            "    cautions: [release-nickel]\n",
            6,
            16,
            "`release-nickel` is not known here; did you mean `releases-nickel`?",
        ),
        ("    cautions: tarnishes\n", 6, 15, "a list is expected here: `[one, two]`"),
        ("    aliases: [copper]\n", 6, 15, "`copper` already means `copper`"),
        ("    aliases: [red-brass]\n", 6, 15, "`red-brass` already means `red-brass`"),
        ("    aliases: [sterling]\n", 6, 15, "`sterling` already means `sterling-silver`"),
        ("    aliases: [x, x]\n", 6, 18, "`x` already means `red-brass`"),
    ],
)
def test_a_field_that_cannot_be_taken_is_told_where_it_stands(
    added: str, line: int, column: int, message: str
) -> None:
    assert told("metals:\n" + RED_BRASS + added) == [(line, column, message)]


@pytest.mark.parametrize("name", ["Red", "red-", "red-9", "9k", "red brass", "rød", "-red", "red--brass"])
def test_a_name_that_a_pattern_cannot_write_is_told(name: str) -> None:
    ((line, column, message),) = told("metals:\n" + RED_BRASS.replace("red-brass", f"'{name}'"))
    assert (line, column) == (2, 3)
    assert message.startswith(f"`{name}` is no name for a pattern: ")


@pytest.mark.parametrize("density", ["8750", "0", "-8.75", "25.1"])
def test_a_density_in_another_unit_is_told(density: str) -> None:
    expected = f"`{density}` is not from 0.5 to 25 g/cm3 (1000 kg/m3 is 1)"
    assert told("metals:\n" + RED_BRASS.replace("8.75", density)) == [(4, 14, expected)]


def test_missing_fields_are_told_at_the_metal() -> None:
    assert told("metals:\n  red-brass:\n    title: red brass\n") == [
        (3, 5, "`density` is missing here"),
        (3, 5, "`source` is missing here"),
    ]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "there is nothing in the file"),
        ("[]", "a mapping is expected here: `key: value`"),
        ("metal: {}\n", "`metal` is not known here; did you mean `metals`?"),
        ("metals: []\n", "a mapping is expected here: `key: value`"),
        ("metals: {red: 1}\n", "a mapping is expected here: `key: value`"),
        ("metals: {a: *b}\n", "`*b` repeats another part; write it out here"),
    ],
)
def test_a_file_of_another_shape_is_told_and_the_built_in_metals_stay(text: str, message: str) -> None:
    metals, problems = load_metals(Source(name="own.yaml", text=text))
    assert problems[0].message == message
    assert metals == METALS


FIELDS = ("title", "density", "tolerance", "basis", "source", "cautions", "aliases", "colour")
VALUES = (
    "",
    "8.9",
    "copper",
    "tarnishes",
    "memory",
    "[]",
    "[a, a]",
    "[[a]]",
    "{}",
    "{a: 1}",
    "'\\'",
    '"\\x07"',
    "-1",
    "~",
)


@given(st.dictionaries(st.sampled_from(FIELDS), st.sampled_from(VALUES)))
def test_any_fields_give_a_metal_or_problems(fields: dict[str, str]) -> None:
    text = "metals: {own: {" + ", ".join(f"{key}: {value}" for key, value in fields.items()) + "}}\n"
    metals, problems = load_metals(Source(name="own.yaml", text=text))
    assert ("own" in metals) == (not problems)


OWN = """\
metals:
  red-brass:
    title: red brass
    density: 8.75
    source: scales, Lyra class
    cautions: [tarnishes]
    aliases: [tombac]
"""
PATTERN = """\
title "Vela"
ring link: inner 4 mm, wire 1 mm, metal tombac
let places = 4
piece chain:
    line up of places:
        pass 1 link through the one before
variant other:
    ring link: inner 5 mm, wire 1 mm, metal red-brass
"""
STOCK = """\
currency: EUR
rings:
  - {inner: 4 mm, wire: 1 mm, metal: tombac, pack: 100, price: 4.50}
"""


def test_every_command_takes_metals_of_ones_own(run) -> None:
    for name, text in (("v.annulet", PATTERN), ("own.yaml", OWN), ("stock.yaml", STOCK)):
        Path(name).write_text(text, "utf-8")
    own = ("v.annulet", "--metals", "own.yaml")
    assert "unknown-metal" in run("check", "v.annulet").err
    assert run("check", *own, "--strict").code == 0
    assert run("check", *own, "--variant", "other", "--set", "places=5").code == 0
    assert run("check", *own, "--ring", "link=4mm/1mm,red-brass").code == 0
    export = json.loads(run("export", *own).out)
    assert {ring["metal"] for ring in export["pieces"][0]["rings"]} == {"red-brass"}
    assert run("steps", *own).code == 0
    kit = json.loads(run("kit", *own, "--stock", "stock.yaml", "--json", "--sheet", "s.pdf").out)
    # 4 rings and 2 spare; pi^2 / 4 x 5 mm x 1 mm2 x 8.75 mg/mm3 each
    grams = 6 * math.pi**2 / 4 * 5 * 8.75 / 1000
    assert {name: float(mass) for name, mass in kit["kit_mass_g"].items()} == {
        "red-brass": pytest.approx(grams, abs=5e-4)
    }
    assert kit["missing"] == []
    assert run("build", *own, "--schematic", "-o", "v.pdf").code == 0
    text = " ".join(page.extract_text() for page in pypdf.PdfReader("v.pdf").pages)
    assert "red brass" in text
    assert "8.75" in text
    assert "red brass" in pypdf.PdfReader("s.pdf").pages[0].extract_text()
    for words in (("settle",), ("fit",), ("figure", "-o", "v.svg")):
        assert run(words[0], *own, *words[1:]).code == 0
    assert "red-brass" in run("metals", "--metals", "own.yaml").out


def test_a_file_of_metals_with_a_mistake_stops_everything(run) -> None:
    Path("v.annulet").write_text(PATTERN, "utf-8")
    Path("own.yaml").write_text(OWN.replace("8.75", "heavy"), "utf-8")
    ran = run("check", "v.annulet", "--metals", "own.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert "own.yaml:4:14: " in ran.err


def test_the_page_has_a_file_that_is_taken_and_hardness_by_its_formula() -> None:
    (example,) = re.findall(r"^```yaml\n(.*?)^```$", PAGE.read_text("utf-8"), re.MULTILINE | re.DOTALL)
    metals, problems = load_metals(Source(name="page.yaml", text=example))
    assert problems == ()
    assert "red-brass" in metals
    text = PAGE.read_text("utf-8")
    assert f"{LIGHTEST} to {HEAVIEST}" in text
    assert all(f"`{caution.value}`" in text for caution in Caution)
    rows = re.findall(r"^\| [a-z -]+ \| (\d+) \| ([\d.]+) % \|$", text, re.MULTILINE)
    assert len(rows) == 8
    for number, percent in rows:
        assert float(percent) == pytest.approx(100 * (1 - 92 ** (-int(number) / 39)), abs=0.05)
