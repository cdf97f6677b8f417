"""Which test runs which line, and how long each test takes: one run of the tests under coverage.

Comes in: the names of test files. Goes out: the data file of `coverage`, with a context for each test and the empty
context for what runs when a module is imported, and the seconds of each test.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import coverage
import pytest

PACKAGES = ("notation", "grammar", "compiler")
_OPTIONS = ("-p", "no:cacheprovider", "-W", "ignore::pytest.PytestAssertRewriteWarning")


class _Contexts:
    """A plugin of pytest that tells coverage which test is running."""

    def __init__(self, measured: coverage.Coverage) -> None:
        self.measured = measured
        self.seconds: defaultdict[str, float] = defaultdict(float)
        self.failed: list[str] = []

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self.measured.switch_context(item.nodeid)
        result = yield
        self.measured.switch_context("")
        return result

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.seconds[report.nodeid] += report.duration
        if report.failed:
            self.failed.append(report.nodeid)


def measure(tests: tuple[str, ...], root: Path, kept: Path) -> None:
    """Runs the tests and keeps `lines` and `seconds.json` in the folder `kept`.

    None of the project's modules may have been imported before. A test that fails here is left out: it has no seconds.
    """
    measured = coverage.Coverage(
        data_file=str(kept / "lines"),
        branch=True,
        source=[str(root / package) for package in PACKAGES],
        config_file=False,
    )
    measured.start()
    contexts = _Contexts(measured)
    pytest.main([*_OPTIONS, *tests], plugins=[contexts])
    measured.stop()
    measured.save()
    seconds = {
        name: round(spent, 3) for name, spent in contexts.seconds.items() if name not in contexts.failed
    }
    (kept / "seconds.json").write_text(json.dumps(seconds), encoding="utf-8")
    if contexts.failed:
        print("left out, failing without a mutant:", *contexts.failed, sep="\n  ")
