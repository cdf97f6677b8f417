"""The English catalogue: for each message its sentence or sentences, and what a term means.

Whole sentences with typed noun phrases in them, never fragments put together: another language is another file like
this one. What may stand after a colon in braces is in `compiler.catalogue.phrases`.
"""

from __future__ import annotations

from enum import Enum

from compiler.messages import Say, Turning
from compiler.steps import Term
from notation.handling import HandMotion, RemarkKind
from notation.nodes import Hand

SENTENCES: dict[Say, str] = {
    Say.TAKE_OPEN: "Take {kind:an open}.",
    Say.TAKE_TWIN_OPEN: "Take {kind:another open} as its twin.",
    Say.GO_THROUGH: "Go through {path}.",
    Say.GO_THROUGH_FROM: "{entry}, go through {path}.",
    Say.GO_THROUGH_EYE: "{entry}, go through the eye where {path} overlap: through both at once.",
    Say.FEED: "Feed {path} onto the open ring.",
    Say.FEED_FROM: "Feed {path} onto the open ring, entered {entry}.",
    Say.CARRY: "Slip {what:onto}{what:meant}.",
    Say.CARRY_FROM: "Slip {what:onto}, entered {entry}{what:meant after}.",
    Say.CARRY_FINDING: "Slip {what:finding} onto the open ring.",
    Say.CARRY_FINDING_FROM: "Slip {what:finding} onto the open ring, entered {entry}.",
    Say.CARRY_FINDING_BY: "Slip {what:finding} onto the open ring by {what:eye}.",
    Say.CARRY_FINDING_BY_FROM: "Slip {what:finding} onto the open ring by {what:eye}, entered {entry}.",
    Say.AROUND: "Go around {path}, not through.",
    Say.AROUND_JOINT: "Go around the joint of {path}, not through.",
    Say.BETWEEN: "Slip it between {path:gap} without going through them.",
    Say.INSIDE: "Lay it in {path:holes}; do not link them.",
    Say.OVER: "Lay it over {path}, on the side facing you; do not link them.",
    Say.UNDER: "Lay it under {path}, on the side facing away from you; do not link them.",
    Say.GAP: "On {path:hole}, place it between {path:beside}.",
    Say.CLOSE: "Close the ring.",
    Say.CLOSE_PLAIN: "Close the ring.",
    Say.TWIN_SAME: "Its twin, {kind:another open}, follows the same way and {lies}.",
    Say.TWINS_SAME: "{count} more open {kind:rings} follow the same way and {lies:many}.",
    Say.LIES_BESIDE: "The twin {lies:first}.",
    Say.EACH_TAKE_OPEN: "Take {kind:an open} for each.",
    Say.EACH_THROUGH: "{series:goes}.",
    Say.EACH_THROUGH_FROM: "Each enters {entry}: {series:through}.",
    Say.EACH_ALSO_FROM: "Each also enters {entry}: {series:through}.",
    Say.EACH_THROUGH_RELATIVE: "Go through {series:relation}: {series:through}.",
    Say.EACH_THROUGH_RELATIVE_FROM: "{entry}, go through {series:relation}: {series:through}.",
    Say.EACH_THROUGH_SAME: "Go through {path} each time.",
    Say.EACH_THROUGH_SAME_FROM: "{entry}, go through {path} each time.",
    Say.EACH_FEED: "Feed closed rings onto each open ring: {series:takes}.",
    Say.EACH_FEED_FROM: "Feed closed rings onto each open ring, entered {entry}: {series:takes}.",
    Say.EACH_CARRY: "Each carries {series:load}: {series:carries}.",
    Say.EACH_CARRY_FROM: "Each carries {series:load}, entered {entry}: {series:carries}.",
    Say.EACH_AROUND: "{series:around}, not through.",
    Say.EACH_AROUND_JOINT: "{series:joint}, not through.",
    Say.EACH_BETWEEN: "Slip {series:between}, without going through them.",
    Say.EACH_INSIDE: "Lay {series:inside}; do not link them.",
    Say.EACH_OVER: "On the side facing you, lay {series:over}; do not link them.",
    Say.EACH_UNDER: "On the side facing away from you, lay {series:under}; do not link them.",
    Say.EACH_GAP: "Place {series:gap}.",
    Say.EACH_CLOSE: "Close each ring before you take the next.",
    Say.EACH_TWIN_SAME: "Each has a twin, {kind:another open}, that follows the same way and {lies}.",
    Say.EACH_TWINS_SAME: "After each, {count} more open {kind:rings} follow the same way and {lies:many}.",
    Say.TAKE_CLOSED: "Take {what:new}.",
    Say.TAKE_LAID: "Take {what:new}, {lies:laid}.",
    Say.TAKE_INSIDE: "Lay {what:new} in {path:holes}; link nothing.",
    Say.TAKE_LAID_INSIDE: "Lay {what:new} in {path:holes}, {lies:laid}; link nothing.",
    Say.LOOSE: "Nothing joins them yet: keep them in order, on a piece of wire if you like.",
    Say.APART: "This begins a separate part, which is joined to the work later.",
    Say.OPEN_AGAIN: "Open {what} again.",
    Say.TWIN_AGAIN: "Open {what} too. It follows the same way. Close it.",
    Say.TAKE_FINDING: "Take {what:finding}. Open {what:eye}.",
    Say.OPEN_EYE: "Open {what}.",
    Say.HANG_ON: "Hang it on {path}.",
    Say.HANG_ON_FROM: "Hang it on {path}, entered {entry}.",
    Say.CLOSE_EYE: "Close the eye.",
    Say.FIRST_ROW: "{what:row} has {what:width}. Work from left to right.",
    Say.FIRST_ROW_FROM_RIGHT: "{what:row} has {what:width}. Work from right to left.",
    Say.FIRST_ROUND: "{what:row} has {what:width}. Work round in one direction.",
    Say.ROUND_BEGINS: "{what:row} has {what:width}.",
    Say.NEXT_ROW_ABOVE: "{what:row} lies above {onto:row} and has {what:width}.",
    Say.NEXT_ROW_BELOW: "{what:row} lies below {onto:row} and has {what:width}.",
    Say.NEXT_ROUND_OUTSIDE: "{what:row} lies outside {onto:row} and has {what:width}.",
    Say.ROWS_LEAN: "Lying flat, the rows lean by turns: {what:row} to the left, {onto:row} to the right.",
    Say.FROM_RIGHT: "Now work from right to left.",
    Say.FROM_LEFT: "Work from left to right again.",
    Say.SHARED: "{what} is {same_as}, which is there already.",
    Say.MIRROR: "Work {part:owner} as the mirror image of {like:owner}.",
    Say.HOLD_UNTIL: "Hold {path} until the {until} is made.",
    Say.BACK_FACES: "The back now faces you.",
    Say.FRONT_FACES: "The front faces you again.",
    Say.FOLD: "Fold {path} back, one ring to each side.",
    Say.FOLD_ONTO: "Fold {path} back onto {onto}, one ring to each side.",
    Say.FOLD_ONE: "Fold {path} back.",
    Say.FOLD_ONE_ONTO: "Fold {path} back onto {onto}.",
    Say.SPREAD: "Spread {path:gap} apart.",
    Say.NO_HALF_TURNS: "Close {what:whole} without a twist.",
    Say.FACING_INSIDE: "Close {what:whole} so that the side that faces you lies inside.",
    Say.FACING_OUTSIDE: "Close {what:whole} so that the side that faces away from you lies inside.",
    Say.WORK_INSIDE: "Work on {what:whole} from within: the side that faces you will lie inside.",
    Say.WORK_OUTSIDE: "Work on {what:whole} so that the side that faces away from you will lie inside.",
    Say.HELPER_IN: "Put {helper:a} through {path}: it holds the work for now.",
    Say.HELPER_OUT: "Take {helper:the} out again.",
    Say.CHECK_USED: "You have now used {counts}.",
    Say.CHECK_USED_EACH: "For this one you have now used {counts}.",
    Say.CHECK_PART_USED: "For {part:owner} you have used {counts}.",
    Say.CHECK_RINGS: "The work now has {count:ring|rings}.",
    Say.CHECK_PART_RINGS: "{part:owner} has {count:ring|rings}.",
    Say.CHECK_LINKS: "The work now has {count:connection|connections}.",
    Say.CHECK_PART_LINKS: "{part:owner} has {count:connection|connections}.",
    Say.CHECK_HOLDS: "Count the rings through {path:each}: {count}.",
    Say.CHECK_HOLDS_EYES: "Count the rings and eyes through {path:each}: {count}.",
    Say.CHECK_HOLDS_KIND: "Count the rings through {path:each}: {held}.",
    Say.CHECK_AROUND: "{path} {path:lies} around {onto}.",
    Say.CHECK_BETWEEN: "{path} {path:lies} between {onto:gap}.",
    Say.CHECK_INSIDE: "{path} {path:lies} in {onto:holes}.",
    Say.CHECK_OVER: "{path} {path:lies} over {onto}, nearer to you.",
    Say.CHECK_UNDER: "{path} {path:lies} under {onto}, further from you.",
    Say.CHECK_NOT_AROUND: "{path} {path:does} not lie around {onto:any}.",
    Say.CHECK_NOT_BETWEEN: "{path} {path:does} not lie between {onto:gap}.",
    Say.CHECK_NOT_INSIDE: "{path} {path:does} not lie in the hole of {onto:any}.",
    Say.CHECK_NOT_OVER: "{path} {path:does} not lie over {onto:any}.",
    Say.CHECK_NOT_UNDER: "{path} {path:does} not lie under {onto:any}.",
    Say.CHECK_PLAIN: (
        "Look at the loop of {path}, laid out flat. Count clockwise where one lies over the next on the outside: "
        "nowhere, or an even number of times."
    ),
    Say.CHECK_CROSSED: (
        "Look at the loop of {path}, laid out flat. Count clockwise where one lies over the next on the outside: "
        "an odd number of times."
    ),
    Say.CHECK_PLAIN_THREE: (
        "Look at {path}, laid out like a flower of three: clockwise, each lies under the next on the outside."
    ),
    Say.CHECK_CROSSED_THREE: (
        "Look at {path}, laid out like a flower of three: clockwise, each lies over the next on the outside."
    ),
    Say.CHECK_NO_HALF_TURNS: "Look along {what:whole}: it closes without a twist.",
    Say.CHECK_FRONT_INSIDE: "Look at {what:whole}: its front, the side that faced you at the start, lies inside.",
    Say.CHECK_BACK_INSIDE: "Look at {what:whole}: its front, the side that faced you at the start, lies outside.",
    Say.CHECK_COMPANIONS: "Look at {path}: the rings of each lie {lies:laid}.",
}

