"""Inputs made up by chance: spoilt patterns, and patterns that can mostly be made; for `tests.fuzz`.

In: a source of chance and a corpus of texts. Out: a text. The same chance makes the same text.
"""

from __future__ import annotations

import random
import re
from pathlib import Path

from grammar.automaton import automaton
from notation.source import decode

ROOT = Path(__file__).parents[1]
FILES = sorted([*(ROOT / "patterns").rglob("*.annulet"), *(ROOT / "tests/cases").rglob("*.annulet")])
TEXTS = [path.read_text("utf-8") for path in FILES if "limits" not in path.parts]
LIBRARY = [path.read_text("utf-8") for path in FILES if "patterns" in path.parts]
PAGES = [path.read_text("utf-8") for path in FILES if "pages" in path.parts]
WORDS = (
    *sorted(automaton().values.values()),
    "arm",
    "k-1",
    '"Lyra"',
    '"',
    "#",
    "\\",
    "“",
    "!",
    "\t",
    "\u202e",
    "é",
    "0x1f",
)
NUMBERS = (
    "0",
    "1",
    "2",
    "3",
    "7",
    "40",
    "99",
    "201",
    "2001",
    "1000000",
    "999999999999",
    "10000000000000",
    "1.5",
    "-1",
)


def made(rng: random.Random, corpus: list[str], *, whole: bool) -> str:
    """One input."""
    lines = rng.choice(corpus).split("\n")
    if not whole and rng.random() < 0.7:
        first = rng.randrange(len(lines))
        lines = lines[first : first + rng.randint(1, 14)]
    for _ in range(rng.choice((1, 1, 2, 3, 5))):
        _change(rng, lines, corpus)
    text = "\n".join(lines)
    if rng.random() < 0.1:
        data = bytearray(text.encode("utf-8", "surrogatepass"))
        for _ in range(rng.randint(1, 4)):
            if data:
                data[rng.randrange(len(data))] = rng.randrange(256)
        text = decode(bytes(data))[0]
    return text


def _change(rng: random.Random, lines: list[str], corpus: list[str]) -> None:
    at = rng.randrange(len(lines))
    line = lines[at]
    cut = rng.randint(0, len(line))
    match rng.randrange(12):
        case 0:
            lines[at] = line[:cut] + rng.choice(WORDS) + line[cut:]
        case 1:
            lines[at] = line[:cut] + line[cut + rng.randint(1, 3) :]
        case 2:
            lines[at] = " " * rng.randint(0, 12) + line.lstrip()
        case 3 if len(lines) > 1:
            lines.pop(at)
        case 4:
            lines.insert(at, line)
        case 5:
            other = rng.choice(corpus).split("\n")
            lines.insert(at, " " * (len(line) - len(line.lstrip())) + rng.choice(other).strip())
        case 6:
            other_at = rng.randrange(len(lines))
            lines[at], lines[other_at] = lines[other_at], lines[at]
        case 7 | 8:
            words = line.split(" ")
            taken = rng.choice(rng.choice(corpus).split() or ["x"])
            words[rng.randrange(len(words))] = rng.choice((taken, rng.choice(WORDS)))
            lines[at] = " ".join(words)
        case 9 | 10:
            numbers = list(re.finditer(r"\d+(\.\d+)?", line))
            if numbers:
                number = rng.choice(numbers)
                lines[at] = line[: number.start()] + rng.choice(NUMBERS) + line[number.end() :]
        case _:
            lines[at] = (
                line[:cut] + chr(rng.choice((0, 9, 0x7F, 0x85, 0xA0, 0x2028, 0xFEFF, 0x1F600))) + line[cut:]
            )


def likely(rng: random.Random, corpus: list[str]) -> str:
    """One input that can be made more often than not: what a file of the library might have said instead."""
    lines = rng.choice(corpus).split("\n")
    # A kit and what is expected would refuse nearly every change; one in ten keeps them.
    if rng.random() < 0.9:
        lines = [
            re.sub(r"^( +)expect .*", r"\1lay flat", line)
            for before, line in zip(["", *lines], lines, strict=False)
            if not re.match(r"kit:|\s+expect ", line) or before.endswith(":")
        ]
    for _ in range(rng.choice((1, 2, 2, 3, 4))):
        at = rng.randrange(len(lines))
        if not lines[at].startswith(("use ", "#")):
            _vary(rng, lines, at)
    # Loops and rows of forty places take a booklet long and show nothing that six do not.
    return "\n".join(
        re.sub(r"\b\d{2,}\b(?! mm)", lambda _: str(rng.randint(2, 6)), line)
        if line.startswith(("unit", "    ")) and rng.random() < 0.95
        else line
        for line in lines
    )


def _vary(rng: random.Random, lines: list[str], at: int) -> None:
    line = lines[at]
    match rng.randrange(9):
        case 0 | 1 | 2:
            lines[at] = _instead(rng, line, r"(?<![\d.])\d+(?![\d.])", (*"1234567", "12"))
        case 3:
            lines[at] = _instead(rng, line, r"\d+(\.\d+)? mm", ("0.8 mm", "1 mm", "1.6 mm", "4 mm", "9.5 mm"))
        case 4:
            lines[at] = _instead(rng, line, r'"[^"]*"', TYPED)
        case 5:
            pairs = ("below above", "before after", "first last", "left right", "behind front", "over under")
            for pair in pairs:
                one, other = pair.split()
                if one in line:
                    lines[at] = line.replace(one, other)
                    break
                if other in line:
                    lines[at] = line.replace(other, one)
                    break
        case 6:
            options = (
                ", staggered",
                ", centred",
                ", leaning left",
                ", downward",
                ", staggered, downward",
                "",
            )
            lines[at] = re.sub(
                r"(, (staggered|centred|leaning \w+|downward))*:$", rng.choice(options) + ":", line
            )
        case 7 if line.startswith("    "):
            lines.insert(at, rng.choice((line, re.sub(r"\S.*", rng.choice(SAID), line, count=1))))
        case _ if line.startswith("    ") and not line.endswith(":"):
            lines[at] = re.sub(r"\S.*", rng.choice(SAID), line, count=1)
        case _:
            lines[at] = _instead(
                rng, line, r"metal [\w-]+", ("metal brass", "metal sterling-silver", "metal titanium")
            )


def _instead(rng: random.Random, line: str, what: str, choices: tuple[str, ...]) -> str:
    """One of the places where the expression fits, exchanged."""
    found = list(re.finditer(what, line))
    if not found:
        return line
    place = rng.choice(found)
    return line[: place.start()] + rng.choice(choices) + line[place.end() :]


TYPED = (
    '"Lyra"',
    '"<b>Lyra</b> & <a href=x>co</a>"',
    '"=1+1"',
    '"-3"',
    '"@x"',
    '"((1) Tj) \\\\ endstream"',
    '"Straße Ångström Ωmega Ель"',
    '"Ly\u200bra"',
    '"½ in"',
    '"' + "word " * 60 + '"',
    '"' + "W" * 300 + '"',
)
"""Texts that a title, a label or a remark could have, among them such as mean something in HTML, CSV or PDF."""
SAID = (
    'note "Keep it flat."',
    'tip "Mind the end."',
    'caution "It springs."',
    "lay flat",
    "turn over",
    "work clockwise",
    "take 1 link",
)
