"""What is known of the patterns of a folder; in: their files, kept layouts and table of fit, out: an `Entry` for each.

Nothing is settled here: a piece without a kept layout that is proved has a schematic figure and no fit.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from compiler.booklet.figuretypes import FigureSource
from compiler.build import figures_of
from compiler.catalogue.nouns import typed
from compiler.infile import InputError, ReadError, read_bytes
from compiler.kept import problem_key
from compiler.layout import Layout, LayoutProblem, kept_path
from compiler.library.fitted import NAME, Fitted, known, read_table, tightest
from compiler.pipeline import checked
from compiler.proved import PieceGeometry, from_kept
from compiler.timings import Timings
from compiler.weave import PieceWeave, Weave

UNITS = "units"
"""The folder of a library whose files are families of weaves, each weave a unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rings:
    """The rings of one kind in a piece."""

    label: str
    """Singular or plural, as the count is."""
    count: int
    inner_mm: Decimal
    wire_mm: Decimal
    aspect_ratio: Decimal
    """Exact, not rounded."""
    tightest: Decimal | None
    """The smallest aspect ratio at which the piece was still made to settle; None where it was not measured."""
    metal: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceEntry:
    """One piece of a pattern, or one weave of a family."""

    name: str
    label: str
    """What it is called in print, singular."""
    index: int
    """Into `Weave.pieces`."""
    times: int
    rings: tuple[Rings, ...]
    links: int
    slack: Decimal | None
    """The factor by which all wire was thickened; None where it was not measured."""
    proved: bool
    """Whether a layout is kept and proved."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A pattern file."""

    path: str
    """From the folder of the library, with slashes."""
    title: str
    by: str
    licence: str
    version: str
    level: str
    about: str
    pieces: tuple[PieceEntry, ...]
    figures: FigureSource

    @property
    def stem(self) -> str:
        """The name of the file without folder and ending."""
        return Path(self.path).stem

    @property
    def is_family(self) -> bool:
        """Whether it is a family of weaves to make patterns from."""
        return self.path.startswith(f"{UNITS}/")

    @property
    def ring_count(self) -> int:
        """Rings in one of each piece, each as often as it is made."""
        return sum(piece.times * sum(rings.count for rings in piece.rings) for piece in self.pieces)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proved:
    """A piece whose kept layout is proved, to be measured."""

    pattern: str
    piece: str
    key: str
    problem: LayoutProblem
    layout: Layout


def entries(folder: Path, files: list[str], timings: Timings) -> tuple[tuple[Entry, ...], tuple[Proved, ...]]:
    """The entries of a library in the order of its files, and its proved pieces. Raises InputError."""
    table = fit_table(folder)
    found: list[Entry] = []
    proved: list[Proved] = []
    for file in files:
        result = checked(file, folder, timings)
        if result.weave is None or result.has_errors:
            raise InputError(f"{file} has errors: `annulet check {file}` tells them.")
        weave = result.weave
        path = Path(file).relative_to(folder).as_posix()
        geometry = from_kept(weave, kept_path(Path(file)), timings)
        keys = {each.piece: problem_key(each.problem) for each in geometry if each.problem is not None}
        found.append(_entry(path, weave, geometry, keys, table, timings))
        proved += [
            Proved(
                pattern=path,
                piece=weave.pieces[each.piece].name,
                key=keys[each.piece],
                problem=each.problem,
                layout=each.whole,
            )
            for each in geometry
            if each.problem is not None and each.whole is not None
        ]
    return tuple(found), tuple(proved)


def fit_table(folder: Path) -> dict[tuple[str, str], Fitted]:
    """The kept table of a library; empty where there is none. Raises InputError."""
    path = folder / NAME
    try:
        return read_table(read_bytes(path).decode("utf-8"))
    except (ReadError, UnicodeDecodeError) as error:
        if isinstance(error, ReadError) and error.variant == "missing":
            return {}
        raise InputError(f"Cannot read {path}.") from error


def _entry(
    path: str,
    weave: Weave,
    geometry: tuple[PieceGeometry, ...],
    keys: dict[int, str],
    table: dict[tuple[str, str], Fitted],
    timings: Timings,
) -> Entry:
    whole = {each.piece for each in geometry if each.whole is not None}
    pieces = []
    for index, piece in enumerate(weave.pieces):
        slack = known(table, path, piece.name, keys.get(index, "")) if index in whole else None
        pieces.append(_piece(weave, index, piece, slack, proved=index in whole))
    return Entry(
        path=path,
        title=typed(weave.title),
        by=typed(weave.by),
        licence=typed(weave.licence),
        version=typed(weave.version),
        level=typed(weave.level),
        about=typed(weave.about),
        pieces=tuple(pieces),
        figures=figures_of(weave, geometry, timings),
    )


def _piece(weave: Weave, index: int, piece: PieceWeave, slack: Decimal | None, *, proved: bool) -> PieceEntry:
    counts = Counter(kind for kind in piece.kind if kind >= 0)
    rings = []
    for number in sorted(counts):
        kind = weave.ring_kinds[number]
        ratio = kind.inner_mm / kind.wire_mm
        rings.append(
            Rings(
                label=typed(kind.singular if counts[number] == 1 else kind.plural),
                count=counts[number],
                inner_mm=kind.inner_mm,
                wire_mm=kind.wire_mm,
                aspect_ratio=ratio,
                tightest=None if slack is None else tightest(ratio, slack),
                metal=kind.metal,
            )
        )
    return PieceEntry(
        name=piece.name,
        label=typed(piece.singular),
        index=index,
        times=piece.times,
        rings=tuple(rings),
        links=len(piece.link_a),
        slack=slack,
        proved=proved,
    )
