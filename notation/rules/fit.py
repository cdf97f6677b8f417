"""Rules of the geometry: what a search for a layout, or a kept one, says of a piece. None of them is an error."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

_WHAT_NOW = "Its figures are schematic. Thinner wire or larger rings give room: `annulet fit` tells where."

RULES: tuple[Rule, ...] = (
    Rule(
        name="not-proved",
        severity=Severity.WARNING,
        title="no layout was found that the proof passes",
        wordings={
            "": Wording(
                says="no layout of {piece} was found with every ring as the text says: {pairs} came out wrong, "
                "with wires at {clearance} of the distance they need",
                hint=_WHAT_NOW,
            ),
            "more": Wording(
                says="no layout of {piece} was found with every ring as the text says: {pairs} and {more} more "
                "pairs came out wrong, with wires at {clearance} of the distance they need",
                hint=_WHAT_NOW,
            ),
            "tight": Wording(
                says="the best layout found of {piece} has the wires of {pairs} at {clearance} of the distance "
                "they need",
                hint=_WHAT_NOW,
            ),
            "hand": Wording(
                says="no layout of {piece} was found in which rings are entered from the side that the text "
                "says: it came out wrong at {pairs}, with wires at {clearance} of the distance they need",
                hint=_WHAT_NOW,
            ),
            "over": Wording(
                says="no layout of {piece} was found in which, seen from the front, every ring lies over or under "
                "others as the text says: it came out wrong at {pairs}, with wires at {clearance} of the distance "
                "they need",
                hint=_WHAT_NOW,
            ),
            "pose": Wording(
                says="no layout of {piece} was found in which rings lean, are turned, or lie front and back as the "
                "text says: it came out wrong at {pairs}, with wires at {clearance} of the distance they need",
                hint="Its figures are schematic. Say another pose, or none: then the piece is drawn as it was found.",
            ),
            "closing": Wording(
                says="no layout of {piece} was found that closes with the half turns and the front that the text "
                "says: it came out wrong from {pairs}, with wires at {clearance} of the distance they need",
                hint=_WHAT_NOW,
            ),
        },
        page="""\
Before a figure is drawn as true, every ring of the piece is placed in space, as a rigid circle with its wire
along it, and the places are proved: each pair of rings is linked, apart or around as the text says, what is said to
lie over something does so seen from the front, a round is closed with the half turns and a tube with the front
that are said, rings lean and are turned as is said, companions lie front and back where that is said, and no
wire passes through another. Clearance is the least distance of two wires, from middle to middle, over the distance
at which they touch; a proof needs 1 or more.

Here the search found no such places. That does not mean that there are none: the search is given a bounded
amount of work, and real wire gives a little. The best it reached is told, with the pairs of rings concerned.
Nothing that is not proved is drawn as if it were: the booklet of this piece has schematic figures, which show
what is linked with what, and say so.

    ring link: inner 3 mm, wire 1.2 mm, metal copper
    sheet mesh of 5 rows of 5, staggered:
        pass 1 link through the two below      # four wires of 1.2 mm in a hole of 3 mm

What to do: ask `annulet fit` how much room there is, take thinner wire or larger rings, or weave a small
sample and leave the figures as they are.
""",
    ),
    Rule(
        name="settled-in-part",
        severity=Severity.ADVICE,
        title="a piece too large to be settled whole",
        wordings={
            "": Wording(
                says="{piece} has {rings} rings and eyes, more than are placed in space at once; its first {part} are "
                "proved and drawn true, the whole in outline, and the later steps are schematic",
            ),
            "loose": Wording(
                says="{piece} has {rings} rings and eyes, more than are placed in space at once, and its first "
                "hundreds are hardly linked yet; nothing of it is proved, and its figures are schematic",
                hint="Write a part of the weave as a small pattern of its own and look at its figures.",
            ),
        },
        page="""\
Rings are placed in space and proved for pieces of up to 2,000 rings and eyes. Of a larger one its beginning is
placed, some hundreds of rings up to the end of a row or step: one repeat of the weave, and mostly more. That tells
whether these sizes weave, for a large sheet repeats what its first rows do; it does not prove the whole. So the
steps in which those rings come in are drawn true, and those after them are schematic. The cover shows the
beginning in full and the whole in outline, and the finished size follows from the pitch of the beginning and is
said to be about that much. Of a tube, and of others that do not lie as they are drawn flat, no size is told.

What to do: nothing. Where the beginning is hardly linked yet, as in a sheet of rows of many hundreds, write a part of
the weave as a small pattern of its own and look at its figures.
""",
    ),
    Rule(
        name="stale-layout",
        severity=Severity.ADVICE,
        title="kept geometry for another state of the piece",
        wordings={
            "": Wording(
                says="{file} is for another state of {piece} and is not used",
                hint="`annulet settle` renews it.",
            ),
            "missing": Wording(
                says="{file} has nothing about {piece}",
                hint="`annulet settle` adds it, if a layout is found.",
            ),
        },
        page="""\
The file beside a pattern that ends in `.layout` keeps where its rings lie, so that every machine draws the
same figures without searching again. It belongs to the rings, their sizes and what is linked with what. After
a change of any of these it is out of date: it is not used, and a build searches anew. Words, titles, metals
and notes do not matter to it.

What to do: `annulet settle FILE` writes it anew.
""",
    ),
    Rule(
        name="refused-layout",
        severity=Severity.WARNING,
        title="kept geometry that is refused",
        wordings={
            "": Wording(
                says="the proof refuses what {file} says of {piece}",
                hint="`annulet settle` writes it anew.",
            ),
            "unreadable": Wording(
                says="{file} is not a layout file",
                hint="`annulet settle` writes it anew.",
            ),
        },
        page="""\
A kept layout is never trusted: whenever it is read, the proof is run again on its numbers. Here it was
refused, or the file could not be read at all. It was changed by something other than `annulet settle`, or
cut short. It is not used, and a build searches anew.

What to do: `annulet settle FILE` writes it anew.
""",
    ),
)

NOTES: Mapping[str, str] = MappingProxyType({})
"""No notes of its own."""
