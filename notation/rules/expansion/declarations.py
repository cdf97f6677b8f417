"""Rules about the left margin: kinds of rings, findings, headings, labels and the kit."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    # ------------------------------------------------------------ rings
    Rule(
        name="unknown-kind",
        severity=Severity.ERROR,
        title="a kind of ring that is not there",
        wordings={
            "": Wording(
                says="there is no kind called {name}",
                hint="Declare it at the left margin: `ring {name}: inner 5 mm, wire 0.9 mm, metal copper`.",
            ),
            "close": Wording(says="there is no kind called {name}", hint="Did you mean `{close}`?"),
            "type": Wording(
                says="{name} is a type of finding, not the name of one",
                hint="The {name} here is called `{close}`.",
            ),
        },
        page="""\
Every kind of ring is declared once, with its inner diameter, its wire and its metal; from then on its name
is enough.

    ring small: inner 3 mm, wire 0.7 mm, metal sterling-silver
    pass 2 smal through spoke                 # small

What to do: correct the name, or declare the kind.
""",
    ),
    Rule(
        name="unknown-metal",
        severity=Severity.ERROR,
        title="a metal that is not in the table",
        wordings={
            "": Wording(
                says="{name} is not in the table of metals",
                hint="`annulet metals` lists them; one of your own goes into a file of metals.",
            ),
            "close": Wording(says="{name} is not in the table of metals", hint="Did you mean `{close}`?"),
        },
        page="""\
The metal decides what a piece weighs and which cautions are printed, so it has to be one with a known
density.

    ring link: inner 5 mm, wire 1 mm, metal coper         # copper

What to do: take a name of the table, or add your alloy to a file of metals with its density and where
that comes from.
""",
    ),
    Rule(
        name="unclear-metal",
        severity=Severity.ERROR,
        title="a metal that could be several",
        wordings={
            "": Wording(says="{name} could be several metals", hint="Say which: {choices}."),
        },
        page="""\
Some words of the counter stand for alloys of different weight and different cautions: `silver` may be fine
or sterling, `gold` any carat.

What to do: write the alloy.
""",
    ),
    Rule(
        name="ring-too-tight",
        severity=Severity.ERROR,
        title="a ring narrower than its wire",
        wordings={
            "": Wording(
                says="the hole of {name} ({inner}) is narrower than its wire ({wire})",
                hint="Are inner diameter and wire the wrong way round? `inner` is the hole, not the radius.",
            ),
        },
        page="""\
Wire cannot be wound around a mandrel thinner than itself into rings that anything goes through: not even
one wire of its own size would pass the hole.

    ring link: inner 1 mm, wire 5 mm, metal copper        # inner 5 mm, wire 1 mm

What to do: exchange the two, or look at the units. A gauge counts the other way round: the higher the
number, the thinner the wire.
""",
    ),
    Rule(
        name="unused-kind",
        severity=Severity.WARNING,
        title="declared and never used",
        wordings={
            "": Wording(says="nothing uses {name}", hint="Leave the line out, or use it."),
        },
        page="""\
A kind of ring or finding that no statement names. Either a motion was left out or the line is of an
earlier version; a shopper who reads the pattern would look for it.

What to do: use it or leave the line out.
""",
    ),
    # ------------------------------------------------------------ findings
    Rule(
        name="unknown-finding-type",
        severity=Severity.ERROR,
        title="a type of finding that is not known",
        wordings={
            "": Wording(
                says="{name} is no type of finding",
                hint="The type comes first: ear-wire, post, clasp, clasp-half, toggle-ring, toggle-bar, bar, bail, "
                "chain, charm, drop, bead, spacer or key-ring.",
            ),
            "close": Wording(says="{name} is no type of finding", hint="Did you mean `{close}`?"),
        },
        page="""\
Behind the name of a finding stands what it is in the words of the trade; the booklet draws and describes
it by that.

    finding hook: earwire, eye 2 mm opens                 # ear-wire

What to do: take the nearest of the types: bail, bar, bead, chain, charm, clasp, clasp-half, drop, ear-wire,
key-ring, post, spacer, toggle-bar, toggle-ring.
""",
    ),
    Rule(
        name="no-eye",
        severity=Severity.ERROR,
        title="a finding without an eye",
        wordings={
            "": Wording(
                says="{name} has no eye, so nothing can hold it",
                hint="Add its hole: `eye 2 mm`, with `opens` if the maker can bend it open.",
            ),
        },
        page="""\
