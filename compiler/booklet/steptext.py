"""The words of a step as measured blocks: instructions, notes, checks, folded repeats.

In: a `StepRecord` or a `Fold` and a width, out: parts to be set one below the other.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from compiler.booklet.blocks import Notice, notice, signal_run
from compiler.booklet.flow import Part
from compiler.booklet.fonts import metrics, text_width
from compiler.booklet.marks import turn_over
from compiler.booklet.page import Block, Face, Group, Item, Rectangle, Role, Stroke, Text
from compiler.booklet.setting import bullet, divided
from compiler.booklet.style import (
    ACCENT,
    BODY,
    CAPTION,
    HAIRLINE,
    INK,
    MUTED,
    SPACE_1,
    SPACE_2,
    SPACE_3,
)
from compiler.booklet.text import Run, emphasis, set_text
from compiler.catalogue import english, folds
from compiler.catalogue import making_english as making
from compiler.catalogue.nouns import typed
from compiler.messages import Say
from compiler.steps import Fold, Instruction, InstructionKind, PieceWords, StepRecord
from notation.handling import HandMotion, RemarkKind

_FACES = {english.Style.STRONG: Face.SEMIBOLD, english.Style.EMPHASIS: Face.ITALIC}
MOST_TICKS = 400
"""Folded steps that still have a box each to tick: more would fill pages with boxes."""
_TICK_WIDTH, _TICK_HEIGHT, _TICK_GAP = 25.0, 15.0, 3.0
_MOST_ALONE, _IN_A_ROW = 10, 5
"""Of more repeats of one step than the first, so many stand together as the second."""
_SIGN = 26.0


def runs_of(paragraph: english.Paragraph) -> tuple[Run, ...]:
    """A paragraph of the catalogue as runs of the page."""
    return tuple(
        Run(
            text=_whole(run.text) if run.style is english.Style.STRONG else run.text,
            face=_FACES.get(run.style),
        )
        for run in paragraph.runs
    )


def _whole(name: str) -> str:
    """A name that no line's end parts from its number."""
    return re.sub(r"(?<! and)(?<! to) (?=\d)", "\N{NO-BREAK SPACE}", name)


def step_parts(step: StepRecord, width: float) -> list[Part]:
    """A step's cautions, instructions, notes and checks, in order."""
    remarks = iter([each for each in step.instructions if each.kind is InstructionKind.REMARK])
    handles = iter([each for each in step.instructions if each.kind is InstructionKind.HANDLE])
    parts: list[Part] = []
    for paragraph in english.step_text(step):
        runs = runs_of(paragraph)
        match paragraph.role:
            case english.Role.CAUTION:
                parts.extend(_box(Notice.CAUTION, runs, width))
            case english.Role.CHECK:
                parts.extend(_box(Notice.CHECKPOINT, runs, width))
            case english.Role.REMARK:
                parts.extend(_remark(next(remarks), width))
            case english.Role.HANDLE if _turns(next(handles)):
                parts.append(Part(block=_with_sign(runs, width), gap=SPACE_3))
            case _:
                parts.extend(_paragraph(runs, width))
    return parts


def fold_parts(fold: Fold, piece: PieceWords, width: float) -> list[Part]:
    """What a fold tells, and a box to tick for each of its steps."""
    parts: list[Part] = []
    for paragraph in folds.fold_text(fold, piece):
        runs = runs_of(paragraph)
        if paragraph.role is english.Role.FOLD_LINE:
            parts.append(Part(block=bullet(runs, width), gap=SPACE_1))
        elif paragraph.role is english.Role.CHECK:
            parts.extend(_box(Notice.CHECKPOINT, runs, width))
        else:
            parts.extend(_paragraph(runs, width))
    return [*parts, *_ticks(fold, piece, width)]


def _turns(instruction: Instruction) -> bool:
    """Whether the work as a whole is turned over."""
    return any(
        each.name is Say.HANDLE_WORK and each["motion"] is HandMotion.TURN_OVER
        for each in instruction.messages
    )


def _remark(instruction: Instruction, width: float) -> Iterator[Part]:
    for message in instruction.messages:
        signal = making.TIP if message["kind"] is RemarkKind.TIP else making.NOTE
        yield from _box(
            Notice.TIP, (emphasis(f"{signal}:"), Run(text=f" {typed(str(message['text']))}")), width
        )


def _paragraph(runs: Sequence[Run], width: float) -> Iterator[Part]:
    for piece in divided(runs):
        yield Part(block=set_text(piece, BODY, width), gap=SPACE_2)


