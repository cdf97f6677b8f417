"""The weave: every ring, motion and link of each piece, as columns. Made by expand, read by every later stage.

A piece has **nodes**: rings and the eyes of findings, numbered from 0 in the order in which they come into the
work. Columns are `array` objects, so that a sheet of a million rings fits; `PieceWeave.ring(i)` and its kin are
small views for reading. Nothing here computes: indexes that several stages want are in `compiler.graph`.
"""

from __future__ import annotations

from array import array
from collections.abc import Mapping
from decimal import Decimal
from enum import Enum, IntEnum

from msgspec import Struct

from notation.diagnostic import Place
from notation.handling import HandMotion, RemarkKind
from notation.metals import METALS, Metal
from notation.nodes import Bundle, Relative, Which
from notation.statements import FamilyKind, Stagger, Statement

# ---------------------------------------------------------------- what rings and findings there are


class RingKind(Struct, frozen=True, kw_only=True):
    """A kind of ring, sizes exact in mm."""

    name: str
    inner_mm: Decimal
    wire_mm: Decimal
    metal: str
    bundle: Bundle
    """SINGLE (also when nothing is said), PAIRS or TRIPLES."""
    singular: str
    plural: str
    gauge: str | None
    """`awg 18` when the wire was given by gauge."""
    place: Place


class EyeKind(Struct, frozen=True, kw_only=True):
    """An eye of a finding: a closed round hole in wire of the finding's thickness."""

    name: str
    """`eye` when the text gives no name."""
    inner_mm: Decimal
    opens: bool
    free: bool


class FindingKind(Struct, frozen=True, kw_only=True):
    """A kind of bought part."""

    name: str
    type: str
    eyes: tuple[EyeKind, ...]
    wire_mm: Decimal | None
    length_mm: Decimal | None
    metal: str | None
    singular: str
    plural: str
    place: Place


class KitEntry(Struct, frozen=True, kw_only=True):
    """So many of a kind or finding in one packet."""

    kind: str
    count: int
    place: Place


# ---------------------------------------------------------------- where in the expansion something stands


class SiteKind(Enum):
    """What opened a level of the expansion."""

    PIECE = "piece"
    UNIT = "unit"
    ROUND = "round"
    """A round of a for, for each or repeat."""
    PLACE = "place"
    """A place of a line or round, or a row of a sheet or tube."""
    STATEMENT = "statement"


class Site(Struct, frozen=True, kw_only=True):
    """A node of the tree of uses, rounds, places and statements; sites are numbered from 0 in order of execution."""

    parent: int
    """-1 for a piece."""
    kind: SiteKind
    place: Place
    """Of the statement (for a unit: of the `make` that used it)."""
    name: str
    """UNIT: the name of the use; ROUND: the counter; PLACE: the family; PIECE: the piece; STATEMENT: empty."""
    number: int
    """ROUND, PLACE: the counter's value, the place's or row's number; else 0."""
    mirrored: bool = False
    """UNIT: whether this use makes the mirror image."""
    statement: Statement | None = None
    """STATEMENT: the node, for the words."""


class FamilyShape(Struct, frozen=True, kw_only=True):
    """How the places of a family lie: what `the two below` and a flat drawing need."""

    kind: FamilyKind
    widths: tuple[int, ...]
    """Places per row; one entry for a line or round."""
    offsets: tuple[int, ...]
    """Half places by which each row is shifted to the right; same length as widths."""
    stagger: Stagger
    downward: bool


class Group(Struct, frozen=True, kw_only=True):
    """A named group of strands. Its members are numbered from 1 in order of making."""

    key: str
    """Path key within the piece, `body/point`."""
    name: str
    singular: str
    plural: str
    owner: str
    """Printed name of the unit use it lives in where that is needed to tell it apart (`lozenge 2`), else empty."""
    shape: FamilyShape | None
    """Set for the members of a family; member numbers then run place by place, row by row."""
    connector_of: int
    """Group index of the family whose neighbours these rings join (`joined to ... by`), else -1."""


class Companionship(Enum):
    """How the rings of a strand lie to one another."""

    SIDE_BY_SIDE = "side by side"
    FRONT_AND_BACK = "front and back"
    """One before the other, the first in front."""
    NESTED = "nested"
    """One in the other's hole, following the same way."""


