"""Two weaves compared: the same, or the first thing that differs, as a message with typed arguments.

In: two weaves. Out: `Difference`, or None when they are the same weave. The order of making, names, labels, steps and
texts play no part.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from compiler.same.match import Keep, Outcome, match
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
    colours_a, colours_b = Counter(a.colours), Counter(b.colours)
    for colour in sorted(colours_a | colours_b):
        if colours_a[colour] != colours_b[colour]:
            return _difference(
                "counts", piece=piece, what=colour, first=colours_a[colour], second=colours_b[colour]
            )
    links_a, links_b = sum(map(len, a.links)) // 2, sum(map(len, b.links)) // 2
    if links_a != links_b:
        return _difference("links", piece=piece, first=links_a, second=links_b)
    relations_a, relations_b = _relations(a), _relations(b)
    for name in sorted(relations_a | relations_b):
        if relations_a[name] != relations_b[name]:
            return _difference(
                "relations", piece=piece, what=name, first=relations_a[name], second=relations_b[name]
            )
    if a.poses != b.poses:
        if _is_mirror_image(a, b):
            return _difference("mirror", piece=piece)
        return _difference("poses", piece=piece, first=", ".join(a.poses), second=", ".join(b.poses))
    whole = match(a, b, Keep())
    if whole is Outcome.SAME:
        return None
    if whole is Outcome.UNDECIDED:
        return _difference("undecided", piece=piece)
    if match(a, b, Keep(relations=False, signs=False)) is Outcome.DIFFERENT:
        return _difference("arrangement", piece=piece)
    if match(a, b, Keep(signs=False)) is Outcome.DIFFERENT:
        return _difference("relations-place", piece=piece)
    if _is_mirror_image(a, b):
        return _difference("mirror", piece=piece)
    loops_a, loops_b = _loops(a), _loops(b)
    if loops_a != loops_b:
        return _difference("loops", piece=piece, first=loops_a, second=loops_b)
    return _difference("signs", piece=piece)


def _is_mirror_image(a: Structure, b: Structure) -> bool:
    return a.mirrored_poses == b.poses and match(a, b, Keep(mirrored=True)) is Outcome.SAME


def _relations(one: Structure) -> Counter[str]:
    return Counter(name for near in one.others for names in near.values() for name in names)


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
