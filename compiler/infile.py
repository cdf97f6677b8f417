"""One file in: reads it, whole and as text; in: a name, out: its text and bytes, or one clear error.

Only ordinary files are read (a device or a pipe could hang or never end), and none longer than the limit.
"""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

from msgspec import Struct

from notation.diagnostic import Diagnostic, Place
from notation.limits import LONGEST_FILE
from notation.source import DecodeProblem, Source, decode

STANDARD_INPUT = "-"
"""The file name that means standard input."""
_STANDARD_INPUT_NAME = "<standard input>"
_MOST_BYTES = 4 * LONGEST_FILE
"""More bytes than this cannot be so few characters."""


class InputError(Exception):
    """A file that could not be read; the message is one sentence for the person at the keyboard."""

    def __init__(self, message: str) -> None:
        """With the sentence to print."""
        super().__init__(message)
        self.message = message


class ReadError(Exception):
    """Why a file was not read: a variant of the rule `import-not-read`, with a reason for one of them."""

    def __init__(self, variant: str, reason: str = "") -> None:
        super().__init__(variant)
        self.variant = variant
        self.reason = reason


_SAYS = {
    "missing": "there is no such file",
    "folder": "it is a folder, not a pattern file",
    "special": "it is not an ordinary file; to read a pipe, give - for standard input",
    "too-large": f"it is too long for a pattern (the limit is {LONGEST_FILE} characters)",
}


def read_text(name: str) -> Text:
    """The text of a file, or of standard input for `-`. Raises InputError."""
    try:
        if name == STANDARD_INPUT:
            return text_of(_STANDARD_INPUT_NAME, _all_of_standard_input())
        return text_of(name, read_bytes(Path(name)))
    except ReadError as error:
        shown = "standard input" if name == STANDARD_INPUT else name
        raise InputError(f"Cannot read {shown}: {_SAYS.get(error.variant, error.reason)}.") from error


class Text(Struct, frozen=True, kw_only=True):
    """A file as read."""

    source: Source
    data: bytes
    """The bytes it had."""
    problem: Diagnostic | None
    """Set when the bytes are not UTF-8; then the text has a replacement character for each bad one."""


def text_of(name: str, data: bytes) -> Text:
    """The text of bytes, under the name it is reported by. Raises ReadError when it is too long."""
    text, problem = decode(data)
    if len(text) > LONGEST_FILE:
        raise ReadError("too-large")
    source = Source(name=name, text=text)
    told = None if problem is None else _not_utf_8(source, problem)
    return Text(source=source, data=data, problem=told)


def _not_utf_8(source: Source, problem: DecodeProblem) -> Diagnostic:
    return Diagnostic(
        rule="not-utf-8",
        variant="utf-16" if problem.looks_like_utf16 else "",
        place=Place(source=source.name, span=problem.span),
        arguments=(("byte", f"0x{problem.byte:02x}"), ("offset", problem.byte_offset)),
    )


def read_bytes(path: Path, most: int | None = None) -> bytes:
    """The bytes of an ordinary file, if they are no more than so many, or than a pattern may have. Raises ReadError.

    However the file grows meanwhile, one byte more than that is the last that is read.
    """
    most = _MOST_BYTES if most is None else most
    # Without O_NONBLOCK opening a named pipe waits for a writer that may never come.
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, flags)
    except (FileNotFoundError, NotADirectoryError, ValueError) as error:
        raise ReadError("missing") from error
    except OSError as error:
        raise ReadError("folder" if path.is_dir() else "unreadable", _reason(error)) from error
    try:
        with os.fdopen(handle, "rb") as file:
            mode = os.fstat(file.fileno()).st_mode
            if stat.S_ISDIR(mode):
                raise ReadError("folder")
            if not stat.S_ISREG(mode):
                raise ReadError("special")
            data = file.read(most + 1)
    except OSError as error:
        # On some systems a folder can be opened but not wrapped in a file.
        raise ReadError("folder" if path.is_dir() else "unreadable", _reason(error)) from error
    if len(data) > most:
        raise ReadError("too-large")
    return data


def _all_of_standard_input() -> bytes:
    if sys.stdin is None:
        raise ReadError("unreadable", "it is closed")
    try:
        data = sys.stdin.buffer.read(_MOST_BYTES + 1)
    except OSError as error:
        raise ReadError("unreadable", _reason(error)) from error
    if len(data) > _MOST_BYTES:
        raise ReadError("too-large")
    return data


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()
