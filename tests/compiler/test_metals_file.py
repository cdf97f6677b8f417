"""Metals of one's own: what is added, what is replaced, what is told."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.metals_file import DEFAULT_TOLERANCE, load_metals
from notation.metals import METALS, Basis, Caution, Metal, find_metal
from notation.source import Source

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
