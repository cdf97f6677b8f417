"""Weave to flat positions: frames of families and clusters, set beside one another and turned as a piece is looked at.

In: a weave and the number of a piece. Out: `Flat`, a place in mm for every node, seen from the front, x to the right
and y up. What is joined lies so that it overlaps as linked rings do. The rows of a sheet are level, or nearly
so, since the steps speak of above and below, left and right; how the piece stands when it is worn, its hook at
the top or its long way along x, is told beside it. Deterministic, and rounded to 0.0001 mm.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

from compiler.flat.bodies import Bodies, bodies_of
from compiler.flat.clusters import clusters_of, direction, largest_gap, nearest_free
from compiler.flat.lattice import Frame, Point, frames_of
from compiler.flat.settling import is_cut, settled
from compiler.weave import PieceWeave, Verb, Weave

_DOWN = -math.pi / 2
_TURNS = (0, 180, 90, -90, 60, -60, 120, -120, 30, -30, 150, -150)
"""Degrees that a frame may be turned by, in order of liking."""
_CLEAR = math.radians(48)
"""What hangs keeps this far from its neighbours, where it can."""
_SIDEWAYS = math.radians(75)
"""What hangs from a place that is open further away from the wished direction than this, does not follow it."""
_NEARLY_LEVEL = math.radians(40)
"""Rows that are turned by no more than this are still said to lie above one another."""
_FEW = 2
"""More things that hang than this are a fringe, which hangs down all along."""
_SAMPLE = 200
"""At most so many bodies of a frame are looked at to see whether it would lie on others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flat:
    """Where the nodes of a piece lie in the flat drawing."""

    places: tuple[Point, ...]
    """By node, mm; companions of a strand share a place."""
    out: tuple[float, ...]
    """By node: the angle, in radians, that points away from everything it is joined with; for bodies of findings."""
    cut: bool
    """Somewhere joined rings lie far apart: a tube is drawn cut open along its length, a closed strap at its ends."""
    stand: float
    """By how much the drawing is to be turned, radians counter-clockwise, to show the piece as it is worn."""


def flat_positions(weave: Weave, piece_index: int) -> Flat:
    """The flat drawing of a piece."""
    piece = weave.pieces[piece_index]
    bodies = bodies_of(weave, piece)
    table = _Table(bodies)
    families = frames_of(piece, bodies)
    taken = {body for frame in families for body in frame}
    frames = [*families, *clusters_of(bodies, taken)]
    stand = 0.0
    if frames:
        stand = _lay_out(table, frames, len(families), _hooks(piece, bodies), _has_rows(piece))
    places = settled([table.places[body] for body in range(len(bodies))], bodies)
    out = [_outward(bodies, places, body) for body in range(len(bodies))]
    return Flat(
        places=tuple(
            (round(places[body][0], 4) + 0.0, round(places[body][1], 4) + 0.0) for body in bodies.of_node
        ),
        out=tuple(round(out[body], 6) for body in bodies.of_node),
        cut=any(
            is_cut(places, body, other, length)
            for body in range(len(bodies))
            for other, length in bodies.near[body]
        ),
        stand=round(stand, 6),
    )


def _has_rows(piece: PieceWeave) -> bool:
    """Whether rows lie above one another, and are called so."""
    return any(group.shape is not None and len(group.shape.widths) > 1 for group in piece.groups)


def _hooks(piece: PieceWeave, bodies: Bodies) -> list[int]:
    """Bodies from which the piece hangs: eyes of findings that were opened and hung on it."""
    motions = piece.motions
    return [
        bodies.of_node[motions.actor[motion]]
        for motion in range(len(motions.verb))
        if motions.verb[motion] == Verb.HANG
    ]


def _outward(bodies: Bodies, places: list[Point], body: int) -> float:
    used = [direction(places[body], places[other]) for other, _ in bodies.near[body]]
    if not used:
        return _DOWN
    start, width = largest_gap(used)
    return math.remainder(start + width / 2, 2 * math.pi)


# ---------------------------------------------------------------- frames beside one another


