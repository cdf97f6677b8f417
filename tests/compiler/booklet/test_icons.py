"""Icons of findings: each type has its own, within its square."""

from collections.abc import Iterator

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
            numbers = tuple(_ends(item))
        assert numbers
        assert min(numbers) - half >= 0
        assert max(numbers) + half <= SIDE


def _ends(path: Path) -> Iterator[float]:
    """The ends of its segments: control points lie outside their curves."""
    used = 0
    for verb in path.verbs:
        used += verb.coordinates
        yield from path.points[max(used - 2, 0) : used]
