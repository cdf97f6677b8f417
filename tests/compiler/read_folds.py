"""Series and folds as a reader has them: written out line by line, step by step, from what is told alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from compiler.messages import (
    Argument,
    FindingPart,
    Members,
    Message,
    Range,
    Say,
    Series,
    SeriesLine,
    Thing,
)
from compiler.steps import (
    Column,
    Fold,
    Instruction,
    InstructionKind,
    PieceWords,
    Repetition,
    StepRecord,
    TitleKind,
)
from compiler.word.likeness import COLUMN_OF

# ---------------------------------------------------------------- series, line by line

SERIES_OF = {
    Say.EACH_TAKE_OPEN: Say.TAKE_OPEN,
    Say.EACH_THROUGH: Say.GO_THROUGH,
    Say.EACH_THROUGH_RELATIVE: Say.GO_THROUGH,
    Say.EACH_THROUGH_SAME: Say.GO_THROUGH,
    Say.EACH_THROUGH_FROM: Say.GO_THROUGH_FROM,
    Say.EACH_ALSO_FROM: Say.GO_THROUGH_FROM,
    Say.EACH_THROUGH_RELATIVE_FROM: Say.GO_THROUGH_FROM,
    Say.EACH_THROUGH_SAME_FROM: Say.GO_THROUGH_FROM,
    Say.EACH_FEED: Say.FEED,
    Say.EACH_FEED_FROM: Say.FEED_FROM,
    Say.EACH_CARRY: Say.CARRY,
    Say.EACH_CARRY_FROM: Say.CARRY_FROM,
    Say.EACH_AROUND: Say.AROUND,
    Say.EACH_AROUND_JOINT: Say.AROUND_JOINT,
    Say.EACH_BETWEEN: Say.BETWEEN,
    Say.EACH_INSIDE: Say.INSIDE,
    Say.EACH_OVER: Say.OVER,
    Say.EACH_UNDER: Say.UNDER,
    Say.EACH_GAP: Say.GAP,
    Say.EACH_CLOSE: Say.CLOSE,
    Say.EACH_TWIN_SAME: Say.TWIN_SAME,
    Say.EACH_TWINS_SAME: Say.TWINS_SAME,
}

CARRIED = {Say.CARRY: Say.CARRY_FINDING, Say.CARRY_FROM: Say.CARRY_FINDING_FROM}


def singles(instruction: Instruction) -> Iterator[Instruction]:
    """The instructions that a series stands for, as a reader goes on from its first lines."""
    head = instruction.head
    assert isinstance(head, Members)
    for index in range(head.count):
        place = head.ranges[0].first + index
        one = replace(head, ranges=(Range(row=head.ranges[0].row, first=place, last=place),))
        messages = tuple(_single(message, index, one) for message in instruction.messages)
        yield replace(instruction, kind=InstructionKind.PASS, head=one, messages=messages)


def _single(message: Message, index: int, member: Members) -> Message:
    arguments: list[tuple[str, Argument]] = []
    name = SERIES_OF[message.name]
    for key, value in message.arguments:
        if isinstance(value, Series):
            line = series_line(value, index)
            assert line.member == member
            if name in CARRIED:
                (thing,) = line.things
                name = name if isinstance(thing, Members) else CARRIED[name]
                arguments.append(("what", thing))
            else:
                arguments.append(("path", line.things))
        else:
            arguments.append((key, value))
    return Message(name=name, arguments=tuple(arguments))


def series_line(series: Series, index: int) -> SeriesLine:
    """The line of a series with this index: told, or as far from the first as steady steps bring it."""
    lines = series.lines
    if series.count <= len(lines):
        return lines[index]
    first, second, last = lines
    found = _on(first, second, index)
    assert index < series.count - 1 or found == last, "the last line told is where the steps lead"
    return found


def _on(first: SeriesLine, second: SeriesLine, times: int) -> SeriesLine:
    things = tuple(_thing_on(a, b, times) for a, b in zip(first.things, second.things, strict=True))
    member = _thing_on(first.member, second.member, times)
    assert isinstance(member, Members)
    return SeriesLine(member=member, things=things)


def _thing_on(first: Thing, second: Thing, times: int) -> Thing:
    if isinstance(first, FindingPart):
        assert isinstance(second, FindingPart)
        return replace(first, number=first.number + times * (second.number - first.number))
    assert isinstance(second, Members) and first.group == second.group
    ranges = []
    for a, b in zip(first.ranges, second.ranges, strict=True):
        shift, rows = times * (b.first - a.first), times * (b.row - a.row)
        ranges.append(Range(row=a.row + rows, first=a.first + shift, last=a.last + shift))
    waits = tuple(_thing_on(a, b, times) for a, b in zip(first.waits_on, second.waits_on, strict=True))
    meant = []
    for a, b in zip(first.meant_for, second.meant_for, strict=True):
        later = _thing_on(a.members, b.members, times)
        assert isinstance(later, Members) and (a.at, a.each) == (b.at, b.each)
        meant.append(replace(a, members=later))
    return replace(
        first,
        ranges=tuple(ranges),
        waits_on=tuple(each for each in waits if isinstance(each, Members)),
        meant_for=tuple(meant),
    )


# ---------------------------------------------------------------- folds, written out


def read_through(piece: PieceWords) -> list[StepRecord]:
    """The steps as a reader has them: those shown in full, and those made of a fold's model and its changes."""
    read: list[StepRecord] = []
    for shown in piece.shown:
        if isinstance(shown, StepRecord):
            read.append(shown)
            continue
        model = read[shown.model_first - 1 : shown.model_last]
        for repetition in shown.repetitions:
            assert repetition.first == len(read) + 1, "folding never renumbers"
            read.extend(
                _changed(step, shown, repetition, repetition.first + place)
                for place, step in enumerate(model)
            )
        assert len(read) == shown.last
    return read


