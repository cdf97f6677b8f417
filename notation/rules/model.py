"""What a rule is. The rules themselves stand in the sibling files, a family each, and `table` gathers them.

A template is filled with `str.format`-like fields in braces, `{name}`; a field that ends in `s?` does not exist:
plural forms are variants of their own. Texts are English; another language is another set of these files.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from notation.diagnostic import Severity


class Wording(Struct, frozen=True, kw_only=True):
    """One way to say that a rule was broken."""

    says: str
    """What is wrong, one sentence without a full stop, naming the thing concerned."""
    hint: str = ""
    """What to do, a sentence, or empty."""


class Rule(Struct, frozen=True, kw_only=True):
    """A rule with a stable name."""

    name: str
    severity: Severity
    title: str
    """A short noun phrase."""
    wordings: Mapping[str, Wording]
    """By variant; most rules have just the variant ""."""
    page: str
    """What `annulet explain` prints: what it means, why it matters at the bench, what to do, a small example."""
