"""What names stand for while a pattern is carried out: groups, uses, findings, places, and the scopes they live in.

Only `compiler.expand` sees these; what later stages get is `compiler.weave`.
"""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Iterable, Mapping

from msgspec import Struct, field

from compiler.expand.shape import row_starts
from compiler.weave import FamilyShape
from notation.diagnostic import Place
from notation.handling import LabelLine
from notation.margin import FindingLine, Pattern, RingLine, UnitBlock
from notation.source import Span


class Cursor(Struct, eq=False):
    """How far `next` and `along` have come on one group."""

    taken: int = 0
    taken_at: Place | None = None
    window: int = 0
    reach: int = 0
    window_at: Place | None = None


class LiveGroup(Struct, eq=False):
    """A group of strands; with a shape, the members of a family."""

    number: int
    """Index into the piece's groups."""
    name: str
    key: str
    made_at: Place
    shape: FamilyShape | None = None
    members: array[int] = field(default_factory=lambda: array("i"))
    """The first node of each strand, in order of making."""
    by_index: dict[tuple[int, ...], list[int]] = field(default_factory=dict)
    """Positions in members, for a group made index by index; an index is entered when its statement begins."""
    numbers: set[int] = field(default_factory=set)
    """The member numbers given, for a group made index by index."""
    highest: int = 0
    """The largest of them."""
    place_start: array[int] = field(default_factory=lambda: array("i"))
    """FAMILY: where in members each place begun so far starts."""
    uses: dict[int, LiveUse] = field(default_factory=dict)
    """FAMILY: the unit that a place made, by place ordinal."""
    scopes: dict[int, Scope] = field(default_factory=dict)
    """FAMILY: the names of a place, by place ordinal."""
    handed: dict[int, list[int]] = field(default_factory=dict)
    """FAMILY: strands handed in for a place, by place ordinal; known before the family is carried out."""
    connectors: dict[tuple[int, int], list[int]] = field(default_factory=dict)
    """FAMILY: the strands that join two places, by ordinals, the smaller first."""
    places_of: LiveGroup | None = None
    """The family whose places make the members, each place its own."""
    cursor: Cursor = field(default_factory=Cursor)
    row_starts: tuple[int, ...] = ()
    """FAMILY: the ordinal of each row's first place, and one past the last place of all."""
    joined_at: list[Place] = field(default_factory=list)
    """FAMILY: the statements that were told for making a second member at a place."""
    rows: dict[int, Bound] = field(default_factory=dict)
    """FAMILY: rows that are walked along by themselves, by row from 0, each with a cursor of its own."""

    def __post_init__(self) -> None:
        self.row_starts = () if self.shape is None else row_starts(self.shape)

    def where(self, ordinal: int) -> tuple[int, int]:
        """FAMILY: row and place in the row, from 0, of a place."""
        row = bisect_right(self.row_starts, ordinal) - 1
        return row, ordinal - self.row_starts[row]

    def is_begun(self, ordinal: int) -> bool:
        """Whether a place has a strand."""
        after = self.place_start[ordinal + 1] if ordinal + 1 < len(self.place_start) else len(self.members)
        return ordinal < len(self.place_start) and self.place_start[ordinal] < after

    def place_members(self, ordinal: int) -> list[int]:
        """The strands of a place that has been begun, else none."""
        if ordinal >= len(self.place_start):
            return []
        stop = self.place_start[ordinal + 1] if ordinal + 1 < len(self.place_start) else len(self.members)
        return list(self.members[self.place_start[ordinal] : stop])


class LiveUse(Struct, eq=False):
    """One use of a unit."""

    name: str
    scope: Scope
    made_at: Place


class LiveFinding(Struct, eq=False):
    """A finding in the work."""

    number: int
    kind: int
    eyes: tuple[int, ...]
    made_at: Place


class PlaceOf(Struct, eq=False):
    """A place of a family."""

    family: LiveGroup
    ordinal: int


class EyeOf(Struct, eq=False):
    """One eye of a finding."""

    node: int


class Bound(Struct, eq=False):
    """What a port or a loop's name stands for: things picked before."""

    things: list[Thing]
    made_at: Place
    cursor: Cursor = field(default_factory=Cursor)


class Whole(Struct, eq=False):
    """A whole number under a name."""

    value: int
    made_at: Place


class Broken(Struct, eq=False):
    """A name whose making went wrong and was told: what follows from it stays quiet."""

    made_at: Place


