"""What links cannot tell: hands, gaps and the order on a ring, discs and tubes, companions, poses, helpers."""

from __future__ import annotations

from itertools import pairwise

import pytest
from bench_text import HEAD, expanded, indented, name, piece, told

from compiler.check.run import check
from compiler.expand.shape import make_shape, neighbours
from compiler.weave import Companionship, EventKind, PieceWeave, PoseKind, SiteKind
from notation.nodes import THOSE, Direction, Hand, Relative
from notation.source import Span
from notation.statements import FamilyKind, Stagger

NO_SPAN = Span(0, 0)


def relations(woven: PieceWeave) -> list[str]:
    return [
        f"{name(woven, one.node)} {one.kind.value} {', '.join(name(woven, other) for other in one.others)}"
        for one in woven.relations
    ]


def linked_below(woven: PieceWeave) -> list[tuple[int, int]]:
    return sorted(zip(woven.link_a, woven.link_b, strict=True))


# ---------------------------------------------------------------- hands

SPIRAL = """
unit spiral:
    line coil of 4:
        if last:
            pass 1 link through the two before from behind carrying 2 link as load
        else:
            pass 1 link through the two before
    lean coil left
    turn coil by 100 degrees
    expect loop coil[1], coil[2], coil[3] is plain
    expect coil is leaning left
    expect coil turns by 100 degrees
"""


def test_a_mirrored_use_turns_every_sign_of_carried_rings_too() -> None:
    plain, mirrored = piece("make spiral", SPIRAL), piece("make spiral mirrored", SPIRAL)
    assert set(plain.link_sign) == {1, -1}
    assert mirrored.link_sign.tolist() == [-sign for sign in plain.link_sign]
    assert linked_below(mirrored) == linked_below(plain)


def test_a_mirrored_use_exchanges_left_and_right_and_turns_the_other_way() -> None:
    plain, mirrored = piece("make spiral", SPIRAL), piece("make spiral mirrored", SPIRAL)
    assert [(pose.kind, pose.amount) for pose in plain.poses] == [
        (PoseKind.LEAN_LEFT, 0),
        (PoseKind.TURNED, 100),
    ]
    assert [(pose.kind, pose.amount) for pose in mirrored.poses] == [
        (PoseKind.LEAN_RIGHT, 0),
        (PoseKind.TURNED, 260),
    ]


def test_the_mirror_image_of_a_mirror_image_is_plain() -> None:
    outer = f"{SPIRAL}\nunit both:\n    make spiral mirrored\n"
    again = piece("make both mirrored", outer)
    assert again.link_sign == piece("make spiral", SPIRAL).link_sign
    assert [pose.kind for pose in again.poses] == [PoseKind.LEAN_LEFT, PoseKind.TURNED]


def test_what_is_made_outside_the_mirrored_use_is_not_turned() -> None:
    woven = piece("take 1 link as top\nmake spiral mirrored as body\npass 1 link through top", SPIRAL)
    assert woven.link_sign[-1] == 1