AGAIN: dict[Say, str] = {
    Say.TWIN_SAME: "Its twin follows the same way{lies:again}.",
    Say.TWINS_SAME: "{count} more follow the same way{lies:many again}.",
    Say.EACH_TWIN_SAME: "Each has a twin that follows the same way{lies:again}.",
}
"""Shorter sentences, for the second time and later in one step."""

SAID_BY = {
    Say.EACH_TWIN_SAME: Say.TWIN_SAME,
    Say.EACH_TWINS_SAME: Say.TWINS_SAME,
}
"""Messages that count as said when another was, and the other way round."""

THROUGH = (
    Say.GO_THROUGH,
    Say.GO_THROUGH_FROM,
    Say.GO_THROUGH_EYE,
    Say.FEED,
    Say.FEED_FROM,
    Say.HANG_ON,
    Say.HANG_ON_FROM,
    Say.EACH_THROUGH,
    Say.EACH_THROUGH_FROM,
    Say.EACH_ALSO_FROM,
    Say.EACH_THROUGH_RELATIVE,
    Say.EACH_THROUGH_RELATIVE_FROM,
    Say.EACH_THROUGH_SAME,
    Say.EACH_THROUGH_SAME_FROM,
    Say.EACH_FEED,
    Say.EACH_FEED_FROM,
)
"""Messages in which all rings of a pair are meant, which is said the first time: `both rings of point 3`."""

