"""Slips of writing: every case under cases/errors/syntax gives the diagnostics that stand in it, and no others."""

from pathlib import Path

import casefile
import pytest

from grammar.parse import parse

CASES = casefile.paths("errors/syntax")


@pytest.mark.parametrize("path", CASES, ids=[path.stem for path in CASES])
def test_a_case_gives_its_diagnostics_and_no_others(path: Path) -> None:
    case = casefile.load(path)
    pattern, told = parse(case.source)
    assert casefile.mismatches(case, told) == []
    assert pattern.incomplete
