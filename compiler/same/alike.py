"""Rings that can change places without changing the weave, taken together as one.

In: a structure. Out: an equivalent smaller one, in which the colour of a node says how many it stands for. Twelve rings
that hang on one hub, or the two of a pair, would else be tried in every order by a match.
"""

from __future__ import annotations

from compiler.same.structure import COMPANION, Structure

_Key = tuple[object, ...]


def together(one: Structure) -> Structure:
    """The structure with every two nodes taken together that have the same neighbours, alike in all respects.

    Signs count up to turning a ring round. Nodes that are linked with each other are not taken together.
    """
    colours = list(one.colours)
    links = [dict(near) for near in one.links]
    others = [dict(near) for near in one.others]
    alive = list(range(len(colours)))
    while True:
        groups: dict[_Key, list[int]] = {}
        for node in alive:
            groups.setdefault(_key(one, colours, links, others, node), []).append(node)
        if len(groups) == len(alive):
            return _numbered(one, colours, links, others, alive)
        for nodes in groups.values():
            first, *rest = nodes
            if not rest:
                continue
            bound = " as one strand" if rest[0] in others[first] else ""
            colours[first] = f"{len(nodes)}{bound} of ({colours[first]})"
            for node in rest:
                for near in (links, others):
                    for other in near[node]:
                        near[other].pop(node, None)
        alive = [nodes[0] for nodes in groups.values()]


def _key(
    one: Structure,
    colours: list[str],
    links: list[dict[int, int]],
    others: list[dict[int, tuple[str, ...]]],
    node: int,
) -> _Key:
    """Equal for two nodes exactly when they can change places."""
    linked = sorted(links[node].items())
    turned = linked[0][1] if linked else 1
    strand = tuple(sorted(other for other, names in others[node].items() if names == COMPANION))
    related = tuple(sorted((other, names) for other, names in others[node].items() if names != COMPANION))
    return (
        colours[node],
        one.poses[node],
        tuple((other, sign * turned) for other, sign in linked),
        related,
        tuple(sorted((node, *strand))) if strand else (),
    )


def _numbered(
    one: Structure,
    colours: list[str],
    links: list[dict[int, int]],
    others: list[dict[int, tuple[str, ...]]],
    alive: list[int],
) -> Structure:
    number = {node: index for index, node in enumerate(alive)}
    return Structure(
        colours=tuple(colours[node] for node in alive),
        poses=tuple(one.poses[node] for node in alive),
        links=tuple({number[other]: sign for other, sign in links[node].items()} for node in alive),
        others=tuple({number[other]: names for other, names in others[node].items()} for node in alive),
    )
