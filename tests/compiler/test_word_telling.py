"""From the steps alone a stranger knows which of the look-alikes is made: what tells each one stands in its words.

The glossary is left out: it is the same for most of a group.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import permutations
from pathlib import Path

import pytest
from word_weaves import weave_of_file

from compiler.geometry import unit
from compiler.layout import Circle, CycleSign
from compiler.prove import cycle_product
from compiler.word.plain import plain_text
from compiler.word.words import word

FOLDER = Path(__file__).parents[1] / "cases" / "lookalikes"

ALONE: dict[str, tuple[str, ...]] = {
    "bands/plain": ("Look along the round of pairs 1 to 16: it closes without a twist.",),
    "bands/half-turn": (
        "Before you close the round of pairs 1 to 16, give the loose end one half turn clockwise",
        "Count the half turns in the round of pairs 1 to 16: one, clockwise.",
    ),
    "bands/half-turn-anticlockwise": (
        "give the loose end one half turn anticlockwise",
        ": one, anticlockwise.",
    ),
    "bands/whole-turn": ("give the loose end two half turns clockwise", ": two, clockwise."),
    "bands/whole-turn-anticlockwise": (
        "give the loose end two half turns anticlockwise",
        ": two, anticlockwise.",
    ),
    "cages/caged": (
        "in the holes of mesh rings 1 and 2 of row 2 at once, where they overlap; link nothing.",
        "Filling ring 1 lies in the holes of mesh rings 1 and 2 of row 2 at once",
    ),
    "cages/loose": ("Filling rings 1 to 3 do not lie in the hole of any of",),
    "chains/plain": ("Pair 4 does not lie between the two rings of pair 2.",),
    "chains/box": (
        "Fold pair 2 back onto pair 1, one ring to each side.",
        "Fold pair 4 back onto pair 3, one ring to each side.",
        "Pair 3 lies between the two rings of pair 1.",
    ),
    "chains/byzantine": (
        "Fold pair 3 back onto pair 2, one ring to each side.",
        "Slip it between the two rings of pair 2 without going through them.",
        "Pair 5 does not lie between the two rings of pair 3.",
    ),
    "collars/loose": ("Orbit rings 1 to 5 do not lie around any of chain link rings 1 to 6.",),
    "collars/round-joints": (
        "Go around the joint of chain link rings 1 and 2, not through.",
        "Orbit ring 1 lies around chain link rings 1 and 2.",
    ),
    "collars/round-links": (
        "Go around chain link ring 1, not through.",
        "Orbit ring 1 does not lie around chain link ring 2.",
    ),
    "companions/doubled-half-persian": ("follows the same way and lies beside it.", "lie side by side"),
    "companions/full-persian": (
        "one behind the other, the first nearest to you",
        "follows the same way and lies behind it.",
    ),
    "faces/upper-over-lower": ("Lay it over ring 5 of row 1, on the side facing you",),
    "faces/upper-under-lower": ("Lay it under ring 5 of row 1, on the side facing away from you",),
    "liners/inside": ("Lay it in the hole of hub ring 2; do not link them.",),
    "liners/beside": ("Liner ring 2 does not lie in the hole of hub ring 2.",),
    "rows/alike": ("Lean rings 1 to 5 of row 2 to the left.", "rings 1 to 5 of row 2: leaning to the left."),
    "rows/alternately": (
        "Lean rings 1 to 5 of row 2 to the right.",
        "rings 1 to 5 of row 2: leaning to the right.",
    ),
    "scales/caged": (
        "in the holes of mesh rings 1 and 2 of row 2 at once, where they overlap; link nothing.",
        "Filling ring 1 lies in the holes of mesh rings 1 and 2 of row 2 at once",
    ),
    "scales/nested": (
        "in the hole of mesh ring 1 of row 2; link nothing.",
        "Filling ring 1 does not lie in the hole of mesh ring 2 of row 2.",
    ),
    "scales/loose": ("Filling rings 1 to 3 do not lie in the hole of any of",),
    "tubes/front-inside": (
        "Work on the sleeve from within: the side that faces you will lie inside.",
        "its front, the side that faced you at the start, lies inside.",
    ),
    "tubes/front-outside": ("its front, the side that faced you at the start, lies outside.",),
}
"""What stands in the words of this one and in those of no other of its group."""

_UNDER, _OVER = "clockwise, each lies under the next", "clockwise, each lies over the next"
TOGETHER: dict[str, tuple[str, ...]] = {
    "edges/half-persian": (
        "From behind, go through left edge rings 1 and 2.",
        "Lay it over left edge ring 1, on the side facing you",
        "an odd number of times",
        "Left edge ring 3 lies over left edge ring 2, nearer to you.",
    ),
    "edges/square-rope": (
        "Take an open link. From the front, go through left edge rings 1 and 2.",
        "Lay it over left edge ring 1, on the side facing you",
        "nowhere, or an even number of times",
        "Left edge ring 3 lies over left edge ring 2, nearer to you.",
    ),
    "edges/stepped-tube": (
        "Take an open link. From the front, go through left edge rings 1 and 2.",
        "nowhere, or an even number of times",
        "Left edge ring 3 does not lie over left edge ring 2.",
    ),
    "edges/no-overlap": (
        "From behind, go through left edge rings 1 and 2.",
        "an odd number of times",
        "Left edge ring 3 does not lie over left edge ring 2.",
    ),
    "rosettes/crossed-00": (f"petal rings 1 to 3, laid out like a flower of three: {_UNDER}",),
    "rosettes/crossed-03": (
        f"petal rings 1 to 3, laid out like a flower of three: {_OVER}",
        "From the front, go through petal rings 1 to 3.",
        "From the front, go through petal rings 1 to 4.",
    ),
    "rosettes/crossed-04": (
        "From behind, go through petal ring 2. From the front, go through petal ring 3.",
        "From the front, go through petal rings 1 to 4.",
    ),
    "rosettes/crossed-05": (
        "From behind, go through petal ring 3. From the front, go through petal ring 4.",
    ),
    "rosettes/crossed-06": (
        "From the front, go through petal rings 1 to 3. From behind, go through petal ring 4.",
    ),
    "rosettes/crossed-07": (
        "From behind, go through petal rings 2 and 3.",
        "From the front, go through petal rings 1 to 4.",
    ),
    "rosettes/crossed-10": (
        "From behind, go through petal rings 2 to 4.",
        f"petal rings 1, 4 and 5, laid out like a flower of three: {_OVER}",
    ),
    "spirals/loose-left": (
        "From behind, go through the two before (rings 1 and 2)",
        _OVER,
        "turn rings 1 to 12 anticlockwise, each 60 degrees further than the one before",
    ),
    "spirals/loose-right": (
        "From the front, go through the two before (rings 1 and 2)",
        _UNDER,
        "turn rings 1 to 12 clockwise, each 60 degrees further than the one before",
    ),
    "spirals/tight-left": (
        "From behind, go through the two before (rings 1 and 2)",
        _OVER,
        "turn rings 1 to 12 clockwise, each 120 degrees further than the one before",
    ),
    "spirals/tight-right": (
        "From the front, go through the two before (rings 1 and 2)",
        _UNDER,
        "turn rings 1 to 12 anticlockwise, each 120 degrees further than the one before",
    ),
}
"""What stands together in the words of this one, and together in those of no other of its group."""


def name_of(path: Path) -> str:
    return path.relative_to(FOLDER).with_suffix("").as_posix()


PATHS = sorted(FOLDER.rglob("*.annulet"))
CLAIMS = [pytest.param(path, name_of(path), id=name_of(path)) for path in PATHS]


@cache
def steps(path: Path) -> str:
    """The words of the steps on one line."""
    return " ".join(plain_text(word(weave_of_file(path))).partition("Words used")[0].split())


@pytest.mark.parametrize(("path", "name"), CLAIMS)
def test_what_tells_a_look_alike_from_the_others_stands_in_its_steps(path: Path, name: str) -> None:
    phrases = ALONE.get(name) or TOGETHER[name]
    assert [phrase for phrase in phrases if phrase not in steps(path)] == []
    for other in path.parent.glob("*.annulet"):
        if other == path:
            continue
        if name in ALONE:
            assert [phrase for phrase in phrases if phrase in steps(other)] == [], other.stem
        else:
            assert not all(phrase in steps(other) for phrase in phrases), other.stem


def test_no_look_alike_speaks_of_links_that_run_against_others() -> None:
    """A sentence that says what to see, not what the notation calls it."""
    assert not any(word in steps(path) for path in PATHS for word in ("runs against", "crossed", "its sign"))


# ---------------------------------------------------------------- what is said of loops is true


def laid_out(outward: tuple[float, ...], clockwise: float, reach: float) -> list[Circle]:
    """Rings of core radius 1 mm nearly flat, their centres `reach` mm round the middle, clockwise seen from +z.

    `outward`: by how much each rises per mm away from the middle; `clockwise`: per mm on clockwise.
    """
    found = []
    for place, rise in enumerate(outward):
        angle = -2 * math.pi * place / len(outward)
        out, on = (math.cos(angle), math.sin(angle)), (math.sin(angle), -math.cos(angle))
        normal = (-rise * out[0] - clockwise * on[0], -rise * out[1] - clockwise * on[1], 1.0)
        centre = (reach * out[0], reach * out[1], 0.0)
        found.append(Circle(centre=centre, normal=unit(normal), core_radius=1.0, tube_radius=0.01))
    return found


def loop_name(circles: list[Circle]) -> str:
    """Plain or crossed: the product of the sides of entry is that of the linking numbers, turned for odd loops."""
    product = cycle_product(circles, CycleSign(rings=tuple(range(len(circles))), product=1))
    assert product
    return "plain" if product == (-1) ** len(circles) else "crossed"


@pytest.mark.parametrize(("clockwise", "said"), [(0.2, "crossed"), (-0.2, "plain")])
def test_a_flower_of_three_whose_rings_lie_over_the_next_is_crossed(clockwise: float, said: str) -> None:
    """A ring that rises clockwise lies over the next outside, and under it where they cross beyond the middle."""
    assert loop_name(laid_out((0.0, 0.0, 0.0), clockwise, 0.6)) == said


@pytest.mark.parametrize("count", [3, 4, 5])
def test_a_loop_is_crossed_when_rings_lie_over_the_next_an_odd_number_of_times(count: int) -> None:
    """The ring that rises more steeply outward lies over the other outside, and under it inside."""
    seen = set()
    for rises in permutations(range(count)):
        overs = sum(rises[place] > rises[(place + 1) % count] for place in range(count))
        circles = laid_out(tuple(0.05 * rise for rise in rises), 0.0, 0.4 / math.sin(math.pi / count))
        assert loop_name(circles) == ("crossed" if overs % 2 else "plain")
        seen.add(overs % 2)
    assert seen == {0, 1}
