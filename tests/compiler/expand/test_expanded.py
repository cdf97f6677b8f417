"""Whole weaves against approved dumps in `cases/expand`: every column of a pattern in which everything is carried out.

ANNULET_REWRITE=1 writes the dumps anew; the difference is read like code.
"""

from __future__ import annotations

import os
import re
from array import array
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from casefile import CASES

from compiler.check.run import check
from compiler.expand.driver import expand
from compiler.report import as_text
from compiler.weave import Site, Verb, Weave
from grammar.parse import parse
from notation.source import Source

FOLDER = CASES / "expand"
PATTERNS = sorted(FOLDER.glob("*.annulet"))
ENUM = re.compile(r"<(\w+\.\w+): [^>]*>")
PLACE = re.compile(r"Place\(source='[^']*', span=Span\(start=(\d+), end=(\d+)\)\)")


def dump(weave: Weave, source: Source) -> Iterator[str]:
    """A field a line, or a line for each of several; places as line and column."""
    yield from (line for line in fields(weave, source) if not line.startswith(("metals", "pieces")))
    for piece in weave.pieces:
        yield f"\n{piece.name}"
        yield from (f"  {line}" for line in fields(piece, source))


def fields(of: Any, source: Source) -> Iterator[str]:
    for name in of.__struct_fields__:
        value = getattr(of, name)
        if name == "motions":
            yield from fields(value, source)
        elif name == "verb":
            yield f"verb {' '.join(Verb(each).name.lower() for each in value)}"
        elif isinstance(value, array):
            yield f"{name} {' '.join(map(str, value))}"
        elif isinstance(value, (tuple, dict)) and value:
            several = value if isinstance(value, tuple) else value.items()
            yield from (f"{name} {shown(each, source)}" for each in several)
        else:
            yield f"{name} {shown(value, source)}"


def shown(value: object, source: Source) -> str:
    def place(match: re.Match[str]) -> str:
        start, end = (source.position(int(offset)) for offset in match.groups())
        return f"<{start.line}:{start.column}-{end.column}>"

    if isinstance(value, Site):
        at, made = shown(value.place, source), type(value.statement).__name__
        return f"{value.kind.value} {value.name} {value.number} {value.parent} {at} {value.mirrored} {made}"
    return ENUM.sub(r"\1", PLACE.sub(place, repr(value)))


def dumped(path: Path) -> str:
    source = Source(name=path.name, text=path.read_text("utf-8"))
    pattern, in_parsing = parse(source)
    weave, in_expansion = expand(pattern, {})
    told = (*in_parsing, *in_expansion, *check(weave))
    return "\n".join((*dump(weave, source), "", as_text(told, {path.name: source})))


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_everything_is_carried_out_as_it_was_approved(path: Path) -> None:
    found, approved = dumped(path), path.with_suffix(".txt")
    if os.environ.get("ANNULET_REWRITE"):
        approved.write_text(found, "utf-8")
    assert found == approved.read_text("utf-8")


def test_every_dump_has_its_pattern() -> None:
    assert PATTERNS
    assert sorted(path.stem for path in FOLDER.glob("*.txt")) == [path.stem for path in PATTERNS]
