"""The command line: exit codes, what goes where, and what is never written over."""

import json
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from compiler import cli
from compiler.cli import COMMANDS
from compiler.commands import check as check_command

ROOT = Path(__file__).parent.parent.parent
GOOD = """\
title "Vela"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 4:
        pass 1 link through the one before
"""
LOOSE = GOOD + '    step "End":\n        take 1 link as extra\n'
UNUSED_IN_KIT = GOOD.replace(
    "\npiece", "ring thin: inner 5 mm, wire 0.8 mm, metal copper\n\nkit: 4 link, 2 thin\n\npiece"
)
UNTIDY = GOOD.replace("    line chain of 4:", "    line chain of   4:")


def write(name: str, text: str) -> Path:
    path = Path(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


# ---------------------------------------------------------------- the command as a whole


def test_version_is_that_of_the_project(run) -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert run("--version") == (0, f"annulet {project['version']}\n", "")


def test_help_names_every_command_with_an_example(run) -> None:
    ran = run("--help")
    assert (ran.code, ran.err) == (0, "")
    for name, does in COMMANDS.items():
        assert name in ran.out
        assert does in ran.out
    assert "example:" in ran.out


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_an_example(run, command: str) -> None:
    ran = run(command, "--help")
    assert ran.code == 0
    assert f"annulet {command}" in ran.out.split("example:")[1]


def test_without_a_command_the_help_is_shown_and_the_usage_is_wrong(run) -> None:
    ran = run()
    assert ran.code == 2
    assert "COMMAND" in ran.out


@pytest.mark.parametrize("words", [["chek", "x"], ["check"], ["check", "--nonsense", "x"], ["--nonsense"]])
def test_wrong_usage_is_2_and_told_on_standard_error(run, words: list[str]) -> None:
    ran = run(*words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err


def test_a_mistake_of_ours_is_3_and_asks_for_the_file(run, monkeypatch) -> None:
    def fails(*_: object) -> int:
        raise ZeroDivisionError("no such thing")

    monkeypatch.setattr(check_command, "run", fails)
    ran = run("check", "x")
    assert ran.code == 3
    assert "mistake in annulet" in ran.err
    assert "send us the pattern" in ran.err
    assert "Traceback" not in ran.err
    monkeypatch.setenv("ANNULET_DEBUG", "1")
    ran = run("check", "x")
    assert ran.code == 3
    assert "Traceback" in ran.err


def test_an_interrupt_ends_quietly_with_130(run, monkeypatch) -> None:
    def interrupted(*_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(check_command, "run", interrupted)
    assert run("check", "x") == (130, "", "")


def test_a_closed_pipe_ends_quietly(tmp_path: Path) -> None:
    path = tmp_path / "vela.annulet"
    path.write_text(GOOD.replace("of 4", "of 5000"), "utf-8")
    command = [sys.executable, "-m", "compiler", "export", str(path)]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.read(10)
        process.stdout.close()
        told = process.stderr.read()
    assert (process.returncode, told) == (141, b"")


def test_timings_are_printed_on_standard_error(run) -> None:
    write("vela.annulet", GOOD)
    ran = run("check", "--timings", "vela.annulet")
    assert ran.out == ""
    assert [line.split()[0] for line in ran.err.splitlines()[1:4]] == ["load", "expand", "check"]
    assert "--timings" in run("new", "--help").out


# ---------------------------------------------------------------- check


def test_a_good_pattern_is_0(run) -> None:
    write("vela.annulet", GOOD)
    assert run("check", "vela.annulet") == (0, "", "nothing to put right in vela.annulet\n")


def test_a_pattern_with_errors_is_1_and_told_on_standard_error(run) -> None:
    write("vela.annulet", LOOSE)
    ran = run("check", "vela.annulet")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("vela.annulet:9:9: error[loose-part]: extra hangs on nothing\n")
    assert ran.err.endswith("\n1 error in vela.annulet\n")
    assert "\x1b" not in ran.err


def test_warnings_are_errors_only_with_strict(run) -> None:
    write("vela.annulet", UNUSED_IN_KIT)
    assert run("check", "vela.annulet").code == 0
    assert run("check", "--strict", "vela.annulet").code == 1


def test_json_is_the_result_and_goes_to_standard_output(run) -> None:
    write("vela.annulet", LOOSE)
    ran = run("check", "--json", "vela.annulet")
    assert (ran.code, ran.err) == (1, "")
    report = json.loads(ran.out)
    assert (report["errors"], report["diagnostics"][0]["rule"]) == (1, "loose-part")


def test_short_is_a_line_for_each_and_the_sum(run) -> None:
    write("vela.annulet", LOOSE)
    assert len(run("check", "--short", "vela.annulet").err.splitlines()) == 2


def test_standard_input_is_read_for_a_dash(run) -> None:
    ran = run("check", "-", stdin=LOOSE.encode())
    assert ran.code == 1
    assert ran.err.startswith("<standard input>:9:9: error[loose-part]")


def test_a_folder_is_searched_in_order_and_hidden_folders_are_passed_by(run) -> None:
    for name in ("b/two.annulet", "a/one.annulet", ".git/three.annulet", "a/note.txt"):
        write(f"all/{name}", LOOSE)
    ran = run("check", "--short", "all", "all/a/one.annulet")
    assert [line.split(":")[0] for line in ran.err.splitlines()[:-1]] == [
        "all/a/one.annulet",
        "all/b/two.annulet",
    ]
    assert ran.err.endswith("2 errors in 2 files\n")


def test_a_folder_without_patterns_is_2(run) -> None:
    Path("empty").mkdir()
    ran = run("check", "empty")
    assert ran.code == 2
    assert "no .annulet file" in ran.err


@pytest.mark.parametrize("command", ["check", "steps", "export", "format"])
def test_a_missing_file_is_2_and_one_sentence(run, command: str) -> None:
    assert run(command, "none.annulet") == (
        2,
        "",
        "annulet: Cannot read none.annulet: there is no such file.\n",
    )


@pytest.mark.parametrize("command", ["steps", "export"])
def test_a_folder_in_place_of_a_file_is_2(run, command: str) -> None:
    Path("folder").mkdir()
    ran = run(command, "folder")
    assert (ran.code, ran.out) == (2, "")
    assert "it is a folder" in ran.err


@pytest.mark.parametrize("command", ["check", "steps", "export", "format"])
def test_broken_utf_8_is_1_with_the_place(run, command: str) -> None:
    data = b'title "caf\xe9"\n'
    Path("latin.annulet").write_bytes(data)
    ran = run(command, "latin.annulet")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("latin.annulet:1:11: error[not-utf-8]")
    assert Path("latin.annulet").read_bytes() == data


# ---------------------------------------------------------------- steps and export


def test_steps_prints_the_instruction(run) -> None:
    write("vela.annulet", GOOD)
    ran = run("steps", "vela.annulet")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Vela\n====\n")
    assert all(len(line) <= 60 for line in run("steps", "--width", "60", "vela.annulet").out.splitlines())


def test_export_prints_json(run) -> None:
    ran = run("export", "-", stdin=GOOD.encode())
    assert (ran.code, ran.err) == (0, "")
    assert json.loads(ran.out)["format"] == "annulet-weave"


@pytest.mark.parametrize("command", ["steps", "export"])
def test_a_pattern_with_errors_has_no_steps_and_no_export(run, command: str) -> None:
    write("vela.annulet", LOOSE)
    ran = run(command, "vela.annulet")
    assert (ran.code, ran.out) == (1, "")
    assert "error[loose-part]" in ran.err


def test_the_table_of_commands_is_the_folder_of_commands() -> None:
    modules = {path.stem for path in (ROOT / "compiler/commands").glob("*.py")} - {"__init__", "files"}
    assert modules == set(cli.COMMANDS)
