"""The booklet's words in English: titles, steps, folded repeats, counts, glossary.

In: records of `compiler.steps`. Out: paragraphs of typed runs, so that names can be set strong; `plain` makes text
of them, with ordinary spaces between nouns and their numbers. Every sentence comes from `compiler.catalogue.sentences`.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from compiler.catalogue import nouns
from compiler.catalogue.phrases import Phrase
from compiler.catalogue.sentences import (
    AGAIN,
    BY_ARGUMENT,
    GLOSSARY,
    SAID_BY,
    SENTENCES,
    THROUGH,
    WITH_PAIRS,
    WITHOUT_FINDINGS,
)
from compiler.messages import FindingPart, Members, Message, Say, Series, Thing, TwinPlace
from compiler.steps import (
    BeforeYouStart,
    InstructionKind,
    NameTerm,
    PartTerm,
    PieceWords,
    StepRecord,
    Term,
    Title,
    TitleKind,
)
from notation.plurals import plural


class Style(Enum):
    """How a run of text is set."""

    PLAIN = "plain"
    STRONG = "strong"
    EMPHASIS = "emphasis"


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Text in one style."""

    text: str
    style: Style = Style.PLAIN


class Role(Enum):
    """What a paragraph is for."""

    CAUTION = "caution"
    INSTRUCTION = "instruction"
    ROW = "row"
    HANDLE = "handle"
    REMARK = "remark"
    CHECK = "check"
    FOLD = "fold"
    FOLD_LINE = "fold line"


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """A paragraph of a step."""

    role: Role
    runs: tuple[Run, ...]


_ROLES = {
    InstructionKind.ROW: Role.ROW,
    InstructionKind.HANDLE: Role.HANDLE,
    InstructionKind.REMARK: Role.REMARK,
    InstructionKind.CHECKPOINT: Role.CHECK,
}
_HEADED = (InstructionKind.PASS, InstructionKind.SERIES)
_STYLES = {nouns.STRONG_ON: Style.STRONG, nouns.EMPHASIS_ON: Style.EMPHASIS}


def runs(marked: str) -> tuple[Run, ...]:
    """Marked text as runs."""
    found: list[Run] = []
    text, style = "", Style.PLAIN
    for character in marked:
        if character not in nouns.MARKS:
            text += character
            continue
        if text:
            found.append(Run(text=text, style=style))
        text, style = "", _STYLES.get(character, Style.PLAIN)
    if text:
        found.append(Run(text=text, style=style))
    return tuple(found)


def plain(paragraph: Paragraph) -> str:
    """A paragraph as text, with ordinary spaces throughout."""
    return nouns.unbound(bound(paragraph))


def bound(paragraph: Paragraph) -> str:
    """A paragraph as text in which no line's end parts a noun from its number."""
    return "".join(run.text for run in paragraph.runs)


# ---------------------------------------------------------------- messages


def sentence(message: Message, here: nouns.Here = nouns.NOWHERE, *, again: bool = False) -> str:
    """The sentence of a message, with marks; `again`: it has been said in the same step before."""
    fields = {name: Phrase(value=value, here=here) for name, value in message.arguments}
    variants = BY_ARGUMENT.get(message.name)
    if variants is not None:
        key = next(value for _, value in message.arguments if isinstance(value, Enum))
        text = variants[key].format(**fields)
    elif again and message.name in AGAIN:
        text = AGAIN[message.name].format(**fields)
    else:
        text = SENTENCES[message.name].format(**fields)
    return nouns.capital(text)


def here_of(step: StepRecord) -> nouns.Here:
    """What a step is about: said in its title, and then no more."""
    what = step.title.what
    if step.title.kind is TitleKind.ROW and isinstance(what, Members):
        return nouns.Here(owner=step.title.part, group=what.group, row=what.ranges[0].row)
    return nouns.Here(owner=step.title.part)


# ---------------------------------------------------------------- titles


def title(of: Title) -> str:
    """A step's title as text: `Gather the centre`, `Arm 3`, `Row 4 of the strap`."""
    return nouns.unbound(heading(of))


