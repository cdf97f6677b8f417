"""Weaves for the tests of the words: every pattern of the library, and patterns given as text."""

from __future__ import annotations

from pathlib import Path

from word_look_alikes import HANDS, HEAD, LOOK_ALIKES, TURNED_OVER

from compiler.expand.driver import expand
from compiler.loader import load
from compiler.weave import Weave
from grammar.parse import parse
from notation.source import Source

PATTERNS = sorted((Path(__file__).parents[2] / "patterns").rglob("*.annulet"))
RINGS = """
ring large: inner 5 mm, wire 0.9 mm, metal copper, doubled
ring small: inner 3 mm, wire 0.7 mm, metal copper
finding drop: drop, eye 1.5 mm, wire 0.6 mm, metal copper
finding hook: ear-wire, eye 2 mm opens, wire 0.7 mm, metal copper
label large "large ring"
label small "small ring"
label drop "glass drop"
label hook "ear wire"
"""
TEXTS = {
    "rosette": """
unit rosette(arms = 6):
    label spoke "inner pair"
    step "Gather the centre":
        pass 2 large as heart carrying 2 * arms pairs of small as spoke
        lay heart flat
    round arm of arms:
        pass 2 large through next 2 pairs of spoke joined to the one before by a pair of small as seam
    expect heart holds 24
piece flower:
    make rosette as bloom
    step "Hang the drops":
        for k from 1 to 5:
            pass 1 small through arm[k] of bloom carrying 1 drop
""",
    "sides and relations": """
piece study:
    step "Start":
        take 2 single small as base
        pass 1 small as bridge through base[1] from behind and base[2] carrying 3 small as leaf
        pass a pair of small as couple through leaf[1]:
            twin through leaf[1] and leaf[2]
    step "Turn":
        turn over
        pass 1 small as post through bridge from behind
        pass 1 small as bar through post gathering leaf[3]
        pass a pair of large as collar around the joint of post and bar
        pass 1 small as tongue through bar between couple
        reopen post through leaf[2]
        hang hook from bar
""",
    "tube": """
piece sleeve:
    label scale "scale"
    tube scale of 8 rows of 9, staggered, downward:
        pass a pair of small through the two above
""",
    "sheet": """
piece cloth:
    label mesh "cloth"
    sheet mesh of 20 rows of 50, staggered:
        pass 1 small through the two below
""",
    "seams": """
piece plate:
    label point "point"
    label seam "seam"
    sheet point of 5 rows of 7, leaning right:
        pass 2 large joined all round by a pair of small as seam
""",
    "window": """
piece edge:
    step "Lay out":
        take 12 small as base
    step "Weave":
        for k from 1 to 11:
            pass 1 small as top[k] through 2 along base
""",
}


def weave_of_text(text: str, head: str = RINGS) -> Weave:
    """The weave of a pattern given as text; it must be without errors."""
    pattern, problems = parse(Source(name="test", text=f'title "Test"\n{head}{text}'))
    assert not problems
    weave, _ = expand(pattern, {})
    assert weave.complete
    return weave


def weave_of_file(path: Path) -> Weave:
    """The weave of a pattern of the library."""
    loaded = load(str(path))
    assert not loaded.diagnostics
    weave, _ = expand(loaded.pattern, loaded.library)
    assert weave.complete
    return weave


FAMILIES = {
    family: {name: weave_of_text(text, HEAD) for name, text in texts.items()}
    for family, texts in LOOK_ALIKES.items()
}
"""Look-alikes, by family and name."""


def all_weaves() -> list[tuple[str, Weave]]:
    return [
        *((path.stem, weave_of_file(path)) for path in PATTERNS),
        *((name, weave_of_text(text)) for name, text in TEXTS.items()),
        *((f"{family}: {name}", weave) for family, them in FAMILIES.items() for name, weave in them.items()),
        *((f"turned over: {name}", weave_of_text(text, HEAD)) for name, text in TURNED_OVER.items()),
        ("hands", weave_of_text(HANDS, HEAD)),
    ]


WEAVES = all_weaves()
