"""What stands between motions, in messages: remarks, motions of the hands, poses, helpers, checkpoints.

In: the events of a step, told in order. Out: messages. Turning the work over is kept in `Sides` from here on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from compiler.messages import KindCount, KindName, Members, Message, Say, Thing, Turning, message
from compiler.names import Names
from compiler.weave import Companionship, Event, EventKind, PieceWeave, Pose, PoseKind, Verb
from compiler.word.sides import Sides
from notation.handling import HandMotion, RemarkKind
from notation.statements import FamilyKind

_LIES = {
    "around": Say.CHECK_AROUND,
    "between": Say.CHECK_BETWEEN,
    "inside": Say.CHECK_INSIDE,
    "over": Say.CHECK_OVER,
    "not around": Say.CHECK_NOT_AROUND,
    "not between": Say.CHECK_NOT_BETWEEN,
    "not inside": Say.CHECK_NOT_INSIDE,
    "not over": Say.CHECK_NOT_OVER,
}
_FROM_THE_BACK = {Say.CHECK_OVER: Say.CHECK_UNDER, Say.CHECK_NOT_OVER: Say.CHECK_NOT_UNDER}
_LEANS = {kind.value: kind for kind in (PoseKind.LEAN_LEFT, PoseKind.LEAN_RIGHT)}
_WAYS = {way.value: way for way in Companionship}
_FACES = {"front inside": Say.CHECK_FRONT_INSIDE, "back inside": Say.CHECK_BACK_INSIDE}
_LOOPS = {"plain": Say.CHECK_PLAIN, "crossed": Say.CHECK_CROSSED}
_LOOPS_OF_THREE = {"plain": Say.CHECK_PLAIN_THREE, "crossed": Say.CHECK_CROSSED_THREE}


WHOLE_TURN = 360
"""Degrees."""


class EventWords:
    """Makes messages of a piece's events."""

    def __init__(self, names: Names, sides: Sides, kinds: Sequence[KindName]) -> None:
        self._names = names
        self._sides = sides
        self._kinds = {kind.key: kind for kind in kinds}
        self.closings = closings(names.piece)
        """By motion: how a round is asked to be closed before it."""
        self._eyed = _eyed(names.piece)
        self._placed = frozenset(pose for poses in self.closings.values() for pose in poses)

    def tell(self, event: Event, at_end: bool, so_far: Mapping[str, int]) -> Iterator[Message]:
        """The messages of an event; `so_far` counts everything in the piece, needed where it stands at a step's end."""
        match event.kind:
            case EventKind.REMARK:
                if event.remark is not None and event.remark is not RemarkKind.CAUTION:
                    yield message(Say.REMARK, kind=event.remark, text=event.text)
            case EventKind.HANDLE:
                yield from self._handle(event)
            case EventKind.POSE:
                if event.pose is not None and event.pose not in self._placed:
                    yield from self.pose(event.pose)
            case EventKind.HELPER_IN:
                yield message(Say.HELPER_IN, helper=event.text, path=self._names.things(event.nodes))
            case EventKind.HELPER_OUT:
                yield message(Say.HELPER_OUT, helper=event.text)
            case EventKind.CHECKPOINT:
                yield from self._checkpoint(event, at_end, so_far)

    # ------------------------------------------------------------ hands

    def _handle(self, event: Event) -> Iterator[Message]:
        motion = event.handle
        if motion is None:
            return
        path = self._names.things(event.nodes)
        if event.until:
            yield message(Say.HOLD_UNTIL, path=path, until=event.until)
        elif path:
            yield message(Say.HANDLE, motion=motion, path=path)
        else:
            yield message(Say.HANDLE_WORK, motion=motion)
        if motion is HandMotion.TURN_OVER and not path:
            self._sides.turned = not self._sides.turned
            yield message(Say.BACK_FACES if self._sides.turned else Say.FRONT_FACES)
            turning = self._sides.turning_seen()
            if turning is not None:
                yield message(Say.WORK_SEEN, turning=turning)

    def pose(self, pose: Pose) -> Iterator[Message]:
        """A lasting pose."""
        path = self._names.things(pose.nodes)
        match pose.kind:
            case PoseKind.FOLDED if pose.onto:
                say = Say.FOLD_ONTO if len(pose.nodes) > 1 else Say.FOLD_ONE_ONTO
                yield message(say, path=path, onto=self._names.things(pose.onto))
            case PoseKind.FOLDED:
                yield message(Say.FOLD if len(pose.nodes) > 1 else Say.FOLD_ONE, path=path)
            case PoseKind.SPREAD:
                yield message(Say.SPREAD, path=path)
            case PoseKind.LEAN_LEFT | PoseKind.LEAN_RIGHT:
                yield message(Say.LEAN, hand=self._sides.hand(pose.kind), path=path)
            case PoseKind.TURNED:
                turning, degrees = _turned(pose.amount)
                say = Say.TURN_EACH_BY if _several(path) else Say.TURN_BY
                yield message(say, path=path, degrees=degrees, turning=turning)
            case PoseKind.HALF_TURNS:
                what = self._names.family(pose.nodes[0])
                if pose.amount:
                    yield message(
                        Say.HALF_TURNS, what=what, count=abs(pose.amount), turning=_way(pose.amount)
                    )
                else:
                    yield message(Say.NO_HALF_TURNS, what=what)
            case PoseKind.FRONT_INSIDE:
                away, near = Say.FACING_OUTSIDE, Say.FACING_INSIDE
                if _is_tube(self._names.piece, pose.nodes[0]):
                    away, near = Say.WORK_OUTSIDE, Say.WORK_INSIDE
                say = away if self._sides.turned else near
                yield message(say, what=self._names.family(pose.nodes[0]))
            case PoseKind.CLOCKWISE | PoseKind.ANTICLOCKWISE:
                turning = self._sides.turning(pose.kind)
                self._sides.direction = turning
                yield message(Say.WORK_DIRECTION, turning=turning)

    # ------------------------------------------------------------ checkpoints

    def _checkpoint(self, event: Event, at_end: bool, so_far: Mapping[str, int]) -> Iterator[Message]:
        """An assertion that held; told as counts so far where they are counted from the piece's start."""
        path = self._names.things(event.nodes)
        if event.text in _LIES:
            say = _LIES[event.text]
            if self._sides.turned:
                say = _FROM_THE_BACK.get(say, say)
            yield message(say, path=path, onto=self._names.things(event.onto))
        elif event.text in _LOOPS:
            says = _LOOPS_OF_THREE if len(event.nodes) == 3 else _LOOPS
            yield message(says[event.text], path=path)
        elif event.text in _LEANS:
            yield message(Say.CHECK_LEAN, hand=self._sides.hand(_LEANS[event.text]), path=path)
        elif event.text in _WAYS:
            yield message(Say.CHECK_COMPANIONS, path=path, lies=self._sides.twin_place(_WAYS[event.text]))
        elif event.text == PoseKind.TURNED.value:
            for _, count in event.counts:
                turning, degrees = _turned(count)
                say = Say.CHECK_EACH_TURNED if _several(path) else Say.CHECK_TURNED
                yield message(say, path=path, degrees=degrees, turning=turning)
        elif event.text in _FACES:
            yield message(_FACES[event.text], what=self._names.family(event.nodes[0]))
        elif event.text:
            what = self._names.family(event.nodes[0])
            for _, count in event.counts:
                if count:
                    yield message(Say.CHECK_HALF_TURNS, what=what, count=abs(count), turning=_way(count))
                else:
                    yield message(Say.CHECK_NO_HALF_TURNS, what=what)
        elif event.nodes:
            for name, count in event.counts:
                if name in self._kinds:
                    held = KindCount(kind=self._kinds[name], count=count)
                    yield message(Say.CHECK_HOLDS_KIND, path=path, held=(held,))
                else:
                    eyes = any(self._eyed.get(node, event.at) < event.at for node in event.nodes)
                    yield message(Say.CHECK_HOLDS_EYES if eyes else Say.CHECK_HOLDS, path=path, count=count)
        else:
            yield from self._counts(event, at_end, so_far)

    def _counts(self, event: Event, at_end: bool, so_far: Mapping[str, int]) -> Iterator[Message]:
        unit = self._sides.unit(event.site)
        part = self._sides.sites[unit].name if unit >= 0 else ""
        # Counts of a unit that is all there is so far are simply the counts so far.
        if part and at_end and all(so_far.get(name) == count for name, count in event.counts):
            part = ""
        plain = [entry for entry in event.counts if entry[0] in self._kinds]
        counts = tuple(KindCount(kind=self._kinds[name], count=count) for name, count in plain)
        if counts and part:
            yield message(Say.CHECK_PART_USED, counts=counts, part=part)
        elif counts:
            several = self._names.piece.times > 1
            yield message(Say.CHECK_USED_EACH if several else Say.CHECK_USED, counts=counts)
        for name, count in event.counts:
            if name == "rings":
                yield _checked(Say.CHECK_RINGS, Say.CHECK_PART_RINGS, count, part)
            elif name == "links":
                yield _checked(Say.CHECK_LINKS, Say.CHECK_PART_LINKS, count, part)


