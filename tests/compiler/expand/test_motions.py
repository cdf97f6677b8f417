"""Motions: passes with twins and loads, reopened rings, findings and their eyes, captive rings, hands."""

import pytest
from bench_text import links, piece, told

from compiler.weave import EventKind, PoseKind, RelationKind, Verb
from notation.handling import HandMotion


def verbs(body: str) -> list[str]:
    return [Verb(verb).name for verb in piece(body).motions.verb]


def test_a_pass_makes_one_motion_for_each_ring_and_links_in_order() -> None:
    woven = piece("take 2 link as base\npass 2 large as arm through base carrying 2 small as seam")
    assert [Verb(verb).name for verb in woven.motions.verb] == ["TAKE", "TAKE", "PASS", "TWIN"]
    assert links(woven) == [
        "arm 1 - base 1",
        "arm 1 - base 2",
        "arm 1 - seam 1",
        "arm 1 - seam 1'",
        "arm 1' - base 1",
        "arm 1' - base 2",
        "arm 1' - seam 1",
        "arm 1' - seam 1'",
    ]
    assert woven.born.tolist() == [0, 1, 2, 3, 2, 2]
    # the first ring carries the load, the twin goes through it
    assert woven.motions.load_node.tolist() == [4, 5]


def test_a_twin_goes_its_own_way_where_the_text_says_so() -> None:
    woven = piece(
        """
take 3 link as base
pass 2 large as arm through base[1]:
    twin through base[2] gathering base[3]
"""
    )
    assert links(woven) == ["arm 1 - base 1", "arm 1' - base 2", "arm 1' - base 3"]


def test_three_side_by_side_have_two_twins() -> None:
    assert verbs("take 1 link as base\npass 3 triple through base") == ["TAKE", "PASS", "TWIN", "TWIN"]


@pytest.mark.parametrize(
    ("quantity", "strands"),
    [
        ("4 link", [1, 1, 1, 1]),
        ("4 large", [2, 2]),
        ("4 single large", [1, 1, 1, 1]),
        ("2 pairs of link", [2, 2]),
        ("a pair of link", [2]),
        ("a triple of large", [3]),
        ("6 triple", [3, 3]),
    ],
)
def test_carried_rings_come_in_strands(quantity: str, strands: list[int]) -> None:
    woven = piece(f"pass 1 link as top carrying {quantity} as load")
    sizes: dict[int, int] = {}
    for strand in woven.strand.tolist()[1:]:
        sizes[strand] = sizes.get(strand, 0) + 1
    assert list(sizes.values()) == strands


def test_the_side_of_entry_is_the_sign_of_the_link() -> None:
    woven = piece("take 2 link as base\npass 1 link through base[1] from behind, base[2]")
    assert woven.link_sign.tolist() == [-1, 1]
    assert woven.motions.path_behind.tolist() == [1, 0]


def test_a_reopened_pair_leads_both_rings() -> None:
    woven = piece(
        """
take 1 link as base
pass 2 large as arm through base
take 1 link as tip
reopen arm through tip carrying 2 small as seam
"""
    )
    assert [Verb(verb).name for verb in woven.motions.verb][-2:] == ["REOPEN", "REOPEN"]
    assert links(woven)[2:] == [
        "arm 1 - tip 1",
        "arm 1 - seam 1",
        "arm 1 - seam 1'",
        "arm 1' - tip 1",
        "arm 1' - seam 1",
        "arm 1' - seam 1'",
    ]


def test_an_eye_that_opens_is_hung_and_closed_eyes_are_carried() -> None:
    woven = piece(
        """
take 1 link as base
hang hook from base
pass 1 link through base carrying 2 drop as glass
hang lanyard by start from base as cord
pass 1 link through end of cord
"""
    )
    assert [Verb(verb).name for verb in woven.motions.verb] == ["TAKE", "HANG", "PASS", "HANG", "PASS"]
    assert links(woven) == [
        "hook eye 1 - base 1",
        "link 1 - base 1",
        "link 1 - drop 1 eye 1",
        "link 1 - drop 2 eye 1",
        "lanyard eye 1 - base 1",
        "link 2 - lanyard eye 2",
    ]


def test_several_findings_under_one_name_are_told_apart_by_number() -> None:
    woven = piece("pass 1 link as top carrying 2 drop as glass\npass 1 link through glass[2]")
    assert links(woven)[-1] == "link 1 - drop 2 eye 1"


def test_a_finding_in_the_work_is_hung_by_its_further_eye() -> None:
    before = "finding bail: bail, eye left 2 mm opens, eye right 2 mm opens, metal copper\n"
    woven = piece(
        "take 2 link as base\nhang bail by left from base[1] as top\nhang top by right from base[2]", before
    )
    assert links(woven) == ["bail eye 1 - base 1", "bail eye 2 - base 2"]
    assert len(woven.findings) == 1


def test_a_ring_around_or_between_is_linked_with_nothing() -> None:
    woven = piece(
        """
take 1 link as base
pass 2 large as arm through base
pass 1 link as collar around the joint of base and arm
pass 1 link as spacer between arm
"""
    )
    assert len(woven.link_a) == 2
    assert [(one.kind, one.node, one.others) for one in woven.relations] == [
        (RelationKind.AROUND, 3, (0, 1, 2)),
        (RelationKind.BETWEEN, 4, (1, 2)),
    ]


def test_the_eye_of_two_rings_is_gone_through_as_both() -> None:
    woven = piece("take 2 link as base\npass 1 link through the eye of base[1] and base[2]")
    assert len(woven.link_a) == 2
    assert woven.motions.mentions[2][0].eye


def test_motions_of_the_hands_are_events_before_the_next_motion() -> None:
    woven = piece(
        """
step "Begin":
    take 2 link as base
    lay base flat
    hold base until arm is made
step "Go on":
    pass 2 large as arm through base
    let go of base
    turn over
    fold arm back onto base[1]
    expect 2 large used
"""
    )
    events = [event for step in woven.steps for event in step.events]
    assert [event.handle for event in events if event.kind is EventKind.HANDLE] == [
        HandMotion.LAY_FLAT,
        HandMotion.HOLD,
        HandMotion.LET_GO,
        HandMotion.TURN_OVER,
    ]
    assert [(pose.kind, pose.onto) for pose in woven.poses] == [(PoseKind.FOLDED, (0,))]
    assert [event.at for event in events] == [2, 2, 4, 4, 4, 4]
    assert events[1].until == "arm"
    assert events[-1].counts == (("large", 2),)
    assert [len(step.events) for step in woven.steps] == [2, 4]


def test_nothing_is_linked_with_itself_or_twice() -> None:
    assert told("take 3 link as base\nreopen base[1] through base[1]") == ["through-itself"]
    assert told("take 3 link as base\npass 1 link as a through base\nreopen a through base[3]") == [
        "linked-twice"
    ]
    assert told("take 3 link as base\npass 1 link as a through base\nreopen base[3] through a") == [
        "linked-twice"
    ]
