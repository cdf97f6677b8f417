"""Figures that were drawn before: a rebuild reads them, and neither its bytes nor what it believes differ for that."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from compiler import remembered
from compiler.booklet.content import is_painted, painted, repainted
from compiler.booklet.page import Circle, Color, Drawing, Face, Line, Rectangle, Stroke, Text, Verb
from compiler.booklet.page import Path as Outline
from compiler.build import figures_of, remembered_figures, worded
from compiler.cli import main
from compiler.expand.driver import expand
from compiler.loader import load
from compiler.proved import from_kept
from compiler.remembered import cache_folder, frozen, key_of
from compiler.timings import Timings
from compiler.weave import Weave

ROOT = Path(__file__).parents[2]
NAME = "lyra-earrings"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A pattern with its units and its kept layout, and an empty cache."""
    shutil.copytree(ROOT / "patterns/units", tmp_path / "units")
    for suffix in (".annulet", ".layout"):
        shutil.copy(ROOT / f"patterns/{NAME}{suffix}", tmp_path)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("ANNULET_CACHE", "")
    return tmp_path


def built(*words: str) -> bytes:
    """The booklet, by the command."""
    assert main(["build", f"{NAME}.annulet", *words]) == 0
    return Path(f"{NAME}.pdf").read_bytes()


def forgetting(monkeypatch: pytest.MonkeyPatch, *words: str) -> bytes:
    """The booklet, without a memory."""
    with monkeypatch.context() as patch:
        patch.setenv("ANNULET_CACHE", "off")
        return built(*words)


def kept(folder: Path) -> list[Path]:
    return sorted((folder / "cache/annulet/figures").glob("*"))


def edited(pattern: str, text: str) -> None:
    file = Path(f"{NAME}.annulet")
    before = file.read_text("utf-8")
    after = re.sub(pattern, text, before)
    assert after != before
    file.write_text(after, "utf-8")


# ---------------------------------------------------------------- the bytes


@pytest.mark.parametrize("words", [(), ("--page", "letter"), ("--schematic",)], ids=" ".join)
def test_drawn_anew_remembered_and_without_a_memory_the_bytes_are_the_same(
    folder: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    plain = forgetting(monkeypatch, *words)
    assert kept(folder) == []
    assert built(*words) == plain
    assert len(kept(folder)) == 1
    assert built(*words) == plain


def test_in_the_colours_of_a_house_too(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    Path("house.yaml").write_text("colours:\n  accent: '#7A2E1D'\n", "utf-8")
    style = ("--style", "house.yaml")
    usual = built()
    plain = forgetting(monkeypatch, *style)
    assert plain != usual
    assert built(*style) == plain
    assert len(kept(folder)) == 1


def test_after_an_edit_of_words_nothing_is_drawn(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    built()
    edited("(?m)^title .*", 'title "Lyra pendants"')
    edited("(?m)with three drops at the other", "and three drops hang at the other")
    before = kept(folder)[0].stat().st_mtime_ns
    with monkeypatch.context() as patch:
        patch.setattr(remembered.Remembered, "_source", lambda _self: pytest.fail("a figure is drawn"))
        remembered_bytes = built()
    assert kept(folder)[0].stat().st_mtime_ns == before
    assert remembered_bytes == forgetting(monkeypatch)


@pytest.mark.usefixtures("folder")
def test_a_rebuild_does_without_numpy() -> None:
    built()
    script = f"import sys; from compiler.cli import main; main(['build', '{NAME}.annulet'])\n"
    script += "sys.exit('numpy' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", script], env=os.environ | {"PYTHONPATH": str(ROOT)}, check=False
    )
    assert done.returncode == 0


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (r"(?m)^(ring large: inner )\S+", r"\g<1>7.9"),
        (r"(?m)^(ring large: .*)copper", r"\1brass"),
        (r"(?m)^label large .*", 'label large "big ring"'),
    ],
)
def test_an_edit_of_what_is_drawn_is_drawn(
    folder: Path, monkeypatch: pytest.MonkeyPatch, pattern: str, text: str
) -> None:
    built("--schematic")
    edited(pattern, text)
    assert built("--schematic") == forgetting(monkeypatch, "--schematic")
    assert len(kept(folder)) == 2


