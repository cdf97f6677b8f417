"""When two instructions or steps are the same but for their numbers.

A thing, message, instruction or step has a *form* (all that is not a number) and *leaves* (its noun phrases in
order). Within a step, rows and owners belong to the form; between steps they are left out of it as well.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator

from compiler.messages import Argument, FindingPart, GroupName, Members, Message, Say, Series, Thing
from compiler.steps import ColumnKind, Instruction, StepRecord, Title

COLUMN_OF = {
    **dict.fromkeys(
        (
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
            Say.EACH_THROUGH_SAME,
            Say.EACH_THROUGH_SAME_FROM,
            Say.EACH_THROUGH_RELATIVE,
            Say.EACH_THROUGH_RELATIVE_FROM,
            Say.EACH_FEED,
            Say.EACH_FEED_FROM,
        ),
        ColumnKind.THROUGH,
    ),
    **dict.fromkeys(
        (
            Say.CARRY,
            Say.CARRY_FROM,
            Say.CARRY_FINDING,
            Say.CARRY_FINDING_FROM,
            Say.CARRY_FINDING_BY,
            Say.CARRY_FINDING_BY_FROM,
            Say.EACH_CARRY,
            Say.EACH_CARRY_FROM,
        ),
        ColumnKind.CARRIED,
    ),
    **dict.fromkeys((Say.AROUND, Say.EACH_AROUND), ColumnKind.AROUND),
    **dict.fromkeys((Say.AROUND_JOINT, Say.EACH_AROUND_JOINT), ColumnKind.JOINT),
    **dict.fromkeys((Say.BETWEEN, Say.EACH_BETWEEN), ColumnKind.BETWEEN),
    **dict.fromkeys((Say.INSIDE, Say.EACH_INSIDE), ColumnKind.INSIDE),
    **dict.fromkeys((Say.OVER, Say.EACH_OVER), ColumnKind.OVER),
    **dict.fromkeys((Say.UNDER, Say.EACH_UNDER), ColumnKind.UNDER),
    **dict.fromkeys((Say.TAKE_CLOSED, Say.TAKE_LAID, Say.TAKE_FINDING, Say.OPEN_AGAIN), ColumnKind.MADE),
}

CHECKS_OF_ALL = (Say.CHECK_USED, Say.CHECK_USED_EACH, Say.CHECK_RINGS, Say.CHECK_LINKS)
"""Counts of the whole piece: they cannot be the same in two steps, so they never stand in a folded step."""

# ---------------------------------------------------------------- forms


def thing_form(thing: Thing, *, loose: bool) -> Hashable:
    """A noun phrase without its numbers; `loose`: without rows and owners too."""
    if isinstance(thing, FindingPart):
        return (thing.kind, thing.label, thing.eye, thing.number > 0)
    return (
        group_form(thing.group, loose=loose),
        thing.companion,
        thing.relation,
        tuple((each.row > 0 if loose else each.row, len(each)) for each in thing.ranges),
        tuple(thing_form(each, loose=loose) for each in thing.waits_on),
        tuple((each.at, each.each, thing_form(each.members, loose=loose)) for each in thing.meant_for),
    )


def group_form(group: GroupName, *, loose: bool) -> Hashable:
    """A noun; `loose`: whoever its owner is."""
    if not loose:
        return group
    return (
        group.singular,
        group.plural,
        group.kind,
        group.strand,
        group.rows,
        group.tube,
        group.disc,
        group.alone,
    )


def argument_form(argument: Argument, *, loose: bool) -> Hashable:
    """An argument of a message without its numbers."""
    if isinstance(argument, Members | FindingPart):
        return thing_form(argument, loose=loose)
    if isinstance(argument, Series):
        lines = tuple(
            (
                thing_form(line.member, loose=loose),
                tuple(thing_form(each, loose=loose) for each in line.things),
            )
            for line in argument.lines
        )
        return (argument.count, lines)
    if isinstance(argument, tuple):
        return tuple(
            thing_form(each, loose=loose) if isinstance(each, Members | FindingPart) else each
            for each in argument
        )
    return argument


def message_form(message: Message, *, loose: bool) -> Hashable:
    """A message without its numbers."""
    return (
        message.name,
        *(
            argument_form(value, loose=loose)
            for key, value in message.arguments
            if not (loose and key == "part")
        ),
    )


def instruction_form(instruction: Instruction, *, loose: bool) -> Hashable:
    """An instruction without its numbers."""
    head = None if instruction.head is None else thing_form(instruction.head, loose=loose)
    return (
        instruction.kind,
        head,
        instruction.named,
        tuple(message_form(message, loose=loose) for message in instruction.messages),
    )


def title_form(title: Title) -> Hashable:
    """A title without numbers and owners; a typed title keeps its text."""
    what = None if title.what is None else thing_form(title.what, loose=True)
    return (title.kind, title.text, title.part != "", what)


def step_form(step: StepRecord) -> Hashable:
    """A step without its numbers, rows and owners."""
    return (
        title_form(step.title),
        step.opens,
        step.closes,
        step.links_added,
        step.cautions,
        tuple(message_form(each, loose=True) for each in step.checkpoint if each.name not in CHECKS_OF_ALL),
        tuple(instruction_form(each, loose=True) for each in step.instructions),
    )


# ---------------------------------------------------------------- leaves

Leaf = tuple[ColumnKind, Thing]


def thing_leaves(kind: ColumnKind, thing: Thing) -> Iterator[Leaf]:
    """A noun phrase, then those on which it waits, then those for which it is meant."""
    if isinstance(thing, Members) and (thing.waits_on or thing.meant_for):
        bare = Members(group=thing.group, ranges=thing.ranges, companion=thing.companion)
        yield kind, bare
        for each in thing.waits_on:
            yield ColumnKind.WAITED_ON, each
        for meant in thing.meant_for:
            yield ColumnKind.MEANT_FOR, meant.members
    else:
        yield kind, thing


def message_leaves(message: Message) -> Iterator[Leaf]:
    """The noun phrases of a message."""
    kind = COLUMN_OF.get(message.name, ColumnKind.OTHER)
    for _, value in message.arguments:
        if isinstance(value, Members | FindingPart):
            yield from thing_leaves(kind, value)
        elif isinstance(value, Series):
            for line in value.lines:
                yield from thing_leaves(ColumnKind.MADE, line.member)
                for each in line.things:
                    yield from thing_leaves(kind, each)
        elif isinstance(value, tuple):
            for entry in value:
                if isinstance(entry, Members | FindingPart):
                    yield from thing_leaves(kind, entry)


def instruction_leaves(instruction: Instruction) -> Iterator[Leaf]:
    """The noun phrases of an instruction, its head first where it needs a name."""
    if instruction.head is not None and instruction.named:
        yield from thing_leaves(ColumnKind.MADE, instruction.head)
    for message in instruction.messages:
        yield from message_leaves(message)


def step_leaves(step: StepRecord) -> Iterator[Leaf]:
    """The noun phrases of a step, its title last."""
    for instruction in step.instructions:
        yield from instruction_leaves(instruction)
    for message in step.checkpoint:
        if message.name not in CHECKS_OF_ALL:
            yield from message_leaves(message)
    if step.title.what is not None:
        yield ColumnKind.OTHER, step.title.what


def numbers(thing: Thing) -> tuple[int, ...]:
    """The numbers of a noun phrase: where its ranges start, those it waits on or is meant for included."""
    if isinstance(thing, FindingPart):
        return (thing.number,)
    own = tuple(each.first for each in thing.ranges)
    others = (*thing.waits_on, *(each.members for each in thing.meant_for))
    return own + tuple(number for each in others for number in numbers(each))
