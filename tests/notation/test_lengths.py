"""Lengths and gauges, against the published tables and formulas named beside each."""

import decimal
from decimal import Decimal
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notation.lengths import (
    GAUGE_TOLERANCE,
    GAUGES,
    HIGHEST_GAUGE,
    LONGEST_MM,
    LOWEST_GAUGE,
    MOST_DECIMALS,
    Length,
    LengthProblem,
    LengthUnit,
    NearestGauge,
    aspect_ratio,
    gauge_confusion,
    in_inch_fraction,
    in_inches,
    in_mm,
    length_problem,
    nearest_gauge,
    plain,
    rounded,
)

NUMBERS = list(range(12, 31))

# Solid copper wire table in Kuphaldt, "Lessons in Electric Circuits", volume V: diameter in inches.
KUPHALDT_INCH = {
    12: ".08081",
    14: ".06408",
    16: ".05082",
    18: ".04030",
    20: ".03196",
    22: ".02535",
    24: ".02010",
}
# The same table: mass in pounds per 1000 ft of solid copper.
KUPHALDT_POUNDS = {12: "19.77", 14: "12.43", 16: "7.818", 18: "4.917", 20: "3.092", 22: "1.945"}
# Density of copper that the table fixes, g/cm3: that of the International Annealed Copper Standard.
IACS_COPPER = 8.89
GRAMS_PER_POUND = 453.59237  # exact, international agreement of 1959
MM_PER_1000_FEET = 304_800.0

# British legal wire gauge in mm: Engineering ToolBox, "Standard Wire Gauge", whose mm column is inch x 25.4;
# the inches are those of the Order in Council of 23 August 1883.
SWG_MM = {
    12: "2.6416",
    13: "2.3368",
    14: "2.0320",
    15: "1.8288",
    16: "1.6256",
    17: "1.4224",
    18: "1.2192",
    19: "1.0160",
    20: "0.9144",
    21: "0.8128",
    22: "0.7112",
    23: "0.6096",
    24: "0.5588",
    25: "0.5080",
    26: "0.4572",
    27: "0.41656",
    28: "0.37592",
    29: "0.34544",
    30: "0.31496",
}


def length(text: str) -> Length:
    number, unit = text.split()
    return Length(value=Decimal(number), unit=LengthUnit(unit))


def wire_pounds_per_1000_feet(diameter_mm: float, density: float) -> float:
    """Mass of a round wire: area (mm2) x length (mm) x density (g/cm3 = mg/mm3)."""
    grams = pi / 4 * diameter_mm**2 * MM_PER_1000_FEET * density / 1000
    return grams / GRAMS_PER_POUND


def astm_b258_mm(number: int) -> Decimal:
    """Diameter in mm by the formula of ASTM B258, unrounded."""
    with decimal.localcontext(prec=50):
        return Decimal("0.127") * Decimal(92) ** (Decimal(36 - number) / 39)


def test_both_gauge_tables_run_from_12_to_30_thick_to_thin() -> None:
    for unit in (LengthUnit.AWG, LengthUnit.SWG):
        assert list(GAUGES[unit]) == NUMBERS == list(range(LOWEST_GAUGE, HIGHEST_GAUGE + 1))
        diameters = list(GAUGES[unit].values())
        assert diameters == sorted(diameters, reverse=True)


@pytest.mark.parametrize("number", NUMBERS)
def test_the_american_gauge_is_the_formula_of_astm_b258_to_a_ten_thousandth(number: int) -> None:
    assert GAUGES[LengthUnit.AWG][number] == astm_b258_mm(number).quantize(Decimal("0.0001"))


@pytest.mark.parametrize("number", sorted(KUPHALDT_INCH))
def test_the_american_gauge_agrees_with_a_printed_wire_table(number: int) -> None:
    assert GAUGES[LengthUnit.AWG][number] / Decimal("25.4") == pytest.approx(
        Decimal(KUPHALDT_INCH[number]), abs=Decimal("0.000007")
    )


@pytest.mark.parametrize("number", sorted(KUPHALDT_POUNDS))
def test_copper_wire_of_the_unrounded_gauge_weighs_every_digit_of_the_printed_table(number: int) -> None:
    pounds = wire_pounds_per_1000_feet(float(astm_b258_mm(number)), IACS_COPPER)
    assert f"{pounds:.4g}" == KUPHALDT_POUNDS[number]


