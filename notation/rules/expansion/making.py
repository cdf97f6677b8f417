"""Rules about motions: what a ring can go through, and rings that lie side by side."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="nothing-to-pass",
        severity=Severity.ERROR,
        title="a motion that links nothing",
        wordings={
            "": Wording(
                says="this pass goes through nothing and carries nothing",
                hint="Write what it goes through, or `take {count} {kind}` for closed rings to start from.",
            ),
            "reopen": Wording(
                says="{name} is opened and closed again with nothing in between",
                hint="Write `through ...` or `carrying ...` behind it.",
            ),
            "hang": Wording(
                says="{name} is hung from nothing",
                hint="Everything behind `from` is left out here; name a ring that is there.",
            ),
        },
        page="""\
A ring is opened to make links. A pass with no way and no load opens and closes it for nothing; most often
`through ...` was left out. Closed rings to begin with are taken.

    pass 1 link                               # through what?
    take 1 link as base                       # a closed ring to start from

What to do: add the way, or take the rings.
""",
    ),
    Rule(
        name="linked-twice",
        severity=Severity.ERROR,
        title="the same two rings linked twice",
        wordings={
            "": Wording(
                says="{name} and {other} are linked already, and two flat rings cannot be linked twice",
                hint="Leave it out of this way, or name the ring that is meant.",
            ),
            "path": Wording(
                says="this way goes through {name} twice, and a flat ring can be linked with it only once",
                hint="Leave one of them out, or name the ring that is meant.",
            ),
        },
        page="""\
Two flat rings are linked or they are not; there is no linking them twice. Think of the disc that the one
ring spans: the other one, being a circle, meets that disc's plane in at most two points, and goes through
it one way at the one and back at the other. Linked means that one of the two points is inside the disc
and the other one outside. If the ring goes through the disc a second time it only comes back, and the two
fall apart.

    pass 2 large as arm through spoke[1], seam, spoke[1]

So a ring that is named twice in one way is a slip: a wrong number, a seam that is also among the spokes,
or, in a round of two, one neighbour that is both before and after. The same goes for a ring that is
reopened and led through one it holds already.

What to do: leave it out, or name the ring that is meant.
""",
    ),
    Rule(
        name="through-itself",
        severity=Severity.ERROR,
        title="a ring through itself",
        wordings={
            "": Wording(
                says="{name} is led through itself",
                hint="Name the ring that it should go through.",
            ),
        },
        page="""\
The ring that is opened again is among those it is to go through.

    reopen arm[1] through arm                 # arm[1] is one of arm: arm[2 to 6]

What to do: leave it out of the way.
""",
    ),
    Rule(
        name="closed-meets-closed",
        severity=Severity.ERROR,
        title="two closed rings cannot be joined",
        wordings={
            "": Wording(
                says="{name} was handed in closed, and so are the rings that it should go through here",
                hint="At such a place only connectors can be opened: use `carrying` or `joined to ... by`, "
                "or reopen the ring.",
            ),
            "finding": Wording(
                says="{name} was handed in closed, and a finding cannot be carried onto a closed ring",
                hint="Pass a ring through both, or hang the finding by an eye that opens.",
            ),
        },
        page="""\
A link is made by opening a ring. The group that was handed in for this place of the family has been made
before and is closed. Rings that it would have carried are opened instead and go through it; but what is
closed and in the work already cannot be joined to it by this pass.

    sheet point of 3 rows of 3, first is start:
        pass 2 large through hub              # at `start` both are closed

What to do: join through connectors, `joined all round by 2 small`; or leave this place out with an `if`
and `reopen start through ...`.
""",
    ),
    Rule(
        name="no-twin",
        severity=Severity.ERROR,
        title="a twin's way without a twin",
        wordings={
            "": Wording(
                says="this pass has one ring, so there is no twin to lead",
                hint="Pass two: `pass 2 ...`; or leave out the twin's line.",
            ),
        },
        page="""\
`twin through ...` under a pass gives the second ring of a pair its own way. A pass of one ring has no
twin.

    pass 1 large as heart carrying 10 small as spoke:
        twin through spoke                    # pass 2 large

What to do: pass a pair, or leave the line out.
""",
    ),
    Rule(
        name="reopen-one",
        severity=Severity.ERROR,
        title="which ring to open again",
        wordings={
            "": Wording(
                says="one ring (with its twin) can be opened again at a time, and this means {count}",
                hint="Name one: `reopen last of ...`, or go over them: `for each ring in ...:`.",
            ),
            "eye": Wording(
                says="{name} is a finding, and only rings are opened again",
                hint="An eye that opens is hung: `hang ... from ...`.",
            ),
        },
        page="""\
