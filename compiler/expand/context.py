"""What the expansion carries along: reports with their trace, the tree of sites, budgets, and sums.

A mistake is reported here and its statement gives up by returning None; names it would have made are marked
broken, so that one slip is told once. Each source span is told once per rule, however often a round repeats it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from compiler.expand.columns import Columns
from compiler.expand.live import Broken, Entity, LiveHelper, Scope, Whole
from compiler.weave import FindingKind, RingKind, Site, SiteKind
from notation.diagnostic import Diagnostic, Edit, Frame, Label, Place, Value
from notation.limits import (
    DEEPEST_BLOCKS,
    LARGEST_NUMBER,
    MOST_DIAGNOSTICS,
    MOST_FRAMES_SHOWN,
    MOST_LINKS,
    MOST_NAMES_COMPARED,
    MOST_RINGS,
    MOST_ROUNDS,
    MOST_STATEMENTS,
)
from notation.metals import METALS, Metal
from notation.nodes import (
    Both,
    Compare,
    Condition,
    Expression,
    IsGiven,
    IsParity,
    IsPlace,
    Name,
    Negative,
    Not,
    Number,
    Operator,
    Sum,
    Variable,
    Which,
)
from notation.source import Span
from notation.statements import Statement

DEEPEST_BODIES = 3 * DEEPEST_BLOCKS
"""Blocks within blocks, counted through the units that they make."""


def _not_ready(body: Iterable[Statement], scope: Scope) -> None:
    """Stands in until the driver hands over the runner of statements."""
    raise RuntimeError(f"no runner for {body!r} in {scope.key!r}")


class Context:
    """The state of one expansion: kinds, sites, reports, budgets, and the piece that is growing."""

    def __init__(self, ring_kinds: list[RingKind], finding_kinds: list[FindingKind]) -> None:
        self.metals: Mapping[str, Metal] = METALS
        self.ring_kinds = ring_kinds
        self.finding_kinds = finding_kinds
        self.diagnostics: list[Diagnostic] = []
        self._told: set[tuple[str, str, Place]] = set()
        self.sites: list[Site] = []
        self.site = -1
        self.frames: list[Frame] = []
        self.columns = Columns(len(ring_kinds))
        self.calls: list[str] = []
        """The units being made, innermost last, for recursion."""
        self.hands: dict[str, tuple[bool, Place]] = {}
        """By unit: whether the piece made it mirrored first, and where."""
        self.both_hands = False
        self.helpers: list[LiveHelper] = []
        """The helper wires of the piece."""
        self.rounds = 0
        self.statements = 0
        self.links = 0
        self.members = 0
        self.rings = 0
        self.depth = 0
        """Bodies of statements within one another, those of units and loops alike."""
        self.stopped = False
        self.run_body: Callable[[Iterable[Statement], Scope], None] = _not_ready

    # ------------------------------------------------------------ reports

    def report(
        self,
        rule: str,
        place: Place,
        variant: str = "",
        labels: tuple[Label, ...] = (),
        edits: tuple[Edit, ...] = (),
        **arguments: Value,
    ) -> None:
        """Tells a mistake or a doubt once per place; the piece being made counts as broken by an error."""
        key = (rule, variant, place)
        if key in self._told:
            return
        self._told.add(key)
        self.diagnostics.append(
            Diagnostic(
                rule=rule,
                variant=variant,
                place=place,
                arguments=tuple(arguments.items()),
                labels=labels,
                edits=edits,
                trace=self._trace(),
            )
        )

    def _trace(self) -> tuple[Frame, ...]:
        """The way to here, from the innermost; that a statement stands in its piece goes without saying."""
        return tuple(self.frames[::-1][:MOST_FRAMES_SHOWN]) if len(self.frames) > 1 else ()

    def fail(
        self,
        rule: str,
        place: Place,
        variant: str = "",
        labels: tuple[Label, ...] = (),
        edits: tuple[Edit, ...] = (),
        **arguments: Value,
    ) -> None:
        """Reports an error and marks the piece as broken."""
        self.columns.broken = True
        self.report(rule, place, variant, labels, edits, **arguments)

    def unknown(self, rule: str, place: Place, name: str, known: Iterable[str], **arguments: str) -> None:
        """Reports a name that is not there, with the closest one that is."""
        from difflib import get_close_matches  # seldom wanted

        shown = len(self.diagnostics) < MOST_DIAGNOSTICS
        names = list(dict.fromkeys(known))[:MOST_NAMES_COMPARED] if shown else []
        close = get_close_matches(name, names, n=1, cutoff=0.6)
        said: dict[str, Value] = {"name": name, **arguments}
        if close:
            edit = Edit(place=place, replacement=close[0])
            self.fail(rule, place, "close", (), (edit,), close=close[0], **said)
        else:
            self.fail(rule, place, "", (), (), **said)

    # ------------------------------------------------------------ sites and trace

    def add_site(
        self,
        kind: SiteKind,
        place: Place,
        name: str = "",
        number: int = 0,
        statement: Statement | None = None,
        mirrored: bool = False,
    ) -> int:
        """A new site under the present one; gives its number."""
        self.sites.append(
            Site(
                parent=self.site,
                kind=kind,
                place=place,
                name=name,
                number=number,
                statement=statement,
                mirrored=mirrored,
            )
        )
        return len(self.sites) - 1

    # ------------------------------------------------------------ budgets

    def spend_rounds(self, count: int, place: Place) -> bool:
        """Books rounds before they are run; tells when the limit is passed."""
        self.rounds += count
        if self.rounds > MOST_ROUNDS:
            self.fail("too-many-rounds", place, count=count, limit=MOST_ROUNDS)
            self.stopped = True
        return not self.stopped

    def spend_rings(self, count: int, place: Place, each: int = 1) -> bool:
        """Books rings before they are made, or findings for `each` rings; tells when the limit is passed."""
        self.rings += count * each
        if self.rings > MOST_RINGS:
            of = "" if each == 1 else "findings"
            self.fail("too-many-rings", place, of, count=count, limit=MOST_RINGS // each)
            self.stopped = True
        return not self.stopped

    def spend_links(self, count: int, place: Place) -> bool:
        """Books links before they are made; tells when the limit is passed."""
        self.links += count
        if self.links > MOST_LINKS:
            self.fail("too-many-rings", place, "links", count=count, limit=MOST_LINKS)
            self.stopped = True
        return not self.stopped

    def spend_statement(self, place: Place) -> bool:
        """Books one statement carried out."""
        self.statements += 1
        if self.statements > MOST_STATEMENTS:
            self.fail("too-many-statements", place, limit=MOST_STATEMENTS)
            self.stopped = True
        return not self.stopped

    def not_too_deep(self, place: Place) -> bool:
        """Tells when blocks and units lie too deep within one another for the machine's stack."""
        if self.depth > DEEPEST_BODIES:
            self.fail("units-too-deep", place, "blocks", limit=DEEPEST_BODIES)
            self.stopped = True
            return False
        return True

    # ------------------------------------------------------------ names

    def names_in_sight(self, scope: Scope) -> list[str]:
        """Every name that a pick could mean here."""
        names: list[str] = []
        inner: Scope | None = scope
        while inner is not None:
            names.extend(inner.names)
            inner = inner.parent
        names.extend(scope.file.numbers)
        return names

    def define(self, scope: Scope, name: Name, entity: Entity) -> bool:
        """Gives a name its meaning in a scope; a name already in use is an error and keeps its first meaning."""
        place = scope.file.place(name.span)
        first = scope.find(name.text)
        if isinstance(first, Broken):
            return True
        first_at = scope.file.places.get(name.text) if first is None else first.made_at
        if first_at is not None:
            self.tell_in_use(place, name.text, first_at)
            if first is None:
                # A kind or unit has the name: what was to be made here is not asked after.
                scope.names[name.text] = Broken(made_at=place)
            return False
        scope.names[name.text] = entity
        return True

    def tell_in_use(self, place: Place, name: str, first_at: Place) -> None:
        """Reports a name that has a meaning already, or that one statement makes again and again."""
        inside = first_at.span.start <= place.span.start and place.span.end <= first_at.span.end
        if first_at.source == place.source and inside:
            self.fail("name-in-use", place, "again", name=name)
        else:
            labels = (Label(place=first_at, note="first-made-here"),)
            self.fail("name-in-use", place, labels=labels, name=name)

    # ------------------------------------------------------------ sums

    def number(self, scope: Scope, expression: Expression) -> int | None:
        """The value of a sum, or None when it has none (and that was told)."""
        match expression:
            case Number(value=value):
                result = value
            case Variable(name=name):
                return self._variable(scope, name)
            case Negative(value=inner):
                value_of = self.number(scope, inner)
                if value_of is None:
                    return None
                result = -value_of
            case Sum():
                sum_of = self._sum(scope, expression)
                if sum_of is None:
                    return None
                result = sum_of
        if abs(result) > LARGEST_NUMBER:
            self.fail("number-too-large", scope.file.place(expression.span), limit=LARGEST_NUMBER)
            return None
        return result

    def _sum(self, scope: Scope, expression: Sum) -> int | None:
        left = self.number(scope, expression.left)
        right = self.number(scope, expression.right)
        if left is None or right is None:
            return None
        place = scope.file.place(expression.span)
        match expression.operator:
            case Operator.ADD:
                return left + right
            case Operator.SUBTRACT:
                return left - right
            case Operator.MULTIPLY:
                return left * right
            case Operator.MODULO:
                if right < 1:
                    self.fail("not-whole", place, "mod", left=left, right=right)
                    return None
                return left % right
            case Operator.DIVIDE:
                if right == 0:
                    self.fail("not-whole", place, "zero", left=left)
                    return None
                if left % right:
                    self.fail("not-whole", place, left=left, right=right)
                    return None
                return left // right

    def _variable(self, scope: Scope, name: Name) -> int | None:
        place = scope.file.place(name.span)
        entity = scope.find(name.text)
        if isinstance(entity, Whole):
            return entity.value
        if isinstance(entity, Broken) or name.text in scope.file.broken:
            self.columns.broken = True
            return None
        if entity is not None or name.text in scope.file.places:
            self.fail("not-a-number", place, name=name.text)
            return None
        numbers = [known for known in self.names_in_sight(scope) if isinstance(scope.find(known), Whole)]
        self.unknown("unknown-number", place, name.text, numbers)
        return None

    def count(self, scope: Scope, expression: Expression, least: int = 1) -> int | None:
        """The value of a sum that counts things; less than `least` is an error."""
        value = self.number(scope, expression)
        if value is not None and value < least:
            self.fail("count-too-small", scope.file.place(expression.span), value=value, least=least)
            return None
        return value

    def span_of_values(
        self, scope: Scope, first: Expression, last: Expression, down: bool, span: Span
    ) -> range | None:
        """`first to last` or `first down to last`; one short of it is no rounds, anything beyond is an error."""
        start, stop = self.number(scope, first), self.number(scope, last)
        if start is None or stop is None:
            return None
        if down:
            if stop > start + 1:
                self.fail("range-runs-back", scope.file.place(span), "down", first=start, last=stop)
                return None
            return range(start, stop - 1, -1)
        if stop < start - 1:
            self.fail("range-runs-back", scope.file.place(span), first=start, last=stop)
            return None
        return range(start, stop + 1)

    # ------------------------------------------------------------ conditions

    def holds(self, scope: Scope, condition: Condition) -> bool | None:
        """Whether a condition holds, or None when it cannot be told (and that was told)."""
        match condition:
            case Compare():
                left, right = self.number(scope, condition.left), self.number(scope, condition.right)
                if left is None or right is None:
                    return None
                return condition.comparison.holds(left, right)
            case IsParity():
                value = self.number(scope, condition.value)
                return None if value is None else (value % 2 == 0) is condition.even
            case IsGiven():
                return self._is_given(scope, condition)
            case IsPlace():
                return self._is_place(scope, condition)
            case Not():
                inner = self.holds(scope, condition.condition)
                return None if inner is None else not inner
            case Both():
                first, second = self.holds(scope, condition.left), self.holds(scope, condition.right)
                if first is None or second is None:
                    return None
                return (first or second) if condition.either else (first and second)

    def _is_given(self, scope: Scope, condition: IsGiven) -> bool | None:
        unit_scope = scope.unit_scope()
        name = condition.name.text
        parameters = unit_scope.unit.parameters if unit_scope.unit is not None else ()
        ports = [parameter.name.text for parameter in parameters if parameter.is_port]
        if name not in ports:
            self.tell_no_port(unit_scope, condition.name, ports)
            return None
        return name in unit_scope.given

    def tell_no_port(self, owner: Scope, name: Name, ports: Iterable[str]) -> None:
        """Reports a port that the unit does not declare; a piece has none."""
        place = owner.file.place(name.span)
        if owner.unit is None:
            self.fail("unknown-port", place, "piece", name=name.text)
        else:
            self.unknown("unknown-port", place, name.text, ports)

    def _is_place(self, scope: Scope, condition: IsPlace) -> bool | None:
        place = scope.place_scope()
        if place is None or place.family is None or place.family.shape is None:
            self.fail(
                "no-family-here", scope.file.place(condition.span), "place", which=condition.which.value
            )
            return None
        if condition.which is Which.FIRST:
            return place.ordinal == 0
        return place.ordinal == sum(place.family.shape.widths) - 1
