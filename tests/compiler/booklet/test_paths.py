"""Arcs and polylines."""

import math

import pytest

from compiler.booklet.page import Color, Path, Verb
from compiler.booklet.paths import Pen, polyline

INK = Color(0, 0, 0)


def points_on_curves(path: Path) -> list[tuple[float, float]]:
    """Points along every curve of the path, by the definition of a cubic Bézier curve."""
    out: list[tuple[float, float]] = []
    here, used = (0.0, 0.0), 0
    for verb in path.verbs:
        values = path.points[used : used + verb.coordinates]
        used += verb.coordinates
        if verb is Verb.CURVE:
            corners = [here, values[0:2], values[2:4], values[4:6]]
            for step in range(21):
                t = step / 20
                weights = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3]
                out.append(
                    (
                        sum(weight * corner[0] for weight, corner in zip(weights, corners, strict=True)),
                        sum(weight * corner[1] for weight, corner in zip(weights, corners, strict=True)),
                    )
                )
        if values:
            here = (values[-2], values[-1])
    return out


@pytest.mark.parametrize(("start", "sweep"), [(0, 360), (30, 90), (200, -135), (350, 20), (10, 271)])
def test_an_arc_lies_on_its_circle_and_runs_from_start_to_end(start: float, sweep: float) -> None:
    path = Pen().arc(3.0, -2.0, 10.0, start, sweep).path(fill=INK)
    curve = points_on_curves(path)
    assert all(abs(math.hypot(x - 3, y + 2) - 10) < 0.003 for x, y in curve)
    for (x, y), angle in ((curve[0], start), (curve[-1], start + sweep)):
        assert x == pytest.approx(3 + 10 * math.cos(math.radians(angle)))
        assert y == pytest.approx(-2 + 10 * math.sin(math.radians(angle)))
    middle_angle = math.radians(start + sweep / 2)
    middle = (3 + 10 * math.cos(middle_angle), -2 + 10 * math.sin(middle_angle))
    assert min(math.dist(middle, point) for point in curve) < 0.5


def test_an_arc_is_joined_by_a_line_to_an_outline_that_is_begun() -> None:
    path = Pen().move(0, 0).arc(5, 0, 1, 180, 90).close().path(fill=INK)
    assert path.verbs == (Verb.MOVE, Verb.LINE, Verb.CURVE, Verb.CLOSE)
    assert path.points[2:4] == pytest.approx((4, 0))


def test_an_arc_after_a_closed_outline_starts_another() -> None:
    path = Pen().arc(0, 0, 5, 0, 90).close().arc(0, 0, 2, 0, 90).close().path(fill=INK)
    assert [verb for verb in path.verbs if verb is Verb.MOVE] == [Verb.MOVE] * 2


def test_a_polyline_goes_through_its_points() -> None:
    path = polyline((0.0, 1.0), (2.0, 3.0), (4.0, 5.0)).path(fill=INK)
    assert path.verbs == (Verb.MOVE, Verb.LINE, Verb.LINE)
    assert path.points == (0.0, 1.0, 2.0, 3.0, 4.0, 5.0)