class PoseKind(Enum):
    """What lasts in how the work lies, beyond what is linked with what."""

    FOLDED = "folded"
    """`nodes` are folded back, one to each side of `onto`."""
    SPREAD = "spread"
    LEAN_LEFT = "lean left"
    LEAN_RIGHT = "lean right"
    TURNED = "turned"
    """`nodes` are turned by `amount` degrees, clockwise, looking along the work from where it began."""
    HALF_TURNS = "half turns"
    """The family of `nodes` (its first member) closes on itself with `amount` half turns, clockwise, looking along the
    work from where it began; less than 0: anticlockwise."""
    FRONT_INSIDE = "front inside"
    """The family of `nodes` (its first member) closes on itself with its front inside."""
    CLOCKWISE = "clockwise"
    """The work goes on clockwise, seen from the front."""
    ANTICLOCKWISE = "anticlockwise"


class Pose(Struct, frozen=True, kw_only=True):
    """A lasting pose of some rings or of the whole piece."""

    kind: PoseKind
    nodes: tuple[int, ...] = ()
    onto: tuple[int, ...] = ()
    amount: int = 0
    at: int = 0
    """Before which motion it is asked for."""


# ---------------------------------------------------------------- motions


class Verb(IntEnum):
    """What a motion does. The actor is the ring or eye that is open during it."""

    TAKE = 0
    """A closed ring is taken in hand or laid down: no links."""
    PASS = 1
    """An open ring goes through its path, takes its load along, and is closed."""
    TWIN = 2
    """As PASS, by a companion that follows the same way as the motion before it."""
    REOPEN = 3
    """A ring in the work is opened again, goes through its path, and is closed."""
    HANG = 4
    """An eye of a finding is opened and closed on its path."""


class Mention(Struct, frozen=True, kw_only=True):
    """How the text names part of a path: one pick, and the nodes that it came to, for the words.

    `form` is the pick as written; the wording decides between `the two below` and `arm 3`.
    """

    form: Relative | Which | None
    """None: by name."""
    start: int
    """First position in the motion's path."""
    stop: int
    """One past the last position."""
    eye: bool
    gathering: bool
    """Fed onto the open ring instead of gone through."""
    waiting: bool
    """A connector that was carried for this neighbour (`joined to`)."""


class Motions(Struct, kw_only=True):
    """Columns of a piece's motions, in order of making. Paths and loads are runs of one long column each."""

    verb: array[int]
    """`B`, values of Verb."""
    actor: array[int]
    """`i`, node id."""
    site: array[int]
    """`i`, index into Weave.sites: the statement."""
    path_start: array[int]
    """`i`, length motions + 1: where each motion's path starts in path_node."""
    path_node: array[int]
    """`i`, nodes gone through, in order."""
    path_behind: array[int]
    """`b`, 1 where entered from behind."""
    load_start: array[int]
    """`i`, length motions + 1."""
    load_node: array[int]
    """`i`, nodes carried: new, closed, linked with the actor."""
    mentions: dict[int, tuple[Mention, ...]]
    """By motion; a motion whose path is exactly one relative pick of its family has no entry (sheets stay small)."""


class RelationKind(Enum):
    """How two nodes (or a node and a strand) are related otherwise than by a link."""

    AROUND = "around"
    """`node` goes around every one of `others`: one ring, or the two rings of a joint."""
    BETWEEN = "between"
    """`node` lies in the gap of the strand that `others` are."""
    INSIDE = "inside"
    """`node` lies in the hole of each of `others`, which are around it."""
    OVER = "over"
    """`node` lies over each of `others`, where they overlap without being linked, seen from the front."""
    UNDER = "under"
    """`node` lies under each of `others`."""
    GAP = "gap"
    """`node` hangs on the first of `others`, between the second and the third, its neighbours there."""


class Relation(Struct, frozen=True, kw_only=True):
    """A captive relation, with the motion that made it."""

    kind: RelationKind
    node: int
    others: tuple[int, ...]
    motion: int


class FindingUse(Struct, frozen=True, kw_only=True):
    """A finding in the work."""

    kind: int
    """Index into Weave.finding_kinds."""
    key: str
    label: str
    """`glass drop 2`, or just `clasp` where there is one."""
    eyes: tuple[int, ...]
    """Node ids, in the order of FindingKind.eyes."""
    motion: int
    """The motion that brought it in."""