A finding takes part in the weave by its eyes: the holes that rings go through. Without one it cannot be
hung on anything.

    finding drop: drop, metal copper                      # drop, eye 1.5 mm

What to do: add the eye with its inner diameter. A bead has one too: its hole.
""",
    ),
    Rule(
        name="eye-again",
        severity=Severity.ERROR,
        title="two eyes of one name",
        wordings={
            "unnamed": Wording(
                says="two eyes have no name",
                hint="Give each a name of its own: `eye left 2 mm, eye right 2 mm`.",
            ),
            "": Wording(
                says="two eyes are called {name}",
                hint="Give each a name of its own: `eye left 2 mm, eye right 2 mm`.",
            ),
        },
        page="""\
With several eyes each needs a name, so that the text can say by which of them a finding hangs.

    finding chain: chain, eye 2 mm, eye 2 mm              # eye start 2 mm, eye end 2 mm

What to do: name them.
""",
    ),
    # ------------------------------------------------------------ headings, labels, kit
    Rule(
        name="no-title",
        severity=Severity.ADVICE,
        title="a pattern without a title",
        wordings={
            "": Wording(
                says="this pattern has no title",
                hint='Give it one for the cover: `title "Lyra earrings"`.',
            ),
        },
        page="""\
The title stands on the cover of the booklet and in the head of its pages. Without one the name of the file
has to do.

What to do: a line `title "..."` at the top.
""",
    ),
    Rule(
        name="no-piece",
        severity=Severity.WARNING,
        title="nothing to make",
        wordings={
            "": Wording(
                says="this pattern has no piece and no unit, so there is nothing to make",
                hint="Begin one: `piece earring:` and its statements below, indented.",
            ),
        },
        page="""\
Rings and findings are what to weave with; a piece is what to weave.

    piece earring:
        take 1 link as base

What to do: write a piece, or in a file for others to use, a unit.
""",
    ),
    Rule(
        name="label-again",
        severity=Severity.ERROR,
        title="two labels for one name",
        wordings={
            "": Wording(says="{name} has two labels", hint="Keep one of them."),
        },
        page="""\
A label says what the booklet calls a kind, a group or a unit. There can be one in a unit or piece, and one
at the left margin for all.

What to do: keep one.
""",
    ),
    Rule(
        name="same-words",
        severity=Severity.WARNING,
        title="two kinds printed alike",
        wordings={
            "": Wording(
                says="{name} and {other} are both printed as `{words}`",
                hint="Give one of them another label: who has only the booklet cannot tell them apart.",
            ),
        },
        page="""\
A maker reads `take a small ring` and looks in the table of materials which ring that is. Two kinds of one
printed name leave a guess.

    ring plate: inner 5 mm, wire 1 mm, metal copper
    ring large: inner 5 mm, wire 0.9 mm, metal copper
    label plate "large ring"                  # both are large rings in print
    label large "large ring"

What to do: give each kind words of its own, such as `thick ring` and `thin ring`.
""",
    ),
    Rule(
        name="label-unused",
        severity=Severity.WARNING,
        title="a label for nothing",
        wordings={
            "": Wording(
                says="nothing here is called {name}, so its label is never printed",
                hint="Is the name spelt as where it is made? Labels of groups stand in the unit or piece "
                "that makes them.",
            ),
        },
        page="""\
A label gives a name of the same block its printed words: kinds, findings and units at the left margin,
groups and families in the unit or piece that makes them.

    label arms "arm"                          # the group is called arm
    pass 2 large as arm through spoke

What to do: correct the name, move the label, or leave it out.
""",
    ),
    Rule(
        name="kit-again",
        severity=Severity.ERROR,
        title="the kit said twice",
        wordings={
            "": Wording(
                says="the kit has {name} twice, and only the first one counts",
                hint="Write one entry with both together.",
            ),
            "line": Wording(
                says="there is a second `kit` line, and only the first one counts",
                hint="Put all that a packet holds on one line; it may go on after a comma.",
            ),
        },
        page="""\
There is one kit, and each kind stands in it once, with all that a packet holds of it.

    kit: 40 large, 70 small, 10 large         # 50 large, 70 small

What to do: add the two up.
""",
    ),
)