@pytest.mark.parametrize("number", sorted(KUPHALDT_POUNDS))
def test_copper_wire_of_our_gauge_weighs_the_same_but_for_its_last_decimal(number: int) -> None:
    # Half of 0.0001 mm on the diameter counts twice in the mass; the table's own last digit counts half.
    diameter = float(GAUGES[LengthUnit.AWG][number])
    printed = Decimal(KUPHALDT_POUNDS[number])
    half_a_digit = 0.5 * 10.0 ** int(printed.as_tuple().exponent)
    tolerance = half_a_digit + float(printed) * 2 * 0.00005 / diameter
    assert wire_pounds_per_1000_feet(diameter, IACS_COPPER) == pytest.approx(float(printed), abs=tolerance)


@pytest.mark.parametrize("number", NUMBERS)
def test_the_british_gauge_is_the_legal_table_to_a_ten_thousandth(number: int) -> None:
    assert GAUGES[LengthUnit.SWG][number] == Decimal(SWG_MM[number]).quantize(Decimal("0.0001"))


def test_british_number_28_is_the_legal_figure_and_not_the_common_misprint() -> None:
    assert GAUGES[LengthUnit.SWG][28] == rounded(Decimal("0.0148") * Decimal("25.4"), 4)
    assert GAUGES[LengthUnit.SWG][28] != rounded(Decimal("0.0149") * Decimal("25.4"), 4)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("5 mm", "5"),
        ("0.35 cm", "3.5"),
        ("1 in", "25.4"),
        ("0.015625 in", "0.396875"),
        ("18 awg", "1.0237"),
        ("18 swg", "1.2192"),
        ("10000 mm", "10000"),
    ],
)
def test_lengths_convert_to_exact_millimetres(text: str, mm: str) -> None:
    assert length(text).mm == Decimal(mm)
    assert str(length(text)) == text


def test_conversion_does_not_depend_on_the_callers_decimal_settings() -> None:
    with decimal.localcontext(prec=2, rounding=decimal.ROUND_UP):
        assert length("0.015625 in").mm == Decimal("0.396875")
        assert str(aspect_ratio(Decimal("5.013"), Decimal(1))) == "5.01"
        assert nearest_gauge(Decimal("1.0239")) == (LengthUnit.AWG, 18, Decimal("0.0002"))


@pytest.mark.parametrize(
    ("number", "unit", "problem"),
    [
        ("0", "mm", LengthProblem.NOT_POSITIVE),
        ("-1", "mm", LengthProblem.NOT_POSITIVE),
        ("NaN", "mm", LengthProblem.NOT_POSITIVE),
        ("0", "awg", LengthProblem.NOT_POSITIVE),
        ("10000.1", "mm", LengthProblem.TOO_LONG),
        ("1000.1", "cm", LengthProblem.TOO_LONG),
        ("393.8", "in", LengthProblem.TOO_LONG),
        ("9" * 5000, "in", LengthProblem.TOO_LONG),
        ("0." + "1" * 5000, "in", LengthProblem.TOO_MANY_DECIMALS),
        ("0.0000001", "mm", LengthProblem.TOO_MANY_DECIMALS),
        ("18.5", "awg", LengthProblem.GAUGE_NOT_WHOLE),
        ("11", "awg", LengthProblem.GAUGE_OUT_OF_TABLE),
        ("31", "swg", LengthProblem.GAUGE_OUT_OF_TABLE),
        ("9" * 5000, "swg", LengthProblem.GAUGE_OUT_OF_TABLE),
        ("393.7", "in", None),
        ("12", "awg", None),
        ("30.0", "swg", None),
    ],
)
def test_what_is_no_length_is_told_and_refused(number: str, unit: str, problem: LengthProblem | None) -> None:
    assert length_problem(Decimal(number), LengthUnit(unit)) is problem
    if problem is not None:
        with pytest.raises(ValueError, match=problem.value):
            Length(value=Decimal(number), unit=LengthUnit(unit))


@given(
    st.decimals(allow_nan=False, allow_infinity=False, min_value=-20000, max_value=20000),
    st.sampled_from(LengthUnit),
)
def test_any_number_is_a_length_within_the_bounds_or_has_a_problem(value: Decimal, unit: LengthUnit) -> None:
    if length_problem(value, unit) is None:
        assert 0 < Length(value=value, unit=unit).mm <= LONGEST_MM


# Difference of the systems in per cent of the American wire, from the ASTM formula and the legal table.
@pytest.mark.parametrize(("number", "percent"), [(16, "25.9"), (18, "19.1"), (20, "12.6"), (22, "10.5")])
def test_a_bare_gauge_means_two_clearly_different_wires(number: int, percent: str) -> None:
    both = gauge_confusion(number)
    assert both is not None
    assert f"{(both.swg_mm / both.awg_mm - 1) * 100:.1f}" == percent