class EventKind(Enum):
    """What stands between motions."""

    REMARK = "remark"
    HANDLE = "handle"
    CHECKPOINT = "checkpoint"
    """An `expect` that held: printed as a check for the maker."""
    POSE = "pose"
    """A lasting pose, in `pose`."""
    HELPER_IN = "helper in"
    """A helper wire called `text` is put through `nodes`."""
    HELPER_OUT = "helper out"
    """The helper called `text` is taken out."""


class Event(Struct, frozen=True, kw_only=True):
    """A remark, a motion of the hands or a checkpoint, before motion number `at` of the piece."""

    at: int
    kind: EventKind
    site: int
    remark: RemarkKind | None = None
    text: str = ""
    handle: HandMotion | None = None
    nodes: tuple[int, ...] = ()
    onto: tuple[int, ...] = ()
    until: str = ""
    """Printed name of the group waited for."""
    counts: tuple[tuple[str, int], ...] = ()
    """CHECKPOINT: kind (or `links`, `rings`, `half turns`) and count; for `holds` one entry, with `nodes` set.

    Where `text` is `around`, `between`, `inside` or `over`, `nodes` lie so to `onto`; where it is `plain` or `crossed`,
    the loop of `nodes` is.
    """
    pose: Pose | None = None


class StepRange(Struct, frozen=True, kw_only=True):
    """A step: motions first..stop, events whose `at` lies in it (those at `stop` belong to it, not to the next)."""

    key: str
    """Stable path key, `body/arm[3]`."""
    title: str
    """As typed, or empty: then the words make one from the group and place."""
    site: int
    first: int
    stop: int
    events: tuple[Event, ...]
    group: int
    """Index of the group that titles a step without a typed title, else -1."""
    number: int
    """Place, row or member number for that title, 0 when the step is the whole group."""


class PieceWeave(Struct, kw_only=True):
    """One piece, everything in it once."""

    name: str
    singular: str
    times: int
    parts: int
    place: Place
    site: int
    # nodes
    kind: array[int]
    """`h`: index into Weave.ring_kinds; for an eye, -1 - index into Weave.finding_kinds."""
    group: array[int]
    """`i`: index into groups; -1 for an eye."""
    member: array[int]
    """`i`: member number in the group, from 1; for an eye, the index of its FindingUse."""
    companion: array[int]
    """`B`: 0 for the first ring of its strand, 1 for its twin, and so on; for an eye, which eye."""
    strand: array[int]
    """`i`: the node id of the first ring of its strand; an eye is its own strand."""
    born: array[int]
    """`i`: the motion that brought it in."""
    # links
    link_a: array[int]
    """`i`: the actor."""
    link_b: array[int]
    """`i`: what it went through or carried."""
    link_motion: array[int]
    link_sign: array[int]
    """`b`: +1 entered from the front, -1 from behind."""
    relations: tuple[Relation, ...]
    groups: tuple[Group, ...]
    motions: Motions
    findings: tuple[FindingUse, ...]
    steps: tuple[StepRange, ...]
    broken: bool
    """Something in the piece could not be expanded (and was told): stay quiet about what follows from it."""
    companionship: dict[int, Companionship] = {}
    """By first node of a strand; a strand that lies side by side has no entry."""
    followers: dict[int, int] = {}
    """First node of a strand that is nested in another, of another pass, and follows its way: to that one's first."""
    poses: tuple[Pose, ...] = ()
    helpers: tuple[str, ...] = ()
    """What helper wires are called, in order of use: they count among the tools."""

    def __len__(self) -> int:
        return len(self.kind)


class Weave(Struct, frozen=True, kw_only=True):
    """A whole pattern, expanded."""

    source: str
    title: str
    by: str
    licence: str
    version: str
    level: str
    about: str
    ring_kinds: tuple[RingKind, ...]
    finding_kinds: tuple[FindingKind, ...]
    kit: tuple[KitEntry, ...] | None
    sites: tuple[Site, ...]
    pieces: tuple[PieceWeave, ...]
    complete: bool
    """False when a statement could not be read or expanded anywhere."""
    metals: Mapping[str, Metal] = METALS
    """By name: those of the notation, with a file of the user's own laid over them."""