def _changed(step: StepRecord, fold: Fold, repetition: Repetition, number: int) -> StepRecord:
    instructions = []
    for each in step.instructions:
        head = each.head
        if head is not None and each.named:
            head = _swap(head, "made", fold, repetition)
        messages = tuple(_changed_message(message, fold, repetition) for message in each.messages)
        instructions.append(replace(each, head=head, messages=messages))
    title = step.title
    if title.kind is not TitleKind.TYPED and title.what is not None:
        title = replace(title, what=_swap(title.what, "other", fold, repetition))
    return replace(step, number=number, title=title, instructions=tuple(instructions))


def _changed_message(message: Message, fold: Fold, repetition: Repetition) -> Message:
    column = COLUMN_OF.get(message.name)
    kind = column.value if column is not None else "other"
    arguments: list[tuple[str, Argument]] = []
    for key, value in message.arguments:
        if isinstance(value, Members | FindingPart):
            arguments.append((key, _swap(value, kind, fold, repetition)))
        elif isinstance(value, Series):
            lines = []
            for line in value.lines:
                member = _swap(line.member, "made", fold, repetition)
                assert isinstance(member, Members)
                things = tuple(_swap(thing, kind, fold, repetition) for thing in line.things)
                lines.append(SeriesLine(member=member, things=things))
            arguments.append((key, Series(lines=tuple(lines), count=value.count)))
        elif isinstance(value, tuple) and value and isinstance(value[0], Members | FindingPart):
            things = tuple(
                _swap(thing, kind, fold, repetition)
                for thing in value
                if isinstance(thing, Members | FindingPart)
            )
            arguments.append((key, things))
        else:
            arguments.append((key, value))
    return Message(name=message.name, arguments=tuple(arguments))


def _swap(thing: Thing, kind: str, fold: Fold, repetition: Repetition) -> Thing:
    """What stands in the repetition for a noun phrase of the model."""
    if isinstance(thing, FindingPart):
        return _cell(thing, kind, fold.columns, repetition) or thing
    waits = tuple(_swap(each, "waited on", fold, repetition) for each in thing.waits_on)
    meant = []
    for each in thing.meant_for:
        later = _swap(each.members, "meant for", fold, repetition)
        assert isinstance(later, Members)
        meant.append(replace(each, members=later))
    bare = replace(thing, relation=None, waits_on=(), meant_for=())
    found = _cell(bare, kind, fold.columns, repetition)
    if not isinstance(found, Members):
        owners = {change.old: change.new for change in repetition.owners}
        owner = owners.get(bare.group.owner, bare.group.owner)
        ranges = tuple(
            replace(each, row=each.row + repetition.rows_on) if each.row else each for each in bare.ranges
        )
        found = replace(bare, group=replace(bare.group, owner=owner), ranges=ranges)
    return replace(
        found,
        relation=thing.relation,
        waits_on=tuple(each for each in waits if isinstance(each, Members)),
        meant_for=tuple(meant),
    )


def _cell(thing: Thing, kind: str, columns: tuple[Column, ...], repetition: Repetition) -> Thing | None:
    found: Thing | None = None
    for column, cell in zip(columns, repetition.cells, strict=True):
        model = column.model[0]
        bare = model
        if isinstance(model, Members):
            bare = replace(model, relation=None, waits_on=(), meant_for=())
        if bare != thing:
            continue
        value = cell[0]
        if isinstance(value, Members):
            value = replace(value, relation=None, waits_on=(), meant_for=())
        if column.kind.value == kind:
            return value
        found = value if found is None else found
    return found
