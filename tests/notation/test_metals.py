"""Metals: densities against element tables, recipes and printed figures; the table against its YAML file."""

import re
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import periodictable
import pytest
from msgspec.structs import replace

import notation.metals
from compiler.metals_file import take_metals
from compiler.yamlread import YamlTaker, read_yaml_bytes
from notation.metals import HEAVIEST, LIGHTEST, METALS, UNCLEAR, Basis, Caution, find_metal, table_text
from notation.metals_table import ROWS, UNCLEAR_ROWS

HERE = Path(notation.metals.__file__)
NAME = re.compile(r"[a-z][a-z0-9_]*(-[a-z][a-z0-9_]*)*")

# Recipes in parts by mass, as the sources in metals.yaml state them.
RECIPES = {
    "fine-silver": {"Ag": 1000},
    "sterling-silver": {"Ag": 925, "Cu": 75},
    "germanium-sterling": {"Ag": 925, "Ge": 12, "Cu": 63},
    "yellow-gold9k": {"Au": 375, "Ag": 100, "Cu": 450, "Zn": 75},
    "yellow-gold14k": {"Au": 583, "Ag": 104, "Cu": 313},
    "yellow-gold18k": {"Au": 750, "Ag": 125, "Cu": 125},
}

# Alloys in which the atoms pack closer than in an ideal mixture. Nominal compositions of the standards named.
NEVER_MIXED = {
    "brass-cuzn30": {"Cu": 70, "Zn": 30},  # C26000
    "brass-cuzn37": {"Cu": 63, "Zn": 37},  # CZ108
    "nickel-silver": {"Cu": 62, "Ni": 18, "Zn": 20},  # C75200
    "stainless304": {"Fe": 72, "Cr": 19, "Ni": 9},  # 304, the small additions left out
}


def element_density(symbol: str) -> float:
    """g/cm3 in the tables of periodictable."""
    return float(getattr(periodictable, symbol).density)


def ideal_mixture(parts: dict[str, int]) -> float:
    """Density of a mixture whose volumes add: total mass over the sum of mass / density, g/cm3."""
    return sum(parts.values()) / sum(mass / element_density(symbol) for symbol, mass in parts.items())


@pytest.mark.parametrize(
    ("name", "symbol"), [("aluminium", "Al"), ("copper", "Cu"), ("fine-silver", "Ag"), ("niobium", "Nb")]
)
def test_pure_metals_have_the_density_of_their_element_within_half_a_per_cent(name: str, symbol: str) -> None:
    assert float(METALS[name].density) == pytest.approx(element_density(symbol), rel=0.005)


def test_titanium_agrees_within_one_per_cent_as_the_tables_themselves_differ() -> None:
    # 4.506 in mendeleev and xraydb, 4.54 in periodictable and PNNL-15870.
    assert float(METALS["titanium"].density) == pytest.approx(element_density("Ti"), rel=0.01)
    assert float(METALS["titanium"].density) == pytest.approx(4.506, rel=0.002)


@pytest.mark.parametrize("name", sorted(RECIPES))
def test_silver_and_gold_alloys_follow_the_mixture_rule(name: str) -> None:
    assert float(METALS[name].density) == pytest.approx(ideal_mixture(RECIPES[name]), rel=0.001)


@pytest.mark.parametrize("name", sorted(NEVER_MIXED))
def test_the_mixture_rule_is_too_low_for_brass_nickel_silver_and_steel(name: str) -> None:
    low = 1 - ideal_mixture(NEVER_MIXED[name]) / float(METALS[name].density)
    assert 0.02 < low < 0.035
    assert METALS[name].basis is not Basis.COMPUTED


def test_the_mixture_rule_gives_the_printed_example_of_14_carat_gold() -> None:
    # A worked example in print: 583 gold at 19.32, 104 silver at 10.49, 313 copper at 8.96 make 13.33.
    density = 1000 / (583 / 19.32 + 104 / 10.49 + 313 / 8.96)
    assert density == pytest.approx(13.33, abs=0.005)
    assert float(METALS["yellow-gold14k"].density) == pytest.approx(13.33, rel=0.001)


