"""The kept table of how tight each piece of a library sits; in: its text, out: rows, and the other way about.

A row holds for the problem whose key it bears (`compiler.kept.problem_key`): where rings, links or sizes have changed
since, it says nothing. The slack is what `annulet fit` tells: the largest factor found by which all wire can be thicker
at the same inner diameters. So a kind of ring was still made to settle at its aspect ratio divided by that factor.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

NAME = "fit.tsv"
"""Of the table, in the folder of the library."""
_HEAD = (
    "# Slack of each piece: the factor by which all its wire was made thicker at the same inner diameters,\n"
    "# with a proved layout still found.\n"
    "# Written by `annulet catalogue FOLDER --measure`.\n"
    "pattern\tpiece\tslack\tproblem\n"
)
_ROW = re.compile(r"([^\t]+)\t([^\t]+)\t([0-9]\.[0-9]{2})\t([0-9a-f]{64})")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A piece that was measured."""

    pattern: str
    """Path of its file from the folder of the library, with slashes."""
    piece: str
    slack: Decimal
    """To 0.01, cut: never more than was found."""
    key: str
    """Of the problem that was settled."""


def read_table(text: str) -> dict[tuple[str, str], Fitted]:
    """The rows by pattern and piece; lines that are none are passed by."""
    found = {}
    for line in text.splitlines():
        row = _ROW.fullmatch(line)
        if row is not None:
            found[row[1], row[2]] = Fitted(pattern=row[1], piece=row[2], slack=Decimal(row[3]), key=row[4])
    return found


def table_text(rows: Iterable[Fitted]) -> str:
    """The table, sorted."""
    ordered = sorted(rows, key=lambda row: (row.pattern, row.piece))
    return _HEAD + "".join(f"{row.pattern}\t{row.piece}\t{row.slack}\t{row.key}\n" for row in ordered)


def known(table: Mapping[tuple[str, str], Fitted], pattern: str, piece: str, key: str) -> Decimal | None:
    """The slack of a piece; None where it was not measured as it is now."""
    row = table.get((pattern, piece))
    return row.slack if row is not None and row.key == key else None


def tightest(aspect_ratio: Decimal, slack: Decimal) -> Decimal:
    """The smallest aspect ratio at which a kind of ring was still made to settle, to 0.01, rounded up."""
    return (aspect_ratio / slack).quantize(Decimal("0.01"), ROUND_CEILING)
