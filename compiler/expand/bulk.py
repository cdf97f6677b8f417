"""Sheets and tubes of one simple pass, row by row in bulk: a million rings in seconds.

The same result as carrying the statement out place by place (a test compares the two). Applies when the family's
only statement is a pass through relative members, or a take, with no names, loads, joins or twin line.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from itertools import accumulate, chain, islice, repeat
from itertools import count as count_from

from msgspec import Struct

from compiler.expand.context import Context
from compiler.expand.edges import tell_missing
from compiler.expand.live import LiveGroup, Scope
from compiler.expand.shape import as_mirrored, neighbours, row_shifts, wraps
from compiler.expand.sinks import ring_kind, strand_sizes
from compiler.weave import FamilyShape, SiteKind, Verb
from notation.limits import MOST_COMPANIONS
from notation.nodes import Companions, Direction, Item, Relative, Side
from notation.statements import Family, FamilyKind, Pass, Statement


class _Paths(Struct, frozen=True):
    """What the rings of the family go through, row after row, in columns of type `i`."""

    lengths: array[int]
    """By ring: how many it goes through."""
    met: array[int]
    """What they go through, one path behind the other."""
    going: array[int]
    """The ring that goes, for each that is met."""


def simple_pass(node: Family) -> Pass | None:
    """The family's one statement when it is simple enough for bulk, else None."""
    if node.kind not in (FamilyKind.SHEET, FamilyKind.TUBE) or node.handed or len(node.body) != 1:
        return None
    statement: Statement = node.body[0]
    if not isinstance(statement, Pass) or len(statement.through) != 1:
        return None
    plain = not (
        statement.target
        or statement.gathering
        or statement.carrying
        or statement.join
        or statement.around
        or statement.between
        or statement.inside
        or statement.over
        or statement.under
        or statement.companions is not Companions.SIDE_BY_SIDE
        or statement.twin
    )
    return statement if plain and _plain_item(statement.through[0]) else None


def _plain_item(item: Item) -> bool:
    return (
        len(item.picks) == 1
        and isinstance(item.picks[0], Relative)
        and not item.eye
        and not item.if_there
        and item.gap is None
    )


def make_rows(ctx: Context, scope: Scope, family: LiveGroup, node: Family, statement: Pass) -> bool:
    """Makes all rows; False when the statement is wrong (and that was told)."""
    shape = family.shape
    assert shape is not None
    number = ring_kind(ctx, scope, statement.quantity)
    if number is None:
        return False
    place = scope.file.place(statement.span)
    sizes = strand_sizes(ctx, scope, statement.quantity, ctx.ring_kinds[number], one_strand=True)
    if sizes is None:
        return False
    size = sizes[0]
    if size > MOST_COMPANIONS:
        ctx.fail("too-many-companions", place, count=size, limit=MOST_COMPANIONS)
        return False
    if not ctx.spend_rings(size * (sum(shape.widths) - 1), place):
        return False
    item = statement.through[0]
    relative = item.picks[0]
    assert isinstance(relative, Relative)
    relative = as_mirrored(relative, ctx.columns.mirrored)
    if relative.direction in (Direction.BELOW, Direction.ABOVE) and len(shape.widths) == 1:
        span = scope.file.place(relative.span)
        ctx.fail("no-family-here", span, "rows", direction=relative.direction.value, family=family.name)
        return False
    whole = _make(ctx, scope, family, node, statement, relative, number, size)
    if whole:
        tell_missing(ctx, scope.file, family, node.body)
    return whole


def _make(
    ctx: Context,
    scope: Scope,
    family: LiveGroup,
    node: Family,
    statement: Pass,
    relative: Relative,
    kind: int,
    size: int,
) -> bool:
    """Makes the rows that there are links for, a step each; whether those are all."""
    shape = family.shape
    assert shape is not None
    columns = ctx.columns
    family_place, place = scope.file.place(node.span), scope.file.place(statement.span)
    base, motion = len(columns.kind), len(columns.verb)
    offset = base if size == 1 else 0  # paths are nodes, or ordinals of strands
    all_members = array("i", range(offset, offset + sum(shape.widths)))
    paths = _Paths(lengths=array("i"), met=array("i"), going=array("i"))
    title_steps = columns.step_open is None
    outer, links = ctx.site, 0
    verbs = bytearray()
    for row, width in enumerate(shape.widths):
        _add_paths(paths, shape, row, family.row_starts, relative, all_members)
        if not ctx.spend_links(size * size * (len(paths.met) - links), place):
            del paths.lengths[len(verbs) :], paths.met[links:], paths.going[links:]
            break
        links = len(paths.met)
        ctx.site = outer
        ctx.site = ctx.add_site(SiteKind.PLACE, family_place, family.name, row + 1)
        if title_steps:
            first = motion + size * len(verbs)
            key = f"{family.key}[{row + 1}]"
            columns.whole_step(key, ctx.site, family.number, row + 1, first, first + size * width)
        _fill(columns.motion_site, ctx.add_site(SiteKind.STATEMENT, place, statement=statement), size * width)
        verbs += bytes(map(bool, paths.lengths[len(verbs) :]))
    ctx.site = outer
    members = len(verbs)
    _bring_in(ctx, family, kind, size, members)
    moves = verbs.translate(_VERBS)
    if size > 1:
        paths = _of_strands(paths, size, base)
        moves = bytearray(chain.from_iterable((move, *[_TWINS[move]] * (size - 1)) for move in moves))
    behind = (statement.through[0].side is Side.BEHIND) is not columns.mirrored
    columns.verb.frombytes(moves)
    columns.actor.extend(range(base, base + size * members))
    columns.path_start.extend(islice(accumulate(paths.lengths, initial=len(columns.path_node)), 1, None))
    columns.path_node.extend(paths.met)
    _fill(columns.path_behind, int(behind), len(paths.met))
    _fill(columns.load_start, len(columns.load_node), size * members)
    columns.link_a.extend(paths.going)
    columns.link_b.extend(paths.met)
    since = motion - base
    columns.link_motion.extend(array("i", [ring + since for ring in paths.going]) if since else paths.going)
    _fill(columns.link_sign, -1 if behind else 1, len(paths.met))
    return members == len(all_members)


