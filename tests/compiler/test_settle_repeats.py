"""Pieces that repeat themselves: what is left out, put back and hung; strips of single rings; cold searches."""

import math
from pathlib import Path
from typing import Any

import pytest
import solver_graphs as graphs
from msgspec.structs import replace

from compiler.geometry import pair_state
from compiler.hints import hinted
from compiler.layout import Circle, DeclaredPair, LayoutProblem, PairState, RingSize, rounded_circle
from compiler.pipeline import checked
from compiler.problem import problem_of
from compiler.prove import prove
from compiler.settle.join import joined, screw_between
from compiler.settle.pendants import hung, stripped
from compiler.settle.relax import Progress, Relaxation
from compiler.settle.repeats import Repeats, repeats_of, shortened
from compiler.settle.search import Budget, settle
from compiler.settle.strips import strip_offsets, strip_poses
from compiler.timings import Timings

PATTERNS = Path(__file__).parents[2] / "patterns"
FIVE, SIX = graphs.size(5, 1.0), graphs.size(6, 1.0)
LONG = graphs.chain(2, 40, FIVE)


def of_library(name: str) -> LayoutProblem:
    weave = checked(str(PATTERNS / f"{name}.annulet"), None, Timings()).weave
    assert weave is not None
    return hinted(problem_of(weave, 0), weave, 0)


def links(problem: LayoutProblem) -> set[tuple[int, int]]:
    return {(min(pair.a, pair.b), max(pair.a, pair.b)) for pair in problem.pairs}


# ---------------------------------------------------------------- leaving out and putting back


def test_a_chain_of_pairs_repeats_itself_pair_by_pair() -> None:
    repeats = repeats_of(LONG)
    assert repeats is not None
    assert repeats.shift == 2
    short = shortened(LONG, repeats)
    assert short is not None
    # what is left is the same chain with fewer pairs
    fewer = graphs.chain(2, 40 - repeats.left_out, FIVE)
    assert links(short) == links(fewer)
    assert (short.rings, set(short.strands)) == (fewer.rings, set(fewer.strands))


def test_a_closed_chain_and_a_short_one_are_not_cut() -> None:
    assert repeats_of(graphs.chain(1, 60, FIVE, closed=True)) is None
    assert repeats_of(graphs.chain(2, 8, FIVE)) is None


def test_what_is_made_last_and_hangs_on_the_first_end_stays_there() -> None:
    count = len(LONG.rings)
    pairs = (
        *LONG.pairs,
        *graphs.linked([(0, count), (1, count), (count - 1, count + 1), (count - 2, count + 1)]),
    )
    problem = replace(LONG, rings=(*LONG.rings, SIX, SIX), pairs=pairs)
    repeats = repeats_of(problem)
    assert repeats is not None
    short = shortened(problem, repeats)
    assert short is not None
    left = len(short.rings)
    assert repeats.late == (left - 2,)
    assert {(0, left - 2), (1, left - 2), (left - 3, left - 1), (left - 4, left - 1)} <= links(short)
    # both ends on one ring are a closed piece
    closed = replace(problem, pairs=(*pairs, DeclaredPair(a=0, b=count + 1, state=PairState.LINKED)))
    assert repeats_of(closed) is None


def test_loops_of_the_short_piece_have_the_signs_of_the_long_one() -> None:
    problem = of_library("corvus-bracelet")
    repeats = repeats_of(stripped(problem).core)
    assert repeats is not None
    short = shortened(stripped(problem).core, repeats)
    assert short is not None
    assert {cycle.product for cycle in short.cycles} == {
        cycle.product for cycle in problem.cycles if len(cycle.rings) == 3
    }
    assert len(short.cycles) == len(short.pairs) - len(short.rings) + 1


def test_repeats_are_screwed_on_exactly_where_the_short_piece_is_a_screw() -> None:
    turn, step = math.radians(70), 2.0
    circles = [on_line(k * step, (0.5, math.cos(turn * k), math.sin(turn * k))) for k in range(20)]
    error, screw = screw_between(circles[:12], Repeats(cut=6, shift=1, left_out=8))
    assert error < 1e-5
    assert math.isclose(abs(screw.angle), turn, abs_tol=1e-6)
    problem = LayoutProblem(rings=(FIVE,) * 20, pairs=())
    for found, known in zip(
        joined(problem, Repeats(cut=6, shift=1, left_out=8), circles[:12]), circles, strict=True
    ):
        assert math.dist(found.centre, known.centre) < 1e-3
        aligned = sum(a * b for a, b in zip(found.normal, known.normal, strict=True)) / math.hypot(
            *known.normal
        )
        assert abs(aligned) > 1 - 1e-6


def on_line(x: float, normal: tuple[float, float, float]) -> Circle:
    size = math.hypot(*normal)
    return rounded_circle((x, 0.0, 0.0), [value / size for value in normal], FIVE)


