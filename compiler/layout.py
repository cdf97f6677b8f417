"""Data of the stage between weave and figures: what is to be laid out, and where its rings came to lie.

A `LayoutProblem` (sizes of rings, the declared state of pairs, companions, hints) goes into `settle`; a
`Layout` (one circle in space per ring, and the verdict of the proof) comes out. Lengths are millimetres
throughout.
"""

from collections.abc import Iterable, Sequence
from enum import Enum
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

Vector = tuple[float, float, float]

PLACE_DECIMALS = 4  # kept places of rings are rounded to 0.0001 mm
NORMAL_DECIMALS = 7  # kept directions are rounded to 1e-7, less than 0.0001 mm at the rim of any ring we draw

ENDING = ".layout"
"""Of a file beside a pattern that keeps its layouts."""


def kept_path(pattern: Path, variant: str = "") -> Path:
    """The file beside a pattern, or of a variant of it: its own name with another ending."""
    return pattern.with_suffix(f".{variant}{ENDING}" if variant else ENDING)


def kept_beside(pattern: str, variant: str = "") -> Path | None:
    """The kept file of a pattern given by name, or of one of its variants; standard input has none.

    A variant whose rings are those of the pattern as written, or of another metal, needs no file of its own.
    """
    if pattern == "-":
        return None
    own = kept_path(Path(pattern), variant)
    return own if own.exists() else kept_path(Path(pattern))


class PairState(Enum):
    """How two closed rings lie to each other, told by how often each pierces the disc of the other."""

    APART = "apart"  # (0, 0)
    LINKED = "linked"  # (1, 1)
    A_AROUND_B = "a-around-b"  # (2, 0): b pierces the disc of a twice
    B_AROUND_A = "b-around-a"  # (0, 2)

    def swapped(self) -> "PairState":
        """The same state told with the two rings exchanged."""
        if self is PairState.A_AROUND_B:
            return PairState.B_AROUND_A
        return PairState.A_AROUND_B if self is PairState.B_AROUND_A else self


class HintUnit(Enum):
    """What one unit of a hinted place means."""

    MILLIMETRE = "millimetre"
    SPACING = "spacing"  # a lattice step; how many millimetres it is along x and along y, the solver finds


class Circle(Struct, frozen=True, kw_only=True):
    """A ring in space: a rigid circle with a round wire along it."""

    centre: Vector  # mm
    normal: Vector  # across the disc, of unit length but for rounding; orients the circle right-handedly
    core_radius: float  # mm, of the middle of the wire: (inner diameter + wire) / 2
    tube_radius: float  # mm, half the wire


class RingSize(Struct, frozen=True, kw_only=True):
    """The size of one ring."""

    core_radius: float  # mm, (inner diameter + wire) / 2
    tube_radius: float  # mm, wire / 2


class DeclaredPair(Struct, frozen=True, kw_only=True):
    """Two rings that are declared not to be apart."""

    a: int  # ring index
    b: int  # ring index
    state: PairState


class CycleSign(Struct, frozen=True, kw_only=True):
    """A fact of handedness: the product of the link signs round a closed loop of linked rings.

    Each ring of the loop takes part in two of its links, so the product does not depend on which way a ring's
    normal points.
    """

    rings: tuple[int, ...]  # ring indices in order; each is linked with the next, the last with the first
    product: int  # +1 or -1


class Between(Struct, frozen=True, kw_only=True):
    """A ring that passes through the gap of two companions without being linked with either."""

    ring: int  # ring index
    first: int  # ring index of one companion
    second: int  # ring index of the other


FourRings = tuple[int, int, int, int]


class Over(Struct, frozen=True, kw_only=True):
    """A ring that lies over another, nearer the front, where they overlap without being linked."""

    upper: int  # ring index
    lower: int  # ring index
    frame: FourRings | None = None
    """In a sheet or tube, four rings near by: left and right, below and above, seen from the front. Else the
    front is a side of the whole piece."""


class Closing(Struct, frozen=True, kw_only=True):
    """How a round or a tube closes on itself."""

    rows: tuple[tuple[int, ...], ...]  # ring indices, a row the places from left to right, the lowest first
    half_turns: int | None = None  # clockwise, looking along the row; None: not asked
    front_outside: bool | None = None  # whether the front of a tube is its outside; None: not asked


class Lean(Struct, frozen=True, kw_only=True):
    """A ring of a sheet or tube that leans along its row: what of it is nearest to the eye lies to that side."""

    ring: int  # ring index
    right: bool
    frame: FourRings  # as of `Over`


class Turn(Struct, frozen=True, kw_only=True):
    """Rings that follow one another in a line, each turned so far from how the one before it lies."""

    rings: tuple[int, ...]  # ring indices in order along the line
    degrees: int  # 0 to 359, clockwise, looking along the line from its first ring


class Ahead(Struct, frozen=True, kw_only=True):
    """Companions that lie front and back: each nearer the front than the next."""

    rings: tuple[int, ...]  # ring indices of a strand, the first in front
    frame: FourRings | None = None  # as of `Over`


class Hint(Struct, frozen=True, kw_only=True):
    """Where the search may start with one ring; never a constraint."""

    ring: int  # ring index
    place: Vector | None = None  # in the problem's hint unit
    normal: Vector | None = None  # any length


