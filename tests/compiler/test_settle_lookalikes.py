"""Look-alikes that need a start of their own: collars, caged rings, scales that lie over one another.

All of tests/cases/lookalikes are settled by `python tests/bench/settle_library.py --look-alikes`.
"""

import math
from pathlib import Path

import pytest

from compiler.geometry import dot, unit
from compiler.hints import hinted
from compiler.layout import Layout
from compiler.pipeline import checked
from compiler.problem import problem_of
from compiler.prove import prove
from compiler.settle.search import settle
from compiler.timings import Timings

CASES = Path(__file__).parents[1] / "cases" / "lookalikes"


def laid(name: str) -> Layout:
    weave = checked(str(CASES / name), None, Timings()).weave
    assert weave is not None
    return settle(hinted(problem_of(weave, 0), weave, 0))


@pytest.mark.parametrize(
    "name",
    [
        "collars/round-joints.annulet",
        "collars/round-links.annulet",
        "cages/caged.annulet",
        "scales/nested.annulet",
        "faces/upper-under-lower.annulet",
    ],
)
def test_a_look_alike_is_found_and_proved(name: str) -> None:
    verdict = laid(name).verdict
    assert (verdict.proved, verdict.wrong_pairs, verdict.wrong_facts) == (True, (), 0)


def test_scales_that_lie_over_one_another_all_tilt_the_same_way() -> None:
    layout = laid("faces/upper-over-lower.annulet")
    assert layout.verdict.proved
    scales = [unit(circle.normal) for circle in layout.circles if circle.core_radius == 4.0]
    assert len(scales) == 20
    assert min(abs(dot(scales[0], each)) for each in scales) > math.cos(math.radians(12))


@pytest.mark.parametrize(
    ("one", "other"), [("rows/alike", "rows/alternately"), ("spirals/tight-right", "spirals/loose-right")]
)
def test_poses_that_differ_are_laid_out_differently(one: str, other: str) -> None:
    """What is found for the one is proved, and is refused where the other is asked for."""
    for name, unlike in ((one, other), (other, one)):
        layout = laid(f"{name}.annulet")
        assert layout.verdict.proved
        weave = checked(str(CASES / f"{unlike}.annulet"), None, Timings()).weave
        assert weave is not None
        verdict = prove(problem_of(weave, 0), layout.circles)
        assert not verdict.proved
        assert verdict.wrong_facts == verdict.wrong_poses > 0
