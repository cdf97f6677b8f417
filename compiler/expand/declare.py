"""The left margin: headings, ring kinds, findings, units, imports and the kit.

In: a pattern and the patterns it uses, parsed. Out: `FileNames` for it and, below it, for every file it uses; the
ring and finding kinds of the pattern that is built. A used file's kinds are those of the pattern that uses it, by
name or as its `use` line says: the pattern owns the rings.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from compiler.expand.context import Context
from compiler.expand.likenames import tell_look_alikes, tell_turned_text
from compiler.expand.live import Broken, FileNames, Scope, Whole
from compiler.weave import EyeKind, FindingKind, RingKind
from notation.diagnostic import Label
from notation.handling import LabelLine
from notation.lengths import Length, in_mm
from notation.limits import DEEPEST_IMPORTS, MOST_MEANINGS
from notation.margin import (
    FindingLine,
    Heading,
    HeadingLine,
    Pattern,
    PieceBlock,
    RingLine,
    UnitBlock,
    Use,
    VariantBlock,
)
from notation.metals import UNCLEAR, find_metal
from notation.nodes import Bundle, Name
from notation.plurals import plural, printed
from notation.statements import Broken as Unread
from notation.statements import Let

Library = Mapping[tuple[str, str], Pattern]
"""Every file used, by the name of the file that uses it and the path as written there."""

FINDING_TYPES = (
    "bail",
    "bar",
    "bead",
    "chain",
    "charm",
    "clasp",
    "clasp-half",
    "drop",
    "ear-wire",
    "key-ring",
    "post",
    "spacer",
    "toggle-bar",
    "toggle-ring",
)
"""The types of findings, in the words of the trade."""


def declare(ctx: Context, pattern: Pattern, library: Library) -> FileNames:
    """The names of the pattern to be built, with its kinds entered in the context."""
    names = _Declaring(ctx, library)
    file = names.of(pattern)
    _enter_kinds(ctx, file)
    names.enter_uses(file, ())
    ctx.columns.counts = [0] * len(ctx.ring_kinds)
    return file


def headings(pattern: Pattern) -> dict[Heading, str]:
    """The texts of the headings; of two the first one (the parser has told it)."""
    found: dict[Heading, str] = {}
    for statement in pattern.statements:
        if isinstance(statement, HeadingLine):
            found.setdefault(statement.heading, statement.text.value)
    return found


class _Declaring:
    """The names of all files while they are entered, each file once for each meaning that its kinds are given.

    Files that use files twice over make a ladder with more ways through it than can be counted; so what was
    entered is met again by the file's name and the meaning of its kinds.
    """

    def __init__(self, ctx: Context, library: Library) -> None:
        self._ctx = ctx
        self._library = library
        self._plain: dict[str, FileNames] = {}
        """By the name of the file: what it declares by itself."""
        self._seen: dict[tuple[object, ...], FileNames] = {}
        """By the name of the file and what its kinds stand for."""
        self._meanings = 0

    def of(self, pattern: Pattern) -> FileNames:
        """What a file declares by itself; its kinds stand for nothing yet, and it uses no other."""
        plain = self._plain.get(pattern.source.name)
        if plain is None:
            plain = self._plain[pattern.source.name] = _names_of(self._ctx, pattern)
        return FileNames(
            pattern=pattern,
            places=plain.places,
            numbers=plain.numbers,
            rings=plain.rings,
            findings=plain.findings,
            units=plain.units,
            labels=plain.labels,
            broken=set(plain.broken),
        )

    def enter_uses(self, file: FileNames, chain: tuple[str, ...]) -> None:
        """Enters the files that a file uses and those that they use; `chain` are the names of its users."""
        chain = (*chain, file.name)
        for statement in file.pattern.statements:
            if not isinstance(statement, Use) or file.places.get(statement.alias.text) != file.place(
                statement.alias.span
            ):
                continue  # no `use` line, or one whose name was taken
            alias = statement.alias.text
            other = self._library.get((file.name, statement.path.value))
            if other is None or other.source.name in chain or len(chain) > DEEPEST_IMPORTS:
                file.broken.add(alias)
                continue
            used = self._mapped(file, self.of(other), statement, chain)
            if used is None:
                file.broken.add(alias)
            else:
                file.files[alias] = used

    def _mapped(self, user: FileNames, used: FileNames, use: Use, chain: tuple[str, ...]) -> FileNames | None:
        """The used file with its kinds given their meaning; None when there are more meanings than may be."""
        self._meanings += 1 + len(used.rings) + len(used.findings)
        if self._meanings > MOST_MEANINGS:
            place = user.place(use.path.span)
            self._ctx.fail("too-many-imports", place, "meanings", path=use.path.value, limit=MOST_MEANINGS)
            return None
        _map_kinds(self._ctx, user, used, use)
        key = (
            used.name,
            tuple(used.kind_numbers.items()),
            tuple(used.finding_numbers.items()),
            tuple(used.unmapped.items()),
            tuple(sorted(used.broken)),
        )
        known = self._seen.get(key)
        if known is None:
            known = self._seen[key] = used
            self.enter_uses(known, chain)
        return known


def _names_of(ctx: Context, pattern: Pattern) -> FileNames:
    file = FileNames(pattern=pattern)
    for statement in pattern.statements:
        match statement:
            case RingLine():
                if _enter(ctx, file, statement.name):
                    file.rings[statement.name.text] = statement
            case FindingLine():
                if _enter(ctx, file, statement.name):
                    file.findings[statement.name.text] = statement
            case UnitBlock():
                if _enter(ctx, file, statement.name):
                    file.units[statement.name.text] = statement
            case Use():
                _enter(ctx, file, statement.alias)
            case LabelLine():
                if statement.name.text in file.labels:
                    first = file.place(file.labels[statement.name.text].span)
                    label = Label(place=first, note="first-made-here")
                    place = file.place(statement.span)
                    ctx.fail("label-again", place, labels=(label,), name=statement.name.text)
                    continue
                file.labels[statement.name.text] = statement
            case PieceBlock() | VariantBlock():
                _enter(ctx, file, statement.name)
            case Let():
                _number(ctx, file, statement)
            case Unread():
                file.broken.update(name.text for name in statement.names)
            case _:
                pass
    tell_look_alikes(ctx, pattern)
    tell_turned_text(ctx, pattern)
    for name, line in file.labels.items():
        if name not in file.places:
            ctx.report("label-unused", file.place(line.name.span), name=name)
    return file


def _number(ctx: Context, file: FileNames, line: Let) -> None:
    """A number of the margin, worked out from those above it."""
    if not _enter(ctx, file, line.name):
        return
    at = file.place(line.name.span)
    value = ctx.number(Scope(file=file, parent=None, key="", owner="", unit=None), line.value)
    file.numbers[line.name.text] = Broken(made_at=at) if value is None else Whole(value=value, made_at=at)


def _enter(ctx: Context, file: FileNames, name: Name) -> bool:
    """Enters a name of the left margin; one already in use is an error and keeps its first meaning."""
    if not name.text:
        return False
    place = file.place(name.span)
    first = file.places.get(name.text)
    if first is not None:
        ctx.tell_in_use(place, name.text, first)
        return False
    file.places[name.text] = place
    return True


# ---------------------------------------------------------------- kinds


def _enter_kinds(ctx: Context, file: FileNames) -> None:
    for name, line in file.rings.items():
        kind = _ring_kind(ctx, file, line)
        if kind is None:
            file.broken.add(name)
            continue
        file.kind_numbers[name] = len(ctx.ring_kinds)
        ctx.ring_kinds.append(kind)
    for name, finding in file.findings.items():
        kind_of = _finding_kind(ctx, file, finding)
        if kind_of is None:
            file.broken.add(name)
            continue
        file.finding_numbers[name] = len(ctx.finding_kinds)
        ctx.finding_kinds.append(kind_of)
    _tell_printed_alike(ctx, file)


def _tell_printed_alike(ctx: Context, file: FileNames) -> None:
    """Kinds that the maker could not tell apart, because they are called alike in print."""
    first: dict[str, str] = {}
    for name in (*file.kind_numbers, *file.finding_numbers):
        words = words_for(file, name)[0]
        other = first.setdefault(words.casefold(), name)
        if other != name:
            line, before = file.labels.get(name), file.labels.get(other)
            label = Label(
                place=file.places[other] if before is None else file.place(before.singular.span),
                note="printed-alike",
                arguments=(("other", other),),
            )
            place = file.places[name] if line is None else file.place(line.singular.span)
            ctx.report("same-words", place, labels=(label,), name=name, other=other, words=words)


def words_for(file: FileNames, name: str) -> tuple[str, str]:
    """Singular and plural of a kind: its label, else its name."""
    line = file.labels.get(name)
    if line is None:
        return printed(name), plural(printed(name))
    singular = line.singular.value
    return singular, line.plural.value if line.plural is not None else plural(singular)


def _metal(ctx: Context, file: FileNames, name: Name | None) -> str | None:
    """The metal's canonical name; unknown and unclear ones are errors with the choices."""
    if name is None:
        return None
    metal = find_metal(name.text, ctx.metals)
    if metal is not None:
        return metal.name
    place = file.place(name.span)
    choices = UNCLEAR.get(name.text)
    if choices is not None:
        ctx.fail("unclear-metal", place, name=name.text, choices=", ".join(choices))
    else:
        ctx.unknown("unknown-metal", place, name.text, ctx.metals)
    return None


