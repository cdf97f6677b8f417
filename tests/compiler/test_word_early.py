"""A check of how rings lie stands in the first step after which it can be seen, wherever the designer wrote it."""

from __future__ import annotations

from word_weaves import weave_of_text

from compiler.messages import Say
from compiler.word.words import word

HEAD = """
ring link: inner 6 mm, wire 0.8 mm, metal copper
ring collar: inner 5 mm, wire 0.8 mm, metal copper
"""


def checks(body: str) -> dict[int, list[Say]]:
    """By step: the checks at its end."""
    (piece,) = word(weave_of_text("piece study:\n" + body, HEAD)).pieces
    return {
        step.number: [message.name for message in step.checkpoint] for step in piece.steps if step.checkpoint
    }


CHAIN = """
    line coil of 6:
        pass 1 link through the two before
"""


def test_a_loop_is_looked_at_when_its_last_link_is_made() -> None:
    assert checks(CHAIN + "    expect loop coil[2], coil[3], coil[4] is plain") == {
        4: [Say.CHECK_PLAIN_THREE]
    }


def test_a_loop_that_is_closed_by_opening_a_ring_again_is_looked_at_then() -> None:
    body = """
    line coil of 4:
        pass 1 link through the one before
    reopen last of coil through first of coil
    pass 1 link as tail through last of coil
    expect loop coil[1], coil[2], coil[3], coil[4] is plain
"""
    assert checks(body) == {5: [Say.CHECK_PLAIN]}


def test_a_ring_that_lies_so_is_looked_at_when_it_has_come_to_lie_so() -> None:
    body = """
    line coil of 3:
        pass 1 link through the one before
    pass 1 collar as orbit around the joint of coil[1] and coil[2]
    pass 1 link as tail through last of coil
    expect orbit is around coil[1 to 2]
    expect orbit is not around coil[3]
"""
    assert checks(body) == {4: [Say.CHECK_AROUND, Say.CHECK_NOT_AROUND]}


def test_what_may_change_later_stays_where_it_was_written() -> None:
    body = CHAIN + "    lean coil left\n    expect coil[2] is leaning left\n    expect coil[2] holds 3\n"
    assert checks(body) == {6: [Say.CHECK_LEAN, Say.CHECK_HOLDS]}


def test_a_check_before_the_work_is_turned_over_speaks_of_the_side_that_faces_the_maker_then() -> None:
    body = """
    take 1 link as base
    take 1 link as hub
    pass 1 link as top through hub over base
    pass 1 link as tail through base and hub
    turn over
    expect top is over base
"""
    assert checks(body) == {3: [Say.CHECK_OVER]}
