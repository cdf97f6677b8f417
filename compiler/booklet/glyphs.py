"""Whether every typed text of a pattern can be printed; after check, before compose.

In: the weave, and the files it was made from. Out: a diagnostic for each text or printed name with characters that
the fonts lack. `typeset` would refuse them without saying where they stand.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Mapping

from compiler.booklet.text import unprintable
from compiler.weave import PieceWeave, Weave
from notation.diagnostic import Diagnostic, Place, sort_key
from notation.margin import Pattern, Use
from notation.metals import Metal, find_metal
from notation.nodes import Node, Text

_LONGEST_SHOWN = 40


def check_glyphs(weave: Weave, patterns: Iterable[Pattern]) -> tuple[Diagnostic, ...]:
    """A diagnostic for each quoted text, and each name without a label, that cannot be printed."""
    found: dict[Place, Diagnostic] = {}
    told: set[str] = set()
    for pattern in patterns:
        for text in _texts(pattern):
            place = pattern.place(text.span)
            missing = unprintable(text.value)
            if missing and place not in found:
                found[place] = _diagnostic(place, text.value, missing, "")
                told.update(missing)
    for name, place in _names(weave):
        missing = tuple(each for each in unprintable(name) if each not in told)
        if missing and place not in found:
            found[place] = _diagnostic(place, name, missing, "name")
    return tuple(sorted(found.values(), key=sort_key))


def _diagnostic(place: Place, text: str, missing: tuple[str, ...], variant: str) -> Diagnostic:
    shown = text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}…"
    characters = ", ".join(_named(character) for character in missing)
    return Diagnostic(
        rule="no-glyph", place=place, variant=variant, arguments=(("characters", characters), ("text", shown))
    )


def _named(character: str) -> str:
    """A character by its code and name, since a terminal may lack it too."""
    return f"U+{ord(character):04X} {unicodedata.name(character, '')}".rstrip()


def _texts(pattern: Pattern) -> Iterator[Text]:
    """Every quoted text that is printed: all but the paths of used files."""
    waiting: list[object] = list(reversed(pattern.statements))
    while waiting:
        node = waiting.pop()
        if isinstance(node, Text):
            yield node
        elif isinstance(node, tuple):
            waiting.extend(reversed(node))
        elif isinstance(node, Node) and not isinstance(node, Use):
            waiting.extend(getattr(node, name) for name in reversed(node.__struct_fields__))


def _names(weave: Weave) -> Iterator[tuple[str, Place]]:
    """Names that the booklet prints, each with the place where it is first made."""
    for ring in weave.ring_kinds:
        yield from ((ring.singular, ring.place), (ring.plural, ring.place))
        yield _metal(ring.metal, weave.metals), ring.place
    for finding in weave.finding_kinds:
        yield from ((finding.singular, finding.place), (finding.plural, finding.place))
        yield from ((eye.name, finding.place) for eye in finding.eyes)
        yield _metal(finding.metal or "", weave.metals), finding.place
    for piece in weave.pieces:
        yield piece.singular, piece.place
        if piece.broken:
            continue  # a ring may be of a statement that was not carried out
        first: dict[int, int] = {}
        for node, group in enumerate(piece.group):
            if group >= 0 and group not in first:
                first[group] = piece.born[node]
        for group, motion in first.items():
            place, named = _place_of(weave, piece, motion), piece.groups[group]
            yield from ((text, place) for text in (named.singular, named.plural, named.owner))
        for use in piece.findings:
            yield use.label, _place_of(weave, piece, use.motion)


def _metal(name: str, metals: Mapping[str, Metal]) -> str:
    """How a metal is printed."""
    metal = find_metal(name, metals)
    return name if metal is None else metal.title


def _place_of(weave: Weave, piece: PieceWeave, motion: int) -> Place:
    """The statement of a motion."""
    return weave.sites[piece.motions.site[motion]].place
