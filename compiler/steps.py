"""The steps of the booklet as data: who does what with which rings, in numbered steps with tallies.

Made by `compiler.word`, read by the catalogues, by the terminal text and by the booklet. What is said in a step is
in `compiler.messages`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from compiler.messages import GroupName, KindCount, Message, Thing

# ---------------------------------------------------------------- instructions and steps


class InstructionKind(Enum):
    """What a paragraph of a step is about."""

    TAKE = "take"
    PASS = "pass"
    """A ring, with its twins."""
    SERIES = "series"
    """A run of passes that differ only in their numbers."""
    REOPEN = "reopen"
    HANG = "hang"
    ROW = "row"
    """How a row lies to the one before, or a part to another of which it is the mirror image."""
    HANDLE = "handle"
    """Motions of the hands, poses that last, helpers put in and taken out."""
    REMARK = "remark"
    CHECKPOINT = "checkpoint"


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction:
    """A paragraph: what is being made, and the messages in order."""

    kind: InstructionKind
    head: Thing | None
    """What comes into being: its name stands before the sentences, where it needs one."""
    messages: tuple[Message, ...]
    first_motion: int
    """The motions that it tells: first_motion up to stop_motion of the piece, for the figures."""
    stop_motion: int
    named: bool = True
    """False where the head is a ring that the designer gave no name, and that no other sentence speaks of."""


class TitleKind(Enum):
    """Where a step's title comes from."""

    TYPED = "typed"
    MEMBER = "member"
    ROW = "row"
    GROUP = "group"
    PART = "part"
    PARTS = "parts"
    """Unit uses that are made alike: folded steps only."""
    AGAIN = "again"
    """Steps that are worked again: folded steps only."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """A step's title: typed, or made from what the step makes."""

    kind: TitleKind
    text: str = ""
    """TYPED: as typed. PART, PARTS: what the uses of a unit are called (`lozenge`)."""
    number: int = 0
    """PART: which of them. PARTS: the first. AGAIN: the first of the steps that are worked again."""
    last: int = 0
    """PARTS, AGAIN: the last of them."""
    part: str = ""
    """The one unit use that the step is about, where that must be said; TYPED titles say it beside their text."""
    what: Thing | None = None
    """MEMBER: the member; ROW: the row's members; GROUP: all members."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRecord:
    """One step of a piece."""

    number: int
    """From 1; its place among all steps of the piece, also where repeats are folded."""
    key: str
    """Stable path key."""
    title: Title
    opens: tuple[KindCount, ...]
    """Open rings used in the step."""
    closes: tuple[KindCount, ...]
    """New closed rings and findings used in the step, taken, carried or hung."""
    instructions: tuple[Instruction, ...]
    cautions: tuple[str, ...]
    """Typed cautions of the step: told before its instructions."""
    checkpoint: tuple[Message, ...]
    """What can be counted once the step is done."""
    tally: tuple[KindCount, ...]
    """Everything in the piece after this step, in the order of the pattern's kinds."""
    links_added: int
    links: int
    """Links in the piece after this step."""
    loose: int
    """Rings in the piece that nothing is joined to yet, by a link or by how they lie."""
    first_motion: int
    """The step's motions: first_motion up to stop_motion of the piece."""
    stop_motion: int


# ---------------------------------------------------------------- repeats folded


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerChange:
    """Read `new` for `old` wherever a unit use is named."""

    old: str
    new: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Repetition:
    """One repetition of the steps told before: which steps it is, and all that differs."""

    first: int
    """Its first step; it has as many steps as the fold's model."""
    owners: tuple[OwnerChange, ...]
    """To be read at once, not one after the other."""
    rows_on: int
    """How many rows further on every row is than in the model; 0 where no row differs."""
    cells: tuple[tuple[Thing, ...], ...]
    """What stands for each of the fold's columns."""
    tally: tuple[KindCount, ...]
    """Everything in the piece after its last step."""


class ColumnKind(Enum):
    """What the rings in a column of a fold do."""

    MADE = "made"
    THROUGH = "through"
    CARRIED = "carried"
    WAITED_ON = "waited on"
    MEANT_FOR = "meant for"
    AROUND = "around"
    JOINT = "joint"
    BETWEEN = "between"
    INSIDE = "inside"
    OVER = "over"
    UNDER = "under"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One place of the model steps where the repetitions differ."""

    kind: ColumnKind
    model: tuple[Thing, ...]
    """What stands there in the model."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """Steps that are as other steps, but for what each repetition names. No step is renumbered by it."""

    model_first: int
    """The steps told in full: model_first to model_last."""
    model_last: int
    first: int
    """The steps folded: first to last."""
    last: int
    columns: tuple[Column, ...]
    repetitions: tuple[Repetition, ...]
    checkpoint: tuple[Message, ...]
    """Counts of the whole piece after the last of them."""
    title: Title
    """What all of them make, or which steps are worked again."""


# ---------------------------------------------------------------- the whole


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceWords:
    """The making of one piece."""

    name: str
    singular: str
    times: int
    steps: tuple[StepRecord, ...]
    """All of them, each in full."""
    shown: tuple[StepRecord | Fold, ...]
    """The same in the order of reading, repeats folded."""
    opens: tuple[KindCount, ...]
    """To open for one of it."""
    closes: tuple[KindCount, ...]
    """To close, and findings to have at hand, for one of it."""
    links: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeYouStart:
    """What to open and close beforehand, over all pieces as often as each is made."""

    opens: tuple[KindCount, ...]
    closes: tuple[KindCount, ...]
    """Rings only."""
    findings: tuple[KindCount, ...]


class Term(Enum):
    """Words of the craft that the steps use and the glossary explains."""

    OPEN = "open"
    CLOSE = "close"
    GO_THROUGH = "go through"
    CARRY = "carry"
    TWIN = "twin"
    PAIR = "pair"
    THREE = "three"
    FEED = "feed"
    WAIT = "wait"
    AROUND = "around"
    JOINT = "joint"
    BETWEEN = "between"
    INSIDE = "inside"
    OVER = "over"
    FLOWER = "flower"
    HALF_TURN = "half turn"
    ROW = "row"
    LEAN = "lean"
    ROUND = "round"
    FRONT = "front"
    CONNECTION = "connection"
    FINDING = "finding"
    EYE = "eye"
    OPENING_EYE = "opening eye"


@dataclass(frozen=True, slots=True, kw_only=True)
class NameTerm:
    """What the designer calls some rings, for the glossary."""

    groups: tuple[GroupName, ...]
    """Groups of one noun, without their owners, that differ in kind of ring or in rings to a member."""
    joins: GroupName | None
    """Of connectors: the group of which each joins two neighbours."""
    count: int
    """Members of that name; 0 where several pieces have some."""
    step: int
    """The step that makes the first of them; 0 where several pieces have some."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartTerm:
    """What the designer calls a part of which a piece has several, for the glossary."""

    noun: str
    pieces: tuple[tuple[str, int], ...]
    """Each piece that has several, and how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """All the words of a pattern's booklet that are not typed by the designer."""

    title: str
    by: str
    version: str
    level: str
    about: str
    before: BeforeYouStart
    pieces: tuple[PieceWords, ...]
    terms: tuple[Term | NameTerm | PartTerm, ...]
    """Those that the steps use, in the glossary's order: words of the craft, then the designer's own."""
    helpers: tuple[str, ...] = ()
    """What is put in to keep things in place and taken out again, as typed, each once, in order of use."""