def _ring_kind(ctx: Context, file: FileNames, line: RingLine) -> RingKind | None:
    metal = _metal(ctx, file, line.metal)
    if line.inner is None or line.wire is None or metal is None:
        return None
    place = file.place(line.name.span)
    inner, wire = line.inner.mm, line.wire.mm
    if inner < wire:
        ctx.fail(
            "ring-too-tight", file.place(line.span), name=line.name.text, inner=in_mm(inner), wire=in_mm(wire)
        )
        return None
    singular, plural = words_for(file, line.name.text)
    return RingKind(
        name=line.name.text,
        inner_mm=inner,
        wire_mm=wire,
        metal=metal,
        bundle=Bundle.SINGLE if line.bundle is Bundle.AS_KIND else line.bundle,
        singular=singular,
        plural=plural,
        gauge=_gauge(line.wire),
        place=place,
    )


def _gauge(wire: Length) -> str | None:
    return f"{wire.unit.value} {wire.value}" if wire.unit.is_gauge else None


def _finding_kind(ctx: Context, file: FileNames, line: FindingLine) -> FindingKind | None:
    place = file.place(line.name.span)
    metal = _metal(ctx, file, line.metal)
    if line.metal is not None and metal is None:
        return None
    if line.type.text not in FINDING_TYPES:
        ctx.unknown("unknown-finding-type", file.place(line.type.span), line.type.text, FINDING_TYPES)
        return None
    eyes: list[EyeKind] = []
    for eye in line.eyes:
        name = "eye" if eye.name is None else eye.name.text
        if any(other.name == name for other in eyes):
            ctx.fail("eye-again", file.place(eye.span), "unnamed" if eye.name is None else "", name=name)
            return None
        eyes.append(EyeKind(name=name, inner_mm=eye.inner.mm, opens=eye.opens, free=eye.free))
    if not eyes:
        ctx.fail("no-eye", file.place(line.span), name=line.name.text)
        return None
    singular, plural = words_for(file, line.name.text)
    return FindingKind(
        name=line.name.text,
        type=line.type.text,
        eyes=tuple(eyes),
        wire_mm=_mm(line.wire),
        length_mm=_mm(line.length),
        metal=metal,
        singular=singular,
        plural=plural,
        place=place,
    )


