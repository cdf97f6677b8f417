"""Lines to blocks: nesting by indentation, what may stand where, and `else` with its `if`.

In: each logical line with what it says, a statement, an `Opening` or a `Broken`. Out: the statements of the
pattern. A line in the wrong place is told and left out; its block is read all the same.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Any

from grammar.broken import unread
from grammar.lines import LogicalLine
from grammar.opening import Opening
from notation import limits
from notation.handling import LabelLine
from notation.margin import (
    FindingLine,
    HeadingLine,
    KitLine,
    LengthChange,
    PieceBlock,
    RingLine,
    TopStatement,
    UnitBlock,
    Use,
    VariantBlock,
)
from notation.source import Span
from notation.statements import Broken, Let, MadeToLength, Twin

Tell = Callable[..., None]
"""`Actions.tell`."""

_MARGIN = frozenset({HeadingLine, Use, RingLine, FindingLine, KitLine, UnitBlock, PieceBlock, VariantBlock})
_IN_VARIANT = frozenset({RingLine, FindingLine, KitLine, Let, LengthChange})
_UNKNOWN = "?"
"""Stands for the first word of a header that has none of the notation's."""
_WORD = re.compile(r"\w+")
_HEADERS = frozenset(
    {
        *("unit", "piece", "variant", "line", "round", "sheet", "tube", "disc", "step"),
        *("for", "repeat", "if", "else", "else if"),
    }
)

_REPEATING = frozenset({"line", "round", "sheet", "tube", "disc", "for", "repeat"})
"""Headers whose block speaks of what they name: neighbours, counters."""


def assemble(
    lines: Sequence[LogicalLine], values: Sequence[Any], text: str, tell: Tell
) -> tuple[TopStatement, ...]:
    """The statements at the left margin, with their blocks in them."""
    blocks = _Blocks(lines, values, text, tell)
    statements, _ = blocks.block(0, 0, _Place(depth=0, in_step=False))
    blocks.headings_once(statements)
    return tuple(statements)


class _Place:
    """Where a block stands."""

    __slots__ = ("depth", "in_step", "opened", "outer", "word")

    def __init__(
        self,
        *,
        depth: int,
        in_step: bool,
        word: str = "",
        outer: tuple[int, ...] = (),
        opened: tuple[tuple[str, Span], ...] = (),
    ) -> None:
        self.depth = depth
        self.in_step = in_step
        self.word = word
        """First word of the header; empty at the left margin."""
        self.outer = outer
        """Indents of the blocks around, outermost first."""
        self.opened = opened
        """Where the block begins, as a label; nothing at the left margin."""


class _Chain:
    """The parts of an `if` that may still go on with `else`."""

    __slots__ = ("lost", "parts")

    def __init__(self) -> None:
        self.parts: list[tuple[Opening, tuple[Any, ...]]] = []
        """Each header with its block."""
        self.lost = False
        """A part of it could not be read."""

    def close(self, statements: list[Any]) -> None:
        """Makes one `If` of the parts, from the last to the first."""
        if not self.parts:
            return
        otherwise: tuple[Any, ...] = ()
        else_span = None
        for opening, body in reversed(self.parts):
            if opening.word == "else":
                otherwise, else_span = body, opening.span
            else:
                otherwise = (opening.make(body=body, otherwise=otherwise, else_span=else_span),)
                else_span = None
        statements.extend(otherwise)
        self.parts.clear()


