"""Doubling: companions have the same neighbours, counted strand by strand."""

from weave_bench import Bench, place

from compiler.check.run import check
from notation.diagnostic import Diagnostic


def told(bench: Bench) -> list[Diagnostic]:
    return [diagnostic for diagnostic in check(bench.weave()) if diagnostic.rule == "lone-twin"]


def rosette(bench: Bench, leave_out: tuple[tuple[int, int], ...] = ()) -> None:
    """Two hub rings with six pairs in them; `leave_out` are (hub, spoke ring) links that are missing."""
    hub = bench.strand("heart", rings=2)
    for pair in range(6):
        spoke = bench.strand("spoke", kind="small", rings=2, at=place(5))
        for h, ring in enumerate(hub):
            for s, other in enumerate(spoke):
                if (h, 2 * pair + s) not in leave_out:
                    bench.link(ring, other)


def test_a_whole_rosette_is_quiet() -> None:
    bench = Bench()
    rosette(bench)
    assert told(bench) == []


def test_a_missing_link_is_told_once_though_it_shows_from_both_ends() -> None:
    bench = Bench()
    rosette(bench, leave_out=((1, 5),))
    (lone,) = told(bench)
    assert lone.place == place(5)
    assert lone.variant == "twin"
    assert dict(lone.arguments)["strand"] == "heart"
    assert dict(lone.arguments)["other"] == "spoke 3"
    assert lone.trace == ()


def test_a_strand_missed_whole_is_one_diagnostic_with_its_count() -> None:
    bench = Bench()
    rosette(bench, leave_out=((1, 4), (1, 5)))
    (lone,) = told(bench)
    assert lone.variant == "twin-several"
    assert dict(lone.arguments) == {
        "strand": "heart",
        "other": "spoke 3",
        "count": 2,
        "lacking": 2,
        "having": 1,
    }


def test_the_first_ring_can_be_the_one_that_misses() -> None:
    bench = Bench()
    rosette(bench, leave_out=((0, 0), (0, 1)))
    (lone,) = told(bench)
    assert lone.variant == "first-several"


def test_which_ring_of_a_pair_is_held_does_not_matter() -> None:
    bench = Bench()
    front, back = bench.strand("a", rings=2)
    left, right = bench.strand("b", rings=2)
    (c,) = bench.strand("c")
    bench.link(left, front)
    bench.link(right, back)
    for ring in (front, back, left, right):
        bench.link(c, ring)
    assert told(bench) == []


def test_singles_are_no_companions() -> None:
    bench = Bench()
    (a,), (b,), (c,) = bench.strand("arm"), bench.strand("arm"), bench.strand("heart")
    (d,) = bench.strand("tip")
    bench.link(c, a)
    bench.link(c, b)
    bench.link(d, b)
    assert told(bench) == []


def test_the_later_statement_is_marked_with_the_companion_that_has_the_link() -> None:
    bench = Bench()
    (spoke,) = bench.strand("spoke")
    first, twin = bench.strand("arm", rings=2)
    (pin,) = bench.strand("pin")
    bench.link(pin, first)
    bench.link(pin, twin)
    bench.link(first, spoke)
    bench.link(twin, spoke)
    (late,) = bench.strand("late")
    bench.link(first, late)
    (lone,) = told(bench)
    assert lone.place == place(
        4
    )  # the statement that made the link of the first ring, after the twin was closed
    assert dict(lone.arguments)["other"] == "late"


def test_a_twin_made_later_is_marked_and_the_first_ring_is_labelled() -> None:
    bench = Bench()
    (spoke,) = bench.strand("spoke")
    (pin,) = bench.strand("pin")
    bench.link(pin, spoke)
    first, twin = bench.strand("arm", rings=2)
    bench.link(first, spoke)
    bench.link(first, pin)
    bench.link(twin, pin)
    (lone,) = told(bench)
    assert lone.place == place(3)
    assert [(label.note, label.place) for label in lone.labels] == [("companion-has-it", place(2))]


def test_of_three_companions_the_ones_that_miss_are_told_by_number() -> None:
    bench = Bench()
    (spoke,) = bench.strand("spoke")
    arms = bench.strand("arm", rings=3)
    (pin,) = bench.strand("pin")
    for arm in arms:
        bench.link(pin, arm)
    bench.link(arms[1], spoke)
    bench.link(arms[2], spoke)
    (lone,) = told(bench)
    assert lone.variant == "ring"
    assert (dict(lone.arguments)["lacking"], dict(lone.arguments)["having"]) == (1, 2)


def test_a_slip_in_a_repeat_is_told_once_and_counted() -> None:
    bench = Bench()
    (spoke,) = bench.strand("spoke")
    for _ in range(4):
        first, twin = bench.strand("arm", rings=2, at=place(9))
        (pin,) = bench.strand("pin", at=place(9))
        bench.link(pin, first)
        bench.link(pin, twin)
        bench.link(pin, spoke)
        bench.link(first, spoke)
    (lone,) = told(bench)
    assert [(frame.note, dict(frame.arguments)) for frame in lone.trace] == [("more-places", {"count": 3})]


def test_two_of_three_companions_that_miss_are_both_told() -> None:
    bench = Bench()
    (spoke,) = bench.strand("spoke")
    arms = bench.strand("arm", rings=3)
    (pin,) = bench.strand("pin")
    for arm in arms:
        bench.link(pin, arm)
    bench.link(arms[0], spoke)
    assert [dict(lone.arguments)["lacking"] for lone in told(bench)] == [2, 3]


def test_no_more_links_are_missed_than_are_lacking() -> None:
    bench = Bench()
    spokes = bench.strand("spoke", rings=3)
    first, twin = bench.strand("arm", rings=2)
    (pin,) = bench.strand("pin")
    for ring in (*spokes, first, twin):
        bench.link(pin, ring)
    bench.link(first, spokes[0])
    bench.link(first, spokes[1])
    bench.link(twin, spokes[2])
    by_arm = [one for one in told(bench) if dict(one.arguments)["strand"] == "arm"]
    assert [(dict(one.arguments)["other"], dict(one.arguments)["count"]) for one in by_arm] == [("spoke", 1)]
