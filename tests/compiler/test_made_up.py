"""Patterns made up, by Hypothesis and by chance, through expansion, checks, words and export: no traceback, and the
laws of `taken_on`.
"""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import margin_strategies
import pytest
from hypothesis import HealthCheck, given, settings
from taken_on import taken_on

from compiler.expand.driver import expand
from compiler.pipeline import checked
from compiler.timings import Timings
from grammar.format import format_pattern
from grammar.parse import parse
from notation.margin import Pattern
from notation.source import Source
from tests.fuzz_inputs import LIBRARY, ROOT, likely

ANY = settings(deadline=None, max_examples=80, suppress_health_check=list(HealthCheck), derandomize=True)
INPUTS = 15


@given(made_up=margin_strategies.patterns)
@ANY
def test_whatever_can_be_written_is_expanded_and_checked(made_up: Pattern) -> None:
    source = Source(name="made up", text=format_pattern(made_up))
    pattern, told = parse(source)
    assert told == ()
    weave, told = expand(pattern, {})
    taken_on(weave, told, {source.name: source})


@pytest.mark.parametrize("seed", range(4))
def test_what_the_library_might_have_said_is_worded_and_exported(
    seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copytree(ROOT / "patterns/units", "units")
    chance, whole = random.Random(seed), 0
    for _ in range(INPUTS):
        Path("likely.annulet").write_text(likely(chance, LIBRARY), "utf-8")
        result = checked("likely.annulet", None, Timings())
        assert result.weave is not None
        whole += taken_on(result.weave, result.diagnostics, result.loaded.sources)
    assert whole > INPUTS // 3
