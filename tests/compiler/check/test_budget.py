"""Budget: the tally of the pieces against the kit."""

import pytest
from weave_bench import DROP, Bench, place

from compiler.check.run import check
from notation.diagnostic import Diagnostic

FAMILY = {"over-budget", "not-in-kit", "unused-in-kit", "spare-in-kit"}


def told(bench: Bench) -> list[Diagnostic]:
    return [diagnostic for diagnostic in check(bench.weave()) if diagnostic.rule in FAMILY]


def chain(bench: Bench, rings: int, kind: str = "link") -> None:
    """A chain of single rings, each its own statement."""
    before: list[int] = []
    for _ in range(rings):
        (ring,) = bench.strand("chain", kind=kind)
        if before:
            bench.link(ring, before[-1])
        before.append(ring)


def test_without_a_kit_there_is_nothing_to_tell() -> None:
    bench = Bench()
    chain(bench, 3)
    assert check(bench.weave()) == ()


def test_an_exact_kit_is_quiet() -> None:
    bench = Bench(kit=(("link", 6),), times=2)
    chain(bench, 3)
    assert told(bench) == []


@pytest.mark.parametrize(
    ("kit", "times", "variant", "statement", "time"),
    [
        (2, 1, "", 2, 1),
        (2, 2, "in-first", 2, 1),
        (3, 2, "in-second", 0, 2),
        (4, 2, "in-second", 1, 2),
        (8, 3, "in-third", 2, 3),
        (10, 4, "in-later", 1, 4),
        (299_999, 100_000, "in-later", 2, 100_000),
    ],
)
def test_the_statement_that_overdraws_is_marked(
    kit: int, times: int, variant: str, statement: int, time: int
) -> None:
    bench = Bench(kit=(("link", kit),), times=times)
    chain(bench, 3)
    (over,) = told(bench)
    assert (over.rule, over.variant, over.place) == ("over-budget", variant, place(statement))
    arguments = dict(over.arguments)
    assert (arguments["time"], arguments["need"], arguments["short"]) == (time, 3 * times, 3 * times - kit)


def test_pieces_are_tallied_one_after_another() -> None:
    bench = Bench(kit=(("link", 4),))
    chain(bench, 3)
    first = bench.piece()
    bench.name = "ring"
    second = bench.piece()
    (over,) = [d for d in check(bench.weave(first, second)) if d.rule in FAMILY]
    assert (over.place, dict(over.arguments)["piece"]) == (place(1), "ring")


def test_a_piece_that_takes_the_last_ring_is_not_the_one_that_overdraws() -> None:
    bench = Bench(kit=(("link", 3),))
    chain(bench, 3)
    first = bench.piece()
    bench.name = "ring"
    (over,) = [d for d in check(bench.weave(first, bench.piece())) if d.rule in FAMILY]
    assert (over.place, dict(over.arguments)["piece"]) == (place(0), "ring")


def test_a_kind_that_the_kit_lacks_is_told_at_its_first_use() -> None:
    bench = Bench(kit=(("small", 9), ("link", 2)))
    (a,), (b,) = bench.strand("a"), bench.strand("b")
    bench.link(b, a)
    (drop,) = bench.finding("drop")
    bench.link(b, drop)
    rules = {d.rule: d for d in told(bench)}
    assert set(rules) == {"not-in-kit", "unused-in-kit"}
    assert rules["not-in-kit"].place == place(2)
    assert dict(rules["unused-in-kit"].arguments) == {"kind": "small"}


def test_findings_are_tallied_too() -> None:
    bench = Bench(kit=(("link", 1), ("drop", 1)), findings=(DROP,))
    (a,) = bench.strand("a")
    for _ in range(2):
        (drop,) = bench.finding("drop")
        bench.link(a, drop)
    (over,) = told(bench)
    assert (over.rule, over.place, dict(over.arguments)["kind"]) == ("over-budget", place(2), "drop")


def test_spares_are_listed_in_one_piece_of_advice() -> None:
    bench = Bench(kit=(("link", 7), ("small", 2)))
    chain(bench, 3)
    (ring,) = bench.strand("end", kind="small")
    bench.link(ring, 2)
    (spare,) = told(bench)
    assert dict(spare.arguments) == {"spare": "4 link and 1 small"}
