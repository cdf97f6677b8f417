"""The statements of a pattern as written, in units, pieces and blocks. Their parts: `notation.nodes`.

Made by `grammar.parse`, read by `grammar.format` and `compiler.expand`. The left margin and the whole pattern:
`notation.margin`.

The span of a statement is its whole logical line; that of a block is its header, up to the colon.
"""

from __future__ import annotations

from enum import Enum

from notation.expectations import (
    ExpectCompanions,
    ExpectFace,
    ExpectHolds,
    ExpectLeans,
    ExpectLies,
    ExpectLoop,
    ExpectTotal,
    ExpectTurned,
    ExpectTurns,
    ExpectUsed,
)
from notation.handling import Handle, Helper, LabelLine, Remark, Remove, WorkDirection
from notation.lengths import Length
from notation.nodes import (
    Carry,
    Companions,
    Condition,
    Expression,
    Item,
    Join,
    Name,
    Node,
    Pick,
    Quantity,
    Target,
    Text,
    Which,
)
from notation.source import Span

# ---------------------------------------------------------------- what makes links


class Twin(Node, frozen=True, kw_only=True):
    """`twin through spoke gathering ...:` the twin's own way, where it differs from the first ring's."""

    through: tuple[Item, ...] = ()
    gathering: tuple[Item, ...] = ()
    span: Span


class Pass(Node, frozen=True, kw_only=True):
    """`pass 2 large as arm[1] through next pair of spoke carrying 2 small as seam joined to ...`.

    With a `:` at its end it may have a block of one `twin` line.
    """

    quantity: Quantity
    target: Target | None = None
    through: tuple[Item, ...] = ()
    gathering: tuple[Item, ...] = ()
    """Closed rings already in the work that are fed onto the open ring: the same links as `through`."""
    carrying: tuple[Carry, ...] = ()
    join: Join | None = None
    around: tuple[Item, ...] = ()
    """Gone around, not linked: `around the joint of a and b` or `around a`."""
    between: Pick | None = None
    """Lies in the gap of this strand, linked with neither of its rings."""
    inside: Pick | None = None
    """`inside scale`: lies in the hole of another ring, not linked with it."""
    over: tuple[Item, ...] = ()
    """`over a`: lies over rings that it overlaps without being linked with them, seen from the front."""
    under: tuple[Item, ...] = ()
    companions: Companions = Companions.SIDE_BY_SIDE
    """`pass 2 large front and back as ...`: how the rings of the strand lie to one another."""
    twin: Twin | None = None
    span: Span


class Take(Node, frozen=True, kw_only=True):
    """`take 50 link as base`: closed rings taken in hand or laid out, linked with nothing yet."""

    quantity: Quantity
    target: Target | None = None
    inside: Pick | None = None
    """`take 1 small inside scale`: laid into the hole of a ring of the work."""
    companions: Companions = Companions.SIDE_BY_SIDE
    """`take 2 large front and back as edge`: how the rings of each strand lie to one another."""
    span: Span


class Reopen(Node, frozen=True, kw_only=True):
    """`reopen last of arm through tip carrying 2 small as seam`: a closed ring is opened again."""

    pick: Pick
    through: tuple[Item, ...] = ()
    carrying: tuple[Carry, ...] = ()
    span: Span


class Hang(Node, frozen=True, kw_only=True):
    """`hang hook from heart`, `hang bar by right from tip as b`: an eye that opens is closed on a ring."""

    finding: Name
    """A kind of finding (a new one is taken) or the name of one already in the work."""
    index: tuple[Expression, ...]
    eye: Name | None
    items: tuple[Item, ...]
    target: Target | None = None
    span: Span


class Argument(Node, frozen=True, kw_only=True):
    """`across = 3` or `top = tip of the one before`; which it is shows when the unit is known."""

    name: Name
    number: Expression | None
    pick: Pick | None
    """A bare name is both a variable and a pick; then both are set."""
    span: Span


class Make(Node, frozen=True, kw_only=True):
    """`make rhombus of shared with across = 3, top = tip of the one before as z`."""

    unit: Name
    alias: Name | None = None
    mirrored: bool = False
    """`make spiral mirrored`: the mirror image; every side is turned, left and right change places."""
    arguments: tuple[Argument, ...] = ()
    target: Target | None = None
    span: Span


# ---------------------------------------------------------------- families


class FamilyKind(Enum):
    """The families that know their neighbours."""

    LINE = "line"
    ROUND = "round"
    SHEET = "sheet"
    TUBE = "tube"
    DISC = "disc"
    """Rounds of given widths round a centre, the first innermost."""


class Stagger(Enum):
    """How the rows of a sheet or tube lie to each other."""

    ALIGNED = "aligned"
    STAGGERED = "staggered"
    CENTRED = "centred"
    LEANING_LEFT = "leaning left"
    LEANING_RIGHT = "leaning right"