def _box(kind: Notice, runs: Sequence[Run], width: float) -> Iterator[Part]:
    """A boxed note, the signal word that it begins with in its colour; a long one goes on in a second box."""
    first = signal_run(kind, runs[0].text) if runs[0].face is not None else runs[0]
    for piece in divided((first, *runs[1:])):
        yield Part(block=notice(kind, "", [piece], width), gap=SPACE_3)


def _with_sign(runs: Sequence[Run], width: float) -> Block:
    """A sentence with the sign for turning over before it."""
    text = set_text(runs, BODY, width - _SIGN - SPACE_3)
    height = max(_SIGN, text.height)
    sign = turn_over(_SIGN / 2, height / 2, _SIGN, ACCENT, making.TURN_OVER_ALT)
    return Block(
        width=width,
        height=height,
        items=(sign, *text.at(_SIGN + SPACE_3, (height - text.height) / 2)),
    )


def _ticks(fold: Fold, piece: PieceWords, width: float) -> Iterator[Part]:
    """A numbered box for each step, in the groups that are repeated; beside each group what the work then holds."""
    if fold.last <= fold.first or fold.last - fold.first >= MOST_TICKS:
        return
    yield Part(block=set_text((Run(text=making.TICK, color=MUTED),), CAPTION, width), gap=SPACE_3, keep=True)
    length = fold.model_last - fold.model_first + 1
    some = _IN_A_ROW if length == 1 and len(fold.repetitions) > _MOST_ALONE else length
    groups = [
        (range(first, last + 1), _held(piece.steps[last - 1]))
        for first in range(fold.first, fold.last + 1, some)
        for last in (min(first + some - 1, fold.last),)
    ]
    words = max(text_width(held, Face.REGULAR, CAPTION.size) for _, held in groups)
    cell = some * (_TICK_WIDTH + _TICK_GAP) + words + SPACE_2
    rows: list[list[_Tick]] = []
    if cell > width:  # a group has rows of its own
        most = max(1, int((width - words) // (_TICK_WIDTH + _TICK_GAP)))
        for numbers, held in groups:
            for first in range(numbers.start, numbers.stop, most):
                part = range(first, min(first + most, numbers.stop))
                rows.append([_Tick(x=0.0, numbers=part, held=held if part.stop == numbers.stop else "")])
    else:
        across = max(1, int((width + SPACE_2) // (cell + SPACE_2)))
        rows += [
            [
                _Tick(x=place * (cell + SPACE_2), numbers=numbers, held=held)
                for place, (numbers, held) in enumerate(groups[start : start + across])
            ]
            for start in range(0, len(groups), across)
        ]
    for place, row in enumerate(rows):
        yield Part(block=_tick_row(row, width), gap=_TICK_GAP if place else SPACE_1)


def _held(step: StepRecord) -> str:
    """The rings in the work after a step."""
    return making.rings(sum(entry.count for entry in step.tally if not entry.kind.finding))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tick:
    """Boxes side by side, and what stands beside the last."""

    x: float
    numbers: range
    held: str


def _tick_row(groups: Sequence[_Tick], width: float) -> Block:
    items: list[Item] = []
    boxes: list[Item] = []
    for group in groups:
        x = group.x
        for number in group.numbers:
            boxes.append(
                Rectangle(
                    x=x,
                    y=0.0,
                    width=_TICK_WIDTH,
                    height=_TICK_HEIGHT,
                    radius=2.0,
                    stroke=Stroke(color=MUTED, width=HAIRLINE),
                )
            )
            text, size = str(number), CAPTION.size - 1.0
            items.append(_tick_text(text, x + (_TICK_WIDTH - text_width(text, Face.REGULAR, size)) / 2, size))
            x += _TICK_WIDTH + _TICK_GAP
        if group.held:
            items.append(_tick_text(group.held, x + 1.0, CAPTION.size))
    return Block(
        width=width,
        height=_TICK_HEIGHT,
        items=(
            Group(role=Role.DECORATION, items=tuple(boxes)),
            Group(role=Role.PARAGRAPH, items=tuple(items)),
        ),
    )


def _tick_text(text: str, x: float, size: float) -> Text:
    """In the middle of a row's height."""
    middle = (_TICK_HEIGHT + metrics(Face.REGULAR).cap_height * size) / 2
    return Text(x=x, y=middle, string=text, face=Face.REGULAR, size=size, color=INK)
