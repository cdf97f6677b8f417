"""A layout for each piece of a weave: from the kept file if it fits and proves anew, else by settling.

In: a checked weave, the place of its kept file. Out: a `PieceGeometry` for each piece. Of a piece that is too large
(`compiler.proved.MOST_SETTLED`) only the beginning is settled, up to the end of a row or step, and that is what is
proved. The search has its own proof; its result is proved once more here, on the rounded numbers, by the code that
reads kept files.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from msgspec.structs import replace

from compiler.beginning import with_beginning
from compiler.changes import NO_CHANGES, Changes
from compiler.console import on_terminal, say
from compiler.layout import Layout, LayoutProblem, kept_beside
from compiler.problem import problem_of
from compiler.prove import prove
from compiler.proved import (
    MOST_SETTLED,
    Origin,
    PieceGeometry,
    from_kept,
    told_of_kept,
    told_of_search,
)
from compiler.report import printable
from compiler.rolled import before_closing
from compiler.sheetsides import faces_out, in_the_mirror, leaning
from compiler.size import length_of
from compiler.timings import Timings
from compiler.tolength import NoLengthError
from compiler.weave import PieceWeave, Weave
from notation.diagnostic import Diagnostic

Progress = Callable[[str, int], None]
"""Told before each search: the name of the piece and how many rings are placed."""


def no_progress(piece: str, rings: int) -> None:
    """Tells nobody."""


def progress_on_terminal(piece: str, rings: int) -> None:
    """Says on a terminal what is being searched for; elsewhere nothing, so that logs stay the same."""
    if on_terminal():
        say(f"settling {printable(piece)}, {rings} rings and eyes ...")


def geometry_and_told(
    weave: Weave, pattern: str, timings: Timings, changes: Changes = NO_CHANGES
) -> tuple[tuple[PieceGeometry, ...], tuple[Diagnostic, ...]]:
    """Where the rings lie, kept beside the pattern or searched for, and what is to be told of that.

    What is kept is of the pattern as written, or of a variant: of another edition it is not told that it does not fit.
    """
    path = kept_beside(pattern, changes.variant)
    found = geometry_of(weave, path, timings, progress_on_terminal)
    about_file = told_of_kept(weave, path, found) if kept_for(pattern, changes) else ()
    return found, (*about_file, *told_of_search(weave, found))


def kept_for(pattern: str, changes: Changes) -> bool:
    """Whether the file that is looked at is meant for this edition: then it is told that it does not fit."""
    if changes.only_variant:
        return kept_beside(pattern, changes.variant) != kept_beside(pattern)
    return not changes


def geometry_of(
    weave: Weave,
    path: Path | None,
    timings: Timings,
    progress: Progress = no_progress,
    *,
    again: bool = False,
    flats: bool = False,
) -> tuple[PieceGeometry, ...]:
    """The geometry of each piece; with `again` all is searched for anew, whatever is kept.

    How a sheet lies before its edges are joined is searched for where the piece is; with `flats` wherever none is kept.

    A search that fails is told by the verdict of its layout. Broken and empty pieces have no layout.
    """
    known = from_kept(weave, None if again else path, timings)
    found = (_settled(weave, geometry, timings, progress) for geometry in known)
    return tuple(_lying_flat(weave, geometry, timings, progress, flats=flats) for geometry in found)


def _settled(weave: Weave, geometry: PieceGeometry, timings: Timings, progress: Progress) -> PieceGeometry:
    piece = weave.pieces[geometry.piece]
    if geometry.layout is not None or piece.broken or not len(piece):
        return geometry
    from compiler.hints import hinted  # with numpy: only where something has to be searched for
    from compiler.settle.search import settle

    if geometry.problem is None:
        return geometry
    with timings.stage("problem"):
        part = with_beginning(weave, geometry.piece) if geometry.part else None
        problem = hinted(geometry.problem, part or weave, geometry.piece)
    progress(piece.name, len(problem.rings))
    with timings.stage("settle"):
        layout = settle(problem)
    with timings.stage("prove"):
        layout = Layout(circles=layout.circles, verdict=prove(problem, layout.circles))
    return replace(geometry, origin=Origin.SETTLED, problem=problem, layout=layout)


def _lying_flat(
    weave: Weave, geometry: PieceGeometry, timings: Timings, progress: Progress, *, flats: bool
) -> PieceGeometry:
    """With the layout of the piece before its edges are joined, where there is one to be found."""
    anew = geometry.origin is Origin.SETTLED
    if (
        geometry.flat_problem is None
        or geometry.whole is None
        or not (anew or (flats and geometry.flat is None))
    ):
        return geometry
    if geometry.flat is not None:
        opened = before_closing(weave, geometry.piece)
        assert opened is not None
        return _of_one_sheet(weave.pieces[geometry.piece], opened.pieces[geometry.piece], geometry)
    from compiler.hints import hinted
    from compiler.settle.search import settle

    flat = before_closing(weave, geometry.piece)
    assert flat is not None
    problem = hinted(geometry.flat_problem, flat, geometry.piece)
    progress(weave.pieces[geometry.piece].name, len(problem.rings))
    with timings.stage("settle"):
        layout = settle(problem)
    with timings.stage("prove"):
        layout = Layout(circles=layout.circles, verdict=prove(problem, layout.circles))
        if not layout.verdict.proved:
            return geometry
        return _of_one_sheet(
            weave.pieces[geometry.piece], flat.pieces[geometry.piece], replace(geometry, flat=layout)
        )


def _of_one_sheet(piece: PieceWeave, flat: PieceWeave, geometry: PieceGeometry) -> PieceGeometry:
    """Rolled up with its front outside, and leaning as it does lying flat: mirror images are taken where that is so."""
    rolled, lying = geometry.whole, geometry.flat
    assert rolled is not None and lying is not None
    assert geometry.problem is not None and geometry.flat_problem is not None
    if faces_out(piece, rolled.circles) < 0:
        rolled = _turned(geometry.problem, rolled, 1)  # upside down: what faces the eye still does
    if leaning(piece, rolled.circles) * leaning(flat, lying.circles) < 0:
        lying = _turned(geometry.flat_problem, lying, 2)  # each ring stays where it is seen
    return replace(geometry, layout=rolled, flat=lying, flat_searched=True)


def _turned(problem: LayoutProblem, layout: Layout, axis: int) -> Layout:
    """The mirror image of a layout where that is proved too, else the layout."""
    circles = in_the_mirror(layout.circles, axis)
    verdict = prove(problem, circles)
    return Layout(circles=circles, verdict=verdict) if verdict.proved else layout


def searched_length(weave: Weave, piece: int) -> float:
    """How long a piece is lying flat, mm, by a search of its own. Raises NoLengthError where none is found."""
    name, rings = weave.pieces[piece].name, len(weave.pieces[piece])
    if rings > MOST_SETTLED:
        raise NoLengthError(f"it would have {rings} rings, and more than {MOST_SETTLED} are not laid out")
    from compiler.hints import hinted
    from compiler.settle.search import settle

    problem = hinted(problem_of(weave, piece), weave, piece)
    progress_on_terminal(name, rings)
    layout = settle(problem)
    if not prove(problem, layout.circles).proved:
        raise NoLengthError(f"no layout of it is found with {rings} rings and eyes")
    return length_of(weave.pieces[piece], layout.circles)
