"""Lengths, wire gauges and ratios: exact numbers, their conversion to mm and their printing.

In: a number and a unit as written in a pattern. Out: `Length`, its value in mm as an exact `Decimal`, and the
words for it. Part of the vocabulary every stage speaks; it imports nothing of ours.

Everything here is decimal arithmetic in a context of its own that refuses to round, so no result depends on
the caller's settings; where a figure is rounded, it is rounded once, half up, as people do by hand. Printing
knows neither locale nor exponent: a full stop for the decimal point and nothing between thousands.
"""

from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Context, Decimal, DivisionByZero, Inexact, InvalidOperation, Overflow
from enum import Enum
from types import MappingProxyType
from typing import NamedTuple

from msgspec import Struct

# Longest numbers met here: 10 000 mm with 6 decimals, times 25.4. Anything that does not fit is our bug.
_EXACT = Context(prec=40, traps=[Inexact, InvalidOperation, DivisionByZero, Overflow])
_ROUNDING = Context(prec=40, rounding=ROUND_HALF_UP, traps=[InvalidOperation, DivisionByZero, Overflow])

LONGEST_MM = Decimal(10000)
"""Upper bound of any length, mm: no piece of jewellery is longer than ten metres; such a number is a slip."""
MOST_DECIMALS = 6
"""Most decimal places a number may be written with: enough for 1/64 in (0.015625) exactly."""
LOWEST_GAUGE = 12
HIGHEST_GAUGE = 30
"""The gauges that have a row in the tables, thickest and thinnest wire."""
MM_PER_INCH = Decimal("25.4")
"""Exact, by the international yard and pound agreement of 1959."""
MM_PER_CM = Decimal(10)
GAUGE_TOLERANCE = Decimal("0.03")
"""How far, as a part of the wire, the nearest gauge may lie and still be named: 3 %, about a quarter of the
step from one AWG number to the next (12 %). Chosen so that 0.9 mm has a gauge and 1.1 mm has none."""


class LengthUnit(Enum):
    """A unit of length as it is written after a number."""

    MM = "mm"
    CM = "cm"
    INCH = "in"
    AWG = "awg"
    SWG = "swg"

    @property
    def is_gauge(self) -> bool:
        """A wire gauge: the number is a row of a table, and a higher number is a thinner wire."""
        return self in (LengthUnit.AWG, LengthUnit.SWG)


# American wire gauge. Diameter = 0.127 mm x 92 ** ((36 - n) / 39), ASTM B258, rounded to 0.0001 mm.
# Kept as a table so that no power function decides a diameter; a test compares it with the formula.
_AWG_MM = {
    12: "2.0525",
    13: "1.8278",
    14: "1.6277",
    15: "1.4495",
    16: "1.2908",
    17: "1.1495",
    18: "1.0237",
    19: "0.9116",
    20: "0.8118",
    21: "0.7229",
    22: "0.6438",
    23: "0.5733",
    24: "0.5106",
    25: "0.4547",
    26: "0.4049",
    27: "0.3606",
    28: "0.3211",
    29: "0.2859",
    30: "0.2546",
}

# British standard wire gauge in inches, exact by law: Order in Council of 23 August 1883, in force 1 March
# 1884; the same figures in BS 3737:1964. Number 28 is .0148 (some software has .0149).
_SWG_INCH = {
    12: "0.104",
    13: "0.092",
    14: "0.080",
    15: "0.072",
    16: "0.064",
    17: "0.056",
    18: "0.048",
    19: "0.040",
    20: "0.036",
    21: "0.032",
    22: "0.028",
    23: "0.024",
    24: "0.022",
    25: "0.020",
    26: "0.018",
    27: "0.0164",
    28: "0.0148",
    29: "0.0136",
    30: "0.0124",
}

# A gauge is a table in mm rounded to 0.0001 mm, so that both systems are equally fine.
_GAUGE_PLACES = 4


def rounded(value: Decimal, places: int) -> Decimal:
    """The value rounded half up (away from zero) to so many decimal places, 0 or more."""
    return value.quantize(Decimal(1).scaleb(-places), context=_ROUNDING)


GAUGES: Mapping[LengthUnit, Mapping[int, Decimal]] = MappingProxyType(
    {
        LengthUnit.AWG: MappingProxyType({n: Decimal(mm) for n, mm in _AWG_MM.items()}),
        LengthUnit.SWG: MappingProxyType(
            {
                n: rounded(_EXACT.multiply(Decimal(inch), MM_PER_INCH), _GAUGE_PLACES)
                for n, inch in _SWG_INCH.items()
            }
        ),
    }
)
"""Wire diameter in mm, rounded to 0.0001 mm, by gauge system and number, thickest first."""


class LengthProblem(Enum):
    """Why a number with a unit is no length."""

    NOT_POSITIVE = "not-positive"
    TOO_LONG = "too-long"
    TOO_MANY_DECIMALS = "too-many-decimals"
    GAUGE_NOT_WHOLE = "gauge-not-whole"
    GAUGE_OUT_OF_TABLE = "gauge-out-of-table"


def length_problem(value: Decimal, unit: LengthUnit) -> LengthProblem | None:
    """What is wrong with a number and a unit as written, or None when `Length` takes them."""
    if not value.is_finite() or value <= 0:
        return LengthProblem.NOT_POSITIVE
    # Before any arithmetic: a number of a thousand digits must not reach the exact context.
    if value.adjusted() > LONGEST_MM.adjusted():
        return LengthProblem.GAUGE_OUT_OF_TABLE if unit.is_gauge else LengthProblem.TOO_LONG
    exponent = value.as_tuple().exponent
    if isinstance(exponent, int) and -exponent > MOST_DECIMALS:
        return LengthProblem.TOO_MANY_DECIMALS
    if unit.is_gauge:
        if value != value.to_integral_value():
            return LengthProblem.GAUGE_NOT_WHOLE
        return None if int(value) in GAUGES[unit] else LengthProblem.GAUGE_OUT_OF_TABLE
    return LengthProblem.TOO_LONG if _in_mm(value, unit) > LONGEST_MM else None