def test_a_mirrored_family_leans_the_other_way() -> None:
    unit = """
unit patch:
    sheet mesh of 3 rows of 4, leaning left:
        pass 1 link through the left of the two below
"""
    plain, mirrored = piece("make patch", unit), piece("make patch mirrored", unit)
    assert plain.groups[0].shape is not None and mirrored.groups[0].shape is not None
    assert mirrored.groups[0].shape.offsets == tuple(-offset for offset in plain.groups[0].shape.offsets)

    def by_columns(woven: PieceWeave, turn: bool) -> list[tuple[int, ...]]:
        places = [((woven.member[a] - 1), (woven.member[b] - 1)) for a, b in linked_below(woven)]
        return sorted((a // 4, 3 - a % 4 if turn else a % 4, 3 - b % 4 if turn else b % 4) for a, b in places)

    assert by_columns(mirrored, turn=True) == by_columns(plain, turn=False)


@pytest.mark.parametrize("header", ["", " in both hands"])
def test_a_change_of_hand_must_be_said(header: str) -> None:
    body = "make spiral as right-one\nmake spiral mirrored as left-one"
    if not header:
        assert told(body, SPIRAL) == ["hand-changes"]
        return
    weave, found = expanded(f"{HEAD}{SPIRAL}\npiece earring{header}, in 2 parts:\n{indented(body)}")
    assert [one.rule for one in found if not one.rule.startswith(("unused", "left-over"))] == []
    hands = [site.mirrored for site in weave.sites if site.kind is SiteKind.UNIT]
    assert hands == [False, True]


def test_a_mirrored_use_works_the_other_way_round() -> None:
    unit = "unit ring-of:\n    work clockwise\n    take 1 link\n"
    assert [pose.kind for pose in piece("make ring-of mirrored", unit).poses] == [PoseKind.ANTICLOCKWISE]


# ---------------------------------------------------------------- gaps

HUB = "pass 1 link as hub carrying 5 link as spoke\n"


def test_a_gap_is_kept_with_the_ring_and_its_neighbours() -> None:
    woven = piece(f"{HUB}pass 1 link as drop-one through hub between spoke[2] and spoke[3]")
    assert relations(woven) == ["drop-one 1 gap hub 1, spoke 2, spoke 3"]


def test_the_order_on_a_ring_closes_on_itself() -> None:
    assert told(f"{HUB}pass 1 link through hub between spoke[1] and spoke[5]") == []


def test_what_went_into_a_gap_is_a_neighbour_from_then_on() -> None:
    first = f"{HUB}pass 1 link as drop-one through hub between spoke[2] and spoke[3]\n"
    assert told(f"{first}pass 1 link through hub between spoke[2] and drop-one") == []
    assert told(f"{first}pass 1 link through hub between drop-one and spoke[3]") == []
    assert told(f"{first}pass 1 link through hub between spoke[2] and spoke[3]") == ["not-neighbours"]


def test_what_went_through_without_a_gap_comes_last_in_the_order() -> None:
    first = f"{HUB}pass 1 link as last-one through hub\n"
    assert told(f"{first}pass 1 link through hub between spoke[5] and last-one") == []
    assert told(f"{first}pass 1 link through hub between last-one and spoke[1]") == []
    assert told(f"{first}pass 1 link through hub between spoke[5] and spoke[1]") == ["not-neighbours"]


def test_pairs_are_neighbours_as_pairs() -> None:
    body = "pass 2 large as hub carrying 3 pairs of small as spoke\n"
    woven = piece(f"{body}pass 2 large as arm through hub between spoke[1] and spoke[2]")
    assert relations(woven) == [
        "arm 1 gap hub 1, spoke 1, spoke 2",
        "arm 1' gap hub 1, spoke 1, spoke 2",
    ]


# ---------------------------------------------------------------- discs and tubes


def below(widths: tuple[int, ...], count: int, stagger: Stagger = Stagger.ALIGNED) -> list[list[int]]:
    """For each place of the second round the places of the first that are below it, from 0."""
    shape = make_shape(FamilyKind.DISC, widths, stagger, downward=False)
    relative = Relative(count=count, direction=Direction.BELOW, span=NO_SPAN)
    return [[place for _, place in neighbours(shape, 1, place, relative)] for place in range(widths[1])]


def angle_apart(place: int, width: int, other: int, reach: int) -> float:
    apart = abs(place / width - other / reach) % 1
    return min(apart, 1 - apart)


@pytest.mark.parametrize("widths", [(6, 12), (12, 18), (6, 6), (7, 12), (12, 6), (5, 9)])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_below_in_a_disc_are_the_nearest_by_angle(widths: tuple[int, int], count: int) -> None:
    inner, outer = widths
    for place, found in enumerate(below(widths, count)):
        assert len(set(found)) == len(found) == count
        far = max(angle_apart(place, outer, other, inner) for other in found)
        rest = [angle_apart(place, outer, other, inner) for other in range(inner) if other not in found]
        assert all(far <= each + 1e-12 for each in rest)
        # they stand next to each other
        assert all((b - a) % inner == 1 for a, b in pairwise(found))


def test_rounds_of_6_12_and_18() -> None:
    assert below((6, 12), 1)[:4] == [[0], [0], [1], [1]]
    assert below((6, 12), 2)[:3] == [[5, 0], [0, 1], [0, 1]]
    assert below((12, 18), 1)[:6] == [[0], [1], [1], [2], [3], [3]]


def test_those_below_in_a_disc_are_two_or_the_one_straight_below() -> None:
    assert below((5, 10), THOSE)[:4] == [[0], [0, 1], [1], [1, 2]]
    assert below((10, 15), THOSE)[:4] == [[0], [0, 1], [1, 2], [2]]
    assert below((1, 5), THOSE) == [[0]] * 5


def test_those_below_and_above_in_a_sheet_go_by_how_the_rows_lie() -> None:
    up = Relative(count=THOSE, direction=Direction.ABOVE, span=NO_SPAN)
    for stagger, found in ((Stagger.ALIGNED, ((1, 2),)), (Stagger.STAGGERED, ((1, 1), (1, 2)))):
        assert neighbours(make_shape(FamilyKind.SHEET, (5, 5), stagger, downward=False), 0, 2, up) == found


def test_staggered_rounds_stand_half_a_place_further() -> None:
    assert below((6, 6), 2, Stagger.STAGGERED)[:2] == [[0, 1], [1, 2]]


def test_above_in_a_disc_is_the_other_way_round() -> None:
    shape = make_shape(FamilyKind.DISC, (6, 12, 18), Stagger.ALIGNED, downward=False)
    down = Relative(count=1, direction=Direction.BELOW, span=NO_SPAN)
    up = Relative(count=1, direction=Direction.ABOVE, span=NO_SPAN)
    for row in (0, 1):
        for column in range(shape.widths[row]):
            above = neighbours(shape, row, column, up)
            assert list(above) == [
                (row + 1, other)
                for other in range(shape.widths[row + 1])
                if (row, column) in neighbours(shape, row + 1, other, down)
            ]


def test_each_round_of_a_disc_closes_on_itself_and_hangs_on_the_one_inside() -> None:
    woven = piece(
        "disc plate of 6, 12, 18:\n    pass 1 link through the one before, the one after and the one below"
    )
    widths, found = (6, 12, 18), linked_below(woven)
    within = [(a, b) for a, b in found if _row(a, widths) == _row(b, widths)]
    outwards = [(a, b) for a, b in found if _row(a, widths) != _row(b, widths)]
    assert (len(within), len(outwards)) == (36, 30)
    assert all(_row(a, widths) == _row(b, widths) + 1 for a, b in outwards)


def _row(node: int, widths: tuple[int, ...]) -> int:
    return next(row for row in range(len(widths)) if node < sum(widths[: row + 1]))


@pytest.mark.parametrize("hand", list(Hand))
def test_left_and_right_of_two_below_in_a_disc(hand: Hand) -> None:
    shape = make_shape(FamilyKind.DISC, (6, 12), Stagger.ALIGNED, downward=False)
    relative = Relative(count=2, direction=Direction.BELOW, only=hand, span=NO_SPAN)
    assert neighbours(shape, 1, 1, relative) == ((0, 0 if hand is Hand.LEFT else 1),)


def test_a_tube_wraps_its_rows() -> None:
    woven = piece("tube cuff of 3 rows of 6, staggered:\n    pass 1 link through the two below")
    assert len(woven.link_a) == 24
    ends = [woven.link_a.tolist().count(node) for node in range(18)]
    assert ends == [0] * 6 + [2] * 12


@pytest.mark.parametrize(("said", "amount"), [("1 half turn", 1), ("2 half turns", 2)])
def test_a_round_keeps_its_half_turns(said: str, amount: int) -> None:
    woven = piece(
        f"round band of 6, closed with {said}:\n    pass 1 link through the one before and the one after"
    )
    assert [(pose.kind, pose.nodes, pose.amount) for pose in woven.poses] == [
        (PoseKind.HALF_TURNS, (0,), amount)
    ]


# ---------------------------------------------------------------- places beside others


def test_each_ring_of_a_pair_lies_as_is_said() -> None:
    woven = piece(
        """
take 1 link as base
pass 1 link as wing through base
pass 2 large as collar around the joint of base and wing
take 1 link as filling inside base
pass 1 link as top through wing over base
pass 1 link as bottom through wing under base, collar
"""
    )
    assert relations(woven) == [
        "collar 1 around base 1, wing 1",
        "collar 1' around base 1, wing 1",
        "filling 1 inside base 1",
        "top 1 over base 1",
        "bottom 1 under base 1",
        "bottom 1 under collar 1, collar 1'",
    ]


def test_between_is_kept_with_both_rings_of_the_pair() -> None:
    body = "take 1 link as base\npass 2 large as wing through base\npass 2 large as tail through wing\n"
    woven = piece(f"{body}pass 1 link as key through tail between wing")
    assert relations(woven) == ["key 1 between wing 1, wing 1'"]


@pytest.mark.parametrize(
    ("said", "way"),
    [
        ("", None),
        ("side by side ", None),
        ("front and back ", Companionship.FRONT_AND_BACK),
        ("nested ", Companionship.NESTED),
    ],
)
def test_companions(said: str, way: Companionship | None) -> None:
    woven = piece(f"take 1 link as base\npass 2 large {said}as wing through base")
    assert woven.companionship == ({} if way is None else {1: way})


# ---------------------------------------------------------------- poses and helpers


def test_poses_last_and_passing_motions_do_not() -> None:
    woven = piece(
        """
take 1 link as base
pass 2 large as wing through base
fold wing back onto base
hold base
turn over
let go of base
spread wing
lean base right
turn wing by 90 degrees
"""
    )
    assert [(pose.kind, pose.nodes, pose.onto, pose.amount) for pose in woven.poses] == [
        (PoseKind.FOLDED, (1, 2), (0,), 0),
        (PoseKind.SPREAD, (1, 2), (), 0),
        (PoseKind.LEAN_RIGHT, (0,), (), 0),
        (PoseKind.TURNED, (1, 2), (), 90),
    ]
    kinds = [event.kind for step in woven.steps for event in step.events]
    assert kinds.count(EventKind.POSE) == 4
    assert kinds.count(EventKind.HANDLE) == 3


def test_turning_over_changes_no_side() -> None:
    body = "take 1 link as base\npass 1 link as wing through base from behind"
    turned = body.replace("\n", "\nturn over\n")
    assert piece(turned).link_sign == piece(body).link_sign


def test_a_helper_comes_in_and_goes_out() -> None:
    woven = piece(
        """
line chain of 3:
    pass 1 link through the one before
helper "twist of wire" through chain[1], chain[3] as twist
pass 1 link as tail through chain[2]
remove twist
"""
    )
    assert woven.helpers == ("twist of wire",)
    events = [event for step in woven.steps for event in step.events]
    assert [(event.kind, event.text, event.nodes, event.at) for event in events] == [
        (EventKind.HELPER_IN, "twist of wire", (0, 2), 3),
        (EventKind.HELPER_OUT, "twist of wire", (0, 2), 4),
    ]
    assert len(woven) == 4


def test_a_helper_that_stays_in_is_told() -> None:
    assert told('take 1 link as base\nhelper "pin" through base as clip') == ["helper-left-in"]


# ---------------------------------------------------------------- what is expected


def test_what_is_met_is_a_checkpoint_and_so_is_what_is_not_so() -> None:
    woven = piece(
        """
line chain of 3:
    pass 1 link through the two before
pass 1 link as collar around chain[1]
expect loop chain[1], chain[2], chain[3] is plain
expect collar is around chain[1]
expect collar is not around chain[2]
"""
    )
    events = [event for step in woven.steps for event in step.events]
    assert [(event.text, event.nodes, event.onto) for event in events] == [
        ("plain", (0, 1, 2), ()),
        ("around", (3,), (0,)),
        ("not around", (3,), (1,)),
    ]


def test_a_ring_that_lies_inside_is_held_and_one_that_lies_over_is_loose() -> None:
    body = "take 2 large as base\npass 1 link as hub through base\n"
    for said, rules in (("take 1 link inside base", []), ("pass 1 link over base", ["loose-part"])):
        weave, _ = expanded(f"{HEAD}\npiece earring:\n{indented(body + said)}")
        assert [one.rule for one in check(weave) if one.rule == "loose-part"] == rules


def test_what_is_taken_has_companions_too() -> None:
    woven = piece("take 4 large front and back as base\npass 1 link through base")
    assert woven.companionship == {0: Companionship.FRONT_AND_BACK, 2: Companionship.FRONT_AND_BACK}
    assert told("take 1 link nested as base") == ["no-companions"]
