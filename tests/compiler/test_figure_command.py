"""`annulet figure`: any figure alone, in each format, and what cannot be drawn in one line."""

import builtins
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pypdfium2
import pytest

GOOD = """\
title "Vela"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 4:
        pass 1 link through the one before

piece drop:
    take 1 link as a
    pass 1 link as b through a
"""
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(autouse=True)
def pattern(run: object) -> None:
    assert run  # its folder is the current one
    Path("vela.annulet").write_text(GOOD, "utf-8")


def test_an_svg_is_drawn_and_says_what_it_shows(run) -> None:
    ran = run("figure", "vela.annulet", "-o", "vela.svg")
    assert (ran.code, ran.out, ran.err) == (0, "", "vela.svg is written\n")
    root = ElementTree.fromstring(Path("vela.svg").read_text("utf-8"))
    assert root.tag == f"{SVG}svg"
    title = root.find(f"{SVG}title")
    assert title is not None
    assert "strap" in (title.text or "")
    assert len(list(root.iter(f"{SVG}path"))) > 4


def test_a_pdf_has_one_page_of_the_size_of_the_figure(run) -> None:
    assert run("figure", "vela.annulet", "--size", "200", "-o", "vela.pdf").code == 0
    document = pypdfium2.PdfDocument(Path("vela.pdf").read_bytes())
    width, height = document[0].get_size()
    assert len(document) == 1
    assert width <= 216
    assert height <= 216
    document.close()


def test_a_png_is_a_picture(run) -> None:
    assert run("figure", "vela.annulet", "-o", "vela.png").code == 0
    assert Path("vela.png").read_bytes().startswith(b"\x89PNG\r\n\x1a\n")


def test_a_png_without_its_library_is_refused_in_one_line(run, monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def without(name: str, *rest: object) -> object:
        if name == "pypdfium2":
            raise ImportError(name)
        return real(name, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(builtins, "__import__", without)
    ran = run("figure", "vela.annulet", "-o", "vela.png")
    assert ran.code == 2
    assert "pypdfium2" in ran.err
    assert len(ran.err.splitlines()) == 1
    assert not Path("vela.png").exists()


def test_pieces_and_steps_differ_and_are_the_same_each_time(run) -> None:
    words = {
        "piece": ("--piece", "drop"),
        "step": ("--step", "1"),
        "schematic": ("--schematic",),
        "whole": (),
    }
    drawn = {}
    for name, more in words.items():
        for turn in ("1", "2"):
            assert run("figure", "vela.annulet", *more, "-o", f"{name}{turn}.svg").code == 0
        drawn[name] = Path(f"{name}1.svg").read_bytes()
        assert drawn[name] == Path(f"{name}2.svg").read_bytes()
    assert len(set(drawn.values())) == len(drawn)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("-o", "vela.jpg"), "must end in .svg, .pdf or .png"),
        (("-o", "vela.svg", "--piece", "dorp"), "There is no piece dorp. Did you mean drop?"),
        (("-o", "vela.svg", "--step", "9"), "strap has no step 9: its steps are numbered 1 to"),
        (("-o", "vela.svg", "--step", "0"), "strap has no step 0"),
        (("-o", "vela.svg", "--size", "1e9"), "A figure is from"),
        (("-o", "vela.svg", "--size", "nan"), "A figure is from"),
    ],
)
def test_what_cannot_be_drawn_is_said(run, words: tuple[str, ...], told: str) -> None:
    ran = run("figure", "vela.annulet", *words)
    assert ran.code == 2
    assert told in ran.err


def test_a_pattern_with_errors_is_not_drawn(run) -> None:
    Path("vela.annulet").write_text(GOOD.replace("through a", "through c"), "utf-8")
    ran = run("figure", "vela.annulet", "-o", "vela.svg")
    assert ran.code == 1
    assert "error[" in ran.err
    assert not Path("vela.svg").exists()
