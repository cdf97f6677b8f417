"""Laws of whole patterns: the order of declarations means nothing, and a name means nothing but itself.

Every pattern of the library is read, changed as a tree of nodes, and expanded, checked and worded as if nothing had
happened.
"""

from __future__ import annotations

import random
import re
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from compiler.check.run import check
from compiler.expand.driver import expand
from compiler.loader import load
from compiler.weave import PieceWeave, Weave
from compiler.word.words import word
from notation.margin import FindingLine, Pattern, RingLine, UnitBlock, Use
from notation.nodes import Name, Node

ROOT = Path(__file__).parents[2]
PATTERNS = sorted((ROOT / "patterns").rglob("*.annulet"))
MARK = "_renamed"
Library = dict[tuple[str, str], Pattern]


def kinds_by_name(weave: Weave, piece: PieceWeave) -> list[str]:
    """The kind of each node, by name: the number of a kind is an id."""
    return [
        weave.ring_kinds[kind].name if kind >= 0 else weave.finding_kinds[-1 - kind].name
        for kind in piece.kind
    ]


def columns_of(piece: PieceWeave) -> list[Any]:
    """All that is numbers in a piece, but for kinds and sites."""
    motions = piece.motions
    return [
        *(piece.times, piece.parts, piece.group, piece.member, piece.companion, piece.strand, piece.born),
        *(piece.link_a, piece.link_b, piece.link_motion, piece.link_sign, piece.relations, piece.poses),
        *(motions.verb, motions.actor, motions.path_start, motions.path_node, motions.path_behind),
        *(motions.load_start, motions.load_node, piece.companionship, len(piece.findings)),
        [(step.first, step.stop, step.title, step.group, step.number) for step in piece.steps],
        [
            [(event.at, event.kind, event.text, event.nodes, event.onto) for event in s.events]
            for s in piece.steps
        ],
    ]


def steps_of(weave: Weave) -> list[str]:
    return [repr(step) for piece in word(weave).pieces for step in piece.steps]


def reordered(pattern: Pattern, chance: random.Random) -> Pattern:
    """The rings, findings, units and imports of a file in another order, each kind in its own places."""
    statements = list(pattern.statements)
    for kind in (RingLine, FindingLine, UnitBlock, Use):
        places = [place for place, each in enumerate(statements) if isinstance(each, kind)]
        for place, other in zip(places, chance.sample(places, len(places)), strict=True):
            statements[place] = pattern.statements[other]
    return replace(pattern, statements=tuple(statements))


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_another_order_of_declarations_changes_nothing_but_ids(path: Path) -> None:
    loaded = load(str(path))
    weave, told = expand(loaded.pattern, loaded.library)
    plain = [(piece.name, piece, kinds_by_name(weave, piece)) for piece in weave.pieces]
    for seed in range(3):
        chance = random.Random(seed)
        library = {key: reordered(used, chance) for key, used in loaded.library.items()}
        other, other_told = expand(reordered(loaded.pattern, chance), library)
        # a file of units makes each of them once, in the order of the text
        pieces = {piece.name: piece for piece in other.pieces}
        assert len(pieces) == len(plain)
        for name, piece, kinds in plain:
            assert columns_of(pieces[name]) == columns_of(piece)
            assert kinds_by_name(other, pieces[name]) == kinds
            assert [group.key for group in pieces[name].groups] == [group.key for group in piece.groups]
        assert sorted(map(repr, other_told)) == sorted(map(repr, told))
        assert {(d.rule, d.place) for d in check(other)} == {(d.rule, d.place) for d in check(weave)}
        if [piece.name for piece in other.pieces] == [name for name, _, _ in plain]:
            # lists of kinds follow the order of the declarations; all else is word for word the same
            for step, as_before in zip(steps_of(other), steps_of(weave), strict=True):
                assert sorted(re.findall(r"[\w'.-]+", step)) == sorted(re.findall(r"[\w'.-]+", as_before))


KEPT = ("metal", "type")
"""Fields whose names are of the notation and not of the pattern."""


def renamed(node: Any) -> Any:
    """The same tree with another name for everything that the pattern names."""
    if isinstance(node, Name):
        return replace(node, text=node.text + MARK)
    if isinstance(node, tuple):
        return tuple(renamed(part) for part in node)
    if isinstance(node, Node | Pattern):
        parts = {
            name: renamed(getattr(node, name))
            for name in node.__struct_fields__
            if name not in KEPT and name not in ("span", "source", "comments")
        }
        return replace(node, **parts)
    return node


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_other_names_change_nothing_but_names(path: Path) -> None:
    loaded = load(str(path))
    weave, told = expand(loaded.pattern, loaded.library)
    library: Library = {key: renamed(used) for key, used in loaded.library.items()}
    other, other_told = expand(renamed(loaded.pattern), library)
    assert [(d.rule, d.variant, d.place) for d in other_told] == [(d.rule, d.variant, d.place) for d in told]
    assert len(other.pieces) == len(weave.pieces)
    for piece, as_before in zip(other.pieces, weave.pieces, strict=True):
        assert piece.name == as_before.name + MARK
        assert piece.kind == as_before.kind
        assert columns_of(piece) == columns_of(as_before)
        keys = [re.sub(MARK, "", group.key) for group in piece.groups]
        assert keys == [group.key for group in as_before.groups]
    sizes = [(kind.inner_mm, kind.wire_mm, kind.metal) for kind in weave.ring_kinds]
    assert [(kind.inner_mm, kind.wire_mm, kind.metal) for kind in other.ring_kinds] == sizes
    before = [(d.rule, d.variant, d.place) for d in check(weave)]
    assert [(d.rule, d.variant, d.place) for d in check(other)] == before
