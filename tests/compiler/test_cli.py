"""The command line: exit codes, what goes where, and what is never written over."""

import io
import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import NamedTuple

import pytest

from compiler import cli
from compiler.cli import COMMANDS, main
from compiler.commands import check as check_command
from compiler.commands import new as new_command

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


class Ran(NamedTuple):
    code: int
    out: str
    err: str


@pytest.fixture
def run(capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> "object":
    """Runs the command in an empty folder; gives exit code, standard output and standard error."""
    monkeypatch.chdir(tmp_path)

    def ran(*words: str, stdin: bytes = b"") -> Ran:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin)))
        code = main(words)
        out, err = capfd.readouterr()
        return Ran(code, out, err)

    return ran


def write(name: str, text: str) -> Path:
    path = Path(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


# ---------------------------------------------------------------- the command as a whole


def test_version_is_that_of_the_project(run) -> None:  # type: ignore[no-untyped-def]
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert run("--version") == (0, f"annulet {project['version']}\n", "")


def test_help_names_every_command_with_an_example(run) -> None:  # type: ignore[no-untyped-def]
    ran = run("--help")
    assert (ran.code, ran.err) == (0, "")
    for name, does in COMMANDS.items():
        assert name in ran.out
        assert does in ran.out
    assert "example:" in ran.out


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_an_example(run, command: str) -> None:  # type: ignore[no-untyped-def]
    ran = run(command, "--help")
    assert ran.code == 0
    assert f"annulet {command}" in ran.out.split("example:")[1]


def test_without_a_command_the_help_is_shown_and_the_usage_is_wrong(run) -> None:  # type: ignore[no-untyped-def]
    ran = run()
    assert ran.code == 2
    assert "COMMAND" in ran.out


@pytest.mark.parametrize("words", [["chek", "x"], ["check"], ["check", "--nonsense", "x"], ["--nonsense"]])
def test_wrong_usage_is_2_and_told_on_standard_error(run, words: list[str]) -> None:  # type: ignore[no-untyped-def]
    ran = run(*words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err


def test_a_mistake_of_ours_is_3_and_asks_for_the_file(run, monkeypatch) -> None:  # type: ignore[no-untyped-def]
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


def test_an_interrupt_ends_quietly_with_130(run, monkeypatch) -> None:  # type: ignore[no-untyped-def]
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


def test_timings_are_printed_on_standard_error(run) -> None:  # type: ignore[no-untyped-def]
    write("vela.annulet", GOOD)
    ran = run("check", "--timings", "vela.annulet")
    assert ran.out == ""
    assert [line.split()[0] for line in ran.err.splitlines()[1:4]] == ["load", "expand", "check"]
    assert "--timings" in run("new", "--help").out


# ---------------------------------------------------------------- check


def test_a_good_pattern_is_0(run) -> None:  # type: ignore[no-untyped-def]
    write("vela.annulet", GOOD)
    assert run("check", "vela.annulet") == (0, "", "nothing to put right in vela.annulet\n")


def test_a_pattern_with_errors_is_1_and_told_on_standard_error(run) -> None:  # type: ignore[no-untyped-def]
    write("vela.annulet", LOOSE)
    ran = run("check", "vela.annulet")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("vela.annulet:9:9: error[loose-part]: extra hangs on nothing\n")
    assert ran.err.endswith("\n1 error in vela.annulet\n")
    assert "\x1b" not in ran.err


def test_warnings_are_errors_only_with_strict(run) -> None:  # type: ignore[no-untyped-def]
    write("vela.annulet", UNUSED_IN_KIT)
    assert run("check", "vela.annulet").code == 0
    assert run("check", "--strict", "vela.annulet").code == 1


def test_json_is_the_result_and_goes_to_standard_output(run) -> None:  # type: ignore[no-untyped-def]
    write("vela.annulet", LOOSE)
    ran = run("check", "--json", "vela.annulet")
    assert (ran.code, ran.err) == (1, "")
    report = json.loads(ran.out)
    assert (report["errors"], report["diagnostics"][0]["rule"]) == (1, "loose-part")


def test_short_is_a_line_for_each_and_the_sum(run) -> None:  # type: ignore[no-untyped-def]
    write("vela.annulet", LOOSE)
    assert len(run("check", "--short", "vela.annulet").err.splitlines()) == 2


def test_standard_input_is_read_for_a_dash(run) -> None:  # type: ignore[no-untyped-def]
    ran = run("check", "-", stdin=LOOSE.encode())
    assert ran.code == 1
    assert ran.err.startswith("<standard input>:9:9: error[loose-part]")


def test_a_folder_is_searched_in_order_and_hidden_folders_are_passed_by(run) -> None:  # type: ignore[no-untyped-def]
    for name in ("b/two.annulet", "a/one.annulet", ".git/three.annulet", "a/note.txt"):
        write(f"all/{name}", LOOSE)
    ran = run("check", "--short", "all", "all/a/one.annulet")
    assert [line.split(":")[0] for line in ran.err.splitlines()[:-1]] == [
        "all/a/one.annulet",
        "all/b/two.annulet",
    ]
    assert ran.err.endswith("2 errors in 2 files\n")


def test_a_folder_without_patterns_is_2(run) -> None:  # type: ignore[no-untyped-def]
    Path("empty").mkdir()
    ran = run("check", "empty")
    assert ran.code == 2
    assert "no .annulet file" in ran.err


@pytest.mark.parametrize("command", ["check", "steps", "export", "format"])
def test_a_missing_file_is_2_and_one_sentence(run, command: str) -> None:  # type: ignore[no-untyped-def]
    assert run(command, "none.annulet") == (
        2,
        "",
        "annulet: Cannot read none.annulet: there is no such file.\n",
    )


@pytest.mark.parametrize("command", ["steps", "export"])
def test_a_folder_in_place_of_a_file_is_2(run, command: str) -> None:  # type: ignore[no-untyped-def]
    Path("folder").mkdir()
    ran = run(command, "folder")
    assert (ran.code, ran.out) == (2, "")
    assert "it is a folder" in ran.err


@pytest.mark.parametrize("command", ["check", "steps", "export", "format"])
def test_broken_utf_8_is_1_with_the_place(run, command: str) -> None:  # type: ignore[no-untyped-def]
    data = b'title "caf\xe9"\n'
    Path("latin.annulet").write_bytes(data)
    ran = run(command, "latin.annulet")
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("latin.annulet:1:11: error[not-utf-8]")
    assert Path("latin.annulet").read_bytes() == data


# ---------------------------------------------------------------- steps and export


def test_steps_prints_the_instruction(run) -> None:  # type: ignore[no-untyped-def]
    write("vela.annulet", GOOD)
    ran = run("steps", "vela.annulet")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Vela\n====\n")
    assert all(len(line) <= 60 for line in run("steps", "--width", "60", "vela.annulet").out.splitlines())


def test_export_prints_json(run) -> None:  # type: ignore[no-untyped-def]
    ran = run("export", "-", stdin=GOOD.encode())
    assert (ran.code, ran.err) == (0, "")
    assert json.loads(ran.out)["format"] == "annulet-weave"


@pytest.mark.parametrize("command", ["steps", "export"])
def test_a_pattern_with_errors_has_no_steps_and_no_export(run, command: str) -> None:  # type: ignore[no-untyped-def]
    write("vela.annulet", LOOSE)
    ran = run(command, "vela.annulet")
    assert (ran.code, ran.out) == (1, "")
    assert "error[loose-part]" in ran.err


# ---------------------------------------------------------------- format


def test_format_writes_the_usual_way_and_keeps_the_mode(run) -> None:  # type: ignore[no-untyped-def]
    path = write("vela.annulet", UNTIDY)
    path.chmod(0o640)
    assert run("format", "vela.annulet").code == 0
    assert path.read_text("utf-8") == GOOD
    assert path.stat().st_mode & 0o777 == 0o640
    assert [path.name for path in Path().iterdir()] == ["vela.annulet"]


def test_format_leaves_a_tidy_file_untouched(run) -> None:  # type: ignore[no-untyped-def]
    path = write("vela.annulet", GOOD)
    os.utime(path, (1, 1))
    assert run("format", "vela.annulet") == (0, "", "")
    assert path.stat().st_mtime == 1


def test_format_check_writes_nothing_and_lists_what_would_change(run) -> None:  # type: ignore[no-untyped-def]
    untidy, tidy = write("a.annulet", UNTIDY), write("b.annulet", GOOD)
    ran = run("format", "--check", ".")
    assert (ran.code, ran.err) == (1, "a.annulet would change\n")
    assert (untidy.read_text("utf-8"), tidy.read_text("utf-8")) == (UNTIDY, GOOD)
    assert run("format", "--check", "b.annulet").code == 0


def test_format_check_sees_line_ends_and_byte_order_marks(run) -> None:  # type: ignore[no-untyped-def]
    for name, data in (
        ("crlf", GOOD.replace("\n", "\r\n").encode()),
        ("mark", b"\xef\xbb\xbf" + GOOD.encode()),
    ):
        Path(f"{name}.annulet").write_bytes(data)
        assert run("format", "--check", f"{name}.annulet").code == 1


def test_format_diff_prints_and_writes_nothing(run) -> None:  # type: ignore[no-untyped-def]
    path = write("vela.annulet", UNTIDY)
    ran = run("format", "--diff", "vela.annulet")
    assert ran.code == 0
    assert "-    line chain of   4:\n+    line chain of 4:\n" in ran.out
    assert path.read_text("utf-8") == UNTIDY


def test_format_never_writes_a_file_with_errors(run) -> None:  # type: ignore[no-untyped-def]
    broken = UNTIDY + "    pass through through\n"
    path = write("vela.annulet", broken)
    ran = run("format", "vela.annulet")
    assert ran.code == 1
    assert "vela.annulet is left as it is" in ran.err
    assert path.read_text("utf-8") == broken


def test_format_of_standard_input_goes_to_standard_output(run) -> None:  # type: ignore[no-untyped-def]
    assert run("format", "-", stdin=UNTIDY.encode()) == (0, GOOD, "")


def test_format_of_a_read_only_file_is_2_and_says_so(run) -> None:  # type: ignore[no-untyped-def]
    path = write("vela.annulet", UNTIDY)
    path.chmod(0o444)
    if os.access(path, os.W_OK):
        pytest.skip("this user may write everything")
    ran = run("format", "vela.annulet")
    assert ran.code == 2
    assert "Cannot write vela.annulet" in ran.err
    assert path.read_text("utf-8") == UNTIDY


# ---------------------------------------------------------------- explain


def test_explain_prints_the_page_of_a_rule(run) -> None:  # type: ignore[no-untyped-def]
    ran = run("explain", "lone-twin")
    assert ran.code == 0
    assert ran.out.startswith("lone-twin (error): a companion that missed a ring\n\n")


def test_explain_lists_all_rules(run) -> None:  # type: ignore[no-untyped-def]
    assert "over-budget" in run("explain").out


def test_explain_of_no_rule_is_2_with_the_nearest(run) -> None:  # type: ignore[no-untyped-def]
    ran = run("explain", "lone-twni")
    assert ran.code == 2
    assert "Did you mean lone-twin?" in ran.err


# ---------------------------------------------------------------- new


def test_the_starter_pattern_is_clean_and_stays_as_it_is_when_formatted(run) -> None:  # type: ignore[no-untyped-def]
    assert run("new", "vela-bracelet").code == 0
    text = Path("vela-bracelet.annulet").read_text("utf-8")
    assert 'title "Vela bracelet"\n' in text
    ran = run("check", "--strict", "--short", "vela-bracelet.annulet")
    assert ran.code == 0
    assert "warning" not in ran.err
    assert run("format", "--check", "vela-bracelet.annulet").code == 0
    assert run("steps", "vela-bracelet.annulet").code == 0


def test_new_never_writes_over_a_file(run) -> None:  # type: ignore[no-untyped-def]
    path = write("vela.annulet", "mine\n")
    for name in ("vela", "vela.annulet"):
        ran = run("new", name)
        assert (ran.code, ran.out) == (2, "")
        assert "is there already" in ran.err
    assert path.read_text("utf-8") == "mine\n"


def test_new_does_not_follow_a_link(run) -> None:  # type: ignore[no-untyped-def]
    Path("vela.annulet").symlink_to("elsewhere")
    assert run("new", "vela").code == 2
    assert not Path("elsewhere").exists()


@pytest.mark.parametrize("name", ["", ".", "..", "a\x1bb", "none/vela"])
def test_new_refuses_what_is_no_name(run, name: str) -> None:  # type: ignore[no-untyped-def]
    ran = run("new", name)
    assert ran.code == 2
    assert ran.err.startswith("annulet: ")
    assert not any(ord(c) < 32 and c != "\n" for c in ran.err)
    assert list(Path().iterdir()) == []


def test_new_in_a_read_only_folder_says_so(run) -> None:  # type: ignore[no-untyped-def]
    Path("shut").mkdir(mode=0o500)
    if os.access("shut", os.W_OK):
        pytest.skip("this user may write everywhere")
    ran = run("new", "shut/vela")
    assert ran.code == 2
    assert "permission denied" in ran.err


def test_new_escapes_the_title(run) -> None:  # type: ignore[no-untyped-def]
    assert run("new", 'a"b\\c').code == 0
    assert run("check", 'a"b\\c.annulet').code == 0
    assert 'title "A\\"b\\\\c"' in Path('a"b\\c.annulet').read_text("utf-8")


def test_titles_are_made_of_file_names() -> None:
    assert new_command.title_of("vela-bracelet_2") == "Vela bracelet 2"
    assert new_command.title_of("-") == "-"


def test_the_table_of_commands_is_the_folder_of_commands() -> None:
    modules = {path.stem for path in (ROOT / "compiler/commands").glob("*.py")} - {"__init__", "files"}
    assert modules == set(cli.COMMANDS)
