"""However a build ends, its file is the old one or the new one, whole: killed, interrupted, beside another build."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
GOOD = """\
title "{title}"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 4:
        pass 1 link through the one before
"""
PART = re.compile(r"\.annulet-.*\.part")

KILLER = """
# Whole builds in children of this process, which has all modules already; each is killed at a moment of its own.
import os, random, signal, sys, time
from pathlib import Path
from compiler.cli import main

old, new = Path("old.pdf"), Path("new.pdf")
pattern, target = sys.argv[1:3]
rounds, seed = int(sys.argv[3]), int(sys.argv[4])
os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
begun = time.monotonic()
assert main(["build", pattern, "--schematic", "-o", target]) == 0
begun = time.monotonic()
assert main(["build", pattern, "--schematic", "-o", target]) == 0
takes = time.monotonic() - begun
kinds = {old.read_bytes(): "old", new.read_bytes(): "new"}
rng = random.Random(seed)
seen = []
for _ in range(rounds):
    Path(target).write_bytes(old.read_bytes())
    child = os.fork()
    if not child:
        os._exit(main(["build", pattern, "--schematic", "-o", target]))
    time.sleep(rng.uniform(0, 1.3 * takes))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    seen.append(kinds.get(Path(target).read_bytes(), "broken"))
print(*seen)
"""
WRITER = """
# The same, but all the children do is write: so nearly every kill falls into the middle of a write.
import os, random, signal, sys, time
from pathlib import Path
from compiler.outfile import write_whole

target, rounds, seed = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
texts = [bytes([value]) * 300_000 for value in range(2)]
rng = random.Random(seed)
write_whole(target, texts[0])
for _ in range(rounds):
    child = os.fork()
    if not child:
        while True:
            for text in texts:
                write_whole(target, text)
    time.sleep(rng.uniform(0, 0.02))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    print("whole" if target.read_bytes() in texts else "broken")
"""


def python(script: str, *words: str, cwd: Path) -> list[str]:
    ran = subprocess.run(
        [sys.executable, "-c", script, *words],
        cwd=cwd,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    return ran.stdout.split()


def annulet(*words: str) -> list[str]:
    return [sys.executable, "-m", "compiler", *words]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two patterns and their booklets."""
    folder = tmp_path_factory.mktemp("built")
    for name in ("old", "new"):
        (folder / f"{name}.annulet").write_text(GOOD.format(title=name.title()), "utf-8")
    subprocess.run(annulet("build", "--schematic", str(folder)), cwd=ROOT, check=True, capture_output=True)
    return folder


@pytest.fixture
def folder(built: Path, tmp_path: Path) -> Path:
    """The same for one test alone."""
    return Path(shutil.copytree(built, tmp_path, dirs_exist_ok=True))


def test_a_build_killed_at_any_moment_leaves_the_old_file_or_the_new_one(folder: Path) -> None:
    seen = python(KILLER, "new.annulet", "target.pdf", "200", "1", cwd=folder)
    assert len(seen) == 200
    assert set(seen) == {"old", "new"}  # both, or the moments were badly chosen


def test_a_write_killed_at_any_moment_leaves_the_old_file_or_the_new_one(tmp_path: Path) -> None:
    seen = python(WRITER, "target", "200", "2", cwd=tmp_path)
    assert seen == ["whole"] * 200
    # or no kill fell between the beginning of a write and its end
    assert any(PART.fullmatch(entry.name) for entry in tmp_path.iterdir())


def test_two_builds_into_one_file_leave_the_one_or_the_other_whole(folder: Path) -> None:
    whole = {(folder / f"{name}.pdf").read_bytes() for name in ("old", "new")}
    target = folder / "both.pdf"
    for _ in range(3):
        builds = [
            subprocess.Popen(
                annulet("build", "--schematic", str(folder / f"{name}.annulet"), "-o", str(target)),
                cwd=ROOT,
                stderr=subprocess.DEVNULL,
            )
            for name in ("old", "new")
        ]
        assert [build.wait(60) for build in builds] == [0, 0]
        assert target.read_bytes() in whole
    assert not [entry for entry in folder.iterdir() if PART.fullmatch(entry.name)]


INTERRUPTED = """
# A build that is interrupted at the Nth call of an operation on its output; the signal is a real one.
import os, signal, sys
from compiler.cli import main

operation = sys.argv[2]
original = getattr(os, operation)

def interrupted(*words, **named):
    result = original(*words, **named)
    if operation == "open" and ".annulet-" not in str(words[0]):
        return result
    os.kill(os.getpid(), signal.SIGINT)
    return result

setattr(os, operation, interrupted)
sys.exit(main(["build", sys.argv[1], "--schematic", "-o", "target.pdf"]))
"""


@pytest.mark.parametrize("operation", ["open", "fdopen", "fsync", "chmod"])
def test_an_interrupt_while_writing_is_130_and_leaves_nothing_behind(folder: Path, operation: str) -> None:
    (folder / "target.pdf").write_bytes(b"old")
    before = sorted(entry.name for entry in folder.iterdir())
    ran = subprocess.run(
        [sys.executable, "-c", INTERRUPTED, "new.annulet", operation],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert (ran.returncode, ran.stdout, ran.stderr) == (130, "", "")
    assert sorted(entry.name for entry in folder.iterdir()) == before
    assert (folder / "target.pdf").read_bytes() == b"old"


@pytest.mark.parametrize("wait", [0.25, 0.4, 0.6, 0.8])
def test_an_interrupt_at_any_time_leaves_nothing_behind(tmp_path: Path, wait: float) -> None:
    build = subprocess.Popen(
        annulet("build", str(ROOT / "patterns/lyra-earrings.annulet"), "-o", str(tmp_path / "target.pdf")),
        cwd=ROOT,
        stderr=subprocess.DEVNULL,
    )
    time.sleep(wait)
    build.send_signal(signal.SIGINT)
    code = build.wait(60)
    # -SIGINT: the interrupt came before the program's first line, and a shell shows it as 130 too
    assert code in (130, -signal.SIGINT, 0)
    assert {entry.name for entry in tmp_path.iterdir()} <= {"target.pdf"}
    if code == 0:
        assert (tmp_path / "target.pdf").read_bytes().rstrip().endswith(b"%%EOF")
