"""Source text and places in it.

In: the bytes or the text of one file. Out: `Source`, which turns offsets into lines and columns, and `Span`,
the place that every node and every diagnostic carries. First stage of all; it imports nothing of ours.

Offsets count characters (code points) of the normalised text: a byte order mark dropped, every line end a
single line feed. So a span means the same on every machine, whatever the file's line ends are.
"""

from bisect import bisect_right
from functools import cached_property
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import force_setattr

BYTE_ORDER_MARK = "\ufeff"
REPLACEMENT = "\ufffd"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


class Span(NamedTuple):
    """A stretch of text: character offsets, `start` included, `end` not. Spans sort by start, then end.

    A named tuple and not a dataclass because hundreds of thousands are made in a large pattern.
    """

    start: int
    end: int


class Position(NamedTuple):
    """A place as people count: line and column, both from 1, the column in characters."""

    line: int
    column: int


class DecodeProblem(Struct, frozen=True, kw_only=True):
    """Why bytes are not UTF-8 text: the first bad byte, and where it is."""

    byte_offset: int
    """Offset of the first bad byte in the bytes given, from 0."""
    byte: int
    """Its value, 0 to 255."""
    span: Span
    """The replacement character that stands for it in the decoded text."""
    looks_like_utf16: bool
    """The bytes begin with a UTF-16 byte order mark: the file was saved in another encoding."""


class Source(Struct, frozen=True, kw_only=True, dict=True):
    """One text with the name it is reported under.

    `text` is normalised on the way in (see `normalise`), so offsets are those of `source.text`.
    """

    name: str
    """What a diagnostic calls the text: a file name as the user gave it."""
    text: str
    """The normalised text."""

    def __post_init__(self) -> None:
        force_setattr(self, "text", normalise(self.text))

    @cached_property
    def _line_starts(self) -> tuple[int, ...]:
        starts = [0]
        found = self.text.find("\n")
        while found >= 0:
            starts.append(found + 1)
            found = self.text.find("\n", found + 1)
        return tuple(starts)

    @property
    def line_count(self) -> int:
        """Number of lines, at least 1: a text that ends in a line feed has an empty last line."""
        return len(self._line_starts)

    def position(self, offset: int) -> Position:
        """Line and column of an offset from 0 to the length of the text (the end); otherwise `ValueError`.

        The line feed itself belongs to the line it ends.
        """
        if not 0 <= offset <= len(self.text):
            raise ValueError(f"offset {offset} is outside the text (0 to {len(self.text)})")
        line = bisect_right(self._line_starts, offset)
        return Position(line, offset - self._line_starts[line - 1] + 1)

    def line_text(self, line: int) -> str:
        """The text of a line, from 1, without its line feed; `ValueError` if there is no such line."""
        if not 1 <= line <= self.line_count:
            raise ValueError(f"line {line} is outside the text (1 to {self.line_count})")
        start = self._line_starts[line - 1]
        end = self._line_starts[line] - 1 if line < self.line_count else len(self.text)
        return self.text[start:end]


def normalise(text: str) -> str:
    """The text without leading byte order marks, with CRLF and lone CR turned into LF.

    Normalising twice changes nothing more (all leading marks go), so offsets stay true when decoded text
    becomes a `Source`. Other separators (form feed, U+2028) end no line: a diff does not count them either.
    """
    text = text.lstrip(BYTE_ORDER_MARK)
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return text


def decode(data: bytes) -> tuple[str, DecodeProblem | None]:
    """The normalised text of UTF-8 bytes, and the first problem or None.

    With a problem the text is still given, a replacement character for each bad sequence, so that the rest
    can be looked at and the problem shown in its line.
    """
    try:
        return normalise(data.decode("utf-8")), None
    except UnicodeDecodeError as error:
        bad = error.start
    before = len(normalise(data[:bad].decode("utf-8")))
    return normalise(data.decode("utf-8", errors="replace")), DecodeProblem(
        byte_offset=bad,
        byte=data[bad],
        span=Span(before, before + len(REPLACEMENT)),
        looks_like_utf16=data.startswith(_UTF16_MARKS),
    )
