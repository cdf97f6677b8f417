"""Held together: what is one, what is loose, and how it is told."""

import random

import networkx
import pytest
from msgspec.structs import replace
from weave_bench import DROP, LINK, Bench, eye, finding_kind, place

from compiler.check.held import roots
from compiler.check.run import check
from compiler.weave import RelationKind, SiteKind
from notation.diagnostic import Diagnostic


def told(bench: Bench, rule: str = "loose-part") -> list[Diagnostic]:
    return [diagnostic for diagnostic in check(bench.weave()) if diagnostic.rule == rule]


def test_linked_rings_are_one() -> None:
    bench = Bench()
    (a,), (b,), (c,) = bench.strand("a"), bench.strand("b"), bench.strand("c")
    bench.link(b, a)
    bench.link(c, b)
    assert check(bench.weave()) == ()


def test_a_loose_ring_is_told_by_name_at_its_statement() -> None:
    bench = Bench()
    (a,), (b,) = bench.strand("heart"), bench.strand("arm")
    bench.link(b, a)
    bench.strand("arm")
    (loose,) = told(bench)
    assert loose.place == place(2)
    assert loose.variant == ""
    assert dict(loose.arguments)["name"] == "arm 2"


def test_a_loose_pair_is_one_diagnostic_with_its_count() -> None:
    bench = Bench()
    heart = bench.strand("heart", rings=2)
    for ring in bench.strand("arm", rings=2):
        for other in heart:
            bench.link(ring, other)
    # the two rings of a pair are companions and not linked: something has to hold both
    spoke = bench.strand("spoke", rings=2)
    (between,) = bench.strand("pin", kind="link")
    for ring in spoke:
        bench.link(between, ring)
    (part,) = told(bench)
    assert part.variant == "part"
    assert dict(part.arguments) == {"name": "spoke", "rings": 3, "piece": "earring"}
    assert [label.note for label in part.labels] == ["largest-part"]


def test_companions_are_not_held_by_lying_side_by_side() -> None:
    bench = Bench()
    (a,), (b,) = bench.strand("heart"), bench.strand("arm")
    bench.link(b, a)
    bench.strand("pair", rings=2)
    (loose,) = told(bench)
    assert (loose.variant, loose.trace) == ("strand", ())
    assert dict(loose.arguments) == {"name": "pair", "rings": 2, "piece": "earring"}


def test_a_companion_that_alone_hangs_on_nothing_is_told_by_doubling_only() -> None:
    bench = Bench()
    (heart,) = bench.strand("heart")
    first, _ = bench.strand("arm", rings=2)
    bench.link(first, heart)
    assert [diagnostic.rule for diagnostic in check(bench.weave())] == ["lone-twin"]


def test_what_a_repeat_leaves_loose_is_told_once_and_counted() -> None:
    bench = Bench()
    (a,), (b,) = bench.strand("heart"), bench.strand("arm")
    bench.link(b, a)
    for _ in range(5):
        bench.strand("arm", at=place(7))
    (loose,) = told(bench)
    assert loose.place == place(7)
    assert dict(loose.arguments)["name"] == "arm 2"
    assert [(frame.note, dict(frame.arguments)) for frame in loose.trace] == [("more-places", {"count": 4})]


def test_the_trace_leads_from_the_innermost_round_outwards() -> None:
    bench = Bench()
    (a,), (b,) = bench.strand("heart"), bench.strand("arm")
    bench.link(b, a)
    bench.inside(SiteKind.UNIT, "body", 0, place(20))
    bench.inside(SiteKind.ROUND, "k", 3, place(21))
    bench.inside(SiteKind.PLACE, "row", 2, place(22))
    bench.strand("arm")
    (loose,) = told(bench)
    assert [(frame.note, dict(frame.arguments)) for frame in loose.trace] == [
        ("place-named", {"name": "row", "number": 2}),
        ("round-named", {"name": "k", "number": 3}),
        ("use-named", {"name": "body", "number": 0}),
    ]


@pytest.mark.parametrize("kind", [RelationKind.AROUND, RelationKind.INSIDE, RelationKind.BETWEEN])
def test_captive_rings_are_held(kind: RelationKind) -> None:
    bench = Bench()
    (a,), (b,), (collar,) = bench.strand("a"), bench.strand("b"), bench.strand("collar", kind="link")
    bench.link(b, a)
    bench.relate(kind, collar, a, b)
    assert told(bench) == []


