"""The finished size against counts by hand, by sampling, and turned about in space."""

import json
import math

import pytest
from msgspec.structs import replace
from woven import CHAIN, SHEET, weave_of

from compiler.build import figures_of
from compiler.catalogue import booklet_english as say
from compiler.commands.export import step_texts
from compiler.export import export
from compiler.geometry import dot, frame, point_on
from compiler.layout import Circle, Vector
from compiler.settling import geometry_of
from compiler.size import Size, extent, finished_size, pitches, size_of
from compiler.timings import Timings
from compiler.word.words import word


def ring(x: float, y: float, z: float, normal: Vector = (0.0, 0.0, 1.0), core: float = 2.0) -> Circle:
    return Circle(centre=(x, y, z), normal=normal, core_radius=core, tube_radius=0.5)


def turned(circles: list[Circle], axis: Vector, to: Vector = (0.3, -1.2, 0.4)) -> list[Circle]:
    """The circles in another frame, moved away."""
    u, v, n = frame(axis)

    def there(a: Vector) -> Vector:
        x, y, z = (a[0] * u[k] + a[1] * v[k] + a[2] * n[k] for k in range(3))
        return x, y, z

    def moved(a: Vector) -> Vector:
        x, y, z = (p + q for p, q in zip(there(a), to, strict=True))
        return x, y, z

    return [replace(each, centre=moved(each.centre), normal=there(each.normal)) for each in circles]


def assert_about(size: Size, length: float, width: float, thickness: float, within: float = 1e-6) -> None:
    assert size.length == pytest.approx(length, abs=within)
    assert size.width == pytest.approx(width, abs=within)
    assert size.thickness == pytest.approx(thickness, abs=within)


def test_one_ring_is_as_wide_as_long_and_as_thick_as_its_wire() -> None:
    assert_about(size_of([ring(0, 0, 0)]), 5.0, 5.0, 1.0)


def test_a_row_of_flat_rings() -> None:
    row = [ring(3.0 * k, 0, 0) for k in range(4)]
    assert_about(size_of(row), 9.0 + 5.0, 5.0, 1.0)


def test_the_size_does_not_depend_on_how_the_piece_lies_in_space() -> None:
    sheet = [ring(3.0 * k, 2.5 * row, 0.1 * (k % 2)) for row in range(3) for k in range(7)]
    here = size_of(sheet)
    for axis in ((1.0, 2.0, 3.0), (0.0, 1.0, 0.0), (-1.0, 0.2, -4.0)):
        there = size_of(turned(sheet, axis))
        assert_about(there, here.length, here.width, here.thickness)


def test_a_piece_that_spreads_alike_every_way_is_measured_where_it_is_narrowest() -> None:
    # six rings about one: 2 x 4 mm between opposite centres, narrower across by the cosine of 30 degrees
    rosette = [
        ring(0, 0, 0),
        *(ring(4 * math.cos(k * math.pi / 3), 4 * math.sin(k * math.pi / 3), 0) for k in range(6)),
    ]
    assert_about(size_of(rosette), 8 + 5, 8 * math.cos(math.pi / 6) + 5, 1.0, within=1e-3)


def test_how_far_the_wires_reach_agrees_with_points_on_them() -> None:
    circles = [ring(0, 1, 2, (1.0, 2.0, 3.0)), ring(-2, 0.5, 1, (0.0, 1.0, -0.4), core=3.0)]
    direction = (2 / 7, 3 / 7, 6 / 7)
    reach = [dot(point_on(each, 2 * math.pi * k / 2000), direction) for each in circles for k in range(2000)]
    assert extent(circles, direction) == pytest.approx(max(reach) - min(reach) + 2 * 0.5, abs=1e-4)


def test_the_size_of_a_settled_chain_is_its_pitch_times_its_links() -> None:
    weave = weave_of(CHAIN)
    (found,) = geometry_of(weave, None, Timings())
    assert found.whole is not None
    (pitch,) = pitches(weave.pieces[0], found.whole.circles)
    assert pitch.rows is None
    assert pitch.along is not None
    inner, wire = 4.0, 0.8
    assert pitch.along <= inner  # pulled taut, wire lies on wire: the cores are 2 (R - r) apart
    size = size_of(found.whole.circles)
    assert size.length <= 4 * pitch.along + inner + 2 * wire + 1e-6
    assert size.width < inner + 2 * wire + 1e-3


