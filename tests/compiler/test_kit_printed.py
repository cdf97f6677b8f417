"""What `annulet kit` prints, whole, against approved texts in `cases/kit`; and what a line says in each format.

ANNULET_REWRITE=1 writes the texts anew; the difference is read like code.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

import pytest
from msgspec.structs import replace as msgspec_replace
from pattern_books import EARRING, HEAD, KIT, weave_of

from compiler.booklet.dump import dump
from compiler.booklet.style import Paper
from compiler.kit import quantities
from compiler.kitlist import as_csv, as_json, as_text
from compiler.packing import packing_sheet
from compiler.price import Plan, Spare, Terms, plan
from compiler.stock import Stock, load_stock
from compiler.weave import Weave
from notation.source import Source

CASES = Path(__file__).parents[1] / "cases" / "kit"
STOCK = """\
currency: EUR
rings:
  - {inner: 5 mm, wire: 1.2 mm, metal: brass, pack: 100, price: 4.50, supplier: the ring drawer, code: =R5}
  - {inner: 3 mm, wire: 0.7 mm, metal: sterling, pack: 50, price: 21.30}
findings:
  - {name: hook, pack: 10, price: 6.40, supplier: Corvus}
  - {name: drop, pack: 6, price: 5.10, code: G-6}
"""
ALL_TERMS = Terms(
    sets=12,
    margin=Decimal("0.4"),
    rate=Decimal(18),
    changes="large rings of copper",
    kerf_mm=Decimal("0.3"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A pattern with a stock and terms."""

    text: str
    stock: str | None
    terms: Terms

    def planned(self) -> tuple[Weave, Plan]:
        weave, stock = weave_of(self.text), None if self.stock is None else stock_of(self.stock)
        return weave, plan(weave, quantities(weave), stock, self.terms)


def stock_of(text: str) -> Stock:
    stock, problems = load_stock(Source(name="stock.yaml", text=text))
    assert problems == ()
    assert stock is not None
    return stock


def without(text: str, word: str) -> str:
    return "".join(line for line in text.splitlines(keepends=True) if word not in line)


WHOLE = Case(text=HEAD + KIT + EARRING, stock=STOCK, terms=ALL_TERMS)
PLAIN = Case(text=HEAD + EARRING, stock=None, terms=Terms())
LACKING = Case(text=HEAD + KIT + EARRING, stock=without(without(STOCK, "hook"), "3 mm"), terms=ALL_TERMS)
BARE = Case(
    text=HEAD + EARRING,
    stock=STOCK,
    terms=Terms(sets=1, spare=Spare(share=Decimal("0.125"), least=0), rate=Decimal(9)),
)
EMPTY = Case(
    text=HEAD + KIT + EARRING,
    stock="currency: CHF\n",
    terms=Terms(sets=3, margin=Decimal(0), kerf_mm=Decimal(0)),
)
# Rings up to more than fit on a label, a kit line that names one of them, a finding of metal.
SIZED = Case(
    text="""\
title "Vela"
ring loop: inner 22 mm, wire 2 mm, metal copper
ring fits: inner 28 mm, wire 1.3 mm, metal copper
ring wide: inner 28.4 mm, wire 1.3 mm, metal niobium
ring idle: inner 4 mm, wire 0.8 mm, metal niobium
finding ball: drop, eye 2 mm, wire 0.7 mm, metal fine-silver
kit: 6 loop, 3 idle
piece strap made 3 times:
    take 1 loop as a
    pass 1 fits through a carrying 1 ball
    pass 1 wide through a
""",
    stock="""\
currency: EUR
rings:
  - {inner: 28 mm, wire: 1.3 mm, metal: copper, pack: 5, price: 2.005, supplier: Corvus}
  - {inner: 28 mm, wire: 1.3 mm, metal: copper, pack: 5, price: 2.004, supplier: Draco}
  - {inner: 28 mm, wire: 1.3 mm, metal: niobium, pack: 5, price: 1}
  - {inner: 28.4 mm, wire: 1.3 mm, metal: niobium, pack: 3, price: 2}
findings:
  - {name: ball, metal: copper, pack: 1, price: 1}
  - {name: ball, metal: fine-silver, pack: 2, price: 1}
""",
    terms=Terms(sets=2),
)


def text(case: Case) -> str:
    return as_text(*case.planned())


def csv(case: Case) -> str:
    return as_csv(case.planned()[1])


def json(case: Case) -> str:
    return as_json(*case.planned())


def sheet(case: Case) -> str:
    weave, planned = case.planned()
    return "\n".join(dump(page) for page in packing_sheet(weave, planned, Paper.A4, None).pages)


PRINTED: dict[str, tuple[Callable[[Case], str], Case]] = {
    "whole.txt": (text, WHOLE),
    "whole.csv": (csv, WHOLE),
    "whole.json": (json, WHOLE),
    "whole-sheet.txt": (sheet, WHOLE),
    "plain.txt": (text, PLAIN),
    "plain.csv": (csv, PLAIN),
    "plain.json": (json, PLAIN),
    "plain-sheet.txt": (sheet, PLAIN),
    "lacking.txt": (text, LACKING),
    "lacking.csv": (csv, LACKING),
    "lacking.json": (json, LACKING),
    "bare.txt": (text, BARE),
    "empty.txt": (text, EMPTY),
    "unpaid.txt": (text, replace(WHOLE, terms=Terms(sets=2))),
    "sized.txt": (text, SIZED),
    "sized.json": (json, SIZED),
    "sized-sheet.txt": (sheet, SIZED),
}


@pytest.mark.parametrize("name", PRINTED)
def test_it_is_printed_as_it_was_approved(name: str) -> None:
    printed, case = PRINTED[name]
    approved = CASES / name
    if os.environ.get("ANNULET_REWRITE"):
        approved.write_bytes(printed(case).encode())
    assert printed(case).encode() == approved.read_bytes()


def test_every_approved_text_is_compared() -> None:
    assert sorted(path.name for path in CASES.iterdir()) == sorted(PRINTED)


def test_without_densities_nothing_is_said_of_masses() -> None:
    weave = msgspec_replace(weave_of(HEAD + KIT + EARRING), metals={})
    planned = plan(weave, quantities(weave), None, Terms())
    assert planned.masses == ()
    assert "by metal" not in as_text(weave, planned)
    assert '"kit_mass_g": {}' in as_json(weave, planned)


@pytest.mark.parametrize(("length", "lines"), [(100, 1), (101, 2)])
def test_a_line_of_a_list_has_a_hundred_characters_at_most(length: int, lines: int) -> None:
    weave, planned = LACKING.planned()
    described = len(
        "Not in the stock:  (5 mm inside, wire 1.2 mm, brass). No cost is given, for none is guessed."
    )
    kind = msgspec_replace(planned.lines[0].kind, name="x" * (length - described))
    missing = replace(planned, missing=(replace(planned.lines[0], kind=kind),))
    printed = as_text(weave, missing).splitlines()
    at = next(number for number, line in enumerate(printed) if line.startswith("Not in the stock"))
    assert len(printed) - at == lines


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_labels_stand_two_side_by_side(count: int) -> None:
    weave, planned = PLAIN.planned()
    fewer = replace(planned, lines=planned.lines[:count])
    pages = packing_sheet(weave, fewer, Paper.A4, 1_700_000_000)
    assert pages.created == 1_700_000_000
    assert (pages.title, pages.author) == ("Packing sheet: Corvus earrings", weave.by)
    label = [line for page in pages.pages for line in dump(page).splitlines() if "rectangle" in line.lower()]
    assert len(label) >= count
