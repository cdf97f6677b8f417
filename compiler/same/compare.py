"""Two weaves compared: the same, or the first thing that differs, as a message with typed arguments.

In: two weaves. Out: `Difference`, or None when they are the same weave. The order of making, names, labels, steps and
texts play no part.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import chain

from compiler.same.match import Outcome, match
from compiler.same.structure import Structure, structure_of
from compiler.weave import Weave


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """The first difference found."""

    name: str
    """Key of the sentence in the catalogue."""
    arguments: tuple[tuple[str, str | int], ...]


def compare(a: Weave, b: Weave) -> Difference | None:
    """The first difference between two weaves, piece by piece in order; None when there is none."""
    if len(a.pieces) != len(b.pieces):
        return _difference("pieces", first=len(a.pieces), second=len(b.pieces))
    for piece_a, piece_b in zip(a.pieces, b.pieces, strict=True):
        found = _compare(structure_of(a, piece_a), structure_of(b, piece_b), piece_a.name)
        if found is not None:
            return found
    return None


def _difference(name: str, **arguments: str | int) -> Difference:
    return Difference(name=name, arguments=tuple(arguments.items()))


def _compare(a: Structure, b: Structure, piece: str) -> Difference | None:
    found = _counted("counts", piece, Counter(a.colours), Counter(b.colours))
    if found is not None:
        return found
    links_a, links_b = sum(map(len, a.links)) // 2, sum(map(len, b.links)) // 2
    if links_a != links_b:
        return _difference("links", piece=piece, first=links_a, second=links_b)
    found = _count_rest(a, b, piece)
    whole = Outcome.DIFFERENT if found is not None else match(a, b)
    if whole is Outcome.SAME:
        return None
    for name, image in (
        ("mirror", a.mirrored()),
        ("turned-over", a.turned_over()),
        ("mirror-over", a.mirrored().turned_over()),
    ):
        if _count_rest(image, b, piece) is None and match(image, b) is Outcome.SAME:
            return _difference(name, piece=piece)
    if found is not None:
        return found
    if whole is Outcome.UNDECIDED:
        return _difference("undecided", piece=piece)
    return _where(a, b, piece)


def _where(a: Structure, b: Structure, piece: str) -> Difference:
    """What differs between two weaves of which nothing that is counted does."""
    if match(a.links_alone(), b.links_alone()) is Outcome.DIFFERENT:
        return _difference("arrangement", piece=piece)
    a_bare, b_bare = a.without_poses(), b.without_poses()
    if match(a_bare.without_sides(), b_bare.without_sides()) is Outcome.DIFFERENT:
        return _difference("relations-place", piece=piece)
    if match(a_bare, b_bare) is not Outcome.DIFFERENT:
        return _difference("poses-place", piece=piece)
    loops_a, loops_b = _loops(a), _loops(b)
    if loops_a != loops_b:
        return _difference("loops", piece=piece, first=loops_a, second=loops_b)
    return _difference("signs", piece=piece)


def _count_rest(a: Structure, b: Structure, piece: str) -> Difference | None:
    """The first difference in how many lie to others in some way, or have some pose."""
    return _counted("relations", piece, _relations(a), _relations(b)) or _counted(
        "poses", piece, Counter(chain(*a.poses)), Counter(chain(*b.poses))
    )


def _counted(name: str, piece: str, a: Counter[str], b: Counter[str]) -> Difference | None:
    for what in sorted(a | b):
        if a[what] != b[what]:
            return Difference(
                name=name,
                arguments=(("piece", piece), ("what", what), ("first", a[what]), ("second", b[what])),
            )
    return None


def _relations(one: Structure) -> Counter[str]:
    """How many nodes lie so to another."""
    return Counter(name for near in one.others for name in dict.fromkeys(chain(*near.values())))


def _loops(one: Structure) -> int:
    """How many loops of three rings have a negative product."""
    found = 0
    for node, near in enumerate(one.links):
        for other, sign in near.items():
            if other > node:
                for third, across in one.links[other].items():
                    if third > other and third in near:
                        found += sign * across * near[third] < 0
    return found
