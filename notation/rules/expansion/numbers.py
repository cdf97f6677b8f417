"""Rules about whole numbers: sums, counts and ranges."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="unknown-number",
        severity=Severity.ERROR,
        title="a number that has no value",
        wordings={
            "": Wording(
                says="no number is called {name} here",
                hint="Make it one: `let {name} = 6`, or a parameter of the unit: `({name} = 6)`.",
            ),
            "close": Wording(says="no number is called {name} here", hint="Did you mean `{close}`?"),
        },
        page="""\
Sums are made of numbers, of the unit's parameters, of `let` and of the counters of loops. Units see only
their own and every `let` at the left margin: a number of the piece is handed in, `make arm with length = n`.

    unit arm(length = 4):
        line link of lenght:                  # length

What to do: correct the name, or say what it is worth with `let` or a parameter.
""",
    ),
    Rule(
        name="not-a-number",
        severity=Severity.ERROR,
        title="rings where a number is wanted",
        wordings={
            "": Wording(
                says="{name} is no number",
                hint="Write how many, or a parameter, `let` or counter that says it.",
            ),
        },
        page="""\
A count wants a whole number. The name of a group stands for its rings, not for how many they are.

    pass 2 large as heart carrying 12 small as spoke
    repeat spoke times:                       # repeat 12 times

What to do: write the number, or give it a name before: `let spokes = 12`.
""",
    ),
    Rule(
        name="number-too-large",
        severity=Severity.ERROR,
        title="a number beyond all rings",
        wordings={
            "": Wording(
                says="this comes to more than {limit}",
                hint="Is there a multiplication too many?",
            ),
        },
        page="""\
Numbers go up to a million millions, either side of nought. Nothing that is woven needs more, so a larger
one is a slip.

What to do: look at the sum again; `*` where `+` was meant is the usual reason.
""",
    ),
    Rule(
        name="not-whole",
        severity=Severity.ERROR,
        title="a division that does not come out even",
        wordings={
            "": Wording(
                says="{left} / {right} is not a whole number",
                hint="Rings come whole. Choose numbers that divide, or write what is meant: "
                "`({left} - {left} mod {right}) / {right}`.",
            ),
            "zero": Wording(
                says="{left} is divided by nought here", hint="Look at the number behind the `/`."
            ),
            "mod": Wording(
                says="{left} mod {right}: a remainder is left by dividing by 1 or more",
                hint="Look at the number behind `mod`.",
            ),
        },
        page="""\
`/` shares out evenly or not at all, so that no ring is lost by rounding. `mod` gives what is left over.

    let half = n / 2                          # with n = 7 that is no number of rings

What to do: take an even number, or say which way to round: `(n - n mod 2) / 2` rounds down.
""",
    ),
    Rule(
        name="count-too-small",
        severity=Severity.ERROR,
        title="a count of nothing",
        wordings={
            "": Wording(
                says="this comes to {value}, and {least} is the least there can be",
                hint="Look at the sum; put an `if` around the statement if it may come to nothing.",
            ),
        },
        page="""\
A pass needs a ring, a row a place, a piece is made at least once. A sum that comes to less is a slip, or a
case that wants an `if`.

    unit leaf(width = 2):
        line edge of width - 2:               # no places

What to do: correct the sum, or write `if width > 2:` above it.
""",
    ),
    Rule(
        name="range-runs-back",
        severity=Severity.ERROR,
        title="from the end to the beginning",
        wordings={
            "": Wording(
                says="{first} to {last} runs backwards",
                hint="To count down, write `{first} down to {last}`.",
            ),
            "down": Wording(
                says="{first} down to {last} runs upwards",
                hint="To count up, write `{first} to {last}`.",
            ),
        },
        page="""\
`1 to 6` counts up, `6 down to 1` counts down. A range that is short by just one, `1 to 0`, is no rounds at
all, so that `2 to n` works for n = 1. Anything further back is a slip.

    for k from 6 to 1:                        # 6 down to 1

What to do: write `down to`, or exchange the two numbers.
""",
    ),
    Rule(
        name="unused-number",
        severity=Severity.WARNING,
        title="a number that nothing asks for",
        wordings={
            "": Wording(
                says="nothing uses the number {name}",
                hint="Leave it out, or write it where its figure stands now.",
            ),
        },
        page="""\
A parameter, `let` or counter that no sum asks for: perhaps the figure was written out beside it, and
changing the one will not change the other.

    unit arm(length = 4):
        line link of 4:                       # length

What to do: use the name, or leave it out. A loop that needs no counter is `repeat 4 times:`.
""",
    ),
)
