"""Steps on their pages: kept together, figures with their text, folds to tick, boxes for remarks."""

from __future__ import annotations

import re

import pytest
from pattern_books import (
    EARRING,
    HEAD,
    SHEET,
    Boxes,
    document_of,
    groups,
    leaves,
    pdf_text,
    text_of,
    weave_of,
)

from compiler.booklet.page import Page, Rectangle, Role, Text
from compiler.booklet.steppages import LEAST_BELOW
from compiler.booklet.style import Paper, frame
from compiler.steps import Fold
from compiler.word.words import word

LONG_STEP = HEAD + (
    'piece strip:\n    take 1 small as a0\n    step "All of it":\n'
    + "".join(
        f'        pass 1 small as a{n} through a{n - 1}\n        note "Pause {n}."\n' for n in range(1, 60)
    )
)
PAPERS = pytest.mark.parametrize("paper", list(Paper), ids=lambda paper: paper.name)
SHAPES = pytest.mark.parametrize("shape", [0.6, 1.0, 3.0])


def step_heads(page: Page) -> list[str]:
    return [text_of(head) for head in groups(page.items, Role.HEADING_3)]


def tallies(page: Page) -> int:
    return sum(
        text_of(group).startswith(("In the work now:", "Laid out, not joined yet:"))
        for group in groups(page.items, Role.PARAGRAPH)
    )


@PAPERS
@SHAPES
def test_a_step_that_a_page_can_hold_is_not_broken(paper: Paper, shape: float) -> None:
    document = document_of(HEAD + SHEET + EARRING, Boxes(shape=shape), paper)
    heads = [step_heads(page) for page in document.pages]
    assert sum(map(len, heads)) > 8
    assert not any("(continued)" in head for page in heads for head in page)
    # a step ends with its tally: on each page as many end as begin
    for page, begun in zip(document.pages, heads, strict=True):
        assert tallies(page) == len(begun)


@PAPERS
@SHAPES
def test_a_figure_stands_on_the_page_of_its_step(paper: Paper, shape: float) -> None:
    document = document_of(HEAD + SHEET + EARRING, Boxes(shape=shape), paper)
    found = 0
    for page in document.pages:
        drawn = [
            each.alt for each in groups(page.items, Role.FIGURE) if str(each.alt).startswith("Figure of step")
        ]
        last = [re.match(r"(?:\d+–)?(\d+)", head) for head in step_heads(page)]
        assert [re.findall(r"\d+", alt)[0] for alt in drawn] == [match.group(1) for match in last if match]
        found += len(drawn)
    assert found > 8


def figure_heights(page: Page) -> list[float]:
    found = []
    for group in groups(page.items, Role.FIGURE):
        if str(group.alt).startswith("Figure of step"):
            found += [item.height for item in group.items if isinstance(item, Rectangle)]
    return found


def test_a_step_alone_on_its_page_has_a_taller_figure_than_steps_that_share_one() -> None:
    document = document_of(HEAD + SHEET + EARRING, Boxes(shape=1.0))
    alone, shared = [], []
    for page in document.pages:
        heights = figure_heights(page)
        (alone if len(heights) == 1 else shared).extend(heights)
    assert alone
    assert shared
    assert min(alone) > max(shared)


def test_no_figure_is_lower_than_a_step_has_room_for() -> None:
    heights = [h for page in document_of(HEAD + EARRING, Boxes()).pages for h in figure_heights(page)]
    assert len(heights) > 3
    assert min(heights) >= LEAST_BELOW


def test_what_a_step_takes_stands_at_one_place_whatever_its_figure() -> None:
    for shape in (0.6, 3.0):
        document = document_of(HEAD + SHEET + EARRING, Boxes(shape=shape))
        heads = [
            item.x
            for page in document.pages
            for item in leaves(page.items)
            if isinstance(item, Text) and item.string in ("Take", "Take, for all of them")
        ]
        assert len(heads) > 8
        assert len(set(heads)) == 1


def test_the_figure_of_a_repeat_says_which_step_it_shows() -> None:
    text = " ".join(pdf_text(document_of(HEAD + SHEET, Boxes())))
    folds = re.findall(r"(\d+)–(\d+) ", text)
    assert folds
    assert re.findall(r"Shown: step (\d+)\.", text) == [last for _, last in dict.fromkeys(folds)]