def _mm(length: Length | None) -> Decimal | None:
    return None if length is None else length.mm


# ---------------------------------------------------------------- used files


def _map_kinds(ctx: Context, file: FileNames, other: FileNames, use: Use) -> None:
    """Gives the kinds of a used file their meaning in the pattern that uses it."""
    place = file.place(use.span)
    mapped: dict[str, str] = {}
    for theirs, ours in use.kinds:
        if theirs.text not in other.rings and theirs.text not in other.findings:
            known = [*other.rings, *other.findings]
            ctx.unknown(
                "unknown-their-kind", file.place(theirs.span), theirs.text, known, alias=use.alias.text
            )
            continue
        if ours.text not in file.kind_numbers and ours.text not in file.finding_numbers:
            if ours.text not in file.broken:
                known = [*file.kind_numbers, *file.finding_numbers]
                ctx.unknown("unknown-kind", file.place(ours.span), ours.text, known)
            continue
        mapped[theirs.text] = ours.text
    for name, line in other.rings.items():
        number = file.kind_numbers.get(mapped.get(name, name))
        if number is None:
            other.unmapped[name] = place
            if mapped.get(name, name) in file.broken:
                other.broken.add(name)
            continue
        other.kind_numbers[name] = number
        theirs_bundle = Bundle.SINGLE if line.bundle is Bundle.AS_KIND else line.bundle
        if ctx.ring_kinds[number].bundle is not theirs_bundle:
            label = Label(place=other.place(line.span), note="declared-here")
            our = ctx.ring_kinds[number]
            ctx.fail(
                "bundle-differs", our.place, labels=(label,), name=our.name, alias=use.alias.text, theirs=name
            )
    for name in other.findings:
        number = file.finding_numbers.get(mapped.get(name, name))
        if number is None:
            other.unmapped[name] = place
            continue
        other.finding_numbers[name] = number
