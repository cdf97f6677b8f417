"""Folded repeats in English: which steps are as which, and what to change for each.

In: a `Fold` and its piece. Out: a paragraph that says what to repeat, and a line for each repetition; of many
steady repetitions the first two and the last are told.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from compiler.catalogue import nouns
from compiler.catalogue.english import Paragraph, Role, check_text, heading, runs
from compiler.messages import FindingPart, GroupName, KindCount, Members, Range, Series, Thing
from compiler.steps import Column, ColumnKind, Fold, PieceWords, Repetition, StepRecord

LINES_TOLD = 4
"""Repetitions told one by one; of more, when they are steady, the first two and the last."""

_VERBS = {
    ColumnKind.MADE: "make",
    ColumnKind.THROUGH: "go through",
    ColumnKind.CARRIED: "slip on",
    ColumnKind.WAITED_ON: "waiting on",
    ColumnKind.AROUND: "go around",
    ColumnKind.JOINT: "go around the joint of",
    ColumnKind.BETWEEN: "slip it between the rings of",
    ColumnKind.INSIDE: "lay it in the hole of",
    ColumnKind.OVER: "lay it over",
    ColumnKind.UNDER: "lay it under",
}


def fold_title(fold: Fold) -> str:
    """`Steps 7 to 46. Rows 7 to 46 of the strap`."""
    return f"{steps(fold.first, fold.last)}. {heading(fold.title)}"


def steps(first: int, last: int) -> str:
    """`Step 4`, `Steps 4 and 5`, `Steps 4 to 9`."""
    return nouns.numbered(f"Step{'s' if last > first else ''}", nouns.listed(nouns.span(first, last)))


def fold_text(fold: Fold, piece: PieceWords) -> tuple[Paragraph, ...]:
    """The paragraphs of a fold."""
    length = fold.model_last - fold.model_first + 1
    model = steps(fold.model_first, fold.model_last).lower()
    count = len(fold.repetitions)
    again = {1: "once more", 2: "twice more"}.get(count, f"another {nouns.number(count)} times")
    if length == 1:
        text = f"Work each as {model}, with these changes."
    else:
        text = f"Work {model} {again}, with these changes."
    found = [Paragraph(role=Role.FOLD, runs=runs(text))]
    told = list(fold.repetitions)
    steady = len(told) > LINES_TOLD and _steady(fold)
    if steady:
        told = [told[0], told[1], told[-1]]
    for place, repetition in enumerate(told):
        lead = "And so on to " if steady and place == 2 else ""
        name = steps(repetition.first, repetition.first + length - 1)
        name = name.lower() if lead else name
        line = f"{lead}{nouns.strong(name)}: {_changes(fold, repetition, piece)}."
        found.append(Paragraph(role=Role.FOLD_LINE, runs=runs(line)))
    found.extend(check_text(fold.checkpoint))
    return tuple(found)


def tallies_text(fold: Fold, piece: PieceWords) -> str:
    """What is in the piece after each repetition, of many after the first two: `After step 8: 28 rings. ...`.

    Empty where there is only one repetition, after which the tally of its last step stands.
    """
    length = fold.model_last - fold.model_first + 1
    told = fold.repetitions[:-1] if len(fold.repetitions) <= LINES_TOLD else fold.repetitions[:2]
    texts = [
        f"After {nouns.numbered('step', each.first + length - 1)}: {nouns.counts(each.tally)}."
        for each in told
        if each.tally
    ]
    if len(fold.repetitions) > LINES_TOLD:
        before = {each.kind: each.count for each in piece.steps[fold.model_last - 1].tally}
        more = [
            KindCount(kind=each.kind, count=each.count - before.get(each.kind, 0))
            for each in fold.repetitions[0].tally
        ]
        added = nouns.counts(each for each in more if each.count)
        texts += [f"Each time {added} more."] if added else []
    return " ".join(texts)


def _changes(fold: Fold, repetition: Repetition, piece: PieceWords) -> str:
    """All that differs in one repetition."""
    parts = []
    if repetition.owners:
        swaps = [
            f"{nouns.strong(nouns.owner(each.new))} for {nouns.owner(each.old)}" for each in repetition.owners
        ]
        parts.append(f"read {nouns.listed(swaps)}")
    if repetition.rows_on:
        parts.append(_rows(fold, repetition, piece))
    models = {_names(column.model) for column in fold.columns}
    if fold.model_last > fold.model_first and len(models) == len(fold.columns):
        parts.extend(_swaps(fold, repetition, piece))
    else:
        parts.extend(_cells(fold.columns, repetition))
    return "; ".join(parts) if parts else "nothing changes"


def _rows(fold: Fold, repetition: Repetition, piece: PieceWords) -> str:
    """`add 2 to every row number (row 7 for row 5)`."""
    what = piece.steps[fold.model_first - 1].title.what
    if not isinstance(what, Members) or not what.ranges[0].row:
        return f"add {repetition.rows_on} to every row number"
    row, word = what.ranges[0].row, nouns.row_word(what.group)
    new = nouns.numbered(word, row + repetition.rows_on)
    return f"add {repetition.rows_on} to every {word} number ({new} for {nouns.numbered(word, row)})"


def _swaps(fold: Fold, repetition: Repetition, piece: PieceWords) -> list[str]:
    """Of several steps, where nothing in the model is replaced by two things: what to read for what, all through."""
    pairs = _member_by_member(fold, repetition, piece) or [
        (column.model[0], cell[0]) for column, cell in zip(fold.columns, repetition.cells, strict=True)
    ]
    pairs.sort(key=lambda pair: _place(pair[0]))
    swaps = [f"{nouns.strong(_names((new,)))} for {_names((old,))}" for old, new in pairs]
    if len(swaps) > 1 and any(" and " in swap for swap in swaps):
        swaps = [f"{', '.join(swaps[:-1])}, and {swaps[-1]}"]
    return [f"read {nouns.listed(swaps)}"] if swaps else []


def _member_by_member(fold: Fold, repetition: Repetition, piece: PieceWords) -> list[tuple[Thing, Thing]]:
    """The swaps of single members, each said once, those of a group together; empty where they cannot be told so."""
    new_of: dict[GroupName, dict[int, int]] = {}
    for column, cell in zip(fold.columns, repetition.cells, strict=True):
        old, new = column.model[0], cell[0]
        if not isinstance(old, Members) or not isinstance(new, Members) or old.group != new.group:
            return []
        if old.companion >= 0 or any(each.row for each in (*old.ranges, *new.ranges)):
            return []
        swaps = new_of.setdefault(old.group, {})
        for before, after in zip(_numbered(old), _numbered(new), strict=True):
            if swaps.setdefault(before, after) != after:
                return []
    changing = {_bare(what) for column in fold.columns for what in column.model if isinstance(what, Members)}
    for step in piece.steps[fold.model_first - 1 : fold.model_last]:
        for each in _step_members(step):
            if _bare(each) not in changing and set(_numbered(each)) & new_of.get(each.group, {}).keys():
                return []
    return [
        (_members(group, sorted(swaps)), _members(group, [swaps[place] for place in sorted(swaps)]))
        for group, swaps in new_of.items()
    ]


def _step_members(step: StepRecord) -> Iterator[Members]:
    """All members that a step names, those on which others wait too."""
    for message in (message for each in step.instructions for message in each.messages):
        for _, value in message.arguments:
            things: tuple[object, ...] = value if isinstance(value, tuple) else (value,)
            if isinstance(value, Series):
                things = tuple(thing for line in value.lines for thing in (line.member, *line.things))
            for thing in things:
                if isinstance(thing, Members):
                    yield thing
                    yield from thing.waits_on
                    yield from (meant.members for meant in thing.meant_for)
    yield from (each.head for each in step.instructions if isinstance(each.head, Members))


def _bare(them: Members) -> Members:
    """Without what they are to the ring woven, and on what they wait."""
    return Members(group=them.group, ranges=them.ranges, companion=them.companion)


def _numbered(them: Members) -> list[int]:
    return [place for each in them.ranges for place in range(each.first, each.last + 1)]


def _members(group: GroupName, places: list[int]) -> Members:
    ranges: list[Range] = []
    for place in places:
        if ranges and ranges[-1].last + 1 == place:
            ranges[-1] = Range(row=0, first=ranges[-1].first, last=place)
        else:
            ranges.append(Range(row=0, first=place, last=place))
    return Members(group=group, ranges=tuple(ranges))


def _place(what: Thing) -> tuple[str, str, int, int]:
    """Where a thing stands in a list of swaps: by what it is called, then by its number."""
    if isinstance(what, FindingPart):
        return what.label, "", 0, what.number
    return what.group.singular, what.group.owner, what.ranges[0].row, what.ranges[0].first


def _cells(columns: tuple[Column, ...], repetition: Repetition) -> list[str]:
    """The cells as short clauses, neighbours of one kind together."""
    parts: list[tuple[ColumnKind, list[str]]] = []
    for column, cell in zip(columns, repetition.cells, strict=True):
        if column.kind is ColumnKind.OTHER or (
            column.kind is ColumnKind.MEANT_FOR and (not parts or parts[-1][0] is not ColumnKind.CARRIED)
        ):
            swap = f"{nouns.strong(_names(cell))} for {_names(column.model)}"
            parts.append((ColumnKind.OTHER, [swap]))
        elif column.kind is ColumnKind.WAITED_ON and parts:
            parts[-1][1][-1] += f" (waiting on {_names(cell)})"
        elif column.kind is ColumnKind.MEANT_FOR and parts and parts[-1][0] is ColumnKind.CARRIED:
            parts[-1][1][-1] += f" (for {_names(cell)})"
        elif parts and parts[-1][0] is column.kind:
            parts[-1][1].append(nouns.strong(_names(cell)))
        else:
            parts.append((column.kind, [nouns.strong(_names(cell))]))
    found = []
    for kind, texts in parts:
        joined = nouns.listed(texts) if not any(" and " in text for text in texts) else ", and ".join(texts)
        found.append(f"{_VERBS.get(kind, 'read')} {joined}")
    return found


def _names(things: tuple[Thing, ...]) -> str:
    return nouns.listed(
        [nouns.finding(each) if isinstance(each, FindingPart) else nouns.named(each) for each in things]
    )


def _steady(fold: Fold) -> bool:
    """Whether every number steps on by the same amount from each repetition to the next, those of unit uses too."""
    swaps = [[(each.old, _use(each.new)[0]) for each in repetition.owners] for repetition in fold.repetitions]
    if any(swap != swaps[0] for swap in swaps):
        return False
    told = [_numbers(repetition) for repetition in fold.repetitions]
    pace = [b - a for a, b in zip(told[0], told[1], strict=True)]
    return all(
        [b - a for a, b in zip(before, after, strict=True)] == pace for before, after in pairwise(told)
    )


def _numbers(repetition: Repetition) -> list[int]:
    found = [repetition.rows_on, *(_use(each.new)[1] for each in repetition.owners)]
    for cell in repetition.cells:
        for what in cell:
            if isinstance(what, FindingPart):
                found.append(what.number)
            else:
                found.extend(number for each in what.ranges for number in (each.row, each.first))
    return found


def _use(owner: str) -> tuple[str, int]:
    """Noun and number of a unit use; 0 where it has none."""
    noun, _, number = owner.rpartition(" ")
    return (noun, int(number)) if number.isascii() and number.isdigit() else (owner, 0)
