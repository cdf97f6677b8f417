"""English nouns: numbers, articles, plurals, lists, and the names of rings and findings.

In: the typed noun phrases of `compiler.steps`. Out: text, in which names of rings stand between STRONG_ON and
STRONG_OFF (private-use characters that no pattern's text keeps), so that a renderer can set them strong. Between a
noun and its number stands a no-break space, `row\u00a02`: `unbound` makes ordinary spaces of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from compiler.messages import FindingPart, GroupName, KindCount, KindName, Members, Range, Thing
from notation.nodes import Direction, Hand, Relative

STRONG_ON, STRONG_OFF = "\ue000", "\ue001"
EMPHASIS_ON, EMPHASIS_OFF = "\ue002", "\ue003"
BOND = "\N{NO-BREAK SPACE}"
"""Between a noun and its number."""
MARKS = (STRONG_ON, STRONG_OFF, EMPHASIS_ON, EMPHASIS_OFF)


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """What a text is about, so that it need not be said again and again."""

    owner: str = ""
    """The unit use."""
    group: GroupName | None = None
    """The group of which a row is made: its single rings are just rings."""
    row: int = 0
    """That row; left out where a member of it is made."""
    owner_again: bool = False
    """Another unit use has been named in the same sentence, so that this one is said again: `of this lozenge`."""
    all_rings: tuple[str, ...] = ()
    """Groups, by their noun, of which a member is more than one ring, and that is to be said: `both rings of`."""


NOWHERE = Here()

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_ORDINALS = ("", "first", "second", "third", "fourth", "fifth")
_VOWELS = "aeiou"

AThing = TypeVar("AThing", bound=Thing)


def strong(text: str) -> str:
    """Marked as a name."""
    return f"{STRONG_ON}{text}{STRONG_OFF}"


def emphasis(text: str) -> str:
    """Marked as stressed."""
    return f"{EMPHASIS_ON}{text}{EMPHASIS_OFF}"


def typed(text: str) -> str:
    """A designer's text, without the characters that mark."""
    for mark in MARKS:
        text = text.replace(mark, "")
    return text


def unbound(text: str) -> str:
    """With ordinary spaces between nouns and numbers."""
    return text.replace(BOND, " ")


def numbered(noun: str, numbers: int | str) -> str:
    """A noun and its number or numbers, held together at a line's end."""
    return f"{noun}{BOND}{numbers}"


def number(count: int) -> str:
    """One to ten in words, else in figures."""
    return _NUMBERS[count] if 0 < count < len(_NUMBERS) else str(count)


def ordinal(place: int) -> str:
    """First to fifth in words, else `6th`."""
    if 0 < place < len(_ORDINALS):
        return _ORDINALS[place]
    ending = "th" if 10 < place % 100 < 14 else {1: "st", 2: "nd", 3: "rd"}.get(place % 10, "th")
    return f"{place}{ending}"


