"""Where circles come near each other: pairs, their states, and the points of local least distance.

In: centres and normals of rings, shape (3, n), mm. Out: arrays over pairs or over contacts. A contact is a
point on either circle, kept as directions from the centres, and followed by Newton steps while the rings
move.
"""

from dataclasses import dataclass

import numpy as np

from compiler.settle.vectors import Bools, Floats, Ints, circle_table, cross, dot, frames, unit

_SAMPLES = 24
_COSINES, _SINES = circle_table(_SAMPLES)


@dataclass(slots=True, kw_only=True)
class Contacts:
    """Points of local least distance of two circles."""

    pair: Ints  # (c,), index of the pair of rings
    a: Ints  # (c,), ring
    b: Ints  # (c,), ring
    on_a: Floats  # (3, c), unit direction from the centre of a to the point on a
    on_b: Floats  # (3, c), the same on b


def near_pairs(centres: Floats, reach: Floats, strand: Ints) -> tuple[Ints, Ints]:
    """All pairs a < b of different strands nearer than the sum of their reaches; (p,), (p,), in order.

    A sweep along x in blocks, so that memory stays small for thousands of rings.
    """
    order = np.argsort(centres[0], kind="stable")
    x = centres[0][order]
    widest = 2 * float(reach.max()) if reach.size else 0.0
    last = np.searchsorted(x, x + widest, side="right")
    firsts = []
    for position in range(order.size):
        count = int(last[position]) - position - 1
        if count > 0:
            firsts.append((position, count))
    if not firsts:
        none = np.zeros(0, dtype=np.int64)
        return none, none
    starts, counts = np.array([f[0] for f in firsts]), np.array([f[1] for f in firsts])
    one = np.repeat(starts, counts)
    within = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    i, j = order[one], order[one + 1 + within]
    gap = centres[:, i] - centres[:, j]
    keep = (dot(gap, gap) < (reach[i] + reach[j]) ** 2) & (strand[i] != strand[j])
    a, b = np.minimum(i, j)[keep], np.maximum(i, j)[keep]
    ranked = np.lexsort((b, a))
    return a[ranked], b[ranked]


def linking(centres: Floats, normals: Floats, radii: Floats, a: Ints, b: Ints) -> tuple[Ints, Ints]:
    """Linking numbers (p,) of pairs of circles, and (p,) 1 where a is around b, -1 where b is around a, else 0.

    On the line in which the planes meet, with direction m = n_a x n_b, the discs cut intervals of half
    lengths l_a and l_b whose middles are delta apart: linked where |l_a - l_b| < |delta| < l_a + l_b, nested
    where less.
    """
    offset = centres[:, b] - centres[:, a]
    across = cross(normals[:, a], normals[:, b])
    sine2 = np.maximum(dot(across, across), 1e-18)
    up_b, up_a = dot(offset, normals[:, b]), dot(offset, normals[:, a])
    half_a2 = radii[a] ** 2 - up_b**2 / sine2
    half_b2 = radii[b] ** 2 - up_a**2 / sine2
    both = (half_a2 > 0) & (half_b2 > 0)
    half_a, half_b = np.sqrt(np.maximum(half_a2, 0)), np.sqrt(np.maximum(half_b2, 0))
    delta = dot(offset, across) / np.sqrt(sine2)
    size = np.abs(delta)
    linked = both & (size < half_a + half_b) & (size > np.abs(half_a - half_b))
    nested = both & (size < np.abs(half_a - half_b))
    sign = np.where(linked, np.where(delta > 0, -1, 1), 0).astype(np.int64)
    around = np.where(nested, np.where(half_a > half_b, 1, -1), 0).astype(np.int64)
    return sign, around


def find_contacts(
    centres: Floats, normals: Floats, radii: Floats, a: Ints, b: Ints, within: Floats
) -> Contacts:
    """The local minima, nearer than about `within` (p,) mm, of the distance of each pair of circles."""
    u, v = frames(normals[:, b])
    offset, axis = centres[:, b] - centres[:, a], normals[:, a]
    big, small = radii[a], radii[b]
    up = dot(offset, axis)[:, None] + (small * dot(u, axis))[:, None] * _COSINES
    up += (small * dot(v, axis))[:, None] * _SINES
    out2 = (dot(offset, offset) + small**2)[:, None] + (2 * small * dot(offset, u))[:, None] * _COSINES
    out2 += (2 * small * dot(offset, v))[:, None] * _SINES
    rho = np.sqrt(np.maximum(out2 - up * up, 0))
    squared = (rho - big[:, None]) ** 2 + up * up
    lowest = (squared < np.roll(squared, 1, axis=1)) & (squared <= np.roll(squared, -1, axis=1))
    # rings side by side on one axis are equally near all round: three points hold them parallel
    flat = squared.max(axis=1) < 1.3 * squared.min(axis=1)
    lowest[np.ix_(flat, range(0, _SAMPLES, _SAMPLES // 3))] = True
    # between two samples the true distance is less by at most half an arc
    lowest &= squared < ((within + small * (np.pi / _SAMPLES)) ** 2)[:, None]
    pair, sample = np.nonzero(lowest)
    on_b = u[:, pair] * _COSINES[sample] + v[:, pair] * _SINES[sample]
    point = offset[:, pair] + small[pair] * on_b
    level = point - axis[:, pair] * dot(point, axis[:, pair])
    contacts = Contacts(pair=pair, a=a[pair], b=b[pair], on_a=unit(level), on_b=on_b)
    for _ in range(3):
        follow(contacts, centres, normals, radii)
    return contacts


def follow(contacts: Contacts, centres: Floats, normals: Floats, radii: Floats) -> None:
    """Move the contacts to the local minima near them: one Newton step along both circles."""
    a, b = contacts.a, contacts.b
    axis_a, axis_b, big, small = normals[:, a], normals[:, b], radii[a], radii[b]
    on_a = unit(contacts.on_a - axis_a * dot(contacts.on_a, axis_a))
    on_b = unit(contacts.on_b - axis_b * dot(contacts.on_b, axis_b))
    gap = centres[:, b] + small * on_b - centres[:, a] - big * on_a
    along_a, along_b = cross(axis_a, on_a), cross(axis_b, on_b)
    slope_a, slope_b = -big * dot(gap, along_a), small * dot(gap, along_b)
    curve_a = np.maximum(big**2 + big * dot(gap, on_a), 0.1 * big**2)
    curve_b = np.maximum(small**2 - small * dot(gap, on_b), 0.1 * small**2)
    mixed = -big * small * dot(along_a, along_b)
    # keep the matrix positive: a step of steepest descent where two circles run side by side
    limit = 0.98 * np.sqrt(curve_a * curve_b)
    mixed = np.minimum(np.maximum(mixed, -limit), limit)
    determinant = curve_a * curve_b - mixed * mixed
    step_a = -(curve_b * slope_a - mixed * slope_b) / determinant
    step_b = -(curve_a * slope_b - mixed * slope_a) / determinant
    largest = np.maximum(np.maximum(np.abs(step_a), np.abs(step_b)), 0.3) / 0.3
    contacts.on_a = unit(on_a + along_a * (step_a / largest))
    contacts.on_b = unit(on_b + along_b * (step_b / largest))


def pick(contacts: Contacts, keep: Bools | Ints) -> Contacts:
    """The contacts that are marked, or those of the given numbers in that order."""
    return Contacts(
        pair=contacts.pair[keep],
        a=contacts.a[keep],
        b=contacts.b[keep],
        on_a=contacts.on_a[:, keep],
        on_b=contacts.on_b[:, keep],
    )
