"""Picks: which rings, uses and findings a text means.

In: a pick as written and the scope it stands in. Out: the things it comes to, in order, or None when the pick is
wrong (and that was told). A member is a strand: what lies side by side counts as one.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.expand.context import Context
from compiler.expand.live import (
    Bound,
    Broken,
    Cursor,
    Entity,
    EyeOf,
    LiveFinding,
    LiveGroup,
    LiveUse,
    PlaceOf,
    Scope,
    Thing,
    Whole,
)
from compiler.expand.members import entity_of, members_of
from compiler.expand.shape import as_mirrored, neighbours, wraps
from notation.diagnostic import Place
from notation.limits import MOST_MEMBERS
from notation.nodes import Bundle, IndexRange, Item, Named, PartOf, Pick, Relative, Select, Which

BUNDLE_SIZE = {Bundle.SINGLE: 1, Bundle.PAIRS: 2, Bundle.TRIPLES: 3}


def things_of(ctx: Context, scope: Scope, pick: Pick) -> list[Thing] | None:
    """What a pick comes to. A relative gives the places that are there already, perhaps none."""
    found: list[Thing] | None
    match pick:
        case Named():
            entity = entity_of(ctx, scope, pick.name)
            found = None if entity is None else members_of(ctx, scope, entity, pick)
        case PartOf():
            found = _part(ctx, scope, pick)
        case Select():
            found = _select(ctx, scope, pick)
        case Relative():
            return _relative(ctx, scope, pick)  # a few at most
    return found if found is None or _spend(ctx, len(found), scope.file.place(pick.span)) else None


def _spend(ctx: Context, count: int, place: Place) -> bool:
    """Books the members that a pick comes to: a short text can name a large group over and over."""
    ctx.members += count
    if ctx.members > MOST_MEMBERS:
        ctx.fail("too-many-statements", place, "members", limit=MOST_MEMBERS)
        ctx.stopped = True
        return False
    return True


def strands_of(ctx: Context, things: list[Thing], place: Place) -> list[int] | None:
    """The first nodes of the strands (and eyes) that things are; a whole unit or a choice of eyes is an error."""
    found: list[int] = []
    for thing in things:
        match thing:
            case int():
                found.append(thing)
            case EyeOf(node=node):
                found.append(node)
            case PlaceOf(family=family, ordinal=ordinal):
                use = family.uses.get(ordinal)
                if use is not None:
                    _tell_whole_use(ctx, place, use)
                    return None
                found.extend(family.place_members(ordinal))
            case LiveFinding(eyes=eyes):
                if len(eyes) != 1:
                    kind = ctx.finding_kinds[thing.kind]
                    names = ", ".join(eye.name for eye in kind.eyes)
                    ctx.fail("which-eye", place, finding=kind.singular, eyes=names)
                    return None
                found.append(eyes[0])
            case LiveUse():
                _tell_whole_use(ctx, place, thing)
                return None
    return found


def _tell_whole_use(ctx: Context, place: Place, use: LiveUse) -> None:
    ports = [name for name, entity in use.scope.ports.items() if not isinstance(entity, Broken)]
    if ports:
        ctx.fail("whole-unit", place, name=use.name, port=ports[0])
    else:
        ctx.fail("whole-unit", place, "no-port", name=use.name)


def tell_no_such_eye(ctx: Context, kind: int, name: str, place: Place) -> None:
    """Reports an eye that a kind of finding does not have, with those it has."""
    eyes = [eye.name for eye in ctx.finding_kinds[kind].eyes]
    finding = ctx.finding_kinds[kind].singular
    ctx.unknown("unknown-eye", place, name, eyes, finding=finding, eyes=", ".join(eyes))


def left_out(ctx: Context, scope: Scope, item: Item) -> bool:
    """Whether an `if there` item names a member outside a family's edge, so that it is left out."""
    if not item.if_there:
        return False
    return any(_outside(ctx, scope, pick) for pick in item.picks)


def _outside(ctx: Context, scope: Scope, pick: Pick) -> bool:
    if isinstance(pick, PartOf):
        return _outside(ctx, scope, pick.whole)
    if not isinstance(pick, Named) or not pick.index:
        return False
    entity = scope.find(pick.name.text)
    if not isinstance(entity, LiveGroup) or entity.shape is None:
        return False
    values = [None if isinstance(index, IndexRange) else ctx.number(scope, index) for index in pick.index]
    if any(value is None for value in values):
        return False
    widths = entity.shape.widths
    if len(widths) == 1 and len(values) == 1:
        return not 1 <= (values[0] or 0) <= widths[0]
    row = (values[0] or 0) - 1
    if not 0 <= row < len(widths):
        return True
    return len(values) > 1 and not 1 <= (values[1] or 0) <= widths[row]


# ---------------------------------------------------------------- parts