def test_beside_the_boxes_of_a_repeat_stands_what_the_work_then_holds() -> None:
    piece = word(weave_of(HEAD + SHEET)).pieces[0]
    fold = next(shown for shown in piece.shown if isinstance(shown, Fold))
    text = next(page for page in pdf_text(document_of(HEAD + SHEET)) if "Tick each step" in page)
    ticks = text[text.index("Tick each step") : text.index("In the work now:", text.index("Tick each step"))]
    counts = [int(found) for found in re.findall(r"(\d+) rings", ticks)]
    assert len(counts) > 4
    after = {step.tally[0].count for step in piece.steps[fold.first - 1 : fold.last]}
    assert counts == sorted(set(counts))
    assert after.issuperset(counts)
    assert counts[-1] == piece.steps[fold.last - 1].tally[0].count


def test_wide_figures_are_offered_the_width_of_the_text() -> None:
    boxes = Boxes(shape=3.0)
    document_of(HEAD + EARRING, boxes)
    widths = [width for width, _ in boxes.offered]
    assert max(widths) > 2 * min(widths)
    assert max(widths) <= frame(Paper.A4).width


def test_figures_say_that_they_are_schematic_and_the_size_is_that_of_the_layout() -> None:
    text = pdf_text(document_of(HEAD + EARRING, Boxes()))
    assert "Schematic, not to scale." in text[0]
    assert sum(page.count("Schematic, not to scale.") for page in text) > 4
    glance = next(page for page in text if page.startswith("At a glance"))
    assert "46 × 12 × 3.2 mm size, finished" in glance


def test_without_figures_nothing_speaks_of_figures() -> None:
    text = " ".join(pdf_text(document_of(HEAD + EARRING)))
    assert "figure" not in text.lower()
    assert "Schematic" not in text
    assert "size, finished" not in text


def test_a_step_taller_than_a_page_goes_on_under_its_own_head() -> None:
    document = document_of(LONG_STEP)
    heads = [head for page in document.pages for head in step_heads(page)]
    assert heads.count("2All of it") == 1
    assert heads.count("2All of it (continued)") >= 2
    text = " ".join(pdf_text(document))
    assert [int(n) for n in re.findall(r"Pause (\d+)\.", text)] == list(range(1, 60))


@pytest.mark.parametrize("text", [HEAD + SHEET + EARRING, LONG_STEP])
def test_no_heading_is_the_last_thing_on_a_page(text: str) -> None:
    for page in document_of(text).pages:
        body = [item for item in page.items if getattr(item, "role", None) not in (None, Role.DECORATION)]
        if body:
            assert body[-1].role not in (Role.HEADING_1, Role.HEADING_2, Role.HEADING_3)


def test_each_folded_step_has_a_box_to_tick() -> None:
    document = document_of(HEAD + SHEET)
    pages = pdf_text(document)
    fold = next(page for page in pages if "Tick each step" in page)
    first, last = map(int, re.search(r"(\d+)–(\d+)", fold).groups())
    assert last - first > 20
    ticks = fold[fold.index("Tick each step when it is done") :]
    ticks = re.sub(r"\d+ rings", "", ticks)  # what the work holds, beside the boxes
    numbers = [int(number) for number in re.findall(r"\d+", ticks)]
    assert numbers[: last - first + 1] == list(range(first, last + 1))


def test_a_fold_says_what_all_its_steps_take() -> None:
    fold = next(page for page in pdf_text(document_of(HEAD + SHEET)) if "Tick each step" in page)
    first, last = map(int, re.search(r"(\d+)–(\d+)", fold).groups())
    assert f"Take, for all of them {4 * (last - first + 1)} small rings, open" in fold


def test_remarks_stand_in_boxes_and_cautions_before_the_rest() -> None:
    body = (
        'piece charm:\n    take 1 small as a\n    step "Join":\n        pass 1 small through a\n'
        '        tip "Oil."\n        note "Slow."\n        caution "Hot."\n        turn over\n        expect 2 rings\n'
    )
    document = document_of(HEAD + body)
    boxes = [text_of(note) for page in document.pages for note in groups(page.items, Role.NOTE)]
    assert [box for box in boxes if box.startswith(("Tip", "Note", "Caution", "Check:"))] == [
        "Caution: Hot.",
        "Tip: Oil.",
        "Note: Slow.",
        "Check: The work now has two rings.",
    ]
    alts = [figure.alt for page in document.pages for figure in groups(page.items, Role.FIGURE)]
    assert alts.count("Turn the work over.") == 1
