"""The expansion against a second one that shares no code with it, on patterns made up by Hypothesis."""

from __future__ import annotations

from collections import Counter

from bench_text import HEAD, expanded, indented
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from slow_expand import (
    Near,
    Ring,
    Sheet,
    Walk,
    links_of,
    meets_one_twice,
    rings_of,
    text_of,
    walk_leaves_some,
    walk_runs_out,
)
from taken_on import taken_on

from compiler.weave import PieceWeave
from notation.source import Source

SAME_EACH_TIME = settings(
    max_examples=200, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)
NOT_ASKED = {"unused-kind", "never-there", "rows-apart"}

nears = st.builds(
    Near,
    count=st.integers(1, 4),
    direction=st.sampled_from(("before", "after", "below", "above")),
    hand=st.sampled_from(("", "", "left", "right")),
).filter(lambda near: not near.hand or near.count > 1)


@st.composite
def sheets(draw: st.DrawFn, joined: bool) -> Sheet:
    kind = draw(st.sampled_from(("line", "round", "sheet", "tube")))
    if kind in ("line", "round"):
        widths: tuple[int, ...] = (draw(st.integers(2 if kind == "round" else 1, 7)),)
    elif kind == "tube":
        widths = (draw(st.integers(1, 5)),) * draw(st.integers(1, 4))
    else:
        widths = tuple(draw(st.lists(st.integers(1, 5), min_size=1, max_size=4)))
    lies = ["aligned", "staggered", "leaning left", "leaning right"]
    if kind == "sheet":
        lies.append("centred")
    near = () if joined else tuple(draw(st.lists(nears, min_size=1, max_size=2)))
    if len(widths) == 1:
        near = tuple(one for one in near if one.direction in ("before", "after")) or near[:0]
        if not joined and not near:
            near = (Near(1, "before"),)
    return Sheet(
        name="mesh",
        kind=kind,
        widths=widths,
        lie=draw(st.sampled_from(lies)) if len(widths) > 1 else "aligned",
        downward=draw(st.booleans()) if kind in ("sheet", "tube") else False,
        size=draw(st.integers(1, 2)),
        near=near,
    )


walks = st.builds(
    Walk,
    name=st.just("base"),
    total=st.integers(1, 12),
    size=st.integers(1, 2),
    rounds=st.integers(1, 5),
    take=st.integers(1, 4),
    step=st.integers(0, 3),
)


def woven(pattern: Sheet | Walk) -> tuple[PieceWeave, set[str]]:
    text = f"{HEAD}piece earring:\n{indented(text_of(pattern))}"
    weave, told = expanded(text)
    taken_on(weave, told, {"corvus.annulet": Source(name="corvus.annulet", text=text)})
    return weave.pieces[0], {one.rule for one in told} - NOT_ASKED


def ring(piece: PieceWeave, node: int) -> Ring:
    return piece.groups[piece.group[node]].name, piece.member[node], piece.companion[node]


def links(piece: PieceWeave) -> Counter[frozenset[Ring]]:
    return Counter(
        frozenset([ring(piece, a), ring(piece, b)]) for a, b in zip(piece.link_a, piece.link_b, strict=True)
    )


@SAME_EACH_TIME
@given(sheets(joined=False))
def test_passes_through_neighbours(sheet: Sheet) -> None:
    piece, told = woven(sheet)
    if meets_one_twice(sheet):
        assert told == {"linked-twice"}
        return
    assert told == set()
    assert len(piece) == rings_of(sheet)
    assert links(piece) == Counter(links_of(sheet))


@SAME_EACH_TIME
@given(sheets(joined=True))
def test_joins_all_round(sheet: Sheet) -> None:
    piece, told = woven(sheet)
    assert told == set()
    assert len(piece) == rings_of(sheet)
    members: dict[int, set[int]] = {}
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        for node, other in ((a, b), (b, a)):
            if piece.group[node] != 0:
                members.setdefault(piece.strand[node], set()).add(piece.member[other])
    found: Counter[frozenset[Ring]] = Counter()
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        seam, node = (a, b) if piece.group[a] != 0 else (b, a)
        low, high = sorted(members[piece.strand[seam]])
        name = f"mesh-seam {low} {high}"
        found[frozenset([ring(piece, node), (name, 1, piece.companion[seam])])] += 1
    assert found == Counter(links_of(sheet))


@SAME_EACH_TIME
@given(walks)
def test_next_and_along(walk: Walk) -> None:
    piece, told = woven(walk)
    if walk_runs_out(walk):
        assert told == {"group-spent"}
        return
    assert told == ({"left-over"} if walk_leaves_some(walk) else set())
    assert len(piece) == rings_of(walk)
    assert links(piece) == Counter(links_of(walk))
