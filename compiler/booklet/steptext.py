"""The words of a step as measured blocks: instructions, notes, checks, folded repeats.

In: a `StepRecord` or a `Fold` and a width, out: parts to be set one below the other.
"""

import re
from collections.abc import Iterator, Sequence

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
    return [*parts, *_ticks(fold.first, fold.last, width)]


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


def _ticks(first: int, last: int, width: float) -> Iterator[Part]:
    """A row of numbered boxes for as many steps as fit, and so on."""
    if last <= first or last - first >= MOST_TICKS:
        return
    yield Part(block=set_text((Run(text=making.TICK, color=MUTED),), CAPTION, width), gap=SPACE_3, keep=True)
    across = max(1, int((width + _TICK_GAP) // (_TICK_WIDTH + _TICK_GAP)))
    for start in range(first, last + 1, across):
        numbers = range(start, min(start + across, last + 1))
        yield Part(block=_tick_row(numbers, width), gap=SPACE_1 if start == first else _TICK_GAP)


def _tick_row(numbers: range, width: float) -> Block:
    items: list[Item] = []
    boxes: list[Item] = []
    size = CAPTION.size - 1.0
    for place, number in enumerate(numbers):
        x, text = place * (_TICK_WIDTH + _TICK_GAP), str(number)
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
        items.append(
            Text(
                x=x + (_TICK_WIDTH - text_width(text, Face.REGULAR, size)) / 2,
                y=(_TICK_HEIGHT + metrics(Face.REGULAR).cap_height * size) / 2,
                string=text,
                face=Face.REGULAR,
                size=size,
                color=INK,
            )
        )
    return Block(
        width=width,
        height=_TICK_HEIGHT,
        items=(
            Group(role=Role.DECORATION, items=tuple(boxes)),
            Group(role=Role.PARAGRAPH, items=tuple(items)),
        ),
    )
