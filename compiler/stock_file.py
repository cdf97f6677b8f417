"""A file of ring sizes that a shop or a drawer has; in: YAML, out: sizes, and problems with their places.

    - inner: 5 mm
      wire: 0.9 mm
    - inner: 3/16 in
      wire: 18 awg

A list; each entry has an inner diameter and a wire, with units as in a pattern. Read once, for `annulet fit --stock`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from compiler.yamlread import YamlNode, YamlProblem, YamlTaker, read_yaml
from notation.lengths import Length, LengthUnit, in_mm, length_problem
from notation.source import Source

MOST_SIZES = 200
"""Sizes in one file."""

_NUMBER = re.compile(r"([0-9]{1,12}(?:\.[0-9]{1,12})?)(?:/([1-9][0-9]{0,2}))? ?(mm|cm|in)")
_GAUGE = re.compile(r"([0-9]{1,3}) (awg|swg)")


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSize:
    """A size of ring that is to be had, exact in mm."""

    inner_mm: Decimal
    wire_mm: Decimal

    def __str__(self) -> str:
        """`5 mm, wire 0.9 mm`."""
        return f"{in_mm(self.inner_mm)}, wire {in_mm(self.wire_mm)}"


def load_stock(source: Source) -> tuple[tuple[StockSize, ...], tuple[YamlProblem, ...]]:
    """The sizes in the order of the file, and what is wrong with it: use them only if nothing is."""
    root, problems = read_yaml(source)
    if problems:
        return (), problems
    taker = YamlTaker(source)
    items = taker.sequence(root) or ()
    if root is not None and len(items) > MOST_SIZES:
        taker.problem(root, f"there are more than {MOST_SIZES} sizes in the list")
        items = ()
    found: dict[StockSize, None] = {}
    for item in items:
        size = _size(taker, item)
        if size is None:
            continue
        if size in found:
            taker.problem(item, f"the size {size} is in the list already")
        found[size] = None
    if root is not None and not items and not taker.problems:
        taker.problem(root, "there is no size in the list")
    return tuple(found), taker.problems


def _size(taker: YamlTaker, node: YamlNode) -> StockSize | None:
    fields = taker.mapping(node, ("inner", "wire")) or {}
    inner = _length(taker, fields.get("inner"), gauge=False)
    wire = _length(taker, fields.get("wire"), gauge=True)
    return None if inner is None or wire is None else StockSize(inner_mm=inner, wire_mm=wire)


def _length(taker: YamlTaker, node: YamlNode | None, *, gauge: bool) -> Decimal | None:
    """A length in mm; a gauge only where it is allowed."""
    text = taker.text(node)
    if node is None or text is None:
        return None
    plain, number = _NUMBER.fullmatch(text), _GAUGE.fullmatch(text)
    if number is not None and gauge:
        value, unit = Decimal(number[1]), LengthUnit(number[2])
    elif plain is not None:
        value, unit = Decimal(plain[1]), LengthUnit(plain[3])
        if plain[2] is not None:
            value = (value / Decimal(plain[2])).quantize(Decimal("0.000001")).normalize()
    else:
        examples = "`0.9 mm`, `18 awg` or `1/32 in`" if gauge else "`5 mm`, `0.5 cm` or `3/16 in`"
        taker.problem(node, f"a length with its unit is expected here, as in {examples}")
        return None
    if length_problem(value, unit) is not None:
        taker.problem(
            node, f"`{text}` is no size for a ring: it is zero, out of the tables, too long or too fine"
        )
        return None
    return Length(value=value, unit=unit).mm
