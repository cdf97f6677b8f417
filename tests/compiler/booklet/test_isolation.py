"""Nothing outside the program reaches the PDF library."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from compiler.booklet.isolation import isolated

SCRIPT = """
import hashlib, sys
from compiler.booklet.page import Color, Document, Face, Page, Text
from compiler.booklet.typeset import typeset

words = Text(x=50.0, y=50.0, string="Lyra é ł – ×", face=Face.REGULAR, size=10.0, color=Color(0, 0, 0))
page = Page(width=200.0, height=100.0, label="1", items=(words,))
document = Document(title="Lyra", author="Tamsin Orrell", subject="Rings", language="en", pages=(page,))
print(hashlib.sha256(typeset(document)).hexdigest())
"""
PLANT = """
open({mark!r}, "a").write(__name__)
pageCompression = 0
useA85 = 1
pdfComments = 1
invariant = 0
canvas_basefontname = "Courier"
documentLang = "xx"
"""
ROOT = Path(__file__).resolve().parents[3]


def digest(folder: Path, path: str = "", **variables: str) -> str:
    """The digest of a typeset document in a fresh process that starts in the folder."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("RL_")}
    environment |= {"PYTHONPATH": os.pathsep.join(filter(None, [path, str(ROOT)])), "HOME": str(folder)}
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        cwd=folder,
        env=environment | variables,
        capture_output=True,
        text=True,
        check=True,
    )
    return run.stdout


@pytest.fixture
def clean(tmp_path: Path) -> str:
    """The digest where nothing is planted."""
    folder = tmp_path / "clean"
    folder.mkdir()
    return digest(folder, PYTHONHASHSEED="0")


def test_the_same_bytes_whatever_the_hash_seed_and_the_environment(tmp_path: Path, clean: str) -> None:
    assert digest(tmp_path, PYTHONHASHSEED="12345") == clean
    settings = {"RL_pageCompression": "0", "RL_useA85": "1", "RL_pdfComments": "1", "RL_documentLang": "xx"}
    assert (
        digest(tmp_path, **settings, SOURCE_DATE_EPOCH="not a number", TZ="Asia/Tokyo", LC_ALL="C") == clean
    )


@pytest.mark.parametrize(
    "name",
    ["reportlab_settings.py", "reportlab_mods.py", ".reportlab_settings", ".reportlab_mods"],
)
def test_planted_settings_are_neither_run_nor_obeyed(tmp_path: Path, clean: str, name: str) -> None:
    folder = tmp_path / "planted"
    folder.mkdir()
    mark = tmp_path / "was-run"
    plant = PLANT.format(mark=str(mark))
    (folder / name).write_text(plant)
    assert digest(folder, path=str(folder)) == clean
    assert not mark.exists()
    # the trap is real: reportlab on its own falls into it
    subprocess.run(
        [sys.executable, "-c", "from reportlab import rl_config"],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder), "HOME": str(folder)},
        check=True,
    )
    assert mark.exists()


def test_settings_made_by_a_program_that_imported_reportlab_first_change_nothing(
    tmp_path: Path, clean: str
) -> None:
    before = (
        "import reportlab.rl_config as c\nc.useA85 = c.pdfComments = 1\nc.invariant = c.pageCompression = 0\n"
    )
    run = subprocess.run(
        [
            sys.executable,
            "-c",
            before + SCRIPT + "assert (c.useA85, c.pdfComments, c.invariant) == (1, 1, 0)\n",
        ],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert run.stdout == clean


def test_modules_and_variables_are_put_back(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RL_DEBUG", "1")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "7")
    before = "reportlab_mods" in sys.modules
    with isolated():
        assert "RL_DEBUG" not in os.environ
        assert "SOURCE_DATE_EPOCH" not in os.environ
        assert vars(sys.modules["reportlab_mods"]).get("__file__") is None
    assert (os.environ["RL_DEBUG"], os.environ["SOURCE_DATE_EPOCH"]) == ("1", "7")
    assert ("reportlab_mods" in sys.modules) is before
