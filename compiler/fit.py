"""How much room the rings of a pattern have, by closed bounds and by the search; which other sizes would do.

In: a checked weave, the geometry of its pieces, sizes to be tried. Out: facts for `annulet fit` to print. A bound that
refuses sizes holds for any arrangement of rigid round rings; a layout that was found shows that sizes do; between
the two lies what was not found, of which nothing is known.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from itertools import product

from msgspec import structs

from compiler.check.adjacency import adjacency
from compiler.geometry import times, wires_at_most, wires_may_fit, wires_round_rim, wires_that_fit
from compiler.hints import hinted
from compiler.layout import Hint, HintUnit, Layout, LayoutProblem, RingSize
from compiler.proved import PieceGeometry
from compiler.settle.search import Budget, settle, slack
from compiler.stock_file import StockSize
from compiler.weave import PieceWeave, RelationKind, Weave

TRIED = Budget(last=300, work=150_000)
"""Work for each combination of sizes, and for each step of its slack: less than for a booklet, as there are many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole and what goes through it; a kind of ring counts from 0, an eye is given by its own numbers."""

    kind: int
    """Index into Weave.ring_kinds; -1 - index into Weave.finding_kinds for an eye."""
    eye: int
    """Which eye of the finding; 0 for a ring."""
    through: tuple[int, ...]
    """For each passage the kind of what goes through, numbered alike, ascending."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KindBounds:
    """The closed bounds of a kind of ring, for the fullest of its holes."""

    kind: int
    wires: tuple[tuple[Decimal, int], ...]
    """Thickness in mm and number of passages, thickest first."""
    filled: float
    """Cross-section of the wires as a share of the area of the hole."""
    at_most: int
    """Passages of the thickest wire that the hole certainly cannot exceed."""
    known: int
    """Passages of the thickest wire that are known to lie in it, counted up to 20."""
    rim: int
    """Passages of the thickest wire side by side along the rim."""
    refused: bool
    """The wires certainly cannot share the hole."""


class Outcome(Enum):
    """What came of a combination of sizes."""

    WOVEN = "woven"
    EXCLUDED = "excluded"
    NOT_FOUND = "not found"


@dataclass(frozen=True, slots=True, kw_only=True)
class Combination:
    """A size for each kind that is varied, and what came of it."""

    sizes: tuple[StockSize, ...]
    """In the order of the kinds that are varied."""
    outcome: Outcome
    slack: float = 0.0
    """WOVEN: the factor by which all wire was thickened with a proved layout."""
    clearance: float = 0.0
    """NOT_FOUND: the best clearance reached, of the piece that did worst."""
    hole: Hole | None = None
    """EXCLUDED: the first hole that a bound refuses."""


def holes(weave: Weave) -> tuple[Hole, ...]:
    """Every different hole of the pieces with what goes through it, in order of the first ring that has it."""
    found: dict[Hole, None] = {}
    for piece in weave.pieces:
        if piece.broken:
            continue
        twice = _gone_around(piece)
        rows = adjacency(piece)
        for node, kind in enumerate(piece.kind):
            through = [piece.kind[other] for other in rows.of(node)] + twice.get(node, [])
            if through:
                eye = piece.companion[node] if kind < 0 else 0
                found[Hole(kind=kind, eye=eye, through=tuple(sorted(through)))] = None
    return tuple(found)


def _gone_around(piece: PieceWeave) -> dict[int, list[int]]:
    """For each ring that goes around others their kinds, each twice."""
    twice: dict[int, list[int]] = {}
    for relation in piece.relations:
        if relation.kind is RelationKind.AROUND:
            twice.setdefault(relation.node, []).extend(
                piece.kind[other] for other in relation.others for _ in range(2)
            )
    return twice


# ---------------------------------------------------------------- closed bounds


def bounds(weave: Weave) -> tuple[KindBounds, ...]:
    """The bounds of each kind of ring that is used and gone through."""
    fullest: dict[int, tuple[float, list[Decimal]]] = {}
    for hole in holes(weave):
        if hole.kind < 0:
            continue
        wires = wires_through(weave, hole, {})
        area = math.fsum(float(wire) ** 2 for wire in wires)
        if hole.kind not in fullest or area > fullest[hole.kind][0]:
            fullest[hole.kind] = area, wires
    out = []
    for kind in sorted(fullest):
        area, wires = fullest[kind]
        inner, thickest = float(weave.ring_kinds[kind].inner_mm), float(max(wires, default=Decimal(1)))
        out.append(
            KindBounds(
                kind=kind,
                wires=tuple(sorted(Counter(wires).items(), reverse=True)),
                filled=area / inner**2,
                at_most=wires_at_most(inner, thickest),
                known=wires_that_fit(inner, thickest),
                rim=wires_round_rim(inner, thickest),
                refused=not wires_may_fit(inner, [float(wire) for wire in wires]),
            )
        )
    return tuple(out)


