"""Pieces made to a length: from a kept layout, by a search, and against the size that the export measures."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pypdf
import pytest

from compiler.expand.driver import expand
from compiler.layout import Layout, rounded_circle
from compiler.madetolength import pitch_of
from compiler.problem import problem_of
from compiler.prove import prove
from grammar.parse import parse
from notation.source import Source

PATTERN = """\
title "Vela"
version "1.0.0"
ring link: inner 4 mm, wire 1.2 mm, metal copper, doubled
ring end: inner 5 mm, wire 1 mm, metal copper
let repeats = 6
piece earring:
    take 1 end
piece bracelet:
    length 60 mm varying repeats
    line pair of repeats:
        pass 2 link through the one before
    pass 1 end through first of pair
variant heavy:
    ring link: inner 5 mm, wire 1.4 mm, metal brass
variant long:
    length 90 mm
"""
TOLD = re.compile(
    r"bracelet made to (.*) \(repeats = (\d+)\): ([\d.]+) mm long; one repeat more would add ([\d.]+) mm"
)


@pytest.fixture(autouse=True)
def files(tmp_path: Path) -> None:
    (tmp_path / "v.annulet").write_text(PATTERN, "utf-8")


def told(err: str) -> tuple[str, int, float, float]:
    match = TOLD.search(err)
    assert match is not None, err
    return match[1], int(match[2]), float(match[3]), float(match[4])


def measured(run, *words: str) -> tuple[int, float]:
    """Places of the chain, and how long the bracelet is, by the export of a pattern that says no length."""
    ran = run("export", "w.annulet", "--geometry", *words)
    piece = next(each for each in json.loads(ran.out)["pieces"] if each["name"] == "bracelet")
    pairs = {ring["key"] for ring in piece["rings"] if ring["kind"] == "link"}
    return len(pairs) // 2, piece["size"]["length_mm"]


def test_settle_works_it_out_and_no_number_is_nearer(run) -> None:
    _, repeats, length, _ = told(run("settle", "v.annulet").err)
    as_counted = PATTERN.split("variant")[0].replace("    length 60 mm varying repeats\n", "")
    Path("w.annulet").write_text(as_counted, "utf-8")
    lengths = {}
    for each in (repeats - 1, repeats, repeats + 1):
        places, lengths[each] = measured(run, "--set", f"repeats={each}") if each != 6 else measured(run)
        assert places == each
    assert lengths[repeats] == pytest.approx(length, abs=0.051)
    assert min(lengths, key=lambda each: abs(lengths[each] - 60)) == repeats


def test_check_searches_for_nothing_and_says_what_to_run(run) -> None:
    ran = run("check", "v.annulet")
    assert "length-not-known" in ran.err
    assert "`annulet settle`" in ran.err
    assert told(run("check", "v.annulet", "--fit").err) == told(run("settle", "v.annulet").err)
    ran = run("check", "v.annulet")
    assert "length-not-known" in ran.err  # of the variant, of which nothing is kept
    assert "in the variant heavy" in ran.err
    assert run("settle", "v.annulet", "--variant", "heavy").code == 0
    ran = run("check", "v.annulet", "--strict")
    assert ran.code == 0, ran.err
    assert told(ran.err)[0] == "60 mm"


def test_another_length_is_worked_out_from_the_kept_layout_and_comes_true(run) -> None:
    run("settle", "v.annulet")
    wanted, repeats, length, pitch = told(run("check", "v.annulet", "--set", "length=9 cm").err)
    assert wanted == "9 cm"
    export = json.loads(run("export", "v.annulet", "--set", "bracelet.length=9cm", "--geometry").out)
    assert export["changes"] == f"bracelet.length = 9 cm · bracelet made to 9 cm (repeats = {repeats})"
    size = export["pieces"][1]["size"]["length_mm"]
    assert size == pytest.approx(length, abs=pitch / 10)
    assert abs(size - 90) <= 0.6 * pitch
    assert told(run("steps", "v.annulet", "--variant", "long").err) == ("90 mm", repeats, length, pitch)


def test_every_command_makes_the_same_number(run) -> None:
    run("settle", "v.annulet")
    words = ("v.annulet", "--set", "length=75mm")
    _, repeats, *_ = told(run("check", *words).err)
    rings = 2 * repeats
    export = json.loads(run("export", *words).out)
    assert export["materials"][0]["each"]["bracelet"] == rings
    assert json.loads(run("kit", *words, "--json").out)["lines"][0]["needed"] == rings
    assert f"{rings} links" in run("steps", *words).out
    assert run("build", *words, "--schematic", "-o", "v.pdf").code == 0
    pages = pypdf.PdfReader(io.BytesIO(Path("v.pdf").read_bytes())).pages
    text = " ".join(" ".join(page.extract_text().split()) for page in pages)
    assert "With length = 75 mm" in text
    assert f"Length bracelet made to 75 mm (repeats = {repeats})" in text
    assert run("figure", *words, "-o", "v.svg", "--schematic", "--piece", "bracelet").code == 0
    assert run("fit", *words).code == 0


def test_a_number_that_is_set_stays(run) -> None:
    ran = run("export", "v.annulet", "--set", "repeats=9")
    assert json.loads(ran.out)["materials"][0]["each"]["bracelet"] == 18
    assert TOLD.search(ran.err) is None


def test_a_variant_is_kept_in_a_file_of_its_own_and_no_other_edition_is(run) -> None:
    run("settle", "v.annulet")
    plain = Path("v.layout").read_bytes()
    ran = run("settle", "v.annulet", "--variant", "heavy")
    assert "v.heavy.layout is written" in ran.err
    ran = run("settle", "v.annulet", "--ring", "link=6mm/1.2mm")
    assert "the layout of an edition that has no name in the text is not kept" in ran.err
    assert sorted(path.name for path in Path().glob("*.layout")) == ["v.heavy.layout", "v.layout"]
    assert Path("v.layout").read_bytes() == plain


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("length 6 mm varying repeats", "a single repeat makes it"),
        ("length 60 mm varying other", "a repeat more makes it no longer"),
    ],
)
def test_a_length_that_cannot_be_is_told(run, line: str, reason: str) -> None:
    text = PATTERN.replace("length 60 mm varying repeats", line).replace("take 1 end", "take other end")
    Path("v.annulet").write_text(text.replace("piece earring", "let other = 1\npiece earring", 1), "utf-8")
    ran = run("check", "v.annulet", "--fit")
    assert "warning[length-not-made]" in ran.err
    assert reason in ran.err


def test_where_the_number_that_varies_was_not_read_its_slip_is_all_that_is_told(run) -> None:
    Path("vela.annulet").write_text(PATTERN.replace("let repeats = 6", "let repeats = = 6"), "utf-8")
    ran = run("build", "vela.annulet")
    assert ran.code == 1
    assert "vela.annulet:5:15: error[unexpected]" in run("check", "--short", "vela.annulet").err


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (("--set", "length=60"), "a length has a unit, as in length=60mm"),
        (("--set", "length=60ells"), "`ells` is no unit here"),
        (("--set", "braclet.length=6cm"), "perhaps bracelet is meant"),
        (("--set", "length=6cm", "--set", "length=7cm"), "changes length twice"),
        (("--variant", "heavi"), "There is no variant heavi in v.annulet; perhaps heavy is meant"),
        (("--set", "repeat=7"), "is called repeat; perhaps repeats is meant"),
    ],
)
def test_what_cannot_be_asked_for_is_one_sentence(run, words: tuple[str, ...], part: str) -> None:
    ran = run("check", "v.annulet", *words)
    assert (ran.code, ran.out) == (2, "")
    assert part in ran.err


def test_the_pitch_is_the_way_to_the_next_repeat() -> None:
    """Rings in a row, 3 mm apart and each turned, with an end that is no repeat."""
    text = 'title "x"\nring link: inner 4 mm, wire 0.8 mm, metal copper\nlet n = 6\npiece row:\n'
    text += "    line up of n:\n        pass 1 link through the one before\n"
    text += "    pass 1 link as tail through last of up\n"
    weaves = []
    for count in (6, 7):
        pattern, _ = parse(Source(name="x", text=text.replace("let n = 6", f"let n = {count}")))
        weaves.append(expand(pattern, {})[0])
    problem = problem_of(weaves[0], 0)
    places = [*((3.0 * k, 0.0, 0.0) for k in range(6)), (18.5, 0.0, 0.0)]
    circles = tuple(
        rounded_circle(place, (0.0, float(k % 2), float(1 - k % 2)), size)
        for k, (place, size) in enumerate(zip(places, problem.rings, strict=True))
    )
    layout = Layout(circles=circles, verdict=prove(problem, circles))
    assert pitch_of(weaves[0].pieces[0], weaves[1].pieces[0], layout) == pytest.approx(3.0)
