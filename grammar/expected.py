"""Expectations to canonical text: what stands behind `expect`. Used by `grammar.sentences`."""

from __future__ import annotations

from grammar import phrases
from grammar.phrases import expression, pick
from notation.expectations import (
    Expect,
    ExpectCompanions,
    ExpectFace,
    ExpectHolds,
    ExpectLeans,
    ExpectLies,
    ExpectLoop,
    ExpectTotal,
    ExpectTurned,
    ExpectTurns,
    ExpectUsed,
)
from notation.nodes import Bundle, Select, Variable


def expected(node: Expect) -> str:
    """An expectation without its first word."""
    match node:
        case ExpectUsed():
            return _used(node)
        case ExpectTotal():
            return f"{expression(node.count)} {'links' if node.links else 'rings'}"
        case ExpectHolds():
            kind = f" {node.kind.text}" if node.kind else ""
            return f"{pick(node.pick)} holds {expression(node.count)}{kind}"
        case ExpectLies():
            denied = "not " if node.denied else ""
            return f"{pick(node.pick)} is {denied}{node.lies.value} {pick(node.other)}"
        case ExpectCompanions():
            return f"{pick(node.pick)} is {node.companions.value}"
        case ExpectLeans():
            return f"{pick(node.pick)} is leaning {node.hand.value}"
        case ExpectTurned():
            return f"{pick(node.pick)} turns by {expression(node.degrees)} degrees"
        case ExpectLoop():
            return _loop(node)
        case ExpectTurns():
            turns = phrases.half_turns(node.half_turns, node.anticlockwise)
            return f"{node.name.text} closes with {turns}"
        case ExpectFace():
            return f"{node.name.text} closes with {'front' if node.front_inside else 'back'} inside"


def _used(node: ExpectUsed) -> str:
    used = [phrases.quantity(quantity) for quantity in node.quantities]
    first = node.quantities[0]
    if first.bundle is Bundle.AS_KIND and isinstance(first.count, Variable):
        count, kind = first.count.name.text, first.kind.text
        if count == "loop" or kind == "turns":
            # Without brackets this would begin `expect loop a, b is plain` or `expect a turns by 90 degrees`.
            used[0] = f"({count}) {kind}"
    return f"{', '.join(used)} used"


def _loop(node: ExpectLoop) -> str:
    picks = [pick(one) for one in node.picks]
    first = node.picks[0]
    if picks[0].startswith("-") and isinstance(first, Select) and first.count is not None:
        # `expect loop -` begins a sum.
        count = expression(first.count)
        picks[0] = f"({count}){picks[0].removeprefix(count)}"
    return f"loop {', '.join(picks)} is {'crossed' if node.crossed else 'plain'}"
