"""The designer's own names, for the glossary: `seam`, `point`, `lozenge`.

In: the names of all pieces. Out: a term for each noun that means several rings, or rings that join others. Linear
in the rings.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from compiler.messages import GroupName
from compiler.names import Names
from compiler.steps import NameTerm, PartTerm
from compiler.word.terms import STRAND_TERMS

_OF_THE_CRAFT = frozenset(term.value for term in STRAND_TERMS.values())


def called(pieces: Iterable[Names]) -> tuple[NameTerm | PartTerm, ...]:
    """Names of rings in order of making, then names of parts."""
    groups: dict[str, dict[GroupName, None]] = {}
    joins: dict[str, dict[GroupName | None, None]] = {}
    parts: list[PartTerm] = []
    for names in pieces:
        piece = names.piece
        first: dict[int, GroupName] = {}
        for node, lead in enumerate(piece.strand):
            if node == lead and piece.group[node] >= 0:
                group = replace(names.group_name(node), owner="", alone=False)
                first.setdefault(piece.group[node], group)
                groups.setdefault(group.singular, {})[group] = None
        for number, group in first.items():
            joins.setdefault(group.singular, {})[first.get(piece.groups[number].connector_of)] = None
        parts.extend(_parts(names))
    found = []
    for noun, several in groups.items():
        joined = next(iter(joins[noun])) if len(joins[noun]) == 1 else None
        told = tuple(group for group in several if _says_more(group, joined))
        if told:
            found.append(NameTerm(groups=told, joins=joined))
    return (*found, *dict.fromkeys(parts))


def _says_more(group: GroupName, joined: GroupName | None) -> bool:
    """Whether a noun needs a word of explanation: `petal ring` says what it is, `petal` for a pair does not."""
    if group.singular in (group.kind.singular, *_OF_THE_CRAFT):
        return False
    return group.strand > 1 or joined is not None


def _parts(names: Names) -> list[PartTerm]:
    """Unit uses that are told by number: `lozenge 1`, `lozenge 2`."""
    numbers: dict[str, dict[str, None]] = {}
    for group in names.piece.groups:
        noun, _, number = group.owner.rpartition(" ")
        if noun and number.isascii() and number.isdigit():
            numbers.setdefault(noun, {})[number] = None
    piece = names.piece.singular
    return [
        PartTerm(noun=noun, piece=piece, count=len(them)) for noun, them in numbers.items() if len(them) > 1
    ]
