"""The booklet's words in English that are no sentences of a step: headings, captions, tables, tools, cautions.

In: numbers and names. Out: text, ready to print; numbers are rounded here, half up, once. The texts on handling,
tools and safety are our own words for common practice; limits and standards name their source beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from compiler.booklet.figuretypes import Mark
from compiler.catalogue.nouns import article, capital, kind_noun, listed, typed
from compiler.kit import FINDING_SECONDS, PREPARE_SECONDS, WEAVE_SECONDS, Minutes
from compiler.steps import KindCount
from notation.lengths import LengthUnit, NearestGauge, gauge_confusion, in_mm, plain, rounded
from notation.metals import Caution

LANGUAGE = "en"
SUBJECT = "Instructions for woven-ring jewellery"
KEYWORDS = ("jump rings", "jewellery", "instructions")

# ---------------------------------------------------------------- headings

COVER = "Cover"
CONTENTS = "Contents"
AT_A_GLANCE = "At a glance"
ABOUT = "About this piece"
TOOLS = "Tools"
MATERIALS = "Materials"
RINGS = "Rings"
FINDINGS = "Findings"
BY_PIECE = "Piece by piece"
METAL = "Metal and wire"
TRUE_SIZE = "True size"
BEFORE = "Before you start"
OPEN_AND_CLOSE = "Open and close"
HOW_TO_OPEN = "How to open and close a ring"
HOW_TO_READ = "How to read the steps"
FIGURE_KEY = "Key to the figures"
FINISHING = "Finishing"
CAUTIONS = "Cautions"
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
LEVEL_FACT = "level"
TIME_FACT = "making time, estimated"
PIECE, MADE, LINKS, SIZE, MASS, STEPS = "Piece", "Made", "Links", "Size", "Mass", "Steps"
NOT_KNOWN = "–"


def size(width_mm: float, height_mm: float) -> str:
    """Width by height in whole millimetres."""
    across, high = (plain(Decimal(repr(value)), 0) for value in (width_mm, height_mm))
    return f"{across} × {high} mm"


def grams(mass: Decimal) -> str:
    """A mass in grams: to 0.1 g below 100 g, else in whole grams."""
    return f"{rounded(mass, 1 if mass < 100 else 0):f} g"


def small_grams(mass: Decimal) -> str:
    """The mass of one ring, to 0.001 g."""
    return f"{rounded(mass, 3):f} g"


def metres(length_mm: Decimal) -> str:
    """A length of wire in metres, to the centimetre."""
    return f"{rounded(length_mm / 1000, 2):f} m"


def time(minutes: Minutes) -> str:
    """A stretch of time, its ends rounded outwards: to 5 minutes below an hour, else to half an hour."""
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
    return _halves(minutes // 30), "h"


def _up(minutes: int) -> tuple[str, str]:
    if minutes <= 55:
        return str(max(5, -(-minutes // 5) * 5)), "min"
    return _halves(max(2, -(-minutes // 30))), "h"


def _halves(halves: int) -> str:
    whole, half = divmod(halves, 2)
    return f"{whole}{'½' if half else ''}"


TIME_NOTE = (
    f"The time is an estimate from these rates: {PREPARE_SECONDS[0]} to {PREPARE_SECONDS[1]} seconds to open or "
    f"close a ring beforehand, {WEAVE_SECONDS[0]} to {WEAVE_SECONDS[1]} seconds to weave in an open ring, "
    f"{FINDING_SECONDS[0]} to {FINDING_SECONDS[1]} seconds to hang a finding. Your first piece takes longer."
)
SIZE_NOTE = (
    "The size is that of the drawn layout. Woven rings give, so that a finished piece can be a little larger."
)
MASS_NOTE = "Findings are not weighed."


def made(times: int) -> str:
    """How often a piece is made, in a table."""
    return f"{times} ×"


# ---------------------------------------------------------------- tools

TOOL_LIST: tuple[tuple[str, str], ...] = (
    (
        "Two pairs of pliers",
        "with short flat jaws, smooth inside. Serrated or round jaws mark the rings.",
    ),
    ("Two small dishes", "one for open rings, one for closed rings."),
    ("A mat", "soft and in one colour, so that rings neither roll nor hide."),
    ("Good light", "from the side, and a magnifier where the rings are small."),
    ("Eye protection", "for cutting, opening and closing wire."),
)
"""A tool and what to look for. Common practice."""
THIN_TOOL = (
    "Pliers with slim jaws",
    "for the small rings: the jaws must hold a ring without hiding its ends.",
)
WIRE_TOOL = (
    "A piece of thin wire or a twist tie",
    "to hold work together where a step asks you to hold it.",
)
SMALL_INNER_MM = Decimal("3.5")
"""Rings of this inner diameter or less want slim jaws. Common practice."""

# ---------------------------------------------------------------- materials

RING, INNER, WIRE, GAUGE, RATIO, METAL_NAME = "Ring", "Inside ⌀", "Wire", "Gauge", "Ratio", "Metal"
IN_ALL, IN_KIT, SPARE = "In all", "Kit", "Spare"
FINDING, SIZES = "Finding", "Sizes"
MASS_EACH, MASS_ALL, WIRE_EACH, WIRE_ALL, DENSITY = "One ring", "In all", "Wire, one", "Wire, all", "Density"


def in_one(piece: str) -> str:
    """The head of a column that counts one of a piece."""
    return f"Per {typed(piece)}"


def gauge(near: NearestGauge) -> str:
    """A gauge, exact or the nearest: `18 AWG`, `~19 AWG`."""
    about = "" if near.error_mm == 0 else "~"
    return f"{about}{near.number} {near.unit.value.upper()}"


def eyes(count: int, name: str, inner: str, opens: bool) -> str:
    """The eye of a finding in the table."""
    which = f"{typed(name)} eye" if count > 1 else "eye"
    return f"{which} {inner}{', opens' if opens else ''}"


def long(length: str) -> str:
    """The length of a finding in the table."""
    return f"{length} long"


def ratio_note(has_gauge: bool) -> str:
    """What the table's columns mean."""
    note = "Inside ⌀ is the inside diameter. Ratio is the inside diameter divided by the wire."
    if has_gauge:
        note += (
            " Gauge is the nearest standard wire gauge, named where it is within 3 % of the wire; ~ means that the "
            "wire is not exactly that. Where they differ, the millimetres count."
        )
    return note


