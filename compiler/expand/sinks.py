"""Where new rings go: the group that a target names, made at its first use.

In: `as arm[3]`, `added to spoke` or nothing, and the scope. Out: a `Sink` that takes strands. Names made inside a
place of a family belong to that place, while their rings share one group for the whole family.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from compiler.expand.context import Context
from compiler.expand.live import Bound, Broken, LiveGroup, Scope
from compiler.weave import FamilyShape, Mention, RingKind, Verb
from notation.diagnostic import Edit, Label, Place
from notation.limits import MOST_RINGS
from notation.nodes import Bundle, Quantity, Target
from notation.plurals import plural, printed

SIZE_OF = {Bundle.AS_KIND: 1, Bundle.SINGLE: 1, Bundle.PAIRS: 2, Bundle.TRIPLES: 3}


class Sink(Struct):
    """A place for new strands of one statement."""

    ctx: Context
    live: LiveGroup
    index: tuple[int, ...] | None = None
    lone: bool = False
    """Whether the index will get just one strand, so that its number can be the index."""
    bound: Bound | None = None
    """The place's own view of a group that all places share."""
    ordinal: int | None = None
    """FAMILY members: the place they are made at."""

    def add(self, kind: int, size: int, born: int) -> int:
        """Brings in one strand; gives its first node."""
        live = self.live
        number = len(live.members) + 1
        if self.ordinal is not None and live.shape is not None:
            number = live.row_starts[-1] + number if live.is_begun(self.ordinal) else self.ordinal + 1
        elif live.by_index:
            number = self._free_number()
        first = self.ctx.columns.add_strand(kind, size, live, number, born)
        if self.index is not None:
            live.by_index.setdefault(self.index, []).append(len(live.members) - 1)
        if self.bound is not None:
            self.bound.things.append(first)
        return first

    def add_all(self, kind: int, sizes: Sequence[int], born: Sequence[int]) -> Sequence[int]:
        """Brings in strands of one size, their rings by the motions `born`; gives their first nodes."""
        live, columns = self.live, self.ctx.columns
        if self.ordinal is None and self.index is None and not live.by_index:
            firsts = columns.add_strands(kind, sizes[0], live, len(sizes), born) if sizes else range(0)
            if self.bound is not None:
                self.bound.things.extend(firsts)
            return firsts
        made = [self.add(kind, size, motion) for size, motion in zip(sizes, born[:: sizes[0]], strict=True)]
        for ring, motion in zip(range(made[0], len(columns.born)), born, strict=True):
            columns.born[ring] = motion
        return made

    def _free_number(self) -> int:
        """The index as a member number where it can be one, else the next number that is free."""
        live = self.live
        wanted = self.index[0] if self.index is not None and len(self.index) == 1 and self.lone else 0
        number = wanted if 0 < wanted <= MOST_RINGS and wanted not in live.numbers else live.highest + 1
        live.numbers.add(number)
        live.highest = max(live.highest, number)
        return number


def label_of(scope: Scope, name: str) -> tuple[str, str] | None:
    """Singular and plural that a `label` line gives a name, from the unit outwards to the file."""
    inner: Scope | None = scope
    while inner is not None:
        if name in inner.labels:
            line = inner.labels[name]
            return line.singular.value, line.plural.value if line.plural else plural(line.singular.value)
        inner = inner.parent
    if name in scope.file.labels:
        line = scope.file.labels[name]
        return line.singular.value, line.plural.value if line.plural else plural(line.singular.value)
    return None


def new_group(
    ctx: Context,
    scope: Scope,
    name: str,
    at: Place,
    shape: FamilyShape | None = None,
    connector_of: int = -1,
    words: tuple[str, str] | None = None,
) -> LiveGroup:
    """A new group of the unit around, with its printed words."""
    owner = scope.unit_scope()
    singular, several = label_of(scope, name) or words or (printed(name), plural(printed(name)))
    key = f"{owner.key}/{name}" if owner.key else name
    return ctx.columns.new_group(name, key, singular, several, owner.site, at, shape, connector_of)


def open_sink(
    ctx: Context,
    scope: Scope,
    target: Target | None,
    kind: RingKind,
    at: Place,
    strands: int,
    members_of_family: bool = False,
    connector_of: int = -1,
) -> Sink | None:
    """The sink for a target, or None when the name cannot be used (and that was told)."""
    if target is None:
        if members_of_family and scope.family is not None:
            family = scope.family
            if family.place_members(scope.ordinal) and at not in family.joined_at:
                family.joined_at.append(at)
                ctx.report("second-member", at, family=family.name)
            return Sink(ctx=ctx, live=scope.family, ordinal=scope.ordinal)
        owner = scope.unit_scope()
        live = owner.unnamed.get((kind.name, connector_of))
        if live is None:
            words = (kind.singular, kind.plural)
            live = new_group(ctx, owner, kind.name, at, connector_of=connector_of, words=words)
            if connector_of >= 0:
                live.key = f"{ctx.columns.groups[connector_of].live.key}/{kind.name}"
            owner.unnamed[kind.name, connector_of] = live
        return Sink(ctx=ctx, live=live)
    index: tuple[int, ...] | None = None
    if target.index:
        values = [ctx.number(scope, expression) for expression in target.index]
        if any(value is None for value in values):
            return None
        index = tuple(value for value in values if value is not None)
    if target.grows:
        return _growing(ctx, scope, target, strands)
    if scope.family is not None and index is None:
        return _place_sink(ctx, scope, target, at, connector_of)
    return _named(ctx, scope, target, index, strands, at, connector_of)