class Length(Struct, frozen=True, kw_only=True):
    """A length as written: a number and its unit. `ValueError` for what `length_problem` refuses.

    Equal when written alike (5 mm and 5.0 mm are; 5 mm and 0.5 cm are not): compare `mm` to compare sizes.
    """

    value: Decimal
    """The number as written, in `unit`; for a gauge its number."""
    unit: LengthUnit

    def __post_init__(self) -> None:
        problem = length_problem(self.value, self.unit)
        if problem is not None:
            raise ValueError(f"{self.value} {self.unit.value} is no length: {problem.value}")

    @property
    def mm(self) -> Decimal:
        """The length in mm: exact for mm, cm and in, from the table (0.0001 mm) for a gauge."""
        if self.unit.is_gauge:
            return GAUGES[self.unit][int(self.value)]
        return _in_mm(self.value, self.unit)

    def __str__(self) -> str:
        """The length as it is written in a pattern, its digits kept: `5.0 mm`, `18 awg`."""
        return f"{self.value:f} {self.unit.value}"


def _in_mm(value: Decimal, unit: LengthUnit) -> Decimal:
    """Exact mm of a number of mm, cm or in."""
    if unit is LengthUnit.CM:
        return _EXACT.multiply(value, MM_PER_CM)
    if unit is LengthUnit.INCH:
        return _EXACT.multiply(value, MM_PER_INCH)
    return value


class GaugeConfusion(NamedTuple):
    """What one gauge number means in both systems, mm: the reason a bare `18 ga` is refused."""

    awg_mm: Decimal
    swg_mm: Decimal


def gauge_confusion(number: int) -> GaugeConfusion | None:
    """Both diameters of a gauge number in mm, or None for a number outside 12 to 30."""
    awg, swg = GAUGES[LengthUnit.AWG], GAUGES[LengthUnit.SWG]
    return GaugeConfusion(awg[number], swg[number]) if number in awg else None


class NearestGauge(NamedTuple):
    """A gauge near a wire diameter."""

    unit: LengthUnit
    number: int
    error_mm: Decimal
    """Wire minus gauge, mm: negative when the wire is thinner than the gauge."""


def nearest_gauge(
    mm: Decimal,
    units: tuple[LengthUnit, ...] = (LengthUnit.AWG, LengthUnit.SWG),
    tolerance: Decimal = GAUGE_TOLERANCE,
) -> NearestGauge | None:
    """The gauge nearest to a wire of so many mm, or None if none is within `tolerance` (a part of the wire).

    Of gauges equally near the first wins, in the order of `units` and from thick to thin.
    """
    near = [
        NearestGauge(unit, number, _EXACT.subtract(mm, gauge))
        for unit in units
        for number, gauge in GAUGES[unit].items()
    ]
    best = min(near, key=lambda gauge: abs(gauge.error_mm), default=None)
    if best is None or abs(best.error_mm) > _EXACT.multiply(mm, tolerance):
        return None
    return best


def aspect_ratio(inner: Decimal, wire: Decimal) -> Decimal:
    """Inner diameter over wire diameter (both mm, wire above 0), rounded half up to 2 decimal places."""
    return rounded(_ROUNDING.divide(inner, wire), 2)


def plain(value: Decimal, places: int | None = None) -> str:
    """The number in plain digits without trailing zeros (`0.9`, `100`), first rounded half up to `places`."""
    text = f"{value if places is None else rounded(value, places):f}"
    if "." in text:
        text = text.rstrip("0").removesuffix(".")
    return "0" if text == "-0" else text


def in_mm(mm: Decimal, places: int | None = None) -> str:
    """Millimetres as printed: `0.9 mm`; rounded half up to `places` decimals if given."""
    return f"{plain(mm, places)} mm"


def in_inches(mm: Decimal, places: int = 3) -> str:
    """Millimetres as decimal inches: `0.197 in`, rounded half up to `places` decimals, zeros kept.

    Zeros are kept because the trade reads the places: .040 in is a wire measured to a thousandth.
    """
    return f"{rounded(_ROUNDING.divide(mm, MM_PER_INCH), places):f} in"


def in_inch_fraction(mm: Decimal, tolerance_mm: Decimal = Decimal("0.05")) -> str | None:
    """Millimetres as the nearest sixty-fourth of an inch (`13/64 in`, `1 1/4 in`); None if none is near.

    Inner diameters are sold by the mandrel in such fractions (common practice). The tolerance, 0.05 mm, is
    chosen well under half a sixty-fourth (0.198 mm), so that 5 mm has none and 6.35 mm is 1/4 in.
    """
    sixty_fourths = int(rounded(_ROUNDING.divide(_EXACT.multiply(mm, Decimal(64)), MM_PER_INCH), 0))
    back = _EXACT.divide(_EXACT.multiply(Decimal(sixty_fourths), MM_PER_INCH), Decimal(64))
    if sixty_fourths == 0 or abs(_EXACT.subtract(mm, back)) > tolerance_mm:
        return None
    whole, rest = divmod(sixty_fourths, 64)
    below = 64
    while rest and rest % 2 == 0:
        rest, below = rest // 2, below // 2
    parts = ([str(whole)] if whole else []) + ([f"{rest}/{below}"] if rest else [])
    return f"{' '.join(parts)} in"
