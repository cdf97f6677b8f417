"""Figures for the booklet: what is shown, how large, in which marks, with which words."""

import math
import xml.etree.ElementTree as ElementTree

import pytest
from woven import CHAIN, HEAD, HUNG, RHOMBUS, SHEET, weave_of

from compiler.booklet.figuretypes import BESIDE_RINGS, Figure, Mark
from compiler.booklet.page import Circle, Item, Line, Page, Path, Rectangle, Text
from compiler.booklet.style import NEW, PAPER
from compiler.figure.look import ring_look
from compiler.figure.panels import SIGN_ROOM
from compiler.figure.picture import turned_over
from compiler.figure.roles import roles_at
from compiler.figure.scale import wire_of
from compiler.figure.source import Figures
from compiler.figure.svg import svg
from compiler.figure.words import EnglishWords
from compiler.weave import Weave
from compiler.word.words import word

LARGE = SHEET.replace("4 rows of 5", "40 rows of 6")
WIDTH, HEIGHT = 440.0, 300.0


def texts(items: tuple[Item, ...]) -> list[str]:
    return [item.string for item in items if isinstance(item, Text)]


def points(items: tuple[Item, ...]) -> list[tuple[float, float]]:
    """Ends of the segments of paths (control points lie outside their curves), and places of discs and words."""
    found = []
    for item in items:
        if isinstance(item, Path):
            used = 0
            for verb in item.verbs:
                used += verb.coordinates
                if verb.coordinates:
                    found.append((item.points[used - 2], item.points[used - 1]))
        elif isinstance(item, Circle | Text):
            found.append((item.x, item.y))
    return found


def step(body: str, number: int, width: float = WIDTH) -> Figure:
    """The figure of a step in which rings are called as in the words."""
    weave = weave_of(body)
    words = EnglishWords(weave, word(weave).pieces)
    figure = Figures(weave, words=words).step(0, number, width, HEIGHT)
    assert figure is not None
    return figure


@pytest.mark.parametrize("body", [CHAIN, SHEET, RHOMBUS, HUNG])
def test_figures_keep_to_the_room_they_are_given(body: str) -> None:
    weave = weave_of(body)
    figures = Figures(weave)
    for width, height in ((WIDTH, HEIGHT), (480.0, 150.0), (150.0, 150.0)):
        made = [figures.step(0, number + 1, width, height) for number in range(len(weave.pieces[0].steps))]
        for figure in (*made, figures.finished(0, width, height)):
            assert figure is not None
            assert figure.width <= width + 1e-6
            assert figure.height <= height + 1e-6
            for x, y in points(figure.items):
                assert -1 <= x <= figure.width + 1
                assert -1 <= y <= figure.height + 1


def test_the_new_ring_and_what_it_goes_through_are_named_and_marked() -> None:
    weave = weave_of(CHAIN)
    roles = roles_at(weave.pieces[0], 3)
    assert [roles.marks.get(node) for node in range(5)] == [Mark.PLACED, Mark.PASSED, Mark.NEW, None, None]
    assert (roles.actor, roles.through, roles.behind) == (2, (1,), (False,))
    figure = step(CHAIN, 3)
    assert set(texts(figure.items)) == {"pair ring 3", "pair ring 2"}
    colors = {item.stroke.color for item in figure.items if isinstance(item, Path) and item.stroke}
    assert ring_look(Mark.NEW, 0).wire in colors
    assert ring_look(Mark.PASSED, 0).wire in colors


def test_what_is_carried_is_marked_so_and_a_finding_comes_in_whole() -> None:
    body = "take 1 link as a\npass 1 link as b through a carrying 1 chain by start"
    roles = roles_at(weave_of(body).pieces[0], 2)
    assert [roles.marks[node] for node in range(4)] == [Mark.PASSED, Mark.NEW, Mark.CARRIED, Mark.CARRIED]


