"""All rules and notes of the expansion, for the table."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.rules.expansion import (
    declarations,
    expecting,
    families,
    findings,
    limits,
    lying,
    making,
    names,
    numbers,
    picking,
    units,
)
from notation.rules.model import Rule

RULES: tuple[Rule, ...] = (
    *names.RULES,
    *numbers.RULES,
    *making.RULES,
    *findings.RULES,
    *picking.RULES,
    *families.RULES,
    *lying.RULES,
    *units.RULES,
    *declarations.RULES,
    *expecting.RULES,
    *limits.RULES,
)

NOTES: Mapping[str, str] = MappingProxyType({**names.NOTES, **units.NOTES})
