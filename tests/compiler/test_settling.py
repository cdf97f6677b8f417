"""Where layouts come from: the kept file first, then a search; what is told of either."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from library_facts import NOT_FOUND
from msgspec import structs
from msgspec.structs import replace
from woven import CHAIN, HEAD, weave_of

from compiler import proved
from compiler.kept import NotKept, write_kept
from compiler.layout import Ahead, Layout, Lean, Turn, kept_path
from compiler.pipeline import checked
from compiler.problem import problem_of
from compiler.prove import prove
from compiler.proved import Origin, as_clearance, from_kept, said, told_of_kept, told_of_search
from compiler.settle.search import Budget, settle
from compiler.settling import geometry_of
from compiler.timings import Timings

ROOT = Path(__file__).parents[2]
PATTERNS = sorted((ROOT / "patterns").rglob("*.annulet"))
GOOD = """\
title "Vela"

ring link: inner 5 mm, wire 1 mm, metal copper

piece strap:
    line chain of 6:
        pass 1 link through the one before
"""


def settled(body: str, path: Path | None = None, head: str = HEAD):
    weave = weave_of(body, head)
    return weave, geometry_of(weave, path, Timings())


# ---------------------------------------------------------------- where a layout comes from


def test_without_a_file_it_is_searched_for_and_proved() -> None:
    weave, (found,) = settled(CHAIN)
    assert (found.origin, found.not_kept) == (Origin.SETTLED, NotKept.NO_FILE)
    assert found.whole is not None
    assert prove(problem_of(weave, 0), found.whole.circles) == found.whole.verdict
    assert told_of_search(weave, [found]) == ()


def test_a_kept_file_that_fits_is_proved_anew_and_nothing_is_searched_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    weave, (found,) = settled(CHAIN)
    path = tmp_path / "vela.layout"
    write_kept(path, {"earring": found.problem}, {"earring": found.layout})
    monkeypatch.setattr("compiler.settle.search.settle", lambda _problem: pytest.fail("a search"))
    (again,) = geometry_of(weave, path, Timings())
    assert (again.origin, again.layout) == (Origin.KEPT, found.layout)


def test_a_search_that_failed_is_told_again_without_searching(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    weave, (found,) = settled(CHAIN)
    assert found.layout is not None
    circles = found.layout.circles[:1] * len(found.layout.circles)
    reached = Layout(circles=circles, verdict=prove(found.problem, circles))
    path = tmp_path / "vela.layout"
    write_kept(path, {"earring": found.problem}, {"earring": reached})
    monkeypatch.setattr("compiler.settle.search.settle", lambda _problem: pytest.fail("a search"))
    (again,) = geometry_of(weave, path, Timings())
    assert (again.origin, again.layout, again.whole) == (Origin.SOUGHT, reached, None)
    assert told_of_kept(weave, path, [again]) == ()
    assert [each.rule for each in told_of_search(weave, [again])] == ["not-proved"]
    assert said(weave, again).endswith(", searched for before")


def test_a_kept_file_that_lies_is_refused_and_the_piece_settled(tmp_path: Path) -> None:
    weave, (found,) = settled(CHAIN)
    assert found.layout is not None
    wrong = Layout(circles=found.layout.circles[:1] * len(found.layout.circles), verdict=found.layout.verdict)
    path = tmp_path / "vela.layout"
    write_kept(path, {"earring": found.problem}, {"earring": wrong})
    assert "not found" not in path.read_text()
    (again,) = geometry_of(weave, path, Timings())
    assert (again.origin, again.not_kept) == (Origin.SETTLED, NotKept.NOT_PROVED)
    assert again.layout == found.layout
    assert [each.rule for each in told_of_kept(weave, path, [again])] == ["refused-layout"]


@pytest.mark.parametrize(
    ("text", "rule", "variant"),
    [
        ("annulet layout 1\n", "stale-layout", "missing"),
        ("nonsense\n", "refused-layout", "unreadable"),
        (
            f"annulet layout 1\npiece earring {'0' * 64} 1 rings\n" + "0.0 0.0 0.0 0.0 0.0 1.0\n",
            "stale-layout",
            "",
        ),
    ],
)
def test_what_is_wrong_with_a_kept_file_is_told(tmp_path: Path, text: str, rule: str, variant: str) -> None:
    path = tmp_path / "vela.layout"
    path.write_text(text, "utf-8")
    weave = weave_of(CHAIN)
    (found,) = from_kept(weave, path, Timings())
    assert found.origin is Origin.NONE
    assert [(each.rule, each.variant) for each in told_of_kept(weave, path, [found])] == [(rule, variant)]


def test_no_file_is_nothing_to_tell(tmp_path: Path) -> None:
    weave = weave_of(CHAIN)
    path = tmp_path / "vela.layout"
    assert told_of_kept(weave, path, from_kept(weave, path, Timings())) == ()


# ---------------------------------------------------------------- what was not proved


def test_what_is_not_proved_names_the_tightest_pair_and_its_clearance() -> None:
    weave, (found,) = settled(CHAIN)
    assert found.layout is not None
    verdict = structs.replace(found.layout.verdict, proved=False, clearance=0.9379, tightest=(1, 2))
    failed = replace(found, layout=structs.replace(found.layout, verdict=verdict))
    (told,) = told_of_search(weave, [failed])
    assert (told.rule, told.variant) == ("not-proved", "tight")
    assert dict(told.arguments) == {"piece": "earring", "pairs": "pair 2 with pair 3", "clearance": "0.93"}
    assert failed.whole is None
    assert said(weave, failed).endswith("not proved, best clearance 0.93")


@pytest.mark.parametrize(
    ("wrong", "named"),
    [
        ({"wrong_leans": (Lean(ring=2, right=True, frame=(0, 1, 2, 3)),)}, "pair 3"),
        ({"wrong_turns": (Turn(rings=(0, 1, 2, 3), degrees=60),)}, "pair 1 with pair 4"),
        ({"wrong_aheads": (Ahead(rings=(1, 2)),)}, "pair 2 with pair 3"),
    ],
)
def test_rings_in_another_pose_than_is_said_are_named(
    wrong: dict[str, tuple[Lean | Turn | Ahead, ...]], named: str
) -> None:
    weave, (found,) = settled(CHAIN)
    assert found.layout is not None
    verdict = structs.replace(found.layout.verdict, proved=False, **wrong)
    (told,) = told_of_search(weave, [replace(found, layout=structs.replace(found.layout, verdict=verdict))])
    assert (told.rule, told.variant) == ("not-proved", "pose")
    assert dict(told.arguments)["pairs"] == named


def test_a_piece_for_which_there_is_no_room_is_not_proved_and_drawn_schematic(
    run, monkeypatch: pytest.MonkeyPatch
) -> None:
    # four wires of 1.2 mm need a hole of 2.897 mm: no bound refuses it, and flat there is no room
    monkeypatch.setattr("compiler.settle.search.settle", lambda problem: settle(problem, Budget(work=10_000)))
    Path("vela.annulet").write_text(
        'title "Vela"\n\nring link: inner 2.9 mm, wire 1.2 mm, metal copper\n\npiece strap:\n'
        "    sheet mesh of 3 rows of 3, staggered:\n        pass 1 link through the two below\n",
        "utf-8",
    )
    ran = run("check", "--fit", "vela.annulet")
    assert ran.code == 0
    assert "warning[not-proved]" in ran.err
    assert run("check", "--fit", "--strict", "vela.annulet").code == 1
    assert run("check", "--strict", "vela.annulet").code == 0
    ran = run("build", "vela.annulet")
    assert (ran.code, Path("vela.pdf").exists()) == (0, True)
    assert "warning[not-proved]" in ran.err
    assert run("settle", "vela.annulet").code == 0
    assert "not found by search" in Path("vela.layout").read_text("utf-8")


def test_a_clearance_is_cut_and_never_rounded_up() -> None:
    assert [as_clearance(value) for value in (0.9999, 1.0, 1.0199, 2.0)] == ["0.99", "1.00", "1.01", "2.00"]


# ---------------------------------------------------------------- the commands


def test_settle_keeps_the_layout_and_leaves_it_while_it_fits(run) -> None:
    path = Path("vela.annulet")
    path.write_text(GOOD, "utf-8")
    ran = run("settle", "vela.annulet")
    assert (ran.code, ran.out) == (0, "")
    assert "strap, 6 rings and eyes: proved, clearance 1.0" in ran.err
    kept = Path("vela.layout").read_bytes()
    path.write_text(GOOD.replace("Vela", "Corvus").replace("copper", "fine-silver"), "utf-8")
    ran = run("settle", "vela.annulet")
    assert "as it is kept" in ran.err
    assert "is written" not in ran.err
    path.write_text(GOOD.replace("of 6", "of 7"), "utf-8")
    assert "advice[stale-layout]" in run("check", "vela.annulet").err
    assert "vela.layout is written" in run("settle", "vela.annulet").err
    assert Path("vela.layout").read_bytes() != kept


def test_two_settlings_write_the_same_bytes(run) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    run("settle", "vela.annulet")
    first = Path("vela.layout").read_bytes()
    run("settle", "--again", "vela.annulet")
    assert Path("vela.layout").read_bytes() == first


def test_settle_has_nowhere_to_keep_standard_input(run) -> None:
    ran = run("settle", "-", stdin=GOOD.encode())
    assert ran.code == 2
    assert "standard input" in ran.err


def test_plain_check_says_the_verdict_of_a_kept_file_and_never_settles(
    run, monkeypatch: pytest.MonkeyPatch
) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    assert "proved" not in run("check", "vela.annulet").err
    run("settle", "vela.annulet")
    monkeypatch.setattr("compiler.settle.search.settle", lambda _problem: pytest.fail("a search"))
    assert "vela.layout: strap, 6 rings and eyes: proved, clearance 1.0" in run("check", "vela.annulet").err
    monkeypatch.setattr(proved, "MOST_IN_A_MOMENT", 5)
    assert "not proved again" in run("check", "vela.annulet").err


def test_a_booklet_is_the_same_with_a_kept_file_and_without(run) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    run("build", "vela.annulet", "-o", "one.pdf")
    run("settle", "vela.annulet")
    run("build", "vela.annulet", "-o", "two.pdf")
    assert Path("one.pdf").read_bytes() == Path("two.pdf").read_bytes()
    run("build", "--schematic", "vela.annulet", "-o", "three.pdf")
    assert Path("one.pdf").read_bytes() != Path("three.pdf").read_bytes()


def test_a_schematic_build_settles_nothing(run, monkeypatch: pytest.MonkeyPatch) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    monkeypatch.setattr("compiler.settle.search.settle", lambda _problem: pytest.fail("a search"))
    assert run("build", "--schematic", "vela.annulet").code == 0


# ---------------------------------------------------------------- the library


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_every_pattern_of_the_library_keeps_a_layout_that_proves(path: Path) -> None:
    result = checked(str(path), ROOT / "patterns", Timings())
    assert result.weave is not None
    found = from_kept(result.weave, kept_path(path), Timings())
    lacking = {result.weave.pieces[each.piece].name: each.not_kept for each in found if each.layout is None}
    expected = NOT_FOUND.get(path.stem, set())
    reason = NotKept.NO_FILE if len(expected) == len(found) else NotKept.MISSING
    assert lacking == dict.fromkeys(expected, reason)


def test_a_kept_layout_is_proved_again_without_numpy(run) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    run("settle", "vela.annulet")
    script = (
        "import sys\n"
        "sys.argv = ['annulet', 'check', 'vela.annulet']\n"
        "from compiler.cli import main\n"
        "code = main()\n"
        "sys.exit('numpy' in sys.modules or code)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, "proved, clearance" in done.stderr) == (0, True), done.stderr


def test_of_another_edition_it_is_not_told_that_the_kept_layout_does_not_fit(run) -> None:
    Path("vela.annulet").write_text(GOOD, "utf-8")
    run("settle", "vela.annulet")
    other = ("--ring", "link=6mm/1.2mm")
    for words in (
        ("check", "--fit"),
        ("build", "-o", "vela.pdf"),
        ("figure", "-o", "vela.svg"),
        ("fit",),
    ):
        ran = run(words[0], "vela.annulet", *words[1:], *other)
        assert (ran.code, "stale-layout" in ran.err) == (0, False)
    assert "as it is kept" not in run("check", "--fit", "vela.annulet", *other).err
    assert "as it is kept" in run("check", "--fit", "vela.annulet").err
