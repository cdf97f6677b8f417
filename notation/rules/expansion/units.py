"""Rules about units: which one, what it is handed, and where it may be made."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="unknown-unit",
        severity=Severity.ERROR,
        title="a unit that is not there",
        wordings={
            "": Wording(
                says="there is no unit {name}",
                hint="Declare it at the left margin, `unit {name}:`, or `use` the file that has it.",
            ),
            "close": Wording(says="there is no unit {name}", hint="Did you mean `{close}`?"),
            "alias": Wording(
                says="there is no unit {name} in this file, but {alias} has one",
                hint="Write `make {name} of {alias}`.",
            ),
        },
        page="""\
`make rosette` wants a unit of this file; `make rosette of shared` one of the file that is used as
`shared`.

    use "units/rosette.annulet" as shared
    make rosette of shared as body

What to do: correct the name, or say which file it is of.
""",
    ),
    Rule(
        name="unknown-alias",
        severity=Severity.ERROR,
        title="a file that is not used",
        wordings={
            "": Wording(
                says="no file is used as {name}",
                hint='Add it at the left margin: `use "units/....annulet" as {name}`.',
            ),
            "close": Wording(says="no file is used as {name}", hint="Did you mean `{close}`?"),
        },
        page="""\
Behind `of` in `make rosette of shared` stands the name that a `use` line gives the other file.

    use "units/rosette.annulet" as shared

What to do: correct the name, or add the line.
""",
    ),
    Rule(
        name="unknown-parameter",
        severity=Severity.ERROR,
        title="a parameter that the unit lacks",
        wordings={
            "": Wording(
                says="the unit {unit} has no parameter {name}",
                hint="See what stands in the brackets of its first line.",
            ),
            "close": Wording(says="the unit {unit} has no parameter {name}", hint="Did you mean `{close}`?"),
        },
        page="""\
Behind `with` a unit is handed what its first line asks for, by name.

    unit rhombus(across = 3, down = 3, port start):
    make rhombus with accross = 4             # across

What to do: correct the name, or add the parameter to the unit.
""",
    ),
    Rule(
        name="argument-again",
        severity=Severity.ERROR,
        title="handed over twice",
        wordings={
            "": Wording(says="{name} is handed over twice", hint="Leave one of them out."),
        },
        page="""\
Each parameter is handed over once, so that it is plain what it is worth.

    make rhombus with across = 3, across = 4

What to do: leave one out.
""",
    ),
    Rule(
        name="missing-argument",
        severity=Severity.ERROR,
        title="something the unit has to be told",
        wordings={
            "": Wording(
                says="the unit has to be told {name}",
                hint="Hand it over, `with {name} = ...`, or give it a value where it is declared: `{name} = 3`.",
            ),
        },
        page="""\
A number in the brackets of a unit that has no value of its own has to be handed over at each use.

    unit arm(length):
    make arm                                  # make arm with length = 4

What to do: hand it over, or give it a value to go by. Ports may be left out.
""",
    ),
    Rule(
        name="parameter-wants-number",
        severity=Severity.ERROR,
        title="rings handed over for a number",
        wordings={
            "": Wording(
                says="{name} is a number, and rings are handed over",
                hint="Hand over a sum; if rings are meant, declare it as a port: `port {name}`.",
            ),
        },
        page="""\
Parameters of a unit are numbers, unless `port` stands before them: then they are rings.

    unit rhombus(across = 3, port start):
    make rhombus with across = tip of body    # start = tip of body

What to do: hand each its own sort.
""",
    ),
    Rule(
        name="port-wants-rings",
        severity=Severity.ERROR,
        title="a number handed over for rings",
        wordings={
            "": Wording(
                says="{name} is a port, and a number is handed over",
                hint="Hand over rings: `{name} = tip of ...`.",
            ),
        },
        page="""\
A port stands for rings of the work that the unit shares with what is around it.

    unit rhombus(across = 3, port start):
    make rhombus with start = 3               # start = tip of body

What to do: name the rings, or leave the port out: then the unit makes its own.
""",
    ),
    Rule(
        name="unknown-port",
        severity=Severity.ERROR,
        title="a port that the unit lacks",
        wordings={
            "": Wording(
                says="this unit has no port {name}",
                hint="Add it to the brackets of its first line: `port {name}`.",
            ),
            "piece": Wording(
                says="a piece is handed nothing, so it has no port {name}",
                hint="Put this into a unit and make that.",
            ),
            "close": Wording(says="this unit has no port {name}", hint="Did you mean `{close}`?"),
        },
        page="""\
`first is start` and `if start is given:` speak of a port, something that whoever makes the unit may hand
in. Ports stand in the brackets of the unit.

    unit rhombus(across = 3, port start):
        sheet point of 3 rows of across, first is start:

