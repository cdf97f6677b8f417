"""Kept geometry: a proved layout as a small text file beside its pattern, so that every machine draws the same.

In: a layout and the key of its problem, or the text of such a file. Out: text, or a layout proved anew, or a reason why
there is none. The key is the SHA-256 of exactly what a layout depends on: a file for another problem is stale. What
is read is never trusted: the sizes come from the problem, the numbers are few, finite and bounded, and the proof
is run again, so that a wrong file is only a reason to settle once more.

    annulet layout 1
    piece earring 8d969eef... 57 rings
    0.0000 0.0000 0.0000 0.0000000 0.0000000 1.0000000
    ...

Each line of numbers is a ring: its centre, mm to 0.0001, and its normal, to 1e-7. A piece for which a search found
nothing is remembered as well, with the best that was reached, so that it is not searched for at every build:

    piece earring 8d969eef... 57 rings, not found by search 4

That too is only believed for the same problem and the same search, and is never taken for impossible.
"""

from __future__ import annotations

import hashlib
import math
import re
from collections.abc import Iterable, Mapping
from enum import Enum
from pathlib import Path

from msgspec import Struct

from compiler.infile import ReadError, read_bytes
from compiler.layout import (
    NORMAL_DECIMALS,
    PLACE_DECIMALS,
    Circle,
    Layout,
    LayoutProblem,
    Vector,
    rounded_circle,
)
from compiler.outfile import write_whole
from compiler.prove import prove

_HEAD = "annulet layout 1"
_ENTRY = re.compile(
    r"piece ([^\s]{1,200}) ([0-9a-f]{64}) ([1-9][0-9]{0,6}) rings(?:, not found by search ([0-9]{1,6}))?"
)
SEARCH = 4
"""Version of the search: raised when it may find what it did not find before, which is then searched for again."""
_NUMBER = re.compile(r"-?[0-9]{1,6}\.[0-9]{1,7}")
MOST_BYTES = 64_000_000
"""A file longer than this is not read: a ring takes less than 80 bytes."""
_MOST_UNEVEN = 1e-5
"""By how much the length of a kept normal may differ from 1: rounding alone stays below."""


class NotKept(Enum):
    """Why there is no layout of a piece in a file."""

    NO_FILE = "no file"
    NOT_READABLE = "not a layout file"
    MISSING = "the piece is not in it"
    STALE = "it is for another state of the piece"
    NOT_PROVED = "the proof refuses it"
    SEARCHED_BEFORE = "another version of the search found none"


class KeptRings(Struct, frozen=True, kw_only=True):
    """What a file says of a piece, not proved."""

    key: str
    places: tuple[tuple[Vector, Vector], ...]
    """Centre and normal of each ring."""
    search: int | None = None
    """The version of a search that found nothing better."""


class Sought(Struct, frozen=True, kw_only=True):
    """What a search reached that found no layout, with the verdict of the proof on it."""

    layout: Layout


def problem_key(problem: LayoutProblem) -> str:
    """The SHA-256, in hexadecimal, of everything that a layout must satisfy; hints are not of it."""
    lines = [
        *(f"ring {ring.core_radius!r} {ring.tube_radius!r}" for ring in problem.rings),
        *(f"pair {pair.a} {pair.b} {pair.state.value}" for pair in problem.pairs),
        *(f"strand {' '.join(map(str, strand))}" for strand in problem.strands),
        *(f"cycle {' '.join(map(str, cycle.rings))} {cycle.product}" for cycle in problem.cycles),
        *(f"between {fact.ring} {fact.first} {fact.second}" for fact in problem.between),
        *(f"over {fact.upper} {fact.lower} {fact.frame or ''}" for fact in problem.overs),
        *(
            f"closed {fact.rows} {fact.half_turns} {fact.front_outside}"
            for fact in problem.closings
            if fact.half_turns
            or fact.front_outside is False  # what is meant where nothing is said has no line
        ),
        *(f"lean {fact.ring} {fact.right} {fact.frame}" for fact in problem.leans),
        *(f"turn {fact.rings} {fact.degrees}" for fact in problem.turns),
        *(f"ahead {fact.rings} {fact.frame or ''}" for fact in problem.aheads),
    ]
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def written(layouts: Iterable[tuple[str, str, Layout]]) -> str:
    """The text of a file for layouts, each with the name of its piece and the key of its problem, in order."""
    lines = [_HEAD]
    for name, key, layout in layouts:
        found = "" if layout.verdict.proved else f", not found by search {SEARCH}"
        lines.append(f"piece {name} {key} {len(layout.circles)} rings{found}")
        for circle in layout.circles:
            centre = " ".join(f"{value:.{PLACE_DECIMALS}f}" for value in circle.centre)
            normal = " ".join(f"{value:.{NORMAL_DECIMALS}f}" for value in circle.normal)
            lines.append(f"{centre} {normal}")
    return "\n".join(lines) + "\n"