def heading(of: Title) -> str:
    """A step's title in which no line's end parts a noun from its number."""
    if of.kind is TitleKind.TYPED:
        text = nouns.typed(of.text)
        return f"{text} ({nouns.typed(of.part)})" if of.part else text
    if of.kind is TitleKind.PART:
        return nouns.capital(nouns.numbered(nouns.typed(of.text), of.number))
    if of.kind is TitleKind.PARTS:
        return nouns.capital(_numbers(plural(nouns.typed(of.text)), nouns.typed(of.text), of))
    if of.kind is TitleKind.AGAIN:
        return f"{_numbers('Steps', 'Step', of)} again"
    what = of.what
    if what is None:
        return "The work"
    if isinstance(what, FindingPart):
        return nouns.capital(nouns.finding(what))
    if of.kind is TitleKind.ROW:
        return nouns.capital(_row_title(what))
    if of.kind is TitleKind.GROUP and len(what.ranges) > 1:
        owner = f" of {nouns.owner(what.group.owner)}" if what.group.owner else ""
        return f"The {nouns.whole(what.group)}{owner}"
    return nouns.capital(nouns.named(what))


def _numbers(several: str, one: str, of: Title) -> str:
    """`lozenges 3 and 4`, `Step 5`."""
    noun = several if of.last > of.number else one
    return nouns.numbered(noun, nouns.listed(nouns.span(of.number, of.last)))


def _row_title(what: Members) -> str:
    group = what.group
    numbers = list(dict.fromkeys(each.row for each in what.ranges))
    word = nouns.row_word(group) + ("s" if len(numbers) > 1 else "")
    runs_of = "".join(nouns.listed(nouns.span(numbers[0], numbers[-1])))
    owner = f" of {nouns.owner(group.owner)}" if group.owner else ""
    return f"{nouns.numbered(word, runs_of)} of the {nouns.whole(what.group)}{owner}"


# ---------------------------------------------------------------- steps


def _head(what: Thing, here: nouns.Here) -> str:
    """What comes into being, as the first words of its paragraph."""
    if isinstance(what, FindingPart):
        return nouns.strong(f"{nouns.capital(nouns.finding(what))}.")
    in_row = what.group == here.group and what.ranges[0].row == here.row
    return nouns.strong(f"{nouns.capital(nouns.named(what, here, rows=not in_row))}.")


def step_text(step: StepRecord) -> tuple[Paragraph, ...]:
    """A step's paragraphs: cautions first, then instructions, then what can be counted."""
    here = here_of(step)
    found = [
        Paragraph(role=Role.CAUTION, runs=runs(f"{nouns.strong('Caution:')} {nouns.typed(text)}"))
        for text in step.cautions
    ]
    said: set[tuple[Say, TwinPlace | None]] = set()
    gone_through: dict[str, None] = {}
    makes = [each for each in step.instructions if each.head is not None]
    for instruction in step.instructions:
        sentences = []
        for message in instruction.messages:
            said_as = SAID_BY.get(message.name, message.name), _twin_place(message)
            several = _several(message)
            new = tuple(each for each in several if each not in gone_through)
            gone_through.update(several)
            about = replace(here, all_rings=new)
            sentences.append(sentence(message, about, again=said_as in said))
            said.add(said_as)
        text = " ".join(sentences)
        titled = len(makes) == 1 and instruction.head == step.title.what
        told = instruction.named and instruction.kind in _HEADED and not titled
        if instruction.head is not None and told:
            text = f"{_head(instruction.head, here)} {text}"
        elif instruction.kind is InstructionKind.CHECKPOINT:
            text = f"{nouns.emphasis('Check:')} {text}"
        found.append(Paragraph(role=_ROLES.get(instruction.kind, Role.INSTRUCTION), runs=runs(text)))
    found.extend(check_text(step.checkpoint, here))
    return tuple(found)


def _several(message: Message) -> dict[str, None]:
    """Nouns of what a message goes through of which a member is more than one ring, all of them meant."""
    if message.name not in THROUGH:
        return {}
    found: list[Thing] = []
    for _, value in message.arguments:
        if isinstance(value, Series):
            found.extend(value.lines[0].things)
        elif isinstance(value, tuple):
            found.extend(each for each in value if isinstance(each, Members))
    return {
        each.group.singular: None
        for each in found
        if isinstance(each, Members) and each.group.strand > 1 and each.companion < 0
    }