def test_a_ring_opened_again_is_new_in_that_step() -> None:
    body = 'take 1 link as a\ntake 1 link as b\nstep "Join":\n    reopen b through a'
    weave = weave_of(body)
    roles = roles_at(weave.pieces[0], len(weave.pieces[0].steps))
    assert (roles.marks[0], roles.marks[1]) == (Mark.PASSED, Mark.NEW)


def test_alternative_text_says_the_action() -> None:
    figure = step(HUNG, 4)
    assert figure.alt == "Step 4, Drop: a new link is added, through pair ring 1, carrying the drop."
    assert (
        Figures(weave_of(HUNG)).finished(0, WIDTH, HEIGHT).alt
        == "The finished earring: 4 rings and 2 findings."
    )  # type: ignore[union-attr]


def test_rings_are_called_as_in_the_steps() -> None:
    names = texts(step(SHEET, 2).items)
    assert "ring 1 of row 1" in names
    assert "ring 5" in names
    assert "point 3" in texts(step(RHOMBUS, 2).items)
    assert "hook" in texts(step(HUNG, 5).items)


def test_after_turning_over_the_work_is_seen_from_behind_until_it_is_turned_back() -> None:
    body = """
take 1 link as a
step "B":
    pass 1 link as b through a
    turn over
step "C":
    pass 1 link as c through b
step "D":
    turn over
    pass 1 link as d through c
"""
    figures = Figures(weave_of(body))
    made = [figures.step(0, number, WIDTH, HEIGHT) for number in range(1, 5)]
    assert [figure.turned for figure in made if figure is not None] == [False, False, True, False]


def test_from_behind_left_and_right_and_over_and_under_are_exchanged() -> None:
    picture = Figures(weave_of(SHEET)).picture(0)
    behind = turned_over(picture)
    assert all(a.centre[0] == -b.centre[0] for a, b in zip(picture.loops, behind.loops, strict=True))
    assert list(behind.cover.lower) == list(picture.cover.upper)
    assert turned_over(behind).loops == picture.loops


def test_one_view_serves_all_steps_and_rows_lie_level_in_it() -> None:
    body = """
sheet mesh of 8 rows of 2, staggered:
    pass 1 link through the two below
step "Hook":
    hang hook from first of mesh
"""
    figures = Figures(weave_of(body))
    views = [figures._view(0, number) for number in range(1, 10)]
    assert len({view.picture.loops for view in views if view is not None}) == 1
    places = figures.picture(0).loops
    assert places[0].centre[1] == places[1].centre[1] < places[2].centre[1]


@pytest.mark.parametrize("body", [CHAIN, RHOMBUS, HUNG, CHAIN.replace("of 5", "of 90"), LARGE])
def test_scale_is_the_same_in_all_steps(body: str) -> None:
    weave = weave_of(body)
    figures = Figures(weave)
    plans = []
    for number in range(1, len(weave.pieces[0].steps) + 1):
        view = figures._view(0, number)
        assert view is not None
        plans.append(figures._plan(view, 0, number, WIDTH, HEIGHT))
    assert len({plan.scale for plan in plans}) == 1
    assert 5.0 <= wire_of(figures.picture(0)) * plans[0].scale <= 11.0 + 1e-9


def test_a_view_that_changes_is_shown_by_a_sign_and_told() -> None:
    flat = _turned_sheets()
    figures = Figures(flat)
    views = [figures._view(0, number) for number in range(1, len(flat.pieces[0].steps) + 1)]
    assert not any(view.signs for view in views if view is not None)
    body = """
take 1 link as a
step "B":
    turn over
    pass 1 link as b through a
step "C":
    pass 1 link as c through b
"""
    figures = Figures(weave_of(body))
    made = [figures._view(0, number) for number in range(1, 4)]
    assert [view.over for view in made if view is not None] == [False, True, False]
    plain, signed = figures.step(0, 3, WIDTH, HEIGHT), figures.step(0, 2, WIDTH, HEIGHT)
    assert plain is not None
    assert signed is not None
    assert signed.width < plain.width + SIGN_ROOM
    dashes = [
        [item for item in figure.items if isinstance(item, Line) and item.stroke.dash]
        for figure in (plain, signed)
    ]
    assert [len(each) for each in dashes] == [0, 2]  # the axis about which the work is turned


