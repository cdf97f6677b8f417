"""Rings that the weave's own symmetry makes alike are laid out alike, by the search and by the flat drawing."""

import math
from pathlib import Path

from msgspec.structs import replace

from compiler.flat.place import flat_positions
from compiler.geometry import pair_state
from compiler.hints import hinted
from compiler.kept import read_kept
from compiler.layout import Circle, Layout, LayoutProblem, PairState
from compiler.pipeline import checked
from compiler.problem import problem_of
from compiler.prove import cycle_product
from compiler.settle.evening import evened
from compiler.settle.pendants import stripped
from compiler.settle.rosettes import rosette_poses
from compiler.settle.search import settle
from compiler.timings import Timings
from compiler.weave import Weave

PATTERNS = Path(__file__).parents[2] / "patterns"


def piece_of(name: str, piece: str) -> tuple[Weave, int]:
    weave = checked(str(PATTERNS / name), None, Timings()).weave
    assert weave is not None
    return weave, [each.name for each in weave.pieces].index(piece)


def problem_in(name: str, piece: str) -> LayoutProblem:
    weave, index = piece_of(name, piece)
    return hinted(problem_of(weave, index), weave, index)


def test_a_disc_that_grows_by_five_a_round_comes_out_the_same_five_times_round() -> None:
    layout: Layout = settle(problem_in("units/expansions.annulet", "mail-disc"))
    assert layout.verdict.proved
    centre = layout.circles[0].centre
    far = [math.dist(circle.centre, centre) for circle in layout.circles]
    first = 1
    for each in (1, 2, 3):  # rings of a round in a fifth of it
        for ring in range(each):
            alike = far[first + ring : first + 5 * each : each]
            assert max(alike) - min(alike) < 0.25
        first += 5 * each


def test_a_chain_with_collars_round_its_joints_is_drawn_straight() -> None:
    weave, index = piece_of("units/captive.annulet", "orbital-pairs")
    places = flat_positions(weave, index).places
    assert max(y for _, y in places) - min(y for _, y in places) < 0.01


def test_a_rosette_on_a_bail_begins_even_with_the_bail_through_all_of_it() -> None:
    problem = problem_in("lupus-pendants.annulet", "large-pendant")
    poses = rosette_poses(problem)
    assert poses
    for pose in poses[:5]:
        circles = [
            Circle(
                centre=tuple(pose.place[:, ring]),
                normal=tuple(pose.normal[:, ring]),
                core_radius=size.core_radius,
                tube_radius=size.tube_radius,
            )
            for ring, size in enumerate(problem.rings)
        ]
        states = [pair_state(circles[pair.a], circles[pair.b]) for pair in problem.pairs]
        assert set(states) == {PairState.LINKED}
        petals = [math.hypot(*circle.centre) for circle in circles if circle.core_radius != 5.0]
        assert max(petals) - min(petals) < 1e-6


def test_of_rings_of_three_sizes_no_rosette_is_tried() -> None:
    problem = problem_in("lupus-pendants.annulet", "small-pendant")
    first, *rest = problem.rings
    other = replace(first, core_radius=4.0)
    assert rosette_poses(problem)
    assert rosette_poses(replace(problem, rings=(other, *rest))) == []


def test_a_crooked_end_of_a_chain_is_put_where_its_repeats_go_on() -> None:
    problem = problem_in("delphinus-anklet.annulet", "anklet")
    layout = read_kept(PATTERNS / "delphinus-anklet.layout", {"anklet": problem})["anklet"]
    assert isinstance(layout, Layout)
    bare = stripped(problem)
    straight = [layout.circles[ring] for ring in bare.kept]
    assert evened(bare.core, straight) is None
    crooked = [
        replace(circle, centre=(circle.centre[0], circle.centre[1] + 2.5, circle.centre[2] - ring))
        if ring < 3
        else circle
        for ring, circle in enumerate(straight)
    ]
    found = evened(bare.core, crooked)
    assert found is not None
    assert found[3:] == tuple(straight[3:])
    for circle in found[:3]:  # the three of a rosette may stand in for one another
        assert min(math.dist(circle.centre, other.centre) for other in straight[:3]) < 0.8
    assert all(cycle_product(found, cycle) == cycle.product for cycle in bare.core.cycles)
    assert evened(bare.core, [*crooked[:8], *crooked[9:], crooked[8]]) is None  # too much is out of place


def test_a_piece_that_does_not_repeat_itself_has_no_ends_to_be_put_right() -> None:
    problem = problem_in("units/expansions.annulet", "mail-disc")
    layout = read_kept(PATTERNS / "units/expansions.layout", {"mail-disc": problem})["mail-disc"]
    assert isinstance(layout, Layout)
    assert evened(problem, layout.circles) is None