class RowsOf(Node, frozen=True, kw_only=True):
    """`20 rows of 50`."""

    rows: Expression
    width: Expression
    span: Span


class RowsFromTo(Node, frozen=True, kw_only=True):
    """`1 to 5` or `4 down to 1`: one row of each width."""

    first: Expression
    last: Expression
    down: bool
    span: Span


class RowsTimes(Node, frozen=True, kw_only=True):
    """`20 times (4, 5)`."""

    times: Expression
    rows: tuple[Widths, ...]
    span: Span


class RowOf(Node, frozen=True, kw_only=True):
    """One row of so many."""

    width: Expression
    span: Span


Widths = RowsOf | RowsFromTo | RowsTimes | RowOf


class Family(Node, frozen=True, kw_only=True):
    """`line chain of 12:`, `round arm of 6:`, `sheet mesh of 20 rows of 50, staggered:`.

    Its statements are carried out once for each place, in order. A pass or take without a name of its own makes
    the members of the family; other names belong to their place (`wing of the one before`).
    """

    kind: FamilyKind
    name: Name
    widths: tuple[Widths, ...]
    """LINE and ROUND have one RowOf."""
    stagger: Stagger
    downward: bool
    """SHEET and TUBE: each new row lies below the one before it; otherwise above."""
    handed: tuple[tuple[Which, Name], ...]
    """`first is top`, `last is foot`: this place is the group handed in for the port, where it is given."""
    half_turns: Expression | None = None
    """`closed with 1 half turn`: ROUND and TUBE, how often the work is turned before it is closed on itself."""
    anticlockwise: bool = False
    """The half turns go anticlockwise, looking along the work from where it began; clockwise where nothing is said."""
    front_inside: bool = False
    """`closed with front inside`: ROUND and TUBE, closed so that the front lies inside."""
    body: tuple[Statement, ...]
    span: Span


# ---------------------------------------------------------------- the order of statements


class Step(Node, frozen=True, kw_only=True):
    """`step "Gather the centre":`; steps do not nest."""

    title: Text
    body: tuple[Statement, ...]
    span: Span


class For(Node, frozen=True, kw_only=True):
    """`for k from 1 to n:` or `for k from n down to 1:`."""

    counter: Name
    first: Expression
    last: Expression
    down: bool
    body: tuple[Statement, ...]
    span: Span


class ForEach(Node, frozen=True, kw_only=True):
    """`for each end in tip, first of arm:`: over named things."""

    name: Name
    picks: tuple[Pick, ...]
    body: tuple[Statement, ...]
    span: Span


class Repeat(Node, frozen=True, kw_only=True):
    """`repeat 4 times:`."""

    times: Expression
    body: tuple[Statement, ...]
    span: Span


class If(Node, frozen=True, kw_only=True):
    """`if k = 1:` ... `else:` ...; `else if` is an If alone in `otherwise`."""

    condition: Condition
    body: tuple[Statement, ...]
    otherwise: tuple[Statement, ...] = ()
    else_span: Span | None = None
    """The line `else:`; None without one, and for `else if`, whose line is the span of the If in `otherwise`."""
    span: Span


class Let(Node, frozen=True, kw_only=True):
    """`let half = n / 2`."""

    name: Name
    value: Expression
    span: Span


class MadeToLength(Node, frozen=True, kw_only=True):
    """`length 185 mm varying repeats`: how long a piece is to be, and the `let` of the margin that may vary for it."""

    wanted: Length | None
    """None if it could not be read, which has been told."""
    varying: Name
    span: Span


class Port(Node, frozen=True, kw_only=True):
    """`port tip = last of point`, `port edge = first of point, point[2, 1]`: how others reach into a unit."""

    name: Name
    picks: tuple[Pick, ...]
    span: Span


# ---------------------------------------------------------------- what could not be read


class Broken(Node, frozen=True, kw_only=True):
    """A statement that could not be read and has been told; it stands for itself, and its block has been read.

    A later stage passes over it, and holds its tongue about uses of the names it would have made.
    """

    word: str
    """The word it begins with, for example `unit`; empty if it begins with none."""
    names: tuple[Name, ...]
    """The names it would have made, as far as they can be told."""
    body: tuple[Statement, ...] = ()
    span: Span


Statement = (
    Pass
    | Take
    | Reopen
    | Hang
    | Make
    | Family
    | Step
    | For
    | ForEach
    | Repeat
    | If
    | Let
    | MadeToLength
    | Port
    | Remark
    | Handle
    | ExpectUsed
    | ExpectTotal
    | ExpectHolds
    | ExpectLies
    | ExpectCompanions
    | ExpectFace
    | ExpectLeans
    | ExpectTurned
    | ExpectLoop
    | ExpectTurns
    | WorkDirection
    | Helper
    | Remove
    | LabelLine
    | Broken
)
