"""Rules about limits: a slip in a number must not eat the memory of the machine."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

_SLIP = "Is one of the numbers a slip? If the pattern is really so large, divide it into several."

RULES: tuple[Rule, ...] = (
    Rule(
        name="too-many-rings",
        severity=Severity.ERROR,
        title="more rings than a pattern may have",
        wordings={
            "": Wording(says="{count} more rings here; a pattern may have {limit}", hint=_SLIP),
            "findings": Wording(says="{count} more findings here; a pattern may have {limit}", hint=_SLIP),
            "links": Wording(says="{count} more links here; a pattern may have {limit}", hint=_SLIP),
        },
        page="""\
A pattern may have two million rings and five million links, each piece counted once; a finding counts for ten
rings. Before that is passed, the work stops and says where.

What to do: look for a slip in the numbers, such as a nought too many.
""",
    ),
    Rule(
        name="too-many-rounds",
        severity=Severity.ERROR,
        title="more rounds than a pattern may have",
        wordings={
            "": Wording(says="{count} more rounds here; a pattern may have {limit}", hint=_SLIP),
        },
        page="""\
The rounds of all loops and the places of all families together may be two hundred thousand. A sheet or
tube of one plain pass, `pass 1 link through the two below`, does not count: it may be larger.

What to do: look for a slip in the numbers; make large sheets with `sheet` and one plain pass.
""",
    ),
    Rule(
        name="too-many-statements",
        severity=Severity.ERROR,
        title="more statements than a pattern may have",
        wordings={
            "": Wording(says="this pattern carries out more than {limit} statements", hint=_SLIP),
            "members": Wording(
                says="the picks of this pattern come to more than {limit} members",
                hint="Is a whole group named in a loop, where a part of it is meant?",
            ),
        },
        page="""\
Statements are counted as often as loops, families and uses carry them out. Together they may be a
million. What is picked is counted too: a bare name is all members of its group, every time that it is named.
All picks together may come to five million members.

What to do: look for a slip in the numbers of the loops around this.
""",
    ),
    Rule(
        name="path-too-long",
        severity=Severity.ERROR,
        title="more than one ring can go through",
        wordings={
            "": Wording(
                says="this goes through {count} rings at once; {limit} are the most",
                hint="Is a whole group named where a part of it is meant?",
            ),
        },
        page="""\
A bare name means all its members. A ring that is passed through a whole sheet was meant to go through one
of its rings.

    pass 1 link through mesh                  # through last of mesh

What to do: say which members: `first of`, `last of`, a number in brackets.
""",
    ),
    Rule(
        name="units-too-deep",
        severity=Severity.ERROR,
        title="units within units within units",
        wordings={
            "": Wording(
                says="units are made inside units more than {limit} deep here",
                hint="Make some of them one after the other.",
            ),
            "blocks": Wording(
                says="more than {limit} blocks lie inside each other here, those of units and loops together",
                hint="Make some of them one after the other.",
            ),
        },
        page="""\
A unit may make units that make units; beyond forty of them inside each other nobody can follow.

What to do: flatten them: one unit after the other, joined by ports.
""",
    ),
    Rule(
        name="made-too-often",
        severity=Severity.ERROR,
        title="a piece made very often",
        wordings={
            "": Wording(says="this piece is made {count} times; {limit} is the most", hint="Is it a slip?"),
        },
        page="""\
`made 2 times` says how many of a piece one packet is for: two earrings. A hundred thousand is beyond any
packet.

What to do: correct the number.
""",
    ),
)
