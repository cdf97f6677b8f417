"""The library: every unit has the rings and links that its formula gives; every pattern is clean, and kept proved."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from library_facts import FACTS, NOT_FOUND, Fact

from compiler.changes import Changes
from compiler.check.run import check
from compiler.cli import main
from compiler.expand.driver import expand
from compiler.layout import kept_beside, kept_path
from compiler.pipeline import checked
from compiler.proved import Origin, from_kept
from compiler.report import severity
from compiler.timings import Timings
from compiler.variants import variants_of
from compiler.weave import PieceWeave, RelationKind, Weave
from grammar.format import format_pattern
from grammar.parse import parse
from notation.diagnostic import Severity
from notation.source import Source

LIBRARY = Path(__file__).parent.parent / "patterns"
PATTERNS = sorted(LIBRARY.rglob("*.annulet"))


def made_alone(fact: Fact) -> tuple[Weave, PieceWeave]:
    """The weave of a text that has the units of the file, and one piece that makes the unit at the fact's sizes."""
    path = LIBRARY / "units" / f"{fact.file}.annulet"
    arguments = ", ".join(f"{key} = {value}" for key, value in fact.sizes.items())
    made = f"make {fact.unit} with {arguments}" if arguments else f"make {fact.unit}"
    text = f"{path.read_text(encoding='utf-8')}\npiece trial:\n    {made}\n"
    pattern, slips = parse(Source(name=str(path), text=text))
    assert slips == ()
    weave, told = expand(pattern, {})
    assert [one for one in (*told, *check(weave)) if severity(one) is Severity.ERROR] == []
    (piece,) = weave.pieces
    return weave, piece


def holds(piece: PieceWeave) -> Counter[int]:
    """By node: with how many it is linked."""
    return Counter([*piece.link_a, *piece.link_b])


@pytest.mark.parametrize("fact", FACTS, ids=[fact.name for fact in FACTS])
def test_rings_links_and_the_most_that_one_holds_are_those_of_the_formula(fact: Fact) -> None:
    weave, piece = made_alone(fact)
    rings = [node for node, kind in enumerate(piece.kind) if kind >= 0]
    assert Counter(weave.ring_kinds[piece.kind[node]].name for node in rings) == fact.rings
    assert len(piece.link_a) == fact.links
    held = holds(piece)
    most = max(held[node] for node in rings)
    assert (most, sum(held[node] == most for node in rings)) == (fact.most, fact.holding_most)
    around = [relation for relation in piece.relations if relation.kind is RelationKind.AROUND]
    assert len({relation.node for relation in around}) == fact.around


