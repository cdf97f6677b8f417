"""`python -m tests.mutation [PART ...] [--each 200] [--seed 1] [--kept FOLDER]`: do the tests tell a changed program?

A sample, drawn with a seed, of all the mutants of a part of the project (`operators.py`) is run against the tests that
run the changed line, the quick ones first, up to a budget of seconds; the first failure kills a mutant. Which tests
run which line is measured once and kept in the folder, with a line for each mutant in `fates.tsv`; `--tests` names
other tests than all that concern these parts.

A mutant that no test runs has survived; so has one that only tests beyond the budget might kill. The command ends with
a table and the survivors. Tests that start the program as a process of its own do not see a mutant. With `--control`
nothing is changed: whatever is killed then is killed by our own machinery, and the table must say 0.

Why not a library: mutmut 3 changes functions only (its README sends one to version 2 for code outside of them), and
half of `notation` and `grammar` is tables that are built at the import; Cosmic Ray starts the tests anew for every
mutant (3 s of imports and collecting here, where a copy of the process takes 0.1 s) and does not choose them by line.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import random
import sys
import tempfile
import traceback
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from pathlib import Path

import hypothesis
from coverage import CoverageData

from .fork import Fate, Job, run_collected, run_fresh
from .measure import measure
from .operators import Site, mutated, sites

ROOT = Path(__file__).parent.parent.parent
PARTS: dict[str, tuple[str, ...]] = {
    "notation": ("notation",),
    "grammar": ("grammar",),
    "expand": ("compiler/expand",),
    "check": ("compiler/check",),
    "prove": ("compiler/prove.py", "compiler/proved.py"),
    "kit": tuple(
        f"compiler/{name}.py" for name in ("kit", "kitlist", "stock", "price", "packing", "cutting")
    ),
}
GENERATED = ("notation/metals_table.py",)
TESTS = (
    "tests/notation",
    "tests/grammar",
    "tests/compiler/expand",
    "tests/compiler/check",
    "tests/test_cases.py",
    "tests/test_reference.py",
    "tests/test_mutants.py",
    "tests/test_library.py",
    "tests/compiler/test_agreement.py",
    "tests/compiler/test_cutting.py",
    "tests/compiler/test_facts.py",
    "tests/compiler/test_geometry.py",
    "tests/compiler/test_graph.py",
    "tests/compiler/test_kept.py",
    "tests/compiler/test_kit.py",
    "tests/compiler/test_kit_command.py",
    "tests/compiler/test_kit_printed.py",
    "tests/compiler/test_loader.py",
    "tests/compiler/test_lookalikes.py",
    "tests/compiler/test_metals_file.py",
    "tests/compiler/test_overrides.py",
    "tests/compiler/test_packing.py",
    "tests/compiler/test_price.py",
    "tests/compiler/test_prove.py",
    "tests/compiler/test_proved.py",
    "tests/compiler/test_report.py",
    "tests/compiler/test_stock.py",
    "tests/compiler/test_yamlread.py",
    "tests/compiler/test_cli.py",
    "tests/compiler/test_commands.py",
    "tests/compiler/test_settling.py",
    "tests/compiler/test_word.py",
    "tests/compiler/test_housestyle.py",
    "tests/compiler/test_size.py",
    "tests/compiler/test_fit.py",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutant:
    """A site of a file."""

    part: str
    path: str
    site: Site

    def __str__(self) -> str:
        return f"{self.path}:{self.site}"


class Lines:
    """Which tests run a line, and in which order they are best run."""

    def __init__(self, kept: Path) -> None:
        self.data = CoverageData(basename=str(kept / "lines"))
        self.data.read()
        self.seconds: dict[str, float] = json.loads((kept / "seconds.json").read_text(encoding="utf-8"))
        self._of: dict[str, dict[int, list[str]]] = {}

    def of(self, path: str, lines: Iterable[int]) -> set[str]:
        """The tests that run one of some lines of a file; "" stands for the import."""
        by_line = self._of.setdefault(path, self.data.contexts_by_lineno(str(ROOT / path)))
        return {test for line in lines for test in by_line.get(line, ())}

    def of_file(self, path: str) -> set[str]:
        self.of(path, ())
        return self.of(path, self._of[path])

    def mirrored(self, path: str) -> frozenset[str]:
        """The tests that stand where a file's own tests do: in its folder under `tests`, or in a file of its name."""
        folder = Path("tests", path).parent
        while not any(Path(test.partition("::")[0]).is_relative_to(folder) for test in self.seconds):
            folder = folder.parent  # `notation/rules` has its tests in `tests/notation`
        own = f"{folder}/test_{Path(path).stem}" if folder == Path("tests/compiler") else f"{folder}/"
        return frozenset(test for test in self.seconds if test.startswith(own))

    def files(self) -> list[str]:
        """The files of all tests that were measured."""
        return sorted({test.partition("::")[0] for test in self.seconds})

    def ordered(
        self, tests: Iterable[str], budget: float, first: Sequence[frozenset[str]] = ()
    ) -> tuple[str, ...]:
        """Tests as they are best run, until the budget is spent: some sets of them first, in each the quick ones."""
        chosen = []
        spent = 0.0
        known = (test for test in tests if test in self.seconds)

        def rank(test: str) -> tuple[int, float, str]:
            sets = (place for place, some in enumerate(first) if test in some)
            return next(sets, len(first)), self.seconds[test], test

        for test in sorted(known, key=rank):
            spent += self.seconds[test]
            if chosen and spent > budget:
                break
            chosen.append(test)
        return tuple(chosen)


