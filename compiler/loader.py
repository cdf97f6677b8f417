"""Pattern files: one and every file it uses; in: a path, out: parsed patterns, sources, problems.

The first stage. A `use` line reads only files that lie inside the project root once every link in their path has
been followed. A file that cannot be opened at all is `InputError` for the pattern itself and a diagnostic for a
file that it uses, for only that has a place.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path, PureWindowsPath

from msgspec import Struct

from compiler.infile import STANDARD_INPUT, ReadError, Text, read_bytes, read_text, text_of
from grammar.parse import parse
from notation.diagnostic import Diagnostic
from notation.limits import DEEPEST_IMPORTS, LONGEST_FILE, MOST_IMPORTS
from notation.margin import Pattern, Use
from notation.source import Source

PROJECT_MARKER = "annulet.project"
"""The name of the file that marks the root folder of a project."""


class Loaded(Struct, frozen=True, kw_only=True):
    """A pattern with every file it uses."""

    pattern: Pattern
    library: Mapping[tuple[str, str], Pattern]
    """Files used, by the name of the file that uses it and the path as written there."""
    sources: Mapping[str, Source]
    """Every file read, by the name it is reported under."""
    diagnostics: tuple[Diagnostic, ...]
    readable: bool
    """False when the pattern itself is not text: nothing it says can be trusted."""


def load(name: str, root: Path | None = None) -> Loaded:
    """A pattern and the files it uses; `root` bounds where those lie (default: the project's folder).

    Raises InputError when the pattern itself cannot be read.
    """
    text = read_text(name)
    folder = Path() if name == STANDARD_INPUT else Path(name).parent
    loading = _Loading(project_root(folder) if root is None else Path(os.path.realpath(root)))
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


def project_root(folder: Path) -> Path:
    """The nearest folder, from this one upward, that has the marker of a project; without one, this folder itself.

    The way up follows the real path, so that a linked folder belongs to the project that it lies in. The marker
    is an ordinary file; what is in it does not matter.
    """
    real = Path(os.path.realpath(folder))
    for candidate in (real, *real.parents):
        marker = candidate / PROJECT_MARKER
        if marker.is_file() and not marker.is_symlink():
            return candidate
    return real


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
        # Behind a linked folder `..` leads elsewhere than the text of the path says; then it is left as it is.
        plain = Path(os.path.normpath(target))
        name = (plain if Path(os.path.realpath(plain)) == real else target).as_posix()
        try:
            text = text_of(name, read_bytes(real))
        except ReadError as error:
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
                place=user.place(use.path.span),
                arguments=(("path", use.path.value), *more.items()),
            )
        )
