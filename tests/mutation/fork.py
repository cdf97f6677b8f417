"""Running the tests on a mutant: in a copy of the process, with the mutant in memory only.

Comes in: a mutant as a tree, and which tests to run. Goes out: what became of it.

A change inside a function is put into the functions of a process that has everything imported and all tests
collected. A change of what runs at the import needs a process that has imported nothing of the project yet, and a
loader that gives the changed module.
"""

from __future__ import annotations

import ast
import gc
import importlib.machinery
import os
import resource
import signal
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from types import CodeType, FunctionType

import pytest

MOST_MEMORY = 4 << 30
"""Bytes that a mutant may take."""


class Fate(Enum):
    """What became of a mutant."""

    SURVIVED = "survived"
    KILLED = "killed"
    TIMEOUT = "too slow"
    UNSEEN = "run by no test"


class UnfitError(Exception):
    """The change does not fit into functions that are there: it needs a fresh import."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A mutant with its tests."""

    name: str
    path: Path
    tree: ast.Module
    tests: tuple[str, ...]
    """Node ids, in the order in which they are run."""
    seconds: float
    """What its tests take without a mutant."""
    unchanged: bool = False
    """A control: the tree is that of the module as it is, and functions are left as they are."""


class _FirstFailure:
    """A plugin of pytest that ends the process at the first failure."""

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            os._exit(1)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            os._exit(1)


class _Loop:
    """A plugin of pytest that, once the tests are collected, runs the mutants instead."""

    def __init__(self, jobs: Sequence[Job], workers: int, told: Callable[[Job, Fate | None], None]) -> None:
        self.jobs, self.workers, self.told = jobs, workers, told

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = {item.nodeid: item for item in session.items}
        functions = _functions({str(job.path) for job in self.jobs})
        gc.collect()
        gc.freeze()
        run_all(self.jobs, self.workers, lambda job: _run_here(job, items, functions), self.told)
        return True


def run_collected(
    jobs: Sequence[Job], workers: int, tests: Iterable[str], told: Callable[[Job, Fate | None], None]
) -> None:
    """Runs mutants of function bodies; tells none for a mutant that needs a fresh import."""
    pytest.main([*_OPTIONS, *tests], plugins=[_Loop(jobs, workers, told), _FirstFailure()])


def run_fresh(jobs: Sequence[Job], workers: int, told: Callable[[Job, Fate | None], None]) -> None:
    """Runs mutants of what happens at the import; nothing of the project may be imported in this process."""
    run_all(jobs, workers, _run_imported, told)


_OPTIONS = (
    "-s",
    "-p",
    "no:cacheprovider",
    "--no-header",
    "--no-summary",
    "-W",
    "ignore::pytest.PytestAssertRewriteWarning",
)
_UNFIT = 77


def _run_here(
    job: Job, items: dict[str, pytest.Item], functions: dict[tuple[str, str, int], list[FunctionType]]
) -> int:
    if not job.unchanged:
        try:
            _put_in(job, functions)
        except UnfitError:
            return _UNFIT
    chosen = [items[name] for name in job.tests if name in items]
    for item, following in zip(chosen, [*chosen[1:], None], strict=True):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
    return 0


def _run_imported(job: Job) -> int:
    code = compile(job.tree, str(job.path), "exec")
    read = importlib.machinery.SourceFileLoader.get_code

    def get_code(loader: importlib.machinery.SourceFileLoader, name: str) -> CodeType | None:
        return code if loader.path == str(job.path) else read(loader, name)

    importlib.machinery.SourceFileLoader.get_code = get_code  # type: ignore[method-assign]
    wanted = {name: place for place, name in enumerate(job.tests)}

    class Chosen:
        def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
            items[:] = sorted(
                (item for item in items if item.nodeid in wanted), key=lambda item: wanted[item.nodeid]
            )

    files = list(dict.fromkeys(name.partition("::")[0] for name in job.tests))
    return int(pytest.main([*_OPTIONS, *files], plugins=[Chosen(), _FirstFailure()]))


def _functions(paths: set[str]) -> dict[tuple[str, str, int], list[FunctionType]]:
    """Functions of some files by file, qualified name and first line."""
    found: dict[tuple[str, str, int], list[FunctionType]] = {}
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename in paths:
            code = one.__code__
            found.setdefault((code.co_filename, code.co_qualname, code.co_firstlineno), []).append(one)
    return found


def _put_in(job: Job, functions: dict[tuple[str, str, int], list[FunctionType]]) -> None:
    seen = set()
    changed = 0
    for code in _codes(compile(job.tree, str(job.path), "exec")):
        key = (str(job.path), code.co_qualname, code.co_firstlineno)
        if key in seen and "<lambda>" in code.co_qualname:
            raise UnfitError
        seen.add(key)
        for function in functions.get(key, ()):
            if _alike(function.__code__, code):
                continue
            try:
                function.__code__ = code
            except ValueError:
                raise UnfitError from None
            changed += 1
    if not changed:
        raise UnfitError


def _alike(one: object, other: object) -> bool:
    """Whether constants, or the code of functions, are the same. `==` of code differs once it has been run (3.11)."""
    if isinstance(one, CodeType) and isinstance(other, CodeType):
        return (one.co_code, one.co_names, len(one.co_consts)) == (
            other.co_code,
            other.co_names,
            len(other.co_consts),
        ) and all(map(_alike, one.co_consts, other.co_consts))
    return type(one) is type(other) and one == other


def _codes(code: CodeType) -> Iterator[CodeType]:
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            yield constant
            yield from _codes(constant)


def run_all(
    jobs: Sequence[Job],
    workers: int,
    run: Callable[[Job], int],
    told: Callable[[Job, Fate | None], None],
) -> None:
    """Runs each job in a copy of the process, some at a time."""
    waiting = list(reversed(jobs))
    running: dict[int, tuple[Job, float]] = {}
    while waiting or running:
        while waiting and len(running) < workers:
            job = waiting.pop()
            running[_start(job, run)] = (job, time.monotonic() + 20 * job.seconds + 120)
        for pid, (job, until) in list(running.items()):
            ended, status = os.waitpid(pid, os.WNOHANG)
            if ended:
                told(job, _fate(status))
            elif time.monotonic() > until:
                os.killpg(pid, signal.SIGKILL)
                os.waitpid(pid, 0)
                told(job, Fate.TIMEOUT)
            else:
                continue
            del running[pid]
        time.sleep(0.005)


def _fate(status: int) -> Fate | None:
    if os.WIFSIGNALED(status):
        return Fate.TIMEOUT if os.WTERMSIG(status) == signal.SIGXCPU else Fate.KILLED
    code = os.WEXITSTATUS(status)
    return {0: Fate.SURVIVED, _UNFIT: None}.get(code, Fate.KILLED)


def _start(job: Job, run: Callable[[Job], int]) -> int:
    pid = os.fork()
    if pid:
        return pid
    code = 1
    try:
        os.setpgid(0, 0)
        nothing = os.open(os.devnull, os.O_RDWR)
        for number in (0, 1, 2):
            os.dup2(nothing, number)
        seconds = int(4 * job.seconds + 20)
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        sys.setrecursionlimit(2000)
        code = run(job)
    except BaseException:
        code = 1
    finally:
        os._exit(code)
