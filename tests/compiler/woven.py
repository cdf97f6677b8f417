"""Weaves for the tests of figures, from short texts."""

from compiler.expand.driver import expand
from compiler.weave import Weave
from grammar.parse import parse
from notation.source import Source

HEAD = """title "Lyra"
ring large: inner 5 mm, wire 0.9 mm, metal copper, doubled
ring small: inner 3 mm, wire 0.7 mm, metal copper, doubled
ring link: inner 4 mm, wire 0.8 mm, metal copper
finding hook: ear-wire, eye 2 mm opens, wire 0.7 mm
finding drop: drop, eye 1.5 mm, wire 0.6 mm
finding chain: chain, eye start 2 mm, eye end 2 mm, wire 0.6 mm, length 160 mm
"""


def weave_of(body: str, head: str = HEAD) -> Weave:
    """The weave of a piece with these statements, which must hold no mistake but unused kinds."""
    lines = "".join(f"    {line}\n" for line in body.strip("\n").split("\n"))
    pattern, told = parse(Source(name="test.annulet", text=f"{head}piece earring:\n{lines}"))
    weave, more = expand(pattern, {})
    wrong = [each for each in (*told, *more) if not each.rule.startswith(("unused", "left-over"))]
    assert not wrong, wrong
    return weave


CHAIN = """
line pair of 5:
    pass 1 link through the one before
"""
SHEET = """
sheet mesh of 4 rows of 5, staggered:
    pass 1 link through the two below
"""
RHOMBUS = """
sheet point of 3 rows of 3, leaning right:
    pass 2 large joined all round by 2 small as seam
"""
HUNG = """
line pair of 3:
    pass 1 link through the one before
step "Drop":
    pass 1 link through first of pair carrying 1 drop
step "Hook":
    hang hook from last of pair
"""
