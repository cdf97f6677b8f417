"""Outlines of many discs together."""

import math

from compiler.figure.silhouette import box_of_discs, silhouette


def area(loop: tuple[tuple[float, float], ...]) -> float:
    """Of a polygon, by the shoelace formula; positive where it runs counter-clockwise."""
    pairs = zip(loop, (*loop[1:], loop[0]), strict=True)
    return math.fsum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs) / 2


def test_a_disc_has_an_outline_of_its_own_area() -> None:
    (loop,) = silhouette([((3.0, -2.0), 10.0)], 0.2)
    assert math.isclose(area(loop), math.pi * 100, rel_tol=0.02)
    assert all(abs(math.dist(place, (3.0, -2.0)) - 10.0) < 0.4 for place in loop)


def test_discs_that_overlap_have_one_outline_and_discs_apart_two() -> None:
    assert len(silhouette([((0.0, 0.0), 1.0), ((1.5, 0.0), 1.0)], 0.1)) == 1
    assert len(silhouette([((0.0, 0.0), 1.0), ((4.0, 0.0), 1.0)], 0.1)) == 2


def test_a_hole_runs_the_other_way_round() -> None:
    ring = [((10 * math.cos(k / 5), 10 * math.sin(k / 5)), 2.0) for k in range(32)]
    areas = sorted(area(loop) for loop in silhouette(ring, 0.3))
    assert len(areas) == 2
    assert math.isclose(areas[0], -math.pi * 64, rel_tol=0.05)
    assert math.isclose(areas[1], math.pi * 144, rel_tol=0.05)


def test_discs_smaller_than_a_square_are_not_lost() -> None:
    assert len(silhouette([((0.0, 0.0), 0.01), ((90.0, 0.0), 0.01)], 5.0)) == 2


def test_the_room_of_discs_holds_them() -> None:
    box = box_of_discs([(0.0, 0.0), (3.0, 4.0)], [1.0, 2.0])
    assert (box.left, box.bottom, box.right, box.top) == (-1.0, -1.0, 5.0, 6.0)
