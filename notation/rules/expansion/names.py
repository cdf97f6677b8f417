"""Rules about names: what is called what, what is there already, and which member is meant."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="name-in-use",
        severity=Severity.ERROR,
        title="a name used twice",
        wordings={
            "": Wording(
                says="the name {name} is in use already",
                hint="Take another name; to put more rings into a group, write `added to {name}`.",
            ),
            "again": Wording(
                says="this makes {name} again, each time it is carried out",
                hint="Number them: `as {name}[k]` in a loop, or put a family around them: "
                "`line {name} of ...:`.",
            ),
            "index": Wording(
                says="{name}[{index}] is made already",
                hint="Take another number, or write `added to {name}` for more rings without one.",
            ),
            "hang": Wording(
                says="{name} has its name already",
                hint="Leave out `as ...`: it is the same finding, hung by a further eye.",
            ),
        },
        page="""\
One name means one thing, from its making to the end of the unit or piece. Kinds, units and pieces share
their names with everything that is made, so that a reader never has to ask which of two is meant.

    pass 2 large as arm through spoke
    pass 2 large as arm through seam          # which arm would `arm` be?

In a loop the same line makes its name in every round. Number the members, `as arm[k]`, or let a family
number them.

What to do: another name, a number behind the name, or `added to arm` where the same group is to grow.
""",
    ),
    Rule(
        name="look-alike-name",
        severity=Severity.WARNING,
        title="two names that look the same",
        wordings={
            "": Wording(
                says="{name} looks like another name and is not the same: {letters}",
                hint="Write both with the same letters, or give one of them another name.",
            ),
        },
        page="""\
Letters of different scripts can be drawn alike, and a letter with its accent can be one character or two. Two
such names are one to the eye and two to the compiler, so that the pattern is not what it seems to be. The
message gives the first character in which they differ.

What to do: write the name again, with the same keyboard as the other.
""",
    ),
    Rule(
        name="turned-text",
        severity=Severity.WARNING,
        title="a mark that turns the direction of the text",
        wordings={
            "": Wording(
                says="a mark that cannot be seen turns the direction of the text here: {mark}",
                hint="Delete it.",
            ),
            "several": Wording(
                says="marks that cannot be seen turn the direction of the text, {count} in this file, here {mark}",
                hint="Delete them.",
            ),
        },
        page="""\
