"""What a name stands for, and which of its members an index means.

In: a name with its index and the scope. Out: the entity, or its members as things; None when there is no such thing
(and that was told).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.expand.context import Context
from compiler.expand.live import (
    Bound,
    Broken,
    Entity,
    LiveFinding,
    LiveGroup,
    LiveHelper,
    LiveUse,
    NotGiven,
    PlaceOf,
    Scope,
    Thing,
    Whole,
)
from notation.diagnostic import Label
from notation.nodes import Index, IndexRange, Name, Named


def entity_of(ctx: Context, scope: Scope, name: Name) -> Entity | None:
    place = scope.file.place(name.span)
    entity = scope.find(name.text)
    if isinstance(entity, Broken):
        ctx.columns.broken = True
        return None
    if entity is not None:
        return entity
    text = name.text
    file = scope.file
    if text in file.broken:
        ctx.columns.broken = True
    elif text in file.findings:
        ctx.fail("not-made-yet", place, "finding", name=text)
    elif text in file.rings:
        ctx.fail("not-made-yet", place, "kind", name=text)
    elif text in file.places:
        ctx.fail("not-rings", place, "unit" if text in file.units else "", name=text)
    elif any(text in inner.upcoming for inner in _chain(scope)):
        ctx.fail("not-made-yet", place, name=text)
    else:
        ctx.unknown("unknown-name", place, text, _names_known(ctx, scope))
    return None


def _names_known(ctx: Context, scope: Scope) -> Iterator[str]:
    """The names that there are and will be; gathered when they are asked for, since there may be many."""
    yield from ctx.names_in_sight(scope)
    for inner in _chain(scope):
        yield from sorted(inner.upcoming)


def _chain(scope: Scope) -> list[Scope]:
    chain = [scope]
    while chain[-1].parent is not None:
        chain.append(chain[-1].parent)
    return chain


def members_of(ctx: Context, scope: Scope, entity: Entity, pick: Named) -> list[Thing] | None:
    place = scope.file.place(pick.span)
    match entity:
        case Whole():
            ctx.fail("not-rings", place, "number", name=pick.name.text)
            return None
        case LiveHelper():
            ctx.fail("not-rings", place, "helper", name=pick.name.text)
            return None
        case NotGiven():
            ctx.fail("port-not-given", place, name=pick.name.text)
            return None
        case Broken():
            ctx.columns.broken = True
            return None
        case LiveUse() | LiveFinding():
            if pick.index:
                ctx.fail("no-index-here", place, name=pick.name.text)
                return None
            return [entity]
        case Bound():
            return _by_number(ctx, scope, entity.things, pick)
        case LiveGroup():
            if entity.shape is not None:
                return _places(ctx, scope, entity, pick)
            if entity.by_index and pick.index:
                return _by_index(ctx, scope, entity, pick)
            return _by_number(ctx, scope, entity.members, pick)


def _values(ctx: Context, scope: Scope, index: Index) -> list[int] | None:
    if isinstance(index, IndexRange):
        values = ctx.span_of_values(scope, index.first, index.last, index.down, index.span)
        if values is None:
            return None
        if len(values) > 10_000:
            ctx.fail("index-out-of-range", scope.file.place(index.span), "many", count=len(values))
            return None
        return list(values)
    value = ctx.number(scope, index)
    return None if value is None else [value]


def _by_number(ctx: Context, scope: Scope, things: Sequence[Thing], pick: Named) -> list[Thing] | None:
    if not pick.index:
        return list(things)
    place = scope.file.place(pick.span)
    if len(pick.index) != 1:
        ctx.fail("index-count", place, name=pick.name.text, wanted=1, found=len(pick.index))
        return None
    values = _values(ctx, scope, pick.index[0])
    if values is None:
        return None
    for value in values:
        if not 1 <= value <= len(things):
            ctx.fail("index-out-of-range", place, name=pick.name.text, value=value, last=len(things))
            return None
    return [things[value - 1] for value in values]


def _by_index(ctx: Context, scope: Scope, group: LiveGroup, pick: Named) -> list[Thing] | None:
    place = scope.file.place(pick.span)
    depth = len(next(iter(group.by_index)))
    if len(pick.index) != depth:
        ctx.fail("index-count", place, name=pick.name.text, wanted=depth, found=len(pick.index))
        return None
    keys: list[tuple[int, ...]] = [()]
    for index in pick.index:
        values = _values(ctx, scope, index)
        if values is None:
            return None
        keys = [(*key, value) for key in keys for value in values]
    found: list[Thing] = []
    for key in keys:
        if key not in group.by_index:
            numbers = ", ".join(map(str, key))
            labels = (Label(place=group.made_at, note="first-made-here"),)
            ctx.fail("no-such-member", place, labels=labels, name=group.name, index=numbers)
            return None
        found.extend(group.members[position] for position in group.by_index[key])
    return found


def _places(ctx: Context, scope: Scope, family: LiveGroup, pick: Named) -> list[Thing] | None:
    """Members of a family: all places begun so far, one row, or places by number."""
    assert family.shape is not None
    place = scope.file.place(pick.span)
    widths = family.shape.widths
    begun = len(family.place_start)
    if not pick.index:
        return [PlaceOf(family, ordinal) for ordinal in range(begun)]
    rows_count = len(widths)
    one_row = family.shape.kind.value in ("line", "round")
    if len(pick.index) > (1 if one_row else 2):
        ctx.fail("index-count", place, name=pick.name.text, wanted=1 if one_row else 2, found=len(pick.index))
        return None
    rows: list[int] | None = [1] if one_row else _values(ctx, scope, pick.index[0])
    if rows is None:
        return None
    starts = family.row_starts
    found: list[Thing] = []
    for row in rows:
        if not 1 <= row <= rows_count:
            ctx.fail("index-out-of-range", place, "row", name=pick.name.text, value=row, last=rows_count)
            return None
        width = widths[row - 1]
        columns: list[int] | None
        if one_row:
            columns = _values(ctx, scope, pick.index[0])
        elif len(pick.index) == 2:
            columns = _values(ctx, scope, pick.index[1])
        else:
            columns = list(range(1, width + 1))
        if columns is None:
            return None
        for column in columns:
            if not 1 <= column <= width:
                ctx.fail("index-out-of-range", place, "place", name=pick.name.text, value=column, last=width)
                return None
            ordinal = starts[row - 1] + column - 1
            if ordinal >= begun:
                ctx.fail("not-made-yet", place, "member", name=pick.name.text, value=column)
                return None
            found.append(PlaceOf(family, ordinal))
    return found
