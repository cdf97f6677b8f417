"""Noun phrases and lists of the printed English: from `both rings of each of seams 2 and 4` to names."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_ONE = r"\d+(?: to \d+)?"
_MANY = rf"{_ONE}(?:(?:, | and ){_ONE})*"
_ATOM = re.compile(
    rf"(?:the )?(?P<noun>[a-z][a-z -]*?)(?: (?P<numbers>{_MANY}))?"
    r"(?: of (?:row|round) (?P<row>\d+))?(?: of (?P<owner>.+))?"
)
_ALL_RINGS = re.compile(r"\b(?:both|all \w+) rings of (?:each of )?|\beach of ")
_RELATION = re.compile(r"the (?:left of the |right of the )?\w+ (?:before|after|below|above) \(([^)]*)\)")
_NEXT = re.compile(r",? and (?=[a-z])|, (?=[a-z])")
_NUMBERED = re.compile(r"[a-z][a-z -]* \d+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """What a member is called."""

    noun: str
    number: int = 0
    """0 for what has no number."""
    row: int = 0
    owner: str = ""
    """The part it belongs to, where that has a number: `lozenge 2`."""
    eye: str = ""

    def bare(self) -> Name:
        """Noun and number alone."""
        return Name(noun=self.noun, number=self.number)

    def lower_by(self, rows: int) -> Name:
        """The same so many rows further on."""
        return replace(self, row=self.row + rows) if self.row else self


def number(word: str) -> int:
    """A number in words up to ten, in figures above."""
    return _WORDS.index(word) if word in _WORDS else int(word)


def singular(noun: str) -> str:
    """The singular of a plural that is made with an s."""
    return noun.removesuffix("s")


class Phrases:
    """Reads noun phrases where a row and an owner go without saying."""

    def __init__(self, title: str) -> None:
        """`title`: of the step, which may name the owner of what is made in it."""
        owner = re.search(r".*\bof ([a-z][a-z -]*? \d+)$", title)
        self.owner = owner[1] if owner and not owner[1].startswith(("row ", "round ")) else ""
        self.row = 0
        self.in_row = 0
        """How many the row that is being made is said to have."""
        family = re.match(r"(?:Row|Round)s? .*?\bof the ([a-z][a-z -]*?)(?: of .*)?$", title)
        self.family = singular(family[1]) if family else ""
        """What rows are being made of: its single rings are just rings there."""

    def names(self, text: str) -> list[Name]:
        """All that a phrase names, in order."""
        text = _RELATION.sub(r"\1", text)
        text = re.sub(r", which waits? on .*$| \(waiting on [^)]*\)", "", text)
        text = _ALL_RINGS.sub("", text)
        parts = [self._atom(part) for part in _NEXT.split(text)]
        out: list[Name] = []
        for group, owner, has_owner in reversed(parts):
            # `petal rings 1 and 2 and ring 3 of twist 1`: each has its own owner, or that of the step
            out[:0] = [replace(name, owner=owner if has_owner else self.owner) for name in group]
        return out

    def _atom(self, text: str) -> tuple[list[Name], str, bool]:
        eye = re.fullmatch(r"the (\S+) eye of (.*)", text)
        if eye:
            group, owner, has_owner = self._atom(eye[2])
            return [replace(name, eye=eye[1]) for name in group], owner, has_owner
        found = _ATOM.fullmatch(text)
        assert found, f"not a noun phrase: {text!r}"
        owner = found["owner"] or ""
        numbers = _numbers(found["numbers"] or "0")
        noun = singular(found["noun"]) if len(numbers) > 1 else found["noun"]
        row = int(found["row"] or self.row)
        if noun == "ring" and self.family not in ("", "ring"):
            noun = self.family if self.family.endswith(" ring") else f"{self.family} ring"
        group = [Name(noun=noun, number=each, row=row) for each in numbers]
        numbered = bool(_NUMBERED.fullmatch(owner))
        return group, owner if numbered else "", numbered


def _numbers(text: str) -> list[int]:
    found: list[int] = []
    for part in re.split(r", | and ", text):
        first, _, last = part.partition(" to ")
        found.extend(range(int(first), int(last or first) + 1))
    return found


def series(text: str, verb: str) -> list[tuple[str, str]]:
    """`ring 2 through rings 1 and 2, ring 3 through rings 2 and 3, and so on to ...`: who, and what; for every one."""
    text = text[0].lower() + text[1:]
    text = re.sub(r" \(waiting on [^)]*\)", "", _ALL_RINGS.sub("", text))
    noun = re.match(r"([a-z][a-z -]*?) \d+ ", text)
    assert noun, text
    head = rf"{re.escape(noun[1])} \d+ "
    joint = rf"{head}(?:carries )?(?=[a-z])" if verb == "carries" else rf"{head}(?:goes )?{verb} "
    parts = re.split(rf"[,;]? and so on to (?={joint})|[,;]? and (?={joint})|[,;] (?={joint})", text)
    numbers = [int(part[len(noun[1]) + 1 :].split()[0]) for part in (parts[0], parts[-1])]
    count = numbers[1] - numbers[0] + 1
    if len(parts) < count:
        parts = spread(parts, count)
    assert len(parts) == count, (count, parts)
    out = []
    for part in parts:
        who = re.match(head, part)
        assert who, part
        what = re.sub(rf"^(?:goes )?{verb} |^carries ", "", part[who.end() :])
        out.append((who[0].strip(), what))
    return out


def spread(listed: list[str], count: int) -> list[str]:
    """Some first texts and the last, and what stands between them: every number goes on evenly."""
    plain = [re.sub(r"^carries |goes ", "", each) for each in listed]
    rows = [[int(each) for each in re.findall(r"\d+", text)] for text in plain]
    assert len(rows) >= 3, listed
    assert len({len(row) for row in rows}) == 1, listed
    first, second, last = rows[0], rows[1], rows[-1]
    out = []
    for place in range(count):
        numbers = [one + place * (two - one) for one, two in zip(first, second, strict=True)]
        told = iter(numbers)
        out.append(re.sub(r"\d+", lambda _, told=told: str(next(told)), plain[1]))  # type: ignore[misc]
    wanted = [[int(each) for each in re.findall(r"\d+", text)] for text in out]
    assert wanted[: len(rows) - 1] == rows[:-1], listed
    assert wanted[-1] == last, listed
    return out
