"""Where a search for a layout may start with each ring: the flat drawing, as hints of the problem.

In: the problem of a piece and its weave. Out: the problem with hints. They are no part of what a layout must satisfy,
so a proof does without them, and without numpy, which draws flat.
"""

from __future__ import annotations

from msgspec.structs import replace

from compiler.flat.place import flat_positions
from compiler.layout import Hint, HintUnit, LayoutProblem
from compiler.weave import Weave


def hinted(problem: LayoutProblem, weave: Weave, piece_index: int) -> LayoutProblem:
    """The problem of a piece, each ring hinted where it lies in the flat drawing."""
    flat = flat_positions(weave, piece_index)
    hints = tuple(Hint(ring=node, place=(x, y, 0.0)) for node, (x, y) in enumerate(flat.places))
    return replace(problem, hints=hints, hint_unit=HintUnit.MILLIMETRE)
