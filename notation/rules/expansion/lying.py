"""Rules about how rings lie without being linked: around, between, inside, over and under; gaps; hands; poses."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="lies-and-linked",
        severity=Severity.ERROR,
        title="linked with what it only lies by",
        wordings={
            "": Wording(
                says="{name} is said to lie {lies} {other}, and it is linked with it too",
                hint="Leave one of the two out: a ring is linked with another or lies to it so, not both.",
            ),
        },
        page="""\
Two round rings are in one of four states: apart, linked, the first around the second, or the second
around the first. `around`, `between`, `inside`, `over` and `under` all say that they are not linked. A
ring that is also gone through would have to be both.

    pass 1 collar through a around a          # which?
    pass 1 collar around the joint of a and b

What to do: say one of the two.
""",
    ),
    Rule(
        name="between-what",
        severity=Severity.ERROR,
        title="a gap that is not one",
        wordings={
            "": Wording(
                says="`between` wants one pair to lie in, and this is {count} rings that are no single pair",
                hint="Name one member of a doubled group: `between wing[3]`.",
            ),
        },
        page="""\
A ring can lie in the gap of two rings that lie side by side. So `between` names one pair (or one three),
made by one pass. Two rings made by two passes have no gap of their own.

    pass 2 link as wing through tail
    pass 2 link as next-pair through tail between wing

What to do: name the pair.
""",
    ),
    Rule(
        name="no-companions",
        severity=Severity.ERROR,
        title="one ring with nothing beside it",
        wordings={
            "": Wording(
                says="`{words}` says how two rings lie to each other, and this is one ring",
                hint="Pass two, or leave the words out.",
            ),
        },
        page="""\
`front and back` and `nested` say how the rings of a pair lie to each other; where nothing is said they
lie side by side.

    pass 2 large front and back as edge through hub

One ring can be nested in a ring that is there already, and follows its way:
`pass 1 small nested inside edge`.

What to do: make it a pair, say what it lies inside, or leave the words out.
""",
    ),
    Rule(
        name="nested-in-what",
        severity=Severity.ERROR,
        title="nested in several rings at once",
        wordings={
            "": Wording(
                says="a nested ring follows the way of one ring or pair, and these are {count}",
                hint="Name the one that it lies in; what lies in several is not `nested`.",
            ),
        },
        page="""\
A ring that is nested in another follows its way inside it: it goes through all that the other ring goes
through, and what goes through the other later has to go through both. So there is one ring, or one pair,
that it follows.

    pass 1 small nested as liner inside hub[3]      # through what hub 3 goes through

What to do: name one ring or pair. A ring that lies in the holes of several follows none of them; say its
way and leave `nested` out.
""",
    ),
    Rule(
        name="gap-of-one",
        severity=Severity.ERROR,
        title="a gap on several rings",
        wordings={
            "": Wording(
                says="a gap is on one ring or pair, and these are several",
                hint="Give the gap to one item: the ring that holds both neighbours.",
            ),
        },
        page="""\
What hangs on a ring hangs there in an order, so a new ring can be told to hang between two of its
neighbours. That needs one ring (or one pair) that holds them both.

What to do: name that ring, and the two neighbours on it.
""",
    ),
    Rule(
        name="not-on-ring",
        severity=Severity.ERROR,
        title="a neighbour that hangs elsewhere",
        wordings={
            "": Wording(
                says="this does not hang on the ring that is gone through",
                hint="Name two neighbours that hang on it; `expect ... holds` shows how many there are.",
            ),
        },
        page="""\
A gap lies between two rings that hang on the ring gone through. One of those named is not linked with
it.

What to do: name two neighbours on that ring.
""",
    ),
    Rule(
        name="not-neighbours",
        severity=Severity.ERROR,
        title="no neighbours on that ring",
        wordings={
            "": Wording(
                says="these two do not hang next to each other there; others between them: {count}",
                hint="Rings hang in order of making, all the way round; name two that are next to each other.",
            ),
            "same": Wording(
                says="a gap lies between two, and this names one twice",
                hint="Name its two neighbours: `between spoke[4] and spoke[5]`.",
            ),
        },
        page="""\
What hangs on a ring is in order of making, all the way round, unless a line put something into a gap. A
gap lies between two that are next to each other.

    pass 2 large as heart carrying 6 pairs of small as spoke
    # on heart: spoke 1, 2, 3, 4, 5, 6, and 1 again