def _lay_out(table: _Table, frames: list[Frame], families: int, hooks: list[int], has_rows: bool) -> float:
    """Places all frames: the largest family first, then what is joined with what lies there, dangles last.

    Gives the angle by which the drawing is to be turned to stand as it is worn.
    """
    beside, joints = _adjacency(table.bodies, frames)
    root = max(range(len(frames)), key=lambda n: (n < families, len(frames[n]), -n))
    dangles = {
        number
        for number in range(families, len(frames))
        if number != root and len(beside[number]) == 1 and len(joints[number]) == 1
    }
    table.put(frames[root], 0.0, (0.0, 0.0))
    done = {root}
    _spread_from([root], table, frames, beside, done, dangles)
    for number in range(len(frames)):  # parts that nothing joins lie below one another
        if number not in done and number not in dangles:
            table.put_below(frames[number])
            done.add(number)
            _spread_from([number], table, frames, beside, done, dangles)
    stand = _standing(table, _anchors(table, hooks))
    if not has_rows or abs(stand) <= _NEARLY_LEVEL:
        table.turn(stand)
        stand = 0.0
    for number in sorted(dangles):
        inner, outer, length = joints[number][0]
        up = any(hook in frames[number] for hook in hooks)
        wish = (-_DOWN if up else _DOWN) - stand
        table.hang(frames[number], inner, outer, length, wish, firm=len(dangles) > _FEW)
    return stand


Joint = tuple[int, int, float]
"""Body inside the frame, body outside, distance."""


def _adjacency(bodies: Bodies, frames: list[Frame]) -> tuple[list[list[int]], list[list[Joint]]]:
    """By frame: the frames that share a body with it or are joined with it, the former first; and its joints."""
    holders: dict[int, list[int]] = defaultdict(list)
    for number, frame in enumerate(frames):
        for body in frame:
            holders[body].append(number)
    beside, joints = [], []
    for number, frame in enumerate(frames):
        shared: dict[int, None] = {}
        joined: dict[int, None] = {}
        ways = []
        for body in frame:
            shared.update((other, None) for other in holders[body] if other != number)
            for other, length in bodies.near[body]:
                if other not in frame:
                    ways.append((body, other, length))
                    joined.update((holder, None) for holder in holders[other] if holder != number)
        beside.append(list({**shared, **joined}))
        joints.append(ways)
    return beside, joints


def _spread_from(
    queue: list[int],
    table: _Table,
    frames: list[Frame],
    beside: list[list[int]],
    done: set[int],
    dangles: set[int],
) -> None:
    for number in queue:
        for other in beside[number]:
            if other not in done and other not in dangles:
                table.attach(frames[other])
                done.add(other)
                queue.append(other)


def _anchors(table: _Table, hooks: list[int]) -> list[Point]:
    """Where the piece is hung up: the places next to its hooks."""
    found = []
    for hook in hooks:
        near = [hook, *(other for other, _ in table.bodies.near[hook])]
        found += [table.places[body] for body in near if body in table.places][:1]
    return found


def _standing(table: _Table, anchors: list[Point]) -> float:
    """The turn that brings the hook up, else the long way along x; between half a turn either way."""
    points = list(table.places.values())
    cx = math.fsum(x for x, _ in points) / len(points)
    cy = math.fsum(y for _, y in points) / len(points)
    xx = math.fsum((x - cx) ** 2 for x, _ in points)
    yy = math.fsum((y - cy) ** 2 for _, y in points)
    xy = math.fsum((x - cx) * (y - cy) for x, y in points)
    if len(anchors) == 1 and math.dist(anchors[0], (cx, cy)) > 1e-6:
        return math.remainder(math.pi / 2 - direction((cx, cy), anchors[0]), 2 * math.pi)
    swing = math.hypot((xx - yy) / 2, xy)
    margin = 2 * max(table.bodies.radius)
    if swing > 0.25 * (xx + yy):  # at least about 1.7 times as long as wide
        angle = -0.5 * math.atan2(2 * xy, xx - yy)
        flat, upright, along = (_height(points, turn, margin) for turn in (0.0, math.pi / 2, angle))
        if along > 0.8 * min(flat, upright):  # rows stay level unless the piece runs askew
            angle = 0.0 if flat <= upright else math.pi / 2
        x, y = table.places[min(table.places)]
        if (x - cx) * math.cos(angle) - (y - cy) * math.sin(angle) > 0:  # what is made first lies on the left
            angle += math.pi
        return math.remainder(angle, 2 * math.pi)
    return 0.0


