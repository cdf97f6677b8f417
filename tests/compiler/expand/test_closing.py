"""How a round closes on itself: half turns with their hand, and which side lies inside."""

from __future__ import annotations

import pytest
from bench_text import expanded, piece, told

from compiler.weave import PoseKind

MIRRORED_BAND = (
    'title "Draco"\n\n'
    "ring link: inner 5 mm, wire 1 mm, metal copper\n\n"
    "unit strip:\n"
    "    round band of 6, closed with 3 half turns{way}:\n"
    "        pass 1 link through the one before and the one after\n"
    "    expect band closes with 3 half turns{way}\n\n"
    "piece bangle:\n"
    "    make strip{hand} as strap\n"
)


@pytest.mark.parametrize(
    ("way", "hand", "amount"),
    [("", "", 3), (" anticlockwise", "", -3), ("", " mirrored", -3), (" anticlockwise", " mirrored", 3)],
)
def test_half_turns_have_a_hand_and_a_mirror_image_has_the_other(way: str, hand: str, amount: int) -> None:
    weave, slips = expanded(MIRRORED_BAND.format(way=way, hand=hand))
    assert slips == ()
    assert [pose.amount for pose in weave.pieces[0].poses] == [amount]


CLOSED = (
    "tube cuff of 2 rows of 6{}:\n    pass 1 link through the one below\nexpect cuff closes with {} inside"
)


@pytest.mark.parametrize("said", ["", ", closed with front inside"])
@pytest.mark.parametrize("expects", ["front", "back"])
def test_which_side_lies_inside_a_tube_can_be_asserted(said: str, expects: str) -> None:
    text = CLOSED.format(said, expects)
    if bool(said) is (expects == "front"):
        assert [pose.kind for pose in piece(text).poses] == [PoseKind.FRONT_INSIDE] * bool(said)
    else:
        assert told(text) == [f"not-as-expected/{expects}-inside"]