def wires_through(weave: Weave, hole: Hole, sizes: Mapping[int, StockSize]) -> list[Decimal]:
    """Thickness in mm of each wire through a hole, kinds in `sizes` having that size; unknown wires are left out."""
    wires = []
    for kind in hole.through:
        if kind in sizes:
            wires.append(sizes[kind].wire_mm)
            continue
        wire = weave.ring_kinds[kind].wire_mm if kind >= 0 else weave.finding_kinds[-1 - kind].wire_mm
        if wire is not None:
            wires.append(wire)
    return wires


def inner_of(weave: Weave, hole: Hole, sizes: Mapping[int, StockSize]) -> Decimal:
    """Inner diameter of a hole, mm."""
    if hole.kind in sizes:
        return sizes[hole.kind].inner_mm
    if hole.kind >= 0:
        return weave.ring_kinds[hole.kind].inner_mm
    return weave.finding_kinds[-1 - hole.kind].eyes[hole.eye].inner_mm


def refused(weave: Weave, found: Sequence[Hole], sizes: Mapping[int, StockSize]) -> Hole | None:
    """The first hole that certainly cannot hold its wires."""
    for hole in found:
        wires = [float(wire) for wire in wires_through(weave, hole, sizes)]
        if not wires_may_fit(float(inner_of(weave, hole, sizes)), wires):
            return hole
    return None


# ---------------------------------------------------------------- combinations of sizes


def used_kinds(weave: Weave) -> tuple[int, ...]:
    """Kinds of ring that the pieces use, in order of declaration."""
    return tuple(sorted({kind for piece in weave.pieces for kind in set(piece.kind) if kind >= 0}))


def combinations(
    weave: Weave,
    geometry: Sequence[PieceGeometry],
    kinds: Sequence[int],
    stock: Sequence[StockSize],
    progress: Callable[[int, int], None],
) -> tuple[Combination, ...]:
    """Every choice of a size for each of the kinds, tried; woven ones by slack, the others in order of the stock.

    `progress` is told the number of a combination, from 1, and how many there are.
    """
    every = list(product(stock, repeat=len(kinds)))
    passages = holes(weave)
    out = []
    for number, sizes in enumerate(every, start=1):
        chosen = dict(zip(kinds, sizes, strict=True))
        hole = refused(weave, passages, chosen)
        if hole is not None:
            out.append(Combination(sizes=sizes, outcome=Outcome.EXCLUDED, hole=hole))
            continue
        progress(number, len(every))
        out.append(_tried(weave, geometry, chosen, sizes))
    return tuple(sorted(out, key=lambda each: -each.slack))


def _tried(
    weave: Weave,
    geometry: Sequence[PieceGeometry],
    chosen: Mapping[int, StockSize],
    sizes: tuple[StockSize, ...],
) -> Combination:
    least = math.inf
    for each in geometry:
        if each.problem is None:
            continue
        given = each.problem if each.problem.hints else hinted(each.problem, weave, each.piece)
        problem, scale = resized(given, weave.pieces[each.piece], chosen)
        layout = continued(problem, each.layout, scale)
        if not layout.verdict.proved:
            clearance = min(1.0, layout.verdict.clearance)
            return Combination(sizes=sizes, outcome=Outcome.NOT_FOUND, clearance=clearance)
        least = min(least, slack(problem, layout, TRIED))
    return Combination(sizes=sizes, outcome=Outcome.WOVEN, slack=least)


def resized(
    problem: LayoutProblem, piece: PieceWeave, sizes: Mapping[int, StockSize]
) -> tuple[LayoutProblem, float]:
    """The problem with rings of other sizes, and how much larger they are in the mean; hinted places grow with them."""
    rings = []
    for ring, kind in zip(problem.rings, piece.kind, strict=False):  # of a large piece only the beginning
        size = sizes.get(kind)
        if size is None:
            rings.append(ring)
            continue
        inner, wire = float(size.inner_mm), float(size.wire_mm)
        rings.append(RingSize(core_radius=(inner + wire) / 2, tube_radius=wire / 2))
    before = math.fsum(ring.core_radius for ring in problem.rings)
    scale = math.fsum(ring.core_radius for ring in rings) / before if before else 1.0
    hints = tuple(
        hint if hint.place is None else structs.replace(hint, place=times(hint.place, scale))
        for hint in problem.hints
    )
    if problem.hint_unit is HintUnit.SPACING:
        hints = problem.hints
    return structs.replace(problem, rings=tuple(rings), hints=hints), scale


def continued(problem: LayoutProblem, layout: Layout | None, scale: float) -> Layout:
    """A layout of a resized problem: begun from a layout of the one before, scaled, and cold where that fails."""
    if layout is not None and layout.verdict.proved:
        hints = tuple(
            Hint(ring=ring, place=times(circle.centre, scale), normal=circle.normal)
            for ring, circle in enumerate(layout.circles)
        )
        begun = structs.replace(problem, hints=hints, hint_unit=HintUnit.MILLIMETRE)
        found = settle(begun, TRIED)
        if found.verdict.proved:
            return found
    return settle(problem, TRIED)
