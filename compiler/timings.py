"""Seconds per stage, for `--timings`; nothing that is made depends on them.

A stage inside another (figures are drawn while pages are composed) is counted once, as the inner one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from time import perf_counter


class Timings:
    """Seconds spent in each stage, summed over the files of one run."""

    def __init__(self) -> None:
        """With nothing spent yet."""
        self._seconds: dict[str, float] = {}
        self._within: list[float] = []
        """For each stage that is going on, outermost first: seconds spent in stages inside it."""

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        """Counts what is done inside for the stage of this name, but for stages inside it."""
        start = perf_counter()
        self._seconds.setdefault(name, 0.0)
        self._within.append(0.0)
        try:
            yield
        finally:
            spent = perf_counter() - start
            self._seconds[name] += spent - self._within.pop()
            if self._within:
                self._within[-1] += spent

    def seconds(self) -> dict[str, float]:
        """Seconds by stage, in the order in which they were first met."""
        return dict(self._seconds)

    def take(self, seconds: Mapping[str, float]) -> None:
        """Adds what was spent elsewhere."""
        for name, spent in seconds.items():
            self._seconds[name] = self._seconds.get(name, 0.0) + spent

    def text(self) -> str:
        """A line for each stage, in the order in which they were first met, and their sum."""
        rows = [*self._seconds.items(), ("in all", sum(self._seconds.values()))]
        return "".join(f"{name:<10}{seconds:8.3f} s\n" for name, seconds in rows)
