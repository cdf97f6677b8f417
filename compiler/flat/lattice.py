"""Families on their lattices: each becomes a rigid frame with a place for every member and connector.

In: a piece and its bodies. Out: `Frame`s, in mm, x to the right and y up, row 1 at the bottom unless the family
grows downward; a round is a circle that runs from the top the way the work goes, clockwise unless the text says
otherwise, and a disc is rounds about one centre. The steps of a lattice are such that joined members lie as far
apart as they would (least squares over all joints of the family).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from itertools import accumulate

from compiler.flat.bodies import OVERLAP, Bodies
from compiler.weave import FamilyShape, PieceWeave, PoseKind
from notation.statements import FamilyKind

Point = tuple[float, float]
Frame = dict[int, Point]
"""By body: its place in the frame's own coordinates, mm."""

_ROOMY = 2.4
"""Step, in core radii, of members that nothing joins to one another."""
_DENSE = 0.8
"""Step along a row over the step between rows of a mesh whose rings go through those straight and aslant above them."""
_FLATTEST = 0.4
"""A lattice whose joints ask for a step so many times smaller than the other cannot have them all of one length."""
_SLACK = 1.07
"""A mesh of slanting joints alone is drawn so much wider: four wires meet in each of its gaps."""


def frames_of(piece: PieceWeave, bodies: Bodies) -> list[Frame]:
    """A frame for each family with at least two members, in order of groups; no body is in two but a shared place."""
    members = _members(piece, bodies)
    connectors: dict[int, list[int]] = defaultdict(list)
    for body, node in enumerate(bodies.lead):
        index = piece.group[node]
        if index >= 0 and piece.groups[index].connector_of >= 0:
            connectors[piece.groups[index].connector_of].append(body)
    out = []
    onward = -1 if any(pose.kind is PoseKind.ANTICLOCKWISE for pose in piece.poses) else 1
    for number, group in enumerate(piece.groups):
        if group.shape is not None and len(members[number]) > 1:
            family = _Family(group.shape, members[number], connectors[number], bodies, onward)
            if family.holds_together():
                out.append(family.frame())
    return out


def _members(piece: PieceWeave, bodies: Bodies) -> list[dict[int, int]]:
    """By group: the body at each place of its shape, by ordinal from 0."""
    places = [sum(group.shape.widths) if group.shape else 0 for group in piece.groups]
    out: list[dict[int, int]] = [{} for _ in piece.groups]
    for body, node in enumerate(bodies.lead):
        group, ordinal = piece.group[node], piece.member[node] - 1
        if group >= 0 and 0 <= ordinal < places[group]:
            out[group].setdefault(ordinal, body)
    return out


