"""`annulet same`: the answer, the first difference in words, and the exit code."""

import json
import re
from pathlib import Path

import pytest

import compiler.same.compare
from compiler.catalogue.same_english import RELATIONS, SENTENCES, difference_text

HEAD = """\
title "Draco"

ring link: inner 5 mm, wire 1 mm, metal copper
ring wide: inner 10 mm, wire 1 mm, metal copper

"""


def write(name: str, body: str, header: str = "piece star:") -> str:
    lines = "".join(f"    {line}\n" for line in body.strip("\n").split("\n"))
    Path(name).write_text(f"{HEAD}{header}\n{lines}", "utf-8")
    return name


TRIANGLE = "take 1 link as a1\npass 1 link as a2 through a1\npass 1 link as a3 through a1 and a2"
LINE = "line row of 4:\n    pass 1 link through the one before"
OVER = f"{LINE}\npass 1 link through row[4] over row[3]"
FOUR = TRIANGLE + "\npass 1 link as a4 through a1, a2 and a3"

DIFFERENT = [
    ("counts", LINE, "line row of 5:\n    pass 1 link through the one before", "copper rings of 5 mm"),
    ("counts", LINE, LINE.replace("1 link", "1 wide"), "copper rings of 10 mm in wire of 1 mm"),
    ("links", TRIANGLE, "line row of 3:\n    pass 1 link through the one before", "links: 3 in the first, 2"),
    (
        "relations",
        "take 2 link as base\npass 2 link as pair-up through base",
        "take 2 link as base\npass 1 link as a1 through base\npass 1 link as a2 through base",
        "rings side by side as one strand: 2 in the first, 0",
    ),
    (
        "relations",
        "take 2 link as base\npass 2 link as pair-up through base",
        "take 2 link as base\npass 2 link front and back as pair-up through base",
        "side by side as one strand: 2 in the first, 0",
    ),
    (
        "poses",
        "round row of 6:\n    pass 1 link through the one before and the one after",
        "round row of 6, closed with 1 half turn:\n    pass 1 link through the one before and the one after",
        "rings of a round closed with 1 half turn clockwise: 0 in the first, 6 in the second",
    ),
    ("poses", f"{LINE}\nlean row left", LINE, "rings leaned left: 4 in the first, 0 in"),
    ("poses", f"{LINE}\nspread row[2]", LINE, "rings spread apart: 1 in the first, 0 in"),
    ("poses", f"{LINE}\nfold last of row back", LINE, "rings folded back: 1 in the first, 0 in"),
    (
        "relations",
        f"{LINE}\nfold last of row back onto row[2]",
        LINE,
        "rings folded back onto another: 1 in the first, 0 in",
    ),
    ("poses-place", f"{LINE}\nspread row[2]", f"{LINE}\nspread row[4]", "other rings are folded, spread"),
    (
        "turned-over",
        f"{OVER}\nlean row[2] right",
        f"{OVER.replace('over', 'under')}\nlean row[2] left",
        "the second is the first turned over",
    ),
    (
        "mirror-over",
        f"{TRIANGLE}\npass 1 link through a1 over a2",
        f"{TRIANGLE.replace('a1 and', 'a1 from behind and')}\npass 1 link through a1 under a2",
        "the mirror image of the first, turned over",
    ),
    (
        "counts",
        "take 6 link as arm\npass 1 link as hub through arm\npass 1 link through hub between arm[1] and arm[2]",
        "take 6 link as arm\npass 1 link as hub through arm\npass 1 link through hub",
        "gaps on a ring that are stated for another: 1 in the first, 0",
    ),
    ("mirror", f"{LINE}\nlean row left", f"{LINE}\nlean row right", "the mirror image of the first"),
    (
        "loops",
        f"{TRIANGLE}\nturn a3 by 120 degrees",
        f"{TRIANGLE}\nturn a3 by 120 degrees".replace("a1 and a2", "a1 from behind and a2"),
        "crossed loops of three: 0 in the first, 1 in the second",
    ),
    (
        "arrangement",
        LINE,
        "take 1 link as hub\nfor k from 1 to 3:\n    pass 1 link as arm[k] through hub",
        "other rings are linked",
    ),
    (
        "relations-place",
        f"{LINE}\npass 1 link as a1 through row[4] over row[3]",
        f"{LINE}\npass 1 link as a1 through row[4] over row[1]",
        "other rings lie around",
    ),
    (
        "mirror",
        TRIANGLE,
        TRIANGLE.replace("a1 and a2", "a1 from behind and a2"),
        "the mirror image of the first",
    ),
    (
        "loops",
        FOUR,
        FOUR.replace("a1, a2 and a3", "a1 from behind, a2 and a3"),
        "crossed loops of three: 0 in the first, 2 in the second",
    ),
    (
        "signs",
        "round row of 4:\n    pass 1 link through the one before and the one after",
        "round row of 4:\n    if last:\n        pass 1 link through the one before from behind and the one after\n"
        "    else:\n        pass 1 link through the one before",
        "some loop is plain in one and crossed in the other",
    ),
]


