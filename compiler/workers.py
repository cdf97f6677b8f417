"""Work done by several processes; in: how many tasks and what to do for each, out: the results in order.

Each worker is a copy of this process (fork(2)), so that it has all modules and settings already, and nothing but bytes
goes between them: a task's number one way, its result the other. Who does what depends on who is free; what comes out
does not. Where the system cannot copy a process, the tasks are done here, one after another.
"""

from __future__ import annotations

import os
import selectors
import signal
import socket
import sys
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import NoReturn

_NUMBER = 4
"""Bytes of a task's number, and of the length of a result."""

Task = Callable[[int], bytes]
"""What is done for the task of this number, from 0; whatever it raises is a mistake of ours."""


class WorkerLostError(Exception):
    """A worker that ended before its task did: somebody, or the system, put an end to it."""


def usable_cores() -> int:
    """Cores that this process may run on."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def in_order(count: int, workers: int, task: Task) -> Iterator[bytes]:
    """The results of tasks 0 to `count` - 1, each as soon as those before it are there. Raises WorkerLostError."""
    workers = min(count, workers)
    if workers < 2 or not hasattr(os, "fork"):
        yield from map(task, range(count))
        return
    pool = _Pool(workers, task)
    try:
        yield from pool.results(count)
    finally:
        pool.end()


class _Pool:
    """Workers, each with a line to it."""

    def __init__(self, workers: int, task: Task) -> None:
        self._lines: dict[int, socket.socket] = {}
        """By the worker's process."""
        with _uninterrupted():
            for _ in range(workers):
                ours, theirs = socket.socketpair()
                process = _copy()
                if not process:
                    ours.close()
                    for line in self._lines.values():
                        line.close()
                    _serve(theirs, task)
                theirs.close()
                self._lines[process] = ours

    def results(self, count: int) -> Iterator[bytes]:
        waiting = iter(range(count))
        doing: dict[socket.socket, int] = {}
        done: dict[int, bytes] = {}
        following = 0
        with selectors.DefaultSelector() as selector:
            for line in self._lines.values():
                selector.register(line, selectors.EVENT_READ, line)
                self._give(line, waiting, doing)
            while following < count:
                for key, _ in selector.select():
                    assert isinstance(key.data, socket.socket)
                    line = key.data
                    done[doing.pop(line)] = _received(line, int.from_bytes(_received(line, _NUMBER), "big"))
                    if not self._give(line, waiting, doing):
                        selector.unregister(line)
                while following in done:
                    yield done.pop(following)
                    following += 1

    @staticmethod
    def _give(line: socket.socket, waiting: Iterator[int], doing: dict[socket.socket, int]) -> bool:
        number = next(waiting, None)
        if number is None:
            return False
        doing[line] = number
        with suppress(BrokenPipeError):  # it is met again where the result is read
            line.sendall(number.to_bytes(_NUMBER, "big"))
        return True

    def end(self) -> None:
        """Ends every worker, which takes away what it has not finished, and waits until it has."""
        for line in self._lines.values():
            line.close()
        for process in self._lines:
            with suppress(ProcessLookupError):
                os.kill(process, signal.SIGTERM)
        for process in self._lines:
            with suppress(ChildProcessError):
                os.waitpid(process, 0)


def _received(line: socket.socket, count: int) -> bytes:
    parts = bytearray()
    while len(parts) < count:
        try:
            part = line.recv(count - len(parts))
        except ConnectionResetError:
            part = b""
        if not part:
            raise WorkerLostError("a process that was building a pattern was ended from outside")
        parts.extend(part)
    return bytes(parts)


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """No interrupt between the making of a worker and the moment when it is ready for one."""
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _copy() -> int:
    """A copy of this process: its number here, nought in the copy."""
    sys.stdout.flush()
    sys.stderr.flush()
    with warnings.catch_warnings():
        # The library behind numpy keeps threads and looks after them when a process is copied; we have none.
        warnings.simplefilter("ignore", DeprecationWarning)
        return os.fork()


def _serve(line: socket.socket, task: Task) -> NoReturn:
    """Does tasks until the line is closed; an interrupt, or the end of the whole, ends it quietly."""
    code = 0
    try:
        signal.signal(signal.SIGTERM, signal.default_int_handler)
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT, signal.SIGTERM})
        while number := line.recv(_NUMBER, socket.MSG_WAITALL):
            result = task(int.from_bytes(number, "big"))
            line.sendall(len(result).to_bytes(_NUMBER, "big") + result)
    except BaseException:
        code = 1
    finally:
        os._exit(code)  # nothing of what the first process has begun is to be ended a second time