def test_gold_filled_is_a_twentieth_of_14_carat_gold_on_brass() -> None:
    # The twentieth by mass: guide of the US Federal Trade Commission. 13.07: a printed table of the trade.
    brass = float(METALS["brass-cuzn30"].density)
    assert float(METALS["gold-filled"].density) == pytest.approx(1 / (0.05 / 13.07 + 0.95 / brass), rel=0.001)


# Figures of other publications than the one the density was taken from; each lies within our tolerance.
@pytest.mark.parametrize(
    ("name", "published"),
    [
        ("aluminium", "2.66"),  # PNNL-15870, 5086
        ("aluminium", "2.73"),  # PNNL-15870, 3003
        ("copper", "8.89"),  # International Annealed Copper Standard
        ("brass", "8.53"),  # AZoM, C26000
        ("brass", "8.39"),  # Copper Development Association, C28000
        ("brass", "8.40"),  # EN 12524, brass
        ("brass-cuzn30", "8.50"),  # GOST 15527, L68
        ("phosphor-bronze", "8.78"),  # lower end in general density tables
        ("phosphor-bronze", "8.92"),  # upper end in general density tables
        ("nickel-silver", "8.75"),  # data sheet of CuNi18Zn19Pb1
        ("sterling-silver", "10.40"),  # table of the trade
        ("yellow-gold14k", "13.07"),  # table of the trade, an alloy with zinc
        ("yellow-gold18k", "15.58"),  # table of the trade
        ("stainless304", "7.90"),  # EN 12524, austenitic stainless steel
        ("stainless304", "8.03"),  # PNNL-15870 revision 2
        ("stainless316", "7.90"),  # EN 12524, austenitic stainless steel
        ("silicone-rubber", "1.12"),  # quoted by PNNL-15870
    ],
)
def test_other_published_figures_lie_within_the_tolerance(name: str, published: str) -> None:
    metal = METALS[name]
    assert abs(Decimal(published) - metal.density) <= metal.density * metal.tolerance


def test_the_tolerance_of_brass_leaves_out_the_known_outlier() -> None:
    # PNNL-15870 "typical" brass, 8.07, agrees with no measured brass.
    brass = METALS["brass"]
    assert abs(Decimal("8.07") - brass.density) > brass.density * brass.tolerance


def test_every_name_alias_and_unclear_word_can_be_written_in_a_pattern_and_means_one_thing() -> None:
    words = [word for metal in METALS.values() for word in (metal.name, *metal.aliases)] + list(UNCLEAR)
    assert all(NAME.fullmatch(word) for word in words)
    assert len(words) == len(set(words))


def test_densities_and_tolerances_lie_within_bounds_and_sources_are_given() -> None:
    for metal in METALS.values():
        assert LIGHTEST <= metal.density <= HEAVIEST
        assert 0 < metal.tolerance <= Decimal("0.15")
        assert metal.title
        assert len(metal.source) > 20


def test_what_was_not_looked_up_says_so_and_nothing_else_does_so_silently() -> None:
    for metal in METALS.values():
        if metal.basis is Basis.MEMORY:
            assert "from memory" in metal.source


def test_every_caution_is_in_use() -> None:
    assert {caution for metal in METALS.values() for caution in metal.cautions} == set(Caution)


def test_nickel_is_cautioned_where_it_is_in_the_recipe() -> None:
    assert Caution.RELEASES_NICKEL in METALS["nickel-silver"].cautions
    for name in ("stainless-steel", "stainless304", "stainless316"):
        assert Caution.MAY_RELEASE_NICKEL in METALS[name].cautions


def test_a_metal_is_found_by_name_or_alias() -> None:
    assert find_metal("aluminium") is METALS["aluminium"]
    assert find_metal("aluminum") is METALS["aluminium"]
    assert find_metal("silver") is None


def test_unclear_words_name_at_least_two_materials_that_exist() -> None:
    for choices in UNCLEAR.values():
        assert len(choices) >= 2
        assert all(choice in METALS for choice in choices)


def test_the_generated_table_is_current() -> None:
    text = table_text(HERE.with_name("metals.yaml").read_text(encoding="utf-8"))
    assert HERE.with_name("metals_table.py").read_text(encoding="utf-8") == text, (
        "run python -m notation.metals"
    )


