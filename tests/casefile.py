"""Error cases: pattern files in which the expected diagnostics stand as comments above their lines.

    #! missing-colon 11 there is no `:`
    #! misplaced 5-16 left margin
    piece lyra

The rule, the columns, and words that the message or its hint must contain (they may be left out). Columns count
from 1 and are those of the next line that is no `#!` line: `5-16` is from the 5th to the 16th character, `11` the
place in front of the 11th. A place that goes on over the line's end is marked up to the end of the line. An
expectation at the end of the file is for the last line.

Every diagnostic must be expected and every expectation must come true. With ANNULET_REWRITE=1 in the environment
the `#!` lines are written anew from what was found; read the difference like code.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from notation.diagnostic import Diagnostic, sort_key
from notation.rules.table import RULES
from notation.source import Source

CASES = Path(__file__).parent / "cases"
MARK = "#!"
REWRITE = "ANNULET_REWRITE"
_EXPECTATION = re.compile(
    r"\s*#! (?P<rule>[a-z0-9-]+) (?P<first>\d+)(?:-(?P<last>\d+))?(?: (?P<words>.*\S))?\s*"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """A diagnostic that is expected, or one that was found."""

    line: int
    """From 1."""
    first: int
    """First column, from 1."""
    last: int
    """Last column; one less than `first` for a place between two characters."""
    rule: str
    words: str
    """What its message says, or has to contain."""

    def __str__(self) -> str:
        columns = f"{self.first}" if self.last < self.first else f"{self.first}-{self.last}"
        return f"line {self.line}: {self.rule} {columns} {self.words}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A case file."""

    path: Path
    source: Source
    expected: tuple[Expectation, ...]


def paths(folder: str) -> list[Path]:
    """The case files of a folder under `cases`, such as "errors/syntax", in order of their names."""
    return sorted((CASES / folder).rglob("*.annulet"))


def load(path: Path) -> Case:
    """A case file; `ValueError` for a `#!` line that is none."""
    source = Source(name=path.name, text=path.read_text(encoding="utf-8"))
    lines = source.text.split("\n")
    last_line = max(
        (number for number, line in enumerate(lines, 1) if line and not _is_mark(line)), default=1
    )
    expected = []
    for number, line in enumerate(lines, 1):
        if not _is_mark(line):
            continue
        match = _EXPECTATION.fullmatch(line)
        if match is None:
            raise ValueError(f"{path}:{number}: no expectation: {line.strip()}")
        following = number + 1
        while following <= len(lines) and _is_mark(lines[following - 1]):
            following += 1
        first = int(match["first"])
        expected.append(
            Expectation(
                line=min(following, last_line),
                first=first,
                last=int(match["last"]) if match["last"] else first - 1,
                rule=match["rule"],
                words=match["words"] or "",
            )
        )
    return Case(path=path, source=source, expected=tuple(expected))


def mismatches(case: Case, diagnostics: Iterable[Diagnostic]) -> list[str]:
    """What was expected and not found, and what was found and not expected; empty when the case holds.

    Only diagnostics about the case's own file count. With the switch the file is written anew, and holds.
    """
    own = sorted((one for one in diagnostics if one.place.source == case.source.name), key=sort_key)
    found = [as_found(diagnostic, case.source) for diagnostic in own]
    if os.environ.get(REWRITE):
        case.path.write_text(rewritten(case, found), encoding="utf-8")
        return []
    left = list(found)
    told = []
    for expectation in case.expected:
        match = next((one for one in left if _comes_true(expectation, one)), None)
        if match is None:
            told.append(f"expected, not found: {expectation}")
        else:
            left.remove(match)
    return told + [f"found, not expected: {one}" for one in left]


def as_found(diagnostic: Diagnostic, source: Source) -> Expectation:
    """Where a diagnostic is and what it says, message and hint."""
    wording = RULES[diagnostic.rule].wordings[diagnostic.variant]
    arguments = dict(diagnostic.arguments)
    span = diagnostic.place.span
    start = source.position(span.start)
    end = source.position(span.end)
    same_line = end.line == start.line
    return Expectation(
        line=start.line,
        first=start.column,
        last=end.column - 1 if same_line else len(source.line_text(start.line)),
        rule=diagnostic.rule,
        words=f"{wording.says.format(**arguments)}. {wording.hint.format(**arguments)}".strip(),
    )


def rewritten(case: Case, found: Sequence[Expectation]) -> str:
    """The case file with the expectations that were found."""
    out: list[str] = []
    lines = case.source.text.split("\n")
    by_line: dict[int, list[Expectation]] = {}
    for one in found:
        by_line.setdefault(one.line, []).append(one)
    for number, line in enumerate(lines, 1):
        if _is_mark(line):
            continue
        for one in by_line.get(number, []):
            columns = f"{one.first}" if one.last < one.first else f"{one.first}-{one.last}"
            out.append(f"{MARK} {one.rule} {columns} {one.words.partition('. ')[0]}")
        out.append(line)
    return "\n".join(out)


def _is_mark(line: str) -> bool:
    return line.lstrip().startswith(MARK)


def _comes_true(expectation: Expectation, found: Expectation) -> bool:
    place = (expectation.line, expectation.first, expectation.last, expectation.rule)
    return place == (found.line, found.first, found.last, found.rule) and expectation.words in found.words