class LiveHelper(Struct, eq=False):
    """A helper wire in the work, or taken out of it."""

    text: str
    made_at: Place
    nodes: tuple[int, ...] = ()
    removed: bool = False


class NotGiven(Struct, eq=False):
    """A port that was handed nothing."""

    made_at: Place


Thing = int | LiveUse | LiveFinding | PlaceOf | EyeOf
"""What a pick comes to; a strand of rings is the node of its first ring."""
Entity = LiveGroup | LiveUse | LiveFinding | LiveHelper | Bound | Whole | Broken | NotGiven


class FileNames(Struct, eq=False):
    """What one file declares, as seen from the pattern that is built."""

    pattern: Pattern
    places: dict[str, Place] = field(default_factory=dict)
    """Every name of the left margin, and where."""
    rings: dict[str, RingLine] = field(default_factory=dict)
    findings: dict[str, FindingLine] = field(default_factory=dict)
    units: dict[str, UnitBlock] = field(default_factory=dict)
    files: dict[str, FileNames] = field(default_factory=dict)
    """By alias."""
    kind_numbers: dict[str, int] = field(default_factory=dict)
    """Ring kinds by the name this file uses -> index of the built pattern's kinds."""
    finding_numbers: dict[str, int] = field(default_factory=dict)
    unmapped: dict[str, Place] = field(default_factory=dict)
    """Kinds and findings this file declares that the using pattern does not have, and the `use` line."""
    labels: dict[str, LabelLine] = field(default_factory=dict)
    numbers: dict[str, Whole | Broken] = field(default_factory=dict)
    """What `let` at the left margin names: seen in every unit and piece of the file."""
    broken: set[str] = field(default_factory=set)
    """Names declared by a line that could not be read whole."""

    @property
    def name(self) -> str:
        return self.pattern.source.name

    def place(self, span: Span) -> Place:
        return self.pattern.place(span)


class Scope(Struct, eq=False):
    """The names of a piece, of a unit's use, or of a place of a family."""

    file: FileNames
    parent: Scope | None
    key: str
    """Path key, empty for a piece."""
    owner: str
    """Printed name of the use, empty for a piece."""
    unit: UnitBlock | None
    site: int = -1
    """The site of the use; -1 for a piece."""
    upcoming: frozenset[str] = frozenset()
    """Every name that some statement here makes, for `not-made-yet`."""
    labels: Mapping[str, LabelLine] = field(default_factory=dict)
    names: dict[str, Entity] = field(default_factory=dict)
    unnamed: dict[tuple[str, int], LiveGroup] = field(default_factory=dict)
    """Groups of rings that the text gives no name, by kind and by the family whose places they join (or -1)."""
    ports: dict[str, Entity] = field(default_factory=dict)
    given: set[str] = field(default_factory=set)
    """Ports that were handed a group."""
    family: LiveGroup | None = None
    ordinal: int = 0
    """Set for a place of a family."""
    start_counts: tuple[int, ...] = ()
    """Rings in the work per kind when the unit's use began."""
    start_links: int = 0
    start_findings: int = 0

    def find(self, name: str) -> Entity | None:
        scope: Scope | None = self
        while scope is not None:
            entity = scope.names.get(name)
            if entity is not None:
                return entity
            scope = scope.parent
        return self.file.numbers.get(name)

    def unit_scope(self) -> Scope:
        """The scope of the unit or piece around: where loops, steps and connectors keep their names."""
        scope = self
        while scope.family is not None and scope.parent is not None:
            scope = scope.parent
        return scope

    def home(self) -> Scope:
        """Where a name that is made here is kept: in the place of a family, else in the unit or piece."""
        return self if self.family is not None else self.unit_scope()

    def break_names(self, names: Iterable[str], at: Place) -> None:
        """Marks names that could not be made, in the whole unit, so that their use stays quiet.

        So too names that a statement had begun to make when it went wrong: groups that nothing came into.
        """
        for name in names:
            there = self.find(name)
            if there is None or (isinstance(there, LiveGroup) and not there.members):
                self.unit_scope().names[name] = Broken(made_at=at)
            elif isinstance(there, Bound) and not there.things and name in self.names:
                self.names[name] = Broken(made_at=at)

    def place_scope(self) -> Scope | None:
        """The nearest place of a family around, within the unit."""
        return self if self.family is not None else None
