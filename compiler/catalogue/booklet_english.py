"""The booklet's words in English, but for steps: headings, cover, figures at a glance, tables, edition.

In: numbers and names. Out: text, ready to print; numbers are rounded here, half up, once. What belongs to the making
is in `making_english`, what belongs to safety in `cautions_english`.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from compiler.catalogue.nouns import capital, listed, typed
from compiler.kit import Minutes, Rates
from notation.lengths import MM_PER_INCH, NearestGauge, gauge_confusion, in_mm, plain, rounded

LANGUAGE = "en"
SUBJECT = "Instructions for woven-ring jewellery"
KEYWORDS = ("jump rings", "jewellery", "instructions")

# ---------------------------------------------------------------- headings

COVER = "Cover"
CONTENTS = "Contents"
AT_A_GLANCE = "At a glance"
ABOUT = "About this piece"
MATERIALS = "Materials"
RINGS = "Rings"
FINDINGS = "Findings"
BY_PIECE = "Piece by piece"
METAL = "Metal and wire"
GLOSSARY = "Words used"
EDITION = "This edition"


# ---------------------------------------------------------------- cover, foot of the page


def by(designer: str) -> str:
    """The line under the title."""
    return f"Designed by {typed(designer)}"


def level(word: str) -> str:
    """The level as a word on the cover."""
    return capital(typed(word))


def edition_line(version: str) -> str:
    """The edition on the cover."""
    return f"Edition {typed(version)}"


def made_to_length(lengths: Sequence[str]) -> str:
    """What was worked out for pieces made to a length."""
    return "; ".join(typed(length) for length in lengths)


def with_changes(changes: str) -> str:
    """On the cover, what is other than in the pattern as written."""
    return f"With {typed(changes)}"


def folio(number: int, count: int) -> str:
    """The page number at the foot."""
    return f"Page {number} of {count}"


def go_to(title: str) -> str:
    """What a link of the contents list does."""
    return f"Go to {title}"


# ---------------------------------------------------------------- at a glance

RINGS_FACT = "rings"
MASS_FACT = "metal in the rings"
STEPS_FACT = "steps"
SIZE_FACT = "size, finished"
PITCH_FACT, PITCHES_FACT = "pitch", "pitch, along and between rows"
LEVEL_FACT = "level"
TIME_FACT = "making time, estimated"
PIECE, MADE, CONNECTIONS, SIZE, MASS, STEPS = "Piece", "Made", "Connections", "Size", "Mass", "Steps"
NOT_KNOWN = "–"


def size(length_mm: float, width_mm: float, thickness_mm: float, *, about: bool = False) -> str:
    """Length by width in whole millimetres, and the thickness to a tenth."""
    long, wide = (plain(Decimal(repr(value)), 0) for value in (length_mm, width_mm))
    return f"{'about ' if about else ''}{long} × {wide} × {plain(Decimal(repr(thickness_mm)), 1)} mm"


def size_by_pitch(name: str, rings: int) -> str:
    """Whence the size of a piece is known that is too large to be placed whole."""
    return f"That of the {typed(name)} follows from the pitch of its first {rings:,} rings."


def sizes_in_inches(pieces: Sequence[tuple[str, Sequence[float]]]) -> str:
    """Sizes of pieces by name, given in mm, to a hundredth of an inch."""
    said = (
        f"{typed(name)} {' × '.join(_inches(Decimal(repr(mm)), 2) for mm in sizes)}" for name, sizes in pieces
    )
    return f"In inches: {'; '.join(said)}."


def rings_in_inches(rings: Sequence[tuple[str, Decimal, Decimal]]) -> str:
    """Inside and wire of kinds of ring by name, given in mm, to a thousandth of an inch."""
    said = (f"{typed(name)} {_inches(inner, 3)} and {_inches(wire, 3)}" for name, inner, wire in rings)
    return f"Inside and wire in inches: {'; '.join(said)}."


def _inches(mm: Decimal, places: int) -> str:
    return f"{rounded(mm / MM_PER_INCH, places):f}"


def pitch(along_mm: float | None, rows_mm: float | None) -> tuple[str, str] | None:
    """Label and value of how far it is from place to place and from row to row, to a tenth of a millimetre."""
    if along_mm is None:
        return None
    along = plain(Decimal(repr(along_mm)), 1)
    if rows_mm is None:
        return PITCH_FACT, f"{along} mm"
    return PITCHES_FACT, f"{along} / {plain(Decimal(repr(rows_mm)), 1)} mm"


def mm(length: Decimal) -> str:
    """A size in millimetres, to 0.01 mm."""
    return in_mm(length, 2)


def grams(mass: Decimal) -> str:
    """A mass in grams: below 1 g to 0.01 g, below 100 g to 0.1 g, else in whole grams."""
    places = 2 if mass < 1 else 1 if mass < 100 else 0
    return f"{rounded(mass, places):f} g"


def small_grams(mass: Decimal) -> str:
    """The mass of one ring, to 0.001 g."""
    return f"{rounded(mass, 3):f} g"


def density(figure: str) -> str:
    """A density."""
    return f"{figure} g/cm³"


def metres(length_mm: Decimal) -> str:
    """A length of wire in metres, to the centimetre."""
    return f"{rounded(length_mm / 1000, 2):f} m"


def time(minutes: Minutes) -> str:
    """A stretch of time, its ends rounded outwards: to 5 minutes below an hour, else to a quarter of an hour."""
    least, least_unit = _down(minutes.least)
    most, most_unit = _up(minutes.most)
    if least == most and least_unit == most_unit:
        return f"{least} {least_unit}"
    if least_unit == most_unit:
        return f"{least} to {most} {most_unit}"
    return f"{least} {least_unit} to {most} {most_unit}"


def _down(minutes: int) -> tuple[str, str]:
    if minutes < 60:
        return str(max(5, minutes // 5 * 5)), "min"
    return _quarters(minutes // 15), "h"


def _up(minutes: int) -> tuple[str, str]:
    if minutes <= 55:
        return str(max(5, -(-minutes // 5) * 5)), "min"
    return _quarters(-(-minutes // 15)), "h"


def _quarters(quarters: int) -> str:
    whole, rest = divmod(quarters, 4)
    return f"{whole}{('', '¼', '½', '¾')[rest]}"


def time_note(rates: Rates, *, findings: bool) -> str:
    """Which rates the time is estimated from; `findings`: there are any."""
    prepare, weave, finding = (_between(pair) for pair in (rates.prepare, rates.weave, rates.finding))
    parts = [
        f"{prepare} seconds to open or close a ring beforehand",
        f"{weave} seconds to weave in an open ring",
    ]
    parts += [f"{finding} seconds to add a finding"] if findings else []
    return f"The time is an estimate: {listed(parts)}. Your first piece takes longer."


def _between(pair: tuple[int, int]) -> str:
    return str(pair[0]) if pair[0] == pair[1] else f"{pair[0]} to {pair[1]}"


def size_note(*, findings: bool) -> str:
    """What the size is; `findings`: there are any."""
    without = ", without findings" if findings else ""
    return (
        f"The size is length × width × thickness of the rings as they are drawn{without}. Woven rings give, so a "
        "finished piece can be a little larger."
    )


MASS_NOTE = "Findings are not weighed."


def made(times: int) -> str:
    """How often a piece is made, in a table."""
    return f"{times} ×"


# ---------------------------------------------------------------- materials

RING, INNER, WIRE, RATIO, METAL_NAME = "Ring", "Inside ⌀", "Wire", "Ratio", "Metal"
AWG, SWG = "AWG", "SWG"
IN_ALL, IN_KIT, SPARE = "In all", "Kit", "Spare"
FINDING, SIZES = "Finding", "Sizes"
MASS_EACH, MASS_ALL, WIRE_EACH, WIRE_ALL, DENSITY = "One ring", "In all", "Wire, one", "Wire, all", "Density"


IN_ONE = "In one"


def in_one(piece: str) -> str:
    """The head of a column that counts one of a piece."""
    return f"Per {typed(piece)}"


def gauge(near: NearestGauge) -> str:
    """The number of a gauge, `~` before it where the wire is only near it."""
    return f"{'' if near.error_mm == 0 else '~'}{near.number}"


def eyes(count: int, name: str, inner: str, opens: bool) -> str:
    """The eye of a finding in the table."""
    which = f"{typed(name)} eye" if count > 1 else "eye"
    return f"{which} {inner}{', opens' if opens else ''}"


def long(length: str) -> str:
    """The length of a finding in the table."""
    return f"{length} long"


def ratio_note(has_gauge: bool, has_rounded: bool) -> str:
    """What the table's columns mean."""
    note = "Ratio is the inside diameter divided by the wire."
    if has_rounded:
        note += " Sizes are rounded to 0.01 mm."
    if has_gauge:
        note += (
            " AWG and SWG are the nearest American and British gauges, where one is within 3\u00a0% of the wire; ~ "
            "means not exactly. Go by the millimetres."
        )
    return note