def test_a_sheet_has_a_pitch_along_its_rows_and_from_row_to_row() -> None:
    weave = weave_of(SHEET)
    piece = weave.pieces[0]
    circles = [ring(3.0 * place + 1.5 * (row % 2), 2.5 * row, 0.0) for row in range(4) for place in range(5)]
    assert len(piece) == len(circles)
    (pitch,) = pitches(piece, circles)
    assert pitch.along == pytest.approx(3.0)
    assert pitch.rows == pytest.approx(math.hypot(1.5, 2.5))


def test_a_round_has_as_many_steps_as_places() -> None:
    weave = weave_of("round loop of 6:\n    pass 1 link through the one before")
    places = [ring(4 * math.cos(k * math.pi / 3), 4 * math.sin(k * math.pi / 3), 0) for k in range(6)]
    (pitch,) = pitches(weave.pieces[0], places)
    assert pitch.along == pytest.approx(4.0)


def test_companions_share_a_place() -> None:
    weave = weave_of("line pair of 3:\n    pass 2 link through the one before")
    circles = [ring(3.0 * (k // 2), 0.0, 1.0 * (k % 2)) for k in range(6)]
    (pitch,) = pitches(weave.pieces[0], circles)
    assert pitch.along == pytest.approx(3.0)


def test_the_booklet_has_the_size_of_the_export_and_the_pitch() -> None:
    weave = weave_of(CHAIN)
    found = geometry_of(weave, None, Timings())
    extent = figures_of(weave, found, Timings()).extent(0)
    layout = found[0].whole
    assert extent is not None
    assert layout is not None
    exported = json.loads("".join(export(weave, [step_texts(word(weave).pieces[0])], {0: layout})))["pieces"][
        0
    ]["size"]
    (pitch,) = exported["pitches"]
    assert (extent.length_mm, extent.width_mm, extent.thickness_mm) == pytest.approx(
        (exported["length_mm"], exported["width_mm"], exported["thickness_mm"]), abs=0.001
    )
    assert extent.along_mm == pytest.approx(pitch["along_mm"], abs=0.001)
    assert extent.rows_mm is None
    assert say.size(36.15, 20.63, 5.58) == "36 × 21 × 5.6 mm"
    assert say.pitch(4.0, None) == ("pitch", "4 mm")
    assert say.pitch(6.84, 6.88) == ("pitch, along and between rows", "6.8 / 6.9 mm")
    assert figures_of(weave, (), Timings()).extent(0) is None


def test_a_piece_held_together_by_a_finding_with_several_eyes_has_no_size() -> None:
    piece = weave_of("take 1 link as a\npass 1 link as b through a carrying 1 chain by start").pieces[0]
    rings = [ring(0, 0, 0), ring(4, 0, 0)]
    assert finished_size(piece, rings) is None
    assert finished_size(weave_of("take 1 link as a\npass 1 link through a").pieces[0], rings) == size_of(
        rings
    )


def test_the_eye_of_a_finding_is_not_part_of_the_finished_size() -> None:
    piece = weave_of("take 1 link as a\npass 1 link as b through a carrying 1 drop").pieces[0]
    circles = [ring(4 * node, 0, 0) for node in range(len(piece))]
    (eye,) = piece.findings[0].eyes
    rings = [circle for node, circle in enumerate(circles) if node != eye]
    assert finished_size(piece, circles) == size_of(rings) != size_of(circles)


def test_the_rounds_of_a_disc_lie_about_one_centre_and_have_no_pitch_from_one_to_the_next() -> None:
    weave = weave_of("disc plate of 1, 6:\n    pass 1 link through those below")
    around = [ring(4 * math.cos(k * math.pi / 3), 4 * math.sin(k * math.pi / 3), 0) for k in range(6)]
    (pitch,) = pitches(weave.pieces[0], [ring(0, 0, 0), *around])
    assert pitch.along == pytest.approx(4.0)
    assert pitch.rows is None