def kit_note(spares: bool) -> str:
    """What the columns Kit and Spare mean."""
    if spares:
        return "Kit is what the packet holds, Spare what is left of it at the end."
    return "Kit is what the packet holds. It has no spare rings: put a few more of each by."


NO_KIT_NOTE = "The counts are exact. Buy a few rings more of each kind: some roll away, and some do not close well twice."


def mass_note(tolerance: Decimal) -> str:
    """How the masses came about."""
    percent = plain(tolerance * 100, 1)
    return (
        "Mass is that of a whole ring, computed from its sizes and the density. Alloys of one name differ by up to "
        f"{percent} %, and what a saw takes off is not counted. Figures are rounded, sums are rounded last."
    )


UNKNOWN_METAL_NOTE = "A dash stands where the density of a metal is not known."

GAUGE_TRAP = "Two gauges"


def gauge_trap(near: NearestGauge) -> str:
    """What one gauge number of the table means in both systems."""
    both = gauge_confusion(near.number)
    if both is None:
        return ""
    number = near.number
    other = LengthUnit.SWG if near.unit is LengthUnit.AWG else LengthUnit.AWG
    return (
        f"{number} AWG (American) is {in_mm(both.awg_mm, 2)} thick, {number} SWG (British) is "
        f"{in_mm(both.swg_mm, 2)}. Rings of the wrong one may not weave. This booklet means "
        f"{near.unit.value.upper()} where it says so; if a seller names {article(other.value.upper())} number or "
        "no system, ask for millimetres."
    )


# ---------------------------------------------------------------- true size

TRUE_SIZE_LEAD = "Lay a ring on its outline: it should cover it, and the hole should match."
TRUE_SIZE_PRINT = (
    "Print this page at 100 %, “actual size”, never “fit to page”. Then lay a ruler on the two bars. If one of "
    "them does not match, nothing on this page has its true size."
)
PRINT_CHECK = "Check the print"
FIFTY_MM = "50 mm"
TWO_INCHES = "2 in"
TOO_LARGE = "Too large for the page, so not drawn:"


def ring_sizes(inner: str, wire: str, outer: str) -> tuple[str, ...]:
    """The sizes under a ring's outline, a line each."""
    return (f"⌀ {inner} inside", f"⌀ {outer} outside", f"wire {wire}")


def ring_alt(name: str, inner: str, wire: str) -> str:
    """What a reader who hears the page is told of an outline."""
    return f"Outline of {article(name)} in true size: inside diameter {inner}, wire {wire}, flat and from the edge."


