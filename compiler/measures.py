"""Lengths, shares and hourly rates that are typed outside a pattern: on the command line, in a YAML file.

In: a text. Out: an exact number, or `MeasureError` with one sentence for whoever typed it. A length is written as in
a pattern, the blank before its unit left out at will: `5 mm`, `0.5cm`, `3/16 in`, `18 awg`.
"""

from __future__ import annotations

import re
from decimal import Context, Decimal, DivisionByZero, Inexact, InvalidOperation

from notation.lengths import (
    HIGHEST_GAUGE,
    LONGEST_MM,
    LOWEST_GAUGE,
    MOST_DECIMALS,
    Length,
    LengthProblem,
    LengthUnit,
    gauge_confusion,
    length_problem,
    plain,
)

_EXACT = Context(prec=40, traps=[Inexact, InvalidOperation, DivisionByZero])
_LENGTH = re.compile(r"([0-9]{1,30}(?:\.[0-9]{1,30})?)(?:/([0-9]{1,30}))? ?([A-Za-z]*)")
_NUMBER = re.compile(r"[0-9]{1,15}(?:\.[0-9]{1,15})?")
_GAUGE_WORDS = ("g", "ga", "gauge")
_LONGEST_SHOWN = 40

_SAYS = {
    LengthProblem.NOT_POSITIVE: "a length is more than nothing",
    LengthProblem.TOO_LONG: f"no length here is more than {plain(LONGEST_MM)} mm",
    LengthProblem.TOO_MANY_DECIMALS: f"a length has at most {MOST_DECIMALS} decimal places",
    LengthProblem.GAUGE_NOT_WHOLE: "a gauge is a whole number",
    LengthProblem.GAUGE_OUT_OF_TABLE: f"gauges go from {LOWEST_GAUGE} to {HIGHEST_GAUGE}",
}


class MeasureError(Exception):
    """A text that is not what it should be; the message is one sentence without a full stop."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


def read_length(text: str) -> Length:
    """A length with its unit. Raises MeasureError."""
    match = _LENGTH.fullmatch(text.strip())
    if match is None:
        raise MeasureError(f"`{shown(text)}` is no length; write it as in `5 mm`, `3/16 in` or `18 awg`")
    number, below, word = match.groups()
    unit = next((unit for unit in LengthUnit if unit.value == word), None)
    if unit is None:
        raise MeasureError(_of_unit(number, word))
    value = Decimal(number)
    if below is not None:
        if unit is not LengthUnit.INCH or "." in number:
            raise MeasureError(
                f"`{shown(text)}`: a fraction is one of inches, of two whole numbers: `3/16 in`"
            )
        try:
            value = _EXACT.divide(value, Decimal(below))
        except (Inexact, InvalidOperation, DivisionByZero) as error:
            raise MeasureError(f"`{shown(text)}`: {_SAYS[LengthProblem.TOO_MANY_DECIMALS]}") from error
    problem = length_problem(value, unit)
    if problem is not None:
        raise MeasureError(f"`{shown(text)}`: {_SAYS[problem]}")
    return Length(value=value, unit=unit)


def _of_unit(number: str, word: str) -> str:
    if word.lower() not in _GAUGE_WORDS:
        found = f"`{shown(word)}` is no unit here" if word else f"`{number}` has no unit"
        return f"{found}; write `mm`, `cm`, `in`, `awg` or `swg`"
    both = gauge_confusion(int(number)) if number.isdigit() and len(number) < 4 else None
    if both is None:
        return "a gauge is written `awg` or `swg`"
    return (
        f"gauge {number} alone could be {plain(both.awg_mm)} mm (`{number} awg`) or {plain(both.swg_mm)} mm "
        f"(`{number} swg`)"
    )


def read_share(text: str) -> Decimal:
    """A percentage as a part of one: `5%` is 0.05. Raises MeasureError."""
    number = text.strip().removesuffix("%").strip()
    if not text.strip().endswith("%") or not _NUMBER.fullmatch(number):
        raise MeasureError(f"`{shown(text)}` is no percentage; write it as in `5%` or `7.5%`")
    return Decimal(number).scaleb(-2)


def read_hourly(text: str) -> Decimal:
    """Money for an hour: `18/h` is 18. Raises MeasureError."""
    number = text.strip().removesuffix("/h").strip()
    if not text.strip().endswith("/h") or not _NUMBER.fullmatch(number):
        raise MeasureError(f"`{shown(text)}` is no hourly rate; write it as in `18/h` or `18.50/h`")
    return Decimal(number)


def shown(text: str) -> str:
    """The text, cut and its odd characters left out, to be repeated in a message."""
    kept = "".join(character if character.isprintable() else "?" for character in text)
    return kept if len(kept) <= _LONGEST_SHOWN else f"{kept[:_LONGEST_SHOWN]}..."