def _place_sink(ctx: Context, scope: Scope, target: Target, at: Place, connector_of: int) -> Sink | None:
    owner = scope.unit_scope()
    name = target.name.text
    place = scope.file.place(target.name.span)
    here, shared = scope.names.get(name), owner.names.get(name)
    if isinstance(here, Broken) or isinstance(shared, Broken):
        return None
    if here is not None:
        ctx.tell_in_use(place, name, here.made_at)
        return None
    if shared is None:
        shared = new_group(ctx, scope, name, place, connector_of=connector_of)
        shared.places_of = scope.family
        if not ctx.define(owner, target.name, shared):
            ctx.columns.groups.pop()
            return None
    elif not isinstance(shared, LiveGroup) or shared.places_of is not scope.family:
        ctx.tell_in_use(place, name, shared.made_at)
        return None
    bound = Bound(things=[], made_at=at)
    scope.names[name] = bound
    return Sink(ctx=ctx, live=shared, bound=bound)


def _named(
    ctx: Context,
    scope: Scope,
    target: Target,
    index: tuple[int, ...] | None,
    strands: int,
    at: Place,
    connector_of: int,
) -> Sink | None:
    owner = scope.unit_scope()
    there = owner.names.get(target.name.text)
    place = scope.file.place(target.span)
    if isinstance(there, Broken):
        return None
    if isinstance(there, LiveGroup) and index is not None and there.by_index and there.shape is None:
        if index in there.by_index:
            label = Label(place=there.made_at, note="first-made-here")
            numbers = ", ".join(map(str, index))
            ctx.fail("name-in-use", place, "index", labels=(label,), name=there.name, index=numbers)
            return None
        depth = len(next(iter(there.by_index)))
        if len(index) != depth:
            ctx.fail("index-count", place, name=there.name, wanted=depth, found=len(index))
            return None
        there.by_index[index] = []
        return Sink(ctx=ctx, live=there, index=index, lone=strands == 1)
    live = new_group(ctx, scope, target.name.text, at, connector_of=connector_of)
    if not ctx.define(owner, target.name, live):
        ctx.columns.groups.pop()
        return None
    if index is not None:
        live.by_index[index] = []
    return Sink(ctx=ctx, live=live, index=index, lone=strands == 1)


def _growing(ctx: Context, scope: Scope, target: Target, strands: int) -> Sink | None:
    place = scope.file.place(target.name.span)
    there = scope.find(target.name.text)
    if isinstance(there, Broken):
        ctx.columns.broken = True
        return None
    bound = there if isinstance(there, Bound) else None
    if bound is not None:
        there = scope.unit_scope().names.get(target.name.text)
    if not isinstance(there, LiveGroup):
        names = [name for name in ctx.names_in_sight(scope) if isinstance(scope.find(name), LiveGroup)]
        ctx.unknown("unknown-group", place, target.name.text, names)
        return None
    if there.shape is not None:
        ctx.fail("unknown-group", place, "family", name=there.name)
        return None
    return Sink(ctx=ctx, live=there, lone=strands == 1, bound=bound)


def ring_kind(ctx: Context, scope: Scope, quantity: Quantity) -> int | None:
    """The number of the ring kind that a quantity names."""
    name = quantity.kind.text
    place = scope.file.place(quantity.kind.span)
    number = scope.file.kind_numbers.get(name)
    if number is not None:
        return number
    if name in scope.file.broken:
        ctx.columns.broken = True
    elif name in scope.file.unmapped:
        ctx.fail("kind-not-mapped", scope.file.unmapped[name], name=name)
    elif name in scope.file.finding_numbers:
        ctx.fail("finding-not-ring", place, name=name)
    elif (
        len(called := [line.name.text for line in scope.file.findings.values() if line.type.text == name])
        == 1
    ):
        ctx.fail(
            "unknown-kind",
            place,
            "type",
            (),
            (Edit(place=place, replacement=called[0]),),
            name=name,
            close=called[0],
        )
    else:
        ctx.unknown("unknown-kind", place, name, [*scope.file.rings, *scope.file.findings])
    return None


def strand_sizes(
    ctx: Context, scope: Scope, quantity: Quantity, kind: RingKind, one_strand: bool
) -> list[int] | None:
    """The strands that a quantity of rings makes; `one_strand` for the ring of a pass and its companions."""
    place = scope.file.place(quantity.span)
    count = ctx.count(scope, quantity.count)
    if count is None:
        return None
    own = SIZE_OF[kind.bundle]
    if quantity.bundle is Bundle.AS_KIND:
        if one_strand:
            if own > 1 and count != own:
                variant = "one" if count == 1 else "more"
                ctx.fail("not-doubled", place, variant, kind=kind.name, count=count, size=own)
                return None
            sizes, each = 1, count
        elif count % own:
            ctx.fail("odd-one-out", place, kind=kind.name, count=count, size=own)
            return None
        else:
            sizes, each = count // own, own
    else:
        sizes, each = count, SIZE_OF[quantity.bundle]
        if one_strand and sizes != 1:
            ctx.fail("one-strand", place, kind=kind.name)
            return None
    if not ctx.spend_rings(sizes * each, place):
        return None
    return [each] * sizes


def pass_strand(ctx: Context, sink: Sink, kind: int, size: int, path: list[int]) -> int:
    """An opened strand that goes through rings of the work and is closed; gives its first node."""
    columns = ctx.columns
    motion = columns.next_motion()
    first = sink.add(kind, size, motion)
    mention = Mention(form=None, start=0, stop=len(path), eye=False, gathering=False, waiting=False)
    columns.add_motion(Verb.PASS, first, ctx.site, path, None, (), (mention,))
    for companion in range(1, size):
        columns.born[first + companion] = columns.add_motion(Verb.TWIN, first + companion, ctx.site, path)
    return first
