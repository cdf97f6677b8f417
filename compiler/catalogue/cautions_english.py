"""The booklet's cautions in English: for the maker, the wearer and the seller.

In: cautions of metals. Out: a head and a text for each. Our own words; limits and standards name their source beside
them. Nothing here claims that a piece complies with any rule.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.catalogue.nouns import capital, listed
from notation.metals import Caution

CAUTIONS = "Cautions"
SAFETY = "For your safety"
SAFETY_TEXT: tuple[str, ...] = (
    "Wear eye protection while you cut, open or close wire: a cut end or a ring can fly off.",
    "Cut ends are sharp and scratch skin. Close every ring fully.",
    "Loose rings and other small parts can be swallowed or breathed in. Keep them away from children "
    "under three and from animals, and clear up when you stop.",
)

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
        "Each loose ring is a small part. Keep rings and finished jewellery away from children under three and from "
        "animals. Take jewellery off before sleep, play and sport.",
    ),
)
EAR_CAUTION = (
    "Ear wires",
    "Wear clean ear wires of a material that you tolerate, in healed piercings only. Take heavy earrings off when they "
    "pull.",
)
METAL_CAUTIONS: dict[Caution, tuple[str, str]] = {
    # REACH (EC) 1907/2006, Annex XVII, entry 27.
    Caution.RELEASES_NICKEL: (
        "Nickel",
        "There is much nickel in {metals}. It can make skin red and sore: not for earrings, and not for people with "
        "a nickel allergy. The European Union limits the release of nickel from jewellery.",
    ),
    Caution.MAY_RELEASE_NICKEL: (
        "Nickel in some grades",
        "Some grades of {metals} release nickel, which can make skin red and sore. Ask the seller for the grade. Stop "
        "wearing the piece if skin reddens.",
    ),
    # The same annex, entry 63.
    Caution.MAY_HOLD_LEAD: (
        "Lead",
        "Some grades of {metals} hold lead. Take wire that is sold for jewellery, and wash your hands after work.",
    ),
    # Common practice, as all that follow.
    Caution.STAINS_SKIN: ("Marks on skin", "{metals} can leave a green or dark mark on skin. It washes off."),
    Caution.TARNISHES: (
        "Tarnish",
        "{metals} will darken in air. Keep the piece dry and closed away, and polish it with a soft cloth.",
    ),
    Caution.COATING_WEARS: (
        "Thin coatings",
        "The outer layer of {metals} is thin. Pad the jaws of your pliers, and neither file nor tumble the rings.",
    ),
    Caution.HARD_TO_CUT: (
        "Hard wire",
        "{metals} can spring back, and will blunt soft cutters. Use cutters for hard wire, and hold both ends when you "
        "cut.",
    ),
    Caution.PERISHES: (
        "Rubber",
        "Rings of {metals} age in light and oil and tear in the end. Let nothing hang on them that must not fall, and "
        "look them over now and then.",
    ),
}
LAW = (
    "Where this booklet stops",
    "This booklet is not a safety assessment. If you sell or give away what you make, local law comes first, with its "
    "limits for nickel, lead and cadmium and its rules for children’s goods, and so does the data sheet of the maker "
    "of your material.",
)


def metal_caution(caution: Caution, metals: Sequence[str]) -> tuple[str, str]:
    """A caution for the metals that it is about."""
    head, text = METAL_CAUTIONS[caution]
    return head, capital(text.format(metals=listed(list(metals))))
