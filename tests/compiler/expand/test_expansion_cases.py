"""Every rule of the expansion has a case under `tests/cases/errors`, and every case holds."""

from pathlib import Path

import casefile
import pytest

from compiler.pipeline import Checked, checked
from compiler.report import as_text
from compiler.timings import Timings
from notation.rules.expansion import family

FAMILIES = (
    "names",
    "numbers",
    "making",
    "findings",
    "picking",
    "families",
    "units",
    "declarations",
    "expect",
    "lying",
    "limits",
)
PATHS = [path for name in FAMILIES for path in casefile.paths(f"errors/{name}")]


def run(path: Path, monkeypatch: pytest.MonkeyPatch) -> Checked:
    """A case through the stages, under its bare name."""
    monkeypatch.chdir(path.parent)
    return checked(path.name, None, Timings())


@pytest.mark.parametrize("path", PATHS, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_every_case_holds(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = run(path, monkeypatch)
    assert casefile.mismatches(casefile.load(path), found.diagnostics) == []
    assert as_text(found.diagnostics, found.loaded.sources) or "errors/units/lib" in path.as_posix()


def test_every_rule_and_variant_has_a_case(monkeypatch: pytest.MonkeyPatch) -> None:
    told = {(one.rule, one.variant) for path in PATHS for one in run(path, monkeypatch).diagnostics}
    worded = {(rule.name, variant) for rule in family.RULES for variant in rule.wordings}
    assert sorted(worded - told) == []
