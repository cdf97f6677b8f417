"""Arguments of messages inside English sentences: `{kind:an open}`, `{what:new}`, `{series:through}`.

In: an argument, what the text is about, and what stands after the colon in a sentence. Out: the words.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.catalogue import nouns
from compiler.messages import (
    Argument,
    Entry,
    FindingPart,
    KindCount,
    KindName,
    Members,
    Series,
    SeriesLine,
    Thing,
)
from notation.nodes import Relative

ENTRIES = {
    Entry.FRONT: "from the front",
    Entry.BEHIND: "from behind",
    Entry.FRONT_TURNED: "from the front, the side that now faces away from you",
    Entry.BEHIND_TURNED: "from behind, the side that now faces you",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrase:
    """An argument, ready to be put into a sentence with `str.format`."""

    value: Argument
    here: nouns.Here
    """What the text is about."""

    def __format__(self, spec: str) -> str:
        value = self.value
        match value:
            case Members() | FindingPart():
                return _thing(value, spec, self.here)
            case KindName():
                return _kind(value, spec)
            case Series():
                return _series(value, spec, self.here)
            case Entry():
                return ENTRIES[value].partition(",")[0] if spec == "short" else ENTRIES[value]
            case Relative():
                return nouns.relation(value)
            case int():
                return _count(value, spec)
            case str():
                return nouns.owner(value) if spec == "owner" else nouns.typed(value)
            case tuple():
                return _things(value, spec, self.here)
            case _:
                raise TypeError(f"no words for {type(value).__name__}")


def _count(value: int, spec: str) -> str:
    """`{count:ring|rings}`: a number in words with its noun."""
    if not spec:
        return nouns.number(value)
    singular, plural = spec.split("|")
    return f"{nouns.number(value)} {singular if value == 1 else plural}"


def _kind(kind: KindName, spec: str) -> str:
    if spec == "rings":
        return nouns.kind_noun(kind, 2)
    lead, state = spec.split(" ")
    noun = f"{state} {nouns.kind_noun(kind, 1)}"
    return nouns.article(noun) if lead in ("a", "an") else f"{lead} {noun}"


def _thing(what: Thing, spec: str, here: nouns.Here) -> str:
    if isinstance(what, FindingPart):
        if spec == "eye":
            return f"its {nouns.typed(what.eye)} eye" if what.eye else "its eye"
        return nouns.strong(nouns.finding(what)) if spec == "finding" else nouns.thing(what, here)
    if spec == "new":
        name = nouns.strong(nouns.members(what, here))
        return f"{nouns.strands(what.group, what.count, 'closed')} as {name}"
    if spec == "row":
        owner = what.group.owner
        tail = f" of {nouns.owner(owner)}" if owner and owner != here.owner else ""
        return f"{nouns.row_word(what.group)} {what.ranges[0].row}{tail}"
    if spec == "width":
        short = what.group == here.group
        return f"{nouns.number(what.count)} {nouns.member_noun(what.group, what.count, short=short)}"
    return nouns.thing(what, here)


def _things(values: tuple[Thing, ...] | tuple[KindCount, ...], spec: str, here: nouns.Here) -> str:
    things = [value for value in values if isinstance(value, Members | FindingPart)]
    if not things:
        return nouns.counts(value for value in values if isinstance(value, KindCount))
    first = things[0]
    if (
        spec == "each"
        and isinstance(first, Members)
        and (len(things) > 1 or first.count * first.group.strand > 1)
    ):
        return f"each ring of {nouns.path(things, here)}"
    if spec == "gap" and isinstance(first, Members):
        return f"the {nouns.number(first.group.strand)} rings of {nouns.path(things, here)}"
    return nouns.path(things, here)


# ---------------------------------------------------------------- series

_FIRST_VERB = {"through": "goes through", "carries": "carries", "goes": "goes through", "takes": "takes"}
_NEXT_VERB = {"through": "through", "carries": "", "goes": "through", "takes": ""}


def _series(series: Series, spec: str, here: nouns.Here) -> str:
    """The lines told, the first with a verb: `pair 3 through pair 2, pair 4 through pair 3, and so on to ...`.

    `through`: after a colon, so without a verb; `goes`, `carries`, `takes`: a sentence of its own.
    """
    if spec == "load":
        return _load(series)
    lines = series.lines
    same_rows = all(_rows(line) == _rows(lines[0]) for line in lines)
    texts = []
    for place, line in enumerate(lines):
        verb = _FIRST_VERB[spec] if place == 0 and spec != "through" else _NEXT_VERB[spec]
        member = nouns.members(line.member, here, short=True, rows=False)
        met = _met(line, here, rows=place == 0 or not same_rows)
        texts.append(" ".join(part for part in (member, verb, met) if part))
    if series.count > len(lines):
        return f"{', '.join(texts[:-1])}, and so on to {texts[-1]}"
    return nouns.listed(texts) if not any(" and " in text for text in texts) else _set_off(texts)


def _set_off(texts: list[str]) -> str:
    return f"{', '.join(texts[:-1])}, and {texts[-1]}" if len(texts) > 1 else texts[0]


def _rows(line: SeriesLine) -> list[list[int]]:
    return [[each.row for each in what.ranges] for what in line.things if isinstance(what, Members)]


def _met(line: SeriesLine, here: nouns.Here, *, rows: bool) -> str:
    """What a line's member meets; its own kind of ring is called short."""
    texts = []
    for what in line.things:
        if isinstance(what, FindingPart):
            texts.append(nouns.strong(nouns.finding(what)))
            continue
        text = nouns.strong(nouns.members(what, here, short=what.group == line.member.group, rows=rows))
        if what.waits_on:
            one_row = len({each.row for on in what.waits_on for each in on.ranges}) == 1
            on = nouns.listed([nouns.members(each, here, rows=rows or not one_row) for each in what.waits_on])
            text = f"{text} (waiting on {on})"
        texts.append(text)
    return nouns.listed(texts) if not any(" and " in text for text in texts) else _set_off(texts)


def _load(series: Series) -> str:
    """What each of them carries, by count: `two pairs of closed small rings`."""
    first = series.lines[0].things[0]
    if isinstance(first, FindingPart):
        return nouns.article(nouns.kind_noun(first.kind, 1))
    return nouns.strands(first.group, first.count, "closed")
