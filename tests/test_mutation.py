"""The mutation tester: what it changes, and that it kills what is broken and nothing else."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest
from mutation.operators import mutated, sites

MODULE = '''\
"""A ring's size."""

LIMIT = 3


def fits(inner: int, wire: int) -> bool:
    """Whether a ring goes on."""
    return inner > wire
'''
TESTS = """\
import ring


def test_a_ring_goes_on_thinner_wire():
    assert ring.fits(2, 1) and not ring.fits(1, 1)


def test_the_limit():
    assert ring.LIMIT == 3
"""
CONTROL = """\
import ast
from pathlib import Path

from mutation.fork import Job, run_collected, run_fresh
from mutation.operators import mutated, sites

path = Path("ring.py").resolve()
text = path.read_text(encoding="utf-8")
tests = ("test_ring.py::test_a_ring_goes_on_thinner_wire", "test_ring.py::test_the_limit")


def job(name, tree, unchanged=False):
    return Job(name=name, path=path, tree=tree, tests=tests, seconds=0.1, unchanged=unchanged)


def tell(way):
    return lambda job, fate: print(f"{way}: {job.name}: {fate.name if fate else 'unfit'}", flush=True)


broken = [job(f"{site.line} {site.change}", mutated(text, site)) for site in sites(text)]
jobs = [job("control", ast.parse(text), True), *broken]
run_fresh(jobs, 1, tell("fresh"))
run_collected(jobs, 1, ["test_ring.py"], tell("collected"))
"""


def changes(text: str) -> list[str]:
    """Every mutant of a text, as it reads."""
    return [ast.unparse(mutated(text, site)) for site in sites(text)]


def test_a_broken_module_is_killed_and_an_unchanged_one_survives(tmp_path: Path) -> None:
    (tmp_path / "ring.py").write_text(MODULE, encoding="utf-8")
    (tmp_path / "test_ring.py").write_text(TESTS, encoding="utf-8")
    (tmp_path / "control.py").write_text(CONTROL, encoding="utf-8")
    (tmp_path / "pytest.ini").write_text("[pytest]\n", encoding="utf-8")
    ran = subprocess.run(
        [sys.executable, "control.py"],
        cwd=tmp_path,
        env={"PYTHONPATH": str(Path(__file__).parent), "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert [line for line in ran.stdout.splitlines() if ": " in line] == [
        "fresh: control: SURVIVED",
        "fresh: 3 assigned None: KILLED",
        "fresh: 3 number + 1: KILLED",
        "fresh: 8 returns None: KILLED",
        "fresh: 8 operator: KILLED",
        "collected: control: SURVIVED",
        "collected: 3 assigned None: unfit",
        "collected: 3 number + 1: unfit",
        "collected: 8 returns None: KILLED",
        "collected: 8 operator: KILLED",
    ], ran.stderr


@pytest.mark.parametrize(
    ("text", "mutants"),
    [
        ("a < b", ["a <= b"]),
        ("a == b", ["a != b"]),
        ("a and b", ["a or b"]),
        ("a // b", ["a * b"]),
        ("not a", ["a"]),
        ("-a", ["a"]),
        ("True", ["False"]),
        ("7", ["8"]),
        ("'ring'", ["'ring~'"]),
        ("a if b else c", ["a if not b else c"]),
        ("[a for a in b if a]", ["[a for a in b]"]),
        ("f(a, b)", ["f(b, a)"]),
        ("a[:b]", ["a"]),
    ],
)
def test_an_expression_is_changed_into(text: str, mutants: list[str]) -> None:
    assert changes(f"x = {text}")[1:] == [f"x = {mutant}" for mutant in mutants]
    assert changes(f"x = {text}")[0] == "x = None"


@pytest.mark.parametrize(
    ("text", "mutants"),
    [
        ("def f(a):\n    return a", ["def f(a):\n    return None"]),
        ("f(a)", ["pass"]),
        ("raise A('two words')", ["pass"]),
        ("if a:\n    b", ["if not a:\n    b"]),
        ("for a in b:\n    continue", ["for a in b:\n    break"]),
        ("a += b", ["a -= b", "pass"]),
    ],
)
def test_a_statement_is_changed_into(text: str, mutants: list[str]) -> None:
    assert changes(text) == mutants


@pytest.mark.parametrize(
    "text",
    [
        '"""A docstring."""',
        "a: int | None",
        "def f(a: int = b) -> int | None:\n    pass",
        "import a",
        "class A(B, c=True):\n    pass",
        "f('words of a sentence')[a]",
        "if TYPE_CHECKING:\n    a = 1",
        "a = None",
        "isinstance(a, b)[c]",
        "max(a, b)[c]",
    ],
)
def test_what_no_test_of_behaviour_can_tell_is_left_alone(text: str) -> None:
    assert changes(text) == []
