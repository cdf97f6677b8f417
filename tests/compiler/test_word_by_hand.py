"""The words of pieces built by hand: one rule of the wording each."""

from __future__ import annotations

import random

import pytest
from read_folds import read_through
from rebuild import rebuild
from test_word import check_rebuilt, eyes_of
from weave_build import PieceBuilder, finding_kind, ring_kind, sheet_shape

from compiler.catalogue import english, folds, nouns
from compiler.messages import KindName, Members, Message, Say
from compiler.names import Names
from compiler.steps import Fold
from compiler.weave import Companionship, PoseKind
from compiler.word.plain import plain_text
from compiler.word.words import word
from notation.nodes import Direction, Hand, Relative
from notation.source import Span

# ---------------------------------------------------------------- pieces built by hand


def hand_built() -> PieceBuilder:
    build = PieceBuilder(
        [ring_kind("large", "large ring"), ring_kind("small", "small ring")],
        [finding_kind("drop"), finding_kind("chain", ("start", "end")), finding_kind("hook")],
    )
    heart, spoke, arm = (build.new_group(name) for name in ("heart", "spoke", "arm"))
    hub, spokes = build.pass_(heart, size=2, carry=[(spoke, 1, 4, 2)])
    build.step("Gather the centre")
    arms = []
    for number in range(4):
        strand, _ = build.pass_(arm, [spokes[number]], size=2)
        arms.append(strand)
        build.step(group=arm, number=number + 1)
    tail = build.new_group("tail")
    build.pass_(tail, [arms[0]], behind=[1], hang=[0, 1])
    build.pass_(tail, [arms[1][:1]], hang=[0])
    build.pass_(tail, [arms[2]], twin=[arms[2], arms[3]], size=2)
    build.reopen(hub, [arms[0]])
    build.hang(2, arms[3])
    build.step("Finish")
    return build


def test_a_piece_built_by_hand_is_made_from_its_words() -> None:
    weave = hand_built().weave(times=2)
    (piece,) = weave.pieces
    words = word(weave)
    (told,) = words.pieces
    check_rebuilt(piece, rebuild(list(told.steps), eyes_of(weave)))
    check_rebuilt(piece, rebuild(read_through(told), eyes_of(weave)))
    assert {each.kind.key: each.count for each in words.before.findings} == {"drop": 4, "chain": 2, "hook": 2}


def test_a_twin_that_goes_its_own_way_is_told_apart() -> None:
    (told,) = word(hand_built().weave()).pieces
    names = [message.name for step in told.steps for each in step.instructions for message in each.messages]
    assert names.count(Say.TAKE_TWIN_OPEN) == 1
    assert Say.TWIN_SAME in names
    assert Say.TWIN_AGAIN in names


def test_one_ring_of_a_pair_is_named_as_such() -> None:
    text = " ".join(plain_text(word(hand_built().weave())).split())
    assert "From the front, go through the first ring of arm 2." in text


def test_a_connector_is_carried_for_the_one_that_goes_through_it_later() -> None:
    (told,) = word(hand_built().weave()).pieces
    text = " ".join(map(english.plain, english.step_text(told.steps[0])))
    assert "as spokes 1 to 4, entered from the front, for arms 1 to 4." in text


def test_connectors_for_several_neighbours_are_told_one_by_one() -> None:
    build = PieceBuilder([ring_kind("large"), ring_kind("small")])
    arm, seam, tip = (build.new_group(name) for name in ("arm", "seam", "tip"))
    _, (first, second, third, spare) = build.pass_(arm, carry=[(seam, 1, 4, 1)])
    build.pass_(tip, [second])
    build.pass_(arm, [first])
    build.pass_(tip, [third])
    build.step("All")
    text = " ".join(plain_text(word(build.weave())).split())
    assert (
        "Slip four closed smalls onto the open ring as seam rings 1 to 4: "
        "seam ring 1 for arm ring 2, seam rings 2 and 3 for tip rings 1 and 2." in text
    )
    build.pass_(tip, [second, spare])
    build.pass_(arm, [spare])
    build.step("More")
    text = " ".join(plain_text(word(build.weave())).split())
    assert "seam ring 1 for arm ring 2, seam ring 3 for tip ring 2." in text