def test_the_strict_reader_takes_the_yaml_file_and_finds_the_same_metals() -> None:
    source, root, problems = read_yaml_bytes("metals.yaml", HERE.with_name("metals.yaml").read_bytes())
    assert problems == ()
    taker = YamlTaker(source)
    parts = taker.mapping(root, ("metals", "unclear"))
    assert parts is not None
    assert take_metals(taker, parts["metals"], {}) == dict(METALS)
    assert taker.problems == ()


def test_quotes_and_backslashes_in_the_yaml_text_survive_in_the_table() -> None:
    yaml_text = (
        "metals:\n  a:\n    title: 'x \" \\ y'\n    density: 1.0\n    tolerance: 0.1\n    basis: memory\n"
        "    source: s\n    cautions: []\n    aliases: [b]\nunclear:\n  c: [a]\n"
    )
    namespace: dict[str, object] = {}
    exec(table_text(yaml_text), namespace)
    assert namespace["ROWS"] == (("a", 'x " \\ y', "1.0", "0.1", "memory", "s", (), ("b",)),)
    assert namespace["UNCLEAR_ROWS"] == (("c", ("a",)),)


def test_importing_the_metals_needs_no_yaml() -> None:
    code = "import sys, notation.metals; sys.exit('yaml' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def row_of_source(words: str) -> str:
    """The lines of the table that hold a source."""
    fields = f"    title: t\n    density: 1.0\n    tolerance: 0.1\n    basis: memory\n    source: {words}\n"
    text = table_text(f"metals:\n  a:\n{fields}    cautions: []\n    aliases: []\nunclear: {{}}\n")
    return text.partition('"memory",\n')[2].partition("        (),")[0]


def test_a_source_goes_over_several_lines_of_the_table_when_it_is_long() -> None:
    assert row_of_source("x" * 99) == f'        "{"x" * 99}",\n'
    assert row_of_source("x" * 49 + " " + "y" * 49) == f'        "{"x" * 49} {"y" * 49}",\n'
    assert row_of_source("x" * 50 + " " + "y" * 49) == f'        "{"x" * 50} "\n        "{"y" * 49}",\n'
    assert row_of_source("x" * 45 + " " + "y" * 44 + " " + "z" * 20) == (
        f'        "{"x" * 45} {"y" * 44} "\n        "{"z" * 20}",\n'
    )
    assert row_of_source("x" * 45 + " " + "y" * 45 + " " + "z" * 20) == (
        f'        "{"x" * 45} "\n        "{"y" * 45} {"z" * 20}",\n'
    )


def test_a_source_is_broken_at_spaces_only() -> None:
    assert row_of_source("x-" * 60) == f'        "{"x-" * 60}",\n'


def test_the_program_writes_the_table_beside_the_file_it_reads(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "metals.yaml").write_bytes(HERE.with_name("metals.yaml").read_bytes())
    monkeypatch.setattr(notation.metals, "__file__", str(tmp_path / "metals.py"))
    assert notation.metals.main() == 0
    assert (tmp_path / "metals_table.py").read_bytes() == HERE.with_name("metals_table.py").read_bytes()


def test_a_name_goes_before_an_alias() -> None:
    copper = METALS["copper"]
    named = {"brass": copper, "silver": replace(copper, aliases=("brass", "silver-wire"))}
    assert find_metal("brass", named) is copper
    assert find_metal("silver-wire", named) is named["silver"]
    assert find_metal("gold", named) is None


def test_bounds_of_a_density_are_between_rubber_foam_and_beyond_osmium() -> None:
    assert (Decimal("0.5"), Decimal(25)) == (LIGHTEST, HEAVIEST)


def test_the_values_of_a_metal_are_those_of_its_file() -> None:
    rows = {row[0]: row for row in ROWS}
    assert list(METALS) == list(rows)
    for metal in METALS.values():
        assert rows[metal.name] == (
            *(metal.name, metal.title, str(metal.density), str(metal.tolerance), metal.basis.value),
            *(metal.source, tuple(caution.value for caution in metal.cautions), metal.aliases),
        )
    assert dict(UNCLEAR) == dict(UNCLEAR_ROWS)


def test_the_table_has_its_words_of_introduction() -> None:
    text = HERE.with_name("metals_table.py").read_text(encoding="utf-8")
    assert text.startswith('"""Rows of `metals.yaml`, written by `python -m notation.metals`')
    assert text.endswith(")\n")
