"""Messages and nouns of the booklet as data: what is said, with typed arguments, and not a word of English.

Made by `compiler.word`, put into records by `compiler.steps`, turned into sentences by a catalogue. Noun phrases
are typed, so that a catalogue can decline them. The messages are enough to make a piece: the tests rebuild every
piece from them alone, with the side of every link, how rings lie to one another, and how the work is posed.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from notation.handling import HandMotion, RemarkKind
from notation.nodes import Hand, Relative

# ---------------------------------------------------------------- nouns


@dataclass(frozen=True, slots=True, kw_only=True)
class KindName:
    """What a kind of ring or finding is called."""

    key: str
    """The kind's name in the pattern: one key, one kind."""
    singular: str
    plural: str
    finding: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class KindCount:
    """So many rings or findings of a kind."""

    kind: KindName
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupName:
    """What the members of a group are called. Within a piece, noun and owner together belong to one group."""

    singular: str
    plural: str
    owner: str
    """The unit use that it lives in (`lozenge 2`), where that must be said; else empty."""
    kind: KindName
    """The kind of its rings."""
    strand: int
    """Rings in each member: 1, or 2 for a pair, 3 for a three."""
    rows: bool
    """Members are told by row and place, else by number."""
    tube: bool
    """Its rows are rounds of a tube."""
    alone: bool
    """The group has only one member, which therefore needs no number."""
    disc: bool = False
    """Its rows are rounds of a disc, the first innermost."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """Members next to one another: places `first` to `last` of a row, both included."""

    row: int
    """From 1; 0 in a group without rows."""
    first: int
    last: int

    def __len__(self) -> int:
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Members:
    """Members of one group, in the order in which they are taken."""

    group: GroupName
    ranges: tuple[Range, ...]
    companion: int = -1
    """-1: each member whole; 0: only its first ring; 1: only its twin; 2: only its third ring."""
    relation: Relative | None = None
    """What they are to the ring that is being woven (`the two below`): told beside their numbers."""
    waits_on: tuple[Members, ...] = ()
    """Connectors: the members on which they wait, one for each, in the same order."""
    meant_for: tuple[Meant, ...] = ()
    """New connectors: the members that go through them later, where each has only one."""

    @property
    def count(self) -> int:
        """How many members."""
        return sum(len(each) for each in self.ranges)


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """For which later members some new connectors are meant."""

    at: int
    """Which connector is the first of them, from 0."""
    each: int
    """How many connectors, next to one another, each of the later members takes."""
    members: Members
    """The later members, in the order of their connectors."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingPart:
    """A finding in the work, or one of its eyes."""

    kind: KindName
    label: str
    """Without its number: `glass drop`."""
    number: int
    """0 where there is only one."""
    eye: str
    """Which eye; empty where the finding has only one."""


Thing = Members | FindingPart


class Entry(Enum):
    """From which side rings are entered, where it must be said. TURNED: the front faces away from the maker."""

    FRONT = "front"
    BEHIND = "behind"
    FRONT_TURNED = "front, turned"
    BEHIND_TURNED = "behind, turned"


class TwinPlace(Enum):
    """Where a twin lies, as the maker sees it."""

    BESIDE = "beside"
    BEHIND = "behind"
    """Further from the maker than the first ring."""
    BEFORE = "before"
    """Nearer to the maker: what lies behind, while the work is turned over."""
    INSIDE = "inside"
    """In the hole of the first ring."""


class Turning(Enum):
    """The direction of work."""

    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"