def parsed(text: str) -> Mapping[str, KeptRings] | None:
    """What a file says, by the name of the piece; None where anything in it is not as it must be."""
    lines = text.split("\n")
    if lines[0] != _HEAD or lines[-1] != "" or len(text) > MOST_BYTES:
        return None
    found: dict[str, KeptRings] = {}
    at, end = 1, len(lines) - 1
    while at < end:
        entry = _ENTRY.fullmatch(lines[at])
        if entry is None or entry[1] in found:
            return None
        count = int(entry[3])
        rows = [_row(line) for line in lines[at + 1 : min(at + 1 + count, end)]]
        places = tuple(row for row in rows if row is not None)
        if len(places) != count:
            return None
        search = None if entry[4] is None else int(entry[4])
        found[entry[1]] = KeptRings(key=entry[2], places=places, search=search)
        at += 1 + count
    return found


def _row(line: str) -> tuple[Vector, Vector] | None:
    """Centre and normal of one line: six bounded decimal numbers, the last three of unit length."""
    words = line.split(" ")
    if len(words) != 6 or not all(_NUMBER.fullmatch(word) for word in words):
        return None
    x, y, z, u, v, w = (float(word) for word in words)
    if abs(math.sqrt(u * u + v * v + w * w) - 1) > _MOST_UNEVEN:
        return None
    return (x, y, z), (u, v, w)


def proved_again(problem: LayoutProblem, kept: KeptRings) -> Layout | Sought | NotKept:
    """The kept layout of a problem, if the proof passes it; or what the present search reached without finding one."""
    if kept.key != problem_key(problem) or len(kept.places) != len(problem.rings):
        return NotKept.STALE
    circles: tuple[Circle, ...] = tuple(
        rounded_circle(centre, normal, size)
        for (centre, normal), size in zip(kept.places, problem.rings, strict=True)
    )
    verdict = prove(problem, circles)
    layout = Layout(circles=circles, verdict=verdict)
    if verdict.proved:
        return layout
    if kept.search is None:
        return NotKept.NOT_PROVED
    return Sought(layout=layout) if kept.search == SEARCH else NotKept.SEARCHED_BEFORE


def read_kept(path: Path, problems: Mapping[str, LayoutProblem]) -> dict[str, Layout | Sought | NotKept]:
    """For each piece by name: its layout from the file, proved anew, or why there is none."""
    entries, reason = _entries(path)
    if entries is None:
        return dict.fromkeys(problems, reason or NotKept.NOT_READABLE)
    return {
        name: proved_again(problem, entries[name]) if name in entries else NotKept.MISSING
        for name, problem in problems.items()
    }


def _entries(path: Path) -> tuple[Mapping[str, KeptRings] | None, NotKept | None]:
    """What the file says by the name of the piece, or why it says nothing."""
    try:
        return parsed(read_bytes(path, MOST_BYTES).decode("utf-8").replace("\r\n", "\n")), None
    except ReadError as error:
        return None, NotKept.NO_FILE if error.variant == "missing" else NotKept.NOT_READABLE
    except UnicodeDecodeError:
        return None, NotKept.NOT_READABLE


def kept_sizes(path: Path) -> Mapping[str, int]:
    """How many rings and eyes the file has of each piece by name, not proved; nothing where there is no such file."""
    return {name: len(kept.places) for name, kept in (_entries(path)[0] or {}).items()}


def write_kept(path: Path, problems: Mapping[str, LayoutProblem], layouts: Mapping[str, Layout]) -> None:
    """Keeps layouts, and of what is not proved that it was not found; whole or not at all; raises OutputError.

    Two builds at once each write a whole file, and either will do: both are proved when they are read.
    """
    kept = [
        (name, problem_key(problem), layouts[name]) for name, problem in problems.items() if name in layouts
    ]
    write_whole(path, written(kept).encode("utf-8"))