class _Family:
    """One family while its frame is made."""

    def __init__(
        self,
        shape: FamilyShape,
        members: dict[int, int],
        connectors: list[int],
        bodies: Bodies,
        onward: int,
    ) -> None:
        self.shape, self.members, self.connectors, self.bodies = shape, dict(members), connectors, bodies
        self.onward = onward
        """+1 where rounds run clockwise, -1 where they run the other way."""
        starts = list(accumulate(shape.widths, initial=0))
        up = -1 if shape.downward else 1
        self.cell = [
            (shape.offsets[row] + 2 * column, up * row)
            for row, width in enumerate(shape.widths)
            for column in range(width)
        ]
        self.around = shape.widths[0] if shape.kind in (FamilyKind.ROUND, FamilyKind.TUBE) else 0
        self.places = starts[-1]
        self._find_shared()

    # ------------------------------------------------------------ joints

    def _joints(self) -> Iterator[tuple[int, int, float]]:
        """Pairs of ordinals that are joined, by a link or by a connector, and how far apart they are drawn."""
        at = {body: ordinal for ordinal, body in self.members.items()}
        radius, linked = self.bodies.radius, self.bodies.linked
        for body, ordinal in at.items():
            for other in linked[body]:
                if other in at and at[other] > ordinal:
                    yield ordinal, at[other], OVERLAP * (radius[body] + radius[other])
        for connector in self.connectors:
            ends = sorted(at[other] for other in linked[connector] if other in at)
            if len(ends) == 2:
                one, other = (self.members[end] for end in ends)
                apart = OVERLAP * (radius[one] + radius[other] + 2 * radius[connector])
                yield ends[0], ends[1], dict(self.bodies.near[one]).get(other, apart)

    def _step(self, a: int, b: int) -> tuple[int, int]:
        """From place a to place b: half places across (the short way round), rows up."""
        across, up = self.cell[b][0] - self.cell[a][0], self.cell[b][1] - self.cell[a][1]
        if self.around and abs(across) > self.around:
            across -= int(math.copysign(2 * self.around, across))
        return across, up

    def _find_shared(self) -> None:
        """Gives the places that were handed in the body that stands there, told by what it is joined with."""
        missing = [ordinal for ordinal in range(self.places) if ordinal not in self.members]
        if not missing or len(missing) > 8:
            return
        usual = {self._step(a, b) for a, b, _ in self._joints()}
        usual |= {(-across, -up) for across, up in usual}
        at = {body: ordinal for ordinal, body in self.members.items()}
        own = set(self.connectors)
        meets: dict[int, list[int]] = defaultdict(list)
        for connector in self.connectors:
            linked = self.bodies.linked[connector]
            inside = [at[body] for body in linked if body in at]
            for body in linked:
                if body not in at and body not in own:
                    meets[body].extend(inside)
        if not self.connectors:
            for body, ordinal in at.items():
                for other in self.bodies.linked[body]:
                    if other not in at:
                        meets[other].append(ordinal)
        for body in sorted(meets):
            scores = [sum(self._step(place, to) in usual for to in meets[body]) for place in missing]
            best = max(scores, default=0)
            if best and (self.connectors or best > 1):
                place = missing.pop(scores.index(best))
                self.members[place] = body
                if not missing:
                    return

    # ------------------------------------------------------------ places

    def holds_together(self) -> bool:
        """Whether the family has a shape of its own; a round of rings that meet only others is placed by those."""
        return self.shape.kind is not FamilyKind.ROUND or self._hub() is not None or any(self._joints())

    def frame(self) -> Frame:
        """Places of the members, and of the connectors between them."""
        frame = self._placed()
        for connector in self.connectors:
            ends = [frame[body] for body in self.bodies.linked[connector] if body in frame]
            if len(ends) >= 2 and self._short(connector):
                frame[connector] = _middle(ends)
        return frame

    def _placed(self) -> Frame:
        if self.shape.kind is FamilyKind.ROUND:
            return self._circle()
        if self.shape.kind is FamilyKind.DISC:
            return self._rounds()
        return self._rows()

    def _short(self, connector: int) -> bool:
        """Whether a connector does not run over the seam of a tube, which is drawn cut open there."""
        if self.shape.kind is not FamilyKind.TUBE:
            return True
        at = {body: ordinal for ordinal, body in self.members.items()}
        columns = [self.cell[at[body]][0] for body in self.bodies.linked[connector] if body in at]
        return max(columns) - min(columns) <= self.around

    def _circle(self) -> Frame:
        steps = [size for a, b, size in self._joints() if abs(self._step(a, b)[0]) == 2]
        largest = max(self.bodies.radius[body] for body in self.members.values())
        hub = self._hub()
        if steps:
            chord = max(steps)
            radius = chord / (2 * math.sin(math.pi / max(self.places, 2)))
        elif hub is not None:
            radius = OVERLAP * (self.bodies.radius[hub] + largest)
        else:  # joints over more than one place
            radius = _ROOMY * largest / (2 * math.sin(math.pi / max(self.places, 2)))
        frame = {}
        for ordinal in sorted(self.members):
            frame[self.members[ordinal]] = self._at(radius, ordinal / self.places)
        if hub is not None:
            frame[hub] = (0.0, 0.0)
        return frame

    def _rounds(self) -> Frame:
        """Place c of a round of w lies at (2 c + offset) / (2 w) of a turn, as `below` and `above` take it."""
        largest = max(self.bodies.radius[body] for body in self.members.values())
        beside = outward = 0.0
        for a, b, size in self._joints():
            if self.cell[a][1] == self.cell[b][1]:
                beside = max(beside, size)
            else:
                outward = max(outward, size)
        outward = outward or beside or _ROOMY * largest
        frame, radius, first = {}, 0.0, 0
        for row in range(len(self.shape.widths)):
            width, offset = self.shape.widths[row], self.shape.offsets[row]
            radius = max(
                radius + outward if row else 0.0,
                beside / (2 * math.sin(math.pi / width)) if width > 1 else 0.0,
            )
            for column in range(width):
                if first + column in self.members:
                    frame[self.members[first + column]] = self._at(
                        radius, (2 * column + offset) / (2 * width)
                    )
            first += width
        return frame

    def _at(self, radius: float, share: float) -> Point:
        """The place on a circle after a share of a turn, from the top on."""
        angle = math.pi / 2 - self.onward * 2 * math.pi * share
        return radius * math.cos(angle), radius * math.sin(angle)

    def _hub(self) -> int | None:
        """The one body that every member is linked with, if there is one."""
        first = self.members[min(self.members)]
        for body in self.bodies.linked[first]:
            if all(body in self.bodies.linked[member] for member in self.members.values()):
                return body
        return None

    def _rows(self) -> Frame:
        across, up = self._pitch()
        frame = {}
        for ordinal in sorted(self.members):
            column, row = self.cell[ordinal]
            frame[self.members[ordinal]] = (across * column / 2, up * row)
        return frame

    def _pitch(self) -> Point:
        """A place's step along the row and a row's step up, mm: u^2 X + v^2 Y = length^2 over all joints."""
        largest = max(self.bodies.radius[body] for body in self.members.values())
        kinds: dict[tuple[float, float], list[float]] = defaultdict(list)
        for a, b, size in self._joints():
            across, up = self._step(a, b)
            kinds[abs(across) / 2, float(abs(up))].append(size)
        xx = xy = yy = bx = by = 0.0
        for (u, v), lengths in kinds.items():
            for length in lengths:
                xx, xy, yy = xx + u**4, xy + u * u * v * v, yy + v**4
                bx, by = bx + (u * length) ** 2, by + (v * length) ** 2
        staggered = any((a - b) % 2 for a, b in zip(self.shape.offsets, self.shape.offsets[1:], strict=False))
        row_share = math.sqrt(0.75) if staggered else 1.0
        determinant = xx * yy - xy * xy
        if determinant > 1e-6 * max(xx, yy, 1.0) ** 2:
            x, y = (bx * yy - by * xy) / determinant, (by * xx - bx * xy) / determinant
            if min(x, y) > _FLATTEST**2 * max(x, y):
                return math.sqrt(x), math.sqrt(y)
            if y > x:
                share = _DENSE**2
                y = (share * bx + by) / (share * (share * xx + 2 * xy) + yy)
                return math.sqrt(share * y), math.sqrt(y)
        if (
            xx and yy
        ):  # one kind of slanting joint: at half a right angle, so that a row does not touch itself
            return _SLACK * math.sqrt(bx / xx / 2), _SLACK * math.sqrt(by / yy / 2)
        if xx:
            return math.sqrt(bx / xx), row_share * math.sqrt(bx / xx)
        if yy:
            return math.sqrt(by / yy) / row_share, math.sqrt(by / yy)
        return _ROOMY * largest, _ROOMY * largest * row_share


def _middle(points: list[Point]) -> Point:
    return (
        math.fsum(x for x, _ in points) / len(points),
        math.fsum(y for _, y in points) / len(points),
    )
