"""What is not as it looks; in: a pattern as parsed, out: warnings of names that look alike and are not the same, and
of marks that turn the direction of a text.

Two names can be drawn alike and be told apart only by the machine: a Cyrillic letter among Latin ones, an accent as a
character of its own, a ligature. Whoever reads the pattern then reads one name where there are two.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterator
from itertools import accumulate

from compiler.expand.context import Context
from compiler.expand.walk import parts_in
from notation.diagnostic import Label
from notation.margin import Pattern
from notation.nodes import Name, Text
from notation.source import Span

# Letters that common fonts draw as Latin ones: Cyrillic in the first line, Greek in the second. A part of the table
# confusables.txt of Unicode Technical Standard #39, chosen and written down from memory.
_LATIN = str.maketrans(
    "аеорсухіјѕԁӏԛԝһѵАВЕКМНОРСТУХІЈЅαινορυΑΒΕΖΗΙΚΜΝΟΡΤΥΧ",
    "aeopcyxijsdlqwhvABEKMHOPCTYXIJSaivopuABEZHIKMNOPTYX",
)


_TURNING = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""The characters with the property Bidi_Control (Unicode Standard Annex #9)."""


def tell_look_alikes(ctx: Context, pattern: Pattern) -> None:
    """Warns of each name that an earlier one of the same file looks like."""
    if pattern.source.text.isascii():
        return
    first: dict[str, Name] = {}
    told: set[str] = set()
    for name in sorted(_names(pattern), key=lambda name: name.span):
        before = first.setdefault(_looks(name.text), name)
        if before.text == name.text or name.text in told:
            continue
        told.add(name.text)
        places = [pattern.place(each.span) for each in (before, name)]
        label = Label(place=places[0], note="first-made-here")
        ctx.report(
            "look-alike-name",
            places[1],
            labels=(label,),
            name=name.text,
            letters=_apart(name.text, before.text),
        )


def tell_turned_text(ctx: Context, pattern: Pattern) -> None:
    """Warns of marks in texts and comments that turn the direction of what is read; elsewhere they are stray."""
    source = pattern.source
    if source.text.isascii() or not (marks := [found.start() for found in _TURNING.finditer(source.text)]):
        return
    spans = [node.span for node in parts_in(pattern.statements) if isinstance(node, Text)]
    lines = [0, *accumulate(len(line) + 1 for line in source.text.split("\n"))]
    for comment in pattern.comments:
        start = lines[comment.line] + comment.column
        spans.append(Span(start, start + len(comment.text)))
    spans.sort()
    starts = [span.start for span in spans]
    within = [mark for mark in marks if (at := bisect_right(starts, mark)) and mark < spans[at - 1].end]
    if within:
        mark = source.text[within[0]]
        ctx.report(
            "turned-text",
            pattern.place(Span(within[0], within[0] + 1)),
            "" if len(within) == 1 else "several",
            mark=f"U+{ord(mark):04X} {unicodedata.name(mark).lower()}",
            count=len(within),
        )


def _names(pattern: Pattern) -> Iterator[Name]:
    return (node for node in parts_in(pattern.statements) if isinstance(node, Name) and node.text)


def _looks(name: str) -> str:
    """The same for names that are drawn alike."""
    return unicodedata.normalize("NFKC", name).translate(_LATIN)


def _apart(name: str, other: str) -> str:
    """The first character of a name that is not that of another, by its name in Unicode."""
    character = next(one for at, one in enumerate(name) if other[at : at + 1] != one)
    return f"U+{ord(character):04X} {unicodedata.name(character, 'a character').lower()}"
