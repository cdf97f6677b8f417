"""The terminal: results to standard output, messages to standard error, colour where it is wanted."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from typing import TextIO

from compiler.outfile import OutputError
from compiler.report import as_text, harmless, harmless_json, summary
from notation.diagnostic import Diagnostic
from notation.source import Source


def write_result(data: bytes) -> None:
    """A result for a machine, to standard output as it is: UTF-8, whatever the terminal's own encoding.

    Raises OutputError.
    """
    with _standard_output() as out:
        out.flush()
        out.buffer.write(data)
        out.buffer.flush()


def write_json(text: str) -> None:
    """JSON text, to standard output, with nothing in it that a terminal would obey. Raises OutputError."""
    write_result(harmless_json(text).encode("utf-8"))


def print_result(text: str) -> None:
    """A result for people, to standard output; what its encoding cannot show, or would obey, is written out.

    Raises OutputError.
    """
    with _standard_output() as out:
        encoding = out.encoding or "utf-8"
        out.write(harmless(text).encode(encoding, "backslashreplace").decode(encoding))
        out.flush()


@contextmanager
def _standard_output() -> Iterator[TextIO]:
    if sys.stdout is None:
        raise OutputError("Cannot write to standard output: it is closed.")
    try:
        yield sys.stdout
    except BrokenPipeError:
        silence(sys.stdout)
        raise
    except OSError as error:
        silence(sys.stdout)
        raise OutputError(f"Cannot write to standard output: {error.strerror or error}.") from error


def silence(stream: TextIO) -> None:
    """What Python still holds for a stream that takes no more must not be tried again when the program ends."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def say(text: str) -> None:
    """A message, a line of its own, to standard error; where that takes none, there is nobody to tell.

    What a terminal would obey, in the name of a file as anywhere, is written out.
    """
    pass_on(harmless(text))


def pass_on(text: str) -> None:
    """The same for what was made harmless before it was painted."""
    if sys.stderr is None:
        return
    encoding = sys.stderr.encoding or "utf-8"
    try:
        sys.stderr.write(f"{text}\n".encode(encoding, "backslashreplace").decode(encoding))
        sys.stderr.flush()
    except OSError:
        silence(sys.stderr)


def progress(text: str) -> None:
    """A line on the terminal that the next one is written over; elsewhere nothing, so that logs stay the same."""
    if on_terminal():
        with suppress(OSError):
            sys.stderr.write(f"\r\x1b[K{text}")
            sys.stderr.flush()


def on_terminal() -> bool:
    """Whether messages go to a terminal, where a line of progress can be written over."""
    return sys.stderr is not None and sys.stderr.isatty()


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
    pass_on(as_text(found, sources, short=short, colour=_colour()).rstrip("\n"))
    if not short:
        say("")
    say(summary(found, names))


def _colour() -> bool:
    """Whether to paint: on a terminal that can, and unless NO_COLOR is set (https://no-color.org)."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return on_terminal()
