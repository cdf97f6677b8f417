"""Which side of a sheet is which where it lies: whether its front is outside, and to which side its rings lean.

In: a piece with sheets, and the circles of its rings. Out: measures whose sign tells; circles in the mirror. Links
alone do not tell a rolled sheet from its mirror image, and a sheet that is drawn flat and then rolled up must be one
sheet.
The front of a sheet at a ring is the side that is seen with the places of its row running to the right and the rows
upwards: along the row times across the rows (the vector product).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from compiler.geometry import cross, dot, mean, minus, unit
from compiler.graph import Addresses
from compiler.layout import Circle, Vector
from compiler.weave import PieceWeave
from notation.statements import FamilyKind


def faces_out(piece: PieceWeave, circles: Sequence[Circle]) -> float:
    """More than 0 where the fronts of the sheets look away from the middle of the piece, mm."""
    middle = mean([circle.centre for circle in circles])
    return sum(
        dot(front, minus(circles[node].centre, middle)) for node, _, front in _sheet_rings(piece, circles)
    )


def leaning(piece: PieceWeave, circles: Sequence[Circle]) -> float:
    """How the rings of the sheets lean along their rows, those of odd rows against those of even ones.

    Seen from the front, a positive share is of a ring whose later side is nearer to the eye in an odd row. The mirror
    image of a layout has the opposite sign.
    """
    addresses = Addresses(piece)
    total = 0.0
    for node, along, front in _sheet_rings(piece, circles):
        normal = unit(circles[node].normal)
        way = -1.0 if addresses.of(node).row % 2 else 1.0
        total += way * dot(normal, along) * dot(normal, front)
    return total


def in_the_mirror(circles: Sequence[Circle], axis: int) -> tuple[Circle, ...]:
    """The mirror image across an axis: 0, 1 or 2 for x, y or z."""
    return tuple(
        replace(circle, centre=_mirrored(circle.centre, axis), normal=_mirrored(circle.normal, axis))
        for circle in circles
    )


def _mirrored(vector: Vector, axis: int) -> Vector:
    x, y, z = (-value if place == axis else value for place, value in enumerate(vector))
    return x, y, z


def _sheet_rings(piece: PieceWeave, circles: Sequence[Circle]) -> Iterator[tuple[int, Vector, Vector]]:
    """Rings of sheets with neighbours in their row and a row beside it: node, along the row, front; unit vectors."""
    addresses = Addresses(piece)
    places: dict[tuple[int, int, int], int] = {}
    for node, group in enumerate(piece.group):
        shape = piece.groups[group].shape if group >= 0 else None
        if shape is not None and shape.kind is FamilyKind.SHEET:
            address = addresses.of(node)
            places.setdefault((group, address.row, address.place), node)
    for (group, row, place), node in places.items():
        before, after = places.get((group, row, place - 1)), places.get((group, row, place + 1))
        below, above = places.get((group, row - 1, place)), places.get((group, row + 1, place))
        if before is None or after is None or (below is None and above is None):
            continue
        low, high = node if below is None else below, node if above is None else above
        along = minus(circles[after].centre, circles[before].centre)
        front = cross(along, minus(circles[high].centre, circles[low].centre))
        if dot(front, front) > 0 and dot(along, along) > 0:
            yield node, unit(along), unit(front)
