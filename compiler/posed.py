"""How circles lean, are turned from each to the next, and lie front and back: poses, measured.

In: circles, and facts of poses. Out: the facts that the circles show otherwise. A pose is no matter of links: rings of
one weave can be pushed to lean the other way. So this is asked of the places in which a piece is drawn.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from compiler.front import front_in_frame, front_of
from compiler.geometry import dot, frame, minus, times, unit
from compiler.layout import Ahead, Circle, Lean, Over, Turn, Vector

UPRIGHT = 0.05
"""A ring whose normal is turned aside by no more (the sine) leans to neither side."""
EDGE_ON = 0.1
"""A ring that is so square to the front (the cosine) has no edge that is nearest to the eye at one side."""
NEAR_ENOUGH = 45.0
"""Degrees by which a turn from ring to ring may differ from what is said."""
_FORWARD = 0.1
"""A ring whose normal has so little along the line (the cosine) looks alike from before and behind."""
_TOLD = 0.2
"""Companions of which so little of the way from one to the other lies along the line of sight lie beside each other."""


def wrong_leans(circles: Sequence[Circle], facts: Sequence[Lean]) -> tuple[Lean, ...]:
    """The rings that lean to the other side, or to none."""
    return tuple(fact for fact in facts if not _leans_so(circles, fact))


def _leans_so(circles: Sequence[Circle], fact: Lean) -> bool:
    """Of a ring that leans to the left the normal towards the eye is turned to the right.

    The point of the ring nearest to the eye is, from its centre, the direction to the eye less its share along the
    normal; so it lies to the left where the normal, on the eye's side, points to the right.
    """
    eye = front_in_frame(circles, fact.frame)
    left, right = (circles[ring].centre for ring in fact.frame[:2])
    across = minus(right, left)
    normal = unit(circles[fact.ring].normal)
    towards = dot(normal, eye)
    if abs(towards) < EDGE_ON or dot(across, across) == 0:
        return True
    share = dot(normal, unit(across)) * math.copysign(1.0, towards)
    return share < -UPRIGHT if fact.right else share > UPRIGHT


def wrong_turns(circles: Sequence[Circle], facts: Sequence[Turn]) -> tuple[Turn, ...]:
    """The lines of which more than a quarter of the steps are turned otherwise: at the ends rings hang askew."""
    return tuple(fact for fact in facts if not _is_turned_so(circles, fact))


def _is_turned_so(circles: Sequence[Circle], fact: Turn) -> bool:
    steps = turns_of([circles[ring] for ring in fact.rings])
    wrong = 0
    for turned, is_whole in steps:
        round_ = 360.0 if is_whole else 180.0
        off = (turned - fact.degrees) % round_
        wrong += min(off, round_ - off) > NEAR_ENOUGH
    return 4 * wrong <= len(steps)


def turns_of(line: Sequence[Circle]) -> list[tuple[float, bool]]:
    """From each ring of a line to the next: degrees clockwise, looking along the line, and whether of a whole turn.

    What turns is the normal across the line. A ring that leans along the line shows which of its sides is the one that
    looks ahead, so that a half turn is told from none; of others only what is left of half turns is known.
    """
    if len(line) < 2:
        return []
    along = unit(minus(line[-1].centre, line[0].centre))
    u, v, _ = frame(along)
    angles, whole = [], []
    for circle in line:
        normal = unit(circle.normal)
        ahead = dot(normal, along)
        if ahead < 0:
            normal = times(normal, -1.0)
        angles.append(math.degrees(math.atan2(dot(normal, v), dot(normal, u))))
        whole.append(abs(ahead) >= _FORWARD)
    # u, v and the way along are right-handed, so that a turn from u to v is clockwise for one who looks along
    return [((angles[k + 1] - angles[k]) % 360.0, whole[k] and whole[k + 1]) for k in range(len(line) - 1)]


def wrong_aheads(
    circles: Sequence[Circle], facts: Sequence[Ahead], overs: Sequence[Over]
) -> tuple[Ahead, ...]:
    """Companions that lie the other way round: in a sheet or tube from its front, the others all from one side.

    That is the side from which `overs` lie as is said; where there are none, that from which fewer are wrong.
    """
    found = [
        fact
        for fact in facts
        if fact.frame and not _is_ahead(circles, fact, front_in_frame(circles, fact.frame))
    ]
    others = [fact for fact in facts if not fact.frame]
    if others:
        front = front_of(circles, [fact for fact in overs if fact.frame is None])
        side = sides_ahead(circles, others, front.view[2], front.sides)[0]
        found += [fact for fact in others if not _is_ahead(circles, fact, times(front.view[2], side))]
    return tuple(found)


def sides_ahead(
    circles: Sequence[Circle], facts: Sequence[Ahead], eye: Vector, sides: Sequence[float]
) -> tuple[float, ...]:
    """Of sides of a view, those from which the fewest companions lie the other way round."""
    wrong = {side: sum(not _is_ahead(circles, fact, times(eye, side)) for fact in facts) for side in sides}
    return tuple(side for side in sides if wrong[side] == min(wrong.values()))


def _is_ahead(circles: Sequence[Circle], fact: Ahead, eye: Vector) -> bool:
    for first, second in zip(fact.rings, fact.rings[1:], strict=False):
        way = minus(circles[first].centre, circles[second].centre)
        if dot(way, eye) <= _TOLD * math.sqrt(dot(way, way)):
            return False
    return True