MM_BAR_ALT = "A bar 50 millimetres long, with a mark at each millimetre."
INCH_BAR_ALT = "A bar 2 inches long, with a mark at each sixteenth of an inch."

# ---------------------------------------------------------------- before you start

OPEN_HEAD, CLOSE_HEAD = "Open", "Close"
BEFORE_LEAD = "Rings come neither open nor closed. Sort them into two dishes before the first step."
HOW_TO_OPEN_TEXT: tuple[str, ...] = (
    "Hold the ring with both pliers, its cut on top between the jaws.",
    "To open it, turn one hand towards you and the other away, until the gap lets two wires pass. Never pull the "
    "ends apart sideways: the ring would not become round again.",
    "To close it, turn back a little past the middle and then to it, with a light push inwards. The ends must "
    "meet without a step and without a gap. You often feel or hear a click.",
)
"""Common practice."""
HOW_TO_READ_TEXT: tuple[str, ...] = (
    "One step is one stage of the work. Beside its text stand the rings that it uses, open or closed, and what is "
    "in the work when it is done. Count there before you go on.",
)
TWIN_TEXT = "A ring and its twin are made one after the other, the same way, and then lie side by side."


def lay_out(what: str) -> str:
    """The findings to have at hand."""
    return f"Lay out {what}."


SAFETY = "For your safety"
SAFETY_TEXT: tuple[str, ...] = (
    "Wear eye protection while you cut, open or close wire. A ring under tension or a cut end can fly off.",
    "Cut ends are sharp and scratch skin. Close every ring fully.",
    "Loose rings and findings are small parts that can be swallowed or breathed in. Keep them away from children "
    "under three and from animals, and clear up when you stop.",
)

MARKS: dict[Mark, str] = {
    Mark.NEW: "the open ring of this step, and its twin",
    Mark.CARRIED: "closed rings and findings that come in with it",
    Mark.PASSED: "what the open ring goes through",
    Mark.PLACED: "in the work already",
    Mark.PATH: "the way of the wire",
}

# ---------------------------------------------------------------- steps

NEEDS = "Take"
SO_FAR = "In the work now"
CHECK = "Check"
NOTE = "Note"
TIP = "Tip"
CAUTION = "Caution"
TICK = "Tick each step when it is done"
AGAIN = "The same again"


def needs(entry: KindCount, *, opened: bool) -> str:
    """A line of a step's parts: `6 large rings, open`."""
    noun = kind_noun(entry.kind, entry.count)
    if entry.kind.finding:
        return f"{entry.count} {noun}"
    return f"{entry.count} {noun}, {'open' if opened else 'closed'}"


def in_work(entry: KindCount) -> str:
    """A line of the tally."""
    return f"{entry.count} {kind_noun(entry.kind, entry.count)}"


def links(count: int) -> str:
    """How many links there are."""
    return f"{count} {'link' if count == 1 else 'links'}"


def continued(title: str) -> str:
    """The head of a step that goes on from the page before."""
    return f"{title} (continued)"


def step_name(number: int, title: str) -> str:
    """A step in the contents list and the outline."""
    return f"{number}  {title}"


def steps_name(first: int, last: int, title: str) -> str:
    """Folded steps in the contents list and the outline."""
    return f"{first}–{last}  {title}" if last > first else step_name(first, title)


def piece_lead(steps: int, rings: int, times: int) -> str:
    """What stands under the title of a piece."""
    stages = f"{steps} {'step' if steps == 1 else 'steps'}"
    text = f"{capital(stages)}, {rings} {'ring' if rings == 1 else 'rings'}"
    if times == 1:
        return f"{text}."
    again = "a second time" if times == 2 else f"until you have {times}"
    return f"{text} in each. Work all the steps once, then all of them again, {again}."


def scale(factor: float) -> str:
    """The caption of a figure drawn to scale."""
    if factor >= 1:
        return f"Drawn {plain(Decimal(repr(factor)), 1)} times as large as the work."
    return f"Drawn at {plain(Decimal(repr(factor * 100)), 0)} % of true size."


TRUE_SCALE = "Drawn in true size."
SCHEMATIC = "Schematic, not to scale: it shows which rings are linked."
TURNED = "Seen from behind."
TURN_OVER_ALT = "Turn the work over."

# ---------------------------------------------------------------- finishing

