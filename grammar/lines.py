"""Source text to logical lines: indentation, comments, empty lines, and lines that go on over the next.

In: `Source`. Out: `Lines`, with the text masked for the parser: comments and the line ends that do not end a
statement are spaces, so that every offset is still one of the source text and each line feed ends a statement.

A line goes on over the next one
- when it ends in a comma,
- while a `(` or `[` is open, or
- when the next one is indented deeper, begins with a word that goes on (`through`, `as`, ...), and this one did
  not end in a colon.
Whatever plainly begins a statement ends the one before it, so that a forgotten bracket does not swallow the rest.
Empty lines and lines of comment alone neither begin nor end anything.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from msgspec import Struct

from notation.margin import Comment
from notation.source import Source, Span

GOING_ON = (
    *("front", "nested", "through", "gathering", "carrying", "joined", "around", "between"),
    *("inside", "over", "under", "with", "as"),
)
"""Words that can begin a line which continues the one before it."""

_GOES_ON = re.compile(rf"(?:{'|'.join(GOING_ON)})(?!\w)")
# `port`, and words that may be names, may also stand at the start of a line inside brackets or after a comma.
_BEGINS = re.compile(
    r"(?:by|licence|use|ring|finding|kit|label|unit|piece|pass|twin|take|reopen|hang|make"
    r"|line|round|sheet|tube|disc|step|for|repeat|if|else|let|note|caution|lay|turn|hold|fold|spread|lean"
    r"|work|helper|remove|expect)(?![\w-])"
    r'|port +[\w-]+ *=|(?:tip|title|version|level|about) *"'
)
# A text without its closing quote runs to the end of the line: a `#` in it is no comment.
_TEXT_OR_COMMENT = re.compile(r'"(?:[^"\\]|\\.)*(?:"|\\?$)|#.*')
_TAB_STOP = 4


class LogicalLine(NamedTuple):
    """A statement's stretch of text."""

    start: int
    """Offset of its first character that is no space."""
    end: int
    """Offset behind its last character that is neither space nor comment."""
    indent: int
    """Columns in front of it."""


class Lines(Struct, frozen=True, kw_only=True):
    """The text in logical lines."""

    masked: str
    """The text for the parser, each logical line ended by a line feed; it may be one longer than the source."""
    lines: tuple[LogicalLine, ...]
    comments: tuple[Comment, ...]
    blank_before: frozenset[int]
    """0-based physical lines with an empty line right before them."""
    tabs: tuple[Span, ...]
    """Tabs in the indentation of a line, a span for each line that has some."""


def split(source: Source) -> Lines:
    """The logical lines of a text."""
    masked: list[str] = []
    lines: list[LogicalLine] = []
    comments: list[Comment] = []
    blank_before: set[int] = set()
    tabs: list[Span] = []
    start = end = indent = depth = 0
    tail = ""
    is_open = blank = False
    offset = 0
    for number, raw in enumerate(source.text.split("\n")):
        code, comment_at, brackets = _code_of(raw)
        stripped = code.strip(" \t")
        if comment_at >= 0:
            text = raw[comment_at:].rstrip()
            comments.append(Comment(text=text, line=number, column=comment_at, own_line=not stripped))
        if blank and (stripped or comment_at >= 0):
            blank_before.add(number)
        blank = not stripped and comment_at < 0
        if not stripped:
            # What stands here may still be part of a statement that goes on.
            masked.append(" " * (len(raw) + 1))
            offset += len(raw) + 1
            continue
        lead = len(code) - len(code.lstrip(" \t"))
        column = lead
        if "\t" in code:
            column = len(code[:lead].expandtabs(_TAB_STOP))
            if "\t" in code[:lead]:
                tabs.append(Span(offset, offset + lead))
        if is_open and not _goes_on(tail, depth, stripped, column > indent):
            lines.append(LogicalLine(start, end, indent))
            # The line feed goes behind the last line of code: comments may lie between.
            masked[-1] = masked[-1][:-1] + "\n"
            is_open = False
        if not is_open:
            start, indent, depth, is_open = offset + lead, column, 0, True
        depth = max(depth + brackets, 0)
        tail = stripped[-1]
        end = offset + lead + len(stripped)
        masked.append(code + " " * (len(raw) - len(code) + 1))
        offset += len(raw) + 1
    if is_open:
        lines.append(LogicalLine(start, end, indent))
        masked[-1] = masked[-1][:-1] + "\n"
    return Lines(
        masked="".join(masked),
        lines=tuple(lines),
        comments=tuple(comments),
        blank_before=frozenset(blank_before),
        tabs=tuple(tabs),
    )


def _code_of(raw: str) -> tuple[str, int, int]:
    """A physical line without its comment, where the comment begins or -1, and brackets opened less closed."""
    if '"' not in raw:
        comment_at = raw.find("#")
        code = raw if comment_at < 0 else raw[:comment_at]
        bare = code
    else:
        comment_at = -1
        for match in _TEXT_OR_COMMENT.finditer(raw):
            if match[0][0] == "#":
                comment_at = match.start()
                break
        code = raw if comment_at < 0 else raw[:comment_at]
        bare = _TEXT_OR_COMMENT.sub("", code)
    brackets = 0
    if "(" in bare or "[" in bare or ")" in bare or "]" in bare:
        brackets = bare.count("(") + bare.count("[") - bare.count(")") - bare.count("]")
    return code, comment_at, brackets


def _goes_on(tail: str, depth: int, stripped: str, deeper: bool) -> bool:
    """Whether a line goes on over the next one, given its last character and its open brackets."""
    if tail == "," or depth > 0:
        return _BEGINS.match(stripped) is None
    return deeper and tail != ":" and _GOES_ON.match(stripped) is not None