BY_ARGUMENT: dict[Say, dict[Enum, str]] = {
    Say.HANDLE_WORK: {
        HandMotion.LAY_FLAT: "Lay the work flat.",
        HandMotion.TURN_OVER: "Turn the work over.",
        HandMotion.TURN_ROUND: "Turn the work round, the same side up.",
        HandMotion.HOLD: "Hold the work.",
        HandMotion.LET_GO: "Let go of the work.",
    },
    Say.HANDLE: {
        HandMotion.LAY_FLAT: "Lay {path} flat.",
        HandMotion.TURN_OVER: "Turn {path} over.",
        HandMotion.TURN_ROUND: "Turn {path} round, the same side up.",
        HandMotion.HOLD: "Hold {path}.",
        HandMotion.LET_GO: "Let go of {path}.",
    },
    Say.LEAN: {
        Hand.LEFT: "Lean {path} to the left.",
        Hand.RIGHT: "Lean {path} to the right.",
    },
    Say.CHECK_LEAN: {
        Hand.LEFT: "Look at {path}: leaning to the left.",
        Hand.RIGHT: "Look at {path}: leaning to the right.",
    },
    Say.HALF_TURNS: {
        Turning.CLOCKWISE: (
            "Before you close {what:whole}, give the loose end {count:half turn|half turns} clockwise, looking along "
            "the work from where it began."
        ),
        Turning.ANTICLOCKWISE: (
            "Before you close {what:whole}, give the loose end {count:half turn|half turns} anticlockwise, looking "
            "along the work from where it began."
        ),
    },
    Say.CHECK_HALF_TURNS: {
        Turning.CLOCKWISE: "Count the half turns in {what:whole}: {count}, clockwise.",
        Turning.ANTICLOCKWISE: "Count the half turns in {what:whole}: {count}, anticlockwise.",
    },
    Say.CHECK_TURNED: {
        Turning.CLOCKWISE: (
            "Look at {path}: turned clockwise by {degrees:degree|degrees} in all, looking along the work from where "
            "it began."
        ),
        Turning.ANTICLOCKWISE: (
            "Look at {path}: turned anticlockwise by {degrees:degree|degrees} in all, looking along the work from "
            "where it began."
        ),
    },
    Say.TURN_BY: {
        Turning.CLOCKWISE: (
            "Turn {path} clockwise by {degrees:degree|degrees}, looking along the work from where it began."
        ),
        Turning.ANTICLOCKWISE: (
            "Turn {path} anticlockwise by {degrees:degree|degrees}, looking along the work from where it began."
        ),
    },
    Say.TURN_EACH_BY: {
        Turning.CLOCKWISE: (
            "Looking along the work from where it began, turn {path} clockwise, each {degrees:degree|degrees} "
            "further than the one before."
        ),
        Turning.ANTICLOCKWISE: (
            "Looking along the work from where it began, turn {path} anticlockwise, each {degrees:degree|degrees} "
            "further than the one before."
        ),
    },
    Say.CHECK_EACH_TURNED: {
        Turning.CLOCKWISE: (
            "Look along {path} from where the work began: each is turned clockwise, {degrees:degree|degrees} further "
            "than the one before."
        ),
        Turning.ANTICLOCKWISE: (
            "Look along {path} from where the work began: each is turned anticlockwise, {degrees:degree|degrees} "
            "further than the one before."
        ),
    },
    Say.WORK_DIRECTION: {
        Turning.CLOCKWISE: "Work clockwise throughout, seen from the front.",
        Turning.ANTICLOCKWISE: "Work anticlockwise throughout, seen from the front.",
    },
    Say.WORK_SEEN: {
        Turning.CLOCKWISE: "From this side, you work clockwise.",
        Turning.ANTICLOCKWISE: "From this side, you work anticlockwise.",
    },
    Say.REMARK: {
        RemarkKind.NOTE: "Note: {text}",
        RemarkKind.TIP: "Tip: {text}",
        RemarkKind.CAUTION: "Caution: {text}",
    },
}
"""Messages with a sentence for each value of their `motion`, `kind`, `hand` or `turning`."""

