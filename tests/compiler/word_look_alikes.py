"""Weaves that links alone cannot tell apart, as patterns: in each family the same rings are linked in the same pairs.

A family has a text for each of its weaves; what differs is said in a clause, a pose or a side.
"""

from __future__ import annotations

HEAD = """
ring link: inner 5 mm, wire 0.9 mm, metal copper
ring small: inner 3 mm, wire 0.7 mm, metal copper
label small "small ring"
"""

PLAIN = """
piece chain:
    take a pair of link as pair[1]
    for k from 2 to 7:
        pass a pair of link as pair[k] through pair[k - 1]
"""
BYZANTINE = """
piece chain:
    take a pair of link as pair[1]
    pass a pair of link as pair[2] through pair[1]
    pass a pair of link as pair[3] through pair[2]
    fold pair[3] back onto pair[2]
    pass a pair of link as pair[4] through pair[3] between pair[2]
    pass a pair of link as pair[5] through pair[4]
    pass a pair of link as pair[6] through pair[5]
    fold pair[6] back onto pair[5]
    pass a pair of link as pair[7] through pair[6] between pair[5]
"""
BOX = """
piece chain:
    take a pair of link as pair[1]
    pass a pair of link as pair[2] through pair[1]
    pass a pair of link as pair[3] through pair[2]
    for k from 2 to 3:
        fold pair[2 * k - 1] back onto pair[2 * k - 2]
        spread pair[2 * k - 2]
        pass a pair of link as pair[2 * k] through pair[2 * k - 1] between pair[2 * k - 2]
        pass a pair of link as pair[2 * k + 1] through pair[2 * k]
"""

SPIRAL = """
piece spiral:
    step "Start":
        take 1 link as body[1]
        pass 1 link as body[2] through body[1]
    step "Go on":
        for k from 3 to 9:
            pass 1 link as body[k] through body[k - 1] and body[k - 2]{side}
"""
SPIRAL_UNIT = """
unit coil:
    step "Start":
        take 1 link as body[1]
        pass 1 link as body[2] through body[1]
    step "Go on":
        for k from 3 to 5:
            pass 1 link as body[k] through body[k - 1] and body[k - 2] from behind
piece earrings{both}:
    make coil as upper
    make coil{hand} as lower
"""

ROSETTE = """
piece rosette:
    step "Gather":
        take 1 link as petal[1]
        pass 1 link as petal[2] through petal[1]
        pass 1 link as petal[3] through petal[1]{a} and petal[2]
        pass 1 link as petal[4] through petal[1]{b} and petal[2] and petal[3]
        pass 1 link as petal[5] through petal[1]{c} and petal[2]{d} and petal[3] and petal[4]
"""

PERSIAN = """
piece edge:
    step "Lay out":
        take 6 link as base
    step "Weave":
        for k from 1 to 5:
            pass 1 link as top[k] through 2 along base{side}
"""
PERSIAN_OVER = """
piece edge:
    step "Lay out":
        take 6 link as base
    step "Weave":
        pass 1 link as top[1] through 2 along base
        for k from 2 to 5:
            pass 1 link as top[k] through 2 along base over top[k - 1]
"""
PERSIAN_TWINS = """
piece edge:
    label pair "pair"
    line pair of 6:
        pass a pair of link {way}through the one before
"""

COLLAR = """
piece chain:
    step "Chain":
        take 1 link as body[1]
        pass 1 link as body[2] through body[1]
        pass 1 link as body[3] through body[2]
    step "Collar":
        pass 1 small as collar {around}
"""

CAGE = """
piece fringe:
    step "Plates":
        take 1 link as plate[1]
        for k from 2 to 4:
            pass 1 link as plate[k] through plate[k - 1]
    step "Beads":
        for k from 1 to 4:
            pass 1 small as bead[k] {lies}
"""

BAND = """
piece bracelet:
    label band "band"
    round band of 8{closing}:
        if first:
            take 1 link
        else if last:
            pass 1 link through the one before and the one after
        else:
            pass 1 link through the one before
"""

LEANING = """
piece cloth:
    step "Row 1":
        take 4 link as a
    step "Row 2":
        for k from 1 to 3:
            pass 1 link as b[k] through 2 along a
    step "Row 3":
        for k from 1 to 2:
            pass 1 link as c[k] through 2 along b{side}
    step "Lean":
        lean b left
        lean c {hand}
"""

