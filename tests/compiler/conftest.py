"""Running the command line inside the tests."""

import io
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import NamedTuple

import pytest

from compiler.cli import main

NOBODY = 65534


class Ran(NamedTuple):
    code: int
    out: str
    err: str


@pytest.fixture
def run(
    capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> Callable[..., Ran]:
    """Runs the command in an empty folder; gives exit code, standard output and standard error."""
    monkeypatch.chdir(tmp_path)

    def ran(*words: str, stdin: bytes = b"") -> Ran:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin)))
        code = main(words)
        out, err = capfd.readouterr()
        return Ran(code, out, err)

    return ran


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that other users can reach, since the folders of pytest are private."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o777)
        yield Path(name)


@contextmanager
def _without_privileges() -> Iterator[None]:
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def without_privileges() -> Callable[[], AbstractContextManager[None]]:
    """Makes what is done in it done by an ordinary user: to root no file is read-only.

    What is imported late must be there before: the modules may lie where no other user can read them.
    """
    return _without_privileges
