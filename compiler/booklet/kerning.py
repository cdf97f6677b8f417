"""Kerning pairs of a font; in: the bytes of its `GPOS` table, out: how much a pair of glyphs moves together.

Read as the OpenType specification 1.9 lays it out ("GPOS", "OpenType layout common table formats"): the
lookups of every `kern` feature, pair adjustment (type 2) in both formats, also behind an extension (type
9). Only the advance of the first glyph is used, which is all that horizontal kerning of Latin, Greek and
Cyrillic needs.
"""

from collections.abc import Callable
from itertools import count as count_from
from struct import unpack_from

_Subtable = Callable[[int, int], int | None]
"""Left and right glyph -> adjustment in font units, or nothing if the subtable does not speak of the pair."""
_X_ADVANCE = 0x0004


class Kerning:
    """The kerning of one font."""

    def __init__(self, gpos: bytes) -> None:
        """From a whole GPOS table."""
        self._gpos = gpos
        self._lookups = [self._subtables(offset) for offset in self._kern_lookups()]
        self._known: dict[tuple[int, int], int] = {}

    def pair(self, left: int, right: int) -> int:
        """What to add to the advance of the left glyph before the right one, in font units."""
        found = self._known.get((left, right))
        if found is None:
            found = self._known[left, right] = sum(_first(table, left, right) for table in self._lookups)
        return found

    def _short(self, offset: int) -> int:
        value: int = unpack_from(">H", self._gpos, offset)[0]
        return value

    def _shorts(self, offset: int, count: int) -> tuple[int, ...]:
        return unpack_from(f">{count}H", self._gpos, offset)

    def _kern_lookups(self) -> list[int]:
        """Offsets of the lookups that `kern` features name, in the order in which they apply."""
        features, lookups = self._shorts(6, 2)
        wanted: list[int] = []
        for index in range(self._short(features)):
            tag, offset = unpack_from(">4sH", self._gpos, features + 2 + 6 * index)
            if tag == b"kern":
                count = self._short(features + offset + 2)
                wanted += self._shorts(features + offset + 4, count)
        return [lookups + self._short(lookups + 2 + 2 * index) for index in sorted(dict.fromkeys(wanted))]

    def _subtables(self, lookup: int) -> list[_Subtable]:
        kind, _, count = self._shorts(lookup, 3)
        out: list[_Subtable] = []
        for offset in self._shorts(lookup + 6, count):
            start, inner = lookup + offset, kind
            if kind == 9:
                inner, far = unpack_from(">HI", self._gpos, start + 2)
                start += far
            if inner == 2:
                out.append(self._pairs(start) if self._short(start) == 1 else self._classes(start))
        return out

    def _pairs(self, start: int) -> _Subtable:
        """Format 1: for each left glyph a sorted list of right glyphs."""
        coverage = self._coverage(start + self._short(start + 2))
        first, second, count = self._shorts(start + 4, 3)
        sets = self._shorts(start + 10, count)
        size = 1 + first.bit_count() + second.bit_count()
        place = 1 + (first & (_X_ADVANCE - 1)).bit_count()
        lists: dict[int, dict[int, int]] = {}

        def listed(left: int) -> dict[int, int]:
            """Read when a glyph is first met: a text has few of those that a font has."""
            offset = start + sets[coverage[left]]
            amount = self._short(offset)
            words = unpack_from(f">{amount * size}h", self._gpos, offset + 2)
            rights = (right & 0xFFFF for right in words[::size])
            values = words[place::size] if first & _X_ADVANCE else (0,) * amount
            return dict(zip(rights, values, strict=True))

        def adjustment(left: int, right: int) -> int | None:
            if left not in coverage:
                return None
            if left not in lists:
                lists[left] = listed(left)
            return lists[left].get(right)

        return adjustment

    def _classes(self, start: int) -> _Subtable:
        """Format 2: a matrix of classes of left and right glyphs."""
        coverage = self._coverage(start + self._short(start + 2))
        first, second, left_classes, right_classes, _, columns = self._shorts(start + 4, 6)
        lefts, rights = self._class_of(start + left_classes), self._class_of(start + right_classes)
        size = first.bit_count() + second.bit_count()
        place = (first & (_X_ADVANCE - 1)).bit_count()

        def adjustment(left: int, right: int) -> int | None:
            if left not in coverage:
                return None
            if not first & _X_ADVANCE:
                return 0
            record = lefts.get(left, 0) * columns + rights.get(right, 0)
            value: int = unpack_from(">h", self._gpos, start + 16 + 2 * (record * size + place))[0]
            return value

        return adjustment

    def _coverage(self, offset: int) -> dict[int, int]:
        """Glyph -> index in the coverage table."""
        form, count = self._shorts(offset, 2)
        if form == 1:
            return {glyph: index for index, glyph in enumerate(self._shorts(offset + 4, count))}
        ranges = self._shorts(offset + 4, 3 * count)
        out: dict[int, int] = {}
        for low, high, index in zip(ranges[0::3], ranges[1::3], ranges[2::3], strict=True):
            out.update(zip(range(low, high + 1), count_from(index), strict=False))
        return out

    def _class_of(self, offset: int) -> dict[int, int]:
        """Glyph -> class; a glyph that is not named has class 0."""
        if self._short(offset) == 1:
            low, count = self._shorts(offset + 2, 2)
            return {low + index: value for index, value in enumerate(self._shorts(offset + 6, count))}
        ranges = self._shorts(offset + 4, 3 * self._short(offset + 2))
        out: dict[int, int] = {}
        for low, high, value in zip(ranges[0::3], ranges[1::3], ranges[2::3], strict=True):
            out.update(dict.fromkeys(range(low, high + 1), value))
        return out


def _first(subtables: list[_Subtable], left: int, right: int) -> int:
    """The word of the first subtable that speaks of the pair; the others of the lookup are then not asked."""
    for subtable in subtables:
        if (value := subtable(left, right)) is not None:
            return value
    return 0