def test_an_eye_is_named_where_a_finding_has_several() -> None:
    text = " ".join(plain_text(word(hand_built().weave())).split())
    assert "Slip the chain onto the open ring by its start eye, entered from the front." in text
    assert "Slip drop 1 onto the open ring, entered from the front." in text


def test_every_side_is_said_where_one_is_from_behind() -> None:
    text = " ".join(plain_text(word(hand_built().weave())).split())
    assert "From behind, go through both rings of arm 1." in text
    assert "From the front, go through arm 3." in text


def test_steps_that_differ_in_numbers_fold_and_say_what_differs() -> None:
    (told,) = word(hand_built().weave()).pieces
    (fold,) = [each for each in told.shown if isinstance(each, Fold)]
    assert (fold.model_first, fold.first, fold.last) == (2, 3, 5)
    lines = [english.plain(each) for each in folds.fold_text(fold, told)]
    assert "Step 4: make arm 3; go through spoke 3." in lines


def test_groups_with_one_label_are_numbered_on() -> None:
    build = PieceBuilder([ring_kind("link")])
    first, second = build.new_group("link"), build.new_group("link")
    build.take(first)
    strand = build.take(first)
    build.pass_(second, [strand])
    build.step("All")
    assert "Link 3. Take an open link. Go through link 2." in " ".join(
        plain_text(word(build.weave())).split()
    )


def test_a_ring_without_a_name_has_a_number_only_where_one_is_needed() -> None:
    build = PieceBuilder([ring_kind("link")], [finding_kind("bar")])
    arm, tail = build.new_group("arm"), build.new_group("tail")
    first, second = build.pass_(arm)[0], build.pass_(arm)[0]
    build.step("Start")
    build.pass_(build.new_group("link"), [first])
    build.step("One end")
    last, _ = build.pass_(tail, [second])
    build.pass_(build.new_group("link"), [last], hang=[0])
    build.step("Other end")
    third, _ = build.pass_(build.new_group("link"), [first])
    build.step("One more")
    build.pass_(arm, [third])
    build.pass_(build.new_group("link"), [first])
    build.pass_(build.new_group("link"), [second])
    build.step("Last")
    weave = build.weave()
    (told,) = word(weave).pieces
    check_rebuilt(weave.pieces[0], rebuild(list(told.steps), eyes_of(weave)))
    texts = [" / ".join(map(english.plain, english.step_text(step))) for step in told.steps]
    assert texts[1] == "Take an open link. Go through arm ring 1. Close the ring."
    assert texts[2].endswith(
        "/ Take an open link. Go through the tail ring. Slip the bar onto the open ring. Close the ring."
    )
    assert texts[3].startswith("Link 3. Take an open link."), "it is spoken of later"
    assert "/ Link 4. " in texts[4] and "/ Link 5. " in texts[4], "there are two"


def test_relative_words_stand_beside_the_numbers_they_come_to() -> None:
    build = PieceBuilder([ring_kind("link", "ring")])
    mesh = build.new_group("strap", shape=sheet_shape([2, 1]))
    left, right = build.take(mesh), build.take(mesh)
    build.step(group=mesh, number=1)
    below = Relative(count=2, direction=Direction.BELOW, span=Span(0, 0))
    build.pass_(mesh, [left, right], relative=below)
    build.step(group=mesh, number=2)
    weave = build.weave()
    text = " ".join(plain_text(word(weave)).split())
    assert "Step 2. Row 2 of the strap" in text
    assert "Go through the two below (rings 1 and 2 of row 1)." in text


