"""Checks of how rings lie, told with the first step after which they can be seen: a mistake is found while it is young.

In: the steps of a piece, each check where the designer wrote it. Out: the same, a check of rings that lie so to
others, or of a loop of links, moved to the end of the step that completes what it is about. What rings hold, how
they are turned, and counts may change later and stay where they are.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable

from msgspec.structs import replace

from compiler.weave import Event, EventKind, PieceWeave, StepRange

_LASTING = frozenset(
    f"{denied}{way}" for denied in ("", "not ") for way in ("around", "between", "inside", "over")
) | {"plain", "crossed"}


def checks_early(piece: PieceWeave) -> tuple[StepRange, ...]:
    """The steps of a piece with such checks moved; linear in events, relations and links."""
    steps = piece.steps
    checks = [
        (number, event) for number, step in enumerate(steps) for event in step.events if _is_lasting(event)
    ]
    if not checks:
        return steps
    related = _by_ring((each.motion, (each.node, *each.others)) for each in piece.relations)
    linked = _by_ring(zip(piece.link_motion, zip(piece.link_a, piece.link_b, strict=True), strict=True))
    stops = [step.stop for step in steps]
    moved: dict[int, list[Event]] = {}
    gone: dict[int, set[int]] = {}
    for number, event in checks:
        facts = linked if event.text in ("plain", "crossed") else related
        seen = bisect_right(stops, _complete(piece, event, facts))
        if seen < number:
            moved.setdefault(seen, []).append(replace(event, at=stops[seen]))
            gone.setdefault(number, set()).add(id(event))
    return tuple(
        replace(
            step,
            events=(
                *(event for event in step.events if id(event) not in gone.get(number, ())),
                *moved.get(number, ()),
            ),
        )
        if number in moved or number in gone
        else step
        for number, step in enumerate(steps)
    )


def _is_lasting(event: Event) -> bool:
    return event.kind is EventKind.CHECKPOINT and event.text in _LASTING


def _by_ring(facts: Iterable[tuple[int, tuple[int, ...]]]) -> dict[int, list[tuple[int, tuple[int, ...]]]]:
    """By ring: the motions in which it came to lie or was linked, each with all rings concerned."""
    found: dict[int, list[tuple[int, tuple[int, ...]]]] = {}
    for motion, rings in facts:
        for ring in rings:
            found.setdefault(ring, []).append((motion, rings))
    return found


def _complete(piece: PieceWeave, event: Event, facts: dict[int, list[tuple[int, tuple[int, ...]]]]) -> int:
    """The last motion that what is checked comes of: its rings, and how they lie or are linked."""
    nodes, others = set(event.nodes), set(event.onto or event.nodes)
    last = max(piece.born[ring] for ring in nodes | others)
    for ring in nodes:
        for motion, concerned in facts.get(ring, ()):
            if motion < event.at and not others.isdisjoint(other for other in concerned if other != ring):
                last = max(last, motion)
    return last
