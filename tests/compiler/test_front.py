"""What the words say lies over something does so, seen from the front, or it is not proved and no true figure."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from msgspec import structs

from compiler.figure.source import Figures
from compiler.figure.true_view import true_view
from compiler.front import Seen, front_of, heights_over, which_over, wrong_from, wrong_overs
from compiler.layout import Circle, Over, kept_path, mirrored
from compiler.pipeline import checked
from compiler.proved import from_kept
from compiler.surfaces import over_facts
from compiler.timings import Timings
from compiler.weave import Relation, RelationKind

PATTERNS = Path(__file__).parents[2] / "patterns"
PLACES = sorted(path for path in PATTERNS.rglob("*.annulet") if " over " in path.read_text("utf-8"))


def loop(x: float, z: float) -> Seen:
    """A flat ring of radius 3."""
    return Seen(centre=(x, 0.0, z), along=(3.0, 0.0, 0.0), across=(0.0, 3.0, 0.0))


def test_heights_are_those_of_the_cores_where_they_cross() -> None:
    assert heights_over(loop(0.0, 2.0), loop(4.0, 0.5)) == pytest.approx([1.5, 1.5])
    assert heights_over(loop(0.0, 0.0), loop(7.0, 0.0)) == []
    # seen from its edge a ring encloses nothing
    edge = Seen(centre=(2.0, 0.0, 0.0), along=(0.0, 0.0, 3.0), across=(0.0, 3.0, 0.0))
    assert heights_over(loop(0.0, 2.0), edge) == []


def test_a_leaning_ring_is_over_on_one_side_and_under_on_the_other() -> None:
    s = 3.0 * math.sqrt(0.5)
    leaning = Seen(centre=(0.0, 1.0, 0.0), along=(s, 0.0, s), across=(0.0, 3.0, 0.0))
    heights = heights_over(leaning, loop(0.0, 0.0))
    assert len(heights) > 1
    assert min(heights) < 0 < max(heights)


@pytest.mark.parametrize("path", PLACES, ids=lambda path: path.stem)
def test_patterns_show_over_and_under_as_they_say_it(path: Path) -> None:
    weave = checked(str(path), PATTERNS, Timings()).weave
    assert weave is not None
    looked_at = 0
    for geometry in from_kept(weave, kept_path(path), Timings()):
        piece = weave.pieces[geometry.piece]
        if geometry.whole is not None and over_facts(piece):
            looked_at += 1
            assert true_view(weave, geometry.piece, geometry.whole).wrong_over == 0
    assert looked_at


def test_a_layout_that_shows_it_the_other_way_is_not_drawn_as_true() -> None:
    path = PATTERNS / "units" / "persian.annulet"
    weave = checked(str(path), PATTERNS, Timings()).weave
    assert weave is not None
    number = next(index for index, piece in enumerate(weave.pieces) if piece.name == "half-persian")
    geometry = from_kept(weave, kept_path(path), Timings())[number]
    assert geometry.whole is not None
    layouts = {number: geometry.whole}
    true = Figures(weave, layouts).finished(number, 400.0, 400.0)
    assert true is not None and not true.schematic
    # every other ring of an edge the other way: no side shows that
    piece = weave.pieces[number]
    turned = tuple(
        Relation(kind=RelationKind.UNDER, node=each.node, others=each.others, motion=each.motion)
        if place // 2 % 2
        else each
        for place, each in enumerate(piece.relations)
    )
    pieces = list(weave.pieces)
    pieces[number] = structs.replace(piece, relations=turned)
    other = Figures(structs.replace(weave, pieces=tuple(pieces)), layouts).finished(number, 400.0, 400.0)
    assert other is not None and other.schematic


# ---------------------------------------------------------------- circles laid by hand


def flat(x: float, y: float, z: float, core: float = 3.0, lean: float = 0.0) -> Circle:
    """A ring nearly in the plane, its upper edge lower by `lean`."""
    return Circle(centre=(x, y, z), normal=(0.0, lean, 1.0), core_radius=core, tube_radius=0.4)


def tiles(lean: float) -> list[Circle]:
    """Two rows of three like tiles; with a lean of more than 0 the upper row lies over the lower one."""
    return [flat(8.0 * k + 4.0 * row, 4.0 * row, 0.0, lean=lean) for row in (0, 1) for k in range(3)]


def tile_facts(*, framed: bool) -> tuple[Over, ...]:
    frame = (0, 1, 1, 4) if framed else None
    return tuple(
        Over(upper=3 + k, lower=lower, frame=frame) for k in range(3) for lower in (k, k + 1) if lower < 3
    )


def test_in_a_sheet_the_front_is_where_its_places_run_to_the_right() -> None:
    facts = tile_facts(framed=True)
    assert wrong_overs(tiles(0.4), facts) == ()
    assert wrong_overs(tiles(-0.4), facts) == facts
    assert wrong_overs(mirrored(tiles(0.4)), facts) == facts
    assert wrong_overs(mirrored(tiles(-0.4)), facts) == ()


def test_elsewhere_the_front_is_one_side_of_all() -> None:
    facts = tile_facts(framed=False)
    assert wrong_overs(tiles(0.4), facts) == wrong_overs(tiles(-0.4), facts) == ()
    mixed = (*facts[:-1], Over(upper=facts[-1].lower, lower=facts[-1].upper))
    assert wrong_overs(tiles(0.4), mixed) == mixed[-1:]


def test_what_does_not_overlap_lies_over_nothing() -> None:
    far = [flat(0.0, 0.0, 0.0), flat(9.0, 0.0, 1.0)]
    fact = Over(upper=1, lower=0)
    assert wrong_overs(far, (fact,)) == (fact,)


def test_a_small_ring_over_the_hole_of_a_large_one_crosses_it_nowhere() -> None:
    large = loop(0.0, 0.0)
    small = Seen(centre=(0.5, 0.0, 1.0), along=(1.0, 0.0, 0.0), across=(0.0, 1.0, 0.0))
    assert heights_over(small, large) == []
    assert which_over(small, large) == 1
    assert which_over(large, small) == -1
    through = Seen(centre=(0.5, 0.0, 0.0), along=(1.0, 0.0, 0.9), across=(0.0, 1.0, 0.0))
    assert which_over(through, large) == 0
    assert which_over(large, through) == 0


# ---------------------------------------------------------------- a tube laid by hand

AROUND, ROWS = 12, 9


def shingled(lean: float, *, front_inside: bool = False) -> list[Circle]:
    """A tube like a roof of round tiles about the y axis, row by row upward; its lower edges stand out by `lean`.

    Its places run anticlockwise seen from above, so that its front is outside.
    """
    found = []
    for row in range(ROWS):
        for place in range(AROUND):
            angle = 2 * math.pi * (place + row % 2 / 2) / AROUND * (-1 if front_inside else 1)
            out = (math.sin(angle), 0.0, math.cos(angle))
            found.append(
                Circle(
                    centre=(12.0 * out[0], 4.0 * row, 12.0 * out[2]),
                    normal=(out[0], lean, out[2]),
                    core_radius=3.0,
                    tube_radius=0.3,
                )
            )
    return found


def shingle_facts() -> tuple[Over, ...]:
    """Each ring over the two below; its neighbours say where the front is."""
    found = []
    for row in range(1, ROWS):
        for place in range(AROUND):
            at = row * AROUND
            lower = [(row - 1) * AROUND + (place + step - (row % 2 == 0)) % AROUND for step in (0, 1)]
            frame = at + (place - 1) % AROUND, at + (place + 1) % AROUND, lower[0], at + place
            found += [Over(upper=at + place, lower=each, frame=frame) for each in lower]
    return tuple(found)


def wrong_in_picture(circles: list[Circle]) -> int:
    facts = shingle_facts()
    return len(wrong_from(circles, front_of(circles, facts).view, facts))


def test_of_a_tube_what_lies_over_what_is_looked_at_on_its_near_side() -> None:
    facts = shingle_facts()
    assert wrong_overs(shingled(0.5), facts) == ()
    assert wrong_in_picture(shingled(0.5)) == 0


def test_a_tube_that_lies_the_other_way_is_told() -> None:
    facts = shingle_facts()
    assert wrong_overs(shingled(-0.5), facts) == facts
    assert wrong_in_picture(shingled(-0.5)) > AROUND // 3


def test_a_tube_with_its_front_inside_shows_its_back_and_is_not_drawn_as_true() -> None:
    facts = shingle_facts()
    turned_in = shingled(-0.5, front_inside=True)
    assert wrong_overs(turned_in, facts) == ()
    assert wrong_in_picture(turned_in) > 0


def test_of_a_flat_sheet_no_side_is_a_far_side() -> None:
    facts = tile_facts(framed=True)
    view = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
    back = (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0)
    assert wrong_from(tiles(0.4), view, facts) == ()
    assert wrong_from(tiles(0.4), back, facts) == facts