def kit_note(spares: bool) -> str:
    """What the columns Kit and Spare mean."""
    if spares:
        return "Kit is what the packet holds, Spare what is left of it at the end."
    return "Kit is what the packet holds. It has no spare rings: buy a few more of each."


NO_KIT_NOTE = (
    "The counts are exact. Buy a few extra rings of each kind: some roll away, and some will not close "
    "well twice."
)


def mass_note(tolerance: Decimal) -> str:
    """How the masses came about."""
    percent = plain(tolerance * 100, 1)
    return (
        "Mass is that of a whole ring, computed from its sizes and the density. Alloys of one name differ by up to "
        f"{percent}\u00a0%, and what a saw takes off is not counted. Sums are made before rounding."
    )


UNKNOWN_METAL_NOTE = "A dash stands where the density of a metal is not known."

GAUGE_TRAP = "Two gauges"


def gauge_trap(near: NearestGauge) -> str:
    """What one gauge number of the table means in both systems."""
    both = gauge_confusion(near.number)
    if both is None:
        return ""
    number = near.number
    return (
        f"Number {number} is {in_mm(both.awg_mm, 2)} thick in the American system (AWG) and {in_mm(both.swg_mm, 2)} in "
        "the British one (SWG). Rings of the wrong one may not weave. Where a seller gives a number and no system, "
        "ask for millimetres."
    )


# ---------------------------------------------------------------- edition

TITLE_ROW, DESIGNER_ROW, EDITION_ROW, LICENCE_ROW, SOURCE_ROW = (
    "Title",
    "Design",
    "Edition",
    "Licence",
    "Text",
)
CHANGES_ROW, LENGTHS_ROW = "Changed", "Length"
PUBLISHER_ROW, CONTACT_ROW = "Published by", "Contact"
NO_LICENCE = "The pattern names no licence. Ask the designer before you copy it or sell from it."


def licence(name: str) -> str:
    """Under which terms the pattern may be used."""
    return f"{typed(name)}. The terms of this licence say how you may copy and use the pattern."


def colophon(families: Sequence[str], all_chosen: bool) -> str:
    """Where the figures come from, and what the booklet is set in: fonts of the house, the usual ones, or both."""
    usual = () if all_chosen else ("Fira Sans (SIL Open Font License 1.1)",)
    fonts = " and ".join((*(typed(family) for family in families), *usual))
    set_in = f" Set in {fonts}." if fonts else ""
    return (
        "All counts, masses and sizes in this booklet are computed from the designer’s text by Annulet, which also "
        f"checked it before printing.{set_in}"
    )
