"""Timing for the bench: processor time of whole processes and of calls, medians, and the lines of the table.

Processor time, user and system, and not the clock on the wall: other programs on the machine disturb it least. What
is compared is run in turn, so that whatever disturbs one disturbs the other. Whole processes find their modules
compiled, as an installation leaves them.
"""

from __future__ import annotations

import atexit
import math
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from statistics import median
from typing import NamedTuple, TypeVar

ROOT = Path(__file__).parents[2]
_Result = TypeVar("_Result")


class Line(NamedTuple):
    """A line of the table: what was measured, against what."""

    what: str
    ours: float
    """Seconds."""
    floor: float
    """Seconds."""
    against: str

    def text(self) -> str:
        ratio = self.ours / self.floor
        return f"{self.what:46} {_seconds(self.ours)} {_seconds(self.floor)} {ratio:7.2f}  {self.against}"


HEADING = f"{'seconds of processor time':46} {'ours':>9} {'floor':>9} {'ratio':>7}  the floor"


def _seconds(value: float) -> str:
    return f"{value:8.3f} s" if value >= 0.1 else f"{value * 1000:7.2f} ms"


def process_seconds(command: Sequence[str]) -> float:
    """Processor time of a whole process that must end well; it runs in the root of the checkout."""
    child = subprocess.Popen(
        command, cwd=ROOT, env=_environment(), stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )
    assert child.stderr is not None
    told = child.stderr.read()
    _, status, used = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    child.stderr.close()
    if child.returncode:
        raise SystemExit(f"{' '.join(command)} ended with {child.returncode}:\n{told.decode()}")
    return used.ru_utime + used.ru_stime


@cache
def _environment() -> dict[str, str]:
    """The environment of the processes: compiled modules and figures are kept, in a folder of this run."""
    folder = tempfile.mkdtemp(prefix="annulet-bench-")
    atexit.register(shutil.rmtree, folder)
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return kept | {"PYTHONPYCACHEPREFIX": folder, "XDG_CACHE_HOME": folder, "ANNULET_CACHE": ""}


def paired_processes(ours: Sequence[str], floor: Sequence[str], pairs: int) -> tuple[float, float]:
    """Median processor time of two commands that are run in turn, after one run of each that is not counted."""
    for command in (ours, floor):
        process_seconds(command)
    times = [(process_seconds(ours), process_seconds(floor)) for _ in range(pairs)]
    return median(a for a, _ in times), median(b for _, b in times)


def clock_seconds(command: Sequence[str]) -> float:
    """Seconds on the clock of a whole process: what several workers save."""
    begun = time.perf_counter()
    subprocess.run(command, cwd=ROOT, env=_environment(), capture_output=True, check=True)
    return time.perf_counter() - begun


def paired_calls(ours: Callable[[], object], floor: Callable[[], object], pairs: int) -> tuple[float, float]:
    """Median processor time of two calls that are made in turn."""
    times = [(call_seconds(ours)[0], call_seconds(floor)[0]) for _ in range(pairs)]
    return median(a for a, _ in times), median(b for _, b in times)


def call_seconds(call: Callable[[], _Result]) -> tuple[float, _Result]:
    """Processor time of a call, and what it gives."""
    begun = time.process_time()
    result = call()
    return time.process_time() - begun, result


def annulet(*words: str) -> list[str]:
    """The command line of the program, run from the checkout by this interpreter."""
    return [sys.executable, "-m", "compiler", *words]


def exponent(sizes: tuple[int, int], seconds: tuple[float, float]) -> float:
    """With which power of the size the time grows from one size to another; 1 is in proportion."""
    return math.log(seconds[1] / seconds[0]) / math.log(sizes[1] / sizes[0])
