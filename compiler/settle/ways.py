"""Regular ways for two rings to lie, many at once: which of them have the declared state, and how much room they have.

In: centres and normals (3, w) of either ring, a column for each way, in core radii. Out: truth or distance by way. Used
by the starts that are sought in a grid.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from compiler.settle.contacts import find_contacts, linking
from compiler.settle.vectors import Bools, Floats, Ints, length

_FARTHEST = 2.0
"""Core radii: rings farther from each other have all the room they want."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """The two rings as one array: ring `a` and ring `b` of each way go together."""

    centres: Floats
    """(3, 2w)."""
    normals: Floats
    """(3, 2w)."""
    radii: Floats
    a: Ints
    b: Ints

    def are(self, *, linked: bool) -> Bools:
        """Where the two are linked; or else apart, neither round the other."""
        sign, around = linking(self.centres, self.normals, self.radii, self.a, self.b)
        found: Bools = (sign != 0) if linked else (sign == 0) & (around == 0)
        return found

    def apart(self) -> Floats:
        """The offsets of their centres (3, w)."""
        return self.centres[:, self.b] - self.centres[:, self.a]

    def narrow(self, room: Floats, margin: float) -> None:
        """Lowers the room of each way to the least distance of the two, where they come as near as the margin."""
        found = find_contacts(
            self.centres, self.normals, self.radii, self.a, self.b, np.full(self.a.size, margin)
        )
        gap = self.centres[:, found.b] + self.radii[found.b] * found.on_b
        gap -= self.centres[:, found.a] + self.radii[found.a] * found.on_a
        np.minimum.at(room, found.pair, length(gap))


def ways_of(first: tuple[Floats, Floats], second: tuple[Floats, Floats], size: float = 1.0) -> Ways:
    """From centres and normals of the first ring and of the second, which is `size` core radii large."""
    numbers = np.arange(first[0].shape[1])
    return Ways(
        centres=np.concatenate([first[0], second[0]], axis=1),
        normals=np.concatenate([first[1], second[1]], axis=1),
        radii=np.concatenate([np.ones(numbers.size), np.full(numbers.size, size)]),
        a=numbers,
        b=numbers + numbers.size,
    )


def full_room(count: int) -> Floats:
    """The room (w,) of ways of which nothing is known yet."""
    return np.full(count, _FARTHEST)


def roomiest(room: Floats, count: int) -> list[int]:
    """The numbers of the ways with most room, the first of those alike first."""
    order = np.lexsort((np.arange(room.size), -np.round(room, 9)))
    return [int(number) for number in order[:count]]
