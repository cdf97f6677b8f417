"""The same text gives the same bytes, whatever lies around it; nothing that somebody planted is run or obeyed.

What is promised is for kept geometry and one set of versions of what we depend on; DEVELOPERS.md says what is not.
"""

import os
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

ROOT = Path(__file__).parents[2]
PATTERN = ROOT / "patterns/corvus-bracelet.annulet"
PLANTED = (
    *("lark", "yaml", "numpy", "msgspec", "fontpkg", "grammar", "notation"),
    *("reportlab", "reportlab_settings", "reportlab_mods", "json", "random", "argparse", "pathlib"),
)
MARK = 'open({mark!r}, "a").write(__name__ + "\\n")\n'


def built(folder: Path, command: list[str], **variables: str) -> bytes:
    """The booklet, made in a fresh process that starts in the folder."""
    environment = {
        name: value for name, value in os.environ.items() if not name.startswith(("RL_", "PYTHON", "SOURCE"))
    }
    out = folder / "out.pdf"
    ran = subprocess.run(
        [*command, "build", str(PATTERN), "-o", str(out)],
        cwd=folder,
        env=environment | {"PYTHONDONTWRITEBYTECODE": "1"} | variables,
        capture_output=True,
        text=True,
    )
    assert ran.returncode == 0, ran.stderr
    return out.read_bytes()


SCRIPT = [sys.executable, str(Path(sys.executable).parent / "annulet")]
MODULE = [sys.executable, "-m", "compiler"]


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    return built(tmp_path_factory.mktemp("plain"), MODULE, PYTHONHASHSEED="0")


@pytest.mark.parametrize(
    "variables",
    [
        {"PYTHONHASHSEED": "1"},
        {"PYTHONHASHSEED": "4294967295", "LC_ALL": "C", "LANG": "C", "TZ": "Pacific/Kiritimati"},
        {"LC_ALL": "tr_TR.UTF-8", "LANG": "de_DE.UTF-8", "TZ": "America/St_Johns", "PYTHONUTF8": "1"},
        {"PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii", "COLUMNS": "20", "TERM": "dumb", "NO_COLOR": "1"},
        {"PYTHONOPTIMIZE": "2"},
    ],
)
def test_the_same_bytes_in_any_surroundings(tmp_path: Path, plain: bytes, variables: dict[str, str]) -> None:
    assert built(tmp_path, MODULE, **variables) == plain


def test_the_date_of_the_surroundings_is_written_where_it_is_given(tmp_path: Path, plain: bytes) -> None:
    dated = built(tmp_path, MODULE, SOURCE_DATE_EPOCH="1700000000", TZ="Asia/Tokyo")
    assert dated == built(tmp_path, MODULE, SOURCE_DATE_EPOCH="1700000000", TZ="America/New_York")
    assert dated != plain
    out = tmp_path / "out.pdf"
    assert pypdf.PdfReader(out).metadata["/CreationDate"] == "D:20231114221320Z"


@pytest.mark.parametrize("command", [SCRIPT, MODULE], ids=["annulet", "python -m compiler"])
def test_what_is_planted_in_the_folder_and_at_home_is_not_run(
    tmp_path: Path, plain: bytes, command: list[str]
) -> None:
    if command is SCRIPT and not Path(SCRIPT[1]).exists():
        pytest.skip("the command is not installed beside this interpreter")
    mark, home = tmp_path / "was-run", tmp_path / "home"
    home.mkdir()
    for name in PLANTED:
        (tmp_path / f"{name}.py").write_text(MARK.format(mark=str(mark)), "utf-8")
    for name in (".reportlab_settings", ".reportlab_mods", "reportlab_settings.py"):
        (home / name).write_text(MARK.format(mark=str(mark)) + "useA85 = 1\npageCompression = 0\n", "utf-8")
    settings = {"RL_pageCompression": "0", "RL_useA85": "1", "RL_pdfComments": "1", "RL_invariant": "0"}
    assert built(tmp_path, command, HOME=str(home), **settings) == plain
    assert not mark.exists()
    # the trap is real: another program started in the same way falls into it
    subprocess.run([sys.executable, "-m", "pydoc", "lark"], cwd=tmp_path, capture_output=True, check=False)
    assert mark.exists()
