"""Rules of editions: variants in the text, and pieces made to a length."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

_CLOSE = "Did you mean `{close}`?"

RULES: tuple[Rule, ...] = (
    Rule(
        name="not-in-pattern",
        severity=Severity.ERROR,
        title="a variant of something that is not there",
        wordings={
            "ring": Wording(
                says="the pattern has no ring called {name}, so that a variant cannot change it",
                hint="Declare it at the left margin first.",
            ),
            "ring-close": Wording(says="the pattern has no ring called {name}", hint=_CLOSE),
            "finding": Wording(
                says="the pattern has no finding called {name}, so that a variant cannot change it",
                hint="Declare it at the left margin first.",
            ),
            "finding-close": Wording(says="the pattern has no finding called {name}", hint=_CLOSE),
            "number": Wording(
                says="no `let` at the left margin is called {name}",
                hint="Write `let {name} = 6` there, and use the name in the units and pieces.",
            ),
            "number-close": Wording(says="no `let` at the left margin is called {name}", hint=_CLOSE),
            "piece": Wording(
                says="no piece called {name} is made to a length",
                hint="Give the piece a line such as `length 185 mm varying repeats`.",
            ),
            "piece-close": Wording(says="no piece called {name} is made to a length", hint=_CLOSE),
            "length": Wording(
                says="no piece is made to a length, so that a variant cannot change it",
                hint="Give the piece a line such as `length 185 mm varying repeats`.",
            ),
            "lengths": Wording(
                says="several pieces are made to a length, and this does not say which is meant",
                hint="Write `length of` and one of {pieces} before the length.",
            ),
        },
        page="""\
Each line of a variant stands in place of the one at the left margin that has the same name; a `length` stands in
place of that of its piece. A variant adds nothing, but for a kit.

    ring link: inner 5 mm, wire 1 mm, metal copper
    variant heavy:
        ring lnk: inner 6 mm, wire 1.2 mm, metal brass        # link

What to do: correct the name, or declare at the left margin what the variant is to change.
""",
    ),
    Rule(
        name="changed-twice",
        severity=Severity.ERROR,
        title="a variant that says a thing twice",
        wordings={
            "": Wording(says="this variant has changed {what} already", hint="Leave one of the two out."),
        },
        page="""\
A variant says each thing once: which of two lines is meant cannot be told.

    variant heavy:
        let repeats = 30
        let repeats = 34

What to do: leave one out, or make two variants of it.
""",
    ),
    Rule(
        name="variant-changes-nothing",
        severity=Severity.WARNING,
        title="a variant that is the pattern as written",
        wordings={
            "": Wording(
                says="the variant {name} says what the pattern says already",
                hint="Change something in it, or leave it out.",
            ),
        },
        page="""\
Every line of this variant has what the pattern has without it: the same rings, numbers, lengths and kit. Somebody who
asks for it gets the booklet of the pattern as written.

What to do: perhaps a figure was not changed after copying; else leave the variant out.
""",
    ),
    Rule(
        name="unknown-varying",
        severity=Severity.ERROR,
        title="a length with nothing that may vary",
        wordings={
            "": Wording(
                says="no `let` at the left margin is called {name}, so that nothing may vary for this length",
                hint="Write `let {name} = 20` there, and use the name where the repeats are counted.",
            ),
            "close": Wording(says="no `let` at the left margin is called {name}", hint=_CLOSE),
        },
        page="""\
A piece is made to a length by making something more or less often. What may vary is a number at the left margin; how
often it takes is worked out.

    let repeats = 20
    piece bracelet:
        length 185 mm varying repeats
        line chain of repeats:

What to do: name such a number, and count the repeats by it.
""",
    ),
    Rule(
        name="varying-sum",
        severity=Severity.ERROR,
        title="a number that may vary and follows from others",
        wordings={
            "": Wording(
                says="{name} follows from a sum, so that it cannot vary by itself",
                hint="Let a number vary that is written as a plain figure.",
            ),
        },
        page="""\
What varies for a length is set by the length. A number that is worked out from others cannot be set; one of those it is
worked out from can.

    let repeats = 20
    let rings = 2 * repeats
    length 185 mm varying rings           # varying repeats

What to do: vary the number that stands there as a figure.
""",
    ),
    Rule(
        name="length-again",
        severity=Severity.ERROR,
        title="two lengths for one thing",
        wordings={
            "": Wording(says="{piece} has a length already", hint="Leave one of the two out."),
            "number": Wording(
                says="{name} varies for another length already",
                hint="Give each piece a number of its own.",
            ),
        },
        page="""\
A piece has one length, and a number varies for one piece: with two, which counts could not be told.

    let repeats = 20
    piece bracelet:
        length 185 mm varying repeats
    piece anklet:
        length 240 mm varying repeats        # let more = 26 ... varying more

What to do: leave one out, or make a number of its own for the second piece.
""",
    ),
    Rule(
        name="length-not-known",
        severity=Severity.WARNING,
        title="a length for which no layout is kept",
        wordings={
            "": Wording(
                says="how many of {name} make {piece} {wanted} long is not known without a layout; {repeats} are "
                "taken",
                hint="`annulet settle` lays it out and keeps that; `annulet check --fit` looks once.",
            ),
        },
        page="""\
How much a repeat adds to the length of a piece is read from where its rings lie. That is worked out by `annulet
settle` and kept in a file beside the pattern, from which every command takes it; an ordinary check searches for
nothing. Here there is no such file, or it is of other rings. Commands that make something, such as `annulet build`,
search then by themselves.

What to do: `annulet settle` the pattern. Of an edition that is only asked for on the command line nothing is kept:
`annulet check --fit` works its length out.
""",
    ),
    Rule(
        name="length-not-made",
        severity=Severity.WARNING,
        title="a length that no number of repeats makes",
        wordings={
            "": Wording(
                says="no number of {name} makes {piece} {wanted} long: {reason}; {repeats} are taken",
                hint="Ask for another length, or let another number vary.",
            ),
        },
        page="""\
The piece was laid out with some numbers of repeats, and none of them leads to the length: the piece without any repeat
is longer already, a repeat more makes it no longer, or no layout is found that the proof passes. The number that the
text has is taken instead.

    length 20 mm varying repeats          # with a clasp of 30 mm

What to do: see that the number which may vary is one that lengthens the piece, and that the length leaves room for what
does not vary.
""",
    ),
)

NOTES: Mapping[str, str] = MappingProxyType({"in-variant": "in the variant {name}"})
