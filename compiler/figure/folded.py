"""How the work lies before a fold: a small schematic above the figure of a step that folds rings back.

In: a piece, a step, the piece's schematic. Out: page items from their own top left corner, and a size in points. Places
before a fold are not proved, so this is a schematic whatever the figure is, and its words say so.
"""

from __future__ import annotations

from math import atan2

from compiler.booklet.fonts import text_width
from compiler.booklet.page import Item, Text, moved
from compiler.booklet.style import FIGURE_LABEL, MUTED
from compiler.figure.drawing import drawn
from compiler.figure.panels import Sized, window_of
from compiler.figure.picture import Picture, box_of, turned_by
from compiler.figure.roles import Roles
from compiler.weave import PieceWeave, Pose, PoseKind

_WIDE, _TALL = 150.0, 64.0
"""Points that the rings before a fold may take."""
_LINE = 13.0
"""Points that a line of words takes."""
FOLD_HEIGHT = _TALL + 2 * _LINE + 6.0
"""Points that it adds to the height of a figure."""


def fold_in(piece: PieceWeave, step: int) -> Pose | None:
    """The first fold that a step asks for."""
    motions = piece.steps[step - 1]
    return next(
        (
            pose
            for pose in piece.poses
            if pose.kind is PoseKind.FOLDED and motions.first < pose.at <= motions.stop
        ),
        None,
    )


def with_fold(
    figure: Sized, piece: PieceWeave, fold: Pose, flat: Picture, roles: Roles, words: tuple[str, str]
) -> Sized:
    """A figure under the rings as they lie before the fold; `words` stand above the one and the other."""
    items, size = _before(piece, fold, flat, roles)
    before, after = words
    wide = max(
        figure[1][0], size[0], *(text_width(each, FIGURE_LABEL.face, FIGURE_LABEL.size) for each in words)
    )
    top = 2 * _LINE + size[1]
    placed: list[Item] = [_said(before, _LINE), *moved(items, 0.0, _LINE)]
    placed += [_said(after, top), *moved(figure[0], 0.0, top + 4.0)]
    return tuple(placed), (wide, top + 4.0 + figure[1][1])


def _before(piece: PieceWeave, fold: Pose, flat: Picture, roles: Roles) -> Sized:
    """The rings that are folded, those that they are folded onto, and what these hang on."""
    near = dict.fromkeys((*fold.nodes, *fold.onto))
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        for here, there in ((a, b), (b, a)):
            if here in fold.onto and there in roles.marks and piece.born[there] < fold.at:
                near[there] = None
    nodes = tuple(sorted(near))
    (x1, y1), (x2, y2) = (flat.loops[rings[0]].centre[:2] for rings in (fold.onto, fold.nodes))
    flat = turned_by(flat, -atan2(y2 - y1, x2 - x1))
    box = box_of(flat, nodes, signs=False)
    scale = min((_WIDE - 4.0) / box.width, (_TALL - 4.0) / box.height)
    window, size = window_of(box, scale, 2.0, 2.0)
    return drawn(flat, piece, nodes, roles, window), size


def _said(text: str, foot: float) -> Item:
    return Text(x=0.0, y=foot - 3.5, string=text, face=FIGURE_LABEL.face, size=FIGURE_LABEL.size, color=MUTED)
