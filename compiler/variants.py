"""Variants: another edition of a pattern, named in its text.

In: a parsed pattern and the name of one of its variants. Out: the pattern with each line of the variant in place of
the one that it changes, before anything is expanded, so that all after is computed and checked anew. Beside it, what
is wrong with the variants as they are written, whichever of them is asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from notation.diagnostic import Diagnostic, Edit, Label, diagnosed
from notation.margin import (
    FindingLine,
    KitLine,
    LengthChange,
    Pattern,
    PieceBlock,
    RingLine,
    TopStatement,
    VariantBlock,
)
from notation.nodes import Bundle, Node
from notation.source import Span
from notation.statements import Broken, Let, MadeToLength

Line = RingLine | FindingLine | KitLine | Let | LengthChange


def variants_of(pattern: Pattern) -> tuple[VariantBlock, ...]:
    """The variants of a pattern, in order; of two with one name the first counts."""
    found: dict[str, VariantBlock] = {}
    for statement in pattern.statements:
        if isinstance(statement, VariantBlock):
            found.setdefault(statement.name.text, statement)
    return tuple(found.values())


def varied(pattern: Pattern, variant: VariantBlock) -> Pattern:
    """The pattern as the variant has it; lines that change nothing there are passed over (`problems` tells them)."""
    for line in _lines(variant):
        pattern = replace(pattern, statements=tuple(_with(pattern, line)))
    return pattern


def with_length(pattern: Pattern, change: LengthChange) -> Pattern:
    """The pattern with another length for a piece that is made to one."""
    return replace(pattern, statements=tuple(_with(pattern, change)))


def _lines(variant: VariantBlock) -> Iterator[Line]:
    for line in variant.body:
        if not isinstance(line, Broken):
            yield line


def _with(pattern: Pattern, line: Line) -> Iterator[TopStatement]:
    """The statements of the margin with one line changed; a kit where there was none is new."""
    there = False
    for statement in pattern.statements:
        if isinstance(line, KitLine) and isinstance(statement, KitLine):
            there = True
            yield line
        elif isinstance(line, LengthChange) and isinstance(statement, PieceBlock):
            yield _with_length(statement, line)
        elif isinstance(line, RingLine) and _same(statement, line):
            assert isinstance(statement, RingLine)
            # how its rings go by default is part of how the units are written, and stays unless it is said
            bundle = statement.bundle if line.bundle is Bundle.AS_KIND else line.bundle
            yield replace(line, bundle=bundle)
        elif isinstance(line, FindingLine | Let) and _same(statement, line):
            yield line
        else:
            yield statement
    if isinstance(line, KitLine) and not there:
        yield line


def _same(statement: TopStatement, line: RingLine | FindingLine | Let) -> bool:
    return isinstance(statement, type(line)) and statement.name.text == line.name.text


def _with_length(piece: PieceBlock, change: LengthChange) -> PieceBlock:
    if change.piece is not None and change.piece.text != piece.name.text:
        return piece
    body = tuple(
        replace(each, wanted=change.wanted) if isinstance(each, MadeToLength) else each for each in piece.body
    )
    return replace(piece, body=body)


# ---------------------------------------------------------------- what is wrong


def problems(pattern: Pattern) -> tuple[Diagnostic, ...]:
    """Lines of variants that change what is not there, or twice; a variant that comes to the pattern as written."""
    told: list[Diagnostic] = []
    for variant in variants_of(pattern):
        in_it: list[Diagnostic] = []
        first: dict[tuple[type[Node], str], Span] = {}
        for line in _lines(variant):
            key = (type(line), _named(line))
            if key in first:
                label = Label(place=pattern.place(first[key]), note="first-made-here")
                in_it.append(
                    diagnosed("changed-twice", pattern.place(line.span), labels=(label,), what=_shown(line))
                )
                continue
            first[key] = line.span
            in_it.extend(_of_line(pattern, line))
        broken = pattern.incomplete or in_it
        told.extend(in_it)
        if not broken and varied(pattern, variant) == pattern:
            told.append(
                diagnosed("variant-changes-nothing", pattern.place(variant.span), name=variant.name.text)
            )
    return tuple(told)


def _of_line(pattern: Pattern, line: Line) -> Iterator[Diagnostic]:
    match line:
        case LengthChange():
            yield from _of_length(pattern, line)
        case KitLine():
            pass
        case RingLine() | FindingLine() | Let():
            known = [each.name.text for each in pattern.statements if isinstance(each, type(line))]
            if line.name.text in known or pattern.incomplete:
                return
            variant = _WORDS[type(line)]
            yield _unknown(pattern, variant, line.name.span, line.name.text, known)


_WORDS: dict[type[Node], str] = {RingLine: "ring", FindingLine: "finding", Let: "number"}


def _of_length(pattern: Pattern, line: LengthChange) -> Iterator[Diagnostic]:
    pieces = [each for each in pattern.statements if isinstance(each, PieceBlock)]
    to_length = [
        each.name.text for each in pieces if any(isinstance(part, MadeToLength) for part in each.body)
    ]
    if pattern.incomplete:
        return
    if line.piece is not None:
        if line.piece.text not in to_length:
            yield _unknown(pattern, "piece", line.piece.span, line.piece.text, to_length)
    elif not to_length:
        yield diagnosed("not-in-pattern", pattern.place(line.span), "length")
    elif len(to_length) > 1:
        yield diagnosed("not-in-pattern", pattern.place(line.span), "lengths", pieces=", ".join(to_length))


def _unknown(pattern: Pattern, variant: str, span: Span, name: str, known: Iterable[str]) -> Diagnostic:
    from difflib import get_close_matches  # seldom wanted

    close = get_close_matches(name, list(dict.fromkeys(known)), n=1, cutoff=0.6)
    if not close:
        return diagnosed("not-in-pattern", pattern.place(span), variant, name=name)
    edit = Edit(place=pattern.place(span), replacement=close[0])
    return diagnosed(
        "not-in-pattern",
        pattern.place(span),
        f"{variant}-close",
        edits=(edit,),
        name=name,
        close=close[0],
    )


def _named(line: Line) -> str:
    match line:
        case KitLine():
            return ""
        case LengthChange():
            return "" if line.piece is None else line.piece.text
        case _:
            return line.name.text


def _shown(line: Line) -> str:
    match line:
        case KitLine():
            return "the kit"
        case LengthChange():
            return "the length" if line.piece is None else f"the length of {line.piece.text}"
        case _:
            return line.name.text
