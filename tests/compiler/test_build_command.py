"""`annulet build`: where a booklet goes, and what is never touched."""

import sys
from pathlib import Path

from compiler.cli import main

GOOD = """\
title "Vela"
by "Tamsin Orrell"
licence "CC-BY-4.0"
version "1.0.0"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 4:
        pass 1 link through the one before
"""
LOOSE = GOOD + '    step "End":\n        take 1 link as extra\n'


def write(name: str, text: str = GOOD) -> Path:
    path = Path(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


def test_the_booklet_is_written_beside_the_pattern(run) -> None:
    write("designs/vela.annulet")
    ran = run("build", "designs/vela.annulet")
    assert (ran.code, ran.out, ran.err) == (0, "", "designs/vela.pdf is written\n")
    assert Path("designs/vela.pdf").read_bytes().startswith(b"%PDF-")


def test_the_same_text_gives_the_same_bytes(run, monkeypatch) -> None:
    write("vela.annulet")
    assert run("build", "vela.annulet", "-o", "one.pdf").code == 0
    monkeypatch.setenv("TZ", "Asia/Tokyo")
    assert run("build", "vela.annulet", "-o", "two.pdf").code == 0
    assert Path("one.pdf").read_bytes() == Path("two.pdf").read_bytes()


def test_paper_sizes_differ(run) -> None:
    write("vela.annulet")
    run("build", "vela.annulet", "-o", "a4.pdf")
    run("build", "vela.annulet", "--page", "letter", "-o", "letter.pdf")
    assert Path("a4.pdf").read_bytes() != Path("letter.pdf").read_bytes()
    assert run("build", "vela.annulet", "--page", "a3").code == 2


def test_a_pattern_with_errors_gets_no_booklet_and_the_old_one_stays(run) -> None:
    write("vela.annulet", LOOSE)
    old = write("vela.pdf", "the old booklet")
    ran = run("build", "vela.annulet")
    assert ran.code == 1
    assert "error[loose-part]" in ran.err
    assert "is written" not in ran.err
    assert old.read_text("utf-8") == "the old booklet"


def test_of_several_patterns_the_good_ones_are_built(run) -> None:
    write("all/a.annulet", LOOSE)
    write("all/b.annulet")
    Path("out").mkdir()
    ran = run("build", "all", "-o", "out")
    assert ran.code == 1
    assert [path.name for path in Path("out").iterdir()] == ["b.pdf"]


def test_several_booklets_need_a_folder(run) -> None:
    write("a.annulet")
    write("b.annulet")
    ran = run("build", "a.annulet", "b.annulet", "-o", "out.pdf")
    assert ran.code == 2
    assert "out.pdf is not a folder" in ran.err
    assert not Path("out.pdf").exists()


def test_two_patterns_of_one_name_are_refused_before_anything_is_written(run) -> None:
    write("a/vela.annulet")
    write("b/vela.annulet")
    Path("out").mkdir()
    ran = run("build", "a", "b", "-o", "out")
    assert ran.code == 2
    assert "would both be written to out/vela.pdf" in ran.err
    assert list(Path("out").iterdir()) == []


def test_a_pattern_is_never_written_over(run) -> None:
    path = write("vela.annulet")
    ran = run("build", "vela.annulet", "-o", "./vela.annulet")
    assert ran.code == 2
    assert "must not be written over" in ran.err
    assert path.read_text("utf-8") == GOOD


def test_a_dash_is_standard_output(capfdbinary, tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    write("vela.annulet")
    assert main(["build", "vela.annulet", "-o", "-"]) == 0
    out, err = capfdbinary.readouterr()
    assert out.startswith(b"%PDF-")
    assert out.rstrip().endswith(b"%%EOF")
    assert err == b""


def test_no_booklet_is_written_to_a_terminal(run, monkeypatch) -> None:
    write("vela.annulet")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    ran = run("build", "vela.annulet", "-o", "-")
    assert (ran.code, ran.out) == (2, "")


def test_standard_input_needs_a_name_for_its_booklet(run) -> None:
    assert run("build", "-", stdin=GOOD.encode()).code == 2
    assert run("build", "-", "-o", "vela.pdf", stdin=GOOD.encode()).code == 0
    assert Path("vela.pdf").exists()


def test_a_folder_that_is_not_there_is_one_sentence(run) -> None:
    write("vela.annulet")
    ran = run("build", "vela.annulet", "-o", "none/vela.pdf")
    assert ran.code == 2
    assert ran.err.startswith("annulet: Cannot write none/vela.pdf: there is no folder ")


def test_a_read_only_folder_is_one_sentence(run, monkeypatch, open_folder, without_privileges) -> None:
    monkeypatch.chdir(open_folder)
    write("vela.annulet")
    Path("shut").mkdir(mode=0o555)
    assert run("build", "vela.annulet", "-o", "first.pdf").code == 0
    with without_privileges():
        ran = run("build", "vela.annulet", "-o", "shut")
    assert ran.code == 2
    assert ran.err.startswith("annulet: Cannot write")


def test_advice_is_left_to_check(run) -> None:
    write("vela.annulet", GOOD.replace("\npiece", "\nkit: 9 link\n\npiece"))
    assert "spare-in-kit" in run("check", "vela.annulet").err
    assert "spare-in-kit" not in run("build", "vela.annulet").err


def test_a_date_that_is_none_is_refused(run, monkeypatch) -> None:
    write("vela.annulet")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    ran = run("build", "vela.annulet")
    assert ran.code == 2
    assert "SOURCE_DATE_EPOCH" in ran.err


def test_the_starter_pattern_builds(run) -> None:
    assert run("new", "vela").code == 0
    assert run("build", "vela.annulet").code == 0


def test_a_text_that_the_fonts_lack_is_told_in_its_place(run) -> None:
    write("vela.annulet", GOOD.replace("Vela", "\u9285"))
    ran = run("build", "vela.annulet")
    assert ran.code == 1
    assert ran.err.startswith("vela.annulet:1:7: error[no-glyph]")
    assert not Path("vela.pdf").exists()