What to do: correct the name, or declare the port. A piece has none: nobody makes it with anything.
""",
    ),
    Rule(
        name="port-not-given",
        severity=Severity.ERROR,
        title="a port that was handed nothing",
        wordings={
            "": Wording(
                says="nothing was handed in for {name} here",
                hint="Hand it over, `with {name} = ...`, or put `if {name} is given:` above this.",
            ),
        },
        page="""\
A port may be left out; then there is nothing under its name, and what uses it has to ask first. Where a
family takes it, `first is start`, the place is made like the others if nothing was handed in, and the
name stands for it from then on.

    if top is given:
        pass 1 link through top

What to do: hand it over or ask.
""",
    ),
    Rule(
        name="unit-in-itself",
        severity=Severity.ERROR,
        title="a unit that makes itself",
        wordings={
            "": Wording(
                says="{name} would be made inside itself, without end: {chain}",
                hint="Use a loop or a family for what repeats.",
            ),
        },
        page="""\
A unit is a part of what it makes and cannot be a part of itself, directly or by way of others: it would
never be done.

    unit leaf:
        pass 1 link
        make leaf                             # line leaf of 5: ... the one before

What to do: a family or a loop for what repeats.
""",
    ),
    Rule(
        name="make-in-step",
        severity=Severity.ERROR,
        title="steps within a step",
        wordings={
            "": Wording(
                says="the unit {name} has steps of its own, and this is inside a step already",
                hint="Move `make` out of the step.",
            ),
        },
        page="""\
Steps are the numbered paragraphs of the booklet and lie one behind the other. A unit that brings its own
is made between them.

    step "The body":
        make rosette                          # its steps would be steps of this step

What to do: `make` it at the margin of the piece; a unit without steps can be made inside one.
""",
    ),
    Rule(
        name="unused-unit",
        severity=Severity.WARNING,
        title="a unit that nothing makes",
        wordings={
            "": Wording(says="nothing makes the unit {name}", hint="Make it, or leave it out."),
        },
        page="""\
A plan that no piece carries out. Perhaps a `make` was left out, or the unit is of an earlier version.

What to do: make it or leave it out. A file of units for others to use has no pieces, and there this is
not asked.
""",
    ),
    Rule(
        name="unused-import",
        severity=Severity.WARNING,
        title="a file that is used for nothing",
        wordings={
            "": Wording(
                says="nothing is made of {name}",
                hint="Leave the `use` line out, or `make ... of {name}`.",
            ),
        },
        page="""\
A `use` line reads another file so that its units can be made. Nothing of this one is.

What to do: leave the line out, or make a unit of it.
""",
    ),
    Rule(
        name="kind-not-mapped",
        severity=Severity.ERROR,
        title="a ring that the used file wants",
        wordings={
            "": Wording(
                says="the used file weaves with {name}, and this pattern has no {name}",
                hint="Say which of yours it is: `with {name} = ...` at the end of this line, "
                "or declare {name}.",
            ),
        },
        page="""\
A unit of another file names its kinds of rings and findings; the pattern that uses it decides what they
are, so that one unit can be woven in copper here and in silver there. A kind of the same name is taken as
it is, another one is given by `with`.

    use "units/rhombus.annulet" as shared with large = frame, small = seam

What to do: add it behind `with`, theirs first, or declare a kind of that name.
""",
    ),
    Rule(
        name="unknown-their-kind",
        severity=Severity.ERROR,
        title="the other file has no such kind",
        wordings={
            "": Wording(
                says="{alias} has no kind of ring or finding called {name}",
                hint="Theirs stands before the sign and yours behind it: `with THEIRS = YOURS`.",
            ),
            "close": Wording(
                says="{alias} has no kind of ring or finding called {name}",
                hint="Did you mean `{close}`? Theirs stands before the sign, yours behind it.",
            ),
        },
        page="""\
`use "..." as shared with large = frame` says that what the other file calls `large` is your `frame`.

What to do: correct the name before the sign; perhaps the two are the wrong way round.
""",
    ),
    Rule(
        name="bundle-differs",
        severity=Severity.ERROR,
        title="doubled here and not there",
        wordings={
            "": Wording(
                says="{name} stands for {theirs} of {alias}, and only one of the two lines says that it is "
                "doubled (or tripled)",
                hint="Make both alike, or use another kind for it.",
            ),
        },
        page="""\
Whether a kind is passed in pairs is part of how a unit is written: its counts depend on it. So a kind that
stands for one of a used file has to be doubled or tripled just as that one is. Sizes and metal may differ.

    ring large: inner 5 mm, wire 0.9 mm, metal copper             # doubled, as in the unit

What to do: add or take away `doubled`, or map another kind.
""",
    ),
)

NOTES: Mapping[str, str] = MappingProxyType(
    {
        "in-use": "in the unit {unit}, made here",
        "in-round": "where {name} = {value}",
        "in-each": "where {name} is number {value}",
        "in-repeat": "in round {value}",
        "at-place": "at place {place} of {name}",
        "at-place-in-row": "at place {place} in row {row} of {name}",
        "in-piece": "in {name}",
    }
)
"""Notes on the way there, by key."""