def drawn(parts: Iterable[str], each: int, seed: int) -> list[Mutant]:
    """A sample of the mutants of each part."""
    found = []
    for part in parts:
        files = [
            file
            for name in PARTS[part]
            for file in ([ROOT / name] if name.endswith(".py") else sorted((ROOT / name).rglob("*.py")))
        ]
        names = [file.relative_to(ROOT).as_posix() for file in files]
        every = [
            Mutant(part=part, path=name, site=site)
            for name in names
            if name not in GENERATED
            for site in sites((ROOT / name).read_text(encoding="utf-8"))
        ]
        print(f"{part}: {len(every)} mutants, {min(each, len(every))} drawn", flush=True)
        chosen = random.Random(f"{part} {seed}").sample(range(len(every)), min(each, len(every)))
        found.extend(every[number] for number in sorted(chosen))
    return found


def judged(
    mutants: list[Mutant], kept: Path, budget: float, workers: int, *, control: bool = False
) -> dict[Mutant, Fate]:
    """What becomes of each mutant; for a control, of the unchanged module in its stead."""
    lines = Lines(kept)
    fates: dict[Mutant, Fate] = {}
    quick: list[Job] = []
    slow: list[Job] = []
    by_name = {str(mutant): mutant for mutant in mutants}
    for name, mutant in by_name.items():
        start, end = mutant.site.run
        tests = lines.of(mutant.path, range(start, end + 1))
        at_import = mutant.site.function is None or "" in tests
        if at_import:
            first = (lines.mirrored(mutant.path), frozenset(lines.of_file(mutant.path)))
            chosen = lines.ordered(lines.seconds, budget, first)
        else:
            chosen = lines.ordered(tests, budget)
        text = (ROOT / mutant.path).read_text(encoding="utf-8")
        job = Job(
            name=name,
            path=ROOT / mutant.path,
            tree=ast.parse(text) if control else mutated(text, mutant.site),
            unchanged=control,
            tests=chosen,
            seconds=sum(lines.seconds[test] for test in chosen),
        )
        if chosen:
            (slow if at_import else quick).append(job)
        else:
            fates[mutant] = Fate.UNSEEN
    with tempfile.NamedTemporaryFile("w+", encoding="utf-8") as told:

        def tell(job: Job, fate: Fate | None) -> None:
            told.write(f"{job.name}\t{fate.name if fate else ''}\n")
            told.flush()
            print(f"{fate.value if fate else 'again'}  {job.name}", flush=True)

        child = os.fork()
        if not child:
            try:
                run_collected(quick, workers, lines.files(), tell)
                os._exit(0)
            except BaseException:
                traceback.print_exc()
                os._exit(1)
        os.waitpid(child, 0)
        run_fresh(slow, workers, tell)
        unfit = {
            line.split("\t")[0] for line in Path(told.name).read_text().splitlines() if line.endswith("\t")
        }
        run_fresh([job for job in quick if job.name in unfit], workers, tell)
        for line in Path(told.name).read_text().splitlines():
            name, _, fate = line.rpartition("\t")
            if fate:
                fates[by_name[name]] = Fate[fate]
    return fates


def table(fates: dict[Mutant, Fate]) -> Iterable[str]:
    """How many of each part are killed, with twice the standard error of the sample."""
    yield f"{'part':10} {'drawn':>6} {'killed':>7} {'slow':>5} {'alive':>6} {'unseen':>7} {'killed of all':>20}"
    for part in PARTS:
        count = Counter(fate for mutant, fate in fates.items() if mutant.part == part)
        if total := count.total():
            share = (count[Fate.KILLED] + count[Fate.TIMEOUT]) / total
            yield (
                f"{part:10} {total:6} {count[Fate.KILLED]:7} {count[Fate.TIMEOUT]:5} {count[Fate.SURVIVED]:6}"
                f" {count[Fate.UNSEEN]:7} {share:12.1%} ± {2 * sqrt(share * (1 - share) / total):.1%}"
            )


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation")
    parser.add_argument("parts", nargs="*", metavar="PART")
    parser.add_argument("--each", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--budget", type=float, default=20)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--tests", nargs="*", default=TESTS)
    parser.add_argument("--control", action="store_true")
    parser.add_argument("--kept", type=Path, default=Path(tempfile.gettempdir()) / "annulet-mutation")
    given = parser.parse_args()
    os.chdir(ROOT)
    given.kept.mkdir(exist_ok=True)
    sys.dont_write_bytecode = False
    sys.pycache_prefix = str(given.kept / "bytecode")
    hypothesis.settings.register_profile(
        "mutation",
        derandomize=True,
        database=None,
        phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate],
    )
    hypothesis.settings.load_profile("mutation")
    if not (given.kept / "seconds.json").exists():
        child = os.fork()
        if not child:
            try:
                measure(tuple(given.tests), ROOT, given.kept)
                os._exit(0)
            except BaseException:
                traceback.print_exc()
                os._exit(1)
        os.waitpid(child, 0)
    mutants = drawn(given.parts or list(PARTS), given.each, given.seed)
    fates = judged(mutants, given.kept, given.budget, given.workers, control=given.control)
    (given.kept / "fates.tsv").write_text(
        "".join(f"{fate.name}\t{mutant.part}\t{mutant}\n" for mutant, fate in fates.items()), encoding="utf-8"
    )
    print(*table(fates), sep="\n")
    for mutant, fate in fates.items():
        if fate in (Fate.SURVIVED, Fate.UNSEEN):
            print(f"{fate.value}: {mutant}")


main()
