"""Rules of writing, third part: indentation, blocks and what may stand in them."""

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
Headings, `use`, `ring`, `finding`, `kit`, `unit` and `piece` stand at the left margin: they hold for the whole
pattern. Everything that is done stands in the block of a unit or a piece. A `twin` line stands alone in the block
of its `pass`, and a step holds no other step.

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
        second_twin=Wording(
            says="this `pass` has a second `twin` line", hint="Put all its clauses on one line."
        ),
        step_in_step=Wording(
            says="this step stands inside a step", hint="Steps follow one another: indent it less."
        ),
    ),
)

NOTES: Mapping[str, str] = MappingProxyType({})
