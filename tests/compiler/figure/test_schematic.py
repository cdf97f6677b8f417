"""Schematics: over and under follow from the links, and everything is drawn after what it covers."""

import math

import numpy as np
import pytest
from woven import CHAIN, HEAD, RHOMBUS, SHEET, weave_of

from compiler.figure.order import drawing_order
from compiler.figure.picture import Picture, arcs_of
from compiler.figure.scene import PARTS, Cover, Loop, cover_of
from compiler.figure.schematic import schematic
from compiler.weave import Weave

PATTERNS = {"chain": CHAIN, "sheet": SHEET, "rhombus": RHOMBUS}


def crossings(picture: Picture, a: int, b: int) -> list[bool]:
    """For each place where two loops cross, counter-clockwise along a: whether a lies over b."""
    found: list[tuple[int, bool]] = []
    for low, high, _ in picture.cover.pairs():
        for part, other, over in ((high, low, True), (low, high, False)):
            if part // PARTS == a and other // PARTS == b:
                found.append((part % PARTS, over))
    runs: list[bool] = []
    last: tuple[int, bool] | None = None
    for part, over in sorted(set(found)):
        if last is None or over != last[1] or part > last[0] + 1:
            runs.append(over)
        last = part, over
    if len(runs) > 2 and found:  # the run that begins at part 0 goes on from the end
        runs = runs[:-1]
    return runs


def enters_first(picture: Picture, actor: int, other: int) -> bool:
    """Whether the actor lies over the other where its counter-clockwise way enters the other's disc."""
    a, b = picture.loops[actor], picture.loops[other]
    overs = {True: 0, False: 0}
    for low, high, _ in picture.cover.pairs():
        for part, far, over in ((high, low, True), (low, high, False)):
            if part // PARTS == actor and far // PARTS == other:
                angle = 2 * math.pi * (part % PARTS + 0.5) / PARTS
                x, y, _z = a.at(angle)
                going = -math.sin(angle) * (b.centre[0] - x) + math.cos(angle) * (b.centre[1] - y)
                if going > 0:
                    overs[over] += 1
    assert (overs[True] == 0) != (overs[False] == 0)
    return overs[True] > 0


@pytest.mark.parametrize("side", ["", " from behind"])
def test_a_ring_comes_over_where_it_enters_from_the_front_and_under_where_from_behind(side: str) -> None:
    picture = schematic(weave_of(f"take 1 link as a\npass 1 link as b through a{side}"), 0)
    assert enters_first(picture, 1, 0) is (side == "")


@pytest.mark.parametrize("name", PATTERNS)
def test_of_two_linked_rings_each_lies_over_the_other_once(name: str) -> None:
    weave = weave_of(PATTERNS[name])
    picture, piece = schematic(weave, 0), weave.pieces[0]
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        over = {
            high // PARTS for low, high, _ in picture.cover.pairs() if {low // PARTS, high // PARTS} == {a, b}
        }
        assert over == {a, b}


@pytest.mark.parametrize("name", PATTERNS)
def test_of_two_rings_that_are_not_linked_one_lies_over_the_other_throughout(name: str) -> None:
    weave = weave_of(PATTERNS[name])
    picture, piece = schematic(weave, 0), weave.pieces[0]
    linked = {frozenset(pair) for pair in zip(piece.link_a, piece.link_b, strict=True)}
    over: dict[frozenset[int], set[int]] = {}
    for low, high, _ in picture.cover.pairs():
        over.setdefault(frozenset((low // PARTS, high // PARTS)), set()).add(high // PARTS)
    assert over
    assert all(len(tops) == 1 for pair, tops in over.items() if pair not in linked)


@pytest.mark.parametrize("name", PATTERNS)
def test_every_part_is_drawn_once_and_after_what_it_covers(name: str) -> None:
    picture = schematic(weave_of(PATTERNS[name]), 0)
    _, arcs, cover = arcs_of(picture, range(len(picture.loops)))
    place: dict[int, int] = {}
    for number, arc in enumerate(arcs):
        for step in range(arc.count):
            part = arc.loop * PARTS + (arc.first + step) % PARTS
            assert part not in place
            place[part] = number
    assert len(place) == len(picture.loops) * PARTS
    assert all(place[low] < place[high] for low, high, free in cover.pairs() if not free)


def test_a_step_shows_the_rings_that_are_there_in_their_finished_places() -> None:
    picture = schematic(weave_of(CHAIN), 0)
    loops, arcs, cover = arcs_of(picture, [0, 1])
    assert loops == list(picture.loops[:2])
    assert {arc.loop for arc in arcs} == {0, 1}
    assert max(cover.upper) < 2 * PARTS


def test_parts_that_cover_each_other_in_a_circle_are_all_drawn() -> None:
    circle = Cover(
        lower=np.array([0, PARTS, 2 * PARTS]),
        upper=np.array([PARTS, 2 * PARTS, 0]),
        free=np.array([False, False, False]),
    )
    arcs = drawing_order(3, circle)
    assert sum(arc.count for arc in arcs) == 3 * PARTS


def test_an_order_that_means_nothing_gives_way_first() -> None:
    circle = Cover(
        lower=np.array([0, PARTS, 2 * PARTS]),
        upper=np.array([PARTS, 2 * PARTS, 0]),
        free=np.array([False, False, True]),
    )
    place = {}
    for number, arc in enumerate(drawing_order(3, circle)):
        for step in range(arc.count):
            place[arc.loop * PARTS + (arc.first + step) % PARTS] = number
    assert place[0] < place[PARTS] < place[2 * PARTS]


def test_where_depth_tells_the_nearer_wire_lies_over() -> None:
    flat = Loop(node=0, centre=(0.0, 0.0, 0.0), along=(3.0, 0.0, 0.0), across=(0.0, 3.0, 0.0), tube=0.4)
    leaning = Loop(node=1, centre=(3.0, 0.0, 0.0), along=(3.0, 0.0, 0.0), across=(0.0, 3.0, 2.0), tube=0.4)
    for low, high, _ in cover_of([flat, leaning], 0.0).pairs():
        depth = {}
        for part in (low, high):
            loop = (flat, leaning)[part // PARTS]
            depth[part] = loop.at(2 * math.pi * (part % PARTS + 0.5) / PARTS)[2]
        assert depth[low] <= depth[high]


def test_a_ring_seen_from_its_edge_covers_its_own_far_side() -> None:
    edge = Loop(node=0, centre=(0.0, 0.0, 0.0), along=(3.0, 0.0, 0.0), across=(0.0, 0.1, 3.0), tube=0.4)
    pairs = list(cover_of([edge], 0.0).pairs())
    assert pairs
    for low, high, _ in pairs:
        assert math.sin(2 * math.pi * (low + 0.5) / PARTS) <= math.sin(2 * math.pi * (high + 0.5) / PARTS)


def test_a_collar_runs_over_the_rings_it_holds_on_one_side_and_under_them_on_the_other() -> None:
    head = HEAD + "ring collar: inner 5 mm, wire 0.9 mm, metal copper\n"
    body = """
take 1 link as a
pass 1 link as b through a
pass 1 collar as c around the joint of a and b
"""
    weave: Weave = weave_of(body, head)
    picture = schematic(weave, 0)
    for ring in (0, 1):
        tops = {h // PARTS for low, h, _ in picture.cover.pairs() if {low // PARTS, h // PARTS} == {2, ring}}
        assert tops == {2, ring}
