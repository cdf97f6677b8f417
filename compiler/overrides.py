"""Another edition of a pattern, asked for on the command line: other numbers in its units, other rings.

In: a parsed pattern with the files it uses, and the changes. Out: the same with those changes made, before it is
expanded, so that everything after is computed and checked anew. What cannot be changed raises InputError.

    heavy                       (as a variant) what the pattern says of its variant heavy
    arms=8                      the number that `let arms` at the left margin stands for
    length=185mm                how long the piece is to be that is made to a length (bracelet.length=185mm, of several)
    rhombus.across=4            the number that `across` of the unit rhombus stands for where no use gives one
    shared.rhombus.across=4     the same in a file that is used under the name shared
    large=6mm/1.2mm,brass       all large rings are 6 mm inside, of 1.2 mm wire, of brass
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from compiler.changes import LENGTH, Changes, LengthSetting, RingChange, Setting
from compiler.infile import InputError
from compiler.measures import MeasureError, read_length, shown
from compiler.variants import variants_of, varied, with_length
from notation.margin import (
    LengthChange,
    Parameter,
    Pattern,
    PieceBlock,
    RingLine,
    UnitBlock,
    Use,
    VariantBlock,
)
from notation.metals import METALS, UNCLEAR, Metal, find_metal
from notation.nodes import Name, Number
from notation.source import Span
from notation.statements import Let, MadeToLength

Library = Mapping[tuple[str, str], Pattern]
"""Files used, by the name of the file that uses them and the path as written there."""

_SETTING = re.compile(r"([^=.]+(?:\.[^=.]+){0,2})=([0-9]{1,9})")
_LENGTH = re.compile(r"(?:([^=.]+)\.)?length=(.*[^0-9].*)")
_RING = re.compile(r"([^=]+)=([^=/]+(?:/[0-9]+ *in)?)/([^=,]+)(?:,([^=,]+))?")


def read_changes(
    settings: Sequence[str],
    rings: Sequence[str],
    variant: str | None = None,
    metals: Mapping[str, Metal] = METALS,
) -> Changes:
    """The changes as typed. Raises InputError."""
    read = [_setting(text) for text in settings]
    changes = Changes(
        variant=variant or "",
        settings=tuple(each for each in read if isinstance(each, Setting)),
        lengths=tuple(each for each in read if isinstance(each, LengthSetting)),
        rings=tuple(_ring(text, metals) for text in rings),
    )
    _refuse_twice([each.name for each in read], "--set")
    _refuse_twice([each.kind for each in changes.rings], "--ring")
    return changes


def _refuse_twice(names: list[str], option: str) -> None:
    for name in names:
        if names.count(name) > 1:
            raise InputError(f"{option} changes {name} twice.")


def _setting(text: str) -> Setting | LengthSetting:
    length = _LENGTH.fullmatch("".join(text.split()))
    if length is not None:
        try:
            return LengthSetting(piece=length[1] or "", wanted=read_length(length[2]))
        except MeasureError as error:
            raise InputError(f"--set {shown(text)}: {error.message}.") from error
    match = _SETTING.fullmatch("".join(text.split()))
    if match is None:
        raise InputError(
            f"--set {shown(text)} is not understood: write NAME=NUMBER or UNIT.NAME=NUMBER, whole, as in "
            "arms=8 or rhombus.across=4, or length=LENGTH, as in length=185mm."
        )
    if match[1] == LENGTH:
        raise InputError(f"--set {shown(text)}: a length has a unit, as in length={match[2]}mm.")
    return Setting(path=tuple(match[1].split(".")), value=int(match[2]))


def _ring(text: str, metals: Mapping[str, Metal]) -> RingChange:
    match = _RING.fullmatch(text)
    if match is None:
        raise InputError(
            f"--ring {shown(text)} is not understood: write KIND=INNER/WIRE or KIND=INNER/WIRE,METAL, as in "
            "large=6mm/1.2mm,brass."
        )
    kind, inner, wire, metal = match.groups()
    try:
        return RingChange(
            kind=kind.strip(),
            inner=read_length(inner),
            wire=read_length(wire),
            metal=metal and _metal(metal.strip(), metals),
        )
    except MeasureError as error:
        raise InputError(f"--ring {shown(text)}: {error.message}.") from error


def _metal(name: str, metals: Mapping[str, Metal]) -> str:
    if find_metal(name, metals) is not None:
        return name
    if name in UNCLEAR:
        raise MeasureError(f"{name} could be several metals: {', '.join(UNCLEAR[name])}")
    raise MeasureError(f"{shown(name)} is not in the table of metals{_close(name, metals)}")


# ---------------------------------------------------------------- to a pattern


def changed(pattern: Pattern, library: Library, changes: Changes) -> tuple[Pattern, Library]:
    """The pattern and the files it uses with the changes made. Raises InputError for what is not in them."""
    files = dict(library)
    if changes.variant:
        pattern = varied(pattern, _variant(pattern, changes.variant))
    for setting in changes.settings:
        alias, rest = _divided(pattern, setting)
        if alias:
            key = (pattern.source.name, _used(pattern, alias[0], setting).path.value)
            if key not in files:
                raise InputError(f"--set {setting}: the file used as {alias[0]} could not be read.")
            files[key] = _set(files[key], rest, setting)
        else:
            pattern = _set(pattern, rest, setting)
    for length in changes.lengths:
        pattern = _to_length(pattern, length)
    for ring in changes.rings:
        pattern = _moved(pattern, ring)
    return pattern, files


def _variant(pattern: Pattern, name: str) -> VariantBlock:
    found = {each.name.text: each for each in variants_of(pattern)}
    if name not in found:
        there = _close(name, found) or "; it names no variant"
        raise InputError(f"There is no variant {shown(name)} in {pattern.source.name}{there}.")
    return found[name]


def _divided(pattern: Pattern, setting: Setting) -> tuple[list[str], tuple[str, ...]]:
    """The alias of a setting, if it has one, and the rest of its path."""
    uses = {each.alias.text for each in pattern.statements if isinstance(each, Use)}
    if len(setting.path) == 3 or (len(setting.path) == 2 and setting.path[0] in uses):
        return [setting.path[0]], setting.path[1:]
    return [], setting.path


def _used(pattern: Pattern, alias: str, setting: Setting) -> Use:
    uses = {each.alias.text: each for each in pattern.statements if isinstance(each, Use)}
    if alias not in uses:
        raise InputError(f"--set {setting}: no file is used as {shown(alias)}{_close(alias, uses)}.")
    return uses[alias]


def _set(pattern: Pattern, path: tuple[str, ...], setting: Setting) -> Pattern:
    if len(path) == 1:
        return _set_number(pattern, path[0], setting)
    name, parameter = path
    units = {each.name.text: each for each in pattern.statements if isinstance(each, UnitBlock)}
    if name not in units:
        found = f"there is no unit {shown(name)} in {pattern.source.name}"
        raise InputError(f"--set {setting}: {found}{_close(name, units)}{_elsewhere(pattern, setting)}.")
    unit = units[name]
    numbers = {each.name.text: each for each in unit.parameters if not each.is_port}
    if parameter not in numbers:
        raise InputError(
            f"--set {setting}: the unit {name} takes no number {shown(parameter)}{_close(parameter, numbers)}."
        )
    old = numbers[parameter]
    place = old.span if old.default is None else old.default.span
    new: Parameter = replace(old, default=Number(value=setting.value, span=place))
    parameters = tuple(new if each is old else each for each in unit.parameters)
    return _exchanged(pattern, unit, replace(unit, parameters=parameters))


def _set_number(pattern: Pattern, name: str, setting: Setting) -> Pattern:
    numbers = {each.name.text: each for each in pattern.statements if isinstance(each, Let)}
    if name not in numbers:
        found = f"no `let` at the left margin of {pattern.source.name} is called {shown(name)}"
        takes = _taking(pattern, name)
        hint = (
            f"; the unit {takes} takes it: {takes}.{name}={setting.value}" if takes else _close(name, numbers)
        )
        raise InputError(f"--set {setting}: {found}{hint}.")
    return with_number(pattern, name, setting.value)


def _taking(pattern: Pattern, name: str) -> str:
    """The first unit that takes a number of that name, empty where none does."""
    for unit in pattern.statements:
        if isinstance(unit, UnitBlock) and any(
            each.name.text == name and not each.is_port for each in unit.parameters
        ):
            return unit.name.text
    return ""


def with_number(pattern: Pattern, name: str, value: int) -> Pattern:
    """The pattern with another value for a number of its margin."""
    lines = tuple(
        replace(each, value=Number(value=value, span=each.value.span))
        if isinstance(each, Let) and each.name.text == name
        else each
        for each in pattern.statements
    )
    return replace(pattern, statements=lines)


def _to_length(pattern: Pattern, setting: LengthSetting) -> Pattern:
    pieces = [
        each.name.text
        for each in pattern.statements
        if isinstance(each, PieceBlock) and any(isinstance(part, MadeToLength) for part in each.body)
    ]
    if not pieces:
        raise InputError(
            f"--set {setting}: no piece of {pattern.source.name} is made to a length; a line such as "
            "`length 185 mm varying repeats` in it would say so."
        )
    if not setting.piece and len(pieces) > 1:
        raise InputError(
            f"--set {setting}: {', '.join(pieces)} are made to a length; write {pieces[0]}.{LENGTH}=..."
        )
    if setting.piece and setting.piece not in pieces:
        raise InputError(
            f"--set {setting}: no piece {shown(setting.piece)} is made to a length{_close(setting.piece, pieces)}."
        )
    nowhere = Span(0, 0)
    piece = Name(text=setting.piece or pieces[0], span=nowhere)
    return with_length(pattern, LengthChange(piece=piece, wanted=setting.wanted, span=nowhere))


def _elsewhere(pattern: Pattern, setting: Setting) -> str:
    """A hint that a unit of a used file is named by its alias first."""
    uses = [each.alias.text for each in pattern.statements if isinstance(each, Use)]
    if len(setting.path) != 2 or not uses:
        return ""
    return f"; a unit of a file that is used is written {uses[0]}.{setting.name}"


def _moved(pattern: Pattern, change: RingChange) -> Pattern:
    lines = {each.name.text: each for each in pattern.statements if isinstance(each, RingLine)}
    if change.kind not in lines:
        raise InputError(
            f"--ring {change}: there is no ring {shown(change.kind)}{_close(change.kind, lines)}."
        )
    line = lines[change.kind]
    metal = line.metal
    if change.metal is not None:
        metal = Name(text=change.metal, span=line.span if line.metal is None else line.metal.span)
    return _exchanged(pattern, line, replace(line, inner=change.inner, wire=change.wire, metal=metal))


def _exchanged(pattern: Pattern, old: UnitBlock | RingLine, new: UnitBlock | RingLine) -> Pattern:
    return replace(pattern, statements=tuple(new if each is old else each for each in pattern.statements))


def _close(name: str, known: Iterable[str]) -> str:
    """The nearest of the names that there are, or all of them where there are few."""
    # Only here: it takes longer to import than most patterns to check.
    from difflib import get_close_matches

    names = sorted(known)
    close = get_close_matches(name, names, n=1)
    if close:
        return f"; perhaps {close[0]} is meant"
    return f"; there is {', '.join(names)}" if 0 < len(names) <= 8 else ""
