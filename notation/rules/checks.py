"""Rules of the checks on a finished weave: held together, eyes, doubling, the kit, fit."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    # ------------------------------------------------------------ held together
    Rule(
        name="loose-part",
        severity=Severity.ERROR,
        title="something falls off",
        wordings={
            "": Wording(
                says="{name} hangs on nothing",
                hint="Pass it through a ring of the work, or leave it out.",
            ),
            "strand": Wording(
                says="{name} ({rings} rings) hangs on nothing",
                hint="Pass it through a ring of the work, or leave it out.",
            ),
            "part-of-one": Wording(
                says="{name} and what hangs on it are not held by the rest of {piece}",
                hint="Join it to the rest, or say how many parts there are: `piece {piece} in 2 parts:`.",
            ),
            "part": Wording(
                says="{name} and what hangs on it ({rings} rings) are not held by the rest of {piece}",
                hint="Join it to the rest, or say how many parts there are: `piece {piece} in 2 parts:`.",
            ),
        },
        page="""\
A piece is one: from any ring you can reach any other, going from a ring to one that it is linked with,
that it goes around or lies between, and through the body of a finding from one eye to another. What
cannot be reached falls off when the piece is picked up. The largest part counts as the work; every other
part is told once, by the first ring in it.

At the bench this is a ring that was carried and never gone through again, or a row that was begun and not
joined to the row below.

    take 5 link as base
    pass 1 link through first of base      # base 2 to 5 hang on nothing

What to do: pass a ring through what is loose, leave it out, or, if the piece is meant to be in several
parts (two earrings, a necklace and its pendant), declare them: `piece set in 2 parts:`.
""",
    ),
    Rule(
        name="too-few-parts",
        severity=Severity.ERROR,
        title="fewer parts than declared",
        wordings={
            "": Wording(
                says="{piece} is declared in {declared} parts, and it is in {found}",
                hint="Change the number of parts, or take away the pass that joins two of them.",
            ),
            "one": Wording(
                says="{piece} is declared in {declared} parts, and everything in it is held together",
                hint="Leave out `in {declared} parts`, or take away the pass that joins two of them.",
            ),
        },
        page="""\
`in 2 parts` promises that the piece comes apart into two. If it does not, either the number is wrong or a
pass joins what should stay apart.

    piece pair in 2 parts:
        pass 1 link as left
        pass 1 link as right through left      # now it is one

What to do: correct the number, or find the pass that goes through rings of both parts.
""",
    ),
    # ------------------------------------------------------------ eyes
    Rule(
        name="unused-eye",
        severity=Severity.ERROR,
        title="an eye that nothing goes through",
        wordings={
            "": Wording(
                says="nothing goes through the eye {eye} of {finding}",
                hint="Use it, or declare it free: `eye {eye} ... free`.",
            ),
        },
        page="""\
Every eye of a finding is there to hang something on. One that stays empty is most often a motion that was
left out: the second end of a chain, the other half of a clasp. An eye that may stay empty says so where
the finding is declared.

    finding bar: link-bar, eye left 1.5 mm, eye right 1.5 mm free, metal copper

What to do: pass a ring through it, or add `free` to that eye.
""",
    ),
    # ------------------------------------------------------------ doubling
    Rule(
        name="lone-twin",
        severity=Severity.ERROR,
        title="a companion that missed a ring",
        wordings={
            "twin": Wording(
                says="the twin of {strand} misses a ring of {other} that the first ring has",
                hint="Lead the twin the same way, or declare the rings as singles: `2 single ...`.",
            ),
            "twin-several": Wording(
                says="the twin of {strand} misses {count} rings of {other} that the first ring has",
                hint="Lead the twin the same way, or declare the rings as singles: `2 single ...`.",
            ),
            "first": Wording(
                says="the first ring of {strand} misses a ring of {other} that its twin has",
                hint="Lead both the same way, or declare the rings as singles: `2 single ...`.",
            ),
            "first-several": Wording(
                says="the first ring of {strand} misses {count} rings of {other} that its twin has",
                hint="Lead both the same way, or declare the rings as singles: `2 single ...`.",
            ),
            "ring": Wording(
                says="ring {lacking} of {strand} misses a ring of {other} that ring {having} has",
                hint="Lead all its rings the same way, or declare them as singles.",
            ),
            "ring-several": Wording(
                says="ring {lacking} of {strand} misses {count} rings of {other} that ring {having} has",
                hint="Lead all its rings the same way, or declare them as singles.",
            ),
            "nested": Wording(
                says="{strand} misses {other}, which the ring that it is nested in has",
                hint="Lead what goes through the one through both, or leave `nested` out.",
            ),
            "around": Wording(
                says="{strand} misses {other}, which the ring nested in it has",
                hint="Lead what goes through the one through both, or leave `nested` out.",
            ),
        },
        page="""\
