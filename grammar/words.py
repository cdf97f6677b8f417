"""Terminals in the words of someone at a bench: what stands here, and what may stand here."""

from __future__ import annotations

from collections.abc import Mapping

from grammar.tokens import NEWLINE, STRAY, TEXT, Token

_PHRASES = {
    "NAME": "a name",
    "NUMBER": "a number",
    "DECIMAL": "a number with decimals",
    "TEXT": "a text in quotes",
    "NEWLINE": "the end of the line",
}
_FIRST = ("NAME", "NUMBER", "TEXT")
_LAST = ("NEWLINE",)

# What need not be named where something else is: a sum may also begin with a bracket, go on with a sign, and so on.
_GOES_WITHOUT_SAYING = frozenset(
    {"LPAR", "MINUS", "PLUS", "STAR", "SLASH", "MOD", "DECIMAL", "A", "PAIR", "TRIPLE", "LSQB"}
)
_COMPARISONS = frozenset({"EQUAL", "UNEQUAL", "LESS", "AT_MOST", "MORE", "AT_LEAST"})
_LONGEST_TEXT_SHOWN = 30


def phrase(terminal: str, values: Mapping[str, str]) -> str:
    """What a terminal is called; `values` has the text of those that are always written alike."""
    return _PHRASES[terminal] if terminal in _PHRASES else f"`{values[terminal]}`"


def listed(expected: frozenset[str], values: Mapping[str, str]) -> str:
    """What may stand here, such as "a name, `first` or the end of the line"."""
    named = expected - _GOES_WITHOUT_SAYING or expected
    words: list[str] = [phrase(terminal, values) for terminal in _FIRST if terminal in named]
    if named >= _COMPARISONS:
        named -= _COMPARISONS
        words.append("a sign such as `=` or `<`")
    rest = named - {*_FIRST, *_LAST}
    words += sorted(phrase(terminal, values) for terminal in rest)
    words += [phrase(terminal, values) for terminal in _LAST if terminal in named]
    return " or ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]


def shown(token: Token) -> str:
    """A token as a message names it."""
    if token.type == NEWLINE:
        return "the end of the line"
    value = token.value
    if token.type == TEXT and len(value) > _LONGEST_TEXT_SHOWN:
        value = f'{value[:_LONGEST_TEXT_SHOWN]}…"'
    return f"`{value}`" if token.type != STRAY else value


# Other words of the trade and of other languages, and the words of the notation for them.
OTHER_WORDS = {
    "license": "licence",
    "author": "by",
    "designer": "by",
    "name": "title",
    "import": "use",
    "include": "use",
    "description": "about",
    "difficulty": "level",
    "rings": "ring",
    "component": "finding",
    "def": "unit",
    "define": "unit",
    "pattern": "piece",
    "weave": "pass",
    "open": "reopen",
    "grab": "take",
    "row": "line",
    "rows": "sheet",
    "elif": "else if",
    "otherwise": "else",
    "loop": "repeat",
    "edition": "variant",
    "variation": "variant",
    "vary": "varying",
    "varies": "varying",
    "while": "repeat",
    "assert": "expect",
    "check": "expect",
    "warning": "caution",
    "remark": "note",
    "flip": "turn over",
    "rotate": "turn round",
    "id": "inner",
    "diameter": "inner",
    "gauge": "wire",
    "thickness": "wire",
    "material": "metal",
    "double": "doubled",
    "triple": "tripled",
    "thru": "through",
    "via": "through",
    "adding": "carrying",
    "called": "as",
    "named": "as",
    "centered": "centred",
    "into": "through",
    "within": "inside",
    "above": "over",
    "atop": "over",
    "below": "under",
    "beneath": "under",
    "underneath": "under",
    "concentric": "nested",
    "reversed": "mirrored",
    "reflected": "mirrored",
    "direction": "work",
    "counterclockwise": "anticlockwise",
    "counter-clockwise": "anticlockwise",
    "anti-clockwise": "anticlockwise",
    "circle": "round",
    "disk": "disc",
    "tilt": "lean",
    "lean": "leaning",
    "withdraw": "remove",
    "deg": "degrees",
    "degree": "degrees",
    "twisted": "crossed",
    "straight": "plain",
    "close": "closes",
    "closed": "closes",
}
"""Word found to word meant; used only where the word meant is due."""

NUMBER_WORDS = {
    "one": "1",
    "two": "2",
    "three": "3",
    "four": "4",
    "five": "5",
    "six": "6",
    "seven": "7",
    "eight": "8",
    "nine": "9",
    "ten": "10",
    "eleven": "11",
    "twelve": "12",
}
TIMES_WORDS = {"once": "1 times", "twice": "2 times", "thrice": "3 times"}
