"""`python -m tests.mutants [PATTERN ...]`: slips of the pen in every pattern, and which of them `check` tells.

A mutant is the text of a pattern with one thing other than it should be: a count changed by one, a ring dropped from
a path, a twin dropped, two statements swapped, a wrong index, a statement or step missing. Each is printed, read,
expanded and checked. It is told where a rule speaks that did not before; else it is the same weave, or it passes:
then a person has to say whether it is a valid piece. A unit made in another size (its numbers where it is made, those
it has when nothing is said, and those of a `let`) is one wherever nothing else depends on the size, so these are
counted apart.
Expectations, the kit, sizes of rings and words are left as they are: they are what tells.
"""

from __future__ import annotations

import difflib
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from msgspec.structs import replace

from compiler.check.run import check
from compiler.expand.driver import expand
from compiler.loader import Loaded, load
from compiler.report import severity
from compiler.same.compare import compare
from compiler.weave import Weave
from grammar.format import format_pattern
from grammar.parse import parse
from notation import expectations, handling, margin
from notation.diagnostic import Diagnostic, Severity
from notation.margin import Pattern
from notation.nodes import BESIDE, Bundle, Named, Node, Number, Quantity, Relative, Select, Target, Which
from notation.source import Source
from notation.statements import Argument, Hang, Let, Pass, Reopen, Twin

LIBRARY = Path(__file__).parent.parent / "patterns"

_LEFT_ALONE = tuple(
    kind
    for module in (expectations, handling)
    for kind in vars(module).values()
    if isinstance(kind, type) and issubclass(kind, Node) and kind.__module__ == module.__name__
)
_MARGIN_ALONE = (margin.RingLine, margin.FindingLine, margin.HeadingLine, margin.KitLine, margin.Use)


class Slip(Enum):
    """What is wrong in a mutant."""

    COUNT = "a count changed"
    SIZE = "a unit in another size"
    DROPPED = "a ring dropped from a path"
    TWIN = "a twin dropped"
    SWAPPED = "two statements swapped"
    INDEX = "a wrong index"
    MISSING = "a statement missing"


class Fate(Enum):
    """What became of a mutant."""

    TOLD = "told"
    ADVISED = "advised"
    SAME = "the same weave"
    PASSED = "passed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutant:
    """A text with a slip in it."""

    pattern: str
    """The name of the file."""
    slip: Slip
    text: str
    before: str
    """The text without the slip, printed the same way."""
    fate: Fate
    rule: str = ""
    """Of the first rule that speaks, where one does."""

    def change(self) -> str:
        """The lines that differ, on one line."""
        lines = difflib.unified_diff(self.before.splitlines(), self.text.splitlines(), n=0, lineterm="")
        return "; ".join(
            " ".join(line.split()) for line in lines if not line.startswith(("---", "+++", "@@"))
        )


# ---------------------------------------------------------------- slips


def slips(node: Node, indexes: bool = False) -> Iterator[tuple[Slip, Node]]:
    """The node with one thing other than it is, in every way; `indexes` says that numbers in it count members."""
    if isinstance(node, (*_LEFT_ALONE, *_MARGIN_ALONE)):
        return
    yield from _own(node, indexes)
    for name in node.__struct_fields__:
        if name in BESIDE:
            continue
        value = getattr(node, name)
        sized = isinstance(node, Argument | margin.Parameter | Let)
        inside = indexes or (name == "index" and isinstance(node, Named | Target))
        if isinstance(value, Node):
            for slip, other in slips(value, inside):
                yield Slip.SIZE if sized and slip is Slip.COUNT else slip, replace(node, **{name: other})
        elif isinstance(value, tuple):
            for place, part in enumerate(value):
                if isinstance(part, Node):
                    for slip, other in slips(part, inside):
                        yield slip, replace(node, **{name: (*value[:place], other, *value[place + 1 :])})
            if name in ("body", "otherwise"):
                for slip, other_body in _bodies(value):
                    yield slip, replace(node, **{name: other_body})


def _own(node: Node, indexes: bool) -> Iterator[tuple[Slip, Node]]:
    match node:
        case Number():
            for value in (node.value - 1, node.value + 1):
                if value >= 0:
                    yield (Slip.INDEX if indexes else Slip.COUNT), replace(node, value=value)
        case Relative():
            for count in (node.count - 1, node.count + 1):
                if 1 <= count <= 6:
                    yield Slip.COUNT, replace(node, count=count)
        case Select(which=Which.FIRST):
            yield Slip.INDEX, replace(node, which=Which.LAST)
        case Select(which=Which.LAST):
            yield Slip.INDEX, replace(node, which=Which.FIRST)
        case Pass(quantity=Quantity(count=Number(value=2), bundle=Bundle.AS_KIND)):
            alone = replace(node.quantity, count=replace(node.quantity.count, value=1), bundle=Bundle.SINGLE)
            yield Slip.TWIN, replace(node, quantity=alone)
            yield from _shorter(node)
        case Pass() | Reopen() | Twin() | Hang():
            yield from _shorter(node)


