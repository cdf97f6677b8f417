"""The kit list as text for a terminal, as CSV and as JSON; in: a weave and a `Plan`, out: one string.

Of CSV a line is a kind. A cell of text that a table program could take for a formula (it begins with `=`, `+`, `-`,
`@`, a tab or a carriage return) gets an apostrophe before it, as OWASP's page on CSV injection advises; numbers are
never negative but for a spare, which stays a number.
"""

from __future__ import annotations

import csv
import json
import textwrap
from collections.abc import Iterator, Sequence
from decimal import Decimal
from io import StringIO

from compiler.catalogue import kit_english as say
from compiler.cutting import Coil
from compiler.price import Amounts, Line, Plan
from compiler.report import printable
from compiler.weave import RingKind, Weave
from notation.lengths import in_mm, rounded

FORMAT = "annulet-kit"
VERSION = 1

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What a table program may take for the beginning of a formula; the wide signs count where they are typed for it."""
_WIDTH = 100
_GAP = "  "

COLUMNS = (
    "kind",
    "name",
    "type",
    "inner_mm",
    "wire_mm",
    "metal",
    "needed",
    "spare",
    "in_kit",
    "kits",
    "total",
    "in_stock",
    "pack",
    "packs",
    "left_over",
    "pack_price",
    "order_price",
    "kit_cost",
    "currency",
    "supplier",
    "code",
)
"""Columns of the CSV, in order. `in_stock` is yes, no, or empty without a stock."""


def as_text(weave: Weave, plan: Plan) -> str:
    """The list for people."""
    return "\n".join(_lines(weave, plan)) + "\n"


def _lines(weave: Weave, plan: Plan) -> Iterator[str]:
    yield from _headed(printable(say.one_kit(weave.title)))
    if plan.terms.changes:
        yield say.with_changes(plan.terms.changes)
    yield from _table(
        (say.KIND, say.SIZES, say.METAL, say.NEEDED, say.SPARE, say.IN_KIT),
        [
            (
                name_of(line),
                sizes_of(line),
                line.kind.metal or say.NONE,
                str(line.needed),
                str(line.spare),
                str(line.count),
            )
            for line in plan.lines
        ],
        "lllrrr",
    )
    by_pattern = any(line.by_pattern for line in plan.lines)
    by_allowance = any(not line.by_pattern for line in plan.lines)
    spare = plan.terms.spare
    yield ""
    yield from _wrapped(say.spare_note(spare.share, spare.least, by_pattern, by_allowance))
    if plan.masses:
        yield ""
        yield from _headed(say.MASSES)
        heads = (say.METAL, say.MASS, say.OUNCES, say.TROY_OUNCES)
        yield from _table(heads, [(metal, *say.mass(grams)) for metal, grams in plan.masses], "lrrr")
    if plan.terms.kerf_mm is not None:
        yield ""
        yield from _cutting(plan, plan.terms.kerf_mm)
    if plan.currency is not None:
        yield ""
        yield from _buying(plan, plan.currency)


def _cutting(plan: Plan, kerf_mm: Decimal) -> Iterator[str]:
    yield from _headed(say.to_cut(plan.terms.sets, kerf_mm))
    rows = [
        (
            name_of(line),
            in_mm(line.coil.mandrel_mm, 2),
            str(line.coil.turns),
            in_mm(line.coil.length_mm, 1),
            say.metres(line.coil.wire_mm),
        )
        for line in plan.lines
        if line.coil is not None
    ]
    yield from _table((say.KIND, say.MANDREL, say.TURNS, say.COIL, say.WIRE), rows, "lrrrr")
    yield ""
    yield from _wrapped(say.CUTTING_NOTE)


def _buying(plan: Plan, currency: str) -> Iterator[str]:
    bought = [(line, line.order) for line in plan.lines if line.order is not None]
    if bought:
        yield from _headed(say.to_buy(plan.terms.sets))
        yield from _table(
            (say.KIND, say.TOTAL, say.PACK, say.PACKS, say.LEFT, say.PRICE, say.COST, say.SUPPLIER, say.CODE),
            [
                (
                    name_of(line),
                    str(line.total),
                    str(order.pack.size),
                    str(order.packs),
                    str(order.left),
                    f"{order.price:.2f}",
                    f"{order.cost:.2f}",
                    order.pack.supplier or say.NONE,
                    order.pack.code or say.NONE,
                )
                for line, order in bought
            ],
            "lrrrrrrll",
        )
        yield ""
    if plan.missing:
        yield from _wrapped(printable(say.missing([_described(line) for line in plan.missing])))
        return
    yield from _money(plan, currency)
    yield ""
    yield from _wrapped(say.MONEY_NOTE if plan.pay is None else f"{say.MONEY_NOTE} {say.TIME_NOTE}")


def _money(plan: Plan, currency: str) -> Iterator[str]:
    terms = plan.terms
    # Nothing is missing from the stock here, so both are known.
    assert plan.cost is not None and plan.order is not None
    yield say.cost(currency, plan.cost)
    yield say.order(currency, terms.sets, plan.order)
    if plan.price is not None and terms.margin is not None:
        yield say.kit_price(currency, plan.price, terms.margin)
    if plan.pay is not None and terms.rate is not None:
        time = say.minutes(plan.time.least, plan.time.most)
        yield say.pay(currency, terms.rate, plan.pay.least, plan.pay.most, time)
    if plan.finished is not None:
        yield say.finished(currency, plan.finished.least, plan.finished.most, terms.margin)


def name_of(line: Line) -> str:
    """What a line is called in print."""
    return say.noun(line.kind.singular, line.kind.plural, line.count)


def sizes_of(line: Line) -> str:
    """The sizes of a ring, the type of a finding."""
    kind = line.kind
    return say.ring_sizes(kind.inner_mm, kind.wire_mm) if isinstance(kind, RingKind) else kind.type


def _described(line: Line) -> str:
    metal = f", {line.kind.metal}" if line.kind.metal else ""
    return f"{line.kind.name} ({sizes_of(line)}{metal})"


def _headed(text: str) -> Iterator[str]:
    yield text
    yield "-" * min(len(text), _WIDTH)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, break_long_words=False, break_on_hyphens=False)


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]], sides: str) -> Iterator[str]:
    """Columns as wide as their widest cell; `sides` says for each whether it is set left or right."""
    shown = [[printable(cell) for cell in row] for row in [heads, *rows]]
    widths = [max(len(row[column]) for row in shown) for column in range(len(heads))]
    for row in shown:
        cells = [
            cell.rjust(width) if side == "r" else cell.ljust(width)
            for cell, width, side in zip(row, widths, sides, strict=True)
        ]
        yield _GAP.join(cells).rstrip()


# ---------------------------------------------------------------- for machines


def as_csv(plan: Plan) -> str:
    """A line a kind under a line of heads; RFC 4180, so that lines end in a carriage return and a line feed."""
    out = StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for line in plan.lines:
        row = _row(plan, line)
        writer.writerow([_cell(row[column]) for column in COLUMNS])
    return out.getvalue()


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{value:f}"
    text = str(value)
    return printable(f"'{text}" if isinstance(value, str) and text.startswith(_FORMULA) else text)


def as_json(weave: Weave, plan: Plan) -> str:
    """All of it. Money and lengths are texts of plain digits, so that nothing is lost in a binary number."""
    terms = plan.terms
    report = {
        "format": FORMAT,
        "version": VERSION,
        "title": weave.title,
        "changes": terms.changes,
        "kits": terms.sets,
        "spare": {"share": _digits(terms.spare.share), "least": terms.spare.least},
        "margin": _digits(terms.margin),
        "rate": _digits(terms.rate),
        "currency": plan.currency,
        "lines": [{name: _value(value) for name, value in _row(plan, line).items()} for line in plan.lines],
        "kerf_mm": _digits(terms.kerf_mm),
        "cutting": [_cut(line.kind.name, line.coil) for line in plan.lines if line.coil is not None],
        "kit_mass_g": {metal: _digits(rounded(grams, 3)) for metal, grams in plan.masses},
        "missing": [line.kind.name for line in plan.missing],
        "kit_cost": _digits(plan.cost),
        "order_price": _digits(plan.order),
        "kit_price": _digits(plan.price),
        "minutes": [plan.time.least, plan.time.most],
        "pay": _range(plan.pay),
        "finished_price": _range(plan.finished),
    }
    return json.dumps(report, indent=2, ensure_ascii=False) + "\n"


def _cut(kind: str, coil: Coil) -> dict[str, object]:
    """A coil, its lengths rounded half up to 0.01 mm."""
    lengths = {"mandrel_mm": coil.mandrel_mm, "coil_mm": coil.length_mm, "wire_mm": coil.wire_mm}
    rounds = {name: _digits(rounded(length, 2)) for name, length in lengths.items()}
    return {"kind": kind, "turns": coil.turns, **rounds}


def _value(value: object) -> object:
    return _digits(value) if isinstance(value, Decimal) else value


def _digits(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:f}"


def _range(amounts: Amounts | None) -> list[str | None] | None:
    return None if amounts is None else [_digits(amounts.least), _digits(amounts.most)]


def _row(plan: Plan, line: Line) -> dict[str, str | int | Decimal | None]:
    """The values of a line by column; None where there is none."""
    kind, order = line.kind, line.order
    is_ring = isinstance(kind, RingKind)
    return {
        "kind": kind.name,
        "name": name_of(line),
        "type": "ring" if isinstance(kind, RingKind) else kind.type,
        "inner_mm": kind.inner_mm if isinstance(kind, RingKind) else None,
        "wire_mm": kind.wire_mm if is_ring else None,
        "metal": kind.metal,
        "needed": line.needed,
        "spare": line.spare,
        "in_kit": line.count,
        "kits": plan.terms.sets,
        "total": line.total,
        "in_stock": None if plan.currency is None else order is not None,
        "pack": order.pack.size if order else None,
        "packs": order.packs if order else None,
        "left_over": order.left if order else None,
        "pack_price": order.pack.price if order else None,
        "order_price": order.price if order else None,
        "kit_cost": order.cost if order else None,
        "currency": plan.currency,
        "supplier": order.pack.supplier if order else None,
        "code": order.pack.code if order else None,
    }
