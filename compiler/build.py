"""The stages from the checked weave to the booklet, in order.

    Weave -> Words -> Document -> PDF bytes
        word     compose     typeset

The figures are drawn when `compose` asks for them. What comes before is in `compiler.pipeline`; where the rings
lie, in `compiler.proved` and `compiler.settling`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from compiler.beginning import Outline, cut_off
from compiler.booklet.compose import Options, compose
from compiler.booklet.figuretypes import Estimate, Extent, Figure, FigureSource, MarkSample
from compiler.booklet.glyphs import check_glyphs
from compiler.booklet.typeset import typeset
from compiler.figure.words import EnglishWords
from compiler.layout import Layout
from compiler.pipeline import Checked
from compiler.proved import PieceGeometry
from compiler.remembered import Remembered
from compiler.rolled import before_closing
from compiler.size import Size, finished_size, pitches
from compiler.steps import Words
from compiler.timings import Timings
from compiler.weave import PieceWeave, Weave
from compiler.word.words import word
from notation.diagnostic import Diagnostic


def not_printable(checked: Checked, timings: Timings) -> tuple[Diagnostic, ...]:
    """The texts of a pattern that cannot be printed: a check that needs the fonts, and so is not in `check`."""
    if checked.weave is None:
        return ()
    with timings.stage("glyphs"):
        loaded = checked.loaded
        return check_glyphs(checked.weave, (loaded.pattern, *loaded.library.values()))


def worded(weave: Weave, timings: Timings) -> Words:
    """The words of a weave."""
    with timings.stage("word"):
        return word(weave)


def figures_of(
    weave: Weave, found: Sequence[PieceGeometry], timings: Timings, words: Words | None = None
) -> FigureSource:
    """The figures of a weave: true ones for the pieces whose layout is proved, schematic ones for the others.

    The figures of steps call rings as the words do; without words every ring has a name.
    """
    known = _known(weave, found)
    told = EnglishWords(weave, () if words is None else words.pieces)
    return _Timed(_drawing(weave, known, told)(), timings)


def remembered_figures(
    weave: Weave, found: Sequence[PieceGeometry], words: Words, folder: Path | None
) -> Remembered:
    """The same for a booklet, those that were drawn before from the folder; the bytes are the same either way."""
    known = _known(weave, found)
    told = EnglishWords(weave, words.pieces)
    placed = {**known.layouts, **known.beginnings}
    return Remembered(
        _drawing(weave, known, told), weave, placed, told, known.extents, folder, tuple(known.flats.values())
    )


def timed(figures: FigureSource, timings: Timings) -> FigureSource:
    """The same figures; the time of drawing them is counted."""
    return _Timed(figures, timings)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Known:
    """What is known of the geometry of a weave, by piece."""

    layouts: Mapping[int, Layout]
    beginnings: Mapping[int, Layout]
    """Of pieces that are too large to be placed whole."""
    outlines: Mapping[int, Outline]
    """Of those again."""
    opened: Mapping[int, Weave]
    """With the piece as it is before the edges of its sheet are joined."""
    flats: Mapping[int, Layout]
    """Of those."""
    extents: Mapping[int, Extent]


def _known(weave: Weave, found: Sequence[PieceGeometry]) -> _Known:
    layouts = {geometry.piece: geometry.whole for geometry in found if geometry.whole is not None}
    measured = {piece: _measured(weave.pieces[piece], layout) for piece, layout in layouts.items()}
    begun = {geometry.piece: geometry.beginning for geometry in found if geometry.beginning is not None}
    outlines: dict[int, Outline] = {}
    if begun:
        from compiler.outline import outline_of  # with numpy

        told = {piece: outline_of(weave, piece, layout) for piece, layout in begun.items()}
        outlines = {piece: outline for piece, outline in told.items() if outline is not None}
    for piece, outline in outlines.items():
        part = cut_off(weave.pieces[piece], outline.begun)
        measured[piece] = _extent(outline.size, part, begun[piece], outline.begun)
    opened = {piece: before_closing(weave, piece) for piece in layouts}
    return _Known(
        layouts=layouts,
        opened={piece: flat for piece, flat in opened.items() if flat is not None},
        flats={geometry.piece: geometry.flat for geometry in found if geometry.flat is not None},
        beginnings=begun,
        outlines=outlines,
        extents={piece: extent for piece, extent in measured.items() if extent is not None},
    )


def _drawing(weave: Weave, known: _Known, words: EnglishWords) -> Callable[[], FigureSource]:
    def made() -> FigureSource:
        from compiler.figure.source import (
            Figures,  # with numpy a tenth of a second: seldom needed after an edit
        )

        figures = Figures(weave, known.layouts, words, known.extents)
        shown: FigureSource = figures
        if known.beginnings:
            from compiler.figure.inpart import FiguresInPart

            shown = FiguresInPart(figures, weave, known.beginnings, known.outlines, words)
        if known.opened:
            from compiler.figure.flatfirst import FlatFirst

            shown = FlatFirst(shown, known.opened, known.flats, words)
        return shown

    return made


def _measured(piece: PieceWeave, layout: Layout) -> Extent | None:
    """The size and pitch of a finished piece, as in the export."""
    size = finished_size(piece, layout.circles)
    return None if size is None or not layout.verdict.proved else _extent(size, piece, layout)


def _extent(size: Size, piece: PieceWeave, layout: Layout, of_first: int | None = None) -> Extent:
    found = pitches(piece, layout.circles)
    pitch = found[0] if len(found) == 1 else None
    return Extent(
        length_mm=size.length,
        width_mm=size.width,
        thickness_mm=size.thickness,
        along_mm=None if pitch is None else pitch.along,
        rows_mm=None if pitch is None else pitch.rows,
        of_first=of_first,
    )


def build(weave: Weave, words: Words, figures: FigureSource, options: Options, timings: Timings) -> bytes:
    """The booklet of a pattern without errors, as a PDF file."""
    with timings.stage("compose"):
        document = compose(weave, words, figures, options)
    with timings.stage("typeset"):
        return typeset(document)


class _Timed:
    """Figures that count the time of drawing them."""

    def __init__(self, figures: FigureSource, timings: Timings) -> None:
        self._figures = figures
        self._timings = timings

    def finished(self, piece: int, width: float, height: float) -> Figure | None:
        with self._timings.stage("draw"):
            return self._figures.finished(piece, width, height)

    def actual(self, piece: int, width: float, height: float) -> Figure | None:
        with self._timings.stage("draw"):
            return self._figures.actual(piece, width, height)

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:
        with self._timings.stage("draw"):
            return self._figures.step(piece, step, width, height)

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate | None:
        with self._timings.stage("draw"):
            return self._figures.estimate(piece, step, width, height)

    def extent(self, piece: int) -> Extent | None:
        return self._figures.extent(piece)

    def key(self) -> tuple[MarkSample, ...]:
        with self._timings.stage("draw"):
            return self._figures.key()
