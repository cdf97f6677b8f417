"""Names that look alike and are not the same; in: a pattern as parsed, out: a warning for each.

Two names can be drawn alike and be told apart only by the machine: a Cyrillic letter among Latin ones, an accent as a
character of its own, a ligature. Whoever reads the pattern then reads one name where there are two.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from compiler.expand.context import Context
from compiler.expand.walk import parts_in
from notation.diagnostic import Label
from notation.margin import Pattern
from notation.nodes import Name

# Letters that common fonts draw as Latin ones: Cyrillic in the first line, Greek in the second. A part of the table
# confusables.txt of Unicode Technical Standard #39, chosen and written down from memory.
_LATIN = str.maketrans(
    "аеорсухіјѕԁӏԛԝһѵАВЕКМНОРСТУХІЈЅαινορυΑΒΕΖΗΙΚΜΝΟΡΤΥΧ",
    "aeopcyxijsdlqwhvABEKMHOPCTYXIJSaivopuABEZHIKMNOPTYX",
)


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


def _names(pattern: Pattern) -> Iterator[Name]:
    return (node for node in parts_in(pattern.statements) if isinstance(node, Name) and node.text)


def _looks(name: str) -> str:
    """The same for names that are drawn alike."""
    return unicodedata.normalize("NFKC", name).translate(_LATIN)


def _apart(name: str, other: str) -> str:
    """The first character of a name that is not that of another, by its name in Unicode."""
    character = next(one for at, one in enumerate(name) if other[at : at + 1] != one)
    return f"U+{ord(character):04X} {unicodedata.name(character, 'a character').lower()}"