_VERBS = bytes.maketrans(b"\0\1", bytes((Verb.TAKE, Verb.PASS)))
_TWINS: dict[int, Verb] = {Verb.TAKE: Verb.TAKE, Verb.PASS: Verb.TWIN}


def _add_paths(
    paths: _Paths,
    shape: FamilyShape,
    row: int,
    starts: tuple[int, ...],
    relative: Relative,
    members: array[int],
) -> None:
    """Adds what the places of a row go through: those of the `members`, by ordinal, that were made before."""
    width = shape.widths[row]
    if relative.direction in (Direction.BELOW, Direction.ABOVE) and not wraps(shape):
        other, shifts = row_shifts(shape, row, relative)
        if other > row or not shifts:
            _fill(paths.lengths, 0, width)
        else:
            met = members[starts[other] : starts[other] + shape.widths[other]]
            _across(paths, members[starts[row] : starts[row] + width], met, shifts)
        return
    for column in range(width):
        here = starts[row] + column
        ordinals = (starts[at] + place for at, place in neighbours(shape, row, column, relative))
        _add_path(paths, members[here], [members[ordinal] for ordinal in ordinals if ordinal < here])


def _add_path(paths: _Paths, ring: int, met: Sequence[int]) -> None:
    paths.lengths.append(len(met))
    paths.met.extend(met)
    _fill(paths.going, ring, len(met))


def _across(paths: _Paths, row: array[int], other: array[int], shifts: Sequence[int]) -> None:
    """From a row into another; the places that meet all they should, all at once."""
    width, reach, count = len(row), len(other), len(shifts)
    first = min(width, max(0, -min(shifts)))
    stop = max(first, min(width, reach - max(shifts)))

    def one_by_one(columns: range) -> None:
        for column in columns:
            met = [other[column + shift] for shift in shifts if 0 <= column + shift < reach]
            _add_path(paths, row[column], met)

    one_by_one(range(first))
    _fill(paths.lengths, count, stop - first)
    block = array("i", bytes(4 * count * (stop - first)))
    for place, shift in enumerate(shifts):
        block[place::count] = other[first + shift : stop + shift]
    paths.met.extend(block)
    for place in range(count):
        block[place::count] = row[first:stop]
    paths.going.extend(block)
    one_by_one(range(stop, width))


def _of_strands(paths: _Paths, size: int, base: int) -> _Paths:
    """The paths of the rings of all strands: each goes the way of its strand, through all rings of each met."""
    lengths = array("i", [size * length for length in paths.lengths for _ in range(size)])
    stops = accumulate(paths.lengths)
    ways = (paths.met[stop - length : stop] for length, stop in zip(paths.lengths, stops, strict=True))
    strands = ([base + size * ordinal + n for ordinal in way for n in range(size)] for way in ways)
    met = array("i", chain.from_iterable(strand for strand in strands for _ in range(size)))
    going = array("i", chain.from_iterable(map(repeat, count_from(base), lengths)))
    return _Paths(lengths=lengths, met=met, going=going)


def _fill(column: array[int], value: int, count: int) -> None:
    column.extend(array(column.typecode, [value]) * count)


def _bring_in(ctx: Context, family: LiveGroup, kind: int, size: int, members: int) -> None:
    """Writes the rings of so many members into the columns, each member a strand of `size`."""
    columns = ctx.columns
    base, motion, before = len(columns.kind), len(columns.verb), len(family.members)
    rings = members * size
    nodes = array("i", range(base, base + rings))
    firsts = nodes[::size]
    numbers = range(before + 1, before + members + 1)
    _fill(columns.kind, kind, rings)
    _fill(columns.group, family.number, rings)
    if size == 1:
        columns.member.extend(numbers)
        columns.companion.frombytes(bytes(columns.companion.itemsize * rings))
        columns.strand.extend(nodes)
    else:
        columns.member.extend(number for number in numbers for _ in range(size))
        columns.companion.extend(list(range(size)) * members)
        columns.strand.extend(first for first in firsts for _ in range(size))
    columns.born.extend(range(motion, motion + rings))
    columns.counts[kind] += rings
    family.place_start.extend(range(before, before + members))
    family.members.extend(firsts)
