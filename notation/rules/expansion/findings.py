"""Rules about findings: which of them, which eye, and what an eye can do."""

from __future__ import annotations

from notation.diagnostic import Severity
from notation.rules.model import Rule, Wording

RULES: tuple[Rule, ...] = (
    Rule(
        name="unknown-finding",
        severity=Severity.ERROR,
        title="a finding that is not there",
        wordings={
            "": Wording(
                says="there is no finding {name}",
                hint="Declare it at the left margin: `finding {name}: drop, eye 1.5 mm`.",
            ),
            "close": Wording(says="there is no finding {name}", hint="Did you mean `{close}`?"),
            "several": Wording(
                says="one finding is hung at a time, and {name} means {count}",
                hint="Say which: `{name}[1]`.",
            ),
        },
        page="""\
`hang` wants a finding: the name of a kind, and then a new one comes into the work; or the name of one that
is in the work already. Rings are passed.

    finding hook: ear-wire, eye 2 mm opens, metal copper
    hang hook from heart

What to do: correct the name, or declare the finding.
""",
    ),
    Rule(
        name="unknown-eye",
        severity=Severity.ERROR,
        title="an eye that the finding lacks",
        wordings={
            "": Wording(says="{finding} has no eye called {name}", hint="Its eyes: {eyes}."),
            "close": Wording(says="{finding} has no eye called {name}", hint="Did you mean `{close}`?"),
        },
        page="""\
The eyes of a finding have the names that its line gives them; one that is not named is called `eye`.

    finding chain: chain, eye start 2 mm, eye end 2 mm, length 160 mm
    pass 1 link through stop of left-chain                # end of left-chain

What to do: take one of its names.
""",
    ),
    Rule(
        name="which-eye",
        severity=Severity.ERROR,
        title="which of several eyes",
        wordings={
            "": Wording(
                says="{finding} has several eyes: {eyes}",
                hint="Say which one is gone through: `EYE of NAME`.",
            ),
            "by": Wording(
                says="{finding} has several eyes: {eyes}",
                hint="Say by which one it hangs: `by EYE`.",
            ),
        },
        page="""\
A finding with several eyes hangs by one of them and offers the others.

    finding chain: chain, eye start 2 mm, eye end 2 mm, length 160 mm
    pass 1 link through tip carrying 1 chain by start as left-chain
    pass 1 link through end of left-chain carrying 1 clasp

What to do: name the eye.
""",
    ),
    Rule(
        name="eye-is-closed",
        severity=Severity.ERROR,
        title="an eye that does not open",
        wordings={
            "only": Wording(
                says="the eye of {finding} does not open, so it cannot be hung from a closed ring",
                hint="Carry it on a ring: `pass ... carrying 1 ...`; if it does open, declare it so: "
                "`eye ... opens`.",
            ),
            "": Wording(
                says="the eye {eye} of {finding} does not open, so it cannot be hung from a closed ring",
                hint="Carry it on a ring: `pass ... carrying 1 ...`; if it does open, declare it so: "
                "`eye ... opens`.",
            ),
        },
        page="""\
To join two things, one of them must be open. An ear wire's loop can be bent open and hung; the eye of a
cast drop cannot, so a ring has to be passed through it.

    pass 1 link through tip carrying 1 drop

What to do: carry it on an open ring, or add `opens` to the eye where the finding is declared.
""",
    ),
    Rule(
        name="no-eye-here",
        severity=Severity.ERROR,
        title="an eye of a ring",
        wordings={
            "": Wording(
                says="{kind} is a kind of ring and has no eyes",
                hint="Leave out `by ...`.",
            ),
        },
        page="""\
`by left` says by which of its eyes a finding hangs. A ring hangs by its hole.

    pass 1 link through tip carrying 2 small by left      # carrying 2 small

What to do: leave out `by ...`.
""",
    ),
    Rule(
        name="finding-not-ring",
        severity=Severity.ERROR,
        title="a finding where rings are wanted",
        wordings={
            "": Wording(
                says="{name} is a finding, and here rings are wanted",
                hint="Findings are carried on a ring or hung: `carrying 1 {name}`, `hang {name} from ...`.",
            ),
        },
        page="""\
Rings are passed and taken, and they join neighbours. A finding comes into the work on an open ring that
carries it, or by an eye of its own that opens.

    pass 1 drop through tip                   # pass 1 link through tip carrying 1 drop

What to do: carry it or hang it.
""",
    ),
)
