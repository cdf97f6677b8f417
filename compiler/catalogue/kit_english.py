"""The words of the kit list and the packing sheet in English.

In: numbers and names. Out: text, ready to print. Money comes rounded; shares and lengths are printed as given.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from compiler.catalogue.nouns import typed
from notation.lengths import in_mm, plain, rounded

KIND, SIZES, METAL = "Kind", "Sizes", "Metal"
NEEDED, SPARE, IN_KIT = "Needed", "Spare", "In kit"
TOTAL, PACK, PACKS, LEFT, PRICE, COST, SUPPLIER, CODE = (
    "Wanted",
    "Pack of",
    "Packs",
    "Left over",
    "Price",
    "Cost in a kit",
    "Supplier",
    "Code",
)
NONE = "–"


def noun(singular: str, plural: str, count: int) -> str:
    """The name of a kind."""
    return typed(singular if count == 1 else plural)


def ring_sizes(inner: Decimal, wire: Decimal) -> str:
    """The sizes of a ring, to 0.01 mm."""
    return f"{in_mm(inner, 2)} inside, wire {in_mm(wire, 2)}"


def kits(count: int) -> str:
    """So many kits."""
    return f"{count} {'kit' if count == 1 else 'kits'}"


def one_kit(title: str) -> str:
    """The head of the table of what goes into a kit."""
    return f"{typed(title) or 'The pattern'}: one kit"


def with_changes(changes: str) -> str:
    """What is other than in the pattern as written."""
    return f"With {typed(changes)}."


def to_buy(sets: int) -> str:
    """The head of the table of what is bought."""
    return f"To buy for {kits(sets)}"


def spare_note(share: Decimal, least: int, by_pattern: bool, by_allowance: bool) -> str:
    """Where the counts of a kit come from."""
    allowance = (
        f"rings needed and a spare allowance of {percent(share)}, rounded up, at least {least} of each kind; "
        "findings without spares"
    )
    if not by_pattern:
        return f"A kit holds {allowance}."
    if not by_allowance:
        return "A kit holds what the pattern’s kit line says."
    return f"A kit holds what the pattern’s kit line says, and of kinds not in it {allowance}."


def missing(names: Sequence[str]) -> str:
    """What the stock has nothing for."""
    return f"Not in the stock: {', '.join(names)}. No cost is given, for none is guessed."


def cost(currency: str, amount: Decimal) -> str:
    """What one kit costs."""
    return f"Cost of one kit: {money(currency, amount)}"


def order(currency: str, sets: int, amount: Decimal) -> str:
    """What all the packs cost."""
    return f"Whole packs for {kits(sets)}: {money(currency, amount)}"


def kit_price(currency: str, amount: Decimal, margin: Decimal) -> str:
    """What a kit is sold for."""
    return f"Price of one kit: {money(currency, amount)}, of which {percent(margin)} margin"


def pay(currency: str, rate: Decimal, least: Decimal, most: Decimal, time: str) -> str:
    """What the making comes to."""
    return f"Making at {money(currency, rate)} an hour, {time}: {between(currency, least, most)}"


def finished(currency: str, least: Decimal, most: Decimal, margin: Decimal | None) -> str:
    """What the finished work is sold for."""
    of_it = "" if margin is None else f", of which {percent(margin)} margin"
    return f"Price of the finished work: {between(currency, least, most)}{of_it}"


def minutes(least: int, most: int) -> str:
    """A stretch of time, in minutes as it is paid."""
    return f"{least} to {most} min"


MASS, OUNCES, TROY_OUNCES = "Grams", "Ounces", "Troy ounces"
MASSES = "Rings in one kit, by metal"
GRAMS_PER_OUNCE = Decimal("28.349523125")
"""Exact, by the international yard and pound agreement of 1959: 0.45359237 kg a pound, of 16 ounces."""
GRAMS_PER_TROY_OUNCE = Decimal("31.1034768")
"""Exact, from the same pound: 7000 grains, of which a troy ounce has 480."""


def mass(grams: Decimal) -> tuple[str, str, str]:
    """A mass in grams to 0.01 g, in ounces and in troy ounces to 0.001 of them."""
    ounces, troy = grams / GRAMS_PER_OUNCE, grams / GRAMS_PER_TROY_OUNCE
    return f"{rounded(grams, 2):f}", f"{rounded(ounces, 3):f}", f"{rounded(troy, 3):f}"


MANDREL, TURNS, COIL, WIRE = "Mandrel", "Turns", "Coil", "Wire"


def to_cut(sets: int, kerf: Decimal) -> str:
    """The head of the table for those who cut rings themselves."""
    return f"To cut the rings of {kits(sets)} yourself, with a saw that takes {in_mm(kerf, 3)}"


CUTTING_NOTE = (
    "Wind close, turn on turn; one turn more than rings is for the ends. The mandrel is larger than the ring is "
    "inside, since a ring closes by what the saw takes. Wire springs open, more so if it is hard, which is not "
    "counted: wind one and measure."
)


def metres(length_mm: Decimal) -> str:
    """A length of wire, to the centimetre."""
    return f"{rounded(length_mm / 1000, 2):f} m"


MONEY_NOTE = (
    "Money is rounded half up to two decimals: each line, the pay, the price. Sums are of rounded lines. The margin "
    "is a part of the price, not of the cost."
)
TIME_NOTE = "The time is an estimate."


def money(currency: str, amount: Decimal) -> str:
    """An amount with its currency."""
    return f"{amount:.2f} {currency}"


def between(currency: str, least: Decimal, most: Decimal) -> str:
    """A range of money."""
    return money(currency, least) if least == most else f"{least:.2f} to {money(currency, most)}"


def percent(share: Decimal) -> str:
    """A part of one as a percentage."""
    return f"{plain(share * 100)} %"


# ---------------------------------------------------------------- the packing sheet

PACKING = "Packing sheet"
LABELS = "Bag labels"
TICK = "Done"
WEIGHT = "Weighs"
WEIGHT_NOTE = (
    "What rings weigh is computed from their sizes and the density of the metal, and can differ by a few per cent: "
    "count once, weigh that, and compare further bags with it."
)


def packing_title(title: str) -> str:
    """The title of the sheet."""
    return f"{PACKING}: {typed(title)}" if title else PACKING


def wanted(sets: int) -> str:
    """The head of the column of everything that is picked."""
    return f"For {kits(sets)}"


def packing_lead(sets: int) -> str:
    """What the sheet is for."""
    return f"For {kits(sets)}. Pick everything first, then fill the bags kit by kit and count twice."


def labels_lead(sets: int) -> str:
    """How the labels are used."""
    copies = "once" if sets == 1 else f"{sets} times, once for each kit"
    return (
        f"Print the pages of labels {copies}, at 100 %, without scaling. The outlines have the true size: a ring laid "
        "on its outline covers it."
    )
