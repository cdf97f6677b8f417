"""A second expansion, slow and plain, for tests: families by coordinates in dictionaries.

Shares no code with `compiler.expand` and none of its ways: a place is a point in the plane, x counted in half
places and y in rows; who is whose neighbour is a matter of distances. Gives links as pairs of ring names.

A pattern is a list of `Sheet` and `Walk`; `text_of` writes it down in the notation and `links_of` says what its
links are. Only what the two understand alike is covered: passes through relatives, joins all round, `next` and
`along` over a group.
"""

from __future__ import annotations

from dataclasses import dataclass

Ring = tuple[str, int, int]
"""Group, member from 1, companion from 0."""


@dataclass(frozen=True)
class Near:
    """`the two below`, `the left of the three above`."""

    count: int
    direction: str
    """before, after, below, above."""
    hand: str = ""
    """left, right, or empty for all."""

    def __str__(self) -> str:
        several = ("one", "two", "three", "four")[self.count - 1]
        plain = f"the {several} {self.direction}"
        return f"the {self.hand} of {plain}" if self.hand else plain


@dataclass(frozen=True)
class Sheet:
    """A line, round, sheet or tube in which every place passes one strand."""

    name: str
    kind: str
    widths: tuple[int, ...]
    lie: str
    """aligned, staggered, centred, leaning left, leaning right."""
    downward: bool
    size: int
    """Rings side by side in each member."""
    near: tuple[Near, ...]
    """What each place goes through; empty for a join all round."""


@dataclass(frozen=True)
class Walk:
    """Closed rings laid out, and passes through some of them, one after another."""

    name: str
    total: int
    size: int
    """Rings side by side in each member laid out."""
    rounds: int
    take: int
    """How many members each round goes through."""
    step: int
    """0: with `next`, each once; else a walk along by so many."""


# ---------------------------------------------------------------- as text


def text_of(sheet: Sheet | Walk) -> str:
    """The statements, at the left margin."""
    return _walk_text(sheet) if isinstance(sheet, Walk) else _sheet_text(sheet)


def _sheet_text(sheet: Sheet) -> str:
    if sheet.kind in ("line", "round"):
        header = f"{sheet.kind} {sheet.name} of {sheet.widths[0]}:"
    else:
        down = ", downward" if sheet.downward else ""
        header = f"{sheet.kind} {sheet.name} of {', '.join(map(str, sheet.widths))}, {sheet.lie}{down}:"
    if sheet.near:
        way = f"through {', '.join(map(str, sheet.near))}"
    else:
        way = f"joined all round by {sheet.size} link as {sheet.name}-seam"
        if sheet.size > 1:
            way = f"joined all round by 1 pairs of link as {sheet.name}-seam"
    return f"{header}\n    pass {sheet.size} link {way}\n"


def _walk_text(walk: Walk) -> str:
    laid = f"{walk.total} link" if walk.size == 1 else f"{walk.total} pairs of link"
    pairs = " pairs" if walk.size > 1 else ""
    if walk.step:
        pick = f"{walk.take}{pairs} along {walk.name} step {walk.step}"
    else:
        pick = f"next {walk.take}{pairs} of {walk.name}"
    return (
        f"take {laid} as {walk.name}\n"
        f"for k from 1 to {walk.rounds}:\n"
        f"    pass 1 link as {walk.name}-top[k] through {pick}\n"
    )


# ---------------------------------------------------------------- what it means


def links_of(sheet: Sheet | Walk) -> list[frozenset[Ring]]:
    """Every link, in no order that matters."""
    if isinstance(sheet, Walk):
        return _walk_links(sheet)
    return _pass_links(sheet) if sheet.near else _join_links(sheet)


def rings_of(sheet: Sheet | Walk) -> int:
    """How many rings there are."""
    if isinstance(sheet, Walk):
        return sheet.total * sheet.size + sheet.rounds
    seams = 0 if sheet.near else len(_joined(sheet))
    return sheet.size * (sum(sheet.widths) + seams)


def _walk_links(walk: Walk) -> list[frozenset[Ring]]:
    found = []
    for number in range(walk.rounds):
        first = number * (walk.step or walk.take)
        found.extend(
            frozenset([(f"{walk.name}-top", number + 1, 0), (walk.name, member, companion)])
            for member in range(first + 1, first + walk.take + 1)
            for companion in range(walk.size)
        )
    return found