class _Blocks:
    def __init__(self, lines: Sequence[LogicalLine], values: Sequence[Any], text: str, tell: Tell) -> None:
        self.lines = lines
        self.values = values
        self.text = text
        self.tell = tell

    def block(self, at: int, indent: int, place: _Place) -> tuple[list[Any], int]:
        """The statements from line `at` on that belong to the block of this indent, and the line after them."""
        lines, values = self.lines, self.values
        statements: list[Any] = []
        chain = _Chain()
        astray = ""
        uneven = bereft = False
        while at < len(lines):
            line, value = lines[at], values[at]
            if line.indent < indent:
                if not place.outer or line.indent in place.outer or line.indent < place.outer[-1]:
                    break
                if not uneven:
                    where = Span(line.start, line.end)
                    self.tell("uneven-indent", where, found=line.indent, inner=indent, labels=place.opened)
                uneven = True
            elif line.indent > indent:
                chain.close(statements)
                at = self._stray_block(at, statements, indent, place)
                continue
            goes_on = isinstance(value, Opening) and value.word in ("else", "else if")
            body, at = self._body(at, value, line, place, len(chain.parts) if goes_on else 0)
            if goes_on:
                self._go_on_with_else(value, body, chain)
                continue
            if isinstance(value, Broken):
                value = Broken(word=value.word, names=value.names, body=body, span=value.span)
                chain.lost = value.word == "if" or (
                    value.word == "else" and (chain.lost or bool(chain.parts))
                )
                if value.word == "else":
                    statements.append(value)
                    continue
            else:
                chain.lost = False
            chain.close(statements)
            if isinstance(value, Opening):
                if value.word == "if":
                    chain.parts.append((value, body))
                    continue
                blockless = not body and value.word in _REPEATING
                value = self._made(value, body)
                if blockless:  # the next statement was most likely meant to be its block
                    value, bereft = unread(value), True
            elif bereft:
                value, bereft = unread(value), False
            astray = self._misfit(value, place, astray)
            if not astray:
                statements.append(value)
        chain.close(statements)
        return statements, at

    def _body(
        self, at: int, value: Any, line: LogicalLine, place: _Place, deeper: int
    ) -> tuple[tuple[Any, ...], int]:
        """The block under line `at`, empty where there is none, and the line after it.

        Each `else if` lies in the one before it, so the block of one is `deeper` than it looks.
        """
        lines = self.lines
        following = at + 1
        if not isinstance(value, (Opening, Broken)):
            return (), following
        if following >= len(lines) or lines[following].indent <= line.indent:
            if isinstance(value, Opening):
                self.tell("missing-block", value.span, header=value.word)
            return (), following
        depth = place.depth + deeper + 1
        if depth > limits.DEEPEST_BLOCKS:
            self.tell("over-limit", Span(line.start, line.end), "blocks", most=limits.DEEPEST_BLOCKS)
            return (), self._behind(following, line.indent)
        word = value.word or _UNKNOWN
        if isinstance(value, Broken) and word not in _HEADERS and word not in ("pass", _UNKNOWN):
            # No header: what is indented under it stands where it stands itself.
            word = place.word
        if word == "step" and place.in_step:
            self.tell("misplaced", value.span, "step-in-step")
        inner = _Place(
            depth=depth,
            in_step=place.in_step or word == "step",
            word=word,
            outer=(*place.outer, line.indent),
            opened=(("block-here", value.span),),
        )
        body, following = self.block(following, lines[following].indent, inner)
        return tuple(body), following

    def _stray_block(self, at: int, statements: list[Any], indent: int, place: _Place) -> int:
        """Lines indented for no reason: told once, read as if they were not."""
        line = self.lines[at]
        variant = "first" if at == 0 else ""
        self.tell("unexpected-indent", Span(line.start, line.end), variant)
        if place.depth >= limits.DEEPEST_BLOCKS:
            return self._behind(at, indent)
        inner = _Place(
            depth=place.depth + 1,
            in_step=place.in_step,
            word=place.word,
            outer=(*place.outer, indent),
            opened=place.opened,
        )
        stray, at = self.block(at, line.indent, inner)
        statements.extend(stray)
        return at

    def _behind(self, at: int, indent: int) -> int:
        """The next line from `at` on that is indented no deeper."""
        while at < len(self.lines) and self.lines[at].indent > indent:
            at += 1
        return at

    def _go_on_with_else(self, value: Opening, body: tuple[Any, ...], chain: _Chain) -> None:
        if chain.lost:
            # The line it goes on from could not be read, and that has been told.
            return
        if not chain.parts:
            self.tell("else-without-if", value.span, word=value.word)
        elif chain.parts[-1][0].word == "else":
            self.tell("else-without-if", value.span, "after-else", word=value.word)
        else:
            chain.parts.append((value, body))

    def _made(self, opening: Opening, body: tuple[Any, ...]) -> Any:
        if opening.word == "pass":
            twins = tuple(node for node in body if isinstance(node, Twin))
            if len(twins) > 1:
                self.tell("misplaced", twins[1].span, "second-twin", first=twins[0].span)
            return opening.make(body=twins[:1])
        return opening.make(body=body)

    def _misfit(self, value: Any, place: _Place, astray: str) -> str:
        """Why a statement may not stand in a place, empty if it may; of several in a row the first is told."""
        variant = _misfit(type(value), place.word)
        if variant and variant != astray:
            word = _WORD.match(self.text, value.span.start)
            self.tell("misplaced", value.span, variant, word=word[0] if word else "", labels=place.opened)
        return variant

    def headings_once(self, statements: Sequence[Any]) -> None:
        """Tells of a heading that comes twice."""
        first: dict[Any, Span] = {}
        for node in statements:
            if isinstance(node, HeadingLine):
                if node.heading in first:
                    self.tell(
                        "duplicate-heading", node.span, word=node.heading.value, first=first[node.heading]
                    )
                else:
                    first[node.heading] = node.span


def _misfit(kind: type, block: str) -> str:
    """The variant of `misplaced` for a statement in a block, empty if it may stand there."""
    if kind is Broken:
        return ""
    if block == "pass":
        return "" if kind is Twin else "not-a-twin"
    if kind is Twin:
        return "twin"
    if block == "variant":
        return "" if kind in _IN_VARIANT else "not-of-a-variant"
    if kind is LengthChange:
        return "length"
    if kind is MadeToLength:
        return "" if block == "piece" else "length-of-a-piece"
    if kind is LabelLine:
        return ""
    if kind in _MARGIN:
        return "margin-only" if block else ""
    return "" if block or kind is Let else "at-margin"