@pytest.mark.parametrize(("name", "first", "second", "words"), DIFFERENT)
def test_the_first_difference_is_named_in_words(run, name: str, first: str, second: str, words: str) -> None:
    ran = run("same", write("a.annulet", first), write("b.annulet", second))
    assert (ran.code, ran.err) == (1, "")
    assert words in ran.out
    found = json.loads(run("same", "a.annulet", "b.annulet", "--json").out)
    assert (found["same"], found["difference"]["name"], found["text"]) == (False, name, ran.out.strip())


def test_one_weave_in_another_order_and_under_other_names_is_the_same(run) -> None:
    first = write("a.annulet", TRIANGLE)
    other = "take 1 link as top\npass 1 link as left-one through top\npass 1 link through left-one and top"
    second = write("b.annulet", other, 'piece other:\n    note "Another name."')
    ran = run("same", first, second)
    assert (ran.code, ran.out, ran.err) == (0, "The same weave.\n", "")
    assert json.loads(run("same", first, second, "--json").out) == {
        "same": True,
        "difference": None,
        "text": "The same weave.",
    }


def test_no_half_turns_is_what_nothing_said_means(run) -> None:
    body = "round row of 6{}:\n    pass 1 link through the one before and the one after"
    first = write("a.annulet", body.format(""))
    assert run("same", first, write("b.annulet", body.format(", closed with 0 half turns"))).code == 0


def test_a_pose_said_ring_by_ring_is_the_pose_said_at_once(run) -> None:
    first = write("a.annulet", f"{LINE}\nturn row by 120 degrees\nlean row left")
    each = "turn row[{0}] by 80 degrees\nturn row[{0}] by 40 degrees\nlean row[{0}] right\nlean row[{0}] left"
    second = write("b.annulet", "\n".join((LINE, *(each.format(number) for number in range(1, 5)))))
    assert run("same", first, second).code == 0


def test_pieces_are_counted_first(run) -> None:
    first, second = write("a.annulet", LINE), write("b.annulet", LINE)
    with Path(second).open("a", encoding="utf-8") as file:
        file.write("\npiece other:\n    take 1 link as base\n")
    ran = run("same", first, second)
    assert (ran.code, ran.out) == (1, "The first has 1 piece and the second 2 pieces.\n")


@pytest.mark.parametrize("order", [("good", "wrong"), ("wrong", "good"), ("wrong", "wrong")])
def test_a_pattern_with_errors_is_told_and_not_compared(run, order: tuple[str, str]) -> None:
    files = {"good": write("a.annulet", LINE), "wrong": write("b.annulet", "pass 1 link through nowhere")}
    ran = run("same", *(files[name] for name in order))
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.count("error[unknown-name]") == 1
    ran = run("same", *(files[name] for name in order), "--json")
    assert ran.code == 1
    assert "unknown-name" in [one["rule"] for one in json.loads(ran.out)["diagnostics"]]


def test_every_difference_has_a_sentence_and_every_sentence_a_difference() -> None:
    text = Path(compiler.same.compare.__file__).read_text("utf-8")
    assert set(re.findall(r'(?:_difference\(\s*|_counted\(\s*|\n        \()"([a-z-]+)"', text)) == set(
        SENTENCES
    )


@pytest.mark.parametrize("what", RELATIONS)
def test_every_relation_can_be_said(what: str) -> None:
    assert RELATIONS[what] in difference_text(
        "relations", {"piece": "star", "what": what, "first": 2, "second": 0}
    )


def test_findings_are_told_by_their_eyes() -> None:
    arguments = {"piece": "star", "what": "finding drop 1.5 opens", "first": 2, "second": 0}
    assert (
        difference_text("counts", arguments)
        == "star: drop eyes of 1.5 mm that open: 2 in the first, 0 in the second."
    )