# ---------------------------------------------------------------- what is believed


def _spoilt(text: str) -> dict[str, str]:
    """Texts that must not be believed."""
    content = re.search(r'"content":"([^"]*)"', text)
    assert content is not None
    number = re.search(r'"scale":[\d.]+', text)
    assert number is not None
    answers = json.loads(text)
    return {
        "cut off": text[: len(text) // 2],
        "empty": "",
        "of another key": text.replace(answers["key"], "0" * 64),
        "with a resource": text.replace(content[1], content[1] + " /Fm0 Do", 1),
        "with text": text.replace(content[1], content[1] + "\\nBT /F1 9 Tf (x) Tj ET", 1),
        "with marked content": text.replace(content[1], "EMC " + content[1], 1),
        "with a number that is none": text.replace(number[0], '"scale":"1"', 1),
        "with an endless number": text.replace(number[0], '"scale":1e999', 1),
        "with an unknown mark": text.replace('"new":', '"gnu":', 1),
        "a list": "[" * 5000 + "]" * 5000,
    }


def test_what_is_not_as_it_must_be_is_drawn_anew(folder: Path) -> None:
    plain = built()
    (file,) = kept(folder)
    good = file.read_text("utf-8")
    for what, text in _spoilt(good).items():
        assert text != good, what
        file.write_text(text, "utf-8")
        assert built() == plain, what
        assert file.read_text("utf-8") == good, what


def test_a_pipe_in_its_place_is_not_waited_for(folder: Path) -> None:
    plain = built()
    (file,) = kept(folder)
    file.unlink()
    os.mkfifo(file)
    assert built() == plain


def test_a_folder_that_cannot_be_written_is_no_loss(folder: Path) -> None:
    (folder / "cache").write_text("no folder", "utf-8")
    assert built().startswith(b"%PDF")


def test_no_more_is_kept_than_the_limits_allow(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    built("--schematic")
    (first,) = kept(folder)
    os.utime(first, (1, 1))
    edited("(?m)^(ring large: inner )\\S+", r"\g<1>7.9")
    monkeypatch.setattr(remembered, "MOST_BYTES_IN_ALL", first.stat().st_size * 3 // 2)
    built("--schematic")
    (second,) = kept(folder)
    assert second != first
    monkeypatch.setattr(remembered, "MOST_BYTES", 1000)
    edited("(?m)^(ring large: inner )\\S+", r"\g<1>7.8")
    built("--schematic")
    assert kept(folder) == [second]


@pytest.mark.parametrize(
    ("environ", "expected"),
    [
        ({"XDG_CACHE_HOME": "/c", "HOME": "/h"}, "/c/annulet/figures"),
        ({"XDG_CACHE_HOME": "c", "HOME": "/h"}, "/h/.cache/annulet/figures"),
        ({"HOME": "/h"}, "/h/.cache/annulet/figures"),
        ({"HOME": "/h", "ANNULET_CACHE": "off"}, None),
        ({}, None),
    ],
)
def test_where_they_are_kept(environ: dict[str, str], expected: str | None) -> None:
    assert cache_folder(environ) == (None if expected is None else Path(expected))


# ---------------------------------------------------------------- the key


def _read(path: Path) -> Weave:
    loaded = load(str(path))
    return expand(loaded.pattern, loaded.library)[0]


def test_the_key_knows_all_that_is_drawn_and_none_of_what_is_only_read() -> None:
    path = ROOT / f"patterns/{NAME}.annulet"
    weave = _read(path)
    words = worded(weave, Timings())
    told = remembered.EnglishWords(weave, words.pieces)
    plain = key_of(weave, {}, told)
    assert key_of(_read(path), {}, remembered.EnglishWords(weave, words.pieces)) == plain
    assert key_of(replace(weave, title="Vela", about="", by=""), {}, told) == plain
    piece = weave.pieces[0]
    keys = {plain}
    for name in ("kind", "group", "member", "companion", "strand", "born", "link_a", "link_b", "link_sign"):
        column = getattr(piece, name)[:]
        column[-1] -= 1 if name != "companion" else -1
        keys.add(key_of(replace(weave, pieces=(replace(piece, **{name: column}),)), {}, told))
    layout = next(each.whole for each in from_kept(weave, path.with_suffix(".layout"), Timings()))
    assert layout is not None
    keys.add(key_of(weave, {0: layout}, told))
    moved = replace(layout.circles[0], core_radius=layout.circles[0].core_radius + 0.0001)
    keys.add(key_of(weave, {0: replace(layout, circles=(moved, *layout.circles[1:]))}, told))
    assert len(keys) == 12


@pytest.mark.parametrize("name", [NAME, "draco-bracelet", "aquila-cuff"])
def test_what_is_remembered_is_what_is_drawn(name: str) -> None:
    path = ROOT / f"patterns/{name}.annulet"
    weave = _read(path)
    words, found = worded(weave, Timings()), from_kept(weave, path.with_suffix(".layout"), Timings())
    drawing = figures_of(weave, found, Timings(), words)
    memory = remembered_figures(weave, found, words, None)
    for step in range(1, len(weave.pieces[0].steps) + 1):
        for width, height in ((400.0, 300.0), (200.0, 123.4)):
            one, other = drawing.step(0, step, width, height), memory.step(0, step, width, height)
            assert (one is None) == (other is None)
            if one is not None and other is not None:
                assert msgspec.structs.asdict(other.items[0]) == msgspec.structs.asdict(frozen(one.items)[0])
                assert (
                    one.width,
                    one.height,
                    one.alt,
                    one.caption,
                    one.scale,
                    one.turned,
                    one.schematic,
                ) == (
                    *(other.width, other.height, other.alt, other.caption),
                    *(other.scale, other.turned, other.schematic),
                )
            assert drawing.estimate(0, step, width, height) == memory.estimate(0, step, width, height)


# ---------------------------------------------------------------- drawings

INK, RED = Color(20, 20, 20), Color(200, 30, 30)
SHAPES = (
    Line(x1=0, y1=0, x2=10, y2=5.123, stroke=Stroke(color=INK, width=0.5, dash=(1.0, 2.0))),
    Rectangle(x=1, y=1, width=5, height=4, fill=RED),
    Rectangle(x=1, y=1, width=5, height=4, radius=1, fill=RED, stroke=Stroke(color=INK, width=1)),
    Circle(x=3, y=3, radius=2, stroke=Stroke(color=RED, width=0.25)),
    Outline(verbs=(Verb.MOVE, Verb.LINE, Verb.CLOSE), points=(0, 0, 1, 1), fill=INK),
)


def test_all_that_a_figure_can_draw_is_a_drawing() -> None:
    content = painted(SHAPES)
    assert is_painted(content)
    assert is_painted("")
    assert content.count("\n") == len(SHAPES) - 1


@pytest.mark.parametrize(
    "wrong", ["q", "1 0 0 1 0 0 cm", "/F Do", "(x) Tj", "BT", "W n", "m", "1 0 0 rgx", "<< >>", "%"]
)
def test_nothing_else_is(wrong: str) -> None:
    assert not is_painted(f"{painted(SHAPES)}\n{wrong} " if wrong == "m" else f"{wrong}\n{painted(SHAPES)}")


def test_colours_are_exchanged_and_nothing_else() -> None:
    blue = Color(10, 20, 250)
    changed = repainted(painted(SHAPES), lambda color: blue if color == RED else color)
    swapped = [
        replace(shape, **{"fill": blue} if getattr(shape, "fill", None) == RED else {})
        for shape in SHAPES[:3]
    ]
    assert changed.split("\n")[:3] == painted(swapped).split("\n")  # type: ignore[arg-type]
    assert repainted(painted(SHAPES), lambda color: color) == painted(SHAPES)


def test_texts_keep_their_place_among_shapes() -> None:
    text = Text(x=1.234, y=2, string="ring 3", face=Face.REGULAR, size=8, color=INK)
    items = frozen((SHAPES[0], SHAPES[1], text, SHAPES[2]))
    assert [type(item) for item in items] == [Drawing, Text, Drawing]
    assert items[1] == replace(text, x=1.23)
    with pytest.raises(ValueError, match="no drawing"):
        frozen((remembered.Drawing(x=0, y=0, content=""),))
