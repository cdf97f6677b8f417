"""Blocks: what they hold, and that they are as large as they say."""

from collections.abc import Iterator

import pytest

from compiler.booklet import style
from compiler.booklet.blocks import DISC_RADIUS, STEP_INDENT, Notice, fact, notice, stack, step_head
from compiler.booklet.fonts import text_width
from compiler.booklet.marks import caution_triangle, check_mark, numbered_disc, scale_bar, tip_mark, turn_over
from compiler.booklet.page import MM, Block, Circle, Face, Group, Item, Line, Path, Rectangle, Role, Text
from compiler.booklet.text import plain, set_text


def leaves(items: tuple[Item, ...]) -> Iterator[Item]:
    """Items that are no groups."""
    for item in items:
        if isinstance(item, Group):
            yield from leaves(item.items)
        else:
            yield item


def extent(items: tuple[Item, ...]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all that is drawn; curves by their control points."""
    xs: list[float] = []
    ys: list[float] = []
    for item in leaves(items):
        match item:
            case Text():
                xs += [item.x, item.x + text_width(item.string, item.face, item.size)]
                ys += [item.y - 0.7 * item.size, item.y]
            case Rectangle():
                xs += [item.x, item.x + item.width]
                ys += [item.y, item.y + item.height]
            case Circle():
                xs += [item.x - item.radius, item.x + item.radius]
                ys += [item.y - item.radius, item.y + item.radius]
            case Line():
                xs += [item.x1, item.x2]
                ys += [item.y1, item.y2]
            case Path():
                xs += item.points[0::2]
                ys += item.points[1::2]
            case _:
                raise AssertionError(item)
    return min(xs), min(ys), max(xs), max(ys)


def strings(items: tuple[Item, ...]) -> list[str]:
    """The strings of all runs."""
    return [item.string for item in leaves(items) if isinstance(item, Text)]


BLOCKS = [
    step_head("4", "First arm", 300),
    step_head("128", "A title that is long enough to need a second line of its own", 200),
    *(notice(kind, "Caution", [plain("Wear eye protection."), plain("Always.")], 220) for kind in Notice),
    fact("Width across", "24.6\xa0mm", 120),
]


@pytest.mark.parametrize("block", BLOCKS)
def test_a_block_stays_inside_its_size(block: Block) -> None:
    left, top, right, bottom = extent(block.items)
    assert -0.01 <= left < right <= block.width + 0.01
    assert -0.01 <= top < bottom <= block.height + 0.01
    assert 0 < block.baseline < block.height


def test_stacked_blocks_stand_one_below_the_other() -> None:
    one, two = set_text(plain("one"), style.BODY, 50), set_text(plain("two"), style.BODY, 80)
    both = stack([one, two], 10)
    assert (both.width, both.height) == (80, one.height + 10 + two.height)
    first, second = (item for item in leaves(both.items) if isinstance(item, Text))
    assert second.y - first.y == pytest.approx(one.height + 10)
    assert stack([]).height == 0


def test_a_step_head_is_one_heading_with_its_number_beside_the_title() -> None:
    block = step_head("4", "First arm", 300)
    (group,) = block.items
    assert isinstance(group, Group)
    assert group.role is Role.HEADING_2
    assert strings(block.items) == ["4", "First arm"]
    disc, number, title = group.items
    assert isinstance(disc, Circle)
    assert isinstance(number, Text)
    assert isinstance(title, Text)
    assert title.x == STEP_INDENT > disc.x + disc.radius
    assert disc.y == pytest.approx((title.y - 0.692 * title.size + title.y) / 2, abs=0.05)


def test_a_note_is_read_as_a_note_and_its_box_is_not_read() -> None:
    surface, words = notice(Notice.CAUTION, "Caution", [plain("Wear eye protection.")], 220).items
    assert isinstance(surface, Group)
    assert isinstance(words, Group)
    assert (surface.role, words.role) == (Role.DECORATION, Role.NOTE)
    assert strings((words,)) == ["Caution", "Wear eye protection."]


@pytest.mark.parametrize("number", ["1", "12", "128", "1024"])
def test_a_number_fits_its_disc(number: str) -> None:
    _, text = numbered_disc(0.0, 0.0, DISC_RADIUS, number, style.ACCENT, style.PAPER)
    assert isinstance(text, Text)
    width = text_width(number, Face.SEMIBOLD, text.size)
    assert width <= 1.5 * DISC_RADIUS + 1e-9
    assert text.x == pytest.approx(-width / 2)


@pytest.mark.parametrize("mark", [caution_triangle, check_mark, tip_mark])
def test_a_sign_stays_inside_its_width(mark: type) -> None:
    left, top, right, bottom = extent(mark(0.0, 0.0, 20.0, style.INK))
    assert -10 <= left < right <= 10
    assert -10 <= top < bottom <= 10
    assert right - left > 12


def test_the_sign_for_turning_over_says_what_it_means() -> None:
    sign = turn_over(0.0, 0.0, 20.0, style.INK, "Turn the work over")
    assert (sign.role, sign.alt) == (Role.FIGURE, "Turn the work over")
    left, top, right, bottom = extent(sign.items)
    assert -10 <= left < right <= 10
    assert -10 <= top < bottom <= 10


def test_a_scale_bar_has_its_true_length_and_a_tick_for_each_millimetre() -> None:
    bar, *ticks = scale_bar(10.0, 20.0, 50, style.INK, 0.7)
    assert isinstance(bar, Line)
    assert bar.x2 - bar.x1 == pytest.approx(50 * 72 / 25.4)
    assert len(ticks) == 51
    places = [tick.x1 for tick in ticks if isinstance(tick, Line)]
    assert places == pytest.approx([10 + number * MM for number in range(51)])