def test_members_of_two_unit_uses_are_told_apart() -> None:
    build = PieceBuilder([ring_kind("link", "ring")])
    one, two = build.new_group("point", "lozenge 1"), build.new_group("point", "lozenge 2")
    first = build.take(one, size=2)
    build.pass_(two, [first], size=2)
    build.step("Join")
    assert "Go through both rings of the point of lozenge 1." in plain_text(word(build.weave()), 500)


def test_a_typed_title_is_kept_and_says_its_unit_use_when_it_comes_again() -> None:
    build = PieceBuilder([ring_kind("link", "ring")])
    for number in (1, 2):
        group = build.new_group("arm", f"star {number}")
        strand = build.take(group)
        build.pass_(group, [strand])
        build.step("Start the star")
    (told,) = word(build.weave()).pieces
    assert [english.title(step.title) for step in told.steps] == [
        "Start the star (star 1)",
        "Start the star (star 2)",
    ]


def test_marks_in_a_designers_text_do_not_change_the_setting() -> None:
    kind = KindName(key="a", singular=f"odd{nouns.STRONG_ON} ring", plural="odd rings", finding=False)
    text = english.sentence(Message(name=Say.TAKE_OPEN, arguments=(("kind", kind),)))
    assert english.runs(text) == (english.Run(text="Take an open odd ring."),)


def test_members_are_one_range_only_within_a_row() -> None:
    build = PieceBuilder([ring_kind("link", "ring")])
    mesh = build.new_group("strap", shape=sheet_shape([2, 3]))
    nodes = [build.take(mesh)[0] for _ in range(5)]
    build.step("All")
    weave = build.weave()
    (across,) = Names(weave, weave.pieces[0]).things([nodes[1], nodes[4]])
    assert isinstance(across, Members)
    assert [(each.row, each.first, each.last) for each in across.ranges] == [(1, 2, 2), (2, 3, 3)]
    assert nouns.members(across) == "strap ring 2 of row 1 and strap ring 3 of row 2"
    (along,) = Names(weave, weave.pieces[0]).things(nodes[2:])
    assert isinstance(along, Members)
    assert nouns.members(along) == "strap rings 1 to 3 of row 2"


def test_rows_made_from_the_back_run_from_right_to_left() -> None:
    build = PieceBuilder([ring_kind("link", "ring")])
    mesh = build.new_group("strap", shape=sheet_shape([2, 2, 2]))
    rows: list[tuple[int, ...]] = []
    for row in range(3):
        for _ in range(2):
            rows.append(build.pass_(mesh, rows[-2:-1])[0] if row else build.take(mesh))
        build.step(group=mesh, number=row + 1)
        build.turn_over()
    build.step("End")
    text = " ".join(plain_text(word(build.weave())).split())
    assert "Row 1 has two rings. Work from left to right." in text
    assert "Row 2 lies above row 1 and has two rings. Now work from right to left." in text
    assert "Row 3 lies above row 2 and has two rings. Work from left to right again." in text


def test_the_left_of_two_is_the_right_one_from_the_back() -> None:
    build = PieceBuilder([ring_kind("link", "ring")])
    mesh = build.new_group("strap", shape=sheet_shape([2, 2]))
    left, _ = build.take(mesh), build.take(mesh)
    build.step(group=mesh, number=1)
    relative = Relative(count=2, direction=Direction.BELOW, only=Hand.LEFT, span=Span(0, 0))
    build.pass_(mesh, [left], relative=relative)
    build.turn_over()
    build.pass_(mesh, [left], relative=relative)
    build.step(group=mesh, number=2)
    text = " ".join(plain_text(word(build.weave())).split())
    assert "From the front, go through the left of the two below (ring 1 of row 1)." in text
    assert (
        "From the side facing away from you, go through the right of the two below (ring 1 of row 1)" in text
    )


