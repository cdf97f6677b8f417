"""Repeated steps, folded: which steps are as steps before them, and what differs.

In: all steps of a piece, in full. Out: the same in order of reading, each a `StepRecord` or part of a `Fold`. Three
differences are told in words (another unit use, so many rows further on, or both); what else differs is told in
columns, one line for each repetition. Folding leaves every number as it is.
"""

from __future__ import annotations

from array import array
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace

from compiler.messages import FindingPart, GroupName, Members, Thing
from compiler.steps import Column, Fold, OwnerChange, Repetition, StepRecord
from compiler.word.fold_title import fold_title
from compiler.word.likeness import CHECKS_OF_ALL, Leaf, step_form, step_leaves

LONGEST_MODEL = 40
"""Steps in one model; a unit of more steps is told again in full."""
MOST_COLUMNS = 6
"""A fold that needs more columns is harder to read than the steps themselves; see `_changes`."""
LEAST_FOLDED = 2
"""Fewer steps are told in full."""


@dataclass(slots=True)
class _Draft:
    """A fold under construction, by the leaves of its model."""

    leaves: list[Leaf]
    owners: list[tuple[OwnerChange, ...]]
    rows_on: list[int]
    others: list[list[Thing]]
    """By repetition: its leaves."""
    differing: dict[int, None]
    """Indexes of the leaves that need a column, in order."""


def fold_steps(steps: Sequence[StepRecord]) -> tuple[StepRecord | Fold, ...]:
    """The steps in order of reading, repeats folded; linear in their length for models of bounded length."""
    known: dict[Hashable, int] = {}
    forms = [known.setdefault(step_form(step), len(known)) for step in steps]
    alike = _alike(forms)
    shown: list[StepRecord | Fold] = []
    leaves = [tuple(step_leaves(step)) for step in steps]
    index = 0
    while index < len(steps):
        fold, period = _best_fold(steps, leaves, alike, index)
        if fold is None:
            shown.append(steps[index])
            index += 1
        else:
            fold, late = _to_the_end(steps, leaves, alike, index, period, fold)
            shown.extend(steps[index : index + late])
            index += late
            shown.extend(steps[index : index + period])
            shown.append(fold)
            index = fold.last
    return tuple(shown)


