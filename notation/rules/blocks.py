"""Rules of writing, third part: indentation, blocks and what may stand in them, clauses and options mixed up."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from notation.rules.model import Rule, Wording
from notation.rules.syntax import error

RULES: tuple[Rule, ...] = (
    error(
        "tab-indent",
        "a tab in the indentation",
        """\
Lines are indented with spaces, four for each block. A tab looks like four spaces on one machine and like eight on
the next, so that what belongs to a block would depend on who is looking.

What to do: replace the tab with spaces. Most editors do it for you.
""",
        plain=Wording(says="this line is indented with a tab", hint="Use spaces, four for each block."),
    ),
    error(
        "unexpected-indent",
        "an indented line without a header",
        """\
A line is indented deeper than the one above only if that one ends in a colon and so opens a block, or if it goes
on with it (see clause-alone).

    pass 2 large
        pass 2 small     # not in a block

What to do: line it up with the line above, or put the header in front that it belongs to.
""",
        plain=Wording(
            says="this line is indented, and the line above opens no block",
            hint="Line it up with the line above, or give that one a colon.",
        ),
        first=Wording(says="the first line is indented", hint="Begin at the left margin."),
    ),
    error(
        "uneven-indent",
        "a line between two blocks",
        """\
All lines of a block begin in the same column. This one begins between the column of its block and that of the
block around.

    repeat 4 times:
        pass 1 link
      lay flat           # four spaces, or none

What to do: line it up with the block it belongs to.
""",
        plain=Wording(
            says="this line is indented by {found}, the lines above by {inner}",
            hint="Line it up with the block it belongs to.",
        ),
    ),
    error(
        "missing-block",
        "a colon with nothing under it",
        """\
A line that ends in a colon has a block: at least one line under it, indented deeper. A comment alone is no block.

    step "Lay the base":
    pass 2 large         # indent this

What to do: indent the lines that belong to it. A step in which only the hands do something can have a `note`.
""",
        plain=Wording(
            says="this `{header}` has no block", hint="Indent the lines that belong to it by four spaces."
        ),
    ),
    error(
        "else-without-if",
        "an `else` without its `if`",
        """\
`else:` and `else if ...:` stand directly under the block of an `if`, in the same column as the `if`. After `else:`
there is no more.

    if first:
        pass 1 link
    lay flat
    else:                # too late

What to do: line it up with its `if`, and move what stands between.
""",
        plain=Wording(
            says="this `{word}` belongs to no `if`", hint="Line it up with its `if`, right under its block."
        ),
        after_else=Wording(says="this `{word}` comes after `else`", hint="Nothing goes on after `else`."),
    ),
    error(
        "clause-items",
        "a clause with something that it does not take",
        """\
Each clause takes what makes sense in it. A gap is on one ring that is gone through, between two neighbours there, and
ends what is said of that ring. Without a ring gone through, `between` and `inside` stand with one name: the strand in
whose gap the new ring lies, the ring in whose hole it lies. What lies over or under has no side to enter from.

    pass 1 link through heart between a, b                  # between a and b
    pass 1 link through heart between a and b from behind   # heart from behind between a and b
    pass 1 link between wing[1] and wing[2]                 # between wings
    pass 1 link over a from behind                          # over a

What to do: write it as the examples show.
""",
        gap_and=Wording(
            says="a gap lies between two neighbours, with `and` between them",
            hint="Write `and` for `{found}`.",
        ),
        gap_last=Wording(
            says="`{found}` stands in front of `between`", hint="Such as `heart {found} between a and b`."
        ),
        between_two=Wording(
            says="`between` stands with one name here",
            hint="It is the strand whose gap is meant. A gap on a ring: `through heart between a and b`.",
        ),
        inside_two=Wording(
            says="a ring lies inside one ring", hint="Name the innermost of those it lies inside."
        ),
        lying=Wording(
            says="`{clause}` takes rings only, without a side, an eye or a joint",
            hint="Name the rings alone.",
        ),
    ),
    error(
        "clause-place",
        "words in the wrong place",
        """\
How the rings of a pass lie to one another is said right behind how many, so that it cannot be taken for something said
of carried rings. That a unit is made as its mirror image is said right behind the unit.

    pass 2 large as edge through heart front and back    # pass 2 large front and back as edge through heart
    make spiral with turns = 3 mirrored                  # make spiral mirrored with turns = 3

What to do: move the words there.
""",
        companions=Wording(
            says="how the rings lie to one another is said right behind how many",
            hint="Such as `pass 2 large front and back through heart`.",
        ),
        mirrored=Wording(
            says="`mirrored` stands right behind the unit",
            hint="Such as `make {unit} mirrored`; `with` and `as` come after it.",
        ),
    ),
    error(
        "half-turns",
        "turns that are not counted in halves",
        """\
A band can be closed on itself after any number of half turns: with none it has two edges, with one it has a single one.

    round band of 24, closed with 1 turn:        # closed with 2 half turns