def test_a_gauge_outside_the_tables_confuses_nobody() -> None:
    assert gauge_confusion(11) is None
    assert gauge_confusion(31) is None


@pytest.mark.parametrize(
    ("mm", "nearest"),
    [
        ("0.9", (LengthUnit.AWG, 19, "-0.0116")),
        ("1.0", (LengthUnit.SWG, 19, "-0.016")),
        ("0.7", (LengthUnit.SWG, 22, "-0.0112")),
        ("1.6256", (LengthUnit.SWG, 16, "0")),
        ("1.6277", (LengthUnit.AWG, 14, "0")),
    ],
)
def test_the_nearest_gauge_comes_from_either_system(mm: str, nearest: tuple[LengthUnit, int, str]) -> None:
    unit, number, error = nearest
    assert nearest_gauge(Decimal(mm)) == NearestGauge(unit, number, Decimal(error))


# Pairs that come close in the two tables: 16 SWG and 14 AWG, 20 SWG and 19 AWG, 22 SWG and 21 AWG.
@pytest.mark.parametrize(("swg", "awg"), [(16, 14), (20, 19), (22, 21)])
def test_the_nearest_american_gauge_of_a_british_wire(swg: int, awg: int) -> None:
    nearest = nearest_gauge(GAUGES[LengthUnit.SWG][swg], (LengthUnit.AWG,))
    assert nearest is not None
    assert nearest.number == awg


def test_a_wire_between_gauges_has_none() -> None:
    assert nearest_gauge(Decimal("1.1")) is None
    assert nearest_gauge(GAUGES[LengthUnit.SWG][18], (LengthUnit.AWG,)) is None
    assert nearest_gauge(Decimal("3.5")) is None
    assert nearest_gauge(Decimal(1), ()) is None


# Inner diameter over wire of a 5 mm ring in "18 gauge": 4.884 in AWG wire, 4.101 in SWG wire, by hand.
@pytest.mark.parametrize(
    ("inner", "wire", "ratio"),
    [
        ("5", "1.0237", "4.88"),
        ("5", "1.2192", "4.10"),
        ("5", "0.9", "5.56"),
        ("4.005", "1", "4.01"),
        ("4.015", "1", "4.02"),
    ],
)
def test_the_aspect_ratio_is_rounded_half_up_to_two_places(inner: str, wire: str, ratio: str) -> None:
    assert str(aspect_ratio(Decimal(inner), Decimal(wire))) == ratio


@pytest.mark.parametrize(
    ("mm", "places", "text"),
    [
        ("0.90", None, "0.9 mm"),
        ("100", None, "100 mm"),
        ("1E+2", None, "100 mm"),
        ("0.000001", None, "0.000001 mm"),
        ("1.0237", 2, "1.02 mm"),
        ("0.125", 2, "0.13 mm"),
        ("-0.001", 2, "0 mm"),
        ("12345.5", None, "12345.5 mm"),
        ("5", 2, "5 mm"),
    ],
)
def test_millimetres_print_without_exponents_or_idle_zeros(mm: str, places: int | None, text: str) -> None:
    assert in_mm(Decimal(mm), places) == text


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-10000, max_value=10000, places=6))
def test_plain_digits_read_back_as_the_same_number(value: Decimal) -> None:
    assert Decimal(plain(value)) == value


@pytest.mark.parametrize(
    ("mm", "text"), [("5", "0.197 in"), ("25.4", "1.000 in"), ("1.0160", "0.040 in"), ("6.35", "0.250 in")]
)
def test_decimal_inches_keep_three_places(mm: str, text: str) -> None:
    assert in_inches(Decimal(mm)) == text


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        ("6.35", "1/4 in"),
        ("5.16", "13/64 in"),
        ("31.75", "1 1/4 in"),
        ("25.4", "1 in"),
        ("4.76", "3/16 in"),
        ("5", None),
        ("0.05", None),
    ],
)
def test_inch_fractions_are_named_only_when_near(mm: str, text: str | None) -> None:
    assert in_inch_fraction(Decimal(mm)) == text


def test_a_gauge_is_a_unit_of_its_own_kind() -> None:
    assert [unit for unit in LengthUnit if unit.is_gauge] == [LengthUnit.AWG, LengthUnit.SWG]


