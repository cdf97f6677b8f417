"""Writing a result to a file whole or not at all; in: a path and bytes, out: the file or one clear error.

Also the date that a build gives to what it writes, since that is the one thing about a file that is not
in its text.
"""

import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path


class OutputError(Exception):
    """A file that could not be written; the message is one sentence for the person at the keyboard."""

    def __init__(self, message: str) -> None:
        """With the sentence to print."""
        super().__init__(message)
        self.message = message


_YEAR_10000 = 253_402_300_800


def source_date(environ: Mapping[str, str]) -> int | None:
    """The date to write into a file, in seconds since 1970-01-01 UTC; nothing where none is asked for.

    It is the variable SOURCE_DATE_EPOCH of the reproducible-builds.org specification, which wants a build to
    fail when the value is malformed. Raises OutputError.
    """
    text = environ.get("SOURCE_DATE_EPOCH", "")
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and len(text) <= 12 and int(text) < _YEAR_10000):
        shown = text if len(text) <= 40 else text[:40] + "…"
        raise OutputError(f"SOURCE_DATE_EPOCH must be a whole number of seconds since 1970, not {shown!r}.")
    return int(text)


def write_whole(path: Path, data: bytes) -> None:
    """Write the bytes aside in the same folder, then put them in the place of the file in one step.

    Until then the old file stays as it is, and it stays if anything fails (POSIX rename(2); on other
    systems as `os.replace` promises). A link is followed, so that the file it names is renewed, not the
    link. Raises OutputError.
    """
    target = Path(os.path.realpath(path))
    aside: Path | None = None
    try:
        if target.is_dir():
            raise OutputError(f"Cannot write {path}: it is a folder. Give the name of a file in it.")
        if target.exists() and not target.is_file():
            raise OutputError(f"Cannot write {path}: it is not an ordinary file.")
        mode = _mode(target)
        # Named before it is made, so that an interrupt at any moment finds it to take away.
        aside = target.parent / f".annulet-{os.urandom(8).hex()}.part"
        handle = os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        aside.chmod(mode)
        aside.replace(target)
        aside = None
    except OSError as error:
        raise OutputError(f"Cannot write {path}: {_reason(error, target)}") from error
    finally:
        if aside is not None:
            with suppress(OSError):
                aside.unlink()


def _mode(target: Path) -> int:
    """The permissions the file shall have: those it had, or those that a new file gets here."""
    if not target.exists():
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
    with target.open("ab"):  # a file that may not be written is not replaced either
        return target.stat().st_mode & 0o777


def _reason(error: OSError, target: Path) -> str:
    if not target.parent.is_dir():
        return f"there is no folder {target.parent}."
    return f"{error.strerror or error}."