`reopen` opens one member, a ring with its companions, and leads it through something further. For several
of them, go over them one by one.

    for each corner in arm:
        reopen corner through tip

What to do: say which one.
""",
    ),
    Rule(
        name="one-strand",
        severity=Severity.ERROR,
        title="several pairs in one pass",
        wordings={
            "": Wording(
                says="a pass makes one member: one ring, or one pair or three side by side",
                hint="Repeat the pass for each of them, or take closed rings: `take ... {kind}`.",
            ),
        },
        page="""\
One pass is one motion of the hand: a ring, or a ring with its twin that follows the same way. Several
pairs are several passes. What is carried or taken may come in as many pairs as you like.

    pass 3 pairs of large through spoke       # repeat 3 times: pass a pair of large ...

What to do: `repeat 3 times:`, a `for` loop or a family.
""",
    ),
    Rule(
        name="too-many-companions",
        severity=Severity.ERROR,
        title="too many rings side by side",
        wordings={
            "": Wording(
                says="{count} rings would lie side by side as one strand; {limit} are the most",
                hint="For one after the other write `repeat {count} times:` and under it `pass 1 ...`.",
            ),
        },
        page="""\
`pass 20 link` means a ring and nineteen twins that all go the same way and lie side by side. Nobody weaves
that: a count of single rings was meant.

    pass 20 link through base                 # repeat 20 times: pass 1 link through ...

What to do: a loop, a line, or `take 20 link` for closed rings to start from.
""",
    ),
    Rule(
        name="not-doubled",
        severity=Severity.ERROR,
        title="a pass against the kind's doubling",
        wordings={
            "one": Wording(
                says="{kind} goes {size} at a time, and this pass has {count}",
                hint="Write `{size} {kind}`; if one ring by itself is meant, `1 single {kind}`.",
            ),
            "more": Wording(
                says="{kind} goes {size} at a time, and this pass has {count}",
                hint="A pass makes one member: write `{size} {kind}`, and repeat it for more.",
            ),
        },
        page="""\
The line of this kind says `doubled` (or `tripled`): wherever it is passed, it goes with its twin. A count
that differs is most often a twin that was forgotten, so it has to be said.

    ring large: inner 5 mm, wire 0.9 mm, metal copper, doubled
    pass 1 large through spoke                # the twin?
    pass 1 single large through spoke         # meant like this

What to do: the full count, or `single`.
""",
    ),
    Rule(
        name="odd-one-out",
        severity=Severity.ERROR,
        title="rings that do not come out in pairs",
        wordings={
            "": Wording(
                says="{kind} goes {size} at a time, and {count} cannot be shared out so",
                hint="Counts are rings in all. For rings by themselves write `{count} single {kind}`.",
            ),
        },
        page="""\
Carried and taken rings of a doubled kind come in pairs, and the count says how many rings that makes.

    pass 2 large as heart carrying 11 small as spoke      # 12: six pairs

What to do: a count that divides, `6 pairs of small`, or `11 single small`.
""",
    ),
    Rule(
        name="not-bundled",
        severity=Severity.ERROR,
        title="pairs that are none",
        wordings={
            "": Wording(
                says="these do not come in {word}: the rings of a member here are {size}",
                hint="Leave the word out to count members, or correct how the rings are made.",
            ),
        },
        page="""\
Where the text says pairs or triples, the members must be so. Members are what lies side by side.

    take 6 single small as spoke
    pass 1 large through next 2 pairs of spoke            # six rings, each by itself

What to do: `next 4 of spoke`, or make the spokes in pairs.
""",
    ),
    Rule(
        name="count-unclear",
        severity=Severity.ERROR,
        title="rings or pairs",
        wordings={
            "": Wording(
                says="it is not clear whether this counts rings or {word}: each member is {size} rings",
                hint="Say it: `{word}` behind the number.",
            ),
            "many": Wording(
                says="it is not clear what this counts: each member is {size} rings side by side",
                hint="Pick the members by number instead: `NAME[1 to 2]`.",
            ),
        },
        page="""\
`next 2 of spoke` can be read in two ways when the spokes are pairs: two rings, or two pairs. A reader at
the bench would ask, so the text says which.

    pass 2 large through next 2 of spoke                  # next 2 pairs of spoke

One pair is `next pair of spoke`; `next of spoke` is one member too.

What to do: add the word.
""",
    ),
)
