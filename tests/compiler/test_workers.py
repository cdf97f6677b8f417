"""Several patterns at once: the same files, the same words, in the same order, whoever does the work."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from compiler.workers import WorkerLostError, in_order

ROOT = Path(__file__).parents[2]
GOOD = """\
title "Vela {number}"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of {number}:
        pass 1 link through the one before
"""


def task(number: int) -> bytes:
    time.sleep(0.02 if number % 3 == 0 else 0)
    return bytes([number]) * (100_000 if number == 5 else number)


@pytest.mark.parametrize("workers", [1, 2, 3, 50])
def test_results_come_in_order_whoever_is_first(workers: int) -> None:
    assert list(in_order(11, workers, task)) == [task(number) for number in range(11)]
    assert list(in_order(0, workers, task)) == []


def test_the_work_is_done_by_several_processes_and_none_is_left() -> None:
    def process(_number: int) -> bytes:
        time.sleep(0.05)
        return str(os.getpid()).encode()

    seen = {int(each) for each in in_order(8, 2, process)}
    assert len(seen) == 2
    assert os.getpid() not in seen
    for each in seen:
        with pytest.raises(ProcessLookupError):
            os.kill(each, 0)


def test_a_worker_that_is_ended_from_outside_is_told() -> None:
    def ends(number: int) -> bytes:
        if number == 2:
            os.kill(os.getpid(), signal.SIGKILL)
        return b"done"

    with pytest.raises(WorkerLostError):
        list(in_order(5, 2, ends))


def test_workers_end_when_nobody_wants_the_rest(tmp_path: Path) -> None:
    def slow(number: int) -> bytes:
        if number:
            try:
                (tmp_path / f"begun {number}").touch()
                time.sleep(60)
            finally:
                (tmp_path / f"begun {number}").rename(tmp_path / f"ended {number}")
        return b""

    begun = time.monotonic()
    results = in_order(3, 2, slow)
    assert next(results) == b""
    while len(list(tmp_path.iterdir())) < 2:
        time.sleep(0.01)
    results.close()
    assert time.monotonic() - begun < 30
    assert sorted(path.name for path in tmp_path.iterdir()) == ["ended 1", "ended 2"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Patterns good and bad."""
    (tmp_path / "all").mkdir()
    for number in range(3, 9):
        (tmp_path / f"all/vela-{number}.annulet").write_text(GOOD.format(number=number), "utf-8")
    (tmp_path / "all/vela-5.annulet").write_text(GOOD.format(number=5).replace("piece", "peice"), "utf-8")
    (tmp_path / "all/vela-6.annulet").unlink()
    os.mkfifo(tmp_path / "all/vela-6.annulet")  # cannot be read
    (tmp_path / "all/vela-7.annulet").write_bytes(b"\xff\xfe")
    return tmp_path


def built(folder: Path, jobs: int) -> tuple[int, str, dict[str, bytes]]:
    out = folder / f"out-{jobs}"
    out.mkdir()
    files = sorted(path.relative_to(folder).as_posix() for path in (folder / "all").iterdir())
    words = [
        sys.executable,
        "-m",
        "compiler",
        "build",
        "--schematic",
        "--jobs",
        str(jobs),
        *files,
        "nothing.annulet",
    ]
    ran = subprocess.run(
        [*words, "-o", str(out)],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    files_made = {path.name: path.read_bytes() for path in out.iterdir()}
    return ran.returncode, ran.stderr.replace(f"out-{jobs}", "out"), files_made


def test_builds_are_the_same_with_any_number_of_workers(folder: Path) -> None:
    one = built(folder, 1)
    assert one == built(folder, 2) == built(folder, 4)
    code, said, files = one
    assert code == 2
    assert sorted(files) == ["vela-3.pdf", "vela-4.pdf", "vela-8.pdf"]
    assert said.endswith("annulet: Cannot read nothing.annulet: there is no such file.\n")
    assert "\r" not in said


def test_an_interrupt_ends_all_workers_quietly_and_leaves_nothing_behind(tmp_path: Path) -> None:
    for number in range(3, 43):
        (tmp_path / f"vela-{number}.annulet").write_text(GOOD.format(number=number), "utf-8")
    (tmp_path / "out").mkdir()
    build = subprocess.Popen(
        [
            sys.executable,
            "-m",
            "compiler",
            "build",
            "--schematic",
            "--jobs",
            "2",
            str(tmp_path),
            "-o",
            str(tmp_path / "out"),
        ],
        cwd=ROOT,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    assert build.stderr is not None
    first = build.stderr.readline()
    assert first.endswith("vela-10.pdf is written\n")
    os.killpg(build.pid, signal.SIGINT)  # as a terminal does: all of them get it
    with build.stderr:
        rest = build.stderr.read()
    assert build.wait(30) == 130
    assert all(line.endswith(" is written") for line in rest.splitlines())
    for path in (tmp_path / "out").iterdir():
        assert path.suffix == ".pdf"
        assert path.read_bytes().rstrip().endswith(b"%%EOF")
    with pytest.raises(ProcessLookupError):
        os.killpg(build.pid, 0)


@pytest.mark.parametrize("jobs", ["0", "-1", "two", "1" * 400, "1000"])
def test_a_number_of_workers_that_is_none_is_wrong_usage(run, jobs: str) -> None:
    ran = run("build", "--jobs", jobs, "x.annulet")
    assert ran.code == 2
    assert "whole number from 1 to 256" in ran.err or "expected one argument" in ran.err
