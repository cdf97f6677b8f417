"""The designer's own names, for the glossary: `seam`, `point`, `lozenge`.

In: the names of all pieces. Out: a term for each noun that means several rings, or rings that join others. Linear
in the rings.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, replace

from compiler.messages import GroupName
from compiler.names import Names
from compiler.steps import NameTerm, PartTerm
from compiler.weave import PieceWeave
from compiler.word.terms import STRAND_TERMS

_OF_THE_CRAFT = frozenset(term.value for term in STRAND_TERMS.values())


def called(pieces: Iterable[Names]) -> tuple[NameTerm | PartTerm, ...]:
    """Names of rings in order of making, then names of parts."""
    groups: dict[str, dict[GroupName, None]] = {}
    joins: dict[str, dict[GroupName | None, None]] = {}
    parts: dict[str, list[tuple[str, int]]] = {}
    made: dict[str, list[_Made]] = {}
    for names in pieces:
        piece = names.piece
        here: dict[str, list[int]] = {}
        first: dict[int, GroupName] = {}
        for node, lead in enumerate(piece.strand):
            if node == lead and piece.group[node] >= 0:
                group = replace(names.group_name(node), owner="", alone=False)
                first.setdefault(piece.group[node], group)
                groups.setdefault(group.singular, {})[group] = None
                here.setdefault(group.singular, []).append(piece.born[node])
        for noun, motions in here.items():
            made.setdefault(noun, []).append(_Made(count=len(motions), step=_step(piece, min(motions))))
        for number, group in first.items():
            joins.setdefault(group.singular, {})[first.get(piece.groups[number].connector_of)] = None
        for part, count in _parts(names):
            parts.setdefault(part, []).append((names.piece.singular, count))
    found = []
    for noun, several in groups.items():
        joined = next(iter(joins[noun])) if len(joins[noun]) == 1 else None
        told = tuple(group for group in several if _says_more(group, joined))
        if told:
            once = made[noun][0] if len(made[noun]) == 1 else _Made(count=0, step=0)
            found.append(NameTerm(groups=told, joins=joined, count=once.count, step=once.step))
    return (*found, *(PartTerm(noun=noun, pieces=tuple(them)) for noun, them in parts.items()))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """How many members of a name a piece has, and in which step it makes the first."""

    count: int
    step: int


def _step(piece: PieceWeave, motion: int) -> int:
    """The step that a motion belongs to, from 1; 0 where it belongs to none."""
    number = bisect_right(piece.steps, motion, key=lambda step: step.first)
    return number if number and motion < piece.steps[number - 1].stop else 0


def _says_more(group: GroupName, joined: GroupName | None) -> bool:
    """Whether a noun needs a word of explanation: `petal ring` says what it is, `petal` for a pair does not."""
    if group.singular in (group.kind.singular, *_OF_THE_CRAFT):
        return False
    return group.strand > 1 or joined is not None


def _parts(names: Names) -> list[tuple[str, int]]:
    """Unit uses that are told by number, `lozenge 1`, `lozenge 2`: their noun, and how many."""
    numbers: dict[str, dict[str, None]] = {}
    for group in names.piece.groups:
        noun, _, number = group.owner.rpartition(" ")
        if noun and number.isascii() and number.isdigit():
            numbers.setdefault(noun, {})[number] = None
    return [(noun, len(them)) for noun, them in numbers.items() if len(them) > 1]
