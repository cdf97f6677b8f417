"""What is known of each weave of the library, apart from the compiler: rings, links, and how many rings hold most.

Every count is a formula in the unit's own numbers, worked out by hand from the lattice or the chain, and tried at two
sizes. `COMMON_PRACTICE` marks what the trade knows and no published source was found for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

COMMON_PRACTICE = "common practice"
COUNTED = "counted by hand"
MAIL = (
    "each ring meshes with four others, in a denser variant with six: Dries, Wallmersperger and Kessler, "
    "Acta Mechanica 2022, doi 10.1007/s00707-022-03393-2"
)
MATCHSTICK_HEXAGON = "OEIS A003215 (points) and A045945 (matchsticks)"
MATCHSTICK_RHOMBUS = "rhombic matchsticks, OEIS A045944 where both sides are equal"
MATCHSTICK_TRIANGLE = "OEIS A000217 (points) and A045943 (matchsticks)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """A unit at one size."""

    file: str
    """In `patterns/units`, without its ending."""
    unit: str
    sizes: Mapping[str, int]
    rings: Mapping[str, int]
    """By kind of ring."""
    links: int
    """Pairs that are linked, those with an eye of a finding among them."""
    most: int
    """The most that a ring of the unit holds."""
    holding_most: int
    """How many rings hold so many."""
    around: int = 0
    """Rings that lie around a joint."""
    source: str = COUNTED

    @property
    def name(self) -> str:
        """For the report of the test."""
        return " ".join([self.unit, *(f"{key}={value}" for key, value in self.sizes.items())])


def _one(
    where: str,
    sizes: Mapping[str, int],
    rings: Mapping[str, int],
    links: int,
    most: tuple[int, int],
    source: str = COUNTED,
    around: int = 0,
) -> Fact:
    """A fact; `where` is the file and the unit, `most` what a ring holds at most and how many hold so many."""
    file, unit = where.split("/")
    return Fact(
        file=file,
        unit=unit,
        sizes=sizes,
        rings=rings,
        links=links,
        most=most[0],
        holding_most=most[1],
        around=around,
        source=source,
    )


def _sheets() -> Iterator[Fact]:
    """Staggered rows: 2a - 1 links between two rows of a; straight rows through three: 3a - 2."""
    for a, d in ((7, 6), (4, 3)):
        sizes = {"across": a, "down": d}
        two, three = (d - 1) * (2 * a - 1), (d - 1) * (3 * a - 2)
        inside_two, inside_three = (a - 1) * (d - 2), (a - 2) * (d - 2)
        yield _one("sheets/four-in-one", sizes, {"link": a * d}, two, (4, inside_two), MAIL)
        yield _one("sheets/six-in-one", sizes, {"wide": a * d}, three, (6, inside_three), MAIL)
        yield _one(
            "sheets/eight-in-two", sizes, {"pair": 2 * a * d}, 4 * two, (8, 2 * inside_two), COMMON_PRACTICE
        )
        yield _one(
            "sheets/twelve-in-two",
            sizes,
            {"broad": 2 * a * d},
            4 * three,
            (12, 2 * inside_three),
            COMMON_PRACTICE,
        )
        yield _one(
            "sheets/twelve-in-three",
            sizes,
            {"triple": 3 * a * d},
            9 * two,
            (12, 3 * inside_two),
            COMMON_PRACTICE,
        )
        yield _one("sheets/lozenge", {"across": a}, {"link": a * a}, 2 * a * (a - 1), (4, (a - 2) ** 2), MAIL)


def _lattice(
    unit: str, sizes: Mapping[str, int], points: int, seams: int, most: tuple[int, int], source: str
) -> Fact:
    """Points and seams; a doubled weave has twice the rings and four times the links."""
    bundle = 2 if unit.endswith("doubled") else 1
    large, small = ("large", "small") if bundle == 2 else ("plate", "joint")
    rings = {large: bundle * points, small: bundle * seams}
    holds, inside = most
    return _one(
        f"two-size/{unit}",
        sizes,
        rings,
        2 * bundle * bundle * seams,
        (bundle * holds, bundle * inside),
        source,
    )


def _lattices() -> Iterator[Fact]:
    for a, d in ((5, 4), (3, 6)):
        sizes, points, inside = {"across": a, "down": d}, a * d, (a - 2) * (d - 2)
        square, rhombus = 2 * a * d - a - d, 3 * a * d - 2 * a - 2 * d + 1
        yield _lattice("square-single", sizes, points, square, (4, inside), COUNTED)
        yield _lattice("square-doubled", sizes, points, square, (4, inside), COUNTED)
        yield _lattice("triangular-single", sizes, points, rhombus, (6, inside), MATCHSTICK_RHOMBUS)
        rings, twelve = {"large": 2 * points, "small": 2 * rhombus}, (12, 2 * inside)
        yield _one("rhombus/rhombus", sizes, rings, 8 * rhombus, twelve, MATCHSTICK_RHOMBUS)
    for side in (4, 5):
        points, seams = side * (side + 1) // 2, 3 * side * (side - 1) // 2
        inside = (side - 2) * (side - 3) // 2
        yield _lattice("triangle-doubled", {"side": side}, points, seams, (6, inside), MATCHSTICK_TRIANGLE)
    for side in (2, 3):
        n = side - 1
        points, seams, inside = 3 * n * (n + 1) + 1, 3 * n * (3 * n + 1), 3 * n * (n - 1) + 1
        yield _lattice("hexagon-single", {"side": side}, points, seams, (6, inside), MATCHSTICK_HEXAGON)


def _chains() -> Iterator[Fact]:
    for n in (15, 8):
        sizes = {"repeats": n}
        yield _one("chains/one-in-one", sizes, {"link": n}, n - 1, (2, n - 2))
        yield _one("chains/two-in-two", sizes, {"link": 2 * n}, 4 * (n - 1), (4, 2 * (n - 2)))
        yield _one("chains/three-in-three", sizes, {"fine": 3 * n}, 9 * (n - 1), (6, 3 * (n - 2)))
        yield _one("chains/two-in-one", sizes, {"link": 3 * n}, 4 * n - 2, (4, n - 1))
        yield _one("chains/three-ring-spiral", sizes, {"snug": n}, 2 * n - 3, (4, n - 4), COMMON_PRACTICE)
        yield _one("chains/four-ring-spiral", sizes, {"close": n}, 3 * n - 6, (6, n - 6), COMMON_PRACTICE)


def _rosettes() -> Iterator[Fact]:
    """In a rosette of n every two rings are linked: n (n - 1) / 2 links."""
    for unit, kind, n in (
        ("rosette-three", "link", 3),
        ("rosette-five", "link", 5),
        ("rosette-seven", "hoop", 7),
    ):
        yield _one(f"rosettes/{unit}", {}, {kind: n}, n * (n - 1) // 2, (n - 1, n))
    for n in (4, 7):
        links = 3 * n + 6 * (n - 1)
        yield _one("rosettes/rosette-chain", {"repeats": n}, {"link": 4 * n - 1}, links, (6, n - 1))
    for n in (6, 5):
        rings = {"large": 2 + 2 * n, "small": 4 * n}
        yield _one("rosettes/flower", {"petals": n}, rings, 16 * n, (2 * n, 2), COMMON_PRACTICE)


def _tubes() -> Iterator[Fact]:
    for r, h in ((8, 6), (10, 4)):
        sizes, inside, band = {"around-it": r, "high": h}, r * (h - 2), r * (2 * h - 1)
        yield _one("tubes/four-in-one-tube", sizes, {"light": r * h}, 2 * r * (h - 1), (4, inside), MAIL)
        yield _one("tubes/six-in-one-tube", sizes, {"wide": r * h}, 3 * r * (h - 1), (6, inside), MAIL)
        yield _one("tubes/square-band", sizes, {"plate": r * h, "joint": band}, 2 * band, (4, inside))
    for n in (24, 20):
        sizes = {"repeats": n}
        yield _one("tubes/closed-chain", sizes, {"link": n}, n, (2, n))
        yield _one("tubes/closed-two-in-two", sizes, {"link": 2 * n}, 4 * n, (4, 2 * n))
        yield _one("tubes/closed-spiral", sizes, {"snug": n}, 2 * n, (4, n))


def _fringes() -> Iterator[Fact]:
    for across, long in ((9, 3), (6, 2)):
        sizes, hanging = {"across": across, "long": long}, (across + 1) // 2 * long
        rings = {"link": across, "tiny": hanging}
        yield _one("fringes/even-fringe", sizes, rings, across - 1 + hanging, (3, (across - 2) // 2))
    for half in (4, 3):
        hanging = sum(range(2, half + 2)) + sum(range(2, half + 1))
        rings, links = {"link": 2 * half - 1, "tiny": hanging}, 2 * half - 2 + hanging
        yield _one("fringes/graded-fringe", {"half": half}, rings, links, (3, 2 * half - 3))
    for a in (7, 4):
        # the small ring joins the last of the edge to the drop: two links more
        rings, inside = {"link": a * (a + 1) // 2, "tiny": 1}, (a - 2) * (a - 3) // 2
        yield _one("fringes/pointed-fringe", {"across": a}, rings, a * (a - 1) + 2, (4, inside))
    for n in (9, 5):
        yield _one("fringes/shaggy-chain", {"repeats": n}, {"link": n, "tiny": 2 * n}, 3 * n - 1, (4, n - 2))
        yield _one("fringes/strand", {"long": n}, {"tiny": n}, n - 1, (2, n - 2))
    for strands, long in ((5, 4), (7, 3)):
        rings = {"link": 1, "tiny": strands * long}
        yield _one("fringes/tassel", {"strands": strands, "long": long}, rings, strands * long, (strands, 1))


def _strips() -> Iterator[Fact]:
    for n in (10, 6):
        sizes, three, four = {"repeats": n}, (3, 2 * (n - 2)), (4, 2 * (n - 3))
        yield _one("strips/six-in-one-strip", sizes, {"link": 2 * n}, 3 * n - 2, three, COMMON_PRACTICE)
        yield _one("strips/eight-in-one-strip", sizes, {"wide": 2 * n}, 4 * n - 4, four, COMMON_PRACTICE)


def _captive() -> Iterator[Fact]:
    for n in (7, 4):
        sizes = {"repeats": n}
        collared = {"link": n, "collar": n - 1}
        yield _one("captive/orbital-chain", sizes, collared, n - 1, (2, n - 2), COMMON_PRACTICE, n - 1)
        double = {"stout": n, "wreath": 2 * (n - 1)}
        yield _one("captive/orbital-double", sizes, double, n - 1, (2, n - 2), COMMON_PRACTICE, 2 * (n - 1))
        pairs = {"link": 4 * n, "broad": n}
        yield _one("captive/orbital-pairs", sizes, pairs, 4 * (2 * n - 1), (4, 4 * n - 4), COMMON_PRACTICE, n)


def _expansions() -> Iterator[Fact]:
    for foot, rim in ((6, 9), (8, 10)):
        # every ring is joined to its two neighbours in the round and, from the second round on, to one below; in each
        # round but the first and the last one ring has two above
        points = sum(range(foot, rim + 1))
        joints = 2 * points - foot
        rings = {"plate": points, "joint": joints}
        yield _one("expansions/cone", {"foot": foot, "rim": rim}, rings, 2 * joints, (5, rim - foot - 1))
    # 6 + 12 seams round about, 6 + 12 to the round inside
    yield _one("expansions/round-disc", {}, {"plate": 19, "joint": 36}, 72, (6, 1))
    for g in (5, 6, 7):
        # g to the centre; to each further round r two each, but one at g corners: g (2 r - 1)
        rings, links = {"link": 1 + g + 2 * g + 3 * g}, g + sum(g * (2 * r - 1) for r in (2, 3))
        # the centre holds g; of the others none holds more than four
        yield _one("expansions/mail-disc", {"growth": g}, rings, links, (g, 1))


def _two_edges() -> Iterator[Fact]:
    """Two edges in turn: each ring but three at each end goes through two of the other edge and holds two more."""
    for n in (8, 5):
        sizes, holding = {"places": n}, 2 * n + 3 - 6
        links = 4 * n + 2
        yield _one("persian/half-persian", sizes, {"link": 2 * n + 3}, links, (4, holding), COMMON_PRACTICE)
        # through one and two in turn: all but the first and last of each edge hold three
        three = (3, 2 * n - 2)
        rings = {"link": 2 * n + 2}
        yield _one("persian/half-persian-three", sizes, rings, 3 * n + 1, three, COMMON_PRACTICE)
        # pairs; the first pair holds one pair, the second two, and so from the other end on the other edge
        rings, six = {"thin": 4 * n + 8}, (6, 4 * n)
        yield _one("persian/full-persian", sizes, rings, 12 * n + 12, six, COMMON_PRACTICE)


def _persian_sheets() -> Iterator[Fact]:
    """Rows that share their edges: 3a - 2 links between two rows of a, as where rows lie straight and flat."""
    for a, d in ((5, 4), (4, 3)):
        sizes, links, inside = {"across": a, "down": d}, (d - 1) * (3 * a - 2), (a - 2) * (d - 2)
        yield _one("persian/half-persian-sheet", sizes, {"roomy": a * d}, links, (6, inside), COMMON_PRACTICE)
    for a, d in ((5, 3), (7, 4)):
        # each through four of the row below, at the ends one or two fewer
        sizes, links, inside = {"across": a, "down": d}, (d - 1) * (4 * a - 4), (a - 4) * (d - 2)
        yield _one(
            "persian/half-persian-four-sheet", sizes, {"vast": a * d}, links, (8, inside), COMMON_PRACTICE
        )


def _folded() -> Iterator[Fact]:
    """Pairs in a row, each pair linked with the next: 4 links; the folds add none."""
    for n in (4, 3):
        sizes = {"repeats": n}
        rings, links = {"link": 6 * n + 2}, 12 * n
        yield _one("folded/byzantine", sizes, rings, links, (4, 6 * n - 2), COMMON_PRACTICE)
        rings, links = {"roomy": 4 * n + 2}, 8 * n
        yield _one("folded/box", sizes, rings, links, (4, 4 * n - 2), COMMON_PRACTICE)


def _scales() -> Iterator[Fact]:
    """Small rings each through two of the row below and held by two above; small rings inside add no link."""
    for a, d in ((5, 3), (4, 4)):
        sizes, small = {"across": a, "down": d}, (a - 1) * (d - 1)
        rings = {"scale": a * d, "pip": small}
        # the small ones hold four, and so do the large ones but at the edges
        yield _one("scales/graded-rows", sizes, rings, 4 * small, (4, small + (a - 2) * (d - 2)))
        rings = {"scale": a * d, "pip": a * (d - 2)}
        yield _one("scales/filled-scales", sizes, rings, (d - 1) * (2 * a - 1), (4, (a - 1) * (d - 2)))


FACTS: tuple[Fact, ...] = (
    *_sheets(),
    *_lattices(),
    *_chains(),
    *_rosettes(),
    *_tubes(),
    *_fringes(),
    *_strips(),
    *_captive(),
    *_expansions(),
    *_two_edges(),
    *_persian_sheets(),
    *_folded(),
    *_scales(),
)

NOT_FOUND: dict[str, set[str]] = {}
"""By name of the pattern file: its pieces for which no layout was found. They must have none kept either."""
