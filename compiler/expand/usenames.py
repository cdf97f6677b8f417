"""What the uses of units in a piece are called in print, once all of them are known.

In: the sites of a piece. Out: the same with names that say no more than they must: `knot`, or `knot 1` and `knot 2`
where a piece has several, and the use around it (`lozenge 2 of the left wing`) only where that is not enough.
Linear in the sites.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from compiler.weave import Site, SiteKind


def named_uses(sites: Sequence[Site], first: int) -> dict[int, Site]:
    """By number: the sites of units from site `first` on, that of a piece, with the names that are printed."""
    around: dict[int, int] = {first: -1}
    """The nearest use around a site; -1 where there is none."""
    own: dict[int, str] = {}
    for number in range(first + 1, len(sites)):
        site = sites[number]
        inside = sites[site.parent].kind is SiteKind.UNIT
        around[number] = site.parent if inside else around[site.parent]
        if site.kind is SiteKind.UNIT:
            outer = around[number]
            whole = sites[outer].name if outer >= 0 else ""
            own[number] = site.name.removesuffix(f" of {whole}") if whole else site.name
    count: dict[str, int] = {}
    for name in own.values():
        count[name] = count.get(name, 0) + 1
    clashes = {noun for noun, number in map(_numbered, count) if 0 < number <= count.get(noun, 0)}
    seen: dict[str, int] = {}
    found: dict[int, Site] = {}
    for number, name in own.items():
        if count[name] > 1:
            seen[name] = seen.get(name, 0) + 1
            unclear = name in clashes or _numbered(name)[1] > 0
            name = sites[number].name if unclear else f"{name} {seen[name]}"
        found[number] = replace(sites[number], name=name)
    return found


def _numbered(name: str) -> tuple[str, int]:
    """Noun and number of `lozenge 2`; 0 where it has none."""
    noun, _, number = name.rpartition(" ")
    return noun, int(number) if number.isascii() and number.isdigit() else 0