def _shorter(node: Pass | Reopen | Twin | Hang) -> Iterator[tuple[Slip, Node]]:
    """The node with an item less in a path."""
    for name in ("through", "gathering", "items"):
        path = getattr(node, name, ())
        for place in range(len(path)):
            rest = (*path[:place], *path[place + 1 :])
            if rest or not isinstance(node, Hang):
                yield Slip.DROPPED, replace(node, **{name: rest})


def _bodies(body: tuple[Node, ...]) -> Iterator[tuple[Slip, tuple[Node, ...]]]:
    for place in range(len(body)):
        if len(body) > 1 and not isinstance(body[place], _LEFT_ALONE):
            yield Slip.MISSING, (*body[:place], *body[place + 1 :])
        if place:
            yield Slip.SWAPPED, (*body[: place - 1], body[place], body[place - 1], *body[place + 1 :])


# ---------------------------------------------------------------- what becomes of them


def _looked_at(loaded: Loaded, pattern: Pattern) -> tuple[Weave, tuple[Diagnostic, ...]]:
    weave, in_expansion = expand(pattern, loaded.library)
    return weave, (*in_expansion, *check(weave))


def mutants(path: Path) -> Iterator[Mutant]:
    """Every mutant of a pattern file."""
    loaded = load(str(path), LIBRARY)
    bare = replace(loaded.pattern, comments=())
    before = format_pattern(bare)
    weave, told = _looked_at(loaded, bare)
    usual = Counter(each.rule for each in told)
    seen = {before}
    for place, statement in enumerate(bare.statements):
        for slip, other in slips(statement):
            whole = replace(bare, statements=(*bare.statements[:place], other, *bare.statements[place + 1 :]))
            text = format_pattern(whole)
            if text not in seen:
                seen.add(text)
                yield _mutant(path, loaded, slip, before, text, weave, usual)


def _mutant(
    path: Path, loaded: Loaded, slip: Slip, before: str, text: str, weave: Weave, usual: Counter[str]
) -> Mutant:
    pattern, in_text = parse(Source(name=str(path), text=text))
    changed, in_weave = _looked_at(loaded, pattern)
    known = usual.copy()
    new: list[Diagnostic] = []
    for each in (*in_text, *in_weave):
        if known[each.rule]:
            known[each.rule] -= 1
        else:
            new.append(each)
    loud = [each for each in new if severity(each) is not Severity.ADVICE]
    fate, rule = Fate.PASSED, ""
    if loud:
        fate, rule = (
            Fate.TOLD,
            min(loud, key=lambda each: (severity(each) is not Severity.ERROR, each.rule)).rule,
        )
    elif new:
        fate, rule = Fate.ADVISED, new[0].rule
    elif compare(weave, changed) is None:
        fate = Fate.SAME
    return Mutant(pattern=path.stem, slip=slip, text=text, before=before, fate=fate, rule=rule)


# ---------------------------------------------------------------- the report


def report(found: list[Mutant]) -> Iterator[str]:
    """The share of each fate by slip, the share told by each rule, and every mutant that passes."""
    for slip in Slip:
        of_slip = Counter(each.fate for each in found if each.slip is slip)
        count = of_slip.total()
        if count:
            parts = ", ".join(f"{fate.value} {of_slip[fate]} ({of_slip[fate] / count:.0%})" for fate in Fate)
            yield f"{slip.value}: {count} mutants: {parts}"
    told = Counter(each.fate for each in found)
    parts = ", ".join(f"{fate.value} {told[fate]} ({told[fate] / len(found):.0%})" for fate in Fate)
    yield f"in all: {len(found)}: {parts}"
    yield ""
    rules = Counter(each.rule for each in found if each.rule)
    yield from (f"{count:5}  {count / len(found):5.1%}  {rule}" for rule, count in rules.most_common())
    yield ""
    yield from (
        f"passed: {each.pattern}: {each.slip.value}: {each.change()}"
        for each in found
        if each.fate is Fate.PASSED
    )


def main(names: list[str]) -> None:
    """Prints the report for the patterns named by their stems, else for all."""
    paths = [path for path in sorted(LIBRARY.rglob("*.annulet")) if not names or path.stem in names]
    found = [mutant for path in paths for mutant in mutants(path)]
    print("\n".join(report(found)))


if __name__ == "__main__":
    main(sys.argv[1:])
