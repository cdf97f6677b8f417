"""Words in a figure: clear of rings and of one another, their leaders clear of other wires."""

from __future__ import annotations

import math

import pytest

from compiler.booklet.fonts import text_width
from compiler.booklet.page import Circle, Item, Rectangle, Text
from compiler.booklet.style import INK
from compiler.figure.labels import Label, label_items
from compiler.figure.panels import lined
from compiler.figure.scene import Loop
from compiler.figure.strokes import Window

WIDTH, HEIGHT, SCALE = 300.0, 160.0, 10.0
WINDOW = Window(scale=SCALE, left=0.0, top=HEIGHT / SCALE)


def loop(node: int, x: float, radius: float = 2.0) -> Loop:
    return Loop(
        node=node, centre=(x, 8.0, 0.0), along=(radius, 0.0, 0.0), across=(0.0, radius, 0.0), tube=0.3
    )


CHAIN = tuple(loop(node, 8.0 + 3.0 * node) for node in range(5))


def named(loops: tuple[Loop, ...], needed: bool = False) -> list[Label]:
    return [Label(text=f"ring {each.node + 1}", loop=each, color=INK, needed=needed) for each in loops]


def boxes(items: tuple[Item, ...]) -> list[tuple[float, float, float, float]]:
    return [
        (i.x, i.y - 0.7 * i.size, i.x + text_width(i.string, i.face, i.size), i.y)
        for i in items
        if isinstance(i, Text)
    ]


def test_every_ring_of_a_chain_is_named() -> None:
    items = label_items(named(CHAIN), CHAIN, WINDOW, WIDTH, HEIGHT)
    assert {i.string for i in items if isinstance(i, Text)} == {f"ring {n}" for n in range(1, 6)}


def test_no_text_covers_wire_or_another_text() -> None:
    found = boxes(label_items(named(CHAIN), CHAIN, WINDOW, WIDTH, HEIGHT))
    assert len(found) == 5
    for left, top, right, bottom in found:
        for each in CHAIN:
            for step in range(360):
                x, y = WINDOW.point(*each.at(math.radians(step))[:2])
                assert not (left < x < right and top < y < bottom)
    for number, a in enumerate(found):
        for b in found[:number]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_a_leader_ends_on_a_part_of_its_ring_that_can_be_seen() -> None:
    covered = frozenset(range(32))  # the upper half
    label = Label(text="seam 3", loop=CHAIN[0], color=INK, covered=covered)
    items = label_items([label], CHAIN, WINDOW, WIDTH, HEIGHT)
    feet = [item for item in items if isinstance(item, Circle) and item.fill == INK]
    assert len(feet) == 1
    assert feet[0].y >= HEIGHT - SCALE * CHAIN[0].centre[1]
    x, y = WINDOW.point(*CHAIN[0].centre[:2])
    assert math.isclose(math.hypot(feet[0].x - x, feet[0].y - y), 2.0 * SCALE, abs_tol=0.01)


@pytest.mark.parametrize(("round_it", "plain", "needed"), [(1, 1, 1), (2, 0, 1), (4, 0, 0)])
def test_a_leader_crosses_one_wire_or_two_where_a_text_is_needed(
    round_it: int, plain: int, needed: int
) -> None:
    inner = loop(0, 15.0, 0.8)
    rings = (inner, *(loop(n, 15.0, 0.8 + 0.9 * n) for n in range(1, round_it + 1)))
    assert len(boxes(label_items(named((inner,)), rings, WINDOW, WIDTH, HEIGHT))) == plain
    assert len(boxes(label_items(named((inner,), needed=True), rings, WINDOW, WIDTH, HEIGHT))) == needed


def test_a_needed_text_without_a_place_is_cut_to_its_number_on_its_ring() -> None:
    inner = loop(0, 15.0, 0.8)
    rings = (inner, *(loop(n, 15.0, 0.8 + 0.9 * n) for n in range(1, 5)))
    label = Label(text="seam 12", short="12", loop=inner, color=INK, needed=True)
    items = label_items([label], rings, WINDOW, WIDTH, HEIGHT)
    (text,) = [item for item in items if isinstance(item, Text)]
    (field,) = [item for item in items if isinstance(item, Rectangle)]
    assert text.string == "12"
    x, y = WINDOW.point(*inner.centre[:2])
    middle = field.x + field.width / 2, field.y + field.height / 2
    assert math.isclose(math.dist(middle, (x, y)), 0.8 * SCALE, abs_tol=0.01)


def test_a_text_of_two_lines_stands_clear_of_rings_in_both() -> None:
    label = Label(text="point 3 of row 3\nof lozenge 1", loop=CHAIN[2], color=INK)
    found = boxes(label_items([label], CHAIN, WINDOW, WIDTH, HEIGHT))
    assert len(found) == 2
    for left, top, right, bottom in found:
        for each in CHAIN:
            for step in range(360):
                x, y = WINDOW.point(*each.at(math.radians(step))[:2])
                assert not (left < x < right and top < y < bottom)


def test_a_long_name_that_ends_in_a_space_is_still_broken_in_its_middle() -> None:
    assert lined("word " * 12) == f"{'word ' * 6}".rstrip() + "\n" + "word " * 6
    assert lined("word ") == "word "