def test_the_side_stands_before_what_is_gone_through() -> None:
    build = PieceBuilder([ring_kind("link", "ring")])
    arm, seam = build.new_group("arm"), build.new_group("seam")
    _, (waiting,) = build.pass_(arm, carry=[(seam, 0, 1, 1)])
    build.pass_(arm, [waiting], behind=[1], waiting=True)
    build.step("All")
    text = " ".join(plain_text(word(build.weave())).split())
    assert "From behind, go through the seam ring, which waits on arm ring 1." in text


def random_piece(seed: int) -> PieceBuilder:
    """Motions at random: every kind of pass, with steps of random length and members that come in runs."""
    dice = random.Random(seed)
    kinds = [ring_kind("large", "large ring"), ring_kind("small", "small ring")]
    build = PieceBuilder(kinds, [finding_kind("drop"), finding_kind("bar", ("left", "right"))])
    groups = [build.new_group(name) for name in ("arm", "spoke", "large", "leaf")]
    sheets = [build.new_group("mesh", f"half {half}", sheet_shape([3, 4, 5])) for half in (1, 2)]
    made = [build.take(groups[0], size=2)]
    for _ in range(dice.randrange(8, 40)):
        open_sheets = [sheet for sheet in sheets if build.sizes[sheet] < 12]
        group = dice.choice([*groups, *open_sheets, *open_sheets])
        size = 1 if group in sheets else dice.choice((1, 1, 2, 3))
        count = dice.randrange(1, min(4, len(made) + 1))
        start = dice.randrange(len(made))
        through = made[start : start + count] if dice.random() < 0.7 else dice.sample(made, count)
        if dice.random() < 0.2:
            through = [strand[:1] for strand in through]
        if dice.random() < 0.1:
            build.take(groups[3], size=dice.choice((1, 2)))
        strand, more = build.pass_(
            group,
            through,
            kind=dice.randrange(2),
            size=size,
            behind=[dice.randrange(2) for _ in through] if dice.random() < 0.2 else (),
            carry=[(groups[1], 1, dice.randrange(1, 4), dice.choice((1, 2)))] if dice.random() < 0.4 else (),
            hang=[dice.randrange(2)] if dice.random() < 0.2 else (),
            gathering=dice.random() < 0.1,
            twin=dice.sample(made, 1) if dice.random() < 0.2 else None,
            around=made[0] if dice.random() < 0.1 else (),
            between=made[0] if dice.random() < 0.1 else (),
            inside=made[-1] if dice.random() < 0.1 else (),
            over=made[-1] if dice.random() < 0.1 else (),
            under=made[-1] if dice.random() < 0.1 else (),
            gap=tuple(each[0] for each in dice.sample(made, 3))
            if len(made) > 2 and dice.random() < 0.1
            else (),
            way=dice.choice(list(Companionship)[1:]) if size > 1 and dice.random() < 0.2 else None,
            mirrored=dice.random() < 0.1,
        )
        made.append(strand)
        made.extend(each for each in more if build.group[each[0]] >= 0)
        if dice.random() < 0.1:
            build.turn_over()
        if dice.random() < 0.1:
            kind = dice.choice((PoseKind.FOLDED, PoseKind.SPREAD, PoseKind.LEAN_LEFT, PoseKind.TURNED))
            onto = made[0] if kind is PoseKind.FOLDED and dice.random() < 0.5 else ()
            build.pose(kind, strand, onto, dice.choice((45, 180, 300)) if kind is PoseKind.TURNED else 0)
        if dice.random() < 0.3:
            build.step(group=group, number=build.sizes[group])
    build.hang(0, made[-1])
    build.step("End")
    return build


@pytest.mark.parametrize("seed", range(60))
def test_pieces_made_at_random_are_made_from_their_words(seed: int) -> None:
    weave = random_piece(seed).weave()
    (piece,), (told,) = weave.pieces, word(weave).pieces
    check_rebuilt(piece, rebuild(list(told.steps), eyes_of(weave)))
    check_rebuilt(piece, rebuild(read_through(told), eyes_of(weave)))
    assert plain_text(word(weave))