def _alike(forms: Sequence[int]) -> list[array[int]]:
    """By period and step: how many steps from here on are each as the step one period later."""
    count = len(forms)
    found = [array("i")]
    for period in range(1, min(LONGEST_MODEL, count // 2) + 1):
        run = array("i", bytes(4 * (count + 1)))
        for index in range(count - period - 1, -1, -1):
            if forms[index] == forms[index + period]:
                run[index] = run[index + 1] + 1
        found.append(run)
    return found


def _best_fold(
    steps: Sequence[StepRecord], leaves: Sequence[tuple[Leaf, ...]], alike: list[array[int]], index: int
) -> tuple[Fold | None, int]:
    """The fold with the model from here that covers most steps, and its period; of equals the shortest model."""
    best: Fold | None = None
    best_period = 0
    for period in range(1, len(alike)):
        repetitions = alike[period][index] // period
        covered = 0 if best is None else best.last - best.first + 1
        if repetitions * period <= max(covered, LEAST_FOLDED - 1):
            continue
        if not _can_begin(leaves[index], leaves[index + period]):
            continue
        fold = _try(steps, leaves, index, period, repetitions)
        if fold is not None and fold.last - fold.first + 1 > max(covered, LEAST_FOLDED - 1):
            best, best_period = fold, period
    return best, best_period


def _to_the_end(
    steps: Sequence[StepRecord],
    leaves: Sequence[tuple[Leaf, ...]],
    alike: list[array[int]],
    index: int,
    period: int,
    fold: Fold,
) -> tuple[Fold, int]:
    """The fold moved to where the likeness ends, and by how many steps: the first round of a loop is the odd one."""
    late = alike[period][index] % period
    moved = _try(steps, leaves, index + late, period, alike[period][index] // period) if late else None
    if moved is None or moved.last - moved.first < fold.last - fold.first:
        return fold, 0
    return moved, late


def _can_begin(model: tuple[Leaf, ...], other: tuple[Leaf, ...]) -> bool:
    """Whether one step can be told as another: a quick look before whole models are compared."""
    draft = _Draft(leaves=list(model), owners=[], rows_on=[], others=[], differing={})
    return _add(draft, [thing for _, thing in other]) and _changes(draft) <= MOST_COLUMNS


def _try(
    steps: Sequence[StepRecord],
    leaves: Sequence[tuple[Leaf, ...]],
    index: int,
    period: int,
    repetitions: int,
) -> Fold | None:
    """The fold of as many repetitions as differ only in what a fold can tell."""
    model = steps[index : index + period]
    if any(_counts_all(step) for step in model):
        return None
    draft = _Draft(
        leaves=[leaf for each in leaves[index : index + period] for leaf in each],
        owners=[],
        rows_on=[],
        others=[],
        differing={},
    )
    good = 0
    for number in range(1, repetitions + 1):
        start = index + number * period
        others = [thing for each in leaves[start : start + period] for _, thing in each]
        if not _add(draft, others):
            break
        # Looked at ever more rarely, so that a long fold stays linear.
        if number & (number - 1) == 0:
            if _changes(draft) > MOST_COLUMNS:
                return _try(steps, leaves, index, period, good) if good else None
            good = number
        if any(_counts_all(step) for step in steps[start : start + period]):
            break
    columns = _columns(draft)
    if _changes(draft) > MOST_COLUMNS:
        return _try(steps, leaves, index, period, good) if good else None
    done = len(draft.others)
    if done == 0:
        return None
    first = model[0].number + period
    return Fold(
        model_first=model[0].number,
        model_last=model[-1].number,
        first=first,
        last=first + done * period - 1,
        columns=tuple(Column(kind=draft.leaves[at][0], model=(draft.leaves[at][1],)) for at in columns),
        repetitions=tuple(
            Repetition(
                first=first + number * period,
                owners=draft.owners[number],
                rows_on=draft.rows_on[number],
                cells=tuple((draft.others[number][at],) for at in columns),
                tally=steps[index + period * (number + 2) - 1].tally,
            )
            for number in range(done)
        ),
        checkpoint=tuple(
            message
            for message in steps[index + period * (done + 1) - 1].checkpoint
            if message.name in CHECKS_OF_ALL
        ),
        title=fold_title(model, steps[index + period : index + period * (done + 1)]),
    )


def _counts_all(step: StepRecord) -> bool:
    """Whether the step ends in a count of the whole piece."""
    return any(message.name in CHECKS_OF_ALL for message in step.checkpoint)


def _add(draft: _Draft, others: list[Thing]) -> bool:
    """Adds one more repetition; False where unit uses are not exchanged one for one."""
    owners: dict[str, str] = {}
    shifts: dict[int, None] = {}
    for (_, model), other in zip(draft.leaves, others, strict=True):
        if isinstance(model, Members) and isinstance(other, Members):
            if owners.setdefault(model.group.owner, other.group.owner) != other.group.owner:
                return False
            pairs = zip(model.ranges, other.ranges, strict=True)
            shifts.update((b.row - a.row, None) for a, b in pairs if a.row)
    if owners.get("", "") != "":
        return False
    rows_on = next(iter(shifts)) if len(shifts) == 1 else 0
    for at, ((_, model), other) in enumerate(zip(draft.leaves, others, strict=True)):
        if at not in draft.differing and not _told(model, other, rows_on):
            draft.differing[at] = None
    draft.owners.append(tuple(OwnerChange(old=old, new=new) for old, new in owners.items() if old != new))
    draft.rows_on.append(rows_on)
    draft.others.append(others)
    return True


def _told(model: Thing, other: Thing, rows_on: int) -> bool:
    """Whether a change of owner and of rows tells the whole difference."""
    if isinstance(model, FindingPart) or isinstance(other, FindingPart):
        return model == other
    return all(
        a.first == b.first and b.row - a.row == (rows_on if a.row else 0)
        for a, b in zip(model.ranges, other.ranges, strict=True)
    )


def _columns(draft: _Draft) -> list[int]:
    """The leaves that get a column: one for each way in which the numbers change.

    What stays as it is gets one too where the same name changes elsewhere in the model.
    """
    seen: dict[tuple[Thing, ...], None] = {}
    found = []
    changing = {_bare(draft.leaves[at][1]) for at in draft.differing}
    for at, (_, model) in enumerate(draft.leaves):
        if _bare(model) not in changing:
            continue
        values = (draft.leaves[at][1], *(others[at] for others in draft.others))
        key = tuple(_bare(each) for each in values)
        if key not in seen:
            seen[key] = None
            found.append(at)
    return found


def _changes(draft: _Draft) -> int:
    """How many changes a reader keeps in mind: one for a group whose members are exchanged all through."""
    columns = len(_columns(draft))
    if columns <= MOST_COLUMNS:
        return columns
    changed: dict[GroupName, None] = {}
    for number in range(len(draft.others)):
        new_of: dict[tuple[GroupName, int], int] = {}
        for at, (_, model) in enumerate(draft.leaves):
            other = draft.others[number][at]
            if not isinstance(model, Members) or not isinstance(other, Members):
                return columns
            if at in draft.differing and model.group == other.group:
                changed[model.group] = None
            elif at in draft.differing:
                return columns
            if any(each.row for each in model.ranges) or model.companion >= 0:
                return columns
            for a, b in zip(model.ranges, other.ranges, strict=True):
                for place in range(len(a)):
                    new = new_of.setdefault((model.group, a.first + place), b.first + place)
                    if new != b.first + place:
                        return columns
    return len(changed)


def _bare(thing: Thing) -> Thing:
    return replace(thing, relation=None) if isinstance(thing, Members) else thing
