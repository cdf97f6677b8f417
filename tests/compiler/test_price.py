"""What a kit holds and costs, by hand and against fractions computed another way."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pattern_books import EARRING, HEAD, KIT, weave_of

from compiler.kit import quantities
from compiler.price import Line, Plan, Spare, Terms, plan, spare_rings
from compiler.stock import Stock, load_stock
from notation.source import Source

STOCK = """\
currency: EUR
rings:
  - {inner: 5 mm, wire: 1.2 mm, metal: brass, pack: 100, price: 4.50, supplier: A}
  - {inner: 5 mm, wire: 1.2 mm, metal: brass, pack: 500, price: 18.00, supplier: B}
  - {inner: 3 mm, wire: 0.7 mm, metal: sterling, pack: 50, price: 21.3333}
findings:
  - {name: hook, type: ear-wire, pack: 10, price: 6.40}
  - {name: hook, type: post, pack: 10, price: 0.10}
  - {name: drop, pack: 6, price: 5.10}
"""


def stock_of(text: str = STOCK) -> Stock:
    stock, problems = load_stock(Source(name="stock.yaml", text=text))
    assert problems == ()
    assert stock is not None
    return stock


def planned(text: str, stock: Stock | None = None, terms: Terms | None = None) -> Plan:
    weave = weave_of(text)
    return plan(weave, quantities(weave), stock, terms or Terms())


def lines_of(plan: Plan) -> dict[str, Line]:
    return {line.kind.name: line for line in plan.lines}


def half_up(value: Fraction) -> Decimal:
    """To the cent, by whole numbers alone."""
    hundredths = value * 100
    return Decimal((2 * hundredths.numerator + hundredths.denominator) // (2 * hundredths.denominator)) / 100


def test_the_kit_line_of_the_pattern_says_what_goes_in() -> None:
    lines = lines_of(planned(HEAD + KIT + EARRING, terms=Terms(spare=Spare(share=Decimal(1), least=50))))
    assert [(name, line.needed, line.count, line.spare) for name, line in lines.items()] == [
        ("large", 24, 40, 16),
        ("small", 4, 9, 5),
        ("hook", 2, 2, 0),
        ("drop", 4, 5, 1),
    ]
    assert all(line.by_pattern for line in lines.values())


def test_without_a_kit_line_rings_get_the_allowance_and_findings_none() -> None:
    lines = lines_of(planned(HEAD + EARRING))
    assert {name: line.count for name, line in lines.items()} == {
        "large": 26,
        "small": 6,
        "hook": 2,
        "drop": 4,
    }
    assert not any(line.by_pattern for line in lines.values())
    lines = lines_of(planned(HEAD + EARRING, terms=Terms(spare=Spare(share=Decimal("0.3"), least=0))))
    assert {name: line.count for name, line in lines.items()} == {
        "large": 32,
        "small": 6,
        "hook": 2,
        "drop": 4,
    }


@pytest.mark.parametrize(
    ("needed", "share", "least", "spare"),
    [(0, "0.05", 2, 2), (40, "0.05", 2, 2), (41, "0.05", 2, 3), (100, "0.05", 0, 5), (1, "0", 0, 0)],
)
def test_the_share_is_rounded_up_and_never_below_the_least(
    needed: int, share: str, least: int, spare: int
) -> None:
    assert spare_rings(needed, Spare(share=Decimal(share), least=least)) == spare


def test_costs_by_hand() -> None:
    found = planned(HEAD + KIT + EARRING, stock_of(), Terms(sets=12, margin=Decimal("0.4"), rate=Decimal(18)))
    orders = {name: line.order for name, line in lines_of(found).items() if line.order is not None}
    assert {name: (order.packs, order.pack.size, order.left) for name, order in orders.items()} == {
        "large": (1, 500, 20),  # 480: five packs of 100 cost 22.50
        "small": (3, 50, 42),
        "hook": (3, 10, 6),  # the post of the same name is another finding
        "drop": (10, 6, 0),
    }
    assert {name: str(order.cost) for name, order in orders.items()} == {
        "large": "1.44",  # 40 x 18 / 500
        "small": "3.84",  # 9 x 21.3333 / 50 = 3.839994
        "hook": "1.28",
        "drop": "4.25",
    }
    assert {name: str(order.price) for name, order in orders.items()} == {
        "large": "18.00",
        "small": "64.00",  # 63.9999
        "hook": "19.20",
        "drop": "51.00",
    }
    assert (str(found.cost), str(found.order)) == ("10.81", "152.20")
    assert str(found.price) == "18.02"  # 10.81 / 0.6 = 18.01666
    assert found.pay is not None
    assert found.finished is not None
    time = quantities(weave_of(HEAD + KIT + EARRING)).time
    assert found.pay.least == half_up(Fraction(18 * time.least, 60))
    assert found.finished.most == half_up(
        (Fraction("10.81") + Fraction(str(found.pay.most))) / Fraction("0.6")
    )


def test_a_rate_without_a_margin_adds_the_pay() -> None:
    found = planned(HEAD + KIT + EARRING, stock_of(), Terms(rate=Decimal(20)))
    assert found.price is None
    assert found.cost is not None
    assert found.pay is not None
    assert found.finished is not None
    assert found.finished.least == found.cost + found.pay.least


def test_what_is_missing_is_listed_and_nothing_is_summed() -> None:
    text = "currency: EUR\nrings:\n  - {inner: 5 mm, wire: 1.2 mm, metal: copper, pack: 100, price: 4.50}\n"
    found = planned(HEAD + KIT + EARRING, stock_of(text), Terms(margin=Decimal("0.4"), rate=Decimal(1)))
    assert [line.kind.name for line in found.missing] == ["large", "small", "hook", "drop"]
    assert (found.cost, found.order, found.price, found.pay, found.finished) == (None,) * 5


def test_without_a_stock_nothing_is_missing_and_nothing_costs() -> None:
    found = planned(HEAD + KIT + EARRING)
    assert (found.currency, found.missing, found.cost) == (None, (), None)


def test_of_equal_costs_the_one_with_less_left_over_is_taken_then_the_first() -> None:
    ring = "  - {inner: 5 mm, wire: 1.2 mm, metal: brass, pack: %d, price: 5, supplier: %s}\n"
    text = "currency: EUR\nrings:\n" + ring % (100, "A") + ring % (50, "B") + ring % (50, "C")
    order = lines_of(planned(HEAD + KIT + EARRING, stock_of(text)))["large"].order
    assert order is not None
    assert (order.pack.supplier, order.left) == ("B", 10)


@given(
    st.integers(1, 3000),
    st.lists(st.tuples(st.integers(1, 400), st.integers(0, 10**7)), min_size=1, max_size=4),
)
def test_packs_are_enough_none_too_many_and_the_cheapest(sets: int, packs: list[tuple[int, int]]) -> None:
    ring = "  - {inner: 5 mm, wire: 1.2 mm, metal: brass, pack: %d, price: %s, code: c%d}\n"
    text = "currency: EUR\nrings:\n" + "".join(
        ring % (size, f"{Decimal(price).scaleb(-4):f}", number) for number, (size, price) in enumerate(packs)
    )
    line = lines_of(planned(HEAD + KIT + EARRING, stock_of(text), Terms(sets=sets)))["large"]
    order = line.order
    assert order is not None
    size, price = order.pack.size, Fraction(str(order.pack.price))
    assert line.total == 40 * sets
    assert 0 <= order.left < size
    assert order.packs * size == line.total + order.left
    paid = order.packs * price
    assert paid == min(-(-line.total // each) * Fraction(cost, 10**4) for each, cost in packs)
    assert order.price == half_up(paid)
    assert order.cost == half_up(40 * price / size)


@given(st.integers(0, 10**8), st.integers(0, 9999))
def test_a_price_is_the_cost_over_what_the_margin_leaves(cents: int, part: int) -> None:
    price = f"{Decimal(cents).scaleb(-2):f}"
    margin = Decimal(part).scaleb(-4)
    found = planned(HEAD + KIT + EARRING, stock_of(STOCK.replace("5.10", price)), Terms(margin=margin))
    assert found.cost is not None
    assert found.price == half_up(Fraction(str(found.cost)) / (1 - Fraction(str(margin))))


def test_half_up_here_is_half_up_there() -> None:
    assert half_up(Fraction("0.125")) == Decimal("0.125").quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert half_up(Fraction("2.675")) == Decimal("2.68")


def test_even_one_ring_is_cut_from_a_coil_and_none_from_none() -> None:
    text = HEAD + KIT.replace("9 small", "1 small") + EARRING
    one = lines_of(planned(text, terms=Terms(kerf_mm=Decimal("0.3"))))["small"]
    assert (one.total, one.coil.turns if one.coil else None) == (1, 2)
    assert lines_of(planned(text))["small"].coil is None
    assert lines_of(planned(text, terms=Terms(kerf_mm=Decimal("0.3"))))["hook"].coil is None
