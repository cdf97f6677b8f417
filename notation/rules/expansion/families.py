"""Rules about families: lines, rounds, sheets and tubes, and the neighbours they know."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="no-family-here",
        severity=Severity.ERROR,
        title="neighbours outside a family",
        wordings={
            "": Wording(
                says="nothing lies {direction} this: only the places of a family have neighbours",
                hint="Put it in a line, round, sheet or tube, or name the rings.",
            ),
            "rows": Wording(
                says="{family} has one row, so nothing lies {direction}",
                hint="Along a row it is `the one before`; rows come with `sheet {family} of 4 rows of 6:`.",
            ),
            "place": Wording(
                says="`{which}` asks for the place in a family, and there is none around this",
                hint="Put it in a line, round, sheet or tube, or compare a counter: `if k = 1:`.",
            ),
            "join": Wording(
                says="`joined` joins the places of a family, and there is none around this",
                hint="Put it in a line, round, sheet or tube, or go through named rings.",
            ),
        },
        page="""\
`the one before`, `the two below`, `joined all round by ...`, `if first:` speak of a place among others. A
family gives places their neighbours: a line and a round have one row, a sheet and a tube several.

    pass 1 link through the one before        # before what?
    line chain of 12:
        pass 1 link through the one before

What to do: put the statement in a family, or name the rings that are meant.
""",
    ),
    Rule(
        name="second-member",
        severity=Severity.WARNING,
        title="two members at one place",
        wordings={
            "": Wording(
                says="there is a member of {family} at this place already, and this makes another one there",
                hint="Give it a name of its own, `as NAME`, if it is no member of {family}.",
            ),
        },
        page="""\
In a family, a pass or take without a name makes the member at its place. A second one without a name stands
at the same place, and whoever asks for that place, such as `the one before` at the next, goes through both.

    line chain of 12:
        pass 1 link through the one before
        pass 1 link through last of chain     # pass 1 link as drop through last of chain

What to do: name the one that is no member. Two rings that go the same way are passed as one: `pass 2 link`.
""",
    ),
    Rule(
        name="never-there",
        severity=Severity.WARNING,
        title="a neighbour that never comes",
        wordings={
            "": Wording(
                says="at no place of {family} is there such a neighbour, so this is always left out",
                hint="Neighbours made later cannot be gone through: turn it round, `before` for `after`, "
                "`below` for `above`.",
            ),
        },
        page="""\
At the edge of a family a neighbour is left out where there is none: the first ring of a line has none
before it. If it is left out at every place, it does nothing, and most likely the direction is wrong: when
a place is woven, only those before it exist.

    line chain of 12:
        pass 1 link through the one after     # the one before

Rows are made upwards, each above the one before it, unless the family says `downward`: then what exists
lies above.

What to do: turn the direction round, or add `downward`.
""",
    ),
    Rule(
        name="rows-apart",
        severity=Severity.WARNING,
        title="rows that miss each other",
        wordings={
            "": Wording(
                says="row {row} of {family} meets nothing here, as the rows lie",
                hint="Rows half a place apart have two neighbours, `the two below`; rows that lie straight "
                "have one or three.",
            ),
        },
        page="""\
How rows lie to each other decides who is below whom. In `staggered` and `leaning` sheets each row is
shifted by half a place, and so are `centred` rows whose widths differ by one: below a place lie two, and
never exactly one. In `aligned` sheets one lies right below, or three with its neighbours.

    sheet mesh of 4 rows of 6, staggered:
        pass 1 link through the one below     # the two below

A row that meets nothing of the row below is held by nothing, and the piece falls apart there.

What to do: `the two below`, or rows that lie otherwise.
""",
    ),
    Rule(
        name="round-too-small",
        severity=Severity.ERROR,
        title="a round of one",
        wordings={
            "": Wording(
                says="a round wants at least 2 places, and this one has {count}",
                hint="Pass the ring by itself.",
            ),
        },
        page="""\
In a round the last place lies beside the first. With one place it would lie beside itself.

What to do: more places, or a plain pass.
""",
    ),
    Rule(
        name="tube-widths",
        severity=Severity.ERROR,
        title="a tube that is not even",
        wordings={
            "": Wording(
                says="the rows of the tube {name} have different widths, so they do not close on each other",
                hint="Give all rows one width, or make it a sheet and join its edges.",
            ),
            "centred": Wording(
                says="the rows of the tube {name} go all round, so there is no middle to centre them on",
                hint="Write `staggered` or leave it out.",
            ),
        },
        page="""\
A tube is a sheet whose rows close on themselves: each place has its neighbours all the way round. That
wants rows of one width.

    tube cuff of 6 rows of 20, staggered:
        pass 1 link through the two below

What to do: one width for all rows.
""",
    ),
    Rule(
        name="no-rows",
        severity=Severity.ERROR,
        title="a sheet without rows",
        wordings={
            "": Wording(
                says="{name} comes out with no rows at all",
                hint="Look at the numbers behind `of`; put an `if` around it if it may be empty.",
            ),
        },
        page="""\
The widths behind `of` come to nothing, as `0 times (4, 5)` does or `1 to n` for n = 0.

What to do: correct the numbers, or write `if n > 0:` above it.
""",
    ),
    Rule(
        name="family-in-family",
        severity=Severity.ERROR,
        title="a family within a family",
        wordings={
            "": Wording(
                says="{name} would be a family at each place of another one",
                hint="Put it in a unit of its own and `make` that unit at the place.",
            ),
        },
        page="""\
A family numbers its places and knows their neighbours; a family at each place of another would be
numbered twice over. A unit keeps the two apart.

    unit drop(length = 3):
        line tail of length:
            pass 1 link through the one before
    piece fringe:
        line strand of 8:
            make drop

What to do: a unit for the inner family.
""",
    ),
    Rule(
        name="no-connector",
        severity=Severity.ERROR,
        title="nothing joins these two",
        wordings={
            "": Wording(
                says="nothing was carried to join places {other} and {here} of {family}",
                hint="The join has to stand at both places: take it out of the `if`, or name "
                "the same neighbours in both branches.",
            ),
        },
        page="""\
`joined to ... by ...` carries a connector at the earlier of two neighbours and goes through it at the
later one. Here the later one has the join, but at the earlier one it was not carried out or meant other
neighbours, so no connector waits.

    line chain of 5:
        if first:
            take 1 link                       # carries nothing for its neighbour
        else:
            pass 1 link joined to the one before by 1 small

What to do: let the join stand at every place; the ends take care of themselves.
""",
    ),
    Rule(
        name="port-not-one",
        severity=Severity.ERROR,
        title="one place, one ring or pair",
        wordings={
            "": Wording(
                says="one place takes one ring (with its twin), and {name} was handed {count} members, "
                "or an eye",
                hint="Hand over one member: `{name} = last of ...`.",
            ),
        },
        page="""\
`first is start` puts what was handed in for `start` at the first place of the family, in place of a ring
of its own. So it has to be one member: a ring, or rings that lie side by side.

    make rhombus with start = foot of the one before      # a foot of three pairs
    make rhombus with start = tip of the one before

What to do: hand over one member, by a port that is just one.
""",
    ),
)
