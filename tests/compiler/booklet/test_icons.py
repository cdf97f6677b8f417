"""Icons of findings: each type has its own, within its square."""

import pytest

from compiler.booklet.findingicons import SIDE, finding_items
from compiler.booklet.page import Circle, Line, Path, Rectangle
from compiler.expand.declare import FINDING_TYPES


def test_each_type_of_finding_has_a_drawing_of_its_own() -> None:
    drawings = [finding_items(each) for each in FINDING_TYPES]
    assert all(a != b for k, a in enumerate(drawings) for b in drawings[:k])


@pytest.mark.parametrize("each", FINDING_TYPES)
def test_a_drawing_keeps_to_its_square(each: str) -> None:
    for item in finding_items(each):
        numbers: tuple[float, ...] = ()
        half = (
            item.stroke.width / 2 if isinstance(item, Circle | Line | Path | Rectangle) and item.stroke else 0
        )
        if isinstance(item, Circle):
            r = item.radius
            numbers = item.x - r, item.x + r, item.y - r, item.y + r
        elif isinstance(item, Line):
            numbers = item.x1, item.y1, item.x2, item.y2
        elif isinstance(item, Rectangle):
            numbers = item.x, item.x + item.width, item.y, item.y + item.height
        elif isinstance(item, Path):
            numbers = item.points
        assert numbers
        assert min(numbers) - half >= 0
        assert max(numbers) + half <= SIDE + 1.0  # control points lie outside their curves