def _part(ctx: Context, scope: Scope, pick: PartOf) -> list[Thing] | None:
    wholes = things_of(ctx, scope, pick.whole)
    if wholes is None:
        return None
    found: list[Thing] = []
    for whole in wholes:
        inside = _inside(ctx, scope, whole, pick)
        if inside is None:
            return None
        found.extend(inside)
    return found


def _inside(ctx: Context, scope: Scope, whole: Thing, pick: PartOf) -> list[Thing] | None:
    name = pick.part.name
    place = scope.file.place(name.span)
    if isinstance(whole, PlaceOf):
        use = whole.family.uses.get(whole.ordinal)
        inner = whole.family.scopes.get(whole.ordinal)
        if inner is not None and name.text in inner.names:
            return members_of(ctx, scope, inner.names[name.text], pick.part)
        if inner is not None and isinstance(inner.find(name.text), Broken):
            ctx.columns.broken = True
            return None
        if use is None and whole.family.uses and ctx.columns.broken:
            return None  # the place was told when its unit could not be made
        if use is None and name.text == whole.family.name:
            ctx.fail("unknown-part", place, "itself", name=name.text)
            return None
        if use is None:
            names = list(inner.names) if inner is not None else []
            ctx.unknown("unknown-part", place, name.text, names, whole=whole.family.name)
            return None
        whole = use
    if isinstance(whole, LiveUse):
        entity = whole.scope.ports.get(name.text) or whole.scope.names.get(name.text)
        if entity is None or isinstance(entity, Whole):
            names = [*whole.scope.ports, *whole.scope.names]
            ctx.unknown("unknown-part", place, name.text, names, whole=whole.name)
            return None
        return members_of(ctx, scope, entity, pick.part)
    if isinstance(whole, LiveFinding):
        kind = ctx.finding_kinds[whole.kind]
        for eye, node in zip(kind.eyes, whole.eyes, strict=True):
            if eye.name == name.text:
                return [EyeOf(node)]
        tell_no_such_eye(ctx, whole.kind, name.text, place)
        return None
    ctx.fail("no-parts-here", place, name=name.text)
    return None


# ---------------------------------------------------------------- selections


def _cursor(ctx: Context, scope: Scope, pick: Pick) -> tuple[Cursor, LiveGroup | Bound] | None:
    """The cursor of the group that a pick names as a whole, and the group itself."""
    place = scope.file.place(pick.span)
    entity: Entity | None = None
    if isinstance(pick, Named) and not pick.index:
        entity = entity_of(ctx, scope, pick.name)
        if entity is None:
            return None
    elif isinstance(pick, Named) and len(pick.index) == 1:
        family = entity_of(ctx, scope, pick.name)
        if family is None:
            return None
        if isinstance(family, LiveGroup) and family.shape is not None and len(family.shape.widths) > 1:
            things = things_of(ctx, scope, pick)
            if things is None:
                return None
            rows = {family.where(thing.ordinal)[0] for thing in things if isinstance(thing, PlaceOf)}
            if len(rows) == 1:
                row = family.rows.setdefault(rows.pop(), Bound(things=things, made_at=family.made_at))
                return row.cursor, row
    elif isinstance(pick, PartOf) and not pick.part.index:
        wholes = things_of(ctx, scope, pick.whole)
        if wholes is None:
            return None
        if len(wholes) == 1:
            whole = wholes[0]
            if isinstance(whole, PlaceOf):
                inner = whole.family.scopes.get(whole.ordinal)
                use = whole.family.uses.get(whole.ordinal)
                entity = inner.names.get(pick.part.name.text) if inner is not None else None
                whole = use if entity is None and use is not None else whole
            if isinstance(whole, LiveUse):
                entity = whole.scope.ports.get(pick.part.name.text) or whole.scope.names.get(
                    pick.part.name.text
                )
    if isinstance(entity, LiveGroup | Bound):
        return entity.cursor, entity
    if isinstance(entity, Broken):
        ctx.columns.broken = True
        return None
    ctx.fail("next-of-what", place)
    return None


def _select(ctx: Context, scope: Scope, pick: Select) -> list[Thing] | None:
    place = scope.file.place(pick.span)
    count = 1 if pick.count is None else ctx.count(scope, pick.count)
    if count is None:
        return None
    if pick.which in (Which.NEXT, Which.ALONG):
        chosen = _consume(ctx, scope, pick, count, place)
    else:
        chosen = _end(ctx, scope, pick, count, place)
    if chosen is None or not _bundled(ctx, pick, chosen, place):
        return None
    return chosen