GLOSSARY: dict[Term, tuple[str, str]] = {
    Term.OPEN: (
        "open",
        "Hold the ring with both pliers, its cut on top between the jaws. Turn one hand towards you and the other "
        "away, until the gap lets two wires pass. Never pull the ends apart sideways: the ring would not become "
        "round again.",
    ),
    Term.CLOSE: (
        "close",
        "Turn back a little past the middle and then to it, with a light push inwards. The ends must meet "
        "without a step and without a gap. You often feel or hear a click.",
    ),
    Term.GO_THROUGH: (
        "go through",
        "Put one end of the open ring into the hole of each closed ring named, so that the closed rings hang on it.",
    ),
    Term.CARRY: (
        "carry",
        "An open ring carries the closed rings or finding that you slip onto it. They hang on it once it is closed.",
    ),
    Term.TWIN: (
        "twin",
        "A second ring of the same kind. It goes through all that the first ring goes through or carries, "
        "and lies beside it if nothing else is said.",
    ),
    Term.PAIR: (
        "pair",
        "Two rings of one kind that follow the same way and count as one: go through both together.",
    ),
    Term.THREE: (
        "set of three",
        "Three rings of one kind that follow the same way and count as one: go through all of them together.",
    ),
    Term.FEED: ("feed", "Slip closed rings that are in the work already onto the open ring."),
    Term.WAIT: (
        "wait",
        "A ring or pair that waits on another hangs on that one only, until a later one goes through it too.",
    ),
    Term.AROUND: (
        "around",
        "The ring lies round the outside of what is named, as a collar does, and goes through none of its holes.",
    ),
    Term.JOINT: (
        "joint",
        "The place where two rings are linked. What goes around it goes around both rings there.",
    ),
    Term.BETWEEN: ("between", "The ring lies in the gap between two rings and goes through neither."),
    Term.INSIDE: ("in the hole", "The ring lies inside another, in its hole, and is not linked with it."),
    Term.OVER: (
        "over and under",
        "Of two rings that overlap without being linked, the one over the other is nearer to you.",
    ),
    Term.LEAN: (
        "lean",
        "A ring lies tilted along its row, as a domino that has fallen. Of one that leans to the left, the part "
        "nearest to you is its left part.",
    ),
    Term.FLOWER: (
        "flower of three",
        "Three rings laid nearly flat round a point in the middle, so that each overlaps both others and the point "
        "lies in the holes of all three.",
    ),
    Term.HALF_TURN: (
        "half turn",
        "Turn the loose end of a band over once for each half turn, then close the band.",
    ),
    Term.ROW: (
        "row",
        "Rings side by side. They are numbered from left to right, and the rows in the order in which you make them.",
    ),
    Term.ROUND: (
        "round",
        "Rings in a circle: a row of a tube or of a disc. The last lies beside the first. "
        "They are numbered in the order in which you make them.",
    ),
    Term.FRONT: (
        "front and behind",
        "The front of the work, and of each ring in it, is the side that faces you at the start. "
        "From the front: the wire goes in at that side. From behind: it goes in at the other side.",
    ),
    Term.CONNECTION: (
        "connection",
        "A place where a ring goes through another ring or through an eye.",
    ),
    Term.FINDING: (
        "finding",
        "A part that is bought ready-made, such as a clasp, a drop or a length of chain.",
    ),
    Term.EYE: ("eye", "The round hole of a finding."),
    Term.OPENING_EYE: ("eye that opens", "An eye with a cut. Turn it open and closed as you do a ring."),
}
"""The term as it is printed, and what it means."""

WITHOUT_FINDINGS: dict[Term, str] = {
    Term.CARRY: "An open ring carries the closed rings that you slip onto it. They hang on it when it is closed.",
    Term.CONNECTION: "A place where a ring goes through another ring.",
}
"""What a term means in a booklet that has no findings, where that is less."""
WITH_PAIRS: dict[Term, str] = {
    Term.CONNECTION: " A pair that goes through a pair makes four.",
}
"""What is added in a booklet that has pairs."""
