"""The figures of a pattern with sheets whose edges are joined: flat in the steps before that, closed from then on.

In: the figures of the weave; of such pieces the weave as it is before, and how it lies flat where that is proved.
Out: a `FigureSource`. The steps before are drawn true where the flat sheet is proved, as a schematic where it is not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from compiler.booklet.figuretypes import Estimate, Extent, Figure, FigureSource, MarkSample
from compiler.booklet.marks import roll_sign
from compiler.booklet.page import moved
from compiler.booklet.style import ACCENT
from compiler.figure.panels import SIGN, SIGN_ROOM
from compiler.figure.source import Figures
from compiler.figure.words import FigureWords
from compiler.layout import Layout
from compiler.weave import Weave


class FlatFirst:
    """Draws the figures of a weave, the steps of some pieces flat."""

    def __init__(
        self,
        figures: FigureSource,
        opened: Mapping[int, Weave],
        layouts: Mapping[int, Layout],
        words: FigureWords,
    ) -> None:
        """`opened` by piece: the weave with the piece before its edges are joined; `layouts` of that."""
        self._figures, self._words = figures, words
        self._opened = {
            piece: Figures(weave, {piece: layouts[piece]} if piece in layouts else {}, words)
            for piece, weave in opened.items()
        }
        self._steps = {piece: len(weave.pieces[piece].steps) for piece, weave in opened.items()}
        """By piece: how many steps it has before."""

    def finished(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece."""
        return self._figures.finished(piece, width, height)

    def actual(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece in its true size."""
        return self._figures.actual(piece, width, height)

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:
        """The work at the end of a step."""
        closing = step == self._steps.get(piece, -2) + 1
        room = width - SIGN_ROOM if closing else width
        figure = self._of(piece, step).step(piece, step, room, height)
        if figure is None or not closing:
            return figure
        return replace(
            figure,
            width=figure.width + SIGN_ROOM,
            items=(*roll_sign(SIGN / 2, SIGN / 2, SIGN, ACCENT), *moved(figure.items, SIGN_ROOM, 0.0)),
            caption=f"{self._words.rolled()} {figure.caption}".strip(),
        )

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate | None:
        """How clear and how large the figure of a step is."""
        closing = step == self._steps.get(piece, -2) + 1
        return self._of(piece, step).estimate(piece, step, width - SIGN_ROOM if closing else width, height)

    def extent(self, piece: int) -> Extent | None:
        """The size of the finished piece."""
        return self._figures.extent(piece)

    def key(self) -> tuple[MarkSample, ...]:
        """A sample of each mark in use."""
        return self._figures.key()

    def _of(self, piece: int, step: int) -> FigureSource:
        return self._opened[piece] if step <= self._steps.get(piece, 0) else self._figures
