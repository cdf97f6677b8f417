"""Rings that need no name: made alone of their kind in a titled step, and never spoken of again.

In: all steps of a piece, with every ring named. Out: the same, the names of such rings marked as not needed, so that
no `ring 2` stands where nobody has seen a ring 1. Linear in the messages.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from compiler.messages import Members, Message, Series
from compiler.names import nameless
from compiler.steps import InstructionKind, StepRecord, TitleKind

_Spot = tuple[str, str, int]
"""Noun, owner, number."""


def leave_unnamed(steps: Sequence[StepRecord]) -> list[StepRecord]:
    """The steps, `named` False where a ring needs no name."""
    spoken = {
        spot for step in steps for each in _spoken(step) if nameless(each.group) for spot in _spots(each)
    }
    return [_unnamed(step, spoken) for step in steps]


def _unnamed(step: StepRecord, spoken: set[_Spot]) -> StepRecord:
    # In other steps the title says what is made.
    if step.title.kind is not TitleKind.TYPED:
        return step
    heads = [each.head for each in step.instructions if isinstance(each.head, Members)]
    others = {each.group.singular for each in _spoken(step)}
    instructions = tuple(
        replace(each, named=False)
        if isinstance(each.head, Members)
        and each.kind is InstructionKind.PASS
        and nameless(each.head.group)
        and sum(head.group.singular == each.head.group.singular for head in heads) == 1
        and each.head.group.singular not in others
        and not any(spot in spoken for spot in _spots(each.head))
        else each
        for each in step.instructions
    )
    return replace(step, instructions=instructions)


def _spots(them: Members) -> Iterator[_Spot]:
    for each in them.ranges:
        for place in range(each.first, each.last + 1):
            yield them.group.singular, them.group.owner, place


def _spoken(step: StepRecord) -> Iterator[Members]:
    """All members that the sentences of a step name, heads left out."""
    messages = [message for each in step.instructions for message in each.messages]
    for thing in _things((*messages, *step.checkpoint)):
        if isinstance(thing, Members):
            yield thing
            yield from thing.waits_on
            yield from (meant.members for meant in thing.meant_for)


def _things(messages: Iterable[Message]) -> Iterator[object]:
    for message in messages:
        for _, value in message.arguments:
            if isinstance(value, Series):
                yield from (thing for line in value.lines for thing in line.things)
            elif isinstance(value, tuple):
                yield from value
            else:
                yield value
