"""Look-alikes: weaves with one graph of links that are different weaves all the same.

`cases/lookalikes` has a folder for each group. In every group each pattern checks clean, all have the same graph of
links (networkx is the judge), no two are the same weave, what differs is named, each asserts by `expect` which one is
meant, and what one asserts fails in every other; the words for the maker differ.
"""

from __future__ import annotations

from itertools import combinations, permutations
from pathlib import Path

import networkx
import pytest
from casefile import CASES

from compiler.catalogue.same_english import difference_text
from compiler.expand.driver import expand
from compiler.pipeline import checked
from compiler.same.compare import compare
from compiler.timings import Timings
from compiler.weave import Weave
from compiler.word.plain import plain_text
from compiler.word.words import word
from grammar.format import format_pattern
from grammar.parse import parse
from notation.diagnostic import Diagnostic
from notation.source import Source

FOLDER = CASES / "lookalikes"
PATHS = sorted(FOLDER.rglob("*.annulet"))

# What `same` names for each two patterns of a group; where it depends on which two, for those two, or else poses.
DIFFERS: dict[str, str | dict[tuple[str, str], str]] = {
    "bands": {
        ("half-turn", "half-turn-anticlockwise"): "mirror",
        ("whole-turn", "whole-turn-anticlockwise"): "mirror",
    },
    "cages": "relations",
    "chains": "relations",
    "collars": "relations",
    "companions": "relations",
    "edges": {
        ("half-persian", "no-overlap"): "relations",
        ("half-persian", "stepped-tube"): "relations",
        ("no-overlap", "stepped-tube"): "signs",
        ("half-persian", "square-rope"): "signs",
        ("no-overlap", "square-rope"): "relations",
        ("square-rope", "stepped-tube"): "relations",
    },
    "faces": "turned-over",
    "liners": "relations",
    "rosettes": "loops",
    "rows": "poses",
    "scales": "relations",
    "spirals": {
        ("loose-left", "loose-right"): "mirror",
        ("loose-left", "tight-left"): "poses",
        ("loose-left", "tight-right"): "poses",
        ("loose-right", "tight-left"): "poses",
        ("loose-right", "tight-right"): "poses",
        ("tight-left", "tight-right"): "mirror",
    },
    "tubes": "poses",
}
MIRRORED = {("crossed-00", "crossed-10"), ("crossed-03", "crossed-07"), ("crossed-04", "crossed-06")}


def name_of(path: Path) -> str:
    return path.relative_to(FOLDER).with_suffix("").as_posix()


def group(path: Path) -> str:
    return path.parent.name


PAIRS = [(one, other) for one, other in combinations(PATHS, 2) if group(one) == group(other)]
ORDERED = [(one, other) for one, other in permutations(PATHS, 2) if group(one) == group(other)]
pairs = pytest.mark.parametrize(
    ("one", "other"), PAIRS, ids=[f"{name_of(one)} and {other.stem}" for one, other in PAIRS]
)


def weave_of(path: Path) -> Weave:
    result = checked(str(path), None, Timings())
    assert result.diagnostics == ()
    assert result.weave is not None
    return result.weave


def without_assertions(path: Path) -> str:
    lines = path.read_text("utf-8").split("\n")
    return "\n".join(line for line in lines if not line.strip().startswith("expect ")).rstrip("\n") + "\n"


def expanded(text: str) -> tuple[Weave, tuple[Diagnostic, ...]]:
    pattern, slips = parse(Source(name="look-alike.annulet", text=text))
    assert slips == ()
    return expand(pattern, {})


def graph_of(weave: Weave) -> networkx.Graph:
    (piece,) = weave.pieces
    graph = networkx.Graph()
    for node, kind in enumerate(piece.kind):
        graph.add_node(node, kind=weave.ring_kinds[kind].name)
    graph.add_edges_from(zip(piece.link_a, piece.link_b, strict=True))
    return graph


def test_every_group_has_look_alikes() -> None:
    groups = {group(path) for path in PATHS}
    assert groups == set(DIFFERS)
    assert all(sum(group(path) == each for path in PATHS) > 1 for each in groups)


@pytest.mark.parametrize("path", PATHS, ids=name_of)
def test_each_checks_clean_and_says_which_one_is_meant(path: Path) -> None:
    weave_of(path)
    assert any(line.strip().startswith("expect ") for line in path.read_text("utf-8").split("\n"))


@pytest.mark.parametrize("path", PATHS, ids=name_of)
def test_each_is_canonical(path: Path) -> None:
    text = path.read_text("utf-8")
    pattern, _ = parse(Source(name=path.name, text=text))
    assert format_pattern(pattern) == text


