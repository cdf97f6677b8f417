"""Arguments of messages inside English sentences: `{kind:an open}`, `{what:new}`, `{series:through}`.

In: an argument, what the text is about, and what stands after the colon in a sentence. Out: the words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

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
    TwinPlace,
)

ENTRIES = {
    Entry.FRONT: "from the front",
    Entry.BEHIND: "from behind",
    Entry.FRONT_TURNED: "from the side facing away from you",
    Entry.BEHIND_TURNED: "from the side facing you",
}
TWIN_PLACES = {
    TwinPlace.BESIDE: ("beside", "", "side by side"),
    TwinPlace.BEHIND: ("behind", ", one behind the other", "one behind the other, the first nearest to you"),
    TwinPlace.BEFORE: (
        "in front of",
        ", one in front of the other",
        "one behind the other, the first furthest from you",
    ),
    TwinPlace.INSIDE: ("inside", ", one inside the other", "one inside the other, the first outermost"),
}
"""Where a twin lies, what is said of several, and how rings are laid that are linked with nothing yet."""


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
                return ENTRIES[value]
            case TwinPlace():
                return _twin_place(value, spec)
            case int():
                return _count(value, spec)
            case str():
                return _text(value, spec)
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


def _text(value: str, spec: str) -> str:
    """`owner`: a unit use; `a`, `the`: something typed, with this article in place of any that it has."""
    if spec == "owner":
        return nouns.owner(value)
    text = nouns.typed(value)
    first, _, rest = text.partition(" ")
    bare = rest if rest and first.lower() in ("a", "an", "the") else text
    if spec == "the":
        return f"the {bare}"
    return nouns.article(bare) if spec == "a" else text


def _twin_place(value: TwinPlace, spec: str) -> str:
    """`lies behind it`; `many`: `lie behind it, ...`; `first`: the first ring named; `again`: the usual left unsaid."""
    word, several, laid = TWIN_PLACES[value]
    if spec == "laid":
        return laid
    if "again" in spec:
        return (
            ""
            if value is TwinPlace.BESIDE
            else f" and {_twin_place(value, spec.removesuffix('again').strip())}"
        )
    if spec == "many":
        return f"lie {word} it{several}"
    return f"lies {word} {'the first ring' if spec == 'first' else 'it'}"


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
    if spec in ("new", "onto"):
        name = nouns.strong(nouns.named(what, here))
        onto = " onto the open ring" if spec == "onto" else ""
        return f"{nouns.strands(what.group, what.count, 'closed')}{onto} as {name}"
    if spec in ("meant", "meant after"):
        meant = nouns.meant(what, here)
        if meant.startswith("for "):
            return f", {meant}" if spec == "meant after" else f" {meant}"
        return f": {meant}" if meant else ""
    if spec == "row":
        return nouns.family(what, here)
    if spec == "whole":
        return nouns.closed(what, here)
    if spec == "width":
        row = what.group == here.group
        noun = nouns.member_noun(what.group, what.count, short=row, row=row)
        return f"{nouns.number(what.count)} {noun}{nouns.each_strand(what.group, what.count)}"
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
        single = all(isinstance(each, Members) and each.group.strand == 1 for each in things)
        return f"each {'' if single else 'ring '}of {nouns.path(things, here)}"
    if spec == "gap" and isinstance(first, Members) and first.group.strand > 1 and first.companion < 0:
        return f"the {nouns.number(first.group.strand)} rings of {nouns.path(things, here)}"
    if spec == "hole":
        return nouns.thing(first, here)
    if spec == "holes":
        return _holes(things, here)
    if spec == "any":
        return nouns.path(things, here) if _is_one(things) else f"any of {nouns.path(things, here)}"
    if spec == "does":
        return "does" if _is_one(things) else "do"
    if spec == "beside":
        return nouns.path(things[1:], here)
    if spec == "lies":
        return "lies" if _is_one(things) else "lie"
    return nouns.path(things, here)


def _is_one(things: Sequence[Thing]) -> bool:
    """Whether a verb after these stands in the singular."""
    return len(things) == 1 and (isinstance(things[0], FindingPart) or things[0].count == 1)


def _holes(things: Sequence[Thing], here: nouns.Here) -> str:
    """`the hole of plate ring 1`; of several at once `the holes of mesh rings 1 and 2 at once, where they overlap`."""
    named = nouns.path(things, here)
    if len(things) == 1 and isinstance(things[0], Members) and things[0].group.strand > 1:
        named = (
            named
            if things[0].companion >= 0
            else f"the {nouns.number(things[0].group.strand)} rings of {named}"
        )
    elif _is_one(things):
        return f"the hole of {named}"
    return f"the holes of {named} at once, where they overlap"


# ---------------------------------------------------------------- series

_VERBS = {
    "through": ("through", "through"),
    "goes": ("goes through", "through"),
    "carries": ("carries", ""),
    "takes": ("takes", ""),
    "around": ("goes around", "around"),
    "joint": ("goes around the joint of", "around the joint of"),
    "between": ("between the rings of", "between the rings of"),
    "inside": ("in the hole of", "in the hole of"),
    "over": ("over", "over"),
    "under": ("under", "under"),
    "gap": ("between", "between"),
}
"""What stands between a member and what it meets, in the first line of a series and in the others."""


def _series(series: Series, spec: str, here: nouns.Here) -> str:
    """The lines told, the first with a verb: `pair 3 through pair 2, pair 4 through pair 3, and so on to ...`.

    `through`: after a colon, so without a verb; `goes`, `carries`, `takes`: a sentence of its own.
    """
    if spec == "load":
        return _load(series)
    lines = series.lines
    if spec == "relation":
        return _relation(lines[0])
    texts = []
    for place, line in enumerate(lines):
        verb = _VERBS[spec][min(place, 1)]
        member = nouns.named(line.member, here, short=True, rows=False)
        met = _met(line, here, meant=place == 0)
        if spec == "gap":
            beside = replace(line, things=line.things[1:])
            hole = replace(line, things=line.things[:1])
            met = f"{_met(beside, here)} on {_met(hole, here)}"
        texts.append(" ".join(part for part in (member, verb, met) if part))
        for what in line.things:
            here = nouns.after(what, here)
    # Lines with commas of their own are parted by semicolons.
    between = "; " if any(", and " in text for text in texts) else ", "
    if series.count > len(lines):
        return f"{between.join(texts[:-1])}{between}and so on to {texts[-1]}"
    if between == "; ":
        return f"{between.join(texts[:-1])}{between}and {texts[-1]}"
    return nouns.listed(texts) if not any(" and " in text for text in texts) else _set_off(texts)


def _relation(line: SeriesLine) -> str:
    only = line.things[0]
    assert isinstance(only, Members) and only.relation is not None
    return nouns.relation(only.relation, only.group)


def _set_off(texts: list[str]) -> str:
    return f"{', '.join(texts[:-1])}, and {texts[-1]}" if len(texts) > 1 else texts[0]


def _met(line: SeriesLine, here: nouns.Here, *, meant: bool = False) -> str:
    """What a line's member meets; its own kind of ring is called short. `meant`: with what connectors are for."""

    def tell(what: Thing, here: nouns.Here) -> str:
        if isinstance(what, FindingPart):
            return nouns.strong(nouns.finding(what))
        name = nouns.strong(nouns.named(what, here, short=what.group == line.member.group))
        text = f"{nouns.all_rings(what, here)}{name}"
        if meant and what.meant_for:
            text = f"{text} ({nouns.meant(what, here, short=True)})"
        if what.waits_on:
            text = f"{text} (waiting on {nouns.listed(nouns.told(what.waits_on, nouns.named, here))})"
        return text

    texts = nouns.told(line.things, tell, here)
    return nouns.listed(texts) if not any(" and " in text for text in texts) else _set_off(texts)


def _load(series: Series) -> str:
    """What each of them carries, by count: `two pairs of closed small rings`."""
    first = series.lines[0].things[0]
    if isinstance(first, FindingPart):
        return nouns.article(nouns.kind_noun(first.kind, 1))
    return nouns.strands(first.group, first.count, "closed")
