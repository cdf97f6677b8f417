"""What the export tells beyond links: signs, loops and their products, relations, poses, companions."""

import json
import math
from itertools import pairwise
from pathlib import Path
from typing import Any

import jsonschema
import networkx
import pytest

import compiler.export
from compiler import facts
from compiler.commands.export import step_texts
from compiler.expand.driver import expand
from compiler.export import export
from compiler.word.words import word
from grammar.parse import parse
from notation.source import Source

SCHEMA = json.loads(Path(compiler.export.__file__).with_name("export-schema.json").read_text("utf-8"))
HEAD = 'title "Vela"\nring link: inner 5 mm, wire 1 mm, metal copper\n'


def exported(body: str, head: str = HEAD) -> dict[str, Any]:
    """The one piece of a pattern, from the export, which must be valid."""
    pattern, told = parse(Source(name="test", text=f"{head}piece star:\n{body}"))
    weave, more = expand(pattern, {})
    assert [one for one in (*told, *more) if not one.rule.startswith("unused")] == []
    text = "".join(export(weave, [step_texts(piece) for piece in word(weave).pieces]))
    document = json.loads(text)
    jsonschema.validate(document, SCHEMA)
    (piece,) = document["pieces"]
    return piece  # type: ignore[no-any-return]


def signs_by_key(piece: dict[str, Any]) -> dict[frozenset[str], int]:
    keys = {ring["id"]: ring["key"] for ring in piece["rings"]}
    return {
        frozenset((keys[a], keys[b])): sign
        for (a, b), sign in zip(piece["links"], piece["signs"], strict=True)
    }


def loops_by_key(piece: dict[str, Any]) -> list[tuple[list[str], int]]:
    keys = {ring["id"]: ring["key"] for ring in piece["rings"]}
    return [([keys[ring] for ring in loop["rings"]], loop["product"]) for loop in piece["cycles"]]


def product(signs: dict[frozenset[str], int], loop: list[str]) -> int:
    return math.prod(signs[frozenset(pair)] for pair in pairwise([*loop, loop[0]]))


# One weave of six rings in two orders of making: what is entered, and from which side, is said from the other ring.
FORWARD = """\
    take 1 link as a1
    pass 1 link as a2 through a1
    pass 1 link as a3 through a1 from behind and a2
    pass 1 link as a4 through a2 and a3
    pass 1 link as a5 through a4 from behind and a3
    pass 1 link as a6 through a5 and a1
"""
BACKWARD = """\
    take 1 link as a6
    pass 1 link as a5 through a6
    pass 1 link as a4 through a5 from behind
    pass 1 link as a3 through a4 and a5
    pass 1 link as a2 through a3 and a4
    pass 1 link as a1 through a2, a3 from behind and a6
"""
OTHER = FORWARD.replace("a5 and a1", "a5 and a1 from behind")


def test_each_link_has_its_sign() -> None:
    piece = exported(FORWARD)
    assert piece["links"] == [[1, 0], [2, 0], [2, 1], [3, 1], [3, 2], [4, 3], [4, 2], [5, 4], [5, 0]]
    assert piece["signs"] == [1, -1, 1, 1, 1, -1, 1, 1, 1]


def test_cycles_are_a_basis_of_loops_of_links() -> None:
    piece = exported(FORWARD)
    graph = networkx.Graph(map(tuple, piece["links"]))
    assert len(piece["cycles"]) == len(networkx.cycle_basis(graph)) == 4
    for cycle in piece["cycles"]:
        assert all(graph.has_edge(*pair) for pair in pairwise([*cycle["rings"], cycle["rings"][0]]))


def test_one_weave_made_in_another_order_has_the_same_products() -> None:
    first, second = exported(FORWARD), exported(BACKWARD)
    assert [ring["key"] for ring in first["rings"]] != [ring["key"] for ring in second["rings"]]
    for one, other in ((first, second), (second, first)):
        signs = signs_by_key(other)
        assert [product(signs, loop) for loop, _ in loops_by_key(one)] == [
            found for _, found in loops_by_key(one)
        ]


def test_turning_the_side_of_one_link_is_seen_in_some_product() -> None:
    signs = signs_by_key(exported(OTHER))
    assert any(product(signs, loop) != found for loop, found in loops_by_key(exported(FORWARD)))


def test_a_mirror_image_has_opposite_products_in_odd_loops_only() -> None:
    unit = "unit knot:\n" + FORWARD
    plain = exported("    make knot\n", HEAD + unit)
    mirrored = exported("    make knot mirrored\n", HEAD + unit)
    lengths = set()
    for (loop, one), (again, other) in zip(loops_by_key(plain), loops_by_key(mirrored), strict=True):
        assert loop == again
        assert other == (-one if len(loop) % 2 else one)
        lengths.add(len(loop) % 2)
    assert lengths == {0, 1}


@pytest.mark.parametrize(
    ("body", "kind", "ring", "others"),
    [
        ("pass 1 link as c1 around the joint of a1 and a2", "around", 2, [0, 1]),
        ("pass 1 link as c1 around a2", "around", 2, [1]),
        ("pass 1 link as c1 through a2 over a1", "over", 2, [0]),
        ("pass 1 link as c1 through a2 under a1", "under", 2, [0]),
        ("take 1 link as c1 inside a1", "inside", 2, [0]),
    ],
)
def test_relations_are_told(body: str, kind: str, ring: int, others: list[int]) -> None:
    piece = exported(f"    take 1 link as a1\n    pass 1 link as a2 through a1\n    {body}\n")
    assert piece["relations"] == [{"kind": kind, "ring": ring, "others": others}]


def test_between_and_gaps_are_told() -> None:
    piece = exported(
        "    pass 1 link as hub carrying 3 link as arm\n"
        "    pass 1 link as spoke through hub between arm[1] and arm[2]\n"
        "    pass 2 link as wing through arm[1]\n"
        "    pass 2 link as tail through wing\n"
        "    pass 1 link as key through tail between wing\n"
    )
    assert [(one["kind"], one["ring"], one["others"]) for one in piece["relations"]] == [
        ("gap", 4, [0, 1, 2]),
        ("between", 9, [5, 6]),
    ]


def test_poses_and_companions_are_told() -> None:
    piece = exported(
        "    work anticlockwise\n"
        "    take 1 link as a1\n"
        "    pass 2 link front and back as a2 through a1\n"
        "    pass 2 link as a3 through a2\n"
        "    fold a3 back onto a1\n    spread a2\n    lean a3 left\n    turn a1 by 90 degrees\n"
    )
    assert piece["poses"] == [
        {"kind": "anticlockwise", "rings": [], "onto": [], "amount": 0},
        {"kind": "folded", "rings": [3, 4], "onto": [0], "amount": 0},
        {"kind": "spread", "rings": [1, 2], "onto": [], "amount": 0},
        {"kind": "lean left", "rings": [3, 4], "onto": [], "amount": 0},
        {"kind": "turned", "rings": [0], "onto": [], "amount": 90},
    ]
    assert piece["companions"] == [{"strand": 1, "way": "front and back"}]


def test_a_band_tells_how_it_closes() -> None:
    piece = exported(
        "    round band of 6, closed with 1 half turn:\n"
        "        pass 1 link through the one before and the one after\n"
    )
    assert piece["poses"] == [{"kind": "half turns", "rings": [0], "onto": [], "amount": 1}]
    assert [len(cycle["rings"]) for cycle in piece["cycles"]] == [6]


def test_cycles_of_a_large_piece_are_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(facts, "MOST_RINGS_WITH_CYCLES", 5)
    assert exported(FORWARD)["cycles"] is None
