"""`annulet kit`: text, CSV, JSON, and what is refused."""

from __future__ import annotations

import csv
import io
import json
import math
from pathlib import Path

import pytest
from pattern_books import EARRING, KIT, weave_of
from pattern_books import HEAD as TIGHT

from compiler.weave import Verb

HEAD = TIGHT.replace("eye 2 mm opens", "eye 3 mm opens")

STOCK = """\
currency: EUR
rings:
  - {inner: 5 mm, wire: 1.2 mm, metal: brass, pack: 100, price: 4.50, supplier: "=HYPERLINK(1)", code: "-1+1"}
  - {inner: 3 mm, wire: 0.7 mm, metal: sterling, pack: 50, price: 21.30, supplier: "@home", code: "+49"}
findings:
  - {name: hook, pack: 10, price: 6.40}
  - {name: drop, pack: 6, price: 5.10}
"""


@pytest.fixture(autouse=True)
def files(tmp_path: Path) -> None:
    (tmp_path / "corvus.annulet").write_text(HEAD + KIT + EARRING, "utf-8")
    (tmp_path / "stock.yaml").write_text(STOCK, "utf-8")


def test_the_list_without_a_stock(run) -> None:
    ran = run("kit", "corvus.annulet")
    assert (ran.code, ran.err) == (0, "")
    rows = [line.split() for line in ran.out.splitlines()]
    assert ["large", "rings", "5", "mm", "inside,", "wire", "1.2", "mm", "brass", "24", "16", "40"] in rows
    assert "A kit holds what the pattern’s kit line says." in ran.out
    assert "Cost" not in ran.out


def test_the_list_states_the_allowance_and_its_defaults(run) -> None:
    Path("plain.annulet").write_text(HEAD + EARRING, "utf-8")
    assert "a spare allowance of 5 %, rounded up, at least 2 of each kind" in run("kit", "plain.annulet").out
    ran = run("kit", "plain.annulet", "--spare", "12.5%", "--spare-least", "0")
    assert "a spare allowance of 12.5 %, rounded up, at least 0" in ran.out
    assert "(default: 5%)" in run("kit", "--help").out


def test_costs_and_prices_are_printed(run) -> None:
    words = ("--stock", "stock.yaml", "--sets", "12", "--margin", "40%", "--rate", "18/h")
    ran = run("kit", "corvus.annulet", *words)
    assert ran.code == 0
    # 40 x 4.50 / 100 + 9 x 21.30 / 50 + 2 x 6.40 / 10 + 5 x 5.10 / 6 = 1.80 + 3.83 + 1.28 + 4.25
    assert "Cost of one kit: 11.16 EUR" in ran.out
    # 5 x 4.50 + 3 x 21.30 + 3 x 6.40 + 10 x 5.10
    assert "Whole packs for 12 kits: 156.60 EUR" in ran.out
    assert "Price of one kit: 18.60 EUR, of which 40 % margin" in ran.out
    assert "Money is rounded half up to two decimals" in ran.out


def test_what_is_missing_is_listed_and_not_guessed(run) -> None:
    Path("stock.yaml").write_text("currency: EUR\nfindings:\n  - {name: hook, pack: 1, price: 1}\n", "utf-8")
    ran = run("kit", "corvus.annulet", "--stock", "stock.yaml", "--margin", "40%")
    assert ran.code == 0
    assert "Not in the stock: large (5 mm inside, wire 1.2 mm, brass), small (" in ran.out
    assert "Cost of one kit" not in ran.out
    assert "Price of one kit" not in ran.out


def test_cells_that_a_table_program_would_run_are_defused(run) -> None:
    ran = run("kit", "corvus.annulet", "--stock", "stock.yaml", "--csv")
    rows = list(csv.DictReader(io.StringIO(ran.out)))
    assert [row["kind"] for row in rows] == ["large", "small", "hook", "drop"]
    assert (rows[0]["supplier"], rows[0]["code"]) == ("'=HYPERLINK(1)", "'-1+1")
    assert (rows[1]["supplier"], rows[1]["code"]) == ("'@home", "'+49")
    assert all(not cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row.values())
    assert (rows[0]["in_kit"], rows[0]["kit_cost"], rows[0]["in_stock"]) == ("40", "1.80", "yes")


