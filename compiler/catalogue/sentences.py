"""The English catalogue: for each message its sentence or sentences, and what a term means.

Whole sentences with typed noun phrases in them, never fragments put together: another language is another file like
this one. What may stand after a colon in braces is in `compiler.catalogue.phrases`.
"""

from __future__ import annotations

from enum import Enum

from compiler.messages import Say
from compiler.steps import Term
from notation.handling import HandMotion, RemarkKind

SENTENCES: dict[Say, str] = {
    Say.TAKE_OPEN: "Take {kind:an open}.",
    Say.TAKE_TWIN_OPEN: "Take {kind:another open} as its twin.",
    Say.GO_THROUGH: "Go through {path}.",
    Say.GO_THROUGH_FROM: "Go through {path} {entry}.",
    Say.FEED: "Feed {path} onto the open ring.",
    Say.FEED_FROM: "Feed {path} onto the open ring, {entry}.",
    Say.CARRY: "Carry {what:new}.",
    Say.CARRY_FINDING: "Carry {what:finding}.",
    Say.CARRY_FINDING_BY: "Carry {what:finding} by {what:eye}.",
    Say.AROUND: "Go around {path}, not through.",
    Say.BETWEEN: "Lay the ring between {path:gap}, through neither.",
    Say.CLOSE: "Close the ring.",
    Say.CLOSE_PLAIN: "Close the ring.",
    Say.TWIN_SAME: "Its twin, {kind:another open}, follows the same way and lies beside it.",
    Say.TWINS_SAME: "{count} more open {kind:rings} follow the same way and lie beside it.",
    Say.LIES_BESIDE: "The twin lies beside the first ring.",
    Say.EACH_TAKE_OPEN: "Take {kind:an open} for each.",
    Say.EACH_THROUGH: "{series:goes}.",
    Say.EACH_THROUGH_RELATIVE: "Go through {relation}: {series:through}.",
    Say.EACH_THROUGH_SAME: "Go through {path} each time.",
    Say.EACH_THROUGH_FROM: "Go through {entry}: {series:through}.",
    Say.EACH_FEED: "Feed closed rings onto each open ring: {series:takes}.",
    Say.EACH_CARRY: "Each carries {series:load}: {series:carries}.",
    Say.EACH_AROUND: "Go around, not through: {series:takes}.",
    Say.EACH_BETWEEN: "Each lies in a gap, through neither ring: {series:takes}.",
    Say.EACH_CLOSE: "Close each ring before you take the next.",
    Say.EACH_TWIN_SAME: "Each has a twin, {kind:another open}, that follows the same way and lies beside it.",
    Say.EACH_TWINS_SAME: "After each, {count} more open {kind:rings} follow the same way and lie beside it.",
    Say.TAKE_CLOSED: "Take {what:new}.",
    Say.OPEN_AGAIN: "Open {what} again.",
    Say.TWIN_AGAIN: "Open {what} too. It follows the same way. Close it.",
    Say.TAKE_FINDING: "Take {what:finding}. Open {what:eye}.",
    Say.OPEN_EYE: "Open {what}.",
    Say.HANG_ON: "Hang it on {path}.",
    Say.HANG_ON_FROM: "Hang it on {path}, {entry}.",
    Say.CLOSE_EYE: "Close the eye.",
    Say.FIRST_ROW: "{what:row} has {what:width}. Work from left to right.",
    Say.FIRST_ROUND: "{what:row} has {what:width}. Work round in one direction.",
    Say.NEXT_ROW_ABOVE: "{what:row} has {what:width} and lies above {onto:row}.",
    Say.NEXT_ROW_BELOW: "{what:row} has {what:width} and lies below {onto:row}.",
    Say.SHARED: "{what} is {same_as}, which is there already.",
    Say.HOLD_UNTIL: "Hold {path} until the {until} is made.",
    Say.FOLD_ONTO: "Fold {path} back onto {onto}, one ring to each side.",
    Say.CHECK_USED: "You have now used {counts}.",
    Say.CHECK_PART_USED: "For {part:owner} you have used {counts}.",
    Say.CHECK_RINGS: "The work now has {count:ring|rings}.",
    Say.CHECK_PART_RINGS: "{part:owner} has {count:ring|rings}.",
    Say.CHECK_LINKS: "The work now has {count:link|links}.",
    Say.CHECK_PART_LINKS: "{part:owner} has {count:link|links}.",
    Say.CHECK_HOLDS: "Count the rings through {path:each}: {count}.",
    Say.CHECK_HOLDS_KIND: "Count the rings through {path:each}: {held}.",
}

