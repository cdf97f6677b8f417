"""A sheet whose edges are joined: until then it lies flat, and is spoken of so.

In: a weave, a piece. Out: the step that joins the edges; the weave with the piece as it is before that step, which is
what its flat layout is sought for. A ring joins the edges where it is linked with rows of a sheet that lie far apart.
"""

from __future__ import annotations

from collections import defaultdict

from msgspec.structs import replace

from compiler.beginning import cut_off
from compiler.graph import Addresses
from compiler.weave import PieceWeave, Weave
from notation.statements import FamilyKind

_APART = 3
"""Rows of a sheet that lie so many apart are never linked by one ring while it lies flat."""


def closing_step(piece: PieceWeave) -> int:
    """The number of the step that joins the edges of a sheet, from 1; 0 where none does."""
    shapes = [group.shape for group in piece.groups]
    if not any(
        shape is not None and shape.kind is FamilyKind.SHEET and len(shape.widths) > _APART
        for shape in shapes
    ):
        return 0
    addresses = Addresses(piece)
    rows: dict[tuple[int, int], list[int]] = defaultdict(list)
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        for ring, other in ((a, b), (b, a)):
            sheet = piece.group[other]
            shape = shapes[sheet] if sheet >= 0 else None
            if sheet != piece.group[ring] and shape is not None and shape.kind is FamilyKind.SHEET:
                rows[ring, sheet].append(addresses.of(other).row)
    joining = [piece.born[ring] for (ring, _), found in rows.items() if max(found) - min(found) >= _APART]
    first = min(joining, default=-1)
    return next((number for number, step in enumerate(piece.steps, 1) if step.first <= first < step.stop), 0)


def before_closing(weave: Weave, index: int) -> Weave | None:
    """The weave with a piece as it is before its edges are joined; None where they are not, or nothing is there yet."""
    piece = weave.pieces[index]
    step = closing_step(piece)
    if step < 2:
        return None
    stop = piece.steps[step - 1].first
    count = next((node for node, born in enumerate(piece.born) if born >= stop), len(piece))
    if not 0 < count < len(piece) or max(piece.born[:count]) >= stop:
        return None
    flat = cut_off(piece, count)
    return replace(weave, pieces=(*weave.pieces[:index], flat, *weave.pieces[index + 1 :]))
