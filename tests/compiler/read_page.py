"""The steps of a booklet as printed: from the text of its PDF pages to steps, each with its sentences.

Nothing of the compiler is asked: a step begins at its number in front of a title, and ends with what the work then
holds.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

_FOOT = re.compile(r".* ?Page \d+ of \d+")
_PIECE = re.compile(r"\d+ steps?, \d+ rings?\b.*")
_HEAD = re.compile(r"(\d+)(?:[–-](\d+))? ([A-Z].*)")
_TAKEN = re.compile(r"Take(?:, for all of them)?")
_LISTED = re.compile(r".*, (?:open|closed)")
_SENTENCE = re.compile(r"(?<=[.])\s+(?=[A-Z])")
_CHECKS = (
    "Check:",
    "You have now used",
    "For this one you have now used",
    "You have used",
    "For ",
    "The work now has",
    "Count the rings through",
    "Count the rings and eyes through",
    "Count clockwise where",
    "Look at ",
    "Tip:",
    "Note:",
    "Caution:",
    "Tick each step",
    "Beside the boxes",
    "After step ",
    "Each time ",
    "Work from left",
    "Work round in",
    "Lay the work flat",
    "Nothing joins them yet",
    "Lying flat, the rows lean",
    "This begins a separate part",
    "Lay it flat",
    "Turn the work",
)
"""Sentences that ask for no link."""
_COUNTED = re.compile(r".* has \S+ connections?\.")
"""What a part holds, to be counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStep:
    """A step, or several that repeat others."""

    first: int
    last: int
    title: str
    sentences: tuple[str, ...]
    tally: str = ""
    """What the work holds then, with the words in front of it."""


def pieces(pages: Sequence[str]) -> list[list[PrintedStep]]:
    """The steps of each piece, in order of print."""
    lines = [line.strip() for page in pages for line in page.replace("\xa0", " ").splitlines()]
    lines = [line for line in lines if line and not _FOOT.fullmatch(line)]
    starts = [place for place, line in enumerate(lines) if _PIECE.fullmatch(line)]
    end = max(place for place, line in enumerate(lines) if line == "Finishing")
    return [_steps(lines[start + 1 : stop]) for start, stop in zip(starts, [*starts[1:], end], strict=True)]


def _steps(lines: Sequence[str]) -> list[PrintedStep]:
    found: list[PrintedStep] = []
    head: re.Match[str] | None = None
    body: list[str] = []
    listing = True
    """The sentences of the step are over: what it takes is listed, then the next begins."""
    skipping = False
    """Between the list at the foot of a page and the step's title again on the next."""
    tally = ""
    for line in lines:
        if tally and not tally.endswith("."):
            tally = f"{tally} {line}"
            continue
        if skipping or (line.startswith("Take") and _TAKEN.fullmatch(line) and not listing):
            skipping = "(continued)" not in line
            continue
        begins = _HEAD.fullmatch(line)
        awaited = 1 if head is None else int(head[2] or head[1]) + 1
        if begins and listing and int(begins[1]) == awaited and not _LISTED.fullmatch(line):
            if head is not None:
                found.append(_step(head, body, tally))
            head, body, listing, tally = begins, [], False, ""
        elif line.startswith(("In the work now:", "Laid out, not joined yet:")):
            listing, tally = True, line
        elif not listing:
            body.append(line)
    if head is not None:
        found.append(_step(head, body, tally))
    return found


def _step(head: re.Match[str], lines: Sequence[str], tally: str) -> PrintedStep:
    text = ""
    for line in lines:
        text += line if not text or text.endswith("-") else f" {line}"
    sentences = [
        each
        for each in _SENTENCE.split(text)
        if each and not (each.startswith(_CHECKS) or _COUNTED.match(each))
    ]
    return PrintedStep(
        first=int(head[1]),
        last=int(head[2] or head[1]),
        title=head[3],
        sentences=tuple(sentences),
        tally=tally,
    )
