"""Another edition of a pattern, asked for on the command line: other numbers in its units, other rings.

In: a parsed pattern with the files it uses, and the changes. Out: the same with those changes made, before it is
expanded, so that everything after is computed and checked anew. What cannot be changed raises InputError.

    rhombus.across=4            the number that `across` of the unit rhombus stands for where no use gives one
    shared.rhombus.across=4     the same in a file that is used under the name shared
    large=6mm/1.2mm,brass       all large rings are 6 mm inside, of 1.2 mm wire, of brass
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from compiler.changes import Changes, RingChange, Setting
from compiler.infile import InputError
from compiler.measures import MeasureError, read_length, shown
from notation.margin import Parameter, Pattern, RingLine, UnitBlock, Use
from notation.metals import METALS, UNCLEAR, find_metal
from notation.nodes import Name, Number

Library = Mapping[tuple[str, str], Pattern]
"""Files used, by the name of the file that uses them and the path as written there."""

_SETTING = re.compile(r"([^=.]+(?:\.[^=.]+){1,2})=([0-9]{1,9})")
_RING = re.compile(r"([^=]+)=([^=/]+(?:/[0-9]+ *in)?)/([^=,]+)(?:,([^=,]+))?")


def read_changes(settings: Sequence[str], rings: Sequence[str]) -> Changes:
    """The changes as typed. Raises InputError."""
    changes = Changes(
        settings=tuple(_setting(text) for text in settings), rings=tuple(_ring(text) for text in rings)
    )
    _refuse_twice([each.name for each in changes.settings], "--set")
    _refuse_twice([each.kind for each in changes.rings], "--ring")
    return changes


def _refuse_twice(names: list[str], option: str) -> None:
    for name in names:
        if names.count(name) > 1:
            raise InputError(f"{option} changes {name} twice.")


def _setting(text: str) -> Setting:
    match = _SETTING.fullmatch("".join(text.split()))
    if match is None:
        raise InputError(
            f"--set {shown(text)} is not understood: write UNIT.NAME=NUMBER, as in rhombus.across=4, whole."
        )
    return Setting(path=tuple(match[1].split(".")), value=int(match[2]))


def _ring(text: str) -> RingChange:
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
            metal=metal and _metal(metal.strip()),
        )
    except MeasureError as error:
        raise InputError(f"--ring {shown(text)}: {error.message}.") from error


def _metal(name: str) -> str:
    if find_metal(name) is not None:
        return name
    if name in UNCLEAR:
        raise MeasureError(f"{name} could be several metals: {', '.join(UNCLEAR[name])}")
    raise MeasureError(f"{shown(name)} is not in the table of metals{_close(name, METALS)}")


# ---------------------------------------------------------------- to a pattern


def changed(pattern: Pattern, library: Library, changes: Changes) -> tuple[Pattern, Library]:
    """The pattern and the files it uses with the changes made. Raises InputError for what is not in them."""
    files = dict(library)
    for setting in changes.settings:
        *alias, unit, parameter = setting.path
        if alias:
            key = (pattern.source.name, _used(pattern, alias[0], setting).path.value)
            if key not in files:
                raise InputError(f"--set {setting}: the file used as {alias[0]} could not be read.")
            files[key] = _set(files[key], unit, parameter, setting)
        else:
            pattern = _set(pattern, unit, parameter, setting)
    for ring in changes.rings:
        pattern = _moved(pattern, ring)
    return pattern, files


def default_of(pattern: Pattern, library: Library, setting: Setting) -> int | None:
    """The number that a setting would change, where one is written. Raises InputError for what is not there."""
    *alias, unit, parameter = setting.path
    changed(pattern, library, Changes(settings=(setting,)))  # refuses what is not there
    home = library[pattern.source.name, _used(pattern, alias[0], setting).path.value] if alias else pattern
    for block in home.statements:
        if isinstance(block, UnitBlock) and block.name.text == unit:
            for each in block.parameters:
                if each.name.text == parameter and isinstance(each.default, Number):
                    return each.default.value
    return None


def _used(pattern: Pattern, alias: str, setting: Setting) -> Use:
    uses = {each.alias.text: each for each in pattern.statements if isinstance(each, Use)}
    if alias not in uses:
        raise InputError(f"--set {setting}: no file is used as {shown(alias)}{_close(alias, uses)}.")
    return uses[alias]


def _set(pattern: Pattern, name: str, parameter: str, setting: Setting) -> Pattern:
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