def _end(ctx: Context, scope: Scope, pick: Select, count: int, place: Place) -> list[Thing] | None:
    """The first or last so many; of a whole group without going over all of it."""
    entity: Entity | None = None
    if isinstance(pick.group, Named) and not pick.group.index:
        entity = scope.find(pick.group.name.text)
    if not isinstance(entity, LiveGroup | Bound):
        things = things_of(ctx, scope, pick.group)
        if things is None:
            return None
        entity = Bound(things=things, made_at=place)
    total = _total(entity)
    if count > total:
        ctx.fail("too-few-members", place, wanted=count, there=total, which=pick.which.value)
        return None
    return _members_at(entity, range(count) if pick.which is Which.FIRST else range(total - count, total))


def _total(entity: LiveGroup | Bound) -> int:
    """How many members a group has so far."""
    if isinstance(entity, Bound):
        return len(entity.things)
    return len(entity.members) if entity.shape is None else len(entity.place_start)


def _closes(entity: LiveGroup | Bound) -> bool:
    """Whether what is walked along closes on itself: a round, or a row of a tube."""
    if isinstance(entity, LiveGroup):
        return entity.shape is not None and wraps(entity.shape)
    first = entity.things[0] if entity.things else None
    if not isinstance(first, PlaceOf) or first.family.shape is None:
        return False
    return first.family.rows.get(first.family.where(first.ordinal)[0]) is entity and wraps(first.family.shape)


def _members_at(entity: LiveGroup | Bound, positions: Iterable[int]) -> list[Thing]:
    """The members of a group at positions from 0."""
    if isinstance(entity, Bound):
        return [entity.things[position] for position in positions]
    if entity.shape is None:
        return [entity.members[position] for position in positions]
    return [PlaceOf(entity, position) for position in positions]


def _consume(ctx: Context, scope: Scope, pick: Select, count: int, place: Place) -> list[Thing] | None:
    holder = _cursor(ctx, scope, pick.group)
    if holder is None:
        return None
    cursor, entity = holder
    total = _total(entity)
    if pick.which is Which.NEXT:
        left = total - cursor.taken
        if count > left:
            if left:
                ctx.fail(
                    "group-spent", place, "several" if left > 1 else "", wanted=count, left=left, total=total
                )
            else:
                ctx.fail("group-spent", place, "none", total=total)
            return None
        positions = range(cursor.taken, cursor.taken + count)
        cursor.taken += count
        cursor.taken_at = place
    else:
        step = 1 if pick.step is None else ctx.count(scope, pick.step)
        if step is None:
            return None
        closes = _closes(entity)
        end = cursor.window + count
        if end > total + (count - 1 if closes else 0) or count > total:
            ctx.fail("group-spent", place, "along", wanted=count, total=total)
            return None
        positions = range(cursor.window, end)
        cursor.reach = end
        cursor.window += step
        cursor.window_at = place
    return _members_at(entity, (position % total for position in positions))


def _bundled(ctx: Context, pick: Select, chosen: list[Thing], place: Place) -> bool:
    """Whether `pairs` is true where it is said, and said where a bare count would be read wrongly."""
    sizes = set()
    for thing in chosen:
        if isinstance(thing, int):
            sizes.add(len(ctx.columns.strand_nodes(thing)))
        elif isinstance(thing, PlaceOf):
            sizes.update(
                len(ctx.columns.strand_nodes(first)) for first in thing.family.place_members(thing.ordinal)
            )
    if pick.bundle in BUNDLE_SIZE:
        wanted = BUNDLE_SIZE[pick.bundle]
        wrong = sorted(size for size in sizes if size != wanted)
        if wrong:
            ctx.fail("not-bundled", place, word=pick.bundle.value, size=wrong[0])
            return False
    elif pick.count is not None and sizes - {1}:
        size = max(sizes)
        word = {2: "pairs", 3: "triples"}.get(size, "")
        ctx.fail("count-unclear", place, "" if word else "many", word=word, size=size)
        return False
    return True


# ---------------------------------------------------------------- relatives


def _relative(ctx: Context, scope: Scope, pick: Relative) -> list[Thing] | None:
    place_scope = scope.place_scope()
    place = scope.file.place(pick.span)
    if place_scope is None or place_scope.family is None or place_scope.family.shape is None:
        ctx.fail("no-family-here", place, direction=pick.direction.value)
        return None
    family = place_scope.family
    shape = place_scope.family.shape
    row, column = family.where(place_scope.ordinal)
    if pick.direction.value in ("below", "above") and len(shape.widths) == 1:
        ctx.fail("no-family-here", place, "rows", direction=pick.direction.value, family=family.name)
        return None
    found: list[Thing] = []
    for other_row, other_column in neighbours(shape, row, column, as_mirrored(pick, ctx.columns.mirrored)):
        ordinal = family.row_starts[other_row] + other_column
        if ordinal < len(family.place_start) and ordinal != place_scope.ordinal:
            found.append(PlaceOf(family, ordinal))
    return found
