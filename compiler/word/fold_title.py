"""One title for folded steps: what all of them make, else which steps are worked again.

In: the steps told in full, and those folded. Out: a `Title`: `Rows 7 to 46 of the strap`, `Lozenges 3 and 4`.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.messages import Members, Range
from compiler.steps import StepRecord, Title, TitleKind

MOST_RANGES = 3
"""A title does not list members of more rows than these."""


def fold_title(model: Sequence[StepRecord], folded: Sequence[StepRecord]) -> Title:
    """The title of steps that repeat the model, one or more times."""
    return (
        _typed(model, folded)
        or _members(folded)
        or _parts(model, folded)
        or Title(kind=TitleKind.AGAIN, number=model[0].number, last=model[-1].number)
    )


def _typed(model: Sequence[StepRecord], folded: Sequence[StepRecord]) -> Title | None:
    """The one typed title of them all."""
    first = folded[0].title
    alike = len(model) == 1 and first.kind is TitleKind.TYPED
    return first if alike and all(step.title == first for step in folded) else None


def _members(folded: Sequence[StepRecord]) -> Title | None:
    """Of steps that each make a member or a row of one group: all members or rows."""
    first = folded[0].title
    if first.kind is TitleKind.TYPED:
        return None
    members = [
        step.title.what
        for step in folded
        if step.title.kind is first.kind and isinstance(step.title.what, Members)
    ]
    if len(members) < len(folded) or any(part.group != members[0].group for part in members):
        return None
    ranges: list[Range] = []
    for part in members:
        for each in part.ranges:
            if ranges and ranges[-1].row == each.row and ranges[-1].last + 1 == each.first:
                ranges[-1] = Range(row=each.row, first=ranges[-1].first, last=each.last)
            else:
                ranges.append(each)
    if first.kind is TitleKind.MEMBER and len(ranges) > MOST_RANGES:
        return None
    return Title(kind=first.kind, part=first.part, what=Members(group=members[0].group, ranges=tuple(ranges)))


def _parts(model: Sequence[StepRecord], folded: Sequence[StepRecord]) -> Title | None:
    """Of repetitions that each make one unit use, told by number, one after the other: all of them."""
    length = len(model)
    numbers: list[int] = []
    nouns: dict[str, None] = {}
    for start in range(0, len(folded), length):
        parts = {step.title.part for step in folded[start : start + length]}
        noun, _, number = parts.pop().rpartition(" ") if len(parts) == 1 else ("", "", "")
        if not noun or not (number.isascii() and number.isdigit()):
            return None
        nouns[noun] = None
        numbers.append(int(number))
    if len(nouns) > 1 or numbers != list(range(numbers[0], numbers[0] + len(numbers))):
        return None
    return Title(kind=TitleKind.PARTS, text=next(iter(nouns)), number=numbers[0], last=numbers[-1])
