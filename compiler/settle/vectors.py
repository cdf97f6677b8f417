"""Vectors as arrays of shape (3, n): sums, products and scatter in an order that is the same on every machine.

Only elementwise arithmetic, square roots and sequential sums: BLAS and the vector units' sines and cosines
give other last bits on other processors, and a search amplifies them.
"""

import math

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


def dot(a: Floats, b: Floats) -> Floats:
    """Scalar products, (n,), of vectors (3, n)."""
    product: Floats = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    return product


def cross(a: Floats, b: Floats) -> Floats:
    """Vector products, (3, n)."""
    out = np.empty(np.broadcast_shapes(a.shape, b.shape))
    out[0] = a[1] * b[2] - a[2] * b[1]
    out[1] = a[2] * b[0] - a[0] * b[2]
    out[2] = a[0] * b[1] - a[1] * b[0]
    return out


def length(a: Floats) -> Floats:
    """Lengths, (n,)."""
    return np.sqrt(dot(a, a))


def unit(a: Floats) -> Floats:
    """Directions, (3, n); a vector of no length stays near zero."""
    return a / np.maximum(length(a), 1e-150)


def scatter(index: Ints, values: Floats, count: int) -> Floats:
    """Sums of the vectors (3, n) that share an index, (3, count); in the order of the vectors."""
    return np.stack([np.bincount(index, weights=row, minlength=count).astype(np.float64) for row in values])


def total(values: Floats) -> float:
    """The sum of all values, one after the other."""
    flat = values.ravel()
    return float(np.bincount(np.zeros(flat.size, dtype=np.int64), weights=flat, minlength=1)[0])


def frames(normals: Floats) -> tuple[Floats, Floats]:
    """Unit vectors u and v, (3, n) each, with (u, v, normal) right-handed."""
    helper = np.zeros_like(normals)
    smallest = np.argmin(np.abs(normals), axis=0)
    helper[smallest, np.arange(normals.shape[1])] = 1.0
    u = unit(cross(helper, normals))
    return u, cross(normals, u)


def circle_table(samples: int) -> tuple[Floats, Floats]:
    """Cosines and sines, (samples,), of equal steps of a full turn."""
    angles = [2 * math.pi * k / samples for k in range(samples)]
    return np.array([math.cos(a) for a in angles]), np.array([math.sin(a) for a in angles])
