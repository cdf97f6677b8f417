"""The place of every node, against the approved ones in `cases/spans`: its class, where it begins and where it ends.

ANNULET_REWRITE=1 writes the places anew; the difference is read like code.
"""

from __future__ import annotations

import os
from collections.abc import Iterator

from casefile import CASES
from msgspec import Struct, structs

from grammar.parse import parse
from notation.nodes import Node
from notation.source import Source, Span

TEXT = CASES / "format" / "every-construct.annulet"
APPROVED = CASES / "spans" / "every-construct.txt"


def parts(node: object) -> Iterator[Node]:
    """A node and all that is in it, in order of its fields."""
    if isinstance(node, Node):
        yield node
    if isinstance(node, Struct):
        for part in structs.astuple(node):
            yield from parts(part)
    elif isinstance(node, tuple):
        for part in node:
            yield from parts(part)


def spans_of(node: Node) -> list[Span]:
    fields = [getattr(node, name) for name in node.__struct_fields__]
    return [field for field in fields if isinstance(field, Span)]


def test_every_node_stands_where_it_was_approved() -> None:
    source = Source(name=TEXT.name, text=TEXT.read_text("utf-8"))
    lines = []
    for statement in parse(source)[0].statements:
        for node in parts(statement):
            places = [source.position(offset) for span in spans_of(node) for offset in span]
            where = " ".join(f"{place.line}:{place.column}" for place in places)
            lines.append(f"{type(node).__name__} {where}\n")
    found = "".join(lines)
    if os.environ.get("ANNULET_REWRITE"):
        APPROVED.write_text(found, "utf-8")
    assert found == APPROVED.read_text("utf-8")


def test_a_node_lies_within_the_one_that_it_is_part_of() -> None:
    pattern, _ = parse(Source(name=TEXT.name, text=TEXT.read_text("utf-8")))
    count = 0
    for statement in pattern.statements:
        whole = statement.span
        for node in parts(statement):
            for span in spans_of(node):
                count += 1
                assert whole.start <= span.start <= span.end, node
    assert count > 700