def listed(parts: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def article(noun: str) -> str:
    """The noun with `a` or `an`, by its first letter."""
    return f"{'an' if noun[:1].lower() in _VOWELS else 'a'} {noun}"


def capital(text: str) -> str:
    """With a capital first letter, marks passed over."""
    for place, character in enumerate(text):
        if character not in MARKS:
            return text[:place] + character.upper() + text[place + 1 :]
    return text


# ---------------------------------------------------------------- kinds and counts


def kind_noun(kind: KindName, count: int) -> str:
    """`large ring` or `large rings`; a kind whose name does not say ring is left as it is."""
    return typed(kind.singular if count == 1 else kind.plural)


def kind_count(entry: KindCount, *, words: bool = True, between: str = "") -> str:
    """`six large rings`, or with `closed` between: `six closed large rings`; in figures without `words`."""
    count = number(entry.count) if words else str(entry.count)
    noun = kind_noun(entry.kind, entry.count)
    bond = " " if words else BOND
    return f"{count}{bond}{between} {noun}" if between else f"{count}{bond}{noun}"


def counts(entries: Iterable[KindCount], *, words: bool = False) -> str:
    """`6 large rings and 16 small rings`."""
    return listed([kind_count(entry, words=words) for entry in entries])


def strands(group: GroupName, count: int, state: str) -> str:
    """New rings by strands: `three closed small rings`, `three pairs of ...`, `two sets of three closed rings`."""
    if group.strand == 1:
        return f"{number(count)} {state} {kind_noun(group.kind, count)}"
    rings = f"{state} {kind_noun(group.kind, 2)}"
    if group.strand == 2:
        return f"{number(count)} {'pair' if count == 1 else 'pairs'} of {rings}"
    return f"{number(count)} {'set' if count == 1 else 'sets'} of {number(group.strand)} {rings}"


def one_strand(group: GroupName) -> str:
    """What a member of a group is: `a small ring`, `a pair of small rings`, `a set of three small rings`."""
    if group.strand == 1:
        return article(kind_noun(group.kind, 1))
    rings = kind_noun(group.kind, 2)
    return f"a pair of {rings}" if group.strand == 2 else f"a set of {number(group.strand)} {rings}"


def each_strand(group: GroupName, count: int) -> str:
    """What members of a group are, after their number: `, each a pair of large rings`; empty for single rings."""
    if group.strand == 1:
        return ""
    pair = group.strand == 2 and typed(group.singular) == "pair"
    if pair:
        return f" of {kind_noun(group.kind, 2)}"
    return f", {'' if count == 1 else 'each '}{one_strand(group)}"


# ---------------------------------------------------------------- members


def member_noun(group: GroupName, count: int, *, short: bool = False, row: bool = False) -> str:
    """What members are called: their label, with `ring` added to a single ring that is called after a part.

    `short`: a single ring is just a ring, where it is clear which part is meant. `row`: the text is about a row of
    them, and a `point ring` is just a ring too.
    """
    whole = typed(group.singular)
    if group.strand == 1 and whole != typed(group.kind.singular):
        ring = "ring" if count == 1 else "rings"
        if "ring" not in whole.split():
            return ring if short else f"{whole} {ring}"
        if row and whole.endswith(" ring"):
            return ring
    return whole if count == 1 else typed(group.plural)


def row_word(group: GroupName) -> str:
    """What a row is called: a tube and a disc have rounds."""
    return "round" if group.tube or group.disc else "row"


def span(first: int, last: int) -> list[str]:
    """Numbers in a row: one, two, or `2 to 49`."""
    if last <= first:
        return [str(first)]
    if last == first + 1:
        return [str(first), str(last)]
    return [f"{first} to {last}"]


def _places(ranges: Sequence[Range]) -> str:
    return listed([text for each in ranges for text in span(each.first, each.last)])


def members(them: Members, here: Here = NOWHERE, *, short: bool = False, rows: bool = True) -> str:
    """As `named`, with ordinary spaces: for labels, which are not broken into lines."""
    return unbound(named(them, here, short=short, rows=rows))


def named(them: Members, here: Here = NOWHERE, *, short: bool = False, rows: bool = True) -> str:
    """`points 1 and 2 of row 2 of lozenge 1`, `arm 3`, `the heart`, `the twin of pair 2`.

    `here`: what the text is about, which is not said again; `rows` False leaves rows unsaid too.
    """
    group = them.group
    row_of = group == here.group
    short = short or row_of
    tail = _of_owner(group, here)
    if group.alone:
        text = f"the {member_noun(group, 1, short=short, row=row_of)}{tail}"
    else:
        parts = []
        for row, ranges in _by_row(them.ranges):
            count = sum(len(each) for each in ranges)
            place = f" of {numbered(row_word(group), row)}" if row and rows else ""
            parts.append(
                f"{numbered(member_noun(group, count, short=short, row=row_of), _places(ranges))}{place}{tail}"
            )
        text = listed(parts)
    if them.companion < 0:
        return text
    if them.companion == 1:
        return f"the twin of {text}" if them.count == 1 else f"the twins of {text}"
    ring = "ring" if them.count == 1 else "rings"
    return f"the {ordinal(them.companion + 1)} {ring} of {text}"


def owner(name: str) -> str:
    """A unit use: `lozenge 2`, `the left wing`."""
    name = typed(name)
    if not name[-1:].isdigit():
        return f"the {name}"
    noun, _, last = name.rpartition(" ")
    return numbered(noun, last) if noun else name


def this_owner(name: str) -> str:
    """The unit use that a text is about, beside others: `this lozenge`, `the left wing`."""
    noun, _, last = typed(name).rpartition(" ")
    return f"this {noun}" if noun and last.isdigit() else owner(name)


def _of_owner(group: GroupName, here: Here) -> str:
    """` of lozenge 2` where that must be said."""
    if not group.owner or (group.owner == here.owner and not here.owner_again):
        return ""
    return f" of {this_owner(group.owner) if group.owner == here.owner else owner(group.owner)}"


def after(what: Thing, here: Here) -> Here:
    """What need not or must be said in the rest of a sentence that has named a thing."""
    if not isinstance(what, Members):
        return here
    said = what.group.singular if what.companion < 0 else ""
    owners = {each.group.owner for each in (what, *what.waits_on)} - {"", here.owner}
    return replace(
        here,
        owner_again=here.owner_again or bool(owners and here.owner),
        all_rings=tuple(each for each in here.all_rings if each != said),
    )


def _by_row(ranges: Sequence[Range]) -> list[tuple[int, list[Range]]]:
    """Ranges of one row together, where they follow one another."""
    found: list[tuple[int, list[Range]]] = []
    for each in ranges:
        if found and found[-1][0] == each.row:
            found[-1][1].append(each)
        else:
            found.append((each.row, [each]))
    return found


def finding(part: FindingPart) -> str:
    """`glass drop 2`, `the clasp`."""
    return numbered(typed(part.label), part.number) if part.number else f"the {typed(part.label)}"


def finding_eye(part: FindingPart) -> str:
    """The eye of a finding: `the eye of the clasp`, `the end eye of chain 1`."""
    eye = f"{typed(part.eye)} eye" if part.eye else "eye"
    return f"the {eye} of {finding(part)}"


def whole(group: GroupName) -> str:
    """What all of a group is called: `points`, but `strap` where single rings make it and it is called after them."""
    parts = group.strand == 1 and "ring" not in typed(group.singular).split()
    return typed(group.singular if parts and group.singular != group.kind.singular else group.plural)


def family(them: Members, here: Here = NOWHERE) -> str:
    """A whole family, or a row of one: `the band`, `round 2 of lozenge 1`."""
    group, row = them.group, them.ranges[0].row
    tail = _of_owner(group, here)
    return f"{numbered(row_word(group), row)}{tail}" if row else f"the {whole(group)}{tail}"


def closed(them: Members, here: Here = NOWHERE) -> str:
    """A family that closes on itself: `the band`, `the round of pairs 1 to 16`; of a tube all of it."""
    group = them.group
    if them.ranges[0].row or whole(group) == typed(group.singular):
        return f"the {whole(group)}{_of_owner(group, here)}"
    return f"the round of {named(them, here)}"


def relation(them: Relative, group: GroupName) -> str:
    """`the two below`, `the one before`, `the left of the two below`; of a disc `the first of the two inside it`."""
    where, hand = them.direction.value, them.only.value if them.only is not None else ""
    if group.disc and them.direction in (Direction.BELOW, Direction.ABOVE):
        where = "inside it" if them.direction is Direction.BELOW else "outside it"
        hand = hand and ("first" if them.only is Hand.LEFT else "last")
    plain = f"the {number(them.count)} {where}"
    return f"the {hand} of {plain}" if hand else plain


def all_rings(them: Members, here: Here) -> str:
    """`both rings of `, before the name of members that are gone through, where that is to be said."""
    strand = them.group.strand
    if strand == 1 or them.companion >= 0 or them.group.singular not in here.all_rings:
        return ""
    rings = "both rings" if strand == 2 else f"all {number(strand)} rings"
    return f"{rings} of " if them.count == 1 else f"{rings} of each of "


def thing(what: Thing, here: Here = NOWHERE) -> str:
    """A part of a path, with what it is to the ring woven, and on what it waits."""
    if isinstance(what, FindingPart):
        return strong(finding_eye(what))
    text = f"{all_rings(what, here)}{strong(named(what, here))}"
    if what.relation is not None:
        text = f"{relation(what.relation, what.group)} ({text})"
    if what.waits_on:
        verb = "waits" if what.count == 1 else "wait"
        text = f"{text}, which {verb} on {listed(told(what.waits_on, named, here))}"
    return text


def meant(what: Members, here: Here = NOWHERE, *, short: bool = False) -> str:
    """For which later members new connectors are meant: `for arms 1 to 4`, `seam 3 for point 3, seam 4 for ...`.

    `short`: connectors by their numbers only.
    """
    texts = []
    in_row = all(
        each.members.group == here.group and each.members.ranges[0].row == here.row for each in what.meant_for
    )
    for each in what.meant_for:
        count = each.each * each.members.count
        text = f"for {strong(named(each.members, here, rows=not in_row))}"
        if each.each > 1 and each.members.count > 1:
            text += f", {number(each.each)} each"
        if count < what.count:
            first = what.ranges[0].first + each.at
            part = replace(what, ranges=(Range(row=0, first=first, last=first + count - 1),))
            text = f"{strong(_places(part.ranges) if short else named(part, here))} {text}"
        texts.append(text)
    return ", ".join(texts)


def told(things: Iterable[AThing], tell: Callable[[AThing, Here], str], here: Here) -> list[str]:
    """Things told one after the other, each with what has been said before it."""
    texts = []
    for each in things:
        texts.append(tell(each, here))
        here = after(each, here)
    return texts


def path(things: Sequence[Thing], here: Here = NOWHERE) -> str:
    """A whole path; a part with a clause or an `and` of its own is set off from what follows."""
    texts = told(things, thing, here)
    if len(texts) == 1:
        return texts[0]
    if any(isinstance(each, Members) and each.waits_on for each in things[:-1]):
        return f"{'; '.join(texts[:-1])}; and {texts[-1]}"
    if any(" and " in text for text in texts):
        return f"{', '.join(texts[:-1])}, and {texts[-1]}"
    return listed(texts)
