"""What figures say beside their rings: names of long rows, how many are drawn, how many hide one another."""

from pathlib import Path

from woven import SHEET, weave_of

from compiler.booklet.figuretypes import Figure, Mark
from compiler.booklet.page import Text
from compiler.booklet.style import NEW
from compiler.figure.source import Figures
from compiler.figure.words import EnglishWords
from compiler.layout import kept_path
from compiler.pipeline import checked
from compiler.proved import from_kept
from compiler.timings import Timings
from compiler.word.words import word

WIDTH, HEIGHT = 440.0, 300.0


def step(body: str) -> Figure:
    """The figure of the second step, rings called as in the words."""
    weave = weave_of(body)
    figure = Figures(weave, words=EnglishWords(weave, word(weave).pieces)).step(0, 2, WIDTH, HEIGHT)
    assert figure is not None
    return figure


LONG_ROWS = "sheet mesh of 2 rows of 30, staggered:\n    pass 1 link through the two below"


def test_of_a_long_row_every_fifth_ring_is_named() -> None:
    weave = weave_of(LONG_ROWS)
    figures = Figures(weave, words=EnglishWords(weave, word(weave).pieces))
    view = figures._view(0, 2)
    assert view is not None
    new = [each.text for each in view.named if each.color == NEW]
    assert new == [f"ring {number}" for number in (1, 5, 10, 15, 20, 25, 30)]


def test_a_figure_that_shows_a_part_of_the_new_rings_says_how_many() -> None:
    part, whole = step(LONG_ROWS), step(SHEET)
    assert Mark.WHERE in part.more
    shown = int(part.caption.split()[0])
    assert 2 <= shown < 30
    assert part.caption.startswith(f"{shown} of the 30 new rings are drawn.")
    assert "new rings" not in whole.caption
    assert Mark.WHERE not in whole.more


def test_of_rings_straight_behind_one_another_it_is_said_how_many_but_a_pair_says_so_itself() -> None:
    path = Path(__file__).parents[3] / "patterns" / "columba-brooch.annulet"
    weave = checked(str(path), None, Timings()).weave
    assert weave is not None
    layout = from_kept(weave, kept_path(path), Timings())[0].layout
    assert layout is not None
    figure = Figures(weave, {0: layout}, EnglishWords(weave, word(weave).pieces)).step(0, 3, WIDTH, HEIGHT)
    assert figure is not None
    told = [item.string for item in figure.items if isinstance(item, Text)]
    assert "petal 2 \N{MULTIPLICATION SIGN}2" in told
    assert "spoke 2" in told
    assert Mark.BEHIND in figure.more
    assert EnglishWords(weave).behind("left pair 2", 2) == "left pair 2"


def test_a_step_that_folds_rings_back_shows_them_before_as_a_schematic_and_after() -> None:
    path = Path(__file__).parents[3] / "patterns" / "ursa-charm.annulet"
    weave = checked(str(path), None, Timings()).weave
    assert weave is not None
    layout = from_kept(weave, kept_path(path), Timings())[0].layout
    assert layout is not None
    words = EnglishWords(weave, word(weave).pieces)
    true, flat = Figures(weave, {0: layout}, words), Figures(weave, {}, words)
    told = []
    for source, number in ((true, 4), (true, 3), (flat, 4)):
        figure = source.step(0, number, WIDTH, HEIGHT)
        assert figure is not None
        assert figure.height <= HEIGHT
        told.append([item.string for item in figure.items if isinstance(item, Text)])
    assert {"before the fold (schematic)", "after it"} <= set(told[0])
    assert not any("before the fold" in line for lines in told[1:] for line in lines)


def test_a_reader_who_hears_the_page_is_told_of_both_rings_of_a_pair_at_once() -> None:
    body = 'take 2 large as eye-pair\nstep "Next":\n    pass 2 large as next-pair through eye-pair'
    assert step(body).alt == "Step 2, Next: the next pair is added, through the eye pair."
