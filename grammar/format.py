"""A pattern to canonical text: the same statements, one way to write them, every comment kept.

In: `Pattern`. Out: text. The laws, which the tests hold it to: the text says the same (`parse` of it gives an equal
pattern), formatting it again changes nothing, and no comment is lost.

- Blocks are indented by four spaces; lists and clauses are written in one order and with the same words.
- Of empty lines the author's are kept, at most one in a row, none at the start of a block; units, pieces and
  variants have one around them.
- A line longer than 100 columns is broken in front of its clauses, and where that is not enough, after commas.
- A comment stays where it was: in front of a statement, behind it, or at the end of a block. One in the middle of
  a statement that goes over several lines moves up in front of it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from grammar.sentences import clauses
from notation.margin import Comment, Pattern, PieceBlock, UnitBlock, VariantBlock
from notation.source import Source, Span
from notation.statements import Family, For, ForEach, If, Pass, Repeat, Step

WIDTH = 100
"""Columns of a line, where it can be broken."""
INDENT = 4

_BLOCKS = (UnitBlock, PieceBlock, VariantBlock, Family, Step, For, ForEach, Repeat)
_TEXT_OR_COMMA = re.compile(r'"(?:[^"\\]|\\.)*"|, ')


def format_pattern(pattern: Pattern) -> str:
    """The canonical text of a pattern; of an incomplete one its text as it is, for nothing may be lost."""
    if pattern.incomplete:
        return pattern.source.text
    writer = _Writer(pattern)
    writer.margin(pattern.statements)
    return "".join(f"{line}\n" for line in writer.out)


class _Writer:
    """Writes statements and comments in the order of their lines."""

    def __init__(self, pattern: Pattern) -> None:
        self.out: list[str] = []
        self.source: Source = pattern.source
        self.blank_before = pattern.blank_before
        self.comments: Sequence[Comment] = pattern.comments
        self.next_comment = 0
        self.at_start = True
        """Nothing has been written in this block yet."""

    def margin(self, statements: Sequence[Any]) -> None:
        """Everything from the left margin on."""
        spaced = False
        for node, until in self.with_next_line(statements, self.source.line_count):
            is_block = isinstance(node, (UnitBlock, PieceBlock, VariantBlock))
            self.statement(node, "", until, spaced or is_block)
            spaced = is_block
        for comment in self.comments_until(self.source.line_count):
            self.own_line(comment, "", spaced)
            spaced = False

    def statement(self, node: Any, indent: str, until: int, spaced: bool = False) -> None:
        """A statement with its comments, up to the line `until`; `spaced` asks for an empty line in front of all."""
        first, last = self.lines_of(node.span)
        for comment in self.comments_until(first):
            self.own_line(comment, indent, spaced)
            spaced = False
        if isinstance(node, If):
            self.if_(node, indent, until)
            return
        body: Sequence[Any] = (node.twin,) if isinstance(node, Pass) and node.twin else ()
        if isinstance(node, _BLOCKS):
            body = node.body
        self.line(clauses(node), ":" if body else "", indent, first, last, spaced)
        if body:
            self.block(body, indent, self.column_of(node.span), until)

    def if_(self, node: If, indent: str, until: int) -> None:
        """An `if` with all that goes on with `else`."""
        column = self.column_of(node.span)
        first, last = self.lines_of(node.span)
        word = ""
        while True:
            self.line([word + part for part in clauses(node)], ":", indent, first, last, False)
            otherwise = node.otherwise
            if not otherwise:
                self.block(node.body, indent, column, until)
                return
            else_if = otherwise[0] if node.else_span is None and len(otherwise) == 1 else None
            following = else_if.span if isinstance(else_if, If) else node.else_span or node.span
            first, last = self.lines_of(following)
            self.block(node.body, indent, column, first)
            for comment in self.comments_until(first):
                self.own_line(comment, indent, False)
            if not isinstance(else_if, If):
                self.line(["else"], ":", indent, first, last, False)
                self.block(otherwise, indent, column, until)
                return
            node, word = else_if, "else "

    def block(self, body: Sequence[Any], indent: str, column: int, until: int) -> None:
        """The statements of a block and the comments at its end; `column` is where its header stood."""
        inner = indent + " " * INDENT
        self.at_start = True
        for node, next_line in self.with_next_line(body, until):
            self.statement(node, inner, next_line)
        for comment in self.comments_until(until, column):
            self.own_line(comment, inner, False)
        self.at_start = False

    def with_next_line(self, body: Sequence[Any], until: int) -> list[tuple[Any, int]]:
        """Each statement with the line where the next one begins, `until` for the last."""
        begins = [self.lines_of(node.span)[0] for node in body[1:]]
        # With no statements there is one line too many.
        return list(zip(body, [*begins, until], strict=False))

    # ------------------------------------------------------------ lines

    def line(self, parts: list[str], ends: str, indent: str, first: int, last: int, spaced: bool) -> None:
        """A statement's own line or lines; `first` and `last` are those it had."""
        self.blank(spaced or first in self.blank_before)
        behind = ""
        for comment in self.comments_until(last + 1):
            if comment.line == last and not comment.own_line:
                behind = f"  {comment.text}"
            else:
                self.out.append(f"{indent}{comment.text}")
        self.out += _wrapped(parts, ends, indent)
        self.out[-1] += behind

    def own_line(self, comment: Comment, indent: str, spaced: bool) -> None:
        """A comment on a line of its own."""
        self.blank(spaced or comment.line in self.blank_before)
        self.out.append(f"{indent}{comment.text}")

    def blank(self, wanted: bool) -> None:
        """An empty line if it is wanted and there is something above in this block."""
        if wanted and not self.at_start:
            self.out.append("")
        self.at_start = False

    # ------------------------------------------------------------ comments and places

    def comments_until(self, line: int, deeper_than: int = -1) -> list[Comment]:
        """Takes the comments in front of a line of the source, as long as they stand further in than a column."""
        taken: list[Comment] = []
        while self.next_comment < len(self.comments):
            comment = self.comments[self.next_comment]
            if comment.line >= line or comment.column <= deeper_than:
                break
            taken.append(comment)
            self.next_comment += 1
        return taken

    def lines_of(self, span: Span) -> tuple[int, int]:
        """The first and the last line of a statement in the source, from 0."""
        if not self.comments and not self.blank_before:
            return 0, 0
        return self.source.position(span.start).line - 1, self.source.position(span.end).line - 1

    def column_of(self, span: Span) -> int:
        """How far in a statement stood, from 0."""
        return self.source.position(span.start).column - 1 if self.comments else 0


def _wrapped(parts: list[str], ends: str, indent: str) -> list[str]:
    """A statement on one line, or on several if it is too long: in front of clauses, else after commas."""
    lines = [indent + parts[0]]
    # Further in than the block that may follow a header.
    deeper = indent + " " * (2 * INDENT if ends else INDENT)
    for part in parts[1:]:
        # The first line takes what it can; after it comes one clause a line.
        if len(lines) == 1 and len(lines[0]) + 1 + len(part) + len(ends) <= WIDTH:
            lines[0] += f" {part}"
        else:
            lines.append(deeper + part)
    lines[-1] += ends
    wrapped: list[str] = []
    for line in lines:
        rest = line
        while len(rest) > WIDTH:
            at = _break_at(rest)
            if at < 0:
                break
            wrapped.append(rest[:at])
            rest = deeper + rest[at + 1 :]
        wrapped.append(rest)
    return wrapped


def _break_at(line: str) -> int:
    """Offset of the space behind the last comma within the width, or else behind the first; -1 without one."""
    found = -1
    for match in _TEXT_OR_COMMA.finditer(line):
        if match[0] != ", ":
            continue
        behind = match.start() + 1
        if behind > WIDTH and found >= 0:
            break
        found = behind
    return found
