"""What is known of the geometry of each piece: a kept layout proved anew, and what is to be told about it.

In: a checked weave and the kept file beside its pattern. Out: a `PieceGeometry` for each piece, and diagnostics.
Nothing is searched for here; `compiler.settling` does that where the file has no answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from pathlib import Path

from msgspec import Struct

from compiler.beginning import with_beginning
from compiler.check.collect import Names
from compiler.kept import NotKept, Sought, read_kept
from compiler.layout import Layout, LayoutProblem, Verdict
from compiler.problem import problem_of
from compiler.report import printable
from compiler.rolled import before_closing
from compiler.timings import Timings
from compiler.weave import Weave
from notation.diagnostic import Diagnostic

MOST_SETTLED = 2000
"""Rings and eyes of a piece that is placed in space whole; of a larger one its beginning is (`compiler.beginning`)."""
MOST_IN_A_MOMENT = 1000
"""Rings and eyes of a piece whose kept layout a plain check proves again: about half a second of proof."""
_MOST_PAIRS = 3
"""Pairs that a report names."""


class Origin(Enum):
    """Where a layout comes from."""

    KEPT = "kept"
    """From the file beside the pattern, proved anew."""
    SETTLED = "settled"
    """Searched for in this run; proved or not."""
    SOUGHT = "sought"
    """From the file beside the pattern: what an earlier search reached that found none, with its verdict."""
    NONE = "none"
    """There is none: nothing fitting is kept, and nothing was searched for."""


class PieceGeometry(Struct, frozen=True, kw_only=True):
    """What is known of where the rings of a piece lie."""

    piece: int
    """Index into Weave.pieces."""
    origin: Origin
    problem: LayoutProblem | None
    """What a layout has to satisfy, of a part that of the beginning; None where it was not asked."""
    layout: Layout | None
    """By node of the piece; of a part of its first nodes. Proved for KEPT, for the others by its verdict."""
    not_kept: NotKept | None
    """Why the file has no layout of it."""
    part: bool = False
    """The piece is too large to be placed whole: this is of its beginning."""
    flat_problem: LayoutProblem | None = None
    """What a layout has to satisfy of the piece as it lies before the edges of its sheet are joined."""
    flat: Layout | None = None
    """Of that, where one is proved."""
    flat_searched: bool = False
    """It was searched for in this run."""

    @property
    def whole(self) -> Layout | None:
        """The layout of the whole piece, where one is proved."""
        return None if self.part else self._proved

    @property
    def beginning(self) -> Layout | None:
        """The layout of the first rings of a piece that is too large, where one is proved."""
        return self._proved if self.part else None

    @property
    def _proved(self) -> Layout | None:
        return self.layout if self.layout is not None and self.layout.verdict.proved else None


def flat_name(weave: Weave, index: int) -> str:
    """What the layout of a piece before its edges are joined is kept as: no name of a piece has a stop in it."""
    return f"{weave.pieces[index].name}.flat"


def from_kept(
    weave: Weave, path: Path | None, timings: Timings, most: int | None = None
) -> tuple[PieceGeometry, ...]:
    """What the kept file says of each piece, or of the beginning of one that is too large to be placed whole.

    Left out are broken pieces and those with nothing to be placed, or with more than `most` rings to be placed.
    """
    placed: dict[int, Weave] = {}
    with timings.stage("problem"):
        for index, piece in enumerate(weave.pieces):
            part = weave if len(piece) <= MOST_SETTLED else with_beginning(weave, index)
            if (
                part is not None
                and not piece.broken
                and 0 < len(part.pieces[index]) <= (most or MOST_SETTLED)
            ):
                placed[index] = part
        problems = {index: problem_of(part, index) for index, part in placed.items()}
        flats = {index: before_closing(weave, index) for index, part in placed.items() if part is weave}
        opened = {index: problem_of(flat, index) for index, flat in flats.items() if flat is not None}
    with timings.stage("prove"):
        named = {weave.pieces[index].name: problem for index, problem in problems.items()}
        named |= {flat_name(weave, index): problem for index, problem in opened.items()}
        found = dict.fromkeys(named, NotKept.NO_FILE) if path is None else read_kept(path, named)
    out = []
    for index, piece in enumerate(weave.pieces):
        kept = found.get(piece.name) if index in problems else None
        layout, origin = None, Origin.NONE
        if isinstance(kept, Layout):
            layout, origin = kept, Origin.KEPT
        elif isinstance(kept, Sought):
            layout, origin = kept.layout, Origin.SOUGHT
        flat = found.get(flat_name(weave, index)) if index in opened else None
        out.append(
            PieceGeometry(
                piece=index,
                origin=origin,
                problem=problems.get(index),
                layout=layout,
                not_kept=kept if isinstance(kept, NotKept) else None,
                part=len(piece) > MOST_SETTLED,
                flat_problem=opened.get(index),
                flat=flat if isinstance(flat, Layout) else None,
            )
        )
    return tuple(out)


# ---------------------------------------------------------------- what is told


def told_of_kept(weave: Weave, path: Path | None, found: Sequence[PieceGeometry]) -> tuple[Diagnostic, ...]:
    """What is wrong with a kept file; nothing where there is none."""
    out = []
    for geometry in found:
        rule, variant = _REASONS.get(geometry.not_kept, ("", ""))
        if not rule or path is None:
            continue
        piece = weave.pieces[geometry.piece]
        out.append(
            Diagnostic(
                rule=rule,
                place=piece.place,
                variant=variant,
                arguments=(("piece", piece.name), ("file", path.as_posix())),
            )
        )
        if geometry.not_kept is NotKept.NOT_READABLE:  # the same for every piece
            break
    return tuple(out)


_REASONS: dict[NotKept | None, tuple[str, str]] = {
    NotKept.STALE: ("stale-layout", ""),
    NotKept.MISSING: ("stale-layout", "missing"),
    NotKept.NOT_PROVED: ("refused-layout", ""),
    NotKept.NOT_READABLE: ("refused-layout", "unreadable"),
}


def told_of_search(weave: Weave, found: Sequence[PieceGeometry]) -> tuple[Diagnostic, ...]:
    """What a search did not prove, with the pairs concerned; and what was settled in part."""
    out = []
    for geometry in found:
        layout, piece = geometry.layout, weave.pieces[geometry.piece]
        arguments: tuple[tuple[str, str | int], ...] = (("piece", piece.name), ("rings", len(piece)))
        if layout is None and geometry.part and not piece.broken:
            out.append(
                Diagnostic(rule="settled-in-part", place=piece.place, variant="loose", arguments=arguments)
            )
        elif layout is not None and not layout.verdict.proved:
            out.append(_not_proved(weave, geometry, layout))
        elif layout is not None and geometry.part:
            arguments = (*arguments, ("part", len(layout.circles)))
            out.append(Diagnostic(rule="settled-in-part", place=piece.place, arguments=arguments))
    return tuple(out)


def _not_proved(weave: Weave, geometry: PieceGeometry, layout: Layout) -> Diagnostic:
    piece, verdict = weave.pieces[geometry.piece], layout.verdict
    wrong = [(pair.a, pair.b) for pair in verdict.wrong_pairs]
    hands = [
        *((cycle.rings[0], cycle.rings[1]) for cycle in verdict.wrong_cycles),
        *((fact.ring, fact.first) for fact in verdict.wrong_between),
    ]
    pairs, variant = wrong, ""
    if not wrong and hands:
        pairs, variant = hands, "hand"
    elif not wrong and verdict.wrong_overs:
        pairs, variant = [(fact.upper, fact.lower) for fact in verdict.wrong_overs], "over"
    elif not wrong and verdict.wrong_closings:
        pairs, variant = [(fact.rows[0][0], fact.rows[0][-1]) for fact in verdict.wrong_closings], "closing"
    elif not wrong and verdict.wrong_poses:
        pairs, variant = _other_poses(verdict), "pose"
    elif not wrong and verdict.tightest is not None:
        pairs, variant = [verdict.tightest], "tight"
    names = Names(weave, piece)
    # strands, not rings: both rings of a pair are called alike, and told once
    said = list(dict.fromkeys(_pair(names, a, b) for a, b in pairs))
    shown, more = said[:_MOST_PAIRS], len(said) - _MOST_PAIRS
    if variant == "" and more > 0:
        variant = "more"
    name = piece.name
    if geometry.part:
        name = f"the first {len(layout.circles)} rings of {name}"
    return Diagnostic(
        rule="not-proved",
        place=piece.place,
        variant=variant,
        arguments=(
            ("piece", name),
            ("pairs", ", ".join(shown)),
            *((("more", more),) if variant == "more" else ()),
            ("clearance", as_clearance(verdict.clearance)),
        ),
    )


def _other_poses(verdict: Verdict) -> list[tuple[int, int]]:
    """Rings that lean, are turned, or lie front and back otherwise than is said; one that leans by itself twice."""
    return [
        *((fact.ring, fact.ring) for fact in verdict.wrong_leans),
        *((fact.rings[0], fact.rings[-1]) for fact in verdict.wrong_turns),
        *((fact.rings[0], fact.rings[1]) for fact in verdict.wrong_aheads),
    ]


def _pair(names: Names, a: int, b: int) -> str:
    first, second = names.strand(a), names.strand(b)
    if a == b:
        return first
    return f"two rings of {first}" if first == second else f"{first} with {second}"


# ---------------------------------------------------------------- what is said of pieces


def said_of_kept(weave: Weave, path: Path, found: Sequence[PieceGeometry], most: int) -> list[str]:
    """The verdict of the kept file on each piece; of a piece of more than `most` rings only that it was not asked."""
    lines = []
    for geometry in found:
        piece = weave.pieces[geometry.piece]
        if geometry.layout is not None:
            lines.append(f"{printable(str(path))}: {said(weave, geometry)}")
        elif len(piece) > most and not geometry.part:
            lines.append(
                f"{printable(str(path))}: {piece.name}, {len(piece)} rings and eyes: not proved again, that takes "
                "more than a moment; `annulet check --fit` does"
            )
    return lines


def said(weave: Weave, geometry: PieceGeometry) -> str:
    """What is known of a piece, in a few words."""
    piece, layout = weave.pieces[geometry.piece], geometry.layout
    rings = f"{len(piece)} rings and eyes"
    if layout is None:
        return f"{piece.name}, {rings}: nothing is known"
    clearance = f"clearance {as_clearance(layout.verdict.clearance)}"
    proved = f"proved, {clearance}" if layout.verdict.proved else f"not proved, best {clearance}"
    if geometry.part:
        rings = f"the first {len(layout.circles)} of {rings}"
    kept = ", as it is kept" if geometry.origin is Origin.KEPT else ""
    kept = ", searched for before" if geometry.origin is Origin.SOUGHT else kept
    return f"{piece.name}, {rings}: {proved}{kept}"


def as_clearance(clearance: float) -> str:
    """A clearance to two decimals, cut and not rounded: what is printed is never more than was proved."""
    return f"{int(clearance * 100 + 1e-9) / 100:.2f}"
