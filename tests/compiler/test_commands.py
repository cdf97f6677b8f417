"""The commands that write pattern files or print pages: format, explain, new."""

import os
from pathlib import Path

import pytest

from compiler.commands import new as new_command
from notation.metals import METALS

GOOD = """\
title "Vela"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 4:
        pass 1 link through the one before
"""
UNTIDY = GOOD.replace("    line chain of 4:", "    line chain of   4:")


def write(name: str, text: str) -> Path:
    path = Path(name)
    path.write_text(text, "utf-8")
    return path


# ---------------------------------------------------------------- format


def test_format_writes_the_usual_way_and_keeps_the_mode(run) -> None:
    path = write("vela.annulet", UNTIDY)
    path.chmod(0o640)
    assert run("format", "vela.annulet").code == 0
    assert path.read_text("utf-8") == GOOD
    assert path.stat().st_mode & 0o777 == 0o640
    assert [path.name for path in Path().iterdir()] == ["vela.annulet"]


def test_format_leaves_a_tidy_file_untouched(run) -> None:
    path = write("vela.annulet", GOOD)
    os.utime(path, (1, 1))
    assert run("format", "vela.annulet") == (0, "", "")
    assert path.stat().st_mtime == 1


def test_format_check_writes_nothing_and_lists_what_would_change(run) -> None:
    untidy, tidy = write("a.annulet", UNTIDY), write("b.annulet", GOOD)
    ran = run("format", "--check", ".")
    assert (ran.code, ran.err) == (1, "a.annulet would change\n")
    assert (untidy.read_text("utf-8"), tidy.read_text("utf-8")) == (UNTIDY, GOOD)
    assert run("format", "--check", "b.annulet").code == 0


def test_format_check_sees_line_ends_and_byte_order_marks(run) -> None:
    for name, data in (
        ("crlf", GOOD.replace("\n", "\r\n").encode()),
        ("mark", b"\xef\xbb\xbf" + GOOD.encode()),
    ):
        Path(f"{name}.annulet").write_bytes(data)
        assert run("format", "--check", f"{name}.annulet").code == 1


def test_format_diff_prints_and_writes_nothing(run) -> None:
    path = write("vela.annulet", UNTIDY)
    ran = run("format", "--diff", "vela.annulet")
    assert ran.code == 0
    assert "-    line chain of   4:\n+    line chain of 4:\n" in ran.out
    assert path.read_text("utf-8") == UNTIDY


def test_format_never_writes_a_file_with_errors(run) -> None:
    broken = UNTIDY + "    pass through through\n"
    path = write("vela.annulet", broken)
    ran = run("format", "vela.annulet")
    assert ran.code == 1
    assert "vela.annulet is left as it is" in ran.err
    assert path.read_text("utf-8") == broken


def test_format_of_standard_input_goes_to_standard_output(run) -> None:
    assert run("format", "-", stdin=UNTIDY.encode()) == (0, GOOD, "")


def test_format_of_a_read_only_file_is_2_and_says_so(
    run, monkeypatch, open_folder, without_privileges
) -> None:
    monkeypatch.chdir(open_folder)
    path = write("vela.annulet", UNTIDY)
    path.chmod(0o444)
    with without_privileges():
        ran = run("format", "vela.annulet")
    assert ran.code == 2
    assert "Cannot write vela.annulet" in ran.err
    assert path.read_text("utf-8") == UNTIDY


# ---------------------------------------------------------------- explain


def test_explain_prints_the_page_of_a_rule(run) -> None:
    ran = run("explain", "lone-twin")
    assert ran.code == 0
    assert ran.out.startswith("lone-twin (error): a companion that missed a ring\n\n")


def test_explain_lists_all_rules(run) -> None:
    assert "over-budget" in run("explain").out


def test_explain_of_no_rule_is_2_with_the_nearest(run) -> None:
    ran = run("explain", "lone-twni")
    assert ran.code == 2
    assert "Did you mean lone-twin?" in ran.err


# ---------------------------------------------------------------- new


def test_the_starter_pattern_is_clean_and_stays_as_it_is_when_formatted(run) -> None:
    assert run("new", "vela-bracelet").code == 0
    text = Path("vela-bracelet.annulet").read_text("utf-8")
    assert 'title "Vela bracelet"\n' in text
    ran = run("check", "--strict", "--short", "vela-bracelet.annulet")
    assert ran.code == 0
    assert "warning" not in ran.err
    assert run("format", "--check", "vela-bracelet.annulet").code == 0
    assert run("steps", "vela-bracelet.annulet").code == 0


def test_new_never_writes_over_a_file(run) -> None:
    path = write("vela.annulet", "mine\n")
    for name in ("vela", "vela.annulet"):
        ran = run("new", name)
        assert (ran.code, ran.out) == (2, "")
        assert "is there already" in ran.err
    assert path.read_text("utf-8") == "mine\n"


def test_new_does_not_follow_a_link(run) -> None:
    Path("vela.annulet").symlink_to("elsewhere")
    assert run("new", "vela").code == 2
    assert not Path("elsewhere").exists()


@pytest.mark.parametrize("name", ["", ".", "..", "a\x1bb", "none/vela"])
def test_new_refuses_what_is_no_name(run, name: str) -> None:
    ran = run("new", name)
    assert ran.code == 2
    assert ran.err.startswith("annulet: ")
    assert not any(ord(c) < 32 and c != "\n" for c in ran.err)
    assert list(Path().iterdir()) == []


def test_new_in_a_read_only_folder_says_so(run, monkeypatch, open_folder, without_privileges) -> None:
    monkeypatch.chdir(open_folder)
    Path("shut").mkdir(mode=0o555)
    with without_privileges():
        ran = run("new", "shut/vela")
    assert ran.code == 2
    assert "permission denied" in ran.err


def test_new_escapes_the_title(run) -> None:
    assert run("new", 'a"b\\c').code == 0
    assert run("check", 'a"b\\c.annulet').code == 0
    assert 'title "A\\"b\\\\c"' in Path('a"b\\c.annulet').read_text("utf-8")


def test_titles_are_made_of_file_names() -> None:
    assert new_command.title_of("vela-bracelet_2") == "Vela bracelet 2"
    assert new_command.title_of("-") == "-"


# ---------------------------------------------------------------- metals


def test_metals_lists_every_metal_with_its_density(run) -> None:
    ran = run("metals")
    assert (ran.code, ran.err) == (0, "")
    assert [line.split()[0] for line in ran.out.splitlines()] == list(METALS)
    copper = next(line for line in ran.out.splitlines() if line.startswith("copper "))
    assert str(METALS["copper"].density).rstrip("0") in copper