# ---------------------------------------------------------------- pendants


def test_pendants_are_taken_off_from_outside_and_hung_in_their_states() -> None:
    ring = graphs.chain(2, 6, FIVE)
    count = len(ring.rings)
    more = graphs.linked([(0, count), (1, count), (count, count + 1)])
    problem = replace(ring, rings=(*ring.rings, SIX, graphs.size(2, 0.7)), pairs=ring.pairs + more)
    bare = stripped(problem)
    assert bare.core.rings == ring.rings
    assert [(each.ring, each.on) for each in bare.pendants] == [(count, (0, 1)), (count + 1, (count,))]
    circles = hung(problem, bare, settle(bare.core).circles)
    verdict = prove(problem, circles)
    assert not verdict.wrong_pairs
    assert verdict.clearance >= 1


# ---------------------------------------------------------------- strips


@pytest.mark.parametrize(("reach", "ring"), [(2, FIVE), (3, SIX)])
def test_strips_start_in_the_declared_states(reach: int, ring: RingSize) -> None:
    problem = replace(graphs.eye_chain(12, ring, reach), hints=())
    every = frozenset(range(1, reach + 1))
    assert strip_offsets(problem) == (every, every)
    poses = strip_poses(problem)
    assert poses
    wanted = links(problem)
    for pose in poses:
        circles = [
            rounded_circle(pose.place[:, k].tolist(), pose.normal[:, k].tolist(), ring) for k in range(12)
        ]
        for a in range(12):
            for b in range(a + 1, 12):
                state = PairState.LINKED if (a, b) in wanted else PairState.APART
                assert pair_state(circles[a], circles[b]) is state


def test_what_is_no_strip_is_told_apart() -> None:
    assert strip_offsets(graphs.chain(2, 8, FIVE)) is None
    assert strip_offsets(graphs.chain(1, 12, FIVE)) is None
    assert strip_offsets(graphs.rows_sheet(5, 5, FIVE, 2)) is None


# ---------------------------------------------------------------- cold searches


@pytest.mark.parametrize(
    "name",
    [
        "auriga-chain",
        "serpens-bracelet",
        "corvus-bracelet",
        "pyxis-set",
        "scutum-brooch",
        "lynx-earrings",
        "reticulum-pendants",
    ],
)
def test_a_pattern_of_the_library_is_found_without_a_kept_layout(name: str) -> None:
    problem = of_library(name)
    layout = settle(problem)
    assert layout.verdict == prove(problem, layout.circles)
    assert layout.verdict.proved


def test_repeats_of_a_bracelet_are_drawn_alike() -> None:
    problem = of_library("serpens-bracelet")
    circles = settle(problem).circles
    steps = [math.dist(circles[k].centre, circles[k + 2].centre) for k in range(10, 70)]
    assert max(steps) - min(steps) < 0.01 * min(steps)


@pytest.mark.parametrize("count", [3, 5, 7])
def test_the_rings_of_a_rosette_lie_evenly_round_its_centre(count: int) -> None:
    circles = settle(graphs.rosette(count, graphs.size(9, 1), 1)).circles
    middle = [sum(circle.centre[k] for circle in circles) / count for k in range(3)]
    far = [math.dist(circle.centre, middle) for circle in circles]
    steps = [math.dist(circles[k].centre, circles[k - 1].centre) for k in range(count)]
    assert max(far) - min(far) < 0.02
    assert max(steps) - min(steps) < 0.02


def test_kirkburn_rings_weave_four_in_one() -> None:
    # Stead, Iron Age Cemeteries in East Yorkshire (1991) p. 54, second-hand: outside 8.2-9.2, wire 1.5-1.9 mm, each
    # ring linked with four others
    assert settle(graphs.rows_sheet(5, 5, graphs.size(5.3, 1.7), 2)).verdict.proved


def test_a_search_that_finds_nothing_ends_when_its_work_is_done(monkeypatch: pytest.MonkeyPatch) -> None:
    problem = graphs.rows_sheet(5, 10, graphs.size(3, 1.5), 2)
    done = 0
    run = Relaxation.run

    def counted(self: Relaxation, **arguments: Any) -> Progress:
        nonlocal done
        before = self._steps
        progress = run(self, **arguments)
        done += self._steps - before
        return progress

    monkeypatch.setattr(Relaxation, "run", counted)
    budget = Budget(work=100_000)
    assert not settle(problem, budget).verdict.proved
    # the start in hand is finished: its time in thin wire, five thickenings and the endings
    in_hand = budget.first + 5 * budget.stage + 2 * budget.last
    assert 0 < done <= 100_000 * (1 + 50 / 200) / (50 + 60) + in_hand + 6 * budget.first
