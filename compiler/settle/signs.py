"""Which sign each link is to have, from the signs of loops that are facts of the weave.

In: the declared loops, and the signs that the links of a start happen to have. Out: a sign for each link such
that every loop has its product, as near to the start's signs as elimination finds; or none, if the loops
contradict.
"""

from collections.abc import Callable, Sequence

from compiler.layout import CycleSign

Link = tuple[int, int]  # two ring indices, ascending


def chosen_signs(
    cycles: Sequence[CycleSign],
    present: dict[Link, int],
    stands_for: Callable[[Link], Link] = lambda link: link,
) -> dict[Link, int] | None:
    """Signs +1 or -1 of the links that lie on loops; `present` has the start's sign of every link, 0 if unlinked.

    Each loop is an equation over the two-element field: the links whose sign is turned round, summed along
    the loop, must mend its product. Links that the start lacks are turned before links that it has, and late
    ones before early ones, so that what is right is kept. Links that `stands_for` gives the same link have one
    sign, that of the link given.
    """
    rows: list[tuple[int, int]] = []
    links = sorted(
        {stands_for(link) for cycle in cycles for link in loop_links(cycle)},
        key=lambda link: (present.get(link, 0) != 0, link),
    )
    bit = {link: 1 << number for number, link in enumerate(links)}  # low bits are eliminated first
    assumed = {link: present.get(link, 0) or 1 for link in links}
    for cycle in cycles:
        mask, product = 0, 1
        for link in map(stands_for, loop_links(cycle)):
            mask ^= bit[link]
            product *= assumed[link]
        rows.append((mask, int(product != cycle.product)))
    pivots: dict[int, tuple[int, int]] = {}
    for mask, odd in rows:
        while mask:
            lowest = mask & -mask
            if lowest not in pivots:
                pivots[lowest] = (mask, odd)
                break
            mask, odd = mask ^ pivots[lowest][0], odd ^ pivots[lowest][1]
        if not mask and odd:
            return None
    turned = 0
    for lowest in sorted(pivots, reverse=True):
        mask, odd = pivots[lowest]
        if (bin(turned & mask).count("1") + odd) % 2:
            turned |= lowest
    return {link: -assumed[link] if turned & bit[link] else assumed[link] for link in links}


def loop_links(cycle: CycleSign) -> list[Link]:
    """The links of a loop, in its order."""
    following = (*cycle.rings[1:], cycle.rings[0])
    return [(min(a, b), max(a, b)) for a, b in zip(cycle.rings, following, strict=True)]