class LayoutProblem(Struct, frozen=True, kw_only=True):
    """What `settle` is asked for: rings, how they are woven, and what is known of where they lie.

    A pair that is not named in `pairs` is apart. Rings of a strand are named side by side, in order.
    """

    rings: tuple[RingSize, ...]
    pairs: tuple[DeclaredPair, ...]
    strands: tuple[tuple[int, ...], ...] = ()  # companions, as ring indices; a lone ring need not be named
    cycles: tuple[CycleSign, ...] = ()
    between: tuple[Between, ...] = ()
    overs: tuple[Over, ...] = ()
    closings: tuple[Closing, ...] = ()
    leans: tuple[Lean, ...] = ()
    turns: tuple[Turn, ...] = ()
    aheads: tuple[Ahead, ...] = ()
    hints: tuple[Hint, ...] = ()
    hint_unit: HintUnit = HintUnit.SPACING


class WrongPair(Struct, frozen=True, kw_only=True):
    """A pair of rings that does not lie as declared."""

    a: int  # ring index, less than b
    b: int  # ring index
    declared: PairState
    found: PairState


def only_rings(problem: LayoutProblem, kept: Sequence[int]) -> LayoutProblem:
    """The problem of these rings alone, numbered in this order, with what is declared of no other ring."""
    number = {ring: index for index, ring in enumerate(kept)}

    def inside(*rings: int) -> bool:
        return all(ring in number for ring in rings)

    def moved(rings: Iterable[int]) -> tuple[int, ...]:
        return tuple(number[ring] for ring in rings)

    def four(rings: FourRings) -> FourRings:
        left, right, below, above = rings
        return number[left], number[right], number[below], number[above]

    def near(rings: FourRings | None) -> FourRings | None:
        return None if rings is None else four(rings)

    strands = (tuple(number[ring] for ring in strand if ring in number) for strand in problem.strands)
    return replace(
        problem,
        rings=tuple(problem.rings[ring] for ring in kept),
        pairs=tuple(
            replace(pair, a=number[pair.a], b=number[pair.b])
            for pair in problem.pairs
            if inside(pair.a, pair.b)
        ),
        strands=tuple(strand for strand in strands if len(strand) > 1),
        cycles=tuple(
            replace(cycle, rings=moved(cycle.rings)) for cycle in problem.cycles if inside(*cycle.rings)
        ),
        between=tuple(
            replace(fact, ring=number[fact.ring], first=number[fact.first], second=number[fact.second])
            for fact in problem.between
            if inside(fact.ring, fact.first, fact.second)
        ),
        overs=tuple(
            Over(upper=number[fact.upper], lower=number[fact.lower], frame=near(fact.frame))
            for fact in problem.overs
            if inside(fact.upper, fact.lower, *(fact.frame or ()))
        ),
        closings=tuple(
            replace(fact, rows=tuple(map(moved, fact.rows)))
            for fact in problem.closings
            if all(inside(*row) for row in fact.rows)
        ),
        leans=tuple(
            replace(fact, ring=number[fact.ring], frame=four(fact.frame))
            for fact in problem.leans
            if inside(fact.ring, *fact.frame)
        ),
        turns=tuple(replace(fact, rings=moved(fact.rings)) for fact in problem.turns if inside(*fact.rings)),
        aheads=tuple(
            Ahead(rings=moved(fact.rings), frame=near(fact.frame))
            for fact in problem.aheads
            if inside(*fact.rings, *(fact.frame or ()))
        ),
        hints=tuple(replace(hint, ring=number[hint.ring]) for hint in problem.hints if hint.ring in number),
    )


class Verdict(Struct, frozen=True, kw_only=True):
    """What the proof found, on the rounded numbers."""

    proved: bool  # every fact as declared, and clearance at least 1
    clearance: float  # a lower bound of least distance of cores / sum of tube radii, capped (see prove)
    tightest: tuple[int, int] | None  # the pair of that clearance; None where no two rings come near
    wrong_pairs: tuple[WrongPair, ...] = ()
    wrong_cycles: tuple[CycleSign, ...] = ()
    wrong_between: tuple[Between, ...] = ()
    wrong_overs: tuple[Over, ...] = ()
    wrong_closings: tuple[Closing, ...] = ()
    wrong_leans: tuple[Lean, ...] = ()
    wrong_turns: tuple[Turn, ...] = ()
    wrong_aheads: tuple[Ahead, ...] = ()

    @property
    def wrong_poses(self) -> int:
        """How many facts of how rings lean, are turned, or lie front and back are not as declared."""
        return len(self.wrong_leans) + len(self.wrong_turns) + len(self.wrong_aheads)

    @property
    def wrong_facts(self) -> int:
        """How many facts are not as declared, besides pairs."""
        others = self.wrong_cycles, self.wrong_between, self.wrong_overs, self.wrong_closings
        return sum(map(len, others), self.wrong_poses)


class Layout(Struct, frozen=True, kw_only=True):
    """Where every ring lies, in the order of the problem's rings, and whether that is proved."""

    circles: tuple[Circle, ...]
    verdict: Verdict


def mirrored(circles: Iterable[Circle]) -> tuple[Circle, ...]:
    """The mirror image, in the plane z = 0."""
    return tuple(
        Circle(
            centre=(*circle.centre[:2], 0.0 - circle.centre[2]),
            normal=(*circle.normal[:2], 0.0 - circle.normal[2]),
            core_radius=circle.core_radius,
            tube_radius=circle.tube_radius,
        )
        for circle in circles
    )


def rounded_circle(centre: Iterable[float], normal: Iterable[float], size: RingSize) -> Circle:
    """A circle at the precision that is kept, so that what is proved is what is stored and drawn."""
    x, y, z = (round(float(value), PLACE_DECIMALS) + 0.0 for value in centre)
    u, v, w = (round(float(value), NORMAL_DECIMALS) + 0.0 for value in normal)
    return Circle(
        centre=(x, y, z), normal=(u, v, w), core_radius=size.core_radius, tube_radius=size.tube_radius
    )
