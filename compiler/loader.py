"""Pattern files: reads one and every file it uses; in: a path, out: parsed patterns, their sources,
problems.

The first stage. Only ordinary files are read (a device or a pipe could hang or never end), none longer
than the limit, and for a `use` line only files that lie inside the project root once every link in their
path has been followed. A file that cannot be opened at all is `InputError` for the pattern itself and a
diagnostic for a file that it uses, for only that has a place.
"""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath

from grammar.parse import parse
from notation.diagnostic import Diagnostic, Place
from notation.limits import DEEPEST_IMPORTS, LONGEST_FILE, MOST_IMPORTS
from notation.source import DecodeProblem, Source, decode
from notation.statements import Pattern, Use

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A file as read."""

    source: Source
    data: bytes
    """The bytes it had."""
    problem: Diagnostic | None
    """Set when the bytes are not UTF-8; then the text has a replacement character for each bad one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """A pattern with every file it uses."""

    pattern: Pattern
    library: Mapping[tuple[str, str], Pattern]
    """Files used, by the name of the file that uses it and the path as written there."""
    sources: Mapping[str, Source]
    """Every file read, by the name it is reported under."""
    diagnostics: tuple[Diagnostic, ...]
    readable: bool
    """False when the pattern itself is not text: nothing it says can be trusted."""


class _ReadError(Exception):
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
            return _text(_STANDARD_INPUT_NAME, _all_of_standard_input())
        return _text(name, _read(Path(name)))
    except _ReadError as error:
        shown = "standard input" if name == STANDARD_INPUT else name
        raise InputError(f"Cannot read {shown}: {_SAYS.get(error.variant, error.reason)}.") from error


def load(name: str, root: Path | None = None) -> Loaded:
    """A pattern and the files it uses; `root` bounds where those lie (default: the folder of the pattern).

    Raises InputError when the pattern itself cannot be read.
    """
    text = read_text(name)
    folder = Path() if name == STANDARD_INPUT else Path(name).parent
    loading = _Loading(Path(os.path.realpath(folder if root is None else root)))
    pattern = loading.take(text)
    real = "" if name == STANDARD_INPUT else os.path.realpath(name)
    if text.problem is None:
        loading.follow(pattern, folder, (real,))
    return Loaded(
        pattern=pattern,
        library=loading.library,
        sources=loading.sources,
        diagnostics=tuple(loading.diagnostics),
        readable=text.problem is None,
    )


class _Loading:
    """One pattern's files while they are being read, each once however often it is used."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.library: dict[tuple[str, str], Pattern] = {}
        self.sources: dict[str, Source] = {}
        self.diagnostics: list[Diagnostic] = []
        self._patterns: dict[str, Pattern | None] = {}
        """By real path; None for a file that is not text."""
        self._heights: dict[str, int] = {}
        """By real path of a file read to its end: the longest chain of files below it."""

    def take(self, text: Text) -> Pattern:
        """Parse a text and keep what it was and what is wrong with it."""
        self.sources[text.source.name] = text.source
        pattern, told = parse(text.source)
        self.diagnostics.extend(told if text.problem is None else (text.problem,))
        return pattern

    def follow(self, pattern: Pattern, folder: Path, chain: tuple[str, ...]) -> int:
        """Read what a pattern uses; gives the longest chain of files below it.

        `chain` has the real paths from the pattern that is built to this one.
        """
        height = 0
        for statement in pattern.statements:
            if isinstance(statement, Use):
                height = max(height, self._use(pattern, folder, statement, chain))
        return height

    def _use(self, user: Pattern, folder: Path, use: Use, chain: tuple[str, ...]) -> int:
        path = use.path.value
        windows = PureWindowsPath(path)
        if path.startswith("/") or windows.drive or windows.root:
            self._tell(user, use, "import-outside-project", "absolute")
            return 0
        target = folder / path
        real = Path(os.path.realpath(target)) if "\0" not in path else target
        if not real.is_relative_to(self.root):
            self._tell(user, use, "import-outside-project")
            return 0
        key = str(real)
        if key in chain:
            self._tell(user, use, "import-circle")
            return 0
        below = self._heights.get(key, 0)
        if len(chain) + below > DEEPEST_IMPORTS:
            self._tell(user, use, "imports-too-deep", limit=DEEPEST_IMPORTS)
            return 0
        if key not in self._patterns:
            if len(self._patterns) >= MOST_IMPORTS:
                self._tell(user, use, "too-many-imports", limit=MOST_IMPORTS)
                return 0
            if not self._read_used(user, use, target, real):
                return 0
        pattern = self._patterns[key]
        if pattern is None:
            return 0
        self.library[user.source.name, path] = pattern
        if key not in self._heights:
            self._heights[key] = self.follow(pattern, target.parent, (*chain, key))
        return 1 + self._heights[key]

    def _read_used(self, user: Pattern, use: Use, target: Path, real: Path) -> bool:
        name = Path(os.path.normpath(target)).as_posix()
        try:
            text = _text(name, _read(real))
        except _ReadError as error:
            self._tell(
                user,
                use,
                "import-not-read",
                error.variant,
                looked=name,
                limit=LONGEST_FILE,
                reason=error.reason,
            )
            return False
        pattern = self.take(text)
        self._patterns[str(real)] = pattern if text.problem is None else None
        return True

    def _tell(self, user: Pattern, use: Use, rule: str, variant: str = "", **more: str | int) -> None:
        self.diagnostics.append(
            Diagnostic(
                rule=rule,
                variant=variant,
                place=Place(source=user.source.name, span=use.path.span),
                arguments=(("path", use.path.value), *more.items()),
            )
        )


def _text(name: str, data: bytes) -> Text:
    text, problem = decode(data)
    if len(text) > LONGEST_FILE:
        raise _ReadError("too-large")
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


def _read(path: Path) -> bytes:
    """The bytes of an ordinary file. Raises _ReadError."""
    # Without O_NONBLOCK opening a named pipe waits for a writer that may never come.
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, flags)
    except (FileNotFoundError, NotADirectoryError, ValueError) as error:
        raise _ReadError("missing") from error
    except OSError as error:
        raise _ReadError("folder" if path.is_dir() else "unreadable", _reason(error)) from error
    try:
        with os.fdopen(handle, "rb") as file:
            mode = os.fstat(file.fileno()).st_mode
            if stat.S_ISDIR(mode):
                raise _ReadError("folder")
            if not stat.S_ISREG(mode):
                raise _ReadError("special")
            data = file.read(_MOST_BYTES + 1)
    except OSError as error:
        # On some systems a folder can be opened but not wrapped in a file.
        raise _ReadError("folder" if path.is_dir() else "unreadable", _reason(error)) from error
    if len(data) > _MOST_BYTES:
        raise _ReadError("too-large")
    return data


def _all_of_standard_input() -> bytes:
    try:
        data = sys.stdin.buffer.read(_MOST_BYTES + 1)
    except OSError as error:
        raise _ReadError("unreadable", _reason(error)) from error
    if len(data) > _MOST_BYTES:
        raise _ReadError("too-large")
    return data


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()
