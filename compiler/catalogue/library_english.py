"""The words of a library's index and catalogue in English; in: numbers and names, out: text ready to print."""

from __future__ import annotations

from decimal import Decimal

from notation.lengths import in_mm, plain, rounded

SUBJECT = "A catalogue of patterns for woven-ring jewellery"
TITLE = "Patterns"
PATTERNS = "Pieces"
FAMILIES = "Weaves"
WRITTEN_BY = (
    "Written by `annulet catalogue` from the texts and what is kept beside them: change those, not this page."
)
HEADS = ("Figure", "Pattern", "Rings", "Ratio", "Smallest ratio", "Slack")
WEAVE_HEADS = ("Figure", "Weave", "Rings", "Ratio", "Smallest ratio", "Slack")
RING, COUNT, SIZE, RATIO, TIGHTEST = "Ring", "Count", "Inside ⌀ × wire", "Ratio", "Smallest"
NOT_KNOWN = "–"
SCHEMATIC = "schematic: no layout was found"
HOW_TO_READ = (
    "Ratio is the inside diameter divided by the wire. Slack is the factor by which all wire of a piece was made "
    "thicker, at the same inside diameters, and its rings could still be placed and proved; the smallest ratio is what "
    "is left of the ratio then. A dash says that nothing was measured; a layout that was not found may still exist. "
    "Figures are drawn from places of the rings that are proved; where none were found they are schematic, and say so."
)
FAMILIES_LEAD = (
    "Each is a unit that a pattern can use and make in any size. The figures and counts are those of the sizes "
    "that it has when nothing is said."
)


def counted(patterns: int, weaves: int, families: int) -> str:
    """What is in the library."""
    made = _number(patterns, "pattern", "patterns"), _number(weaves, "weave", "weaves")
    return f"{made[0]}, and {made[1]} in {_number(families, 'family', 'families')}."


def _number(count: int, singular: str, plural: str) -> str:
    return f"{count} {singular if count == 1 else plural}"


def of_kind(count: int, label: str) -> str:
    """How many of one kind."""
    return f"{count} {label}"


def size(inner: Decimal, wire: Decimal) -> str:
    """Inside diameter by wire."""
    return f"{plain(inner, 2)} × {in_mm(wire, 2)}"


def ratio(value: Decimal | None) -> str:
    """An aspect ratio to two places."""
    return NOT_KNOWN if value is None else f"{rounded(value, 2):f}"


def made(label: str, times: int) -> str:
    """A piece among others, and how often it is made."""
    return label if times == 1 else f"{label}, made {times} times"


def facts(level: str, by: str, version: str, licence: str) -> str:
    """What a pattern says of itself, on one line."""
    parts = [level, f"by {by}" if by else "", f"version {version}" if version else "", licence]
    return " · ".join(part for part in parts if part)


def slack(factor: Decimal | None) -> str:
    """The slack of a piece."""
    return NOT_KNOWN if factor is None else f"{factor:f}"


def slack_said(factor: Decimal | None) -> str:
    """The slack in a sentence."""
    return "Slack: not measured." if factor is None else f"Slack: at least {factor:f} times this wire."
