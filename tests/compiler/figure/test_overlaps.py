"""What the words say lies over something is seen over it, or the figure is no true one."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from msgspec import structs

from compiler.figure.overlaps import heights_over, over_facts
from compiler.figure.scene import Loop
from compiler.figure.source import Figures
from compiler.figure.true_view import true_view
from compiler.layout import kept_path
from compiler.pipeline import checked
from compiler.proved import from_kept
from compiler.timings import Timings
from compiler.weave import Relation, RelationKind

PATTERNS = Path(__file__).parents[3] / "patterns"
PLACES = sorted(path for path in PATTERNS.rglob("*.annulet") if " over " in path.read_text("utf-8"))


def loop(node: int, x: float, z: float) -> Loop:
    """A flat ring of radius 3."""
    return Loop(node=node, centre=(x, 0.0, z), along=(3.0, 0.0, 0.0), across=(0.0, 3.0, 0.0), tube=0.5)


def test_heights_are_those_of_the_cores_where_they_cross() -> None:
    assert heights_over(loop(0, 0.0, 2.0), loop(1, 4.0, 0.5)) == pytest.approx([1.5, 1.5])
    assert heights_over(loop(0, 0.0, 0.0), loop(1, 7.0, 0.0)) == []
    # seen from its edge a ring encloses nothing
    edge = Loop(node=1, centre=(2.0, 0.0, 0.0), along=(0.0, 0.0, 3.0), across=(0.0, 3.0, 0.0), tube=0.5)
    assert heights_over(loop(0, 0.0, 2.0), edge) == []


def test_a_leaning_ring_is_over_on_one_side_and_under_on_the_other() -> None:
    s = 3.0 * math.sqrt(0.5)
    leaning = Loop(node=0, centre=(0.0, 1.0, 0.0), along=(s, 0.0, s), across=(0.0, 3.0, 0.0), tube=0.5)
    heights = heights_over(leaning, loop(1, 0.0, 0.0))
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