FINISHING_TEXT: tuple[str, ...] = (
    "Draw the piece through your fingers. Where something scratches or catches a thread, close that ring again.",
    "Hold it against the light: no ring may show a gap.",
    "Pull gently along the whole length. Nothing may slip or give.",
)
"""Common practice."""


def left_over(what: str) -> str:
    """What remains of the kit."""
    return f"If everything was used as told, {what} of the kit are left over. Keep them for repairs."


NOTHING_LEFT = "If everything was used as told, nothing of the kit is left over."
FINAL_COUNT = "The finished work holds, over everything that is made,"


def final_count(what: str) -> str:
    """The whole count."""
    return f"All that is made holds {what}."


# ---------------------------------------------------------------- cautions

GENERAL_CAUTIONS: tuple[tuple[str, str], ...] = (
    (
        "Eyes",
        "Wear eye protection when you cut, open or close wire, and turn the cut away from your face. Look for EN "
        "ISO 16321, EN 166 or Z87+ on it.",
    ),
    (
        "Sharp ends",
        "A cut end scratches skin and pulls threads. Close rings until the ends meet, and run a finger along the work.",
    ),
    (
        "Small parts and children",
        "Each loose ring is a small part. Keep rings, findings and finished jewellery away from children under three "
        "and from animals. A necklace or bracelet must not be worn in sleep or at play.",
    ),
)
EAR_CAUTION = (
    "Ear wires",
    "Wear only clean ear wires of a material you tolerate, in healed piercings. Take heavy earrings off when they pull.",
)
METAL_CAUTIONS: dict[Caution, tuple[str, str]] = {
    # REACH (EC) 1907/2006, Annex XVII, entries 27 (nickel) and 63 (lead).
    Caution.RELEASES_NICKEL: (
        "Nickel",
        "{metals} hold much nickel, which can make skin red and sore. Do not use them for earrings or for people "
        "with a nickel allergy. In the European Union the release of nickel from jewellery is limited.",
    ),
    Caution.MAY_RELEASE_NICKEL: (
        "Nickel",
        "Some grades of {metals} release nickel, which can make skin red and sore. Ask the seller which grade it is. "
        "Stop wearing the piece if skin reddens.",
    ),
    Caution.MAY_HOLD_LEAD: (
        "Lead",
        "Some grades of {metals} hold lead. Take wire sold for jewellery, and wash your hands after work.",
    ),
    Caution.STAINS_SKIN: (
        "Marks on skin",
        "{metals} can leave a green or dark mark on skin. It washes off.",
    ),
    Caution.TARNISHES: (
        "Tarnish",
        "{metals} darken in air. Keep the piece dry and closed away, and polish it with a soft cloth.",
    ),
    Caution.COATING_WEARS: (
        "Thin coatings",
        "The outer layer of {metals} is thin. Pad the jaws, and do not file or tumble it.",
    ),
    Caution.HARD_TO_CUT: (
        "Hard wire",
        "{metals} spring back and blunt soft cutters. Use cutters for hard wire, and hold both ends when you cut.",
    ),
    Caution.PERISHES: (
        "Rubber",
        "Rings of {metals} age in light and oil and tear in the end. Let nothing hang on them that must not fall, "
        "and look them over now and then.",
    ),
}
LAW = (
    "Where this booklet stops",
    "It is no safety assessment. If you sell or give away what you make, local law comes first, with its limits for "
    "nickel, lead and cadmium and its rules for children's goods, and so does the data sheet of the maker of your "
    "material.",
)


def metal_caution(caution: Caution, metals: Sequence[str]) -> tuple[str, str]:
    """A caution for the metals that it is about."""
    head, text = METAL_CAUTIONS[caution]
    return head, capital(text.format(metals=listed(list(metals))))


# ---------------------------------------------------------------- edition

TITLE_ROW, DESIGNER_ROW, EDITION_ROW, LICENCE_ROW, SOURCE_ROW = (
    "Title",
    "Design",
    "Edition",
    "Licence",
    "Text",
)
NO_LICENCE = "The pattern names no licence. Ask the designer before you copy it or sell from it."


def licence(name: str) -> str:
    """Under which terms the pattern may be used."""
    return f"{typed(name)}. The terms of this licence say how you may copy and use the pattern."


COLOPHON = (
    "All counts, masses and sizes in this booklet are computed from the designer's text by Annulet, which also "
    "checked it before printing. Set in Fira Sans (SIL Open Font License 1.1)."
)
