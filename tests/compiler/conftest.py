"""Running the command line inside the tests."""

import io
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from compiler.cli import main


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