def _height(points: list[Point], turn: float, margin: float) -> float:
    """How high a drawing is when it is turned, with room for its rings."""
    c, s = math.cos(turn), math.sin(turn)
    heights = [s * x + c * y for x, y in points]
    return max(heights) - min(heights) + margin


class _Table:
    """The table on which the frames are laid out."""

    def __init__(self, bodies: Bodies) -> None:
        self.bodies = bodies
        self.places: dict[int, Point] = {}
        self._side = 2 * max(bodies.radius, default=1.0)
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)

    def put(self, frame: Frame, angle: float, shift: Point) -> None:
        """Lays a frame down; bodies that lie there already stay."""
        for body, place in frame.items():
            if body not in self.places:
                self._set(body, _moved(place, angle, shift))

    def put_below(self, frame: Frame) -> None:
        """Lays a frame down under everything."""
        margin = 2 * self._side
        bottom = min((y for _, y in self.places.values()), default=0.0)
        left = min((x for x, _ in self.places.values()), default=0.0)
        top = max(y for _, y in frame.values())
        edge = min(x for x, _ in frame.values())
        self.put(frame, 0.0, (left - edge, bottom - margin - top))

    def turn(self, angle: float) -> None:
        """Turns everything about the origin."""
        turned = {body: _moved(place, angle, (0.0, 0.0)) for body, place in self.places.items()}
        self._cells.clear()
        for body, place in turned.items():
            self._set(body, place)

    def attach(self, frame: Frame) -> None:
        """Lays a frame down where it is joined with what lies there, turned so that it lies on nothing."""
        shared = [body for body in frame if body in self.places]
        joints = [
            (body, other, length)
            for body in frame
            if body not in self.places
            for other, length in self.bodies.near[body]
            if other in self.places and other not in frame
        ]
        if len(shared) > 1:
            angle, shift = _fit([(frame[body], self.places[body]) for body in shared])
            self.put(frame, angle, shift)
            return
        if not shared and len(joints) == 1:
            inner, outer, length = joints[0]
            self.hang(frame, inner, outer, length, None)
            return
        if not shared and len(frame) == 1:
            ends = [self.places[outer] for _, outer, _ in joints]
            middle = _between(ends)
            if all(math.dist(middle, end) < 2 * joint[2] for end, joint in zip(ends, joints, strict=True)):
                self.put(frame, 0.0, middle)
            else:  # it joins what is drawn cut open
                self.hang(frame, *joints[0], None)
            return
        best: tuple[float, int] | None = None
        chosen = (0.0, (0.0, 0.0))
        for rank, degrees in enumerate(_TURNS):
            angle = math.radians(degrees)
            if shared:
                (x, y), (u, v) = self.places[shared[0]], _moved(frame[shared[0]], angle, (0.0, 0.0))
                tried = [(angle, (x - u, y - v))]
            else:
                tried = self._joined_ways(frame, joints, angle)
            for way, shift in tried:
                cost = (round(self._cost(frame, joints, way, shift), 4), rank)
                if best is None or cost < best:
                    best, chosen = cost, (way, shift)
        self.put(frame, *chosen)

    def hang(
        self, frame: Frame, inner: int, outer: int, length: float, wish: float | None, *, firm: bool = False
    ) -> None:
        """Lays a frame down that hangs from one body, in the direction wished for as far as that is free.

        Unless it is firm, the end of a chain goes on in its line, even where the wish is another.
        """
        here = self.places[outer]
        used = [direction(here, self.places[n]) for n, _ in self.bodies.near[outer] if n in self.places]
        if not used:
            angle = 0.0 if wish is None else wish
        else:
            start, width = largest_gap(used)
            angle = start + width / 2
            if wish is not None and not firm and abs(math.remainder(wish - angle, 2 * math.pi)) > _SIDEWAYS:
                wish = None
            if wish is not None:
                angle = nearest_free(used, wish, _CLEAR)
        x, y = here[0] + length * math.cos(angle), here[1] + length * math.sin(angle)
        others = [place for body, place in frame.items() if body != inner]
        lean = 0.0
        if others:
            middle = _between(others)
            if math.dist(middle, frame[inner]) > 1e-6:
                lean = (angle if wish is None else wish) - direction(frame[inner], middle)
        u, v = _moved(frame[inner], lean, (0.0, 0.0))
        self.put(frame, lean, (x - u, y - v))

    # ------------------------------------------------------------ trying

    def _joined_ways(self, frame: Frame, joints: list[Joint], angle: float) -> list[tuple[float, Point]]:
        """Shifts that bring the joints of a frame together: on one another, then apart in one of twelve directions."""
        gaps = []
        for inner, outer, _ in joints:
            u, v = _moved(frame[inner], angle, (0.0, 0.0))
            gaps.append((self.places[outer][0] - u, self.places[outer][1] - v))
        x, y = _between(gaps)
        length = math.fsum(joint[2] for joint in joints) / len(joints)
        ways = [(angle, (x, y))]
        for number in range(12):
            turn = math.pi * number / 6
            ways.append((angle, (x + length * math.cos(turn), y + length * math.sin(turn))))
        return ways

    def _cost(self, frame: Frame, joints: list[Joint], angle: float, shift: Point) -> float:
        """How badly a frame would lie: joints too long or short, and bodies on top of others."""
        cost = 0.0
        for inner, outer, length in joints:
            gap = math.dist(_moved(frame[inner], angle, shift), self.places[outer])
            cost += ((gap - length) / length) ** 2
        stride = max(1, len(frame) // _SAMPLE)
        for body in list(frame)[::stride]:
            if body not in self.places:
                cost += stride * self._crowding(body, _moved(frame[body], angle, shift))
        return cost

    def _crowding(self, body: int, place: Point) -> float:
        joined = {other for other, _ in self.bodies.near[body]}
        column, row = math.floor(place[0] / self._side), math.floor(place[1] / self._side)
        cost = 0.0
        for i in (column - 1, column, column + 1):
            for j in (row - 1, row, row + 1):
                for other in self._cells.get((i, j), ()):
                    reach = self.bodies.radius[body] + self.bodies.radius[other]
                    gap = math.dist(place, self.places[other])
                    if gap < reach and other not in joined:
                        cost += 1 - gap / reach
        return cost

    def _set(self, body: int, place: Point) -> None:
        self.places[body] = place
        self._cells[math.floor(place[0] / self._side), math.floor(place[1] / self._side)].append(body)


def _moved(place: Point, angle: float, shift: Point) -> Point:
    c, s = math.cos(angle), math.sin(angle)
    return c * place[0] - s * place[1] + shift[0], s * place[0] + c * place[1] + shift[1]


def _between(points: list[Point]) -> Point:
    return math.fsum(x for x, _ in points) / len(points), math.fsum(y for _, y in points) / len(points)


def _fit(pairs: list[tuple[Point, Point]]) -> tuple[float, Point]:
    """The turn and shift that bring the first point of each pair nearest to the second (least squares)."""
    cx, cy = _between([a for a, _ in pairs])
    dx, dy = _between([b for _, b in pairs])
    along = math.fsum((a[0] - cx) * (b[0] - dx) + (a[1] - cy) * (b[1] - dy) for a, b in pairs)
    across = math.fsum((a[0] - cx) * (b[1] - dy) - (a[1] - cy) * (b[0] - dx) for a, b in pairs)
    angle = math.atan2(across, along)
    u, v = _moved((cx, cy), angle, (0.0, 0.0))
    return angle, (dx - u, dy - v)
