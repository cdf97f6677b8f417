"""A file of metals of one's own: reads it and lays it over the metals that are built in.

In: YAML in the shape of `notation/metals.yaml`, of which only title, density and source must be given. Out:
the metals by name, and problems with their places. Read once, before a pattern is checked.

    metals:
      red-brass:
        title: red brass
        density: 8.75
        source: scales and a measuring glass, Lyra class
"""

import re
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from compiler.yamlread import YamlNode, YamlProblem, YamlTaker, read_yaml
from notation.metals import HEAVIEST, LIGHTEST, METALS, Basis, Caution, Metal
from notation.source import Source

DEFAULT_TOLERANCE = Decimal("0.02")
"""Tolerance of a density for which none is given: what recipes of one alloy commonly differ by."""
LARGEST_TOLERANCE = Decimal("0.5")

# As a pattern writes a name, in lower case: a hyphen only before a letter, so that `k-1` is no name.
_NAME = re.compile(r"[a-z][a-z0-9_]*(?:-[a-z][a-z0-9_]*)*")


def load_metals(
    source: Source, base: Mapping[str, Metal] = METALS
) -> tuple[Mapping[str, Metal], tuple[YamlProblem, ...]]:
    """`base` with the metals of the file added, or put in the place of those of the same name.

    A metal with a problem is left out, and the others are there: check the problems before using the result.
    """
    root, problems = read_yaml(source)
    if problems:
        return base, problems
    taker = YamlTaker(source)
    parts = taker.mapping(root, ("metals",)) or {}
    own = take_metals(taker, parts.get("metals"), base)
    return MappingProxyType({**base, **own}), taker.problems


def take_metals(taker: YamlTaker, node: YamlNode | None, base: Mapping[str, Metal]) -> dict[str, Metal]:
    """The metals of a mapping by name, in its order; problems go to the taker.

    `base` are the metals they are laid over: an alias must not be a name or an alias there.
    """
    entries = taker.entries(node) or ()
    replaced = {entry.key.text for entry in entries}
    meanings = {name: name for name in [*base, *(entry.key.text for entry in entries)]}
    for metal in base.values():
        if metal.name not in replaced:
            meanings.update(dict.fromkeys(metal.aliases, metal.name))
    metals: dict[str, Metal] = {}
    for entry in entries:
        _check_name(taker, entry.key, entry.key.text)
        own = _take_metal(taker, entry.key.text, entry.value, meanings)
        if own is not None:
            metals[own.name] = own
    return metals


def _take_metal(taker: YamlTaker, name: str, node: YamlNode, meanings: dict[str, str]) -> Metal | None:
    before = taker.problem_count
    optional = ("tolerance", "basis", "cautions", "aliases")
    fields = taker.mapping(node, ("title", "density", "source"), optional) or {}
    title = taker.text(fields.get("title"))
    source = taker.text(fields.get("source"))
    density = _take_within(taker, fields.get("density"), LIGHTEST, HEAVIEST, " g/cm3 (1000 kg/m3 is 1)")
    tolerance = _take_within(taker, fields.get("tolerance"), Decimal(0), LARGEST_TOLERANCE, " (0.02 is 2 %)")
    basis = taker.choice(fields.get("basis"), (basis.value for basis in Basis))
    cautions = _take_cautions(taker, fields.get("cautions"))
    aliases = _take_aliases(taker, name, fields.get("aliases"), meanings)
    if taker.problem_count > before or title is None or source is None or density is None:
        return None
    return Metal(
        name=name,
        title=title,
        density=density,
        tolerance=DEFAULT_TOLERANCE if tolerance is None else tolerance,
        basis=Basis.TABULATED if basis is None else Basis(basis),
        source=source,
        cautions=cautions,
        aliases=aliases,
    )


def _take_within(
    taker: YamlTaker, node: YamlNode | None, low: Decimal, high: Decimal, unit: str
) -> Decimal | None:
    value = taker.decimal(node)
    if node is not None and value is not None and not low <= value <= high:
        taker.problem(node, f"`{value:f}` is not from {low:f} to {high:f}{unit}")
        return None
    return value


def _take_cautions(taker: YamlTaker, node: YamlNode | None) -> tuple[Caution, ...]:
    words = [
        taker.choice(item, (caution.value for caution in Caution)) for item in taker.sequence(node) or ()
    ]
    return tuple(Caution(word) for word in dict.fromkeys(words) if word is not None)


def _take_aliases(
    taker: YamlTaker, name: str, node: YamlNode | None, meanings: dict[str, str]
) -> tuple[str, ...]:
    aliases: list[str] = []
    for item in taker.sequence(node) or ():
        alias = taker.text(item)
        if alias is None:
            continue
        _check_name(taker, item, alias)
        if alias in meanings:
            taker.problem(item, f"`{alias}` already means `{meanings[alias]}`")
            continue
        meanings[alias] = name
        aliases.append(alias)
    return tuple(aliases)


def _check_name(taker: YamlTaker, node: YamlNode, name: str) -> None:
    if not _NAME.fullmatch(name):
        rule = "lower-case letters, digits and underscores, a letter first; a hyphen only before a letter"
        taker.problem(node, f"`{name}` is no name for a pattern: {rule}")