A doubled ring and its twin follow the same way and lie side by side, so in the finished piece they hold
the same rings. A twin that missed one leans over its neighbour, and the weave does not lie flat. Each
missing link is told once, at the statement that came later.

Neighbours are counted strand by strand: it does not matter which ring of a pair a twin holds, only how
many.

    pass 2 large as arm through spoke:
        twin through spoke[1 to 5]       # spoke 6 is missed

A small ring that is nested in a large one of another pass follows its way, and is looked at in the same manner.

What to do: add what is missing to the twin's way (or reopen the twin later). If the two are not meant to
lie side by side, they are no companions: pass `2 single large`.
""",
    ),
    # ------------------------------------------------------------ the kit
    Rule(
        name="over-budget",
        severity=Severity.ERROR,
        title="the kit runs out",
        wordings={
            "": Wording(
                says="the kit runs out of {kind} here: it has {kit}, and the pieces need {need}",
                hint="Put {short} more in the kit: `{need} {kind}`.",
            ),
            "in-first": Wording(
                says="the kit runs out of {kind} in the first {piece}: it has {kit}, and the pieces need {need}",
                hint="Put {short} more in the kit: `{need} {kind}`.",
            ),
            "in-second": Wording(
                says="the kit runs out of {kind} in the second {piece}: it has {kit}, and the pieces need {need}",
                hint="Put {short} more in the kit: `{need} {kind}`.",
            ),
            "in-third": Wording(
                says="the kit runs out of {kind} in the third {piece}: it has {kit}, and the pieces need {need}",
                hint="Put {short} more in the kit: `{need} {kind}`.",
            ),
            "in-later": Wording(
                says="the kit runs out of {kind} in {piece} {time} of {times}: it has {kit}, and "
                "the pieces need {need}",
                hint="Put {short} more in the kit: `{need} {kind}`.",
            ),
        },
        page="""\
The kit is one packet and has to be enough for every piece, each as often as it is made. The pieces are
made in the order of the text; the statement that takes the first ring too many is marked, so that you see
whether a count is off (a motion that is repeated on the other side) or the packet is too small.

    kit: 30 small
    piece earring made 2 times:          # 16 small each: the second one runs out

What to do: put more in the kit, or look at the marked statement again.
""",
    ),
    Rule(
        name="not-in-kit",
        severity=Severity.ERROR,
        title="a kind that the kit lacks",
        wordings={
            "": Wording(
                says="the kit has no {kind}, and the pieces need {need}",
                hint="Add it to the kit: `{need} {kind}`.",
            ),
        },
        page="""\
A pattern with a kit says all that its packet holds. A kind of ring or finding that the pieces use and the
kit does not name would be missing on the bench.

    kit: 40 large                        # the hook was forgotten
    hang hook from heart

What to do: add the kind and its count to the kit.
""",
    ),
    Rule(
        name="unused-in-kit",
        severity=Severity.WARNING,
        title="packed and never used",
        wordings={
            "": Wording(
                says="the kit has {kind}, and no piece uses it",
                hint="Leave it out of the kit, or use it.",
            ),
        },
        page="""\
Something in the packet that no step takes makes the maker look for what was missed. Either a motion was
left out or the kit is that of another version.

