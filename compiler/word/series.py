"""Runs of instructions that differ only by steady numbers, told as one.

`ring 2 goes through rings 1 and 2 of row 3`, `ring 3 through rings 2 and 3`, ... become one series of which the
first, the second and the last line are told: with steady steps, these give all the others.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.messages import Argument, FindingPart, Members, Message, Range, Say, Series, SeriesLine, Thing
from compiler.steps import Instruction, InstructionKind
from compiler.word.likeness import instruction_form, instruction_leaves, numbers

LEAST_RUN = 3
"""Shorter runs are told one by one: two sentences are clearer than a rule with two cases."""
LINES_TOLD = 3
"""Lines of a series that are told: all of them up to here, else the first, the second and the last."""

EACH = {
    Say.TAKE_OPEN: Say.EACH_TAKE_OPEN,
    Say.GO_THROUGH: Say.EACH_THROUGH,
    Say.GO_THROUGH_FROM: Say.EACH_THROUGH_FROM,
    Say.FEED: Say.EACH_FEED,
    Say.FEED_FROM: Say.EACH_FEED_FROM,
    Say.CARRY: Say.EACH_CARRY,
    Say.CARRY_FROM: Say.EACH_CARRY_FROM,
    Say.CARRY_FINDING: Say.EACH_CARRY,
    Say.CARRY_FINDING_FROM: Say.EACH_CARRY_FROM,
    Say.AROUND: Say.EACH_AROUND,
    Say.AROUND_JOINT: Say.EACH_AROUND_JOINT,
    Say.BETWEEN: Say.EACH_BETWEEN,
    Say.INSIDE: Say.EACH_INSIDE,
    Say.OVER: Say.EACH_OVER,
    Say.UNDER: Say.EACH_UNDER,
    Say.GAP: Say.EACH_GAP,
    Say.CLOSE: Say.EACH_CLOSE,
    Say.CLOSE_PLAIN: Say.EACH_CLOSE,
    Say.TWIN_SAME: Say.EACH_TWIN_SAME,
    Say.TWINS_SAME: Say.EACH_TWINS_SAME,
}
_SAME = {Say.EACH_THROUGH: Say.EACH_THROUGH_SAME, Say.EACH_THROUGH_FROM: Say.EACH_THROUGH_SAME_FROM}
_RELATIVE = {
    Say.EACH_THROUGH: Say.EACH_THROUGH_RELATIVE,
    Say.EACH_THROUGH_FROM: Say.EACH_THROUGH_RELATIVE_FROM,
}


def fold_runs(instructions: Sequence[Instruction]) -> tuple[Instruction, ...]:
    """The instructions with every run of at least LEAST_RUN folded; linear in their length."""
    forms = [instruction_form(each, loose=False) if _can_fold(each) else None for each in instructions]
    counted = [() if form is None else _numbers(each) for form, each in zip(forms, instructions, strict=True)]
    found: list[Instruction] = []
    start = 0
    while start < len(instructions):
        stop = _run_end(forms, counted, start)
        if stop - start >= LEAST_RUN:
            found.append(_series(instructions[start:stop]))
            start = stop
        else:
            found.append(instructions[start])
            start += 1
    return tuple(found)


def _can_fold(instruction: Instruction) -> bool:
    return (
        instruction.kind is InstructionKind.PASS
        and isinstance(instruction.head, Members)
        and all(each.name in EACH for each in instruction.messages)
    )


def _numbers(instruction: Instruction) -> tuple[int, ...]:
    return tuple(number for _, thing in instruction_leaves(instruction) for number in numbers(thing))


def _run_end(forms: Sequence[object], counted: Sequence[tuple[int, ...]], start: int) -> int:
    """The end of the run that starts here: one form, members one after the other, steady steps."""
    form = forms[start]
    stop = start + 1
    if form is None or stop >= len(forms) or forms[stop] != form:
        return stop
    pace = tuple(b - a for a, b in zip(counted[start], counted[stop], strict=True))
    if pace[0] != 1:
        return stop
    while stop < len(forms) and forms[stop] == form:
        here, before = counted[stop], counted[stop - 1]
        if tuple(b - a for a, b in zip(before, here, strict=True)) != pace:
            break
        stop += 1
    return stop


def _series(run: Sequence[Instruction]) -> Instruction:
    first, last = run[0], run[-1]
    told = list(run) if len(run) <= LINES_TOLD else [first, run[1], last]
    messages = [_each(place, told, len(run)) for place in range(len(first.messages))]
    entered = [place for place, each in enumerate(messages) if each.name is Say.EACH_THROUGH_FROM]
    for place in entered[1:]:
        messages[place] = Message(name=Say.EACH_ALSO_FROM, arguments=messages[place].arguments)
    assert isinstance(first.head, Members) and isinstance(last.head, Members)
    span = Range(
        row=first.head.ranges[0].row, first=first.head.ranges[0].first, last=last.head.ranges[0].last
    )
    return Instruction(
        kind=InstructionKind.SERIES,
        head=Members(group=first.head.group, ranges=(span,), companion=first.head.companion),
        messages=tuple(messages),
        first_motion=first.first_motion,
        stop_motion=last.stop_motion,
    )


def _each(place: int, told: Sequence[Instruction], count: int) -> Message:
    """The message at this place of every instruction of a run, as one message."""
    model = told[0].messages[place]
    arguments: list[tuple[str, Argument]] = []
    name = EACH[model.name]
    lines = []
    for instruction in told:
        things = _things(instruction.messages[place])
        if things and isinstance(instruction.head, Members):
            lines.append(SeriesLine(member=instruction.head, things=things))
    if name in _SAME and all(line.things == lines[0].things for line in lines):
        return Message(name=_SAME[name], arguments=model.arguments)
    if lines:
        arguments.append(("series", Series(lines=tuple(lines), count=count)))
    arguments.extend((key, value) for key, value in model.arguments if key not in ("path", "what"))
    things = _things(model)
    only = things[0] if len(things) == 1 else None
    if isinstance(only, Members) and only.relation is not None:
        name = _RELATIVE.get(name, name)
    return Message(name=name, arguments=tuple(arguments))


def _things(message: Message) -> tuple[Thing, ...]:
    """The noun phrases of a message that tells a path or a load."""
    for key, value in message.arguments:
        if key == "what" and isinstance(value, Members | FindingPart):
            return (value,)
        if key == "path" and isinstance(value, tuple):
            return tuple(each for each in value if isinstance(each, Members | FindingPart))
    return ()
