"""Indexes over the columns of a piece: who is linked with whom, who lies beside whom, and where a member lies.

In: a `PieceWeave`. Out: compressed rows (starts and entries in `array` columns) and addresses. Shared by check,
word and layout; nothing here is kept in the weave, and everything is built in time linear in rings and links.
"""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Iterable
from itertools import accumulate

from msgspec import Struct

from compiler.weave import Group, PieceWeave
from notation.statements import FamilyKind


class Rows(Struct, frozen=True, kw_only=True):
    """Lists of whole numbers, one per key 0..len - 1, in two columns."""

    start: array[int]
    """`i`, keys + 1 entries: where each key's list starts in `entry`."""
    entry: array[int]
    """`i`, the lists one after the other."""

    def __len__(self) -> int:
        return len(self.start) - 1

    def __getitem__(self, key: int) -> array[int]:
        return self.entry[self.start[key] : self.start[key + 1]]

    def size(self, key: int) -> int:
        """How many entries a key has."""
        return self.start[key + 1] - self.start[key]


def rows_of(count: int, keys: Iterable[int], entries: Iterable[int]) -> Rows:
    """The lists of `entries` by `keys` (same length, keys in 0..count - 1), each in the order given."""
    keys = array("i", keys)
    entries = array("i", entries)
    sizes = array("i", bytes(4 * count))
    for key in keys:
        sizes[key] += 1
    start = array("i", accumulate(sizes, initial=0))
    fill = array("i", start)
    entry = array("i", bytes(4 * len(keys)))
    for key, value in zip(keys, entries, strict=True):
        entry[fill[key]] = value
        fill[key] += 1
    return Rows(start=start, entry=entry)


def neighbours(piece: PieceWeave) -> Rows:
    """By node: the nodes linked with it, in order of linking; a pair linked twice is there twice."""
    count = len(piece)
    ends = array("i", piece.link_a)
    ends.extend(piece.link_b)
    others = array("i", piece.link_b)
    others.extend(piece.link_a)
    # Both ends of link 0 first, then of link 1, so that each list runs in order of making.
    links = len(piece.link_a)
    order = [index + side * links for index in range(links) for side in (0, 1)]
    return rows_of(count, (ends[index] for index in order), (others[index] for index in order))


def incident_links(piece: PieceWeave) -> Rows:
    """By node: the indexes of the links it takes part in, in order of linking."""
    links = range(len(piece.link_a))
    keys = (node for a, b in zip(piece.link_a, piece.link_b, strict=True) for node in (a, b))
    return rows_of(len(piece), keys, (index for index in links for _ in (0, 1)))


def strand_members(piece: PieceWeave) -> Rows:
    """By node id of a strand's first ring: the nodes of the strand, in order; empty for all other nodes."""
    return rows_of(len(piece), piece.strand, range(len(piece)))


def strand_neighbours(piece: PieceWeave) -> Rows:
    """By strand (node id of its first ring): the strands linked with it, each once, in order of linking.

    Links between rings of one strand are left out.
    """
    lead = piece.strand
    seen: set[tuple[int, int]] = set()
    keys, entries = array("i"), array("i")
    for a, b in zip(piece.link_a, piece.link_b, strict=True):
        first, second = lead[a], lead[b]
        if first == second or (first, second) in seen:
            continue
        seen.add((first, second))
        seen.add((second, first))
        keys.extend((first, second))
        entries.extend((second, first))
    return rows_of(len(piece), keys, entries)


class Address(Struct, frozen=True, kw_only=True):
    """Where a strand lies among the members of its group."""

    group: int
    """Index into PieceWeave.groups."""
    row: int
    """From 1; 0 in a group that has no rows."""
    place: int
    """From 1: in the row, or in the group where it has no rows."""


class Addresses:
    """Rows and places of the members of a piece's groups."""

    __slots__ = ("_piece", "_starts")

    def __init__(self, piece: PieceWeave) -> None:
        self._piece = piece
        self._starts = tuple(_row_starts(group) for group in piece.groups)

    def rows(self, group: int) -> int:
        """How many rows the group has; 0 when its members are only numbered."""
        return max(len(self._starts[group]) - 1, 0)

    def width(self, group: int, row: int) -> int:
        """Places in a row (from 1)."""
        starts = self._starts[group]
        return starts[row] - starts[row - 1]

    def of_member(self, group: int, member: int) -> Address:
        """The address of a member by its number."""
        starts = self._starts[group]
        if not starts or member > starts[-1]:
            return Address(group=group, row=0, place=member)
        row = bisect_right(starts, member - 1)
        return Address(group=group, row=row, place=member - starts[row - 1])

    def of(self, node: int) -> Address:
        """The address of a ring's strand; a ring, not an eye."""
        return self.of_member(self._piece.group[node], self._piece.member[node])


def _row_starts(group: Group) -> tuple[int, ...]:
    """Members before each row, and at the end all of them; empty for a group without rows."""
    shape = group.shape
    if (
        shape is None
        or shape.kind not in (FamilyKind.SHEET, FamilyKind.TUBE, FamilyKind.DISC)
        or len(shape.widths) < 2
    ):
        return ()
    return tuple(accumulate(shape.widths, initial=0))


def written_name(piece: PieceWeave, addresses: Addresses, node: int) -> str:
    """What a node's strand would be called in a pattern: `arm[3]`, `point[2, 1] of lozenge 2`, `glass drop 2`."""
    if piece.group[node] < 0:
        return piece.findings[piece.member[node]].label
    address = addresses.of(node)
    group = piece.groups[address.group]
    index = f"{address.row}, {address.place}" if address.row else str(address.place)
    return f"{group.name}[{index}]" + (f" of {group.owner}" if group.owner else "")
