"""Standard streams that take nothing, or are not there: one sentence or silence, never a traceback."""

import json
import re
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


OBEYED = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""What a terminal obeys, but for the end of a line."""
NASTY = "\x1b[31m \x07 \x9b2J \u202e \u2066 \x85"


@pytest.mark.parametrize(
    "command",
    [
        "check",
        "check --json",
        "steps",
        "export",
        "kit",
        "kit --json",
        "fit",
        "format --diff",
        "same",
        "same --json",
    ],
)
def test_no_text_of_a_pattern_is_obeyed_by_a_terminal(command: str, run) -> None:
    text = f'title "T{NASTY}"\nring link: inner 5 mm, wire 1 mm, metal copper\nlabel link "r{NASTY}"\n'
    text += f'kit: 2 link\npiece p:\n    take 1 link as a # {NASTY}\n    note "N{NASTY}"\n'
    text += "    pass 1   link through a\n"
    Path("a.annulet").write_text(text, "utf-8")
    ran = run(*command.split(), "a.annulet", *(["a.annulet"] if command.startswith("same") else []))
    said = ran.out + ran.err
    assert said
    assert ran.code == 0, ran.err
    assert OBEYED.search(said) is None
    if "--json" in command or command == "export":
        assert isinstance(json.loads(ran.out or "{}"), dict)


@pytest.mark.parametrize(
    "words",
    [
        "check @",
        "check x --@",
        "@",
        "explain @",
        "build x --set @=1",
        "same @ @",
        "build x --jobs @",
        "new @",
    ],
)
def test_no_argument_is_obeyed_by_a_terminal(words: str, run) -> None:
    ran = run(*words.replace("@", NASTY.replace(" ", "")).split())
    assert ran.code == 2
    assert ran.err
    assert OBEYED.search(ran.out + ran.err) is None


def test_a_table_has_its_control_characters_written_out(run) -> None:
    text = 'title "T"\nring link: inner 5 mm, wire 1 mm, metal copper\nlabel link "＝1\x1b[31m"\n'
    Path("a.annulet").write_text(f"{text}kit: 1 link\npiece p:\n  take 1 link\n", "utf-8")
    out = run("kit", "a.annulet", "--csv").out
    assert OBEYED.search(out.replace("\r\n", "\n")) is None
    assert "'＝1\\x1b[31m" in out
