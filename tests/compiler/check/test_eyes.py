"""Eyes of findings: used or declared free."""

from weave_bench import Bench, eye, finding_kind, place

from compiler.check.run import check
from compiler.weave import RelationKind


def test_an_eye_that_nothing_goes_through_is_told_at_the_statement_that_brought_it() -> None:
    bench = Bench(findings=(finding_kind("chain", eye("start"), eye("end")),))
    start, _ = bench.finding("chain")
    (ring,) = bench.strand("tip")
    bench.link(ring, start)
    (unused,) = check(bench.weave())
    assert (unused.rule, unused.place) == ("unused-eye", place(0))
    assert dict(unused.arguments) == {"eye": "end", "finding": "chain"}


def test_a_free_eye_may_stay_empty() -> None:
    bench = Bench(findings=(finding_kind("bar", eye("left"), eye("right", free=True)),))
    left, _ = bench.finding("bar")
    (ring,) = bench.strand("tip")
    bench.link(ring, left)
    assert check(bench.weave()) == ()


def test_an_eye_that_is_gone_around_is_used() -> None:
    bench = Bench(findings=(finding_kind("bar", eye("left"), eye("right")),))
    left, right = bench.finding("bar")
    (ring,), (collar,) = bench.strand("tip"), bench.strand("collar", kind="small")
    bench.link(ring, left)
    bench.relate(RelationKind.AROUND, collar, right)
    assert check(bench.weave()) == ()


def test_a_finding_alone_in_its_piece_still_has_an_unused_eye() -> None:
    bench = Bench()
    bench.finding("drop")
    (unused,) = check(bench.weave())
    assert (unused.rule, dict(unused.arguments)["finding"]) == ("unused-eye", "drop")
