"""Booklet, steps, export and kit list agree on every number, for every published pattern and each of its variants.

Each is read as its user reads it: the PDF as text by another program, the steps as printed, the others as JSON. The
rings themselves are counted in the export, one by one; everything else must come to that.
"""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pypdf
import pytest

from compiler.changes import Changes
from compiler.pipeline import checked
from compiler.timings import Timings
from notation.metals import find_metal

PATTERNS = Path(__file__).parent.parent.parent / "patterns"
FILES = sorted(PATTERNS.rglob("*.annulet"))
EDITIONS = [
    (path, variant)
    for path in FILES
    for variant in ("", *re.findall(r"(?m)^variant ([^:]+):", path.read_text("utf-8")))
]


@dataclass(frozen=True, kw_only=True)
class Said:
    """What the commands say of one pattern."""

    export: dict
    kit: dict
    steps: str
    pages: list[list[str]]
    """Lines of each page of the booklet."""
    names: dict[str, str]
    """Kind by its printed name, one and many."""

    @property
    def lines(self) -> list[str]:
        return [line for page in self.pages for line in page]

    def counted(self, text: str) -> Counter[str]:
        """Counts with the names of kinds in a text: `6 open large rings` is 6 of that kind."""
        nouns = "|".join(re.escape(name) for name in sorted(self.names, key=len, reverse=True))
        found: Counter[str] = Counter()
        for count, noun in re.findall(rf"\b(\d+) (?:open |closed )?({nouns})(?![\w-])", text):
            found[self.names[noun]] += int(count)
        return found

    def rows_of_materials(self) -> Iterator[tuple[str, list[int]]]:
        """Kind and the whole numbers at the end of each row of the tables of rings and findings."""
        text = " ".join(self.lines).split(" Ring Inside ")[1].split(" Ring Density ")[0]
        rows = {name[0].upper() + name[1:]: kind for name, kind in self.names.items()}
        ends = ("Ratio is", "Kit is", "The counts are", "Findings Finding", "$")
        heads = "|".join(re.escape(head) for head in sorted(rows, key=len, reverse=True))
        for head, row in re.findall(rf"(?<!\S)({heads}) (.*?)(?= (?:{heads}) |{'|'.join(ends)})", text):
            numbers = re.search(r"(?: \d+)+$", row.rstrip())
            if numbers:
                yield rows[head], [int(number) for number in numbers[0].split()]

    def each(self) -> list[Counter[str]]:
        """Rings and findings in one of each piece, counted one by one."""
        return [
            Counter([*(ring["kind"] for ring in piece["rings"]), *(use["kind"] for use in piece["findings"])])
            for piece in self.export["pieces"]
        ]

    def total(self) -> Counter[str]:
        """The same over all that is made."""
        found: Counter[str] = Counter()
        for piece, counts in zip(self.export["pieces"], self.each(), strict=True):
            for kind, count in counts.items():
                found[kind] += count * piece["makes"]
        return found


@pytest.fixture(
    params=EDITIONS, ids=lambda of: " ".join((of[0].relative_to(PATTERNS).as_posix(), of[1])).strip()
)
def said(request: pytest.FixtureRequest, run) -> Said:
    path, variant = str(request.param[0]), request.param[1]
    edition = ("--variant", variant) if variant else ()
    export = json.loads(run("export", path, *edition).out)
    kit = json.loads(run("kit", path, *edition, "--json").out)
    steps = run("steps", path, *edition, "--width", "100000").out
    assert run("build", path, *edition, "--schematic", "-o", "b.pdf").code == 0
    pages = [page.extract_text().replace("\xa0", " ").splitlines() for page in pypdf.PdfReader("b.pdf").pages]
    weave = checked(path, None, Timings(), Changes(variant=variant)).weave
    assert weave is not None
    names = {
        name: kind.name
        for kind in (*weave.ring_kinds, *weave.finding_kinds)
        for name in (kind.singular, kind.plural)
    }
    return Said(export=export, kit=kit, steps=steps, pages=pages, names=names)


def test_every_number_agrees(said: Said) -> None:
    total = said.total()
    assert total
    check_export(said, total)
    check_kit(said, total)
    check_steps(said, total)
    check_booklet(said, total)
    check_sums_of_the_booklet(said)


