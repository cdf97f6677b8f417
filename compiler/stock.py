"""What a shop or a drawer has: reads the stock file that `annulet kit` prices a pattern with.

In: YAML as `notation/stock.md` describes it. Out: a `Stock`, or problems with their places. Read once, before
anything is counted. Prices are exact decimals; nothing is rounded here.

    currency: EUR
    rings:
      - {inner: 5 mm, wire: 0.9 mm, metal: copper, pack: 100, price: 4.50}
    findings:
      - {name: hook, pack: 10, price: 3.20}
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from compiler.measures import MeasureError, read_length, shown
from compiler.yamlread import YamlNode, YamlProblem, YamlTaker, did_you_mean, read_yaml
from notation.lengths import Length
from notation.metals import METALS, UNCLEAR, Metal, find_metal
from notation.source import Source

LARGEST_PACK = 1_000_000
HIGHEST_PRICE = Decimal(1_000_000)
PRICE_DECIMALS = 4
"""Most decimals of a pack's price: single rings cost parts of a cent."""
MOST_ITEMS = 5000
_LONGEST_TEXT = 120

_CURRENCY = re.compile(r"[A-Z]{3}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """How something is sold."""

    size: int
    """Pieces in a pack."""
    price: Decimal
    """Of a pack, in the currency of the stock."""
    supplier: str
    """Empty where none is given."""
    code: str
    """The supplier's number for it; empty where none is given."""
    line: int
    """Where it stands in the file, from 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockRing:
    """Rings of one size and metal, in packs."""

    inner_mm: Decimal
    wire_mm: Decimal
    metal: str
    """The name, not an alias."""
    pack: Pack


@dataclass(frozen=True, slots=True, kw_only=True)
class StockFinding:
    """Findings of one name, in packs."""

    name: str
    """What patterns call it: the name after `finding`."""
    type: str | None
    """Its type, where only a finding of that type is meant."""
    metal: str | None
    """The name of its metal, where only that metal is meant."""
    pack: Pack


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Everything that can be bought."""

    currency: str
    """A code of three letters, as ISO 4217 has them."""
    rings: tuple[StockRing, ...]
    findings: tuple[StockFinding, ...]


def load_stock(
    source: Source, metals: Mapping[str, Metal] = METALS
) -> tuple[Stock | None, tuple[YamlProblem, ...]]:
    """The stock of a file; None where there are problems, which are in the order of the file."""
    root, problems = read_yaml(source)
    if problems:
        return None, problems
    taker = YamlTaker(source)
    reader = _Reader(source, taker, metals)
    stock = reader.stock(root)
    return (None, taker.problems) if taker.problems else (stock, ())


class _Reader:
    """One file being read: what it has so far, so that nothing is there twice."""

    def __init__(self, source: Source, taker: YamlTaker, metals: Mapping[str, Metal]) -> None:
        self._source = source
        self._taker = taker
        self._metals = metals
        self._lines: dict[tuple[object, ...], int] = {}

    def stock(self, root: YamlNode | None) -> Stock | None:
        parts = self._taker.mapping(root, ("currency",), ("rings", "findings")) or {}
        currency = self._taker.text(parts.get("currency"))
        if currency is not None and not _CURRENCY.fullmatch(currency):
            message = f"`{shown(currency)}` is no currency; write three capital letters, as in `EUR`"
            self._taker.problem(parts["currency"], message)
        rings = [self._ring(node) for node in self._items(parts.get("rings"))]
        findings = [self._finding(node) for node in self._items(parts.get("findings"))]
        return Stock(
            currency=currency or "",
            rings=tuple(ring for ring in rings if ring is not None),
            findings=tuple(finding for finding in findings if finding is not None),
        )

    def _items(self, node: YamlNode | None) -> tuple[YamlNode, ...]:
        items = self._taker.sequence(node) or ()
        if node is not None and len(items) > MOST_ITEMS:
            self._taker.problem(node, f"there are more than {MOST_ITEMS} items here")
            return ()
        return items

    def _ring(self, node: YamlNode) -> StockRing | None:
        fields = self._taker.mapping(node, ("inner", "wire", "metal", "pack", "price"), ("supplier", "code"))
        if fields is None:
            return None
        inner, wire = self._length(fields.get("inner")), self._length(fields.get("wire"))
        metal, pack = self._metal(fields.get("metal")), self._pack(node, fields)
        if inner is None or wire is None or metal is None or pack is None:
            return None
        if not self._is_new(node, ("ring", inner.mm, wire.mm, metal, pack.size, pack.supplier, pack.code)):
            return None
        return StockRing(inner_mm=inner.mm, wire_mm=wire.mm, metal=metal, pack=pack)

    def _finding(self, node: YamlNode) -> StockFinding | None:
        optional = ("type", "metal", "supplier", "code")
        fields = self._taker.mapping(node, ("name", "pack", "price"), optional)
        if fields is None:
            return None
        name, type_ = self._text(fields.get("name")), self._text(fields.get("type"))
        metal, pack = self._metal(fields.get("metal")), self._pack(node, fields)
        if name is None or pack is None:
            return None
        if not self._is_new(node, ("finding", name, type_, metal, pack.size, pack.supplier, pack.code)):
            return None
        return StockFinding(name=name, type=type_, metal=metal, pack=pack)

    def _pack(self, node: YamlNode, fields: Mapping[str, YamlNode]) -> Pack | None:
        size = self._taker.integer(fields.get("pack"))
        if size is not None and not 1 <= size <= LARGEST_PACK:
            self._taker.problem(fields["pack"], f"a pack holds from 1 to {LARGEST_PACK} pieces, not {size}")
            size = None
        price = self._price(fields.get("price"))
        supplier, code = self._text(fields.get("supplier")), self._text(fields.get("code"))
        if size is None or price is None:
            return None
        line = self._source.position(node.span.start).line
        return Pack(size=size, price=price, supplier=supplier or "", code=code or "", line=line)

    def _price(self, node: YamlNode | None) -> Decimal | None:
        price = self._taker.decimal(node)
        if node is None or price is None:
            return None
        exponent = price.as_tuple().exponent
        if not 0 <= price <= HIGHEST_PRICE:
            self._taker.problem(node, f"a price is from 0 to {HIGHEST_PRICE}, not `{price:f}`")
            return None
        if isinstance(exponent, int) and -exponent > PRICE_DECIMALS:
            self._taker.problem(node, f"a price has at most {PRICE_DECIMALS} decimals: `{price:f}`")
            return None
        return price

    def _length(self, node: YamlNode | None) -> Length | None:
        text = self._taker.text(node)
        if node is None or text is None:
            return None
        try:
            return read_length(text)
        except MeasureError as error:
            self._taker.problem(node, error.message)
            return None

    def _metal(self, node: YamlNode | None) -> str | None:
        name = self._text(node)
        if node is None or name is None:
            return None
        metal = find_metal(name, self._metals)
        if metal is not None:
            return metal.name
        if name in UNCLEAR:
            hint = f"; it could be {' or '.join(f'`{choice}`' for choice in UNCLEAR[name])}"
        else:
            hint = did_you_mean(name, self._metals) or "; `annulet metals` lists them"
        self._taker.problem(node, f"`{shown(name)}` is not among the metals{hint}")
        return None

    def _text(self, node: YamlNode | None) -> str | None:
        text = self._taker.text(node)
        if node is None or text is None:
            return None
        if not text.strip() or "\n" in text or "\t" in text or len(text) > _LONGEST_TEXT:
            self._taker.problem(
                node, f"a text of one line is expected here, of at most {_LONGEST_TEXT} characters"
            )
            return None
        return text

    def _is_new(self, node: YamlNode, key: tuple[object, ...]) -> bool:
        line = self._source.position(node.span.start).line
        first = self._lines.setdefault(key, line)
        if first != line:
            self._taker.problem(node, f"this is in the stock twice; it is first in line {first}")
            return False
        return True