HUNG = """
piece star:
    step "Hub":
        pass 1 link as hub carrying 6 small as spoke
    step "Drop":
        pass 1 small as drop through hub between spoke[{one}] and spoke[{other}]
"""

TURNED = """
piece chain:
    step "Start":
        take 2 small as base
        pass 1 link as body[1] through base[1] and base[2]
        {turn}
    step "On":
        pass 1 link as body[2] through base[1]{side} and base[2]{side}
"""


def _with(text: str, **parts: str) -> str:
    return text.format(**parts)


LOOK_ALIKES: dict[str, dict[str, str]] = {
    "chains of pairs": {"plain": PLAIN, "byzantine": BYZANTINE, "box": BOX},
    "spirals": {
        "right": _with(SPIRAL, side=""),
        "left": _with(SPIRAL, side=" from behind"),
    },
    "pair of spirals": {
        "alike": _with(SPIRAL_UNIT, hand="", both=" made 2 times"),
        "mirror images": _with(SPIRAL_UNIT, hand=" mirrored", both=" made 2 times, in both hands"),
    },
    "rosettes of five": {
        "plain": _with(ROSETTE, a="", b="", c="", d=""),
        "one": _with(ROSETTE, a=" from behind", b="", c="", d=""),
        "two": _with(ROSETTE, a="", b=" from behind", c="", d=""),
        "three": _with(ROSETTE, a="", b=" from behind", c=" from behind", d=""),
        "four": _with(ROSETTE, a="", b="", c=" from behind", d=" from behind"),
    },
    "persian edges": {
        "sheet": _with(PERSIAN, side=""),
        "from behind": _with(PERSIAN, side=" from behind"),
        "over": PERSIAN_OVER,
    },
    "persian twins": {
        "side by side": _with(PERSIAN_TWINS, way=""),
        "front and back": _with(PERSIAN_TWINS, way="front and back "),
        "nested": _with(PERSIAN_TWINS, way="nested "),
    },
    "collars": {
        "joint": _with(COLLAR, around="around the joint of body[1] and body[2]"),
        "ring": _with(COLLAR, around="around body[2]"),
        "two rings": _with(COLLAR, around="around body[1], body[3]"),
        "caged": _with(COLLAR, around="inside body[2]"),
    },
    "caged rings": {
        "inside": _with(CAGE, lies="inside plate[k]"),
        "around": _with(CAGE, lies="around plate[k]"),
        "over": _with(CAGE, lies="over plate[k]"),
        "under": _with(CAGE, lies="under plate[k]"),
    },
    "bands": {
        "unsaid": _with(BAND, closing=""),
        "plain": _with(BAND, closing=", closed with 0 half turns"),
        "half": _with(BAND, closing=", closed with 1 half turn"),
        "whole": _with(BAND, closing=", closed with 2 half turns"),
    },
    "leaning rows": {
        "alike": _with(LEANING, side="", hand="left"),
        "in turn": _with(LEANING, side="", hand="right"),
        "in turn, from behind": _with(LEANING, side=" from behind", hand="right"),
    },
    "places on a ring": {
        "beside the first": _with(HUNG, one="1", other="2"),
        "opposite": _with(HUNG, one="4", other="5"),
        "where it begins": _with(HUNG, one="6", other="1"),
    },
}
"""By family: the texts of its weaves, by name."""

TURNED_OVER = {
    "not": _with(TURNED, turn="lay flat", side=""),
    "turned": _with(TURNED, turn="turn over", side=""),
    "turned, from behind": _with(TURNED, turn="turn over", side=" from behind"),
}

DISC = """
piece brooch:
    label rim "disc"
    work clockwise
    disc rim of 1, 6, 12:
        pass 1 link through the one below if there and the one before if there
    expect 19 link used
"""

HANDS = """
piece study:
    step "Start":
        take 4 link as plate
        helper "twist of wire" through plate[1] as twist
    step "From behind":
        turn over
        pass 1 small as bar through plate[1] from behind and plate[2] over plate[3]
        pass a pair of small front and back as wing through bar
        fold wing back onto bar
        lean plate[3] left
        turn plate[4] by 300 degrees
        spread wing
        expect bar is over plate[3]
    step "From the front":
        turn over
        take 2 small as bead inside plate[4]
        take a pair of small nested as core inside plate[4]
        pass a triple of small nested as tail through plate[4] and bar
        remove twist
        expect bead is inside plate[4]
        pass 1 small as hoop through plate[1] and bar
        expect loop bar, plate[1], hoop is crossed
"""
