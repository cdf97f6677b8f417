"""The terminal: results to standard output, messages to standard error, colour where it is wanted."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Mapping, Sequence

from compiler.report import as_text, summary
from notation.diagnostic import Diagnostic
from notation.source import Source


def write_result(data: bytes) -> None:
    """A result for a machine, to standard output as it is: UTF-8, whatever the terminal's own encoding."""
    sys.stdout.flush()
    sys.stdout.buffer.write(data)
    sys.stdout.buffer.flush()


def print_result(text: str) -> None:
    """A result for people, to standard output; what its encoding cannot show is written out."""
    encoding = sys.stdout.encoding or "utf-8"
    sys.stdout.write(text.encode(encoding, "backslashreplace").decode(encoding))
    sys.stdout.flush()


def say(text: str) -> None:
    """A message, a line of its own, to standard error."""
    encoding = sys.stderr.encoding or "utf-8"
    sys.stderr.write(f"{text}\n".encode(encoding, "backslashreplace").decode(encoding))


def say_diagnostics(
    diagnostics: Iterable[Diagnostic],
    sources: Mapping[str, Source],
    names: Sequence[str],
    *,
    short: bool = False,
) -> None:
    """The report and its last line, to standard error; nothing where there is nothing to tell."""
    found = list(diagnostics)
    if not found:
        return
    say(as_text(found, sources, short=short, colour=_colour()).rstrip("\n"))
    if not short:
        say("")
    say(summary(found, names))


def _colour() -> bool:
    """Whether to paint: on a terminal that can, and unless NO_COLOR is set (https://no-color.org)."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return sys.stderr.isatty()
