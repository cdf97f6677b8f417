"""The export: valid against its schema, and true to the weave."""

import json
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import compiler.export
from compiler.commands.export import step_texts
from compiler.export import StepText, export
from compiler.pipeline import checked
from compiler.timings import Timings
from compiler.word.words import word

sys.path.insert(0, str(Path(__file__).parent / "check"))

from weave_bench import Bench, eye, finding_kind

PATTERNS = Path(__file__).parent.parent.parent / "patterns"
SCHEMA = json.loads(Path(compiler.export.__file__).with_name("export-schema.json").read_text("utf-8"))


def exported(name: str) -> tuple[dict[str, Any], str]:
    result = checked(str(PATTERNS / name), None, Timings())
    assert result.weave is not None
    text = "".join(export(result.weave, [step_texts(piece) for piece in word(result.weave).pieces]))
    return json.loads(text), text


def of_bench(bench: Bench) -> dict[str, Any]:
    weave = bench.weave()
    texts = [[StepText(title="t", text="x") for _ in piece.steps] for piece in weave.pieces]
    return json.loads("".join(export(weave, texts)))  # type: ignore[no-any-return]


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_the_schema_refuses_what_is_not_an_export() -> None:
    document, _ = exported("vela-bracelet.annulet")
    document["pieces"][0]["rings"][0]["inner_mm"] = "4 mm"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(document, SCHEMA)


@pytest.mark.parametrize("path", sorted(PATTERNS.glob("*.annulet")), ids=lambda path: path.stem)
def test_every_pattern_exports_to_what_the_schema_says(path: Path) -> None:
    document, text = exported(path.name)
    jsonschema.validate(document, SCHEMA)
    assert text == exported(path.name)[1]


def test_the_earrings_are_told_whole() -> None:
    document, _ = exported("lyra-earrings.annulet")
    (piece,) = document["pieces"]
    assert (document["title"], piece["name"], piece["makes"]) == ("Lyra earrings", "earring", 2)
    kinds = [ring["kind"] for ring in piece["rings"]]
    # a 3 x 3 rhombus doubled, 18 + 32 rings with 128 links (OEIS A045944), and three hangers
    assert (kinds.count("large"), kinds.count("small"), kinds.count("hanger")) == (18, 32, 3)
    in_body = {ring["id"] for ring in piece["rings"] if ring["key"].startswith("body/")}
    assert sum(a in in_body and b in in_body for a, b in piece["links"]) == 128
    rows = {row["kind"]: row for row in document["materials"]}
    assert rows["large"] == {
        "kind": "large",
        "inner_mm": 5.0,
        "wire_mm": 0.9,
        "metal": "copper",
        "each": {"earring": 18},
        "total": 36,
        "kit": 40,
        "spare": 4,
    }
    assert rows["hook"]["inner_mm"] is None


def test_steps_add_up_to_the_piece() -> None:
    for name in ("lyra-necklace.annulet", "vela-bracelet.annulet"):
        document, _ = exported(name)
        for piece in document["pieces"]:
            links = [link for step in piece["steps"] for link in step["links"]]
            assert sorted(links) == sorted(piece["links"])
            assert sum(sum(step["adds"].values()) for step in piece["steps"]) == len(piece["rings"]) + len(
                piece["findings"]
            )
            assert [step["number"] for step in piece["steps"]] == list(range(1, len(piece["steps"]) + 1))
            assert all(step["text"] and step["title"] for step in piece["steps"])


def test_keys_name_each_ring_once_and_a_twin_follows_its_first() -> None:
    document, _ = exported("lyra-necklace.annulet")
    (piece,) = document["pieces"]
    keys = {ring["id"]: ring["key"] for ring in piece["rings"]}
    assert len(set(keys.values())) == len(keys)
    for ring in piece["rings"]:
        first = keys[ring["strand"]]
        assert ring["key"] == first or ring["key"].removesuffix("#2") == first


def test_ids_of_links_are_rings_or_eyes() -> None:
    document, _ = exported("lyra-necklace.annulet")
    (piece,) = document["pieces"]
    eyes = {eye["id"] for finding in piece["findings"] for eye in finding["eyes"]}
    rings = {ring["id"] for ring in piece["rings"]}
    assert not eyes & rings
    assert {end for link in piece["links"] for end in link} <= eyes | rings


def test_a_finding_of_unknown_wire_exports_nulls() -> None:
    bench = Bench(findings=(finding_kind("bead", eye()),))
    bench.finding("bead")
    bench.strand("a")
    document = of_bench(bench)
    jsonschema.validate(document, SCHEMA)
    (finding,) = document["pieces"][0]["findings"]
    assert (finding["wire_mm"], finding["metal"]) == (None, None)
    assert document["materials"][0]["kit"] is None


def test_without_a_layout_there_is_no_geometry_and_no_size() -> None:
    document, _ = exported("vela-bracelet.annulet")
    assert not any({"geometry", "size"} & piece.keys() for piece in document["pieces"])


CHAIN_WITH_CLASP = """\
title "Vela"
ring link: inner 5 mm, wire 1 mm, metal copper
ring small: inner 4 mm, wire 0.8 mm, metal copper
finding clasp: clasp, eye 3 mm, wire 1 mm, metal copper
piece strap:
    line chain of 12:
        pass 1 link through the one before
    pass 1 small through last of chain carrying 1 clasp
"""


def test_a_kept_layout_is_exported_with_size_and_pitch(run) -> None:
    Path("vela.annulet").write_text(CHAIN_WITH_CLASP, "utf-8")
    assert "geometry" not in run("export", "vela.annulet").out
    searched = run("export", "--geometry", "vela.annulet").out
    assert run("settle", "vela.annulet").code == 0
    kept = run("export", "vela.annulet").out
    assert kept == searched
    document = json.loads(kept)
    jsonschema.validate(document, SCHEMA)
    for piece in document["pieces"]:
        geometry, size = piece["geometry"], piece["size"]
        assert geometry["proved"]
        assert geometry["clearance"] >= 1
        assert [circle["id"] for circle in geometry["circles"]] == list(range(len(geometry["circles"])))
        assert size["length_mm"] >= size["width_mm"] >= size["thickness_mm"]
        assert size["pitches"]
        sizes = {(circle["core_radius"], circle["tube_radius"]) for circle in geometry["circles"]}
        for ring in piece["rings"]:
            assert ((ring["inner_mm"] + ring["wire_mm"]) / 2, ring["wire_mm"] / 2) in sizes
