"""Standard streams that take nothing, or are not there: one sentence or silence, never a traceback."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
VELA = "patterns/vela-bracelet.annulet"
WITH_RESULT = [
    "steps",
    "export",
    "check --json",
    "metals",
    "explain lone-twin",
    "build --schematic -o -",
    "kit",
    "kit --csv",
]


def shell(line: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        f'"{sys.executable}" -m compiler {line}', shell=True, cwd=ROOT, capture_output=True, text=True
    )


def words(command: str) -> str:
    return command if command.startswith(("metals", "explain")) else f"{command} {VELA}"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("command", WITH_RESULT)
def test_output_to_a_full_disk_is_2_and_one_sentence(command: str) -> None:
    ran = shell(f"{words(command)} > /dev/full")
    assert ran.returncode == 2
    assert ran.stderr.splitlines()[-1] == (
        "annulet: Cannot write to standard output: No space left on device."
    )
    assert "Traceback" not in ran.stderr
    assert "Exception ignored" not in ran.stderr


@pytest.mark.parametrize("command", ["steps", "build --schematic -o -"])
def test_output_that_is_closed_is_2_and_one_sentence(command: str) -> None:
    ran = shell(f"{words(command)} >&-")
    assert ran.returncode == 2
    assert ran.stderr.endswith("annulet: Cannot write to standard output: it is closed.\n")


@pytest.mark.parametrize("where", ["2>&-", "2> /dev/full"])
@pytest.mark.parametrize(("file", "code"), [(VELA, 0), ("none.annulet", 2)])
def test_messages_that_nobody_takes_change_no_exit_code(where: str, file: str, code: int) -> None:
    if "full" in where and not Path("/dev/full").exists():
        pytest.skip("this system has no device that is always full")
    assert shell(f"check {file} {where}").returncode == code
    ran = shell(f"steps {file} {where}")
    assert (ran.returncode, bool(ran.stdout)) == (code, code == 0)


def test_input_that_is_closed_is_2_and_one_sentence() -> None:
    ran = shell("check - <&-")
    assert (ran.returncode, ran.stderr) == (2, "annulet: Cannot read standard input: it is closed.\n")
