"""Every rule and every note in one table, by name: what the report prints from and `annulet explain` looks up."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.rules import blocks, booklet, checks, editions, figures, files, fit, syntax
from notation.rules.expansion import family as expansion
from notation.rules.model import Rule

FAMILIES = (files, syntax, blocks, figures, expansion, editions, checks, booklet, fit)
"""The files of rules, in the order of the stages that tell them."""

RULES: Mapping[str, Rule] = MappingProxyType(
    {rule.name: rule for family in FAMILIES for rule in family.RULES}
)
"""Every rule by its name, family by family."""

NOTES: Mapping[str, str] = MappingProxyType(
    {key: text for family in FAMILIES for key, text in family.NOTES.items()}
)
"""Every note on a further place or on the way there, by its key."""