def walk_runs_out(walk: Walk) -> bool:
    """Whether some round asks for more than there is."""
    return (walk.rounds - 1) * (walk.step or walk.take) + walk.take > walk.total


def walk_leaves_some(walk: Walk) -> bool:
    """Whether the last round stops short of the last member."""
    return (walk.rounds - 1) * (walk.step or walk.take) + walk.take < walk.total


def _points(sheet: Sheet) -> dict[int, tuple[int, int]]:
    """Member -> (x, y): x in half places, y in rows, upwards."""
    points: dict[int, tuple[int, int]] = {}
    member = 0
    for row, width in enumerate(sheet.widths):
        left = {
            "aligned": 0,
            "staggered": row % 2,
            "centred": -(width - 1),
            "leaning right": row,
            "leaning left": -row,
        }[sheet.lie]
        for column in range(width):
            member += 1
            points[member] = (left + 2 * column, -row if sheet.downward else row)
    return points


def _at(sheet: Sheet, points: dict[int, tuple[int, int]], x: int, y: int) -> int | None:
    """The member at a point; in a round or tube also when the point is so many turns away."""
    for member, (there_x, there_y) in points.items():
        if there_y != y:
            continue
        apart = there_x - x
        if apart == 0 or (sheet.kind in ("round", "tube") and apart % (2 * sheet.widths[0]) == 0):
            return member
    return None


def _near(sheet: Sheet, points: dict[int, tuple[int, int]], member: int, near: Near) -> list[int]:
    """The members that a relative means at a place, made or not."""
    x, y = points[member]
    if near.direction in ("before", "after"):
        sign = -1 if near.direction == "before" else 1
        targets = sorted(x + sign * 2 * far for far in range(1, near.count + 1))
        row = y
    else:
        row = y - 1 if near.direction == "below" else y + 1
        targets = [x + half for half in range(1 - near.count, near.count, 2)]
        # Rows half a place apart have no place straight below.
        parity = {there_x % 2 for there_x, there_y in points.values() if there_y == row}
        targets = [target for target in targets if target % 2 in parity]
        if near.hand and targets:
            targets = targets[:1] if near.hand == "left" else targets[-1:]
    found: list[int] = []
    for target in targets:
        other = _at(sheet, points, target, row)
        if other is not None and other != member and other not in found:
            found.append(other)
    if near.hand and near.direction in ("before", "after"):
        found = found[:1] if near.hand == "left" else found[-1:]
    return found


def _pass_links(sheet: Sheet) -> list[frozenset[Ring]]:
    points = _points(sheet)
    found = []
    for member in points:
        for near in sheet.near:
            for other in _near(sheet, points, member, near):
                if other < member:
                    found.extend(_between((sheet.name, member), (sheet.name, other), sheet.size))
    return found


def meets_one_twice(sheet: Sheet) -> bool:
    """Whether some place would go through one member twice, which flat rings cannot."""
    links = _pass_links(sheet)
    return len(set(links)) < len(links)


def _between(one: tuple[str, int], other: tuple[str, int], size: int) -> list[frozenset[Ring]]:
    return [frozenset([(*one, a), (*other, b)]) for a in range(size) for b in range(size)]


def _joined(sheet: Sheet) -> list[frozenset[int]]:
    """The pairs of members that lie next to each other: beside, and above or below at most half a place away."""
    points = _points(sheet)
    turn = 2 * sheet.widths[0]
    found = []
    for one, (x, y) in points.items():
        for other, (there_x, there_y) in points.items():
            if other <= one:
                continue
            apart = abs(there_x - x)
            if sheet.kind in ("round", "tube"):
                apart = min(apart % turn, -apart % turn)
            if (there_y == y and apart == 2) or (abs(there_y - y) == 1 and apart <= 1):
                found.append(frozenset([one, other]))
    return found


def _join_links(sheet: Sheet) -> list[frozenset[Ring]]:
    """The links between members and seams; a seam is told by the two members that it joins."""
    found = []
    for pair in _joined(sheet):
        low, high = sorted(pair)
        for member in (low, high):
            found.extend(_between((sheet.name, member), (f"{sheet.name}-seam {low} {high}", 1), sheet.size))
    return found
