"""What a style file can say, and sizes of paper by name: types alone. `compiler.housestyle` reads such a file."""

from __future__ import annotations

from dataclasses import dataclass

from compiler.booklet.house import House
from compiler.booklet.style import Paper
from compiler.kit import USUAL_RATES, Rates

PAPERS = {"a4": Paper.A4, "letter": Paper.LETTER}
"""The sizes of paper by the name that is typed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseStyle:
    """All that a style file says."""

    house: House = House()
    paper: Paper | None = None
    """None where the file does not say."""
    rates: Rates = USUAL_RATES
