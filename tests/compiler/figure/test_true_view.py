"""True views: rings where the layout has them, nearer wire over farther wire, from the front, to scale."""

import itertools
import math
from pathlib import Path as File

import pytest
from msgspec.structs import replace
from woven import CHAIN, RHOMBUS, weave_of

from compiler.booklet.page import MM, Line, Path, Text
from compiler.booklet.page import Circle as PageCircle
from compiler.figure.look import ring_look
from compiler.figure.order import Arc
from compiler.figure.picture import Picture, arcs_of
from compiler.figure.scene import PARTS, Loop
from compiler.figure.source import Figures
from compiler.figure.strokes import Window, arc_path, ring_items
from compiler.figure.true_view import true_view
from compiler.flat.place import flat_positions
from compiler.geometry import cross, dot, minus
from compiler.graph import Addresses
from compiler.hints import hinted
from compiler.layout import Circle, Layout, kept_path
from compiler.pipeline import checked
from compiler.problem import problem_of
from compiler.prove import prove
from compiler.proved import from_kept
from compiler.settle.search import settle
from compiler.timings import Timings
from compiler.weave import PieceWeave, RelationKind, Weave


def chain_layout(weave: Weave) -> Layout:
    """Five rings along a slanting line, each turned a quarter to the one before."""
    along, side, third = (0.6, 0.0, 0.8), (0.0, 1.0, 0.0), (-0.8, 0.0, 0.6)
    circles = tuple(
        Circle(
            centre=(3.4 * k * along[0], 3.4 * k * along[1], 3.4 * k * along[2]),
            normal=side if k % 2 else third,
            core_radius=2.4,
            tube_radius=0.4,
        )
        for k in range(5)
    )
    return Layout(circles=circles, verdict=prove(problem_of(weave, 0), circles))


@pytest.fixture(scope="module")
def rhombus() -> tuple[Weave, Layout, Picture]:
    weave = weave_of(RHOMBUS)
    layout = settle(hinted(problem_of(weave, 0), weave, 0))
    assert layout.verdict.proved
    return weave, layout, true_view(weave, 0, layout)


@pytest.mark.parametrize(("said", "onward"), [("work clockwise", 1), ("work anticlockwise", -1)])
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_a_disc_is_seen_from_where_its_rounds_run_the_way_the_work_goes(
    said: str, onward: int, side: float
) -> None:
    weave = weave_of(f"{said}\ndisc plate of 1, 6:\n    pass 2 large joined all round by 2 small as seam")
    flat = flat_positions(weave, 0)
    circles = tuple(
        Circle(centre=(x, side * y, 0.1 * node), normal=(0.0, 0.0, 1.0), core_radius=2.4, tube_radius=0.4)
        for node, (x, y) in enumerate(flat.places)
    )
    loops = true_view(weave, 0, Layout(circles=circles, verdict=prove(problem_of(weave, 0), circles))).loops
    rounds = [node for node, group in enumerate(weave.pieces[0].group) if group == 0][::2]
    (x0, y0, _), *places = (loops[node].centre for node in rounds)
    angles = [math.atan2(y - y0, x - x0) for x, y, _ in places]
    turns = [math.remainder(a - b, 2 * math.pi) * onward for a, b in itertools.pairwise(angles)]
    assert len(turns) == 5
    assert all(turn > 0.5 for turn in turns)


def test_the_view_keeps_every_distance(rhombus: tuple[Weave, Layout, Picture]) -> None:
    _, layout, picture = rhombus
    for a, b in itertools.combinations(range(0, 50, 7), 2):
        seen = math.dist(picture.loops[a].centre, picture.loops[b].centre)
        assert seen == pytest.approx(math.dist(layout.circles[a].centre, layout.circles[b].centre))
    for circle, loop in zip(layout.circles, picture.loops, strict=True):
        assert math.hypot(*loop.along) == pytest.approx(circle.core_radius)
        assert math.hypot(*loop.across) == pytest.approx(circle.core_radius)
        assert dot(loop.along, loop.across) == pytest.approx(0, abs=1e-9)


def test_the_view_is_no_mirror_image(rhombus: tuple[Weave, Layout, Picture]) -> None:
    _, layout, picture = rhombus
    a, b, c, d = (layout.circles[k].centre for k in (0, 16, 30, 49))
    p, q, r, s = (picture.loops[k].centre for k in (0, 16, 30, 49))
    solid = dot(minus(b, a), cross(minus(c, a), minus(d, a)))
    seen = dot(minus(q, p), cross(minus(r, p), minus(s, p)))
    assert seen == pytest.approx(solid)