def check_export(said: Said, total: Counter[str]) -> None:
    materials = {row["kind"]: row for row in said.export["materials"]}
    assert {kind: row["total"] for kind, row in materials.items() if row["total"]} == total
    for piece, counts in zip(said.export["pieces"], said.each(), strict=True):
        assert {
            kind: row["each"][piece["name"]] for kind, row in materials.items() if row["each"][piece["name"]]
        } == (counts)
        added: Counter[str] = Counter()
        for step in piece["steps"]:
            added.update(step["adds"])
        assert added == counts
        assert sum(len(step["links"]) for step in piece["steps"]) == len(piece["links"])


def check_kit(said: Said, total: Counter[str]) -> None:
    assert {line["kind"]: line["needed"] for line in said.kit["lines"] if line["needed"]} == total
    packed = {row["kind"]: row["kit"] for row in said.export["materials"]}
    for line in said.kit["lines"]:
        assert line["spare"] == line["in_kit"] - line["needed"]
        if packed[line["kind"]] is not None:
            assert line["in_kit"] == packed[line["kind"]]
        elif line["type"] == "ring":
            assert line["spare"] == max(math.ceil(line["needed"] / 20), 2)
        else:
            assert line["spare"] == 0


def check_steps(said: Said, total: Counter[str]) -> None:
    before, *rest = re.split(r"\n\n[^\n]+\n-+\n", said.steps)
    assert said.counted(before.split("Before you start")[1]) == total
    assert len(rest) == len(said.export["pieces"])
    for text, counts in zip(rest, said.each(), strict=True):
        tallies = re.findall(r"So far: (.*)\.", text)
        assert said.counted(tallies[-1]) == counts


def check_booklet(said: Said, total: Counter[str]) -> None:
    """The table of materials, what to open and close, what is made."""
    kit = {line["kind"]: line for line in said.kit["lines"]}
    has_kit = any(row["kit"] is not None for row in said.export["materials"])
    found = {}
    for kind, row in said.rows_of_materials():
        found.setdefault(kind, row[-3:] if has_kit else row[-1:])
    wanted = {}
    for kind, line in kit.items():
        row = [line["needed"], line["in_kit"], line["spare"]]
        wanted[kind] = row if has_kit else row[:1]
    assert found == wanted
    text = " ".join(said.lines)
    open_and_close = re.search(r"Before you start Open or close.*?For your safety", text)
    assert open_and_close is not None
    assert said.counted(open_and_close[0]) == total
    made = re.search(r"The finished pieces? (?:has|together have) (.*?)\.", text)
    assert made is not None
    assert said.counted(made[1]) == total


def check_sums_of_the_booklet(said: Said) -> None:
    """Rings, mass, steps and links at a glance."""
    text = " ".join(said.lines)
    rings = sum(len(piece["rings"]) * piece["makes"] for piece in said.export["pieces"])
    assert f"At a glance {rings} rings " in text or re.search(rf"At a glance .*? {rings} rings ", text)
    # pi^2 / 4 (inner + wire) wire^2 for each ring, in g: Pappus, and in floating point instead of decimals
    grams = 0.0
    for piece in said.export["pieces"]:
        for ring in piece["rings"]:
            metal = find_metal(ring["metal"])
            assert metal is not None
            volume = math.pi**2 / 4 * (ring["inner_mm"] + ring["wire_mm"]) * ring["wire_mm"] ** 2
            grams += piece["makes"] * volume * float(metal.density) / 1000
    places = 2 if grams < 1 else 1 if grams < 100 else 0
    printed = re.search(r"([\d.]+) g metal in the rings", text)
    assert printed is not None
    assert float(printed[1]) == pytest.approx(grams, abs=0.5001 * 10**-places)
    assert f"{sum(len(piece['steps']) for piece in said.export['pieces'])} steps " in text
    if len(said.export["pieces"]) > 1 or said.export["pieces"][0]["makes"] > 1:
        for piece in said.export["pieces"]:
            sums = f"{piece['makes']} × {len(piece['rings'])} {len(piece['links'])} {len(piece['steps'])} "
            assert any(sums in line for line in said.lines)
