"""The figures of a pattern with pieces that are too large to be placed whole.

In: the figures of the weave, and of such pieces the proved places of their first rings. Out: a `FigureSource`. The
steps in which those rings come in are drawn true, as far as they are proved; the later ones are schematic. The finished
piece is shown by its proved beginning, drawn true, over the whole in outline, and says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from msgspec import structs

from compiler.beginning import Outline, cut_off, part_size
from compiler.booklet.figuretypes import Estimate, Extent, Figure, MarkSample
from compiler.booklet.page import MM, Item, Stroke, moved
from compiler.booklet.paths import Pen
from compiler.booklet.style import INK, PAPER, PLACED, THIN
from compiler.figure.footer import BAR_HEIGHT, scale_bar
from compiler.figure.look import blend
from compiler.figure.silhouette import box_of_discs, silhouette
from compiler.figure.source import Figures
from compiler.figure.strokes import Window
from compiler.figure.words import EnglishWords, FigureWords
from compiler.layout import Layout
from compiler.weave import Weave

_UNDER = 0.42
"""Share of the height that the whole in outline may take."""
_GAP, _EDGE = 14.0, 2.0
"""Points between the two, and left free round the outline."""
_SQUARES = 150.0
"""Squares along the longer side of the whole that its outline is told by: about one for two points."""
_CLEAR, _FEWEST = 1.2, 24
"""Points: of a beginning whose wire comes out thinner in the median only a part is drawn; never fewer rings."""


class FiguresInPart:
    """Draws the figures of a weave, some of its pieces in part."""

    def __init__(
        self,
        figures: Figures,
        weave: Weave,
        beginnings: Mapping[int, Layout],
        outlines: Mapping[int, Outline],
        words: FigureWords | None = None,
    ) -> None:
        """`figures` draw all that is not of a beginning; a beginning that is not proved is not drawn."""
        self._figures, self._weave, self._outlines = figures, weave, outlines
        self._words: FigureWords = EnglishWords(weave) if words is None else words
        self._begun: dict[int, Figures] = {}
        self._steps: dict[int, tuple[int, bool]] = {}
        """By piece: how many steps the beginning has, and whether the last of them goes on after it."""
        self._layouts = {piece: layout for piece, layout in beginnings.items() if layout.verdict.proved}
        for piece, layout in self._layouts.items():
            count = len(layout.circles)
            self._begun[piece] = self._cut(piece, count)
            steps, whole = cut_off(weave.pieces[piece], count).steps, weave.pieces[piece].steps
            self._steps[piece] = len(steps), steps[-1].stop < whole[len(steps) - 1].stop

    def finished(self, piece: int, width: float, height: float) -> Figure | None:
        """The proved beginning over the whole in outline."""
        begun, outline = self._begun.get(piece), self._outlines.get(piece)
        if begun is None:
            return self._figures.finished(piece, width, height)
        under = 0.0 if outline is None else _UNDER * height
        figure, shown = self._clear(piece, width, height - under)
        if figure is None:
            return None
        caption = f"{figure.caption} {self._words.begun(piece, shown, outlined=outline is not None)}".strip()
        figure = replace(figure, alt=self._words.finished(piece), caption=caption)
        if outline is None:
            return figure
        items, size = _outlined(outline, shown, width, under - _GAP)
        wide = max(figure.width, size[0])
        return replace(
            figure,
            width=wide,
            height=figure.height + _GAP + size[1],
            items=(
                *moved(figure.items, (wide - figure.width) / 2, 0.0),
                *moved(items, (wide - size[0]) / 2, figure.height + _GAP),
            ),
        )

    def _clear(self, piece: int, width: float, height: float) -> tuple[Figure | None, int]:
        """The beginning, or so much less of it that its wire comes out clear; and how many rings that is."""
        layout, whole = self._layouts[piece], self._weave.pieces[piece]
        shown = len(layout.circles)
        figure = self._begun[piece].finished(piece, width, height)
        while figure is not None and figure.scale is not None and shown > _FEWEST:
            tubes = sorted(circle.tube_radius for circle in layout.circles)
            if 2 * tubes[len(tubes) // 2] * figure.scale * MM >= _CLEAR:
                break
            shown = part_size(whole, shown // 2)
            figure = self._cut(piece, shown).finished(piece, width, height)
        return figure, shown

    def _cut(self, piece: int, count: int) -> Figures:
        """The figures of the first nodes of a piece: their places are proved with those of the others."""
        layout, pieces = self._layouts[piece], self._weave.pieces
        cut = (*pieces[:piece], cut_off(pieces[piece], count), *pieces[piece + 1 :])
        shown = Layout(circles=layout.circles[:count], verdict=layout.verdict)
        return Figures(structs.replace(self._weave, pieces=cut), {piece: shown}, self._words)

    def actual(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece in its true size; of one that is drawn in part None."""
        return None if piece in self._begun else self._figures.actual(piece, width, height)

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:
        """The work at the end of a step, or as far in it as is proved."""
        figure = self._of(piece, step).step(piece, step, width, height)
        if figure is None or piece not in self._begun or self._steps[piece] != (step, True):
            return figure
        more = self._words.begun(piece, len(self._layouts[piece].circles), outlined=False)
        return replace(figure, caption=f"{figure.caption} {more}".strip())

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate | None:
        """How clear and how large the figure of a step is."""
        return self._of(piece, step).estimate(piece, step, width, height)

    def extent(self, piece: int) -> Extent | None:
        """The size of the finished piece."""
        return self._figures.extent(piece)

    def key(self) -> tuple[MarkSample, ...]:
        """A sample of each mark in use."""
        return self._figures.key()

    def _of(self, piece: int, step: int) -> Figures:
        begun = self._begun.get(piece)
        return self._figures if begun is None or step > self._steps[piece][0] else begun


def _outlined(
    outline: Outline, begun: int, width: float, height: float
) -> tuple[tuple[Item, ...], tuple[float, float]]:
    """The whole in outline, its first rings darker, over a scale bar; and its size in points."""
    box = box_of_discs(outline.places, outline.reach)
    scale = min((width - 2 * _EDGE) / box.width, (height - 2 * _EDGE - BAR_HEIGHT) / box.height)
    window = Window(scale=scale, left=box.left - _EDGE / scale, top=box.top + _EDGE / scale)
    side = max(box.width, box.height) / _SQUARES
    discs = list(zip(outline.places, outline.reach, strict=True))
    items: list[Item] = []
    for shown, fill in (
        (discs, blend(PLACED, PAPER, 0.5)),
        (discs[:begun], blend(PLACED, INK, 0.4)),
    ):
        pen = Pen()
        for loop in silhouette(shown, side):
            for number, place in enumerate(loop):
                (pen.line if number else pen.move)(*window.point(*place))
            pen.close()
        items.append(pen.path(fill=fill, stroke=Stroke(color=INK, width=THIN)))
    bar, long = scale_bar(scale)
    wide, tall = box.width * scale + 2 * _EDGE, box.height * scale + 2 * _EDGE
    return (*items, *moved(bar, _EDGE, tall)), (max(wide, long + 2 * _EDGE), tall + BAR_HEIGHT)