def _turned_sheets() -> Weave:
    return weave_of(SHEET + SHEET.replace("mesh", "net"))


def test_what_is_too_small_to_be_read_is_drawn_again_larger() -> None:
    head = HEAD.replace("ring link: inner 4 mm, wire 0.8 mm", "ring link: inner 40 mm, wire 5 mm")
    head += "ring tiny: inner 7 mm, wire 0.8 mm, metal copper\n"
    body = """
line big of 7:
    pass 1 link through the one before
step "Tiny":
    pass 1 tiny through last of big
"""
    weave = weave_of(body, head)
    figures = Figures(weave)
    assert [_insets(figures, number) for number in (7, 8)] == [[], [(6, 7)]]
    view = figures._view(0, 8)
    assert view is not None
    whole, inset = figures._plan(view, 0, 8, WIDTH, HEIGHT).way.parts
    assert 2.5 < 2 * view.picture.loops[7].tube * inset.scale < 5.0
    assert whole.scale < inset.scale
    figure = figures.step(0, 8, WIDTH, HEIGHT)
    assert figure is not None
    assert "drawn again in the thick one, larger" in figure.caption
    frames = [item.stroke.width for item in figure.items if isinstance(item, Rectangle) and item.stroke]
    assert {0.5, 1.2} <= set(frames)
    assert texts(figure.items).count("tiny") == 1


def _insets(figures: Figures, number: int) -> list[tuple[int, ...]]:
    view = figures._view(0, number)
    assert view is not None
    plan = figures._plan(view, 0, number, WIDTH, HEIGHT)
    return [part.nodes for part in plan.way.parts if part.inset]


def test_rings_without_a_name_in_the_words_have_none_in_figures() -> None:
    body = (
        CHAIN
        + """
step "Hook":
    pass 1 link through last of pair
"""
    )
    figure = step(body, 6)
    assert "new link" in texts(figure.items)
    assert "a new link is added" in figure.alt


def test_rings_are_numbered_on_as_in_the_words_where_groups_share_a_noun() -> None:
    body = """
take 1 link as start
pass 1 link as follow through start
label start "loop", "loops"
label follow "loop", "loops"
"""
    assert texts(step(body, 2).items) == ["loop ring 2", "loop ring 1"]


def test_what_a_title_says_of_a_ring_its_name_does_not_say_again() -> None:
    assert set(texts(step(SHEET, 2).items)) >= {"ring 1", "ring 1 of row 1"}


def test_a_large_piece_shows_the_part_that_is_worked_on_and_the_whole_beside_it() -> None:
    figure = step(LARGE, 28)
    small = [item for item in figure.items if isinstance(item, Circle) and item.stroke is not None]
    assert len(small) == 12 * 6  # the rows still to come


def test_both_ends_are_shown_where_a_step_works_on_both() -> None:
    body = """
line pair of 60:
    pass 1 link through the one before
step "Ends":
    pass 1 link as left through first of pair
    pass 1 link as right through last of pair
"""
    figure = step(body, 61)
    assert {"left ring", "right ring"} <= set(texts(figure.items))
    weave = weave_of(body)
    figures = Figures(weave)
    view = figures._view(0, 61)
    assert view is not None
    plan = figures._plan(view, 0, 61, WIDTH, HEIGHT)
    assert [60 in part.nodes for part in plan.way.parts] == [True, False]
    assert [61 in part.nodes for part in plan.way.parts] == [False, True]