What to do: count the half turns. A round without turns is closed all the same, and nothing is said of it.
""",
        plain=Wording(
            says="turns are counted in halves",
            hint="Half a turn is `1 half turn`, a whole one `2 half turns`.",
        ),
        how_often=Wording(
            says="how often the work is turned is not said", hint="Such as `{word} with 1 half turn`."
        ),
    ),
    error(
        "turning",
        "a turn that is not fully described",
        """\
The whole work is turned `over` or `round`. A part of it is turned by so many degrees, and stays so.

    turn tail            # turn tail by 90 degrees
    turn tail over       # turn over, or: turn tail by 180 degrees

What to do: say what is turned, and how far.
""",
        plain=Wording(says="how far is it turned?", hint="Such as `turn {what} by 90 degrees`."),
        unit=Wording(says="how far it is turned is in degrees", hint="Such as `turn {what} by 90 degrees`."),
        whole_work=Wording(
            says="only the whole work is turned `{found}`",
            hint="Write `turn {found}`, or `turn {what} by 180 degrees`.",
        ),
        what=Wording(
            says="what is turned?",
            hint="Such as `turn tail by 90 degrees`; the whole work is turned `over` or `round`.",
        ),
    ),
    error(
        "expect-form",
        "an expectation in another form",
        """\
What is expected has few forms, so that each can be looked up in the work.

    expect a is under b              # expect b is over a
    expect collar around a           # expect collar is around a
    expect a, b, c is plain          # expect loop a, b, c is plain
    expect a and b is around c       # expect a is around c, and a line for b

What to do: write it as the examples show.
""",
        under=Wording(says="what lies under is said of what lies over it", hint="Write `expect {meant}`."),
        without_is=Wording(says="`is` is missing in front of `{found}`", hint="Write `is {found}`."),
        loop=Wording(
            says="`plain` and `crossed` are said of a loop", hint="Such as `expect loop a, b, c is plain`."
        ),
        one_by_one=Wording(
            says="how a ring lies is expected of one at a time", hint="Give each a line of its own."
        ),
    ),
    error(
        "both-hands",
        "a piece in both hands, said otherwise",
        """\
A piece in which a unit is made both plain and as its mirror image says so, so that nobody turns one by mistake.

    piece earring made 2 times, with left hand:      # made 2 times, in both hands

What to do: write `in both hands`.
""",
        plain=Wording(says="a piece is made `in both hands`", hint="Such as `piece {name} in both hands:`."),
    ),
    error(
        "family-option",
        "an option that this kind of family does not have",
        """\
Only a round and a tube are closed on themselves, so only they can be turned before it: `closed with 1 half turn`. A
disc is made of rounds, each outside the one before it: they can be staggered, but they lean to no side and lead
nowhere but outwards.

    line band of 12, closed with 1 half turn:        # round band of 12, ...

What to do: leave the option out, or make it a family that has it.
""",
        closed=Wording(
            says="a {family} is not closed on itself",
            hint="Leave this out, or make it a `round` or a `tube`.",
        ),
        downward=Wording(
            says="a disc grows outwards, not downward",
            hint="Leave `downward` out; the first round is innermost.",
        ),
        rows=Wording(
            says="the rounds of a disc cannot be {found}", hint="They can be staggered; or leave this out."
        ),
    ),
    error(
        "misplaced",
        "a statement in the wrong place",
        """\
Headings, `use`, `ring`, `finding`, `kit`, `unit`, `piece` and `variant` stand at the left margin: they hold for the
whole pattern; so does a `let` there. Everything that is done stands in the block of a unit or a piece. A `twin` line
stands alone in the block of its `pass`, and a step holds no other step. A variant has the lines that it changes, and
`length ... varying ...` stands directly in its piece.

    pass 2 large         # in which piece?

    piece earring:
        pass 2 large

What to do: move the line to where it belongs.
""",
        at_margin=Wording(
            says="`{word}` stands at the left margin",
            hint="Indent it under the `unit` or `piece` it belongs to.",
        ),
        margin_only=Wording(
            says="`{word}` stands inside a block",
            hint="Move it to the left margin; it holds for the whole pattern.",
        ),
        twin=Wording(
            says="this `twin` belongs to no `pass`", hint="Put it under a `pass` that ends in a colon."
        ),
        not_a_twin=Wording(
            says="`{word}` stands in the block of a `pass`",
            hint="Only a `twin` line stands there. Indent it less.",
        ),
        not_of_a_variant=Wording(
            says="`{word}` stands in a variant, which changes no work",
            hint="A variant has lines of `ring`, `finding`, `kit`, `let` and `length`.",
        ),
        length=Wording(
            says="this length does not say what may vary for it",
            hint="In a piece: `length 185 mm varying repeats`, the name of a `let` at the left margin. "
            "Without `varying` it stands in a variant.",
        ),
        length_of_a_piece=Wording(
            says="this length stands in no piece",
            hint="Put it directly under the `piece` that is to be so long.",
        ),
        second_twin=Wording(
            says="this `pass` has a second `twin` line", hint="Put all its clauses on one line."
        ),
        step_in_step=Wording(
            says="this step stands inside a step", hint="Steps follow one another: indent it less."
        ),
    ),
)

NOTES: Mapping[str, str] = MappingProxyType({})
