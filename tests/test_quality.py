"""Lint, format and strict types are clean; the settings of all three are in `pyproject.toml`."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.mark.parametrize(
    "command",
    [("ruff", "check", "--quiet"), ("ruff", "format", "--check", "--quiet"), ("mypy",)],
    ids=["lint", "format", "types"],
)
def test_the_code_passes(command: tuple[str, ...]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