What to do: name two neighbours.
""",
    ),
    Rule(
        name="one-member",
        severity=Severity.ERROR,
        title="one member wanted",
        wordings={
            "": Wording(
                says="one ring or pair is wanted here, and this is {count}", hint="Say which: `spoke[4]`."
            ),
        },
        page="""\
A neighbour is one ring or one pair. A bare group is all of it.

What to do: pick one member.
""",
    ),
    Rule(
        name="direction-again",
        severity=Severity.ERROR,
        title="two directions of work",
        wordings={
            "": Wording(
                says="the direction of work is stated already, the other way round",
                hint="State it once; a part that goes the other way is made `mirrored`.",
            ),
        },
        page="""\
The direction of work, clockwise or not, seen from the front, is stated once for a piece, so that a maker
need not look back. A unit that goes the other way is a mirror image.

What to do: leave one of the two out.
""",
    ),
    Rule(
        name="rows-close-themselves",
        severity=Severity.ERROR,
        title="a tube with an odd number of half turns",
        wordings={
            "": Wording(
                says="each row of a tube closes on itself, so it cannot be closed with {count} half turns",
                hint="Take an even number, or write a `round`, which is one row.",
            ),
        },
        page="""\
With a half turn the first row of a band would meet the last one, and go on as that. But the rows of a tube
close each on itself, the first too. So only whole turns are possible: 2 half turns, 4, and so on. A `round`
has one row, which meets itself however often it is turned.

    tube band of 3 rows of 24, closed with 1 half turn:      # 2 half turns, or round band of 24

What to do: take an even number of half turns, or one row.
""",
    ),
    Rule(
        name="no-turns-here",
        severity=Severity.ERROR,
        title="half turns of something that does not close",
        wordings={
            "": Wording(
                says="{name} is no family, so it does not close", hint="Name the round or tube that is meant."
            ),
        },
        page="""\
`expect ... closes with` asks a round or a tube with how many half turns it was closed.

What to do: name that family.
""",
    ),
    Rule(
        name="not-a-loop",
        severity=Severity.ERROR,
        title="a loop that is open",
        wordings={
            "": Wording(
                says="{name} and {other} are not linked, so this is no loop",
                hint="Name the rings in order, each linked with the next and the last with the first.",
            ),
            "short": Wording(
                says="a loop needs three different rings, and these are {count}",
                hint="Name at least three rings.",
            ),
        },
        page="""\
Whether a weave is the one meant or its mirror image shows in its loops: three rings, each linked with
the next, can be linked in two hands. A loop is plain when its sign is what it is with every ring entered
from the front, else crossed.

    expect loop chain[1], chain[2], chain[3] is plain

What to do: name rings that form a loop.
""",
    ),
    Rule(
        name="unknown-helper",
        severity=Severity.ERROR,
        title="no such helper",
        wordings={
            "": Wording(
                says="{name} is no helper in the work",
                hint='Put one in first: `helper "twist of wire" through ... as {name}`.',
            ),
            "close": Wording(says="{name} is no helper in the work", hint="Did you mean {close}?"),
        },
        page="""\
`remove` takes out a helper that was put in under that name.

What to do: name the helper.
""",
    ),
    Rule(
        name="helper-is-out",
        severity=Severity.ERROR,
        title="a helper taken out twice",
        wordings={
            "": Wording(says="{name} is taken out already", hint="Leave this line out."),
        },
        page="""\
A helper is put in once and taken out once.

What to do: leave the second `remove` out, or put the helper in again under another name.
""",
    ),
    Rule(
        name="helper-left-in",
        severity=Severity.WARNING,
        title="a helper stays in",
        wordings={
            "": Wording(says="the {text} is never taken out", hint="Say when: `remove NAME`."),
        },
        page="""\
A helper, such as a twist of wire, keeps rings in place for a while. At the end of the piece it is still
in.

What to do: take it out where it is no longer needed.
""",
    ),
    Rule(
        name="hand-changes",
        severity=Severity.ERROR,
        title="both hands in one piece",
        wordings={
            "": Wording(
                says="{name} is made plain and mirrored in one piece, and the piece does not say so",
                hint="If that is meant, say so: `piece NAME in both hands:`; otherwise make all of them alike.",
            ),
        },
        page="""\
A weave and its mirror image look alike in the bag and not on the bench: joined in one piece they lie
against each other. So a piece that wants both hands of one unit says so.

    piece pair in both hands:
        make spiral as left
        make spiral mirrored as right

What to do: say `in both hands`, or make all of them in one hand.
""",
    ),
)