AGAIN: dict[Say, str] = {
    Say.TWIN_SAME: "Its twin follows the same way.",
    Say.TWINS_SAME: "{count} more follow the same way.",
    Say.EACH_TWIN_SAME: "Each has a twin that follows the same way.",
    Say.GO_THROUGH_FROM: "Go through {path} {entry:short}.",
    Say.HANG_ON_FROM: "Hang it on {path}, {entry:short}.",
    Say.FEED_FROM: "Feed {path} onto the open ring, {entry:short}.",
}
"""Shorter sentences, for the second time and later in one step."""

SAID_BY = {
    Say.EACH_TWIN_SAME: Say.TWIN_SAME,
    Say.EACH_TWINS_SAME: Say.TWINS_SAME,
    Say.HANG_ON_FROM: Say.GO_THROUGH_FROM,
    Say.FEED_FROM: Say.GO_THROUGH_FROM,
}
"""Messages that count as said when another was, and the other way round."""

BY_ARGUMENT: dict[Say, dict[Enum, str]] = {
    Say.HANDLE_WORK: {
        HandMotion.LAY_FLAT: "Lay the work flat.",
        HandMotion.TURN_OVER: "Turn the work over.",
        HandMotion.TURN_ROUND: "Turn the work round, the same side up.",
        HandMotion.HOLD: "Hold the work.",
        HandMotion.LET_GO: "Let go of the work.",
        HandMotion.FOLD_BACK: "Fold the work back.",
    },
    Say.HANDLE: {
        HandMotion.LAY_FLAT: "Lay {path} flat.",
        HandMotion.TURN_OVER: "Turn {path} over.",
        HandMotion.TURN_ROUND: "Turn {path} round, the same side up.",
        HandMotion.HOLD: "Hold {path}.",
        HandMotion.LET_GO: "Let go of {path}.",
        HandMotion.FOLD_BACK: "Fold {path} back.",
    },
    Say.REMARK: {
        RemarkKind.NOTE: "Note: {text}",
        RemarkKind.TIP: "Tip: {text}",
        RemarkKind.CAUTION: "Caution: {text}",
    },
}
"""Messages with a sentence for each value of their `motion` or `kind`."""

GLOSSARY: dict[Term, tuple[str, str]] = {
    Term.OPEN: (
        "open",
        "Hold the ring in two pliers, its ends upwards. Turn one end towards you and the other away. "
        "Never pull the ends apart sideways: the ring loses its shape.",
    ),
    Term.CLOSE: (
        "close",
        "Turn the two ends back until they meet. No gap may be left that a wire could slip through.",
    ),
    Term.GO_THROUGH: (
        "go through",
        "Put one end of the open ring into the hole of each closed ring named, so that the closed rings hang on it.",
    ),
    Term.CARRY: (
        "carry",
        "Slip new closed rings or a finding onto the open ring. They hang on it once it is closed.",
    ),
    Term.TWIN: (
        "twin",
        "A second ring of the same kind. It goes through all that the first ring goes through or carries, "
        "and lies beside it.",
    ),
    Term.PAIR: (
        "pair",
        "Two rings of one kind that lie side by side and count as one: go through both together.",
    ),
    Term.THREE: (
        "three",
        "Three rings of one kind that lie side by side and count as one: go through all of them together.",
    ),
    Term.FEED: ("feed", "Slip closed rings that are in the work already onto the open ring."),
    Term.WAIT: (
        "wait",
        "A ring or pair waits when it hangs on one ring or pair only so far; a later one goes through it too.",
    ),
    Term.AROUND: (
        "around",
        "The ring lies round the outside of what is named, as a collar does, and goes through none of its holes.",
    ),
    Term.BETWEEN: ("between", "The ring lies in the gap between two rings and goes through neither."),
    Term.ROW: (
        "row",
        "Rings side by side. They are numbered from left to right, and the rows in the order in which you make them.",
    ),
    Term.ROUND: (
        "round",
        "Rings in a circle, one row of a tube. The last lies beside the first. "
        "They are numbered in the order in which you make them.",
    ),
    Term.FRONT: (
        "front and behind",
        "The front is the side that faces you at the start. Turned over, it is still called the front.",
    ),
    Term.FINDING: ("finding", "A part that is bought ready made, such as a clasp, a drop or a chain."),
    Term.EYE: ("eye", "The round hole of a finding. Some eyes can be opened, as a ring is."),
}
"""The term as it is printed, and what it means."""
