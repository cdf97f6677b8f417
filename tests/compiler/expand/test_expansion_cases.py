"""Every rule of the expansion has a case under `tests/cases/errors`, and every case holds."""

from contextlib import chdir
from functools import cache
from pathlib import Path

import casefile
import pytest

from compiler.pipeline import checked
from compiler.report import as_text
from compiler.timings import Timings
from notation.diagnostic import Diagnostic
from notation.rules.expansion import family
from notation.source import Source

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


@cache
def run(path: Path) -> tuple[tuple[Diagnostic, ...], dict[str, Source]]:
    """What is told of a case, under its bare name, and the sources; some of the cases take their time."""
    with chdir(path.parent):
        found = checked(path.name, None, Timings())
    return found.diagnostics, found.loaded.sources


@pytest.mark.parametrize("path", PATHS, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_every_case_holds(path: Path) -> None:
    diagnostics, sources = run(path)
    assert casefile.mismatches(casefile.load(path), diagnostics) == []
    assert as_text(diagnostics, sources) or "errors/units/lib" in path.as_posix()


def test_every_rule_and_variant_has_a_case() -> None:
    told = {(one.rule, one.variant) for path in PATHS for one in run(path)[0]}
    worded = {(rule.name, variant) for rule in family.RULES for variant in rule.wordings}
    assert sorted(worded - told) == []