def test_the_body_of_a_finding_holds_its_eyes_together() -> None:
    bench = Bench(findings=(finding_kind("chain", eye("start"), eye("end")),))
    start, end = bench.finding("chain")
    (a,), (b,) = bench.strand("left"), bench.strand("right")
    bench.link(a, start)
    bench.link(b, end)
    assert check(bench.weave()) == ()


def test_a_finding_that_hangs_on_nothing_is_loose_and_not_told_eye_by_eye() -> None:
    bench = Bench(findings=(DROP, finding_kind("chain", eye("start"), eye("end"))))
    (a,), (b,) = bench.strand("a"), bench.strand("b")
    bench.link(b, a)
    bench.finding("chain")
    (only,) = check(bench.weave())
    assert (only.rule, only.variant) == ("loose-part", "")
    assert dict(only.arguments)["name"] == "chain"


def test_declared_parts_are_not_loose() -> None:
    bench = Bench(parts=2)
    (a,), (b,) = bench.strand("a"), bench.strand("b")
    bench.link(b, a)
    bench.strand("c")
    assert check(bench.weave()) == ()


def test_with_declared_parts_only_what_is_beyond_them_is_loose() -> None:
    bench = Bench(parts=2)
    for name in ("a", "b"):
        (first,), (second,) = bench.strand(name), bench.strand(name)
        bench.link(second, first)
    bench.strand("c")
    (loose,) = told(bench)
    assert dict(loose.arguments)["name"] == "c"


def test_fewer_parts_than_declared_is_an_error() -> None:
    bench = Bench(parts=2)
    (a,), (b,) = bench.strand("a"), bench.strand("b")
    bench.link(b, a)
    (few,) = told(bench, "too-few-parts")
    assert (few.variant, dict(few.arguments)["declared"]) == ("one", 2)


def test_a_broken_piece_is_left_alone() -> None:
    bench = Bench(kit=(("small", 1),))
    bench.strand("a")
    bench.strand("b")
    bench.broken = True
    assert check(bench.weave()) == ()


@pytest.mark.parametrize("seed", range(40))
def test_roots_agree_with_networkx_on_random_weaves(seed: int) -> None:
    chance = random.Random(seed)
    bench = Bench(rings=(LINK,), findings=(finding_kind("bar", eye("left"), eye("right")),))
    for _ in range(chance.randint(1, 40)):
        if chance.random() < 0.2:
            bench.finding("bar")
        else:
            bench.strand(chance.choice("abc"), rings=chance.randint(1, 3))
    nodes = len(bench.columns["kind"])
    graph = networkx.Graph()
    graph.add_nodes_from(range(nodes))
    for use in bench.uses:
        graph.add_edge(*use.eyes)
    for _ in range(chance.randint(0, nodes)):
        a, b = chance.randrange(nodes), chance.randrange(nodes)
        if a != b:
            bench.link(a, b)
            graph.add_edge(a, b)
    if nodes > 3:
        bench.relate(RelationKind.AROUND, 0, nodes - 1, nodes - 2)
        graph.add_edges_from([(0, nodes - 1), (0, nodes - 2)])
    found = roots(bench.piece())
    expected = {node: min(part) for part in networkx.connected_components(graph) for node in part}
    assert list(found) == [expected[node] for node in range(nodes)]


@pytest.mark.parametrize("kind", [RelationKind.OVER, RelationKind.UNDER])
def test_a_ring_that_only_lies_over_or_under_others_is_loose(kind: RelationKind) -> None:
    bench = Bench()
    ((a,), (b,), (top,)) = bench.strand("a"), bench.strand("b"), bench.strand("top")
    bench.link(b, a)
    bench.relate(kind, top, a, b)
    (loose,) = told(bench)
    assert dict(loose.arguments)["name"] == "top"


def test_a_piece_that_is_broken_is_left_out_and_those_after_it_are_checked() -> None:
    bench = Bench()
    (a,), (b,) = bench.strand("a"), bench.strand("b")
    bench.link(b, a)
    bench.strand("loose")
    weave = bench.weave()
    (piece,) = weave.pieces
    broken = replace(piece, name="broken", broken=True)
    both = check(replace(weave, pieces=(broken, piece)))
    assert [dict(one.arguments)["piece"] for one in both] == ["earring"]
