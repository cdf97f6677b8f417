"""What is told of a geometry, on layouts and verdicts made by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace
from woven import CHAIN, weave_of

from compiler import proved
from compiler.expand.driver import expand
from compiler.kept import NotKept, Sought
from compiler.layout import (
    Ahead,
    Between,
    Circle,
    Closing,
    CycleSign,
    Layout,
    LayoutProblem,
    Lean,
    Over,
    PairState,
    Turn,
    Verdict,
    WrongPair,
)
from compiler.proved import (
    MOST_IN_A_MOMENT,
    MOST_SETTLED,
    Origin,
    PieceGeometry,
    as_clearance,
    from_kept,
    said,
    said_of_kept,
    told_of_kept,
    told_of_search,
)
from compiler.timings import Timings
from compiler.weave import Weave
from grammar.parse import parse
from notation.diagnostic import Diagnostic
from notation.source import Source

CIRCLE = Circle(centre=(0.0, 0.0, 0.0), normal=(0.0, 0.0, 1.0), core_radius=2.4, tube_radius=0.4)
FAILED = Verdict(proved=False, clearance=0.5, tightest=None)
PASSED = Verdict(proved=True, clearance=1.25, tightest=(0, 1))
FILE = Path("folder/lyra.layout")
PAIRS = "line pair of 3:\n    pass 2 large through the one before"


def geometry(
    verdict: Verdict | None,
    origin: Origin = Origin.SETTLED,
    not_kept: NotKept | None = None,
    part: bool = False,
) -> PieceGeometry:
    layout = None if verdict is None else Layout(circles=(CIRCLE,) * 5, verdict=verdict)
    return PieceGeometry(piece=0, origin=origin, problem=None, layout=layout, not_kept=not_kept, part=part)


def told(verdict: Verdict, body: str = CHAIN, part: bool = False) -> Diagnostic:
    (one,) = told_of_search(weave_of(body), [geometry(verdict, part=part)])
    return one


def wrong(*pairs: tuple[int, int]) -> tuple[WrongPair, ...]:
    return tuple(WrongPair(a=a, b=b, declared=PairState.LINKED, found=PairState.APART) for a, b in pairs)


def twice(weave: Weave) -> Weave:
    """The same piece two times, under two names."""
    return replace(weave, pieces=(weave.pieces[0], replace(weave.pieces[0], name="other")))


# ---------------------------------------------------------------- what is read of a file


def test_a_piece_is_asked_for_up_to_the_most_rings_and_not_beyond() -> None:
    weave = weave_of(CHAIN)
    assert len(weave.pieces[0]) == 5
    asked = [from_kept(weave, None, Timings(), most)[0] for most in (5, 4)]
    assert [one.problem is None for one in asked] == [False, True]
    assert [one.not_kept for one in asked] == [NotKept.NO_FILE, None]
    assert [one.origin for one in asked] == [Origin.NONE, Origin.NONE]


def test_of_more_than_two_thousand_rings_the_beginning_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    assert (MOST_SETTLED, MOST_IN_A_MOMENT) == (2000, 1000)
    asked = []
    monkeypatch.setattr(proved, "problem_of", lambda weave, index: asked.append(len(weave.pieces[index])))
    parts = []
    for count in (2000, 2001):
        weave = weave_of(f"line pair of {count}:\n    pass 1 link through the one before")
        parts.append(from_kept(weave, None, Timings())[0].part)
    assert (parts, asked) == ([False, True], [2000, 600])


def test_of_a_large_piece_without_a_beginning_it_is_told_that_nothing_is_placed() -> None:
    weave = weave_of(CHAIN)
    loose = geometry(None, Origin.NONE, part=True)
    assert told_of_search(weave, [loose]) == (
        Diagnostic(
            rule="settled-in-part",
            variant="loose",
            place=weave.pieces[0].place,
            arguments=(("piece", "earring"), ("rings", 5)),
        ),
    )
    broken = replace(weave, pieces=(replace(weave.pieces[0], broken=True),))
    assert told_of_search(broken, [loose]) == ()


def test_a_broken_piece_and_one_without_rings_are_left_out() -> None:
    weave = weave_of(CHAIN)
    broken = replace(weave, pieces=(replace(weave.pieces[0], broken=True),))
    assert from_kept(broken, None, Timings()) == (geometry(None, Origin.NONE),)
    nothing = expand(parse(Source(name="lyra", text='title "Lyra"\npiece idle:\n    note "Rest."\n'))[0], {})[
        0
    ]
    assert from_kept(nothing, None, Timings()) == (geometry(None, Origin.NONE),)


def test_of_each_piece_it_is_said_what_the_file_has(monkeypatch: pytest.MonkeyPatch) -> None:
    weave = twice(weave_of(CHAIN))
    kept = Layout(circles=(CIRCLE,), verdict=PASSED)
    sought = Sought(layout=Layout(circles=(CIRCLE,), verdict=FAILED))
    asked = []

    def read(path: Path, problems: dict[str, object]) -> dict[str, object]:
        asked.append((path, list(problems)))
        return {"earring": kept, "other": sought}

    monkeypatch.setattr(proved, "read_kept", read)
    first, second = from_kept(weave, FILE, Timings())
    assert asked == [(FILE, ["earring", "other"])]
    assert (first.piece, first.origin, first.layout, first.not_kept) == (0, Origin.KEPT, kept, None)
    assert (second.piece, second.origin, second.layout, second.not_kept) == (
        *(1, Origin.SOUGHT, sought.layout),
        None,
    )
    assert (first.problem is None, second.problem is None) == (False, False)


def test_a_piece_whose_edges_are_joined_is_asked_for_as_it_lies_before_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    weave = twice(weave_of(CHAIN))
    before = weave_of("line pair of 2:\n    pass 1 link through the one before")
    kept, lying = Layout(circles=(CIRCLE,), verdict=PASSED), Layout(circles=(CIRCLE,) * 2, verdict=PASSED)
    asked = []

    def read(_path: Path, problems: dict[str, LayoutProblem]) -> dict[str, object]:
        asked.extend((name, len(problem.rings)) for name, problem in problems.items())
        return {"earring": kept, "earring.flat": lying, "other": NotKept.STALE}

    # Of the second piece no edges are joined.
    monkeypatch.setattr(proved, "before_closing", lambda _weave, index: None if index else before)
    monkeypatch.setattr(proved, "read_kept", read)
    first, second = from_kept(weave, FILE, Timings())
    assert asked == [("earring", 5), ("other", 5), ("earring.flat", 2)]
    assert (first.layout, first.flat, len(first.flat_problem.rings)) == (kept, lying, 2)
    assert (second.flat, second.flat_problem, second.not_kept) == (None, None, NotKept.STALE)
    monkeypatch.setattr(proved, "read_kept", lambda *_: {"earring": kept, "earring.flat": NotKept.MISSING})
    assert from_kept(weave, FILE, Timings())[0].flat is None


def test_reading_a_file_is_timed_by_stage() -> None:
    timings = Timings()
    from_kept(weave_of(CHAIN), None, timings)
    assert list(timings.seconds()) == ["problem", "prove"]


# ---------------------------------------------------------------- what is told of a file


@pytest.mark.parametrize(
    ("not_kept", "rule", "variant", "times"),
    [
        (NotKept.STALE, "stale-layout", "", 2),
        (NotKept.MISSING, "stale-layout", "missing", 2),
        (NotKept.NOT_PROVED, "refused-layout", "", 2),
        (NotKept.NOT_READABLE, "refused-layout", "unreadable", 1),
    ],
)
def test_of_a_file_it_is_told_for_each_piece_and_once_that_it_cannot_be_read(
    not_kept: NotKept, rule: str, variant: str, times: int
) -> None:
    weave = twice(weave_of(CHAIN))
    found = [replace(geometry(None, Origin.NONE, not_kept), piece=index) for index in (0, 1)]
    assert told_of_kept(weave, FILE, found) == tuple(
        Diagnostic(
            rule=rule,
            variant=variant,
            place=weave.pieces[0].place,
            arguments=(("piece", name), ("file", "folder/lyra.layout")),
        )
        for name in ("earring", "other")[:times]
    )
    assert told_of_kept(weave, None, found) == ()


@pytest.mark.parametrize("not_kept", [None, NotKept.NO_FILE, NotKept.SEARCHED_BEFORE])
def test_a_piece_of_which_nothing_is_wrong_hides_none_after_it(not_kept: NotKept | None) -> None:
    weave = twice(weave_of(CHAIN))
    found = [geometry(None, Origin.NONE, not_kept), replace(geometry(None, not_kept=NotKept.STALE), piece=1)]
    assert [one.arguments[0][1] for one in told_of_kept(weave, FILE, found)] == ["other"]


# ---------------------------------------------------------------- what is told of a search


def test_nothing_is_told_of_what_was_proved_or_not_searched_for() -> None:
    weave = twice(weave_of(CHAIN))
    assert told_of_search(weave, [geometry(None, Origin.NONE), geometry(PASSED)]) == ()
    later = [geometry(None, Origin.NONE), replace(geometry(FAILED), piece=1)]
    assert [one.arguments[0] for one in told_of_search(weave, later)] == [("piece", "other")]


def test_what_is_settled_in_part_is_told_with_both_counts() -> None:
    weave = weave_of("line pair of 9:\n    pass 1 link through the one before")
    (one,) = told_of_search(weave, [geometry(PASSED, part=True)])
    assert one == Diagnostic(
        rule="settled-in-part",
        place=weave.pieces[0].place,
        arguments=(("piece", "earring"), ("rings", 9), ("part", 5)),
    )


@pytest.mark.parametrize(
    ("verdict", "variant", "pairs"),
    [
        (replace(FAILED, wrong_pairs=wrong((0, 1))), "", "pair 1 with pair 2"),
        (
            replace(FAILED, wrong_cycles=(CycleSign(rings=(2, 0, 1), product=1),)),
            "hand",
            "pair 3 with pair 1",
        ),
        (replace(FAILED, wrong_between=(Between(ring=3, first=1, second=2),)), "hand", "pair 4 with pair 2"),
        (replace(FAILED, wrong_overs=(Over(upper=4, lower=1),)), "over", "pair 5 with pair 2"),
        (replace(FAILED, wrong_closings=(Closing(rows=((1, 2, 3),)),)), "closing", "pair 2 with pair 4"),
        (
            replace(FAILED, wrong_leans=(Lean(ring=2, right=True, frame=(0, 1, 2, 3)),)),
            *("pose", "pair 3"),
        ),
        (
            replace(FAILED, wrong_turns=(Turn(rings=(1, 2, 3), degrees=90),)),
            *("pose", "pair 2 with pair 4"),
        ),
        (
            replace(FAILED, wrong_aheads=(Ahead(rings=(4, 2, 3)),)),
            *("pose", "pair 5 with pair 3"),
        ),
        (replace(FAILED, tightest=(3, 4)), "tight", "pair 4 with pair 5"),
        (FAILED, "", ""),
    ],
)
def test_what_is_not_proved_is_told_with_its_pairs(verdict: Verdict, variant: str, pairs: str) -> None:
    weave = weave_of(CHAIN)
    assert told(verdict) == Diagnostic(
        rule="not-proved",
        variant=variant,
        place=weave.pieces[0].place,
        arguments=(("piece", "earring"), ("pairs", pairs), ("clearance", "0.50")),
    )


def test_wrong_pairs_go_before_hands_overs_closings_and_poses_and_room_comes_last() -> None:
    all_wrong = Verdict(
        proved=False,
        clearance=0.5,
        tightest=(3, 4),
        wrong_pairs=wrong((0, 1)),
        wrong_cycles=(CycleSign(rings=(1, 2, 3), product=1),),
        wrong_overs=(Over(upper=2, lower=3),),
        wrong_closings=(Closing(rows=((0, 4),)),),
        wrong_turns=(Turn(rings=(1, 2), degrees=90),),
    )
    order = []
    for field in ("wrong_pairs", "wrong_cycles", "wrong_overs", "wrong_closings", "wrong_turns"):
        order.append(told(all_wrong).variant)
        all_wrong = replace(all_wrong, **{field: ()})
    assert [*order, told(all_wrong).variant] == ["", "hand", "over", "closing", "pose", "tight"]


def test_three_pairs_are_named_and_the_others_counted() -> None:
    three = told(replace(FAILED, wrong_pairs=wrong((0, 1), (1, 2), (2, 3))))
    assert (three.variant, len(three.arguments)) == ("", 3)
    four = told(replace(FAILED, wrong_pairs=wrong((0, 1), (1, 2), (2, 3), (3, 4))))
    assert (four.variant, dict(four.arguments)["more"]) == ("more", 1)
    five = told(replace(FAILED, wrong_pairs=wrong((0, 1), (1, 2), (2, 3), (3, 4), (0, 4))))
    assert five.variant == "more"
    assert five.arguments == (
        ("piece", "earring"),
        ("pairs", "pair 1 with pair 2, pair 2 with pair 3, pair 3 with pair 4"),
        ("more", 2),
        ("clearance", "0.50"),
    )
    overs = told(
        replace(
            FAILED, wrong_overs=tuple(Over(upper=a, lower=b) for a, b in ((0, 1), (1, 2), (2, 3), (3, 4)))
        )
    )
    assert (overs.variant, len(overs.arguments)) == ("over", 3)


def test_rings_of_one_strand_are_told_once() -> None:
    one = told(replace(FAILED, wrong_pairs=wrong((0, 2), (0, 3), (1, 2), (1, 3), (0, 1))), PAIRS)
    assert one.variant == ""
    assert dict(one.arguments)["pairs"] == "pair 1 with pair 2, two rings of pair 1"


def test_of_a_part_it_is_told_that_it_is_the_first_rings() -> None:
    one = told(replace(FAILED, tightest=(0, 1)), part=True)
    assert one.arguments[0] == ("piece", "the first 5 rings of earring")


# ---------------------------------------------------------------- what is said


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (geometry(None, Origin.NONE), "5 rings and eyes: nothing is known"),
        (geometry(PASSED), "5 rings and eyes: proved, clearance 1.25"),
        (geometry(PASSED, Origin.KEPT), "5 rings and eyes: proved, clearance 1.25, as it is kept"),
        (
            geometry(FAILED, Origin.SOUGHT),
            "5 rings and eyes: not proved, best clearance 0.50, searched for before",
        ),
        (geometry(PASSED, part=True), "the first 5 of 5 rings and eyes: proved, clearance 1.25"),
        (
            geometry(PASSED, Origin.KEPT, part=True),
            "the first 5 of 5 rings and eyes: proved, clearance 1.25, as it is kept",
        ),
    ],
)
def test_what_is_known_of_a_piece_is_said_in_a_few_words(found: PieceGeometry, words: str) -> None:
    assert said(weave_of(CHAIN), found) == f"earring, {words}"


def test_of_a_kept_file_the_verdicts_are_said_and_what_was_not_asked() -> None:
    weave = weave_of(CHAIN)
    kept, unknown = geometry(PASSED, Origin.KEPT), geometry(None, Origin.NONE)
    said_of = f"{FILE}: earring, 5 rings and eyes"
    assert said_of_kept(weave, FILE, [kept], 4) == [f"{said_of}: proved, clearance 1.25, as it is kept"]
    assert said_of_kept(weave, FILE, [unknown, kept], 5) == [
        f"{said_of}: proved, clearance 1.25, as it is kept"
    ]
    assert said_of_kept(weave, FILE, [geometry(None, Origin.NONE, part=True)], 4) == []
    assert said_of_kept(weave, FILE, [unknown], 4) == [
        f"{said_of}: not proved again, that takes more than a moment; `annulet check --fit` does"
    ]


@pytest.mark.parametrize(
    ("clearance", "text"),
    [(0.0, "0.00"), (0.29, "0.29"), (0.57, "0.57"), (0.999999, "0.99"), (1.005, "1.00"), (2.0, "2.00")],
)
def test_a_clearance_is_cut_to_two_decimals(clearance: float, text: str) -> None:
    assert as_clearance(clearance) == text


def test_a_layout_is_of_the_whole_or_of_the_beginning_if_it_is_proved() -> None:
    one, part = geometry(PASSED), geometry(PASSED, part=True)
    plain = PieceGeometry(piece=0, origin=Origin.NONE, problem=None, layout=None, not_kept=None)
    assert (plain.part, plain.flat, plain.flat_problem, plain.flat_searched) == (False, None, None, False)
    assert (one.whole, one.beginning) == (one.layout, None)
    assert (part.whole, part.beginning) == (None, part.layout)
    for nothing in (geometry(FAILED), geometry(FAILED, part=True), geometry(None)):
        assert (nothing.whole, nothing.beginning) == (None, None)