def test_the_bounds_of_a_length_are_whole_numbers_of_millimetres_and_decimals() -> None:
    assert (Decimal(10000), 6, 12, 30) == (LONGEST_MM, MOST_DECIMALS, LOWEST_GAUGE, HIGHEST_GAUGE)
    assert length_problem(Decimal("10000"), LengthUnit.MM) is None
    assert length_problem(Decimal("10000.000001"), LengthUnit.MM) is LengthProblem.TOO_LONG
    assert length_problem(Decimal("0.000001"), LengthUnit.MM) is None
    assert length_problem(Decimal("99999"), LengthUnit.AWG) is LengthProblem.GAUGE_OUT_OF_TABLE
    assert length_problem(Decimal("100000"), LengthUnit.AWG) is LengthProblem.GAUGE_OUT_OF_TABLE
    assert length_problem(Decimal("1E+5"), LengthUnit.MM) is LengthProblem.TOO_LONG
    assert length_problem(Decimal("Infinity"), LengthUnit.MM) is LengthProblem.NOT_POSITIVE


def test_a_length_too_long_is_told_before_its_decimals_and_a_fraction_before_the_table() -> None:
    assert length_problem(Decimal("100000.0000001"), LengthUnit.MM) is LengthProblem.TOO_LONG
    assert length_problem(Decimal("10000.0000001"), LengthUnit.MM) is LengthProblem.TOO_MANY_DECIMALS
    assert length_problem(Decimal("99.5"), LengthUnit.SWG) is LengthProblem.GAUGE_NOT_WHOLE


def test_why_it_is_no_length_is_said_with_the_number() -> None:
    with pytest.raises(ValueError, match=r"^-0\.50 mm is no length: not-positive$"):
        Length(value=Decimal("-0.50"), unit=LengthUnit.MM)


def test_of_gauges_equally_near_the_first_wins() -> None:
    # Middle of 18 and 19 AWG, with a tolerance that takes in both.
    middle = (GAUGES[LengthUnit.AWG][18] + GAUGES[LengthUnit.AWG][19]) / 2
    nearest = nearest_gauge(middle, (LengthUnit.AWG,), Decimal("0.2"))
    assert nearest is not None
    assert nearest.number == 18


def test_a_gauge_is_near_up_to_its_tolerance_and_not_beyond() -> None:
    # 18 AWG is 1.0237 mm: 0.0237 of a wire of 1 mm beside it.
    found = NearestGauge(LengthUnit.AWG, 18, Decimal("-0.0237"))
    assert nearest_gauge(Decimal(1), (LengthUnit.AWG,), Decimal("0.0237")) == found
    assert nearest_gauge(Decimal(1), (LengthUnit.AWG,), Decimal("0.0236999")) is None
    assert Decimal("0.03") == GAUGE_TOLERANCE


def test_both_meanings_of_a_gauge_number_are_in_order_american_first() -> None:
    assert gauge_confusion(18) == (Decimal("1.0237"), Decimal("1.2192"))
    assert gauge_confusion(12) is not None
    assert gauge_confusion(30) is not None


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [("0.5", 0, "1"), ("1.5", 0, "2"), ("2.4", 0, "2"), ("-0.5", 0, "-1"), ("1.005", 2, "1.01")],
)
def test_rounding_is_half_up_away_from_nought(value: str, places: int, text: str) -> None:
    assert str(rounded(Decimal(value), places)) == text


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [("10", None, "10"), ("1200", None, "1200"), ("10.0", None, "10"), ("0.10", 1, "0.1"), ("-0", None, "0")],
)
def test_plain_digits_keep_the_noughts_of_a_whole_number(value: str, places: int | None, text: str) -> None:
    assert plain(Decimal(value), places) == text


def test_inches_keep_as_many_places_as_are_asked_for() -> None:
    assert in_inches(Decimal("25.4"), 1) == "1.0 in"
    assert in_inches(Decimal("1.27"), 4) == "0.0500 in"


@pytest.mark.parametrize(
    ("sixty_fourths", "text"),
    [
        (1, "1/64 in"),
        (2, "1/32 in"),
        (48, "3/4 in"),
        (63, "63/64 in"),
        (64, "1 in"),
        (65, "1 1/64 in"),
        (128, "2 in"),
    ],
)
def test_a_fraction_of_an_inch_is_reduced(sixty_fourths: int, text: str) -> None:
    assert in_inch_fraction(Decimal(sixty_fourths) * Decimal("25.4") / 64) == text


def test_a_fraction_is_near_up_to_a_twentieth_of_a_millimetre() -> None:
    assert in_inch_fraction(Decimal("6.40")) == "1/4 in"
    assert in_inch_fraction(Decimal("6.300")) == "1/4 in"
    assert in_inch_fraction(Decimal("6.401")) is None
    assert in_inch_fraction(Decimal("6.299")) is None
    assert in_inch_fraction(Decimal("6.299"), Decimal("0.06")) == "1/4 in"
