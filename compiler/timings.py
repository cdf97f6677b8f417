"""Seconds per stage, for `--timings`; nothing that is made depends on them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from time import perf_counter


class Timings:
    """Seconds spent in each stage, summed over the files of one run."""

    def __init__(self) -> None:
        """With nothing spent yet."""
        self._seconds: dict[str, float] = {}

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        """Counts what is done inside for the stage of this name."""
        start = perf_counter()
        try:
            yield
        finally:
            self._seconds[name] = self._seconds.get(name, 0.0) + perf_counter() - start

    def text(self) -> str:
        """A line for each stage, in the order in which they were first met, and their sum."""
        rows = [*self._seconds.items(), ("in all", sum(self._seconds.values()))]
        return "".join(f"{name:<10}{seconds:8.3f} s\n" for name, seconds in rows)
