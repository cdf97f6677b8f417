"""What a figure is to the booklet, and where figures come from: types alone.

`compose` asks a `FigureSource` for figures of a size that it has room for; `compiler.figure` is one, and
`NO_FIGURES` is another that has none. All drawing lengths are points, all lengths of the piece millimetres.
A figure is drawn once for the page and not scaled afterwards: line weights and type sizes in it are those on
paper.
"""

from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from compiler.booklet.page import Block, Item


class Mark(Enum):
    """What the look of a ring in a figure means; the booklet's key to the figures explains those in use."""

    NEW = "new"
    """The open ring of this step, and its twin."""
    CARRIED = "carried"
    """Closed rings and findings that come in with the step."""
    PASSED = "passed"
    """Rings that it goes through."""
    PLACED = "placed"
    """In the work already, and not touched in this step."""
    PATH = "path"
    """Where the ring is open, and an arrow the way its end is led."""
    TAG = "tag"
    """A number on a ring whose name has no room beside it."""
    BEHIND = "behind"
    """How many rings lie straight behind one another."""
    WHERE = "where"
    """The whole piece, small, a frame round the part that is shown."""


BESIDE_RINGS = (Mark.TAG, Mark.BEHIND, Mark.WHERE)
"""Marks that belong to no ring: whether a figure has them is known when it is drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkSample:
    """A sample of a mark for the key to the figures, drawn as in the figures."""

    mark: Mark
    sample: Block
    """About 40 pt wide and 30 pt high."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """How large a finished piece is lying flat, wire included, along its own axes."""

    length_mm: float
    width_mm: float
    thickness_mm: float
    along_mm: float | None = None
    """From place to place of its line, round or rows, in the mean; None where it has several families or none."""
    rows_mm: float | None = None
    """From row to row of its only family."""
    of_first: int | None = None
    """Where the piece is too large to be placed whole: how many of its first rings tell its size, by their pitch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure, ready to be put on a page."""

    width: float
    """In points; at most what was asked for."""
    height: float
    items: tuple[Item, ...]
    """Placed from the figure's own top left corner; not grouped: the page makes them one figure with `alt`."""
    alt: str
    """What a reader who hears the page is told: the action or the piece, a whole sentence, never empty."""
    schematic: bool
    """True where it shows the links alone; False where it is drawn from a proved layout."""
    scale: float | None
    """Millimetres on paper for one of the piece; None where it is not to scale, so for every schematic."""
    turned: bool = False
    """It shows the work from behind, after the work was turned over."""
    more: tuple[Mark, ...] = ()
    """Those of `BESIDE_RINGS` that it has."""
    caption: str = ""
    """A sentence to stand under it, beside what the page says of its scale; often empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """How clear and how large a figure will be, told without drawing it."""

    clear: float
    """How much of the step it shows, and at which scale: the larger the clearer, to be compared within a step."""
    height: float
    """Points that it takes, most likely: how far its words reach is known once it is drawn."""


class FigureSource(Protocol):
    """Gives the figures of a pattern.

    A piece is an index into `Weave.pieces`, a step its number from 1 as in `StepRecord`; width and height are
    the most that the figure may take, in points. None where there is nothing to be drawn.
    """

    def finished(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece."""

    def actual(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece in its true size; None where it is not to scale or too large."""

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:
        """The work at the end of a step, what is new in it standing out."""

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate | None:
        """How clear and how large the figure of `step` would be; None where it has none."""

    def extent(self, piece: int) -> Extent | None:
        """The size of the finished piece; None where no proved layout tells it."""

    def key(self) -> tuple[MarkSample, ...]:
        """A sample of each mark in use, and of those that belong to no ring; empty where there are no figures."""


class _NoFigures:
    """A source without figures."""

    def finished(self, piece: int, width: float, height: float) -> Figure | None:  # noqa: ARG002
        return None

    def actual(self, piece: int, width: float, height: float) -> Figure | None:  # noqa: ARG002
        return None

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:  # noqa: ARG002
        return None

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate | None:  # noqa: ARG002
        return None

    def extent(self, piece: int) -> Extent | None:  # noqa: ARG002
        return None

    def key(self) -> tuple[MarkSample, ...]:
        return ()


NO_FIGURES: FigureSource = _NoFigures()
"""For a booklet of words and tables alone."""