def test_a_flat_piece_is_seen_straight_on_and_as_the_flat_drawing_has_it(
    rhombus: tuple[Weave, Layout, Picture],
) -> None:
    weave, _, picture = rhombus
    depths = [loop.centre[2] for loop in picture.loops]
    assert max(depths) - min(depths) < 4
    flat = flat_positions(weave, 0).places
    for a, b in itertools.combinations(range(0, 50, 9), 2):
        drawn = (flat[b][0] - flat[a][0], flat[b][1] - flat[a][1])
        seen = minus(picture.loops[b].centre, picture.loops[a].centre)
        cosine = (drawn[0] * seen[0] + drawn[1] * seen[1]) / math.hypot(*drawn) / math.hypot(*seen[:2])
        assert cosine > 0.97


def test_of_two_linked_rings_each_lies_over_the_other_once(rhombus: tuple[Weave, Layout, Picture]) -> None:
    weave, _, picture = rhombus
    piece = weave.pieces[0]
    tops: dict[frozenset[int], set[int]] = {}
    for low, high, free in picture.cover.pairs():
        assert not free
        tops.setdefault(frozenset((low // PARTS, high // PARTS)), set()).add(high // PARTS)
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        assert tops[frozenset((a, b))] == {a, b}


def test_everything_is_drawn_after_what_it_covers(rhombus: tuple[Weave, Layout, Picture]) -> None:
    picture = rhombus[2]
    _, arcs, cover = arcs_of(picture, range(50))
    place: dict[int, int] = {}
    for number, arc in enumerate(arcs):
        for step in range(arc.count):
            place[arc.loop * PARTS + (arc.first + step) % PARTS] = number
    assert len(place) == 50 * PARTS
    assert all(place[low] < place[high] for low, high, _ in cover.pairs())
    assert len(arcs) < 12 * 50


def test_a_chain_is_tilted_so_that_no_ring_is_seen_from_its_edge() -> None:
    weave = weave_of(CHAIN)
    layout = chain_layout(weave)
    assert layout.verdict.proved
    for loop in true_view(weave, 0, layout).loops:
        area = abs(loop.along[0] * loop.across[1] - loop.along[1] * loop.across[0])
        assert area > 0.3 * 2.4**2


def test_the_wire_is_led_away_from_the_reader_through_the_ring_it_enters() -> None:
    weave = weave_of(CHAIN)
    picture = true_view(weave, 0, chain_layout(weave))
    for actor in range(1, 5):
        loop, ring = picture.loops[actor], picture.loops[actor - 1]
        normal = cross(ring.along, ring.across)
        if normal[2] < 0:
            normal = (-normal[0], -normal[1], -normal[2])
        crossings = []
        for k in range(360):
            angle = picture.travel[actor] * 2 * math.pi * k / 360
            here, later = loop.at(angle), loop.at(angle + picture.travel[actor] * math.pi / 180)
            before = dot(minus(here, ring.centre), normal)
            after = dot(minus(later, ring.centre), normal)
            if before * after < 0 and math.dist(here, ring.centre) < 2.4:
                crossings.append(after - before)
        assert len(crossings) == 1
        assert crossings[0] < 0


def test_a_true_figure_is_to_scale_and_has_a_bar_of_that_scale() -> None:
    weave = weave_of(CHAIN)
    figures = Figures(weave, {0: chain_layout(weave)})
    for figure in (figures.finished(0, 300.0, 200.0), figures.step(0, 3, 300.0, 200.0)):
        assert figure is not None
        assert not figure.schematic
        assert figure.scale is not None
        wires = {i.stroke.width for i in figure.items if isinstance(i, Path) and i.stroke}
        assert max(wires) == pytest.approx(0.8 * figure.scale * MM)
        (text,) = [i.string for i in figure.items if isinstance(i, Text) and i.string.endswith(" mm")]
        (bar,) = [i for i in figure.items if isinstance(i, Line) and i.stroke.width == 0.7 and i.y1 == i.y2]
        assert bar.x2 - bar.x1 == pytest.approx(float(text.removesuffix(" mm")) * figure.scale * MM)


def test_signs_of_findings_are_said_not_to_be_to_scale() -> None:
    body = "take 1 link as a\npass 1 link as b through a carrying 1 chain by start"
    weave = weave_of(body)
    layout = settle(hinted(problem_of(weave, 0), weave, 0))
    assert layout.verdict.proved
    figures = Figures(weave, {0: layout})
    figure = figures.finished(0, 300.0, 200.0)
    assert figure is not None
    assert figure.caption == "The bodies of findings are signs, not to scale."


def test_a_ring_seen_from_its_edge_has_round_ends() -> None:
    edge = Loop(node=0, centre=(0.0, 0.0, 0.0), along=(2.4, 0.0, 0.0), across=(0.0, 0.02, 2.4), tube=0.4)
    window = Window(scale=5.0, left=-5.0, top=5.0)
    items = list(ring_items([edge], [Arc(loop=0, first=0, count=PARTS)], [ring_look(None, 0)], window))
    discs = [item for item in items if isinstance(item, PageCircle)]
    assert {(round(disc.x, 6), round(disc.radius, 6)) for disc in discs} >= {(13.0, 2.0), (37.0, 2.0)}


def test_a_piece_in_true_size_is_as_long_on_paper_as_its_rings() -> None:
    weave = weave_of(CHAIN)
    figures = Figures(weave, {0: chain_layout(weave)})
    figure = figures.actual(0, 400.0, 400.0)
    assert figure is not None
    assert figure.scale == 1.0
    drawn = [
        (x, item.stroke.width / 2)
        for item in figure.items
        if isinstance(item, Path) and item.stroke is not None
        for x in item.points[::2]
    ]
    across = max(x + half for x, half in drawn) - min(x - half for x, half in drawn)
    assert across / MM == pytest.approx(4 * 3.4 + 2 * 2.8, abs=0.3)
    assert figures.actual(0, figure.width - 1.0, 400.0) is None
    assert Figures(weave).actual(0, 400.0, 400.0) is None


def test_a_layout_that_is_not_proved_is_never_drawn() -> None:
    weave = weave_of(CHAIN)
    layout = chain_layout(weave)
    unproved = replace(layout, verdict=replace(layout.verdict, proved=False))
    figure = Figures(weave, {0: unproved}).finished(0, 300.0, 200.0)
    assert figure is not None
    assert figure.schematic


def test_a_stroke_keeps_to_the_picture_of_its_ring() -> None:
    weave = weave_of(CHAIN)
    loop = true_view(weave, 0, chain_layout(weave)).loops[1]
    window = Window(scale=5.0, left=-10.0, top=10.0)
    path = arc_path(loop, Arc(loop=0, first=5, count=20), window, 0.0)
    ends = [(path.points[k], path.points[k + 1]) for k in (0, len(path.points) - 2)]
    for end, part in zip(ends, (5, 25), strict=True):
        expected = window.point(*loop.at(2 * math.pi * part / PARTS)[:2])
        assert math.dist(end, expected) < 1e-9
    whole = Arc(loop=0, first=0, count=PARTS)
    items = list(ring_items([loop], [whole], [ring_look(None, 0)], window))
    assert {item.stroke.width for item in items if isinstance(item, Path) and item.stroke} >= {0.8 * 5.0}


def library(name: str, piece: str) -> tuple[PieceWeave, Picture]:
    """A piece of the library and its true view."""
    path = File(__file__).parents[3] / "patterns" / f"{name}.annulet"
    weave = checked(str(path), None, Timings()).weave
    assert weave is not None
    number = [each.name for each in weave.pieces].index(piece)
    layout = from_kept(weave, kept_path(path), Timings())[number].layout
    assert layout is not None
    return weave.pieces[number], true_view(weave, number, layout)


def test_a_collar_is_seen_as_a_ring_and_not_as_a_bar() -> None:
    piece, picture = library("perseus-necklace", "necklace")
    collars = [each.node for each in piece.relations if each.kind is RelationKind.AROUND]
    assert collars
    for loop in (picture.loops[node] for node in collars):
        area = abs(loop.along[0] * loop.across[1] - loop.along[1] * loop.across[0])
        assert area / math.hypot(*loop.along) ** 2 > 0.3


def test_a_band_is_seen_from_above_with_its_later_rounds_higher() -> None:
    piece, picture = library("norma-ring", "finger-ring")
    (family,) = {group for group in piece.group if group >= 0 and piece.groups[group].shape is not None}
    addresses = Addresses(piece)
    heights: dict[int, list[float]] = {}
    for node, group in enumerate(piece.group):
        if group == family:
            heights.setdefault(addresses.of(node).row, []).append(picture.loops[node].centre[1])
    means = [sum(found) / len(found) for _, found in sorted(heights.items())]
    assert len(means) > 1
    assert means == sorted(means)
    assert picture.wrong_over == 0