A text or a comment has a control character that tells an editor to show what follows from right to left, or
the other way round. What is read on the screen is then not what the compiler reads. The first such mark of a
file is told, and how many there are. The characters are those that Unicode gives the property Bidi_Control
(Unicode Standard Annex #9).

What to do: delete the mark; write the text again if it cannot be found.
""",
    ),
    Rule(
        name="unknown-name",
        severity=Severity.ERROR,
        title="a name that nothing makes",
        wordings={
            "": Wording(
                says="nothing here is called {name}",
                hint="Give it its name where it is made: `... as {name}`.",
            ),
            "close": Wording(says="nothing here is called {name}", hint="Did you mean `{close}`?"),
        },
        page="""\
A pass can only go through what has a name, and no statement of this unit or piece makes this one. Most
often it is a slip of the keyboard. If the name belongs to a unit, reach for it through that unit's use.

    make rosette as body
    pass 1 link through tip                   # tip is a port of body
    pass 1 link through tip of body           # like this

What to do: correct the name, or write which use it is in.
""",
    ),
    Rule(
        name="unknown-group",
        severity=Severity.ERROR,
        title="nothing there to add to",
        wordings={
            "": Wording(
                says="there is no group {name} to add to",
                hint="Make it first: `as {name}`.",
            ),
            "family": Wording(
                says="{name} is a family, and its members come from its places alone",
                hint="Give the further rings a name of their own: `as NAME`.",
            ),
            "close": Wording(says="there is no group {name} to add to", hint="Did you mean `{close}`?"),
        },
        page="""\
`added to spoke` puts further rings into a group that some earlier statement made, numbered on from its
last. It does not make the group. Families (lines, rounds, sheets, tubes) cannot be added to: their
members have places.

    pass 2 large as heart carrying 10 small as spoke
    pass 2 large carrying 2 small added to spoke      # spoke now has 12 rings

What to do: correct the name, or write `as ...` where the group begins.
""",
    ),
    Rule(
        name="unknown-part",
        severity=Severity.ERROR,
        title="a part that is not there",
        wordings={
            "": Wording(
                says="{whole} has nothing called {name}",
                hint="Name it there: `port {name} = ...` in the unit, or `as {name}` at the place.",
            ),
            "close": Wording(says="{whole} has nothing called {name}", hint="Did you mean `{close}`?"),
            "itself": Wording(
                says="what comes after `{name} of` here is a member of {name} itself",
                hint="Leave out `{name} of`: `the one before` alone is the one that was made there.",
            ),
        },
        page="""\
`tip of body` looks for a port or a name inside that use of a unit; `left of clasp` for an eye of the
finding; `wing of the one before` for a name made at that place of the family.

    unit rosette:
        ...
        port tip = last of point
    piece pin:
        make rosette as body
        pass 1 link through top of body       # its port is called tip

What to do: correct the name, or add the port.
""",
    ),
    Rule(
        name="not-made-yet",
        severity=Severity.ERROR,
        title="used before it exists",
        wordings={
            "": Wording(
                says="{name} is not made yet",
                hint="Move this below the statement that makes {name}, or let that one go through this.",
            ),
            "kind": Wording(
                says="{name} is a kind of ring, and no ring is called so yet",
                hint="Give the rings a name where they are made, `... {name} as NAME`, and go through that.",
            ),
            "finding": Wording(
                says="{name} is a kind of finding, and none is in the work under that name",
                hint="Name it where it comes in: `carrying 1 {name} as NAME`, or `hang {name} from ... as NAME`.",
            ),
            "member": Wording(
                says="{name} {value} is not made yet",
                hint="Only what is made earlier can be gone through: turn the order round.",
            ),
        },
        page="""\
An open ring goes through closed rings that are there. What is made later cannot be gone through; later,
though, the other one can go through this. In the finished piece it is the same link.

    pass 1 link as left through right         # right does not exist yet
    pass 1 link as right
    # the other way round:
    pass 1 link as right
    pass 1 link as left through right

What to do: change the order of the statements, or which of the two goes through the other.
""",
    ),
    Rule(
        name="not-rings",
        severity=Severity.ERROR,
        title="something other than rings",
        wordings={
            "": Wording(
                says="{name} is no ring, group or finding, so nothing can go through it",
                hint="Name rings that are made in this unit or piece.",
            ),
            "unit": Wording(
                says="{name} is a unit: nothing of it is there before it is made",
                hint="Make it, `make {name} as NAME`, and name a part of that: `tip of NAME`.",
            ),
            "number": Wording(
                says="{name} is a number, and rings are wanted here",
                hint="Write the group and put the number in brackets: `NAME[{name}]`.",
            ),
            "helper": Wording(
                says="{name} is a helper that is taken out again, so nothing of the work goes through it",
                hint="Name rings that are made in this unit or piece.",
            ),
        },
        page="""\
Rings, groups, findings and uses of units can be picked. A unit by itself is only a plan, a piece is the
whole, and a number counts.

    let k = 3
    pass 1 link through k                     # the third of what?
    pass 1 link through arm[k]

What to do: name the rings that are meant.
""",
    ),
    Rule(
        name="no-parts-here",
        severity=Severity.ERROR,
        title="a part of a plain ring",
        wordings={
            "": Wording(
                says="this is rings, and rings have no part called {name}",
                hint="`{name} of ...` wants a use of a unit, a place of a family or a finding behind `of`.",
            ),
        },
        page="""\
Uses of units have ports, findings have eyes, and places of a family have the names made there. A ring has
no parts.

    pass 2 large as arm
    pass 1 link through tip of arm            # an arm is a pair of rings

What to do: name the rings themselves, or make a unit with a port.
""",
    ),
    Rule(
        name="no-index-here",
        severity=Severity.ERROR,
        title="a number where there is just one",
        wordings={
            "": Wording(
                says="{name} takes no number or growing here: it is one thing",
                hint="Write the bare name `{name}`. Many of a kind come from a family: `line {name} of 4:`.",
            ),
        },
        page="""\
Groups of rings have members, told apart by numbers. A use of a unit or a finding is one thing with a name
of its own, and the connectors of a join are numbered by the family.

    make rosette as body[1]                   # as body
    line body of 4:                           # for four of them, body[1] to body[4]
        make rosette

What to do: leave out the brackets (or `added to`), or make a family.
""",
    ),
    Rule(
        name="index-count",
        severity=Severity.ERROR,
        title="too many numbers, or too few",
        wordings={
            "": Wording(
                says="the brackets of {name} take another number of numbers: {wanted} and not {found}",
                hint="A line or round has one number, a sheet or tube row and place, a group as it was made.",
            ),
        },
        page="""\
Members of a line, a round or a plain group have one number. Those of a sheet or tube have two, the row
and the place in it; with one number the whole row is meant. A group that was made with two numbers is
read with two.

    sheet mesh of 4 rows of 6:
        ...
    pass 1 link through mesh[2, 3, 1]         # row 2, place 3: mesh[2, 3]

What to do: write as many numbers as it has.
""",
    ),
    Rule(
        name="index-out-of-range",
        severity=Severity.ERROR,
        title="a number beyond the end",
        wordings={
            "": Wording(
                says="there is no {name}[{value}]: {name} goes from 1 to {last}",
                hint="`last of {name}` is always the last one.",
            ),
            "row": Wording(
                says="{name} has no row {value}: its rows go from 1 to {last}",
                hint="Write the row first, then the place: `{name}[row, place]`.",
            ),
            "place": Wording(
                says="{name} has no place {value} there: places go from 1 to {last}",
                hint="At an edge, `if there` behind it leaves out what is not there.",
            ),
            "many": Wording(
                says="this means {count} members at once",
                hint="Is one of the two numbers too large?",
            ),
        },
        page="""\
Members are counted from 1. What lies side by side, a ring and its twin, counts as one member: six pairs
are numbered 1 to 6, not 1 to 12.

    pass 2 large as heart carrying 6 pairs of small as spoke
    pass 1 link through spoke[7]              # the last pair is spoke[6]

What to do: correct the number, or say `last of spoke`. Where a pattern walks over an edge on purpose,
`if there` says so.
""",
    ),
    Rule(
        name="no-such-member",
        severity=Severity.ERROR,
        title="a number that was never made",
        wordings={
            "": Wording(
                says="{name}[{index}] was never made",
                hint="See with which numbers {name} is made, and in which order.",
            ),
        },
        page="""\
A group that is made number by number, `as arm[k]`, has the members that were made so far and no others.

    for k from 2 to 6:
        pass 2 large as arm[k] through spoke
    pass 2 large as arm[7] through arm[1]     # the loop begins at 2

What to do: correct the number, or make that member first.
""",
    ),
)

NOTES: Mapping[str, str] = MappingProxyType(
    {
        "first-made-here": "first here",
        "printed-alike": "{other} is printed so too",
        "declared-here": "declared here",
    }
)
"""Notes on further places, by key."""
