"""Rules about what the designer asserts, and about waiting for what is made later."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="not-as-expected",
        severity=Severity.ERROR,
        title="a count that is not as expected",
        wordings={
            "used": Wording(
                says="{wanted} {kind} are expected here, and {there} are used",
                hint="Count again from the start of this unit or piece: is a motion missing, or carried "
                "out once too often?",
            ),
            "total": Wording(
                says="{wanted} {what} are expected here, and there are {there}",
                hint="Count again from the start of this unit or piece: is a motion missing, or carried "
                "out once too often?",
            ),
            "holds": Wording(
                says="{name} is expected to hold {wanted}, and it holds {there}",
                hint="Look at the passes through it; every ring of a pair is asked by itself.",
            ),
            "lies": Wording(
                says="{name} is expected to lie {lies} {other}, and nothing says that it does",
                hint="Say so where it is made, `{lies} ...`, or correct the expectation.",
            ),
            "lies-not": Wording(
                says="{name} is expected not to lie {lies} {other}, and it does",
                hint="Leave `{lies} ...` out where it is made, or correct the expectation.",
            ),
            "pose": Wording(
                says="{name} is expected to be {wanted}, and it is {there}",
                hint="Look at the line that makes it or poses it, or correct the expectation.",
            ),
            "loop": Wording(
                says="this loop is expected to be {wanted}, and it is {there}",
                hint="Look at the sides of entry along it: each `from behind` changes plain into crossed and back.",
            ),
            "turns": Wording(
                says="{name} is expected to close with {wanted}, and it closes with {there}",
                hint="Say it where {name} is made: `closed with {wanted}`.",
            ),
            "front-inside": Wording(
                says="{name} is expected to close with its front inside, and it closes with its back inside",
                hint="Say it where {name} is made: `closed with front inside`.",
            ),
            "back-inside": Wording(
                says="{name} is expected to close with its back inside, and it closes with its front inside",
                hint="Leave `closed with front inside` out where {name} is made, or correct the expectation.",
            ),
        },
        page="""\
`expect` is the designer's own count, compared with what the text makes up to that line: rings used since
the unit began, links or rings in all, or how many rings each one holds. One that is met is printed as a
check for the maker. If it is not met, one of the two is wrong: the count, or the text.

    pass 2 large as heart carrying 12 small as spoke
    expect heart holds 12
    expect 2 large, 12 small used

A common slip: rings shared by two parts are counted for both.

What to do: count by hand once more and correct the wrong one.
""",
    ),
    Rule(
        name="already-made",
        severity=Severity.ERROR,
        title="waiting for what is there",
        wordings={
            "": Wording(
                says="{name} is made already, so there is nothing to wait for",
                hint="Move the `hold` above the statement that makes {name}, or leave out `until`.",
            ),
        },
        page="""\
`hold spoke until arm is made` tells the maker how long something has to be held, so what it waits for
comes later.

What to do: move the line up, or leave out `until ...`.
""",
    ),
)