def test_a_schematic_is_not_to_scale_and_has_no_extent() -> None:
    figures = Figures(weave_of(CHAIN))
    figure = figures.finished(0, WIDTH, HEIGHT)
    assert figure is not None
    assert figure.schematic
    assert figure.scale is None
    assert figures.extent(0) is None


def test_there_is_no_figure_of_a_step_that_is_not_there() -> None:
    figures = Figures(weave_of(CHAIN))
    assert figures.step(0, 0, WIDTH, HEIGHT) is None
    assert figures.step(0, 6, WIDTH, HEIGHT) is None


def test_marks_are_told_apart_in_grey_and_by_more_than_colour() -> None:
    looks = {mark: ring_look(mark, 0) for mark in (Mark.NEW, Mark.CARRIED, Mark.PASSED, Mark.PLACED)}
    assert looks[Mark.NEW].wire.contrast(looks[Mark.PASSED].wire) > 1.5
    assert looks[Mark.PASSED].wire.contrast(looks[Mark.PLACED].wire) > 1.5
    assert looks[Mark.NEW].outline_width > looks[Mark.PASSED].outline_width > looks[Mark.PLACED].outline_width
    assert looks[Mark.CARRIED].outline == NEW
    assert looks[Mark.CARRIED].outline.contrast(PAPER) > 4.5
    assert looks[Mark.PASSED].broken


def test_kinds_of_ring_are_told_apart_in_grey_in_a_finished_piece() -> None:
    tones = [ring_look(None, kind).wire for kind in range(3)]
    assert all(a.contrast(b) > 1.2 for k, a in enumerate(tones) for b in tones[:k])


def test_the_key_has_a_sample_of_every_mark_in_use() -> None:
    assert [each.mark for each in Figures(weave_of(CHAIN)).key()] == [
        Mark.NEW,
        Mark.CARRIED,
        Mark.PASSED,
        Mark.PLACED,
        Mark.PATH,
        *BESIDE_RINGS,
    ]
    samples = Figures(weave_of(HUNG)).key()
    assert Mark.CARRIED in [each.mark for each in samples]
    assert all(each.sample.items and each.sample.width <= 40 for each in samples)


def test_the_same_weave_gives_the_same_figure() -> None:
    assert step(RHOMBUS, 2) == step(RHOMBUS, 2)


def test_figures_can_be_put_on_a_page_and_into_an_svg() -> None:
    figure = step(HUNG, 5)
    page = Page(width=WIDTH, height=HEIGHT, label="1", items=figure.items)
    assert len(page.items) == len(figure.items)
    root = ElementTree.fromstring(svg(figure.items, figure.width, figure.height, "a < b"))
    assert root[0].text == "a < b"
    assert len(root) == len(figure.items) + 2
    assert math.isclose(float(root.attrib["width"].removesuffix("pt")), figure.width, abs_tol=0.01)


def test_a_closed_ring_that_is_taken_is_marked_as_what_comes_in_closed() -> None:
    weave = weave_of(CHAIN)
    assert roles_at(weave.pieces[0], 1).marks == {0: Mark.CARRIED}
    assert step(CHAIN, 1).alt.endswith("is taken, closed.")


def test_no_two_names_in_a_figure_are_the_same() -> None:
    body = """
line tail of 3:
    pass 1 link through the one before
step "Bar":
    pass 1 link through last of tail carrying 1 drop
    pass 1 link through first of tail
"""
    weave = weave_of(body)
    for number in range(1, len(weave.pieces[0].steps) + 1):
        names = texts(step(body, number).items)
        assert len(names) == len(set(names))


def test_every_new_connector_is_named() -> None:
    names = texts(step(RHOMBUS, 1).items)
    made = [name for name in names if name.startswith("seam")]
    weave = weave_of(RHOMBUS)
    assert len(made) == len(
        {weave.pieces[0].strand[node] for node in roles_at(weave.pieces[0], 1).of(Mark.CARRIED)}
    )
