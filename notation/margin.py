"""The left margin of a pattern as written, and the whole pattern. What stands in blocks: `notation.statements`.

Made by `grammar.parse`, read by `grammar.format` and `compiler.expand`. Comments lie beside the statements, in
`Pattern.comments`, keyed by the line they belong to, so that no stage but the formatter meets them.
"""

from __future__ import annotations

from enum import Enum

from notation.diagnostic import Place
from notation.handling import LabelLine
from notation.lengths import Length
from notation.nodes import Bundle, Expression, Name, Node, Quantity, Text
from notation.source import Source, Span
from notation.statements import Broken, Let, Statement


class Heading(Enum):
    """The headings a pattern may have, each once."""

    TITLE = "title"
    BY = "by"
    LICENCE = "licence"
    VERSION = "version"
    LEVEL = "level"
    ABOUT = "about"


class HeadingLine(Node, frozen=True, kw_only=True):
    """`title "Lyra earrings"`."""

    heading: Heading
    text: Text
    span: Span


class Use(Node, frozen=True, kw_only=True):
    """`use "shared/rosette.annulet" as shared with large = big`: units of another file, under an alias."""

    path: Text
    alias: Name
    kinds: tuple[tuple[Name, Name], ...] = ()
    """Their kind, our kind."""
    span: Span


class RingLine(Node, frozen=True, kw_only=True):
    """`ring large: inner 5 mm, wire 0.9 mm, metal copper, doubled`.

    A part that is missing or unreadable is None and has been told.
    """

    name: Name
    inner: Length | None
    wire: Length | None
    metal: Name | None
    bundle: Bundle = Bundle.AS_KIND
    """SINGLE, PAIRS (`doubled`) or TRIPLES (`tripled`): how its passes and carried rings go by default."""
    span: Span


class Eye(Node, frozen=True, kw_only=True):
    """`eye left 2 mm opens`, `eye 2 mm free`: a hole of a finding."""

    name: Name | None
    inner: Length
    opens: bool = False
    """Whether a maker can open it (an ear wire's loop); otherwise it is closed for good."""
    free: bool = False
    """Whether it may stay unused."""
    span: Span


class FindingLine(Node, frozen=True, kw_only=True):
    """`finding hook: ear-wire, eye 2 mm opens, wire 0.7 mm, metal copper, length 20 mm`."""

    name: Name
    type: Name
    eyes: tuple[Eye, ...]
    wire: Length | None = None
    length: Length | None = None
    metal: Name | None = None
    span: Span


class KitLine(Node, frozen=True, kw_only=True):
    """`kit: 40 large, 70 small, 2 hook`: what one packet holds."""

    entries: tuple[Quantity, ...]
    span: Span


class Parameter(Node, frozen=True, kw_only=True):
    """A parameter of a unit: a number (with or without a default) or a port."""

    name: Name
    is_port: bool = False
    default: Expression | None = None
    span: Span


class UnitBlock(Node, frozen=True, kw_only=True):
    """`unit rhombus(across = 3, down = 3, port top):` and its statements."""

    name: Name
    parameters: tuple[Parameter, ...]
    body: tuple[Statement, ...]
    span: Span


class PieceBlock(Node, frozen=True, kw_only=True):
    """`piece earring made 2 times, in 1 part:` and its statements."""

    name: Name
    times: Expression | None
    """None: once."""
    parts: Expression | None
    """None: one, everything held together."""
    both_hands: bool = False
    """`in both hands`: one unit may be made plain and mirrored in it."""
    body: tuple[Statement, ...]
    span: Span


class LengthChange(Node, frozen=True, kw_only=True):
    """`length 200 mm`, `length of bracelet 200 mm`: another length for a piece that is made to one."""

    piece: Name | None
    """None: the only piece that is made to a length."""
    wanted: Length | None
    """None if it could not be read, which has been told."""
    span: Span


class VariantBlock(Node, frozen=True, kw_only=True):
    """`variant heavy:` and what it changes, each line in place of the one of that name at the left margin."""

    name: Name
    body: tuple[RingLine | FindingLine | KitLine | Let | LengthChange | Broken, ...]
    span: Span


TopStatement = (
    HeadingLine
    | Use
    | RingLine
    | FindingLine
    | KitLine
    | LabelLine
    | Let
    | UnitBlock
    | PieceBlock
    | VariantBlock
    | Broken
)

# ---------------------------------------------------------------- the whole


class Comment(Node, frozen=True, kw_only=True):
    """A comment: on its own line(s) before a statement, at the end of its line, or after the last of a block."""

    text: str
    """With its `#`, without the line's end."""
    line: int
    """0-based physical line."""
    column: int
    own_line: bool


class Pattern(Node, frozen=True, kw_only=True):
    """A pattern file as written. What was unreadable is left out here and told in the diagnostics."""

    source: Source
    statements: tuple[TopStatement, ...]
    """In the order of the text."""
    comments: tuple[Comment, ...]
    blank_before: frozenset[int]
    """0-based lines that have an empty line before them: the formatter keeps one."""
    incomplete: bool = False
    """Whether a statement could not be read; then `format` writes nothing."""

    def place(self, span: Span) -> Place:
        """A span of this file, as reports name it."""
        return Place(source=self.source.name, span=span)
