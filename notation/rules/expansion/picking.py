"""Rules about picking rings: the next ones, a walk along, what is left over, a whole use."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="next-of-what",
        severity=Severity.ERROR,
        title="next and along want a whole group",
        wordings={
            "": Wording(
                says="`next` and `along` count along a whole group, and this is none",
                hint="Name the group without brackets: `next of NAME`, `2 along NAME`.",
            ),
        },
        page="""\
`next` takes each member of a group once, `along` walks over it; both remember how far they have come, and
a part of a group has no such mark.

    pass 2 large through next pair of spoke[1 to 4]       # next pair of spoke

What to do: name the group, a family, a port or the part of a use that is one.
""",
    ),
    Rule(
        name="group-spent",
        severity=Severity.ERROR,
        title="the group has come to its end",
        wordings={
            "": Wording(
                says="{wanted} are wanted here, and of {total} only {left} is left",
                hint="Earlier picks with `next` have taken the others: count the rounds again.",
            ),
            "several": Wording(
                says="{wanted} are wanted here, and of {total} only {left} are left",
                hint="Earlier picks with `next` have taken the others: count the rounds again.",
            ),
            "none": Wording(
                says="nothing is left here: all {total} have been taken",
                hint="Earlier picks with `next` have taken them: count the rounds again.",
            ),
            "along": Wording(
                says="the walk along these {total} has come to the end: there are not {wanted} further on",
                hint="Walk one round less, or with a shorter step.",
            ),
        },
        page="""\
`next 2 of spoke` takes two that have not been taken; each is taken once. When more are asked for than are
left, a round is too many, or the group is too small. `2 along base` looks at two and walks on by one: on a
base of 10 there are 9 such looks.

    pass 2 large as heart carrying 12 small as spoke      # six pairs
    for k from 1 to 7:                                    # six arms, not seven
        pass 2 large as arm[k] through next pair of spoke

What to do: count the rounds and what each takes. A round that closes on itself can name members by number
as well, which takes nothing.
""",
    ),
    Rule(
        name="too-few-members",
        severity=Severity.ERROR,
        title="more asked for than there are",
        wordings={
            "": Wording(
                says="the {which} {wanted} are asked for, and there are {there}",
                hint="Correct the number, or make more of them first.",
            ),
        },
        page="""\
`first 3 of arm` and `last 3 of arm` want at least three members. What lies side by side counts as one.

What to do: correct the number, or move this below the statements that make the others.
""",
    ),
    Rule(
        name="left-over",
        severity=Severity.WARNING,
        title="something that was not come to",
        wordings={
            "": Wording(
                says="{left} of {total} {name} are left over: `next` never came to them",
                hint="Count the rounds, or name them by number if they are meant to stay.",
            ),
            "one": Wording(
                says="{left} of {total} {name} is left over: `next` never came to it",
                hint="Count the rounds, or name it by number if it is meant to stay.",
            ),
            "along": Wording(
                says="the walk along {name} stops {left} short of its {total}",
                hint="Walk on to the end, or name the rings by number if it is meant to stop there.",
            ),
            "along-one": Wording(
                says="the walk along {name} stops {left} short of its {total}",
                hint="Walk on to the end, or name the rings by number if it is meant to stop there.",
            ),
        },
        page="""\
A group that is used up with `next`, or walked along, and does not come out even: at the bench some rings
hang there that no motion mentions. Often a loop has a round too few.

    pass 2 large as heart carrying 12 small as spoke      # six pairs
    for k from 1 to 5:                                    # one pair is left over
        pass 2 large as arm[k] through next pair of spoke

What to do: one round more, or name the members by number.
""",
    ),
    Rule(
        name="whole-unit",
        severity=Severity.ERROR,
        title="a whole unit where rings are wanted",
        wordings={
            "": Wording(
                says="{name} is a whole unit, and rings are wanted here",
                hint="Name a part of it: `{port} of ...`.",
            ),
            "no-port": Wording(
                says="{name} is a whole unit without ports, and rings are wanted here",
                hint="Give the unit a port, `port tip = ...`, and write `tip of ...`.",
            ),
        },
        page="""\
A ring goes through rings. A use of a unit is many of them; its ports say which of them others may reach.

    make rosette as body
    pass 1 link through body                  # through tip of body

What to do: name a port, or add one to the unit.
""",
    ),
)