def test_json_has_everything_in_exact_digits(run) -> None:
    words = ("--stock", "stock.yaml", "--sets", "12", "--margin", "40%", "--rate", "18/h", "--json")
    report = json.loads(run("kit", "corvus.annulet", *words).out)
    assert (report["format"], report["version"], report["kits"]) == ("annulet-kit", 1, 12)
    assert (report["kit_cost"], report["order_price"], report["kit_price"]) == ("11.16", "156.60", "18.60")
    assert report["lines"][0]["inner_mm"] == "5"
    assert report["lines"][0]["supplier"] == "=HYPERLINK(1)"
    assert report["spare"] == {"share": "0.05", "least": 2}
    assert report["missing"] == []


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (("--sets", "0"), "--sets is from 1 to 100000, not 0."),
        (("--spare", "5"), "`5` is no percentage; write it as in `5%` or `7.5%`."),
        (("--spare", "200%"), "--spare is at most 100%, not 200%."),
        (("--spare-least", "-1"), "--spare-least is from 0 to 1000, not -1."),
        (("--margin", "100%", "--stock", "stock.yaml"), "less than 100%"),
        (("--margin", "40%"), "give --stock FILE"),
        (("--rate", "18/h"), "give --stock FILE"),
        (("--rate", "18", "--stock", "stock.yaml"), "`18` is no hourly rate"),
        (("--stock", "none.yaml"), "Cannot read none.yaml: there is no such file."),
        (("--stock", "."), "Cannot read .: it is a folder."),
        (("--csv", "--json"), "not allowed with"),
        (("--kerf", "0.3"), "`0.3` has no unit"),
        (("--kerf", "3mm"), "--kerf is at most 2 mm."),
    ],
)
def test_wrong_usage_is_one_sentence(run, words: tuple[str, ...], part: str) -> None:
    ran = run("kit", "corvus.annulet", *words)
    assert (ran.code, ran.out) == (2, "")
    assert part in ran.err


def test_mistakes_of_the_stock_file_are_told_with_line_and_column(run) -> None:
    Path("bad.yaml").write_text(
        STOCK.replace("metal: brass", "metall: brass").replace("6.40", "much"), "utf-8"
    )
    ran = run("kit", "corvus.annulet", "--stock", "bad.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines() == [
        "bad.yaml:3:5: `metal` is missing here",
        "bad.yaml:3:33: `metall` is not known here; did you mean `metal`?",
        "bad.yaml:6:35: a number in plain digits is expected here, as in `8.96`",
        "annulet: bad.yaml has 3 mistakes, and nothing is done.",
    ]


def test_the_rates_of_a_house_style_are_paid(run) -> None:
    Path("style.yaml").write_text("time: {prepare: 0, weave: 60 to 120, finding: 0}\n", "utf-8")
    words = ("--stock", "stock.yaml", "--rate", "30/h", "--json")
    usual = json.loads(run("kit", "corvus.annulet", *words).out)
    report = json.loads(run("kit", "corvus.annulet", *words, "--style", "style.yaml").out)
    weave = weave_of(HEAD + KIT + EARRING)
    motions = 2 * sum(verb != Verb.TAKE for verb in weave.pieces[0].motions.verb)
    assert report["minutes"] == [motions, 2 * motions]
    assert report["pay"] == [f"{motions / 2:.2f}", f"{motions:.2f}"]
    assert report["kit_cost"] == usual["kit_cost"]
    assert usual["minutes"] != report["minutes"]
    Path("style.yaml").write_text("time: {weave: slow}\n", "utf-8")
    assert run("kit", "corvus.annulet", "--style", "style.yaml").code == 2


def test_who_cuts_rings_is_told_mandrel_turns_coil_and_wire(run) -> None:
    ran = run("kit", "corvus.annulet", "--sets", "2", "--kerf", "0.3mm")
    assert "with a saw that takes 0.3 mm" in ran.out
    rows = [line.split() for line in ran.out.splitlines()]
    # 80 rings and a turn; 5 + 0.3 / pi, and 81 x 1.2; 81 turns of pi (5.0955 + 1.2) = 19.778 (19.814 with the pitch)
    assert ["large", "rings", "5.1", "mm", "81", "97.2", "mm", "1.60", "m"] in rows
    assert "ear wires" not in ran.out.split("To cut")[1]
    report = json.loads(run("kit", "corvus.annulet", "--kerf", "0.3mm", "--json").out)
    assert [row["kind"] for row in report["cutting"]] == ["large", "small"]
    assert json.loads(run("kit", "corvus.annulet", "--json").out)["cutting"] == []


def test_masses_are_told_by_metal_in_grams_and_both_ounces(run) -> None:
    rows = [line.split() for line in run("kit", "corvus.annulet").out.splitlines()]
    grams = 40 * math.pi**2 / 4 * (5 + 1.2) * 1.2**2 * 8.46 / 1000
    brass = next(row for row in rows if row[:1] == ["brass"])
    assert float(brass[1]) == pytest.approx(grams, abs=0.005)
    assert float(brass[2]) == pytest.approx(grams / 28.349523125, abs=0.0005)
    assert float(brass[3]) == pytest.approx(grams / 31.1034768, abs=0.0005)


def test_a_pattern_with_errors_has_no_kit(run) -> None:
    Path("corvus.annulet").write_text(HEAD + "kit: 1 large\n" + EARRING, "utf-8")
    ran = run("kit", "corvus.annulet")
    assert (ran.code, ran.out) == (1, "")
    assert "error[" in ran.err
