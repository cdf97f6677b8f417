"""Lines to blocks: nesting by indentation, what may stand where, and `else` with its `if`.

In: each logical line with what it says, a statement, an `Opening` or a `Broken`. Out: the statements of the
pattern. A line in the wrong place is told and left out; its block is read all the same.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Any

from grammar.lines import LogicalLine
from grammar.opening import Opening
from notation import limits
from notation.source import Span
from notation.statements import (
    Broken,
    FindingLine,
    HeadingLine,
    KitLine,
    LabelLine,
    PieceBlock,
    RingLine,
    TopStatement,
    Twin,
    UnitBlock,
    Use,
)

Tell = Callable[..., None]
"""`Actions.tell`."""

_MARGIN = frozenset({HeadingLine, Use, RingLine, FindingLine, KitLine, UnitBlock, PieceBlock})
_ANYWHERE = frozenset({LabelLine, Broken})
_WORD = re.compile(r"\w+")
_HEADERS = frozenset(
    {"unit", "piece", "line", "round", "sheet", "tube", "step", "for", "repeat", "if", "else", "else if"}
)


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
        # The parts of an `if` that may still go on with `else`.
        chain: list[tuple[Opening, tuple[Any, ...]]] = []
        astray = uneven = False
        while at < len(lines):
            line, value = lines[at], values[at]
            if line.indent < indent:
                if line.indent in place.outer or not place.outer or line.indent < place.outer[-1]:
                    break
                if not uneven:
                    self.tell(
                        "uneven-indent",
                        Span(line.start, line.end),
                        found=line.indent,
                        inner=indent,
                        labels=place.opened,
                    )
                uneven = True
            elif line.indent > indent:
                at = self._stray_block(at, statements, chain, indent, place)
                continue
            body, at = self._body(at, value, line, place)
            if isinstance(value, Opening) and value.word in ("else", "else if"):
                self._go_on_with_else(value, body, chain)
                continue
            _close(chain, statements)
            if isinstance(value, Opening):
                if value.word == "if":
                    chain.append((value, body))
                    continue
                value = self._made(value, body)
            elif body and isinstance(value, Broken):
                value = Broken(word=value.word, names=value.names, body=body, span=value.span)
            fits = self._fits(value, place, astray)
            astray = not fits
            if fits:
                statements.append(value)
        _close(chain, statements)
        return statements, at

    def _body(self, at: int, value: Any, line: LogicalLine, place: _Place) -> tuple[tuple[Any, ...], int]:
        """The block under line `at`, empty where there is none, and the line after it."""
        lines = self.lines
        is_header = isinstance(value, (Opening, Broken))
        if not is_header:
            return (), at + 1
        following = at + 1
        if following >= len(lines) or lines[following].indent <= line.indent:
            if isinstance(value, Opening):
                self.tell("missing-block", value.span, header=value.word)
            return (), following
        word = value.word
        if place.depth >= limits.DEEPEST_BLOCKS:
            self.tell("over-limit", Span(line.start, line.end), "blocks", most=limits.DEEPEST_BLOCKS)
            while following < len(lines) and lines[following].indent > line.indent:
                following += 1
            return (), following
        if isinstance(value, Broken) and word not in _HEADERS and word != "pass" and word != "":
            # A line that opens no block: what is indented under it is a slip of its own only if it can be read.
            word = place.word
        inner = _Place(
            depth=place.depth + 1,
            in_step=place.in_step or word == "step",
            word=word or "step",
            outer=(*place.outer, line.indent),
            opened=(("block-here", value.span),),
        )
        if word == "step" and place.in_step:
            self.tell("misplaced", value.span, "step-in-step")
        body, following = self.block(following, lines[following].indent, inner)
        return tuple(body), following

    def _stray_block(
        self, at: int, statements: list[Any], chain: list[Any], indent: int, place: _Place
    ) -> int:
        """Lines indented for no reason: told once, read as if they were not."""
        line = self.lines[at]
        above = self.lines[at - 1] if at > 0 and self.lines[at - 1].indent < line.indent else None
        variant = "first" if above is None else ""
        self.tell(
            "unexpected-indent", Span(line.start, line.end), variant, found=line.indent, expected=indent
        )
        _close(chain, statements)
        if place.depth >= limits.DEEPEST_BLOCKS:
            while at < len(self.lines) and self.lines[at].indent > indent:
                at += 1
            return at
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

    def _go_on_with_else(
        self, value: Opening, body: tuple[Any, ...], chain: list[tuple[Opening, tuple[Any, ...]]]
    ) -> None:
        if not chain:
            self.tell("else-without-if", value.span, word=value.word)
        elif chain[-1][0].word == "else":
            self.tell("else-without-if", value.span, "after-else", word=value.word)
        else:
            chain.append((value, body))

    def _made(self, opening: Opening, body: tuple[Any, ...]) -> Any:
        if opening.word == "pass":
            twins = tuple(node for node in body if isinstance(node, Twin))
            if len(twins) > 1:
                self.tell("misplaced", twins[1].span, "second-twin", first=twins[0].span)
            return opening.make(body=twins[:1])
        return opening.make(body=body)

    def _fits(self, value: Any, place: _Place, astray: bool) -> bool:
        """Whether a statement may stand in a place; of several astray in a row the first is told."""
        kind = type(value)
        if kind in _ANYWHERE:
            return kind is not LabelLine or place.word != "pass"
        if kind is Twin:
            if place.word == "pass":
                return True
            variant = "twin"
        elif place.word == "pass":
            variant = "not-a-twin"
        elif kind in _MARGIN:
            if not place.word:
                return True
            variant = "heading" if kind is HeadingLine else "margin-only"
        else:
            if place.word:
                return True
            variant = "at-margin"
        if not astray:
            word = _WORD.match(self.text, value.span.start)
            self.tell("misplaced", value.span, variant, word=word[0] if word else "", labels=place.opened)
        return False

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


def _close(chain: list[tuple[Opening, tuple[Any, ...]]], statements: list[Any]) -> None:
    """Makes one `If` of the parts of an `if`, from the last to the first."""
    if not chain:
        return
    otherwise: tuple[Any, ...] = ()
    else_span = None
    for opening, body in reversed(chain):
        if opening.word == "else":
            otherwise, else_span = body, opening.span
        else:
            otherwise = (opening.make(body=body, otherwise=otherwise, else_span=else_span),)
            else_span = None
    statements.extend(otherwise)
    chain.clear()