@pytest.mark.parametrize("path", PATTERNS, ids=[path.stem for path in PATTERNS])
def test_a_pattern_names_author_licence_and_version_and_is_canonical(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    pattern, slips = parse(Source(name=str(path), text=text))
    assert slips == ()
    assert format_pattern(pattern) == text
    result = checked(str(path), LIBRARY, Timings())
    assert result.weave is not None
    assert result.weave.by
    assert result.weave.version
    assert result.weave.licence == "CC-BY-4.0"


@pytest.mark.parametrize("path", PATTERNS, ids=[path.stem for path in PATTERNS])
def test_a_pattern_checks_without_a_warning_and_its_kept_layout_is_proved(path: Path) -> None:
    result = checked(str(path), LIBRARY, Timings())
    assert [one.rule for one in result.diagnostics if severity(one) is not Severity.ADVICE] == []
    assert result.weave is not None
    found = from_kept(result.weave, kept_path(path), Timings())
    names = [
        result.weave.pieces[geometry.piece].name for geometry in found if geometry.origin is not Origin.KEPT
    ]
    assert set(names) == NOT_FOUND.get(path.stem, set())


@pytest.mark.parametrize("path", PATTERNS, ids=[path.stem for path in PATTERNS])
def test_every_variant_checks_without_a_warning_and_its_layout_is_proved(path: Path) -> None:
    pattern, _ = parse(Source(name=str(path), text=path.read_text(encoding="utf-8")))
    for variant in variants_of(pattern):
        name = variant.name.text
        result = checked(str(path), LIBRARY, Timings(), Changes(variant=name))
        assert [one.rule for one in result.diagnostics if severity(one) is not Severity.ADVICE] == []
        assert result.weave is not None
        found = from_kept(result.weave, kept_beside(str(path), name), Timings())
        assert [one.origin for one in found] == [Origin.KEPT] * len(found)


@pytest.mark.parametrize("path", PATTERNS, ids=[path.stem for path in PATTERNS])
def test_a_number_worked_out_for_a_length_is_the_one_in_the_text(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for found in checked(str(path), LIBRARY, Timings()).lengths:
        assert f"let {found.varying} = {found.repeats}\n" in text
        assert abs(found.length_mm - float(found.wanted.mm)) <= 0.6 * found.pitch_mm


def test_index_and_figures_are_as_the_command_writes_them(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(LIBRARY.parent)
    assert main(["catalogue", "patterns", "--check"]) == 0, "run: annulet catalogue patterns"


def test_what_a_contributor_runs_is_content(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(LIBRARY.parent)
    assert main(["check", "patterns", "--strict"]) == 0
    assert main(["format", "--check", "patterns"]) == 0


def units_of(path: Path) -> set[tuple[str, str]]:
    """The units that a file of weaves has: file and name."""
    return {
        (path.stem, name) for name in re.findall(r"^unit ([\w-]+)", path.read_text("utf-8"), re.MULTILINE)
    }


UNITS = sorted(unit for path in (LIBRARY / "units").glob("*.annulet") for unit in units_of(path))


def test_every_unit_has_counts_that_were_worked_out_apart() -> None:
    assert {(fact.file, fact.unit) for fact in FACTS} == set(UNITS)


def test_every_unit_is_made_by_a_pattern_of_the_library() -> None:
    made = set()
    for path in LIBRARY.glob("*.annulet"):
        text = path.read_text("utf-8")
        files = dict(re.findall(r'^use "units/([\w-]+)\.annulet" as ([\w-]+)', text, re.MULTILINE))
        alias = {short: file for file, short in files.items()}
        made |= {(alias[of], unit) for unit, of in re.findall(r"\bmake ([\w-]+) of ([\w-]+)", text)}
    assert made == set(UNITS)


def test_every_unit_says_how_many_rings_and_links_it_has() -> None:
    """What a unit says of itself is told at once where a slip changes it."""
    silent = []
    for file, unit in UNITS:
        text = (LIBRARY / "units" / f"{file}.annulet").read_text("utf-8")
        body = re.split(rf"^unit {unit}\b.*\n", text, flags=re.MULTILINE)[1]
        body = re.split(r"^\S", body, flags=re.MULTILINE)[0]
        if not re.search(r"expect [^\n]*(?:\n {8}[^\n]*)?used\n", body) or " links\n" not in body:
            silent.append(unit)
    assert silent == []


READ_ALOUD = {
    "tapered strap": ("carina-strap.annulet", "unit strap", "piece bracelet"),
    "byzantine": ("auriga-chain.annulet", "unit knot", "piece bracelet"),
    "half Persian": ("units/persian.annulet", "unit half-persian("),
    "half Persian bracelet": ("serpens-bracelet.annulet", "piece bracelet"),
    "tube from a sheet": ("hydra-sleeve.annulet", "unit cloth", "piece sleeve"),
    "disc that grows round by round": ("scutum-brooch.annulet", "piece brooch"),
}


@pytest.mark.parametrize("weave", READ_ALOUD)
def test_what_is_worst_to_write_needs_no_sum_in_an_index(weave: str) -> None:
    """A loop's counter and a sum with it in brackets is what nobody can read aloud."""
    name, *headers = READ_ALOUD[weave]
    blocks = re.split(r"^(?=\S)", (LIBRARY / name).read_text("utf-8"), flags=re.MULTILINE)
    for header in headers:
        (block,) = (block for block in blocks if block.startswith(header))
        assert len(block.splitlines()) > 3
        assert re.findall(r"\[[^\]]*[-+*/][^\]]*\]", block) == []
        assert not re.search(r"^\s*for \w+ from", block, re.MULTILINE)
