"""Rules of the booklet: what keeps a checked pattern from being printed."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="no-glyph",
        severity=Severity.ERROR,
        title="a character that cannot be printed",
        wordings={
            "": Wording(
                says='the booklet\'s type has no {characters}, which stands in "{text}"',
                hint="Write it in Latin, Greek or Cyrillic letters.",
            ),
            "name": Wording(
                says='the booklet\'s type has no {characters}, which stands in "{text}"',
                hint="Write it in Latin, Greek or Cyrillic letters, or give it a label that is so.",
            ),
        },
        page="""\
The booklet is set in one type family, so that it looks the same from every machine. It has the Latin, Greek
and Cyrillic letters, figures, and the signs that instructions use, and no others: emoji, Chinese, Arabic or
Indian letters would come out as empty boxes. Rather than print a box, the booklet is not made.

    title "Lyra ✨"

A name that is printed because it has no label counts too; a label cures it:

    label 鎖 "chain"

What to do: write the text with letters that the type has. Checking and formatting do not mind.
""",
    ),
)

NOTES: Mapping[str, str] = MappingProxyType({})
"""No notes of its own."""