@pairs
def test_their_links_are_alike(one: Path, other: Path) -> None:
    def same_kind(a: dict[str, str], b: dict[str, str]) -> bool:
        return a["kind"] == b["kind"]

    assert networkx.is_isomorphic(graph_of(weave_of(one)), graph_of(weave_of(other)), node_match=same_kind)


@pairs
def test_they_are_different_weaves_and_what_differs_is_named(one: Path, other: Path) -> None:
    wanted = DIFFERS[group(one)]
    if (one.stem, other.stem) in MIRRORED:
        wanted = "mirror"
    elif isinstance(wanted, dict):
        pair = (one.stem, other.stem)
        wanted = wanted.get(pair) or wanted.get(pair[::-1], "poses")
    for first, second in ((one, other), (other, one)):
        found = compare(weave_of(first), weave_of(second))
        assert found is not None
        assert found.name == wanted


@pytest.mark.parametrize(
    ("one", "other"), ORDERED, ids=[f"{name_of(one)} in {other.stem}" for one, other in ORDERED]
)
def test_what_one_asserts_fails_in_its_look_alike(one: Path, other: Path) -> None:
    asserted = [line for line in one.read_text("utf-8").split("\n") if line.strip().startswith("expect ")]
    _, told = expanded(without_assertions(other) + "\n".join(asserted) + "\n")
    assert {diagnostic.rule for diagnostic in told} == {"not-as-expected"}


@pairs
def test_the_motions_in_words_differ(one: Path, other: Path) -> None:
    """Even without the checks that the assertions are printed as."""
    printed = [plain_text(word(expanded(without_assertions(path))[0])) for path in (one, other)]
    assert printed[0] != printed[1]


SAID = {
    (
        "bands/plain",
        "bands/half-turn",
    ): "bangle: rings of a round closed with 1 half turn clockwise: 0 in the first, 32 in the second.",
    (
        "cages/caged",
        "cages/loose",
    ): "patch: rings around one other alone, not linked with it: 4 in the first, 0 in the second.",
    ("chains/box", "chains/byzantine"): "chain: rings of a pair with another in their gap: 12 in the first, "
    "8 in the second.",
    (
        "collars/round-joints",
        "collars/round-links",
    ): "chain: rings around one other alone, not linked with it: 0 in the first, 5 in the second.",
    ("companions/doubled-half-persian", "companions/full-persian"): "rope: rings side by side as one strand: "
    "24 in the first, 0 in the second.",
    (
        "edges/half-persian",
        "edges/square-rope",
    ): "rope: the same links, entered from other sides: some loop is plain in one and crossed in the other.",
    (
        "edges/half-persian",
        "edges/stepped-tube",
    ): "rope: rings over another, not linked with it: 12 in the first, 0 in the second.",
    (
        "faces/upper-over-lower",
        "faces/upper-under-lower",
    ): "patch: the second is the first turned over: its back is the front.",
    (
        "liners/beside",
        "liners/inside",
    ): "chain: rings around one other alone, not linked with it: 0 in the first, 4 in the second.",
    (
        "rosettes/crossed-03",
        "rosettes/crossed-04",
    ): "rosette: the same links, entered from other sides; crossed loops "
    "of three: 3 in the first, 4 in the second.",
    ("rosettes/crossed-00", "rosettes/crossed-10"): "rosette: the second is the mirror image of the first.",
    ("rows/alike", "rows/alternately"): "patch: rings leaned left: 20 in the first, 10 in the second.",
    (
        "scales/caged",
        "scales/nested",
    ): "patch: rings around one other alone, not linked with it: 4 in the first, 3 in the second.",
    ("spirals/loose-right", "spirals/tight-right"): "chain: rings turned by 240 degrees: 0 in the first, "
    "12 in the second.",
    ("spirals/tight-left", "spirals/tight-right"): "chain: the second is the mirror image of the first.",
    ("tubes/front-inside", "tubes/front-outside"): "cuff: rings of a round closed with its front inside: "
    "72 in the first, 0 in the second.",
}


@pytest.mark.parametrize("names", SAID, ids=" and ".join)
def test_what_differs_is_said_in_a_sentence(names: tuple[str, str]) -> None:
    found = compare(*(weave_of(FOLDER / f"{name}.annulet") for name in names))
    assert found is not None
    assert difference_text(found.name, dict(found.arguments)) == SAID[names]


def test_a_sentence_is_asked_of_every_group() -> None:
    assert {one.split("/")[0] for one, _ in SAID} == set(DIFFERS)
