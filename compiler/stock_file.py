"""Ring sizes that a shop or a drawer has; in: YAML, out: sizes, and problems with their places.

    - {inner: 5 mm, wire: 0.9 mm}
    - {inner: 3/16 in, wire: 18 awg}

A list, each entry an inner diameter and a wire, with units as in a pattern. The stock file of `annulet kit`
(`compiler.stock`) will do as well: its rings are taken, whatever their metal. Read once, for `annulet fit --stock`.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from compiler.measures import MeasureError, read_length
from compiler.stock import load_stock
from compiler.yamlread import YamlMapping, YamlNode, YamlProblem, YamlTaker, read_yaml
from notation.lengths import in_mm
from notation.source import Source

MOST_SIZES = 200
"""Sizes in one file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSize:
    """A size of ring that is to be had, exact in mm."""

    inner_mm: Decimal
    wire_mm: Decimal

    def __str__(self) -> str:
        """`5 mm, wire 0.9 mm`."""
        return f"{in_mm(self.inner_mm)}, wire {in_mm(self.wire_mm)}"


def load_sizes(source: Source) -> tuple[tuple[StockSize, ...], tuple[YamlProblem, ...]]:
    """The sizes in the order of the file, and what is wrong with it: use them only if nothing is."""
    root, problems = read_yaml(source)
    if problems:
        return (), problems
    taker = YamlTaker(source)
    if isinstance(root, YamlMapping):
        stock, problems = load_stock(source)
        rings = () if stock is None else stock.rings
        found = dict.fromkeys(StockSize(inner_mm=ring.inner_mm, wire_mm=ring.wire_mm) for ring in rings)
        if problems:
            return (), problems
    else:
        found = _listed(taker, taker.sequence(root) or ())
    if root is not None and not taker.problems:
        if not found:
            taker.problem(root, "there is no size of ring in the file")
        elif len(found) > MOST_SIZES:
            taker.problem(root, f"there are more than {MOST_SIZES} sizes in the file")
    return tuple(found), taker.problems


def _listed(taker: YamlTaker, items: tuple[YamlNode, ...]) -> dict[StockSize, None]:
    """The sizes of a plain list."""
    found: dict[StockSize, None] = {}
    for item in items:
        fields = taker.mapping(item, ("inner", "wire")) or {}
        inner, wire = _length(taker, fields.get("inner")), _length(taker, fields.get("wire"))
        if inner is None or wire is None:
            continue
        size = StockSize(inner_mm=inner, wire_mm=wire)
        if size in found:
            taker.problem(item, f"the size {size} is in the list already")
        found[size] = None
    return found


def _length(taker: YamlTaker, node: YamlNode | None) -> Decimal | None:
    """A length in mm."""
    text = taker.text(node)
    if node is None or text is None:
        return None
    try:
        return read_length(text).mm
    except MeasureError as error:
        taker.problem(node, error.message)
        return None
