"""The whole instructions as text for a terminal, wrapped at a given width.

In: `Words`. Out: lines of text. Nothing is decided here but line ends and indents.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from compiler.catalogue import english, folds, kit_english, nouns
from compiler.steps import Fold, PieceWords, StepRecord, Words

INDENT = "    "


def plain_text(words: Words, width: int = 80, changes: str = "") -> str:
    """Title, what to prepare, every step with its tally and checkpoint, glossary; ends in a line feed.

    `changes` says what is other than in the pattern as written.
    """
    return "\n".join(_lines(words, width, changes)) + "\n"


def _lines(words: Words, width: int, changes: str) -> Iterator[str]:
    if words.title:
        yield from _wrapped(words.title, width)
        yield "=" * min(len(words.title), width)
    if changes:
        yield from _wrapped(kit_english.with_changes(changes), width)
    if words.about:
        yield from _wrapped(words.about, width)
    before = [*english.before_text(words.before), *filter(None, [english.helpers_text(words.helpers)])]
    if before:
        yield ""
        yield "Before you start"
        for text in before:
            yield from _wrapped(text, width, INDENT)
    for piece in words.pieces:
        yield ""
        heading = english.piece_title(piece)
        yield from _wrapped(heading, width)
        yield "-" * min(len(heading), width)
        for shown in piece.shown:
            yield ""
            yield from _fold(shown, piece, width) if isinstance(shown, Fold) else _step(shown, width)
    if words.terms:
        yield ""
        yield "Words used"
        for term in words.terms:
            name, meaning = english.glossary_entry(term, words.terms)
            yield from _wrapped(f"{name}: {meaning}", width, INDENT, INDENT * 2)


def _step(step: StepRecord, width: int) -> Iterator[str]:
    yield from _wrapped(f"Step {step.number}. {english.heading(step.title)}", width)
    uses = english.uses(step)
    if uses:
        yield from _wrapped(f"Uses {uses}.", width, INDENT)
    for paragraph in english.step_text(step):
        yield from _wrapped(english.bound(paragraph), width, INDENT)
    yield from _tally(step, width)


def _fold(fold: Fold, piece: PieceWords, width: int) -> Iterator[str]:
    yield from _wrapped(folds.fold_title(fold), width)
    for paragraph in folds.fold_text(fold, piece):
        deep = paragraph.role is english.Role.FOLD_LINE
        yield from _wrapped(english.bound(paragraph), width, INDENT * 2 if deep else INDENT)
    tallies = folds.tallies_text(fold, piece)
    if tallies:
        yield from _wrapped(tallies, width, INDENT)
    yield from _tally(piece.steps[fold.last - 1], width)


def _tally(step: StepRecord, width: int) -> Iterator[str]:
    """What is in the piece by now, after a step that added something."""
    if step.tally and (step.opens or step.closes):
        yield from _wrapped(
            f"{'Laid out' if english.all_loose(step) else 'So far'}: {english.tally(step)}.", width, INDENT
        )


def _wrapped(text: str, width: int, indent: str = "", hanging: str | None = None) -> list[str]:
    """Lines in which no noun is parted from its number; the text itself has ordinary spaces only."""
    lines = textwrap.wrap(
        text,
        width=max(width, len(indent) + 20),
        initial_indent=indent,
        subsequent_indent=indent if hanging is None else hanging,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [nouns.unbound(line) for line in lines]
