"""The stock file: what is read, what is told and where."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler import stock as stock_module
from compiler.measures import MeasureError, read_hourly, read_length, read_share
from compiler.stock import Pack, Stock, StockFinding, StockRing, load_stock
from notation.source import Source

PAGE = Path(__file__).parent.parent.parent / "notation" / "stock.md"
EXAMPLES = re.findall(r"^```yaml\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
RING = "  - {inner: 5 mm, wire: 0.9 mm, metal: copper, pack: 100, price: 4.5}\n"

MAPPING = "a mapping is expected here: `key: value`"


def told(text: str) -> list[tuple[int, int, str]]:
    stock, problems = load_stock(Source(name="stock.yaml", text=text))
    assert (stock is None) == bool(problems)
    return [(problem.line, problem.column, problem.message) for problem in problems]


def test_the_example_of_the_page_is_read() -> None:
    assert len(EXAMPLES) == 1
    stock, problems = load_stock(Source(name="stock.yaml", text=EXAMPLES[0]))
    assert problems == ()
    assert stock is not None
    assert (stock.currency, len(stock.rings), len(stock.findings)) == ("EUR", 3, 2)
    assert stock.rings[2] == StockRing(
        inner_mm=Decimal("4.7625"),  # 3/16 of 25.4
        wire_mm=Decimal("1.0237"),  # ASTM B258
        metal="sterling-silver",
        pack=Pack(size=25, price=Decimal("21.30"), supplier="", code="", line=17),
    )
    assert stock.findings[0] == StockFinding(
        name="hook",
        type="ear-wire",
        metal="sterling-silver",
        pack=Pack(size=10, price=Decimal("6.40"), supplier="", code="", line=19),
    )
    assert stock.rings[0].pack.supplier == "the ring drawer"


def test_a_stock_may_be_empty() -> None:
    stock, _ = load_stock(Source(name="stock.yaml", text="currency: CHF\n"))
    assert stock == Stock(currency="CHF", rings=(), findings=())


def test_an_alias_of_a_metal_becomes_its_name() -> None:
    stock, _ = load_stock(
        Source(name="s", text="currency: EUR\nrings:\n" + RING.replace("copper", "sterling"))
    )
    assert stock is not None
    assert stock.rings[0].metal == "sterling-silver"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("rings: []\n", [(1, 1, "`currency` is missing here")]),
        (
            "currency: euro\n",
            [(1, 11, "`euro` is no currency; write three capital letters, as in `EUR`")],
        ),
        ("currency: EUR\nring: []\n", [(2, 1, "`ring` is not known here; did you mean `rings`?")]),
        (
            "currency: EUR\ncurrency: CHF\n",
            [(2, 1, "`currency` is given twice; it is first given in line 1")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("5 mm", "5"),
            [(3, 13, "`5` has no unit; write `mm`, `cm`, `in`, `awg` or `swg`")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("0.9 mm", "18 ga"),
            [(3, 25, "gauge 18 alone could be 1.0237 mm (`18 awg`) or 1.2192 mm (`18 swg`)")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("copper", "coper"),
            [(3, 40, "`coper` is not among the metals; did you mean `copper`?")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("pack: 100", "pack: 0"),
            [(3, 54, "a pack holds from 1 to 1000000 pieces, not 0")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("4.5}", "-1}"),
            [(3, 66, "a price is from 0 to 1000000, not `-1`")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("4.5}", "0.00001}"),
            [(3, 66, "a price has at most 4 decimals: `0.00001`")],
        ),
        (
            "currency: EUR\nfindings:\n  - name: hook\n    pack: 5\n    price: 4,50\n",
            [(5, 12, "a number in plain digits is expected here, as in `8.96`")],
        ),
        (
            "currency: EUR\nrings:\n" + RING + RING.replace("5 mm", "0.5 cm"),
            [(4, 5, "this is in the stock twice; it is first in line 3")],
        ),
        (
            "currency: EUR\nfindings:\n  - {name: hook, pack: 2}\n",
            [(3, 5, "`price` is missing here")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("pack: 100", "pack: 1000001"),
            [(3, 54, "a pack holds from 1 to 1000000 pieces, not 1000001")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("4.5}", "1000000.01}"),
            [(3, 66, "a price is from 0 to 1000000, not `1000000.01`")],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("copper", "silver"),
            [
                (
                    *(3, 40),
                    "`silver` is not among the metals; it could be `sterling-silver` or `fine-silver` or "
                    "`germanium-sterling`",
                )
            ],
        ),
        (
            "currency: EUR\nrings:\n" + RING.replace("copper", "qqqqqq"),
            [(3, 40, "`qqqqqq` is not among the metals; `annulet metals` lists them")],
        ),
        (
            'currency: EUR\nfindings:\n  - {name: "", pack: 2, price: 1}\n',
            [(3, 12, "a text of one line is expected here, of at most 120 characters")],
        ),
        (
            'currency: EUR\nfindings:\n  - {name: "a\\nb", pack: 2, price: 1, code: "a\\tb"}\n',
            [
                (3, 12, "a text of one line is expected here, of at most 120 characters"),
                (3, 45, "a text of one line is expected here, of at most 120 characters"),
            ],
        ),
        (
            f"currency: EUR\nfindings:\n  - {{name: {'x' * 121}, pack: 2, price: 1}}\n",
            [(3, 12, "a text of one line is expected here, of at most 120 characters")],
        ),
        (
            "currency: EUR\nfindings:\n  - {name: hook, pack: 2, price: 1}\n"
            "  - {name: hook, pack: 2, price: 3}\n",
            [(4, 5, "this is in the stock twice; it is first in line 3")],
        ),
        ("currency: EUR\nrings:\n  - 5\nfindings:\n  - hook\n", [(3, 5, MAPPING), (5, 5, MAPPING)]),
        ("currency: EUR\nrings: 5\n", [(2, 8, "a list is expected here: `[one, two]`")]),
    ],
)
def test_mistakes_are_told_at_their_place(text: str, expected: list[tuple[int, int, str]]) -> None:
    assert told(text) == expected


@pytest.mark.parametrize(
    ("written", "pack"),
    [
        ("pack: 1, price: 0", Pack(size=1, price=Decimal(0), supplier="", code="", line=3)),
        (
            "pack: 1000000, price: 1000000",
            Pack(size=1_000_000, price=Decimal(1_000_000), supplier="", code="", line=3),
        ),
        ("pack: 2, price: 0.0001", Pack(size=2, price=Decimal("0.0001"), supplier="", code="", line=3)),
        (
            f"pack: 2, price: 1.50, supplier: {'x' * 120}, code: A 1",
            Pack(size=2, price=Decimal("1.50"), supplier="x" * 120, code="A 1", line=3),
        ),
    ],
)
def test_a_pack_at_its_bounds_is_taken(written: str, pack: Pack) -> None:
    text = f"currency: EUR\nfindings:\n  - {{name: hook, {written}}}\n"
    stock, problems = load_stock(Source(name="s", text=text))
    assert problems == ()
    assert stock is not None
    assert stock.findings == (StockFinding(name="hook", type=None, metal=None, pack=pack),)


def test_the_same_from_another_supplier_or_by_another_code_is_something_else() -> None:
    rings = [RING, RING.replace("}", ", supplier: Vela}"), RING.replace("}", ", supplier: Vela, code: 7a}")]
    others = [
        RING.replace("pack: 100", "pack: 50"),
        RING.replace("copper", "niobium"),
        RING.replace("0.9", "0.8"),
    ]
    assert told("currency: EUR\nrings:\n" + "".join((*rings, *others))) == []
    findings = ["name: a", "name: b", "name: a, type: drop", "name: a, metal: copper", "name: a, code: 7a"]
    lines = [f"  - {{{one}, pack: 1, price: 1}}\n" for one in findings]
    assert told("currency: EUR\nfindings:\n" + "".join(lines)) == []


def test_a_stock_holds_five_thousand_items_of_a_kind_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    assert stock_module.MOST_ITEMS == 5000
    monkeypatch.setattr(stock_module, "MOST_ITEMS", 3)
    lines = [f"  - {{name: a{n}, pack: 1, price: 1}}\n" for n in range(4)]
    head = "currency: EUR\nfindings:\n"
    assert told(head + "".join(lines[:3])) == []
    assert told(head + "".join(lines)) == [(3, 3, "there are more than 3 items here")]


def test_all_mistakes_are_told_in_one_run() -> None:
    text = "currency: e\nrings:\n" + RING.replace("5 mm", "5") + RING.replace("copper", "gold")
    assert [line for line, _, _ in told(text)] == [1, 3, 4]


@given(st.text(max_size=60))
def test_no_text_is_too_odd(text: str) -> None:
    stock, problems = load_stock(Source(name="s", text=text))
    assert stock is None or problems == ()


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("5 mm", "5"),
        ("5mm", "5"),
        ("0.5cm", "5.0"),
        ("1/4in", "6.35"),
        ("18 awg", "1.0237"),
        ("18swg", "1.2192"),
    ],
)
def test_lengths_are_read_with_their_units(text: str, mm: str) -> None:
    assert read_length(text).mm == Decimal(mm)


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "is no length"),
        ("five mm", "is no length"),
        ("-5 mm", "is no length"),
        ("5 MM", "`MM` is no unit here"),
        ("5 inch", "`inch` is no unit here"),
        ("1/3 in", "at most 6 decimal places"),
        ("1/0 in", "at most 6 decimal places"),
        ("1/4 mm", "a fraction is one of inches"),
        ("0 mm", "more than nothing"),
        ("20000 mm", "no length here is more than 10000 mm"),
        ("40 awg", "gauges go from 12 to 30"),
        ("18.5 awg", "a gauge is a whole number"),
        ("99 ga", "a gauge is written `awg` or `swg`"),
        ("9" * 31 + " mm", "is no length"),
    ],
)
def test_what_is_no_length_is_told(text: str, part: str) -> None:
    with pytest.raises(MeasureError) as error:
        read_length(text)
    assert part in error.value.message


def test_shares_and_rates() -> None:
    assert read_share("5%") == Decimal("0.05")
    assert read_share("7.5 %") == Decimal("0.075")
    assert read_hourly("18/h") == 18
    assert read_hourly("18.50/h") == Decimal("18.50")
    for text in ("5", "-5%", "5%%", "1e3%", "NaN%", ""):
        with pytest.raises(MeasureError):
            read_share(text)
    for text in ("18", "18/day", "-1/h", "x/h"):
        with pytest.raises(MeasureError):
            read_hourly(text)
