"""Cases through the whole pipeline: load, expand, check, report.

`cases/errors`: every diagnostic stands above its line (see `casefile`), and nothing else may be told.
`cases/reports`: the whole report as a person sees it, in a text file beside the pattern. ANNULET_REWRITE=1 writes
both anew; the difference is read like code.
"""

import os
from pathlib import Path

import pytest
from casefile import CASES, REWRITE, load, mismatches, paths

from compiler.pipeline import checked, every_variant
from compiler.report import as_text, summary
from compiler.timings import Timings
from notation.rules import checks, editions
from notation.rules.table import RULES

FAMILIES = ("held", "doubling", "budget", "assembly", "fit", "expect", "editions")
ERRORS = [path for family in FAMILIES for path in paths(f"errors/{family}")]
REPORTS = sorted((CASES / "reports").glob("*.annulet"))


def name_of(path: Path) -> str:
    return path.relative_to(CASES).with_suffix("").as_posix()


@pytest.mark.parametrize("path", ERRORS, ids=name_of)
def test_every_diagnostic_is_expected_and_every_expectation_comes_true(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(path.parent)
    result = checked(path.name, None, Timings())
    assert mismatches(load(path), (*result.diagnostics, *every_variant(result, path.name, Timings()))) == []


@pytest.mark.parametrize("path", ERRORS, ids=name_of)
def test_what_is_told_does_not_depend_on_what_was_told_before(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(path.parent)
    assert checked(path.name, None, Timings()).diagnostics == checked(path.name, None, Timings()).diagnostics


@pytest.mark.parametrize("path", REPORTS, ids=name_of)
def test_the_report_reads_as_it_was_approved(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(path.parent)
    result = checked(path.name, None, Timings())
    report = as_text(result.diagnostics, result.loaded.sources)
    report += f"\n{summary(result.diagnostics, [path.name])}\n"
    approved = path.with_suffix(".txt")
    if os.environ.get(REWRITE):
        approved.write_text(report, "utf-8")
    assert report == approved.read_text("utf-8")


def test_every_approved_report_has_its_pattern() -> None:
    assert [
        path for path in (CASES / "reports").glob("*.txt") if not path.with_suffix(".annulet").exists()
    ] == []


def test_every_rule_of_the_checks_has_a_case() -> None:
    shown = {expected.rule for path in ERRORS for expected in load(path).expected}
    assert [rule.name for rule in checks.RULES if rule.name not in shown] == []


def test_every_message_about_editions_has_a_case(monkeypatch: pytest.MonkeyPatch) -> None:
    told = set()
    for path in paths("errors/editions"):
        monkeypatch.chdir(path.parent)
        told |= {(one.rule, one.variant) for one in checked(path.name, None, Timings()).diagnostics}
    worded = {(rule.name, variant) for rule in editions.RULES for variant in rule.wordings}
    # that a length cannot be made is found by a search, which is in test_madetolength
    assert worded - told == {("length-not-made", "")}


def test_cases_know_no_rule_that_is_not_there() -> None:
    shown = {expected.rule for path in paths("errors") for expected in load(path).expected}
    assert sorted(shown - set(RULES)) == []
