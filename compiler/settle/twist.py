"""A start for a chain that closes on itself with half turns: a circle on which each ring is turned a little further.

In: a problem and its model. Out: places and normals of the bodies, for each round that is said to be closed so. The
rings of a chain stand across one another, so that a ring is turned a quarter from the one before, and by its share of
the half turns more; clockwise looking along the row is right-handed about it.
"""

import math
from collections.abc import Iterator

import numpy as np

from compiler.layout import LayoutProblem
from compiler.settle.model import Model
from compiler.settle.template import SPACING, drawn_places
from compiler.settle.vectors import Floats


def twisted(problem: LayoutProblem, model: Model) -> Iterator[tuple[Floats, Floats]]:
    """Places and normals (3, m) each; bodies that are not of the round stay in their places."""
    for closing in problem.closings:
        if not closing.half_turns or len(closing.rows) > 1:
            continue
        (row,) = closing.rows
        bodies = [int(model.body[ring]) for ring in row]
        count = len(bodies)
        around = SPACING * 2 * float(model.size[bodies].sum())
        radius = around / (2 * math.pi)
        left_over = count % 2 * math.pi / 2
        share = (math.pi * closing.half_turns - left_over) / count
        at, normal = drawn_places(model), np.zeros((3, model.bodies))
        normal[2] = 1.0
        for number, body in enumerate(bodies):
            angle = 2 * math.pi * number / count
            c, s = math.cos(angle), math.sin(angle)
            turned = (math.pi / 2 + share) * number
            outward, up = math.cos(turned), -math.sin(turned)
            at[:, body] = (radius * c, radius * s, 0.0)
            normal[:, body] = (outward * c, outward * s, up)
        yield at, normal