@dataclass(frozen=True, slots=True, kw_only=True)
class SeriesLine:
    """What one member of a series meets: `ring 2` through `rings 1 and 2 of row 3`."""

    member: Members
    things: tuple[Thing, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """Members made one after the other, every number stepping on by the same amount from one to the next.

    Up to three lines tell them all; of a longer series the first, the second and the last line are here.
    """

    lines: tuple[SeriesLine, ...]
    count: int


# ---------------------------------------------------------------- messages


class Say(Enum):
    """Names of the messages, with their arguments. EACH: of a series, to be done for each of its members.

    FROM: with the side, in a piece where sides are said.
    """

    TAKE_OPEN = "take-open"  # kind
    TAKE_TWIN_OPEN = "take-twin-open"  # kind: a twin whose own way follows
    GO_THROUGH = "go-through"  # path
    GO_THROUGH_FROM = "go-through-from"  # path, entry
    GO_THROUGH_EYE = "go-through-eye"  # path, entry: two that overlap, gone through together
    FEED = "feed"  # path: closed rings in the work, fed onto the open ring
    FEED_FROM = "feed-from"  # path, entry
    CARRY = "carry"  # what: new closed rings, called so
    CARRY_FROM = "carry-from"  # what, entry
    CARRY_FINDING = "carry-finding"  # what
    CARRY_FINDING_FROM = "carry-finding-from"  # what, entry
    CARRY_FINDING_BY = "carry-finding-by"  # what, with the eye named
    CARRY_FINDING_BY_FROM = "carry-finding-by-from"  # what, entry
    AROUND = "around"  # path: gone around, not through
    AROUND_JOINT = "around-joint"  # path: two linked members, gone around where they are linked
    BETWEEN = "between"  # path: lies between the rings of it
    INSIDE = "inside"  # path: lies in the hole of each ring of it
    OVER = "over"  # path: lies over it, as the maker sees it
    UNDER = "under"  # path
    GAP = "gap"  # path: what it hangs on, then the two neighbours there
    CLOSE = "close"
    CLOSE_PLAIN = "close-plain"  # nothing was gone through: the ring starts something
    TWIN_SAME = "twin-same"  # kind, lies
    TWINS_SAME = "twins-same"  # kind, count, lies: two or more further companions
    LIES_BESIDE = "lies-beside"  # lies: a twin that went its own way
    EACH_TAKE_OPEN = "each-take-open"  # kind
    EACH_THROUGH = "each-through"  # series
    EACH_THROUGH_FROM = "each-through-from"  # series, entry
    EACH_ALSO_FROM = "each-also-from"  # series, entry: after another way in from another side
    EACH_THROUGH_RELATIVE = "each-through-relative"  # series
    EACH_THROUGH_RELATIVE_FROM = "each-through-relative-from"  # series, entry
    EACH_THROUGH_SAME = "each-through-same"  # path: the same for all
    EACH_THROUGH_SAME_FROM = "each-through-same-from"  # path, entry
    EACH_FEED = "each-feed"  # series
    EACH_FEED_FROM = "each-feed-from"  # series, entry
    EACH_CARRY = "each-carry"  # series
    EACH_CARRY_FROM = "each-carry-from"  # series, entry
    EACH_AROUND = "each-around"  # series
    EACH_AROUND_JOINT = "each-around-joint"  # series
    EACH_BETWEEN = "each-between"  # series
    EACH_INSIDE = "each-inside"  # series
    EACH_OVER = "each-over"  # series
    EACH_UNDER = "each-under"  # series
    EACH_GAP = "each-gap"  # series
    EACH_CLOSE = "each-close"
    EACH_TWIN_SAME = "each-twin-same"  # kind, lies
    EACH_TWINS_SAME = "each-twins-same"  # kind, count, lies
    TAKE_CLOSED = "take-closed"  # what
    TAKE_LAID = "take-laid"  # what, lies: how the rings of each member lie
    TAKE_INSIDE = "take-inside"  # what, path: laid into the hole of each ring of the path
    TAKE_LAID_INSIDE = "take-laid-inside"  # what, path, lies
    LOOSE = "loose"  # rings of a row that have been taken, and nothing joins them yet
    APART = "apart"  # a ring that has been taken while there is work that it is not joined to
    OPEN_AGAIN = "open-again"  # what: one ring
    TWIN_AGAIN = "twin-again"  # the twin is opened too and follows the same way
    TAKE_FINDING = "take-finding"  # what: its eye is opened
    OPEN_EYE = "open-eye"  # what: of a finding in the work
    HANG_ON = "hang-on"  # path
    HANG_ON_FROM = "hang-on-from"  # path, entry
    CLOSE_EYE = "close-eye"
    FIRST_ROW = "first-row"  # what: all of the row
    FIRST_ROW_FROM_RIGHT = "first-row-from-right"  # what: the work is turned over, or the mirror image
    FIRST_ROUND = "first-round"  # what: all of the round of a tube or disc
    ROUND_BEGINS = "round-begins"  # what: as FIRST_ROUND, the direction is known
    NEXT_ROW_ABOVE = "next-row-above"  # what, onto
    NEXT_ROW_BELOW = "next-row-below"  # what, onto
    NEXT_ROUND_OUTSIDE = "next-round-outside"  # what, onto
    ROWS_LEAN = "rows-lean"  # what: the first row of a sheet of mail, onto: the second; by turns to the left and right
    FROM_RIGHT = "from-right"  # a row that is worked from right to left
    FROM_LEFT = "from-left"  # a row that is worked from left to right again
    SHARED = "shared"  # what: a place of this unit use, same_as: the member that stands there already
    MIRROR = "mirror"  # part, like: unit uses
    HANDLE_WORK = "handle-work"  # motion
    HANDLE = "handle"  # motion, path
    HOLD_UNTIL = "hold-until"  # path, until
    BACK_FACES = "back-faces"  # after the work is turned over
    FRONT_FACES = "front-faces"
    FOLD = "fold"  # path: one ring to each side
    FOLD_ONTO = "fold-onto"  # path, onto
    FOLD_ONE = "fold-one"  # path: one ring
    FOLD_ONE_ONTO = "fold-one-onto"  # path, onto
    SPREAD = "spread"  # path
    LEAN = "lean"  # hand, path: as the maker sees it
    TURN_BY = "turn-by"  # path, degrees, turning: looking along the work from where it began
    TURN_EACH_BY = "turn-each-by"  # path: several, each so far from the one before; degrees, turning
    HALF_TURNS = "half-turns"  # what: a round, count, turning: looking along the work from where it began
    NO_HALF_TURNS = "no-half-turns"  # what
    FACING_INSIDE = "facing-inside"  # what: a round that is closed with what faces the maker inside
    FACING_OUTSIDE = "facing-outside"  # what: with what faces away from the maker inside
    WORK_INSIDE = "work-inside"  # what: a tube that is made with what faces the maker inside
    WORK_OUTSIDE = "work-outside"  # what: with what faces away from the maker inside
    WORK_DIRECTION = "work-direction"  # turning: seen from the front
    WORK_SEEN = "work-seen"  # turning: as it is seen from now on
    HELPER_IN = "helper-in"  # helper, path
    HELPER_OUT = "helper-out"  # helper
    REMARK = "remark"  # kind, text
    CHECK_USED = "check-used"  # counts: in the piece so far
    CHECK_USED_EACH = "check-used-each"  # counts; of one of several that are made alike
    CHECK_PART_USED = "check-part-used"  # counts, part
    CHECK_RINGS = "check-rings"  # count
    CHECK_PART_RINGS = "check-part-rings"  # count, part
    CHECK_LINKS = "check-links"  # count
    CHECK_PART_LINKS = "check-part-links"  # count, part
    CHECK_HOLDS = "check-holds"  # path, count
    CHECK_HOLDS_EYES = "check-holds-eyes"  # path, count; an eye of a finding is among what is counted
    CHECK_HOLDS_KIND = "check-holds-kind"  # path, held
    CHECK_AROUND = "check-around"  # path, onto
    CHECK_BETWEEN = "check-between"  # path, onto
    CHECK_INSIDE = "check-inside"  # path, onto
    CHECK_OVER = "check-over"  # path, onto: as the maker sees it
    CHECK_UNDER = "check-under"  # path, onto
    CHECK_NOT_AROUND = "check-not-around"  # path, onto
    CHECK_NOT_BETWEEN = "check-not-between"  # path, onto
    CHECK_NOT_INSIDE = "check-not-inside"  # path, onto
    CHECK_NOT_OVER = "check-not-over"  # path, onto: as the maker sees it
    CHECK_NOT_UNDER = "check-not-under"  # path, onto
    CHECK_PLAIN = "check-plain"  # path: a loop of four or more
    CHECK_CROSSED = "check-crossed"  # path
    CHECK_PLAIN_THREE = "check-plain-three"  # path: a loop of three
    CHECK_CROSSED_THREE = "check-crossed-three"  # path
    CHECK_HALF_TURNS = "check-half-turns"  # what: a round, count, turning
    CHECK_NO_HALF_TURNS = "check-no-half-turns"  # what
    CHECK_FRONT_INSIDE = "check-front-inside"  # what: a round
    CHECK_BACK_INSIDE = "check-back-inside"  # what
    CHECK_COMPANIONS = "check-companions"  # path, lies
    CHECK_LEAN = "check-lean"  # hand, path: as the maker sees it
    CHECK_TURNED = "check-turned"  # path, degrees, turning
    CHECK_EACH_TURNED = (
        "check-each-turned"  # path: several, each so far from the one before; degrees, turning
    )


Argument = (
    int
    | str
    | KindName
    | KindCount
    | GroupName
    | Members
    | FindingPart
    | Series
    | Entry
    | TwinPlace
    | Turning
    | Hand
    | HandMotion
    | RemarkKind
    | tuple[Thing, ...]
    | tuple[KindCount, ...]
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """A sentence to be said: its name, and what fills it."""

    name: Say
    arguments: tuple[tuple[str, Argument], ...] = ()

    def __getitem__(self, key: str) -> Argument:
        for name, value in self.arguments:
            if name == key:
                return value
        raise KeyError(key)


def message(name: Say, **arguments: Argument) -> Message:
    """A message with its arguments."""
    return Message(name=name, arguments=tuple(arguments.items()))
