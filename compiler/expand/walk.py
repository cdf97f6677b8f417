"""Walks over statements and their parts, however deep they lie, without recursion.

A chain of a thousand `else if` is a thousand statements deep: a recursive walk would run out of stack.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from operator import attrgetter
from typing import Any

from notation.handling import Helper
from notation.nodes import BESIDE, Node, Target
from notation.statements import (
    Broken,
    Family,
    For,
    ForEach,
    Hang,
    If,
    Let,
    Make,
    Pass,
    Port,
    Reopen,
    Repeat,
    Statement,
    Step,
    Take,
)


def statements_in(body: Iterable[Statement]) -> Iterator[Statement]:
    """Every statement of a body, at any depth of blocks, in the order of the text."""
    waiting = [iter(body)]
    while waiting:
        for node in waiting[-1]:
            yield node
            if isinstance(node, If):
                waiting.append(iter((*node.body, *node.otherwise)))
                break
            if isinstance(node, Step | For | ForEach | Repeat | Family | Broken):
                waiting.append(iter(node.body))
                break
        else:
            waiting.pop()


def parts_in(nodes: Iterable[Node]) -> Iterator[Node]:
    """Every node of the notation in these nodes, themselves included; in no particular order."""
    waiting: list[Any] = list(nodes)
    while waiting:
        node = waiting.pop()
        if isinstance(node, Node):
            yield node
            waiting.extend(_said_by(type(node))(node))
        elif isinstance(node, tuple):
            waiting.extend(node)


@cache
def _said_by(kind: type[Node]) -> Callable[[Node], tuple[Any, ...]]:
    """Gives the fields of a node of this class that say something."""
    first, *names = [name for name in kind.__struct_fields__ if name not in BESIDE]
    if names:
        return attrgetter(first, *names)
    return lambda node: (getattr(node, first),)


def targets_of(node: Pass | Take | Make | Hang | Reopen) -> list[Target]:
    """Every `as ...` and `added to ...` of a statement."""
    targets = [] if isinstance(node, Reopen) else [node.target]
    if isinstance(node, Pass | Reopen):
        targets.extend(carry.target for carry in node.carrying)
    if isinstance(node, Pass) and node.join is not None:
        targets.append(node.join.target)
    return [target for target in targets if target is not None]


def names_made(body: Iterable[Statement]) -> frozenset[str]:
    """Every name that some statement of a body makes, at any depth of loops and families."""
    return frozenset(_names(body))


def _names(body: Iterable[Statement]) -> Iterator[str]:
    for node in statements_in(body):
        match node:
            case Pass() | Take() | Make() | Hang() | Reopen():
                yield from (target.name.text for target in targets_of(node))
            case Family() | Let() | Port():
                yield node.name.text
            case Helper():
                yield node.target.name.text
            case Broken():
                yield from (name.text for name in node.names)
            case _:
                pass
