"""Broken programs by the million: `python -m tests.fuzz KIND COUNT [--seed N] [--seconds S] [--guided]`.

KIND is `parse` (parse and format, and their laws), `check` (expand and check too, and what must hold of a whole
piece), `build` (every command that prints, and the booklet, by way of the command line) or `settle`. An input is a
file of the library or of the cases, or a few lines of one, with bytes, words and lines changed, left out, doubled
and mixed with those of others; for `build` and `settle` most are changed mildly, so that they can be made: other
counts, sizes, metals, texts and options, statements left out or said twice. With `--guided`, an input that went
through a step of the code that none before it had gone through is kept and changed further. What fails is written
to the folder `fuzz-found` and the run goes on; at the end come the counts, the slowest input and the most memory.
The same seed makes the same inputs.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import random
import resource
import shutil
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from types import CodeType, FrameType

from compiler.check.run import check
from compiler.cli import OUR_MISTAKE, main
from compiler.expand.driver import expand
from compiler.report import as_json, as_text
from compiler.weave import Weave
from grammar.format import format_pattern
from grammar.parse import parse
from notation.diagnostic import Diagnostic
from notation.margin import Pattern, Use
from notation.source import Source
from tests.compiler.slow_check import disagreements
from tests.fuzz_inputs import LIBRARY, PAGES, ROOT, TEXTS, likely, made

SLOWEST = 10.0
"""Seconds that an input may take, each command for itself."""
MOST_MEMORY = 10**9
"""Bytes that the process may hold."""

MOST_CHECKED_SLOWLY = 2000
"""Rings of a pattern that the slow checker of the tests looks at too."""


class BrokenLawError(Exception):
    """A law that does not hold."""


# ---------------------------------------------------------------- what is done with one


def parse_one(text: str) -> str:
    """Parse and format; `read` if there was no slip."""
    pattern, clean = _parsed(text)
    written = format_pattern(pattern)
    if not clean:
        if written != pattern.source.text:
            raise BrokenLawError("a text with slips is formatted as it was")
        return "with slips"
    again, told = parse(Source(name="fuzz", text=written))
    if told or again.statements != pattern.statements:
        raise BrokenLawError("parse(format(x)) == parse(x)")
    if format_pattern(again) != written:
        raise BrokenLawError("format(format(x)) == format(x)")
    if sorted(one.text for one in again.comments) != sorted(one.text for one in pattern.comments):
        raise BrokenLawError("comments are kept")
    return "read"


def _parsed(text: str) -> tuple[Pattern, bool]:
    source = Source(name="fuzz", text=text)
    pattern, told = parse(source)
    if pattern.incomplete != bool(told):
        raise BrokenLawError("what is told is what is missing")
    as_text(told, {source.name: source})
    return pattern, not told


def check_one(text: str) -> str:
    """Expand and check; `whole` if there was nothing to tell but warnings."""
    pattern, _ = _parsed(text)
    used = _USED["rhombus"]
    library = {
        (pattern.source.name, one.path.value): used for one in pattern.statements if isinstance(one, Use)
    }
    weave, told = expand(pattern, library)
    sources = {each.source.name: each.source for each in (pattern, used)}
    report = (*told, *check(weave))
    as_text(report, sources)
    as_json(report, sources, ["fuzz"])
    if not weave.complete:
        return "not whole"
    _sound(weave, report)
    return "whole"


def _sound(weave: Weave, told: tuple[Diagnostic, ...]) -> None:
    for piece in weave.pieces:
        pairs = {frozenset(pair) for pair in zip(piece.link_a, piece.link_b, strict=True)}
        if len(pairs) != len(piece.link_a) or any(len(pair) != 2 for pair in pairs):
            raise BrokenLawError("two rings are linked at most once, none with itself")
    if sum(map(len, weave.pieces)) <= MOST_CHECKED_SLOWLY and (found := disagreements(weave, told)):
        raise BrokenLawError(f"the slow checker says otherwise: {', '.join(found)}")


def build_one(text: str) -> str:
    """Every command that prints, by way of the command line."""
    return _commands(
        text,
        "build --schematic",
        "steps",
        "export",
        "kit --csv",
        "figure --schematic -o x.svg",
        "format --check",
    )


def settle_one(text: str) -> str:
    """The search for places, within its budget."""
    return _commands(text, "settle")


def _commands(text: str, *commands: str) -> str:
    Path("fuzz.annulet").write_text(text, "utf-8", errors="replace", newline="")
    for command in commands:
        said, begun = io.StringIO(), time.process_time()
        with contextlib.redirect_stderr(said), contextlib.redirect_stdout(io.TextIOWrapper(io.BytesIO())):
            code = main([*command.split(), "fuzz.annulet"])
        if code == OUR_MISTAKE:
            raise BrokenLawError(f"{command}: {said.getvalue()}")
        if command != "settle" and time.process_time() - begun > SLOWEST:
            raise BrokenLawError(f"{command} took longer than {SLOWEST:.0f} s")
        if command == commands[0] and code:
            return "refused"
    return "made"


_USED = {
    "rhombus": parse(
        Source(name="rhombus", text=(ROOT / "patterns/units/rhombus.annulet").read_text("utf-8"))
    )[0]
}
KINDS: dict[str, Callable[[str], str]] = {
    "parse": parse_one,
    "check": check_one,
    "build": build_one,
    "settle": settle_one,
}


# ---------------------------------------------------------------- the run


class Guide:
    """Which steps from line to line inputs have gone through; slow, since every line is seen."""

    def __init__(self) -> None:
        self._met: set[tuple[CodeType, int, int]] = set()
        self._new = False
        self._last: dict[FrameType, int] = {}

    def follow(self, what: Callable[[], str]) -> tuple[str, bool]:
        """Does it, and says whether it went where none had gone."""
        self._new = False
        sys.settrace(self._call)
        try:
            return what(), self._new
        finally:
            sys.settrace(None)
            self._last.clear()

    def _call(self, frame: FrameType, _event: str, _argument: object) -> Callable[..., object] | None:
        name = frame.f_code.co_filename
        return self._line if "/grammar/" in name or "/compiler/expand/" in name else None

    def _line(self, frame: FrameType, event: str, _argument: object) -> Callable[..., object]:
        if event == "line":
            step = (frame.f_code, self._last.get(frame, 0), frame.f_lineno)
            if step not in self._met:
                self._met.add(step)
                self._new = True
            self._last[frame] = frame.f_lineno
        return self._line


def run(kind: str, count: int, seed: int, seconds: float, *, guided: bool) -> int:
    """The whole run; gives how many inputs failed."""
    rng = random.Random(seed)
    corpus = list(LIBRARY if kind in ("build", "settle") else TEXTS)
    corpus += PAGES if kind == "build" else []
    guide = Guide() if guided else None
    kept = len(corpus)
    counts: dict[str, int] = {}
    slowest, slow_text = 0.0, ""
    begun = time.monotonic()
    done = failed = 0
    found = Path.cwd() / "fuzz-found"
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        shutil.copytree(ROOT / "patterns/units", Path(folder) / "units")
        while done < count and time.monotonic() - begun < seconds:
            whole = kind in ("build", "settle")
            text = likely(rng, corpus) if whole and rng.random() < 0.8 else made(rng, corpus, whole=whole)
            start = time.process_time()
            try:
                if guide is None:
                    outcome = KINDS[kind](text)
                else:
                    outcome, new = guide.follow(lambda text=text: KINDS[kind](text))  # type: ignore[misc]
                    if new:
                        corpus.append(text)
                if time.process_time() - start > SLOWEST and guide is None and kind in ("parse", "check"):
                    raise BrokenLawError(f"it took longer than {SLOWEST:.0f} s")
            except Exception:
                outcome = "FAILED"
                failed += 1
                found.mkdir(exist_ok=True)
                (found / f"{kind}-{seed}-{done}.annulet").write_text(text, "utf-8", errors="surrogatepass")
                traceback.print_exc()
            took = time.process_time() - start
            if took > slowest:
                slowest, slow_text = took, text
            counts[outcome] = counts.get(outcome, 0) + 1
            done += 1
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
    kinds = ", ".join(f"{number:,} {name}" for name, number in sorted(counts.items()))
    print(f"{kind}, seed {seed}: {done:,} inputs in {time.monotonic() - begun:.0f} s: {kinds}")
    print(f"slowest {slowest:.2f} s, {len(slow_text)} characters; most memory {memory / 1e6:.0f} MB")
    if guide is not None:
        print(f"{len(corpus) - kept:,} inputs kept for the new steps they took")
    return failed + (memory > MOST_MEMORY)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__.splitlines()[0])
    parser.add_argument("kind", choices=KINDS)
    parser.add_argument("count", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=float("inf"))
    parser.add_argument("--guided", action="store_true")
    given = parser.parse_args()
    os.environ.pop("ANNULET_DEBUG", None)
    os.environ["ANNULET_CACHE"] = "off"
    sys.exit(1 if run(given.kind, given.count, given.seed, given.seconds, guided=given.guided) else 0)