What to do: take it out of the kit, or write the step that uses it.
""",
    ),
    Rule(
        name="spare-in-kit",
        severity=Severity.ADVICE,
        title="what the kit has over",
        wordings={"": Wording(says="the kit leaves {spare} over")},
        page="""\
A few rings over are a kindness: one is bent, one rolls off the table. This only tells how many there are.
To count without spares, make the numbers of the kit those of the materials table.
""",
    ),
    # ------------------------------------------------------------ fit
    Rule(
        name="does-not-fit",
        severity=Severity.ERROR,
        title="more wire than the hole can take",
        wordings={
            "": Wording(
                says="{count} wires of {wire} go through the hole of {name} (inner {inner}), which cannot "
                "hold more than {most}",
                hint="Take thinner wire, fewer rings, or an inner diameter of {enough} or more.",
            ),
            "mixed": Wording(
                says="{count} wires ({wires}) go through the hole of {name} (inner {inner}), which cannot "
                "hold them",
                hint="Take thinner wire, fewer rings, or an inner diameter of {enough} or more.",
            ),
            "wire": Wording(
                says="a wire of {wire} does not go through the hole of {name} (inner {inner})",
                hint="Take thinner wire, or an inner diameter of {enough} or more.",
            ),
        },
        page="""\
Each ring that is linked with another sends its wire once through the other's hole; one that is gone
around, twice. Round wires side by side need room: seven of one thickness need a hole three times as wide
as the wire, twelve one that is four times as wide. The bound holds however the rings are tilted, so what
it refuses cannot be woven. What it lets pass may still be too tight to close: it is a bound and not a
promise.

    ring large: inner 3 mm, wire 1 mm, metal copper       # seven wires of 1 mm and no more
    pass 1 large carrying 8 large

The figures are those of the best packings of equal circles in a circle (Graham and others 1998; Kravitz
1967).

What to do: larger inner diameters, thinner wire, or fewer rings through that one.
""",
    ),
    Rule(
        name="crowded-hole",
        severity=Severity.ADVICE,
        title="wires two deep in a hole",
        wordings={
            "": Wording(
                says="{count} wires of {wire} go through the hole of {name} (inner {inner}); side by side "
                "along its rim there is room for {most}",
                hint="Some will lie two deep. Try it in wire before you print.",
            ),
        },
        page="""\
In most weaves the rings in one hole lie side by side along its rim. Here there are more than the rim has
room for, so that some have to lie in the middle. This can be meant, and it can be stiff: the pattern may
want a larger ring.

At most pi / asin(w / (d - w)) wires of thickness w lie along the rim of a hole of diameter d.
""",
    ),
    Rule(
        name="slips-off",
        severity=Severity.WARNING,
        title="wide enough to slip off",
        wordings={
            "": Wording(
                says="{name} goes around {other} and can slip over it: inner {inner}, and {other} is {outer} "
                "outside",
                hint="Take a smaller ring if it is to stay there.",
            ),
        },
        page="""\
A ring that only lies around others is held as long as it is too small to pass over them. If its hole is
as wide as one of them outside (inner diameter and twice the wire), nothing keeps it there but what hangs
beyond.

What to do: a smaller ring around, or larger ones inside.
""",
    ),
)

NOTES: Mapping[str, str] = MappingProxyType(
    {
        "largest-part": "the largest part ({rings} rings) begins here, with {name}",
        "finding-declared": "{name} is declared here",
        "companion-has-it": "its companion does so here",
        "kit-has": "the kit has {count} {kind}",
        "kit-begins": "the kit",
        "hole-declared": "inner {inner} is declared here",
        "outer-declared": "{outer} outside, by these sizes",
        "use-named": "in {name}, made here",
        "use-unnamed": "in what is made here",
        "round-named": "where {name} = {number}",
        "round-unnamed": "in round {number}",
        "place-named": "at {name} {number}",
        "once-more": "and once more at this place, in another round or use",
        "more-places": "and {count} more times at this place, in other rounds or uses",
    }
)
"""Notes on further places and on the way there, by key."""
