"""Metals and other wire materials: density, cautions, other names, each with its source.

In: `metals_table.py`, written from `metals.yaml` by `python -m notation.metals`, so that checking a pattern
neither reads nor parses YAML. Out: `METALS` and `UNCLEAR`. Part of the vocabulary every stage speaks.

A `computed` density is that of an ideal mixture, 1 / sum(w / rho) over the mass fractions w and the element
densities rho: right within 1 % for silver, gold and copper among each other, 2 to 3 % low for brass, nickel
silver and stainless steel, whose densities are therefore never computed.
"""

import sys
import textwrap
from collections.abc import Iterable, Mapping
from decimal import Decimal
from enum import Enum
from pathlib import Path
from types import MappingProxyType

from msgspec import Struct

from notation.metals_table import ROWS, UNCLEAR_ROWS

LIGHTEST = Decimal("0.5")
HEAVIEST = Decimal(25)
"""Bounds of a density in g/cm3: rubber foam, and above osmium, the densest metal (22.6, from memory)."""


# Of the table's text: lines end before column 110.
_LONGEST_IN_A_LINE = 99
_WRAPPED_WIDTH = 90


class Basis(Enum):
    """Where a density comes from."""

    TABULATED = "tabulated"
    """Read in the source named."""
    COMPUTED = "computed"
    """Computed from the recipe in the source by the mixture rule."""
    MEMORY = "memory"
    """Not looked up: the source says which part."""


class Caution(Enum):
    """What a maker or wearer should know of a material; the booklet words it."""

    RELEASES_NICKEL = "releases-nickel"
    """Holds much nickel. REACH (EC) 1907/2006 Annex XVII entry 27 limits the release from jewellery."""
    MAY_RELEASE_NICKEL = "may-release-nickel"
    """Some grades or recipes release nickel: ask the seller (the same entry 27)."""
    MAY_HOLD_LEAD = "may-hold-lead"
    """Free-cutting brass holds lead; REACH Annex XVII entry 63 limits it to 0.05 % of any jewellery part."""
    STAINS_SKIN = "stains-skin"
    """Copper and its alloys can leave a green mark (common practice)."""
    TARNISHES = "tarnishes"
    """Darkens in air: polish, or close rings with clean hands (common practice)."""
    COATING_WEARS = "coating-wears"
    """A thin outer layer: pad the jaws, do not file or tumble hard (common practice)."""
    HARD_TO_CUT = "hard-to-cut"
    """Springs and blunts soft cutters: hard-wire cutters and eye protection (common practice)."""
    PERISHES = "perishes"
    """Rubber ages in light and oil and tears at last: no load, and look it over (common practice)."""


class Metal(Struct, frozen=True, kw_only=True):
    """One material for wire."""

    name: str
    """The name in the notation: `sterling-silver`."""
    title: str
    """The name in print, in English."""
    density: Decimal
    """g/cm3 at room temperature."""
    tolerance: Decimal
    """Part of the density, above and below, that other recipes and books differ by."""
    basis: Basis
    """Where the density comes from."""
    source: str
    """Publication, or recipe and its publication, in our own words."""
    cautions: tuple[Caution, ...]
    """In the order of printing."""
    aliases: tuple[str, ...]
    """Other names for it in the notation."""


METALS: Mapping[str, Metal] = MappingProxyType(
    {
        name: Metal(
            name=name,
            title=title,
            density=Decimal(density),
            tolerance=Decimal(tolerance),
            basis=Basis(basis),
            source=source,
            cautions=tuple(Caution(caution) for caution in cautions),
            aliases=aliases,
        )
        for name, title, density, tolerance, basis, source, cautions, aliases in ROWS
    }
)
"""The materials by name, in the order of the file."""

UNCLEAR: Mapping[str, tuple[str, ...]] = MappingProxyType(dict(UNCLEAR_ROWS))
"""Words that could mean several materials, with the names to choose from: `silver`."""


def find_metal(name: str, metals: Mapping[str, Metal] = METALS) -> Metal | None:
    """The material of that name or alias, or None. A name goes before an alias."""
    if name in metals:
        return metals[name]
    return next((metal for metal in metals.values() if name in metal.aliases), None)


def table_text(yaml_text: str) -> str:
    """The text of `metals_table.py` for the text of `metals.yaml`, trusted to be as documented there."""
    # Here alone is YAML needed, and only while developing: importing it above would slow every check.
    import yaml

    # The base loader leaves every scalar as written, so that 2.70 stays 2.70.
    content = yaml.load(yaml_text, Loader=yaml.BaseLoader)
    lines = [
        '"""Rows of `metals.yaml`, written by `python -m notation.metals`: edit that file, not this one."""',
        "",
        "Row = tuple[str, str, str, str, str, str, tuple[str, ...], tuple[str, ...]]",
        "",
        "# Name, title, density (g/cm3), tolerance, basis, source, cautions, aliases.",
        "ROWS: tuple[Row, ...] = (",
    ]
    for name, metal in content["metals"].items():
        fields = (name, *(metal[key] for key in ("title", "density", "tolerance", "basis")))
        lines += ["    (", *(f"        {_quoted(field)}," for field in fields)]
        lines += _wrapped(metal["source"])
        lines += [f"        {_tuple_text(metal[key])}," for key in ("cautions", "aliases")]
        lines.append("    ),")
    lines += [")", "", "# A word, and the names it could mean."]
    lines.append("UNCLEAR_ROWS: tuple[tuple[str, tuple[str, ...]], ...] = (")
    lines += [f"    ({_quoted(word)}, {_tuple_text(names)})," for word, names in content["unclear"].items()]
    return "\n".join([*lines, ")", ""])


def _wrapped(text: str) -> list[str]:
    """A string as one tuple element of `ROWS`, over several lines if it is long, as the formatter has it."""
    pieces = [text]
    if len(text) > _LONGEST_IN_A_LINE:
        pieces = textwrap.wrap(text, _WRAPPED_WIDTH, break_long_words=False, break_on_hyphens=False)
    literals = [f"        {_quoted(piece + ' ')}" for piece in pieces[:-1]]
    return [*literals, f"        {_quoted(pieces[-1])},"]


def _quoted(text: str) -> str:
    """The text as a Python literal in double quotes."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _tuple_text(words: Iterable[str]) -> str:
    quoted = [_quoted(word) for word in words]
    return f"({quoted[0]},)" if len(quoted) == 1 else f"({', '.join(quoted)})"


def main() -> int:
    """Writes the table from the YAML file beside this module; the exit code is 0."""
    here = Path(__file__)
    text = table_text(here.with_name("metals.yaml").read_text(encoding="utf-8"))
    here.with_name("metals_table.py").write_text(text, encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