def _checked(whole: Say, within: Say, count: int, part: str) -> Message:
    return message(within, count=count, part=part) if part else message(whole, count=count)


def _way(amount: int) -> Turning:
    return Turning.CLOCKWISE if amount > 0 else Turning.ANTICLOCKWISE


def _several(path: tuple[Thing, ...]) -> bool:
    return sum(each.count if isinstance(each, Members) else 1 for each in path) > 1


def _is_tube(piece: PieceWeave, node: int) -> bool:
    shape = piece.groups[piece.group[node]].shape
    return shape is not None and shape.kind is FamilyKind.TUBE


def _turned(degrees: int) -> tuple[Turning, int]:
    """Which way and how far something is turned, at most half round."""
    amount = degrees % WHOLE_TURN
    if amount <= WHOLE_TURN // 2:
        return Turning.CLOCKWISE, amount
    return Turning.ANTICLOCKWISE, WHOLE_TURN - amount


def closings(piece: PieceWeave) -> dict[int, tuple[Pose, ...]]:
    """By motion: the poses of a closing told before it.

    That is the pass of the last ring of the round that they close. Which side of a tube lies inside is told before
    its first ring.
    """
    found: dict[int, tuple[Pose, ...]] = {}
    for pose in piece.poses:
        if pose.kind not in (PoseKind.HALF_TURNS, PoseKind.FRONT_INSIDE):
            continue
        first = pose.nodes[0]
        if pose.kind is PoseKind.FRONT_INSIDE and _is_tube(piece, first):
            motion = piece.born[first]
            found[motion] = (*found.get(motion, ()), pose)
            continue
        group = piece.group[first]
        shape = piece.groups[group].shape
        width = shape.widths[0] if shape is not None else 1
        last = next(
            (
                node
                for node in range(first, len(piece))
                if piece.group[node] == group and piece.member[node] == piece.member[first] + width - 1
            ),
            first,
        )
        motion = piece.born[last]
        if piece.motions.verb[motion] == Verb.PASS:
            found[motion] = (*found.get(motion, ()), pose)
    return found


def _eyed(piece: PieceWeave) -> dict[int, int]:
    """By ring that an eye of a finding hangs on: the motion that links the first of them."""
    found: dict[int, int] = {}
    if piece.findings:
        for a, b, motion in zip(piece.link_a, piece.link_b, piece.link_motion, strict=True):
            if piece.kind[a] < 0:
                found.setdefault(b, motion)
            elif piece.kind[b] < 0:
                found.setdefault(a, motion)
    return found
