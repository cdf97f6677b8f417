"""Pages as data: rounding, moving, refusing what cannot be drawn."""

import pytest

from compiler.booklet.dump import dump
from compiler.booklet.page import (
    Anchor,
    Block,
    Circle,
    Color,
    Face,
    Group,
    Item,
    Line,
    Link,
    Page,
    Path,
    Rectangle,
    Role,
    Stroke,
    Text,
    Verb,
)

INK = Color(16, 32, 48)
PEN = Stroke(color=INK, width=0.7006, dash=(2.004, 1.0))


def one_of_each() -> tuple[Item, ...]:
    """An item of every kind, with coordinates that need rounding."""
    return (
        Text(x=10.006, y=20.0, string='é "ring"', face=Face.LIGHT, size=10.25, color=INK, tracking=0.2),
        Line(x1=1 / 3, y1=0.0, x2=2 / 3, y2=1.0, stroke=PEN),
        Rectangle(x=1.0, y=2.0, width=3.333333, height=4.0, radius=1.0, fill=INK),
        Circle(x=5.0, y=6.0, radius=7.123456, fill=INK, stroke=PEN),
        Path(
            verbs=(Verb.MOVE, Verb.LINE, Verb.CURVE, Verb.CLOSE),
            points=(0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.004),
            stroke=PEN,
        ),
        Anchor(name="a", x=1.111, y=2.222, title="Step 1", level=1),
        Link(x=1.0, y=2.0, width=3.0, height=4.0, anchor="a", says="To step 1"),
        Group(role=Role.FIGURE, alt="A ring", items=(Circle(x=0.001, y=-0.001, radius=2.0, fill=INK),)),
    )


def test_a_page_rounds_every_coordinate_once_to_a_hundredth_of_a_point() -> None:
    page = Page(width=595.2755905, height=841.8897637, label="1", items=one_of_each())
    assert dump(page) == (
        'page 595.28 x 841.89 label "1"\n'
        '  text 10.01 20 light 10.25 #102030 tracking 0.2 "é \\"ring\\""\n'
        "  line 0.33 0 to 0.67 1 stroke #102030 0.7 dash 2 1\n"
        "  rectangle 1 2 3.33 x 4 radius 1 fill #102030\n"
        "  circle 5 6 7.12 fill #102030 stroke #102030 0.7 dash 2 1\n"
        "  path stroke #102030 0.7 dash 2 1: move 0 1, line 2 3, curve 4 5 6 7 8 9, close\n"
        '  anchor "a" 1.11 2.22 outline 1 "Step 1"\n'
        '  link 1 2 3 x 4 to "a" says "To step 1"\n'
        '  figure "A ring"\n'
        "    circle 0 0 2 fill #102030\n"
    )
    assert Page(width=page.width, height=page.height, label="1", items=page.items) == page


def test_moving_a_block_moves_every_kind_of_item_and_rounds_nothing() -> None:
    block = Block(width=1.0, height=1.0, items=one_of_each())
    there = block.at(100.0, 50.0)
    back = Block(width=1.0, height=1.0, items=there).at(-100.0, -50.0)
    as_pages = [Page(width=9.0, height=9.0, label="", items=items) for items in (back, block.items)]
    assert as_pages[0] == as_pages[1]
    moved_circle = there[3]
    assert isinstance(moved_circle, Circle)
    assert (moved_circle.x, moved_circle.y, moved_circle.radius) == (105.0, 56.0, 7.123456)
    moved_path = there[4]
    assert isinstance(moved_path, Path)
    assert moved_path.points[:4] == (100.0, 51.0, 102.0, 53.0)


@pytest.mark.parametrize("wrong", [float("nan"), float("inf")])
def test_a_coordinate_that_is_no_finite_number_is_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        Page(width=10.0, height=10.0, label="", items=(Circle(x=wrong, y=0.0, radius=1.0, fill=INK),))


def test_a_figure_must_say_what_it_shows() -> None:
    with pytest.raises(ValueError, match="alternative text"):
        Group(role=Role.FIGURE, items=())


@pytest.mark.parametrize(
    ("verbs", "points"),
    [((Verb.MOVE, Verb.CURVE), (0.0, 0.0, 1.0, 1.0)), ((Verb.LINE,), (0.0, 0.0)), ((), ())],
)
def test_a_path_whose_parts_do_not_fit_is_refused(verbs: tuple[Verb, ...], points: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="path"):
        Path(verbs=verbs, points=points, fill=INK)


def test_luminance_and_contrast_are_those_of_wcag() -> None:
    # WCAG 2.1: white on black is 21 to 1; #767676 is the lightest grey that passes 4.5 to 1 on white
    assert Color(255, 255, 255).contrast(Color(0, 0, 0)) == pytest.approx(21.0)
    assert Color(0x76, 0x76, 0x76).contrast(Color(255, 255, 255)) == pytest.approx(4.54, abs=0.005)
    assert Color(0x77, 0x77, 0x77).contrast(Color(255, 255, 255)) < 4.5
    with pytest.raises(ValueError, match="0 to 255"):
        Color(0, 256, 0)