def _twin_place(message: Message) -> TwinPlace | None:
    """Where a twin lies: said in full once for each place."""
    return next((value for _, value in message.arguments if isinstance(value, TwinPlace)), None)


def check_text(messages: tuple[Message, ...], here: nouns.Here = nouns.NOWHERE) -> tuple[Paragraph, ...]:
    """What can be counted, as one paragraph; none where there is nothing."""
    if not messages:
        return ()
    text = " ".join(sentence(message, here) for message in messages)
    return (Paragraph(role=Role.CHECK, runs=runs(f"{nouns.emphasis('Check:')} {text}")),)


def uses(step: StepRecord) -> str:
    """What a step takes from the bag: `4 open large rings, 6 closed small rings, 1 glass drop`; may be empty."""
    parts = [nouns.kind_count(each, words=False, between="open") for each in step.opens]
    parts.extend(
        nouns.kind_count(each, words=False, between="" if each.kind.finding else "closed")
        for each in step.closes
    )
    return ", ".join(parts)


def tally(step: StepRecord) -> str:
    """Everything in the piece after a step: `18 large rings and 32 small rings`, and how many are not joined yet."""
    counts = nouns.counts(step.tally)
    if not step.loose or all_loose(step):
        return counts
    return f"{counts}; {nouns.number(step.loose)} of the rings {'is' if step.loose == 1 else 'are'} not joined yet"


def all_loose(step: StepRecord) -> bool:
    """Whether the rings in the piece after a step lie loose, all of them."""
    return step.loose == sum(each.count for each in step.tally)


# ---------------------------------------------------------------- before and after


def times(count: int) -> str:
    """How often a piece is made: `once`, `twice`, `3 times`."""
    return {1: "once", 2: "twice"}.get(count, f"{nouns.number(count)} times")


def piece_title(piece: PieceWords) -> str:
    """`Earring, made twice`."""
    name = nouns.capital(nouns.typed(piece.singular))
    return name if piece.times == 1 else f"{name}, made {times(piece.times)}"


def before_text(before: BeforeYouStart) -> tuple[str, ...]:
    """What to do before the first step, one sentence each."""
    found = []
    if before.opens:
        found.append(f"Open {nouns.counts(before.opens)}.")
    if before.closes:
        found.append(f"Close {nouns.counts(before.closes)}.")
    if before.findings:
        found.append(f"Lay out {nouns.counts(before.findings)}.")
    return tuple(found)


def helpers_text(helpers: Sequence[str]) -> str:
    """What else to have at hand: `Have at hand a twist of wire.`; empty where nothing is needed."""
    if not helpers:
        return ""
    texts = [f"{Phrase(value=helper, here=nouns.NOWHERE):a}" for helper in helpers]
    return f"Have at hand {nouns.listed(texts)}."


def glossary_entry(
    term: Term | NameTerm | PartTerm, terms: Container[object] = tuple(Term)
) -> tuple[str, str]:
    """A term and what it means: `seam`, `A pair of small rings that joins two points.`; `terms`: all of them."""
    if isinstance(term, Term):
        word, text = GLOSSARY[term]
        text = text if Term.FINDING in terms else WITHOUT_FINDINGS.get(term, text)
        return word, text + (WITH_PAIRS.get(term, "") if Term.PAIR in terms else "")
    if isinstance(term, PartTerm):
        parts = [f"the {nouns.typed(piece)}, which has {nouns.number(count)}" for piece, count in term.pieces]
        return nouns.typed(term.noun), f"A part of {'; of '.join(parts)}."
    name = nouns.member_noun(term.groups[0], 1)
    rings = " or ".join(dict.fromkeys(nouns.one_strand(group) for group in term.groups))
    joins = f" that joins two {nouns.member_noun(term.joins, 2)}" if term.joins is not None else ""
    where = ""
    if term.count > 1 and term.step:
        where = f" There are {nouns.number(term.count)}, the first in step {term.step}."
    elif term.step:
        where = f" It is made in step {term.step}."
    return name, f"{nouns.capital(rings)}{joins}.{where}"
