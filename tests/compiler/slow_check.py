"""A second checker, slow and plain, for tests: the motions carried out one by one, on dictionaries and networkx.

Shares no code with `compiler.check` and none of its ways: it reads neither the columns of links nor the strands'
neighbours, but lets a maker go through the motions and looks at what has come of them. What it finds is a set of
(rule, place) for each rule that it knows, and what each kind lacks in the kit.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field

import networkx

from compiler.weave import PieceWeave, RelationKind, Verb, Weave
from notation.diagnostic import Diagnostic, Place

HELD_BY = (RelationKind.AROUND, RelationKind.INSIDE, RelationKind.BETWEEN)


@dataclass
class Made:
    """A piece as it is on the bench once all its motions are carried out."""

    links: dict[frozenset[int], int] = field(default_factory=dict)
    """The motion that made each."""
    slips: list[str] = field(default_factory=list)
    """What cannot be done in this order."""


@dataclass
class Judged:
    """What the slow checker says of a weave."""

    loose: set[Place] = field(default_factory=set)
    """Statements that brought in a part that hangs on nothing."""
    lone: set[Place] = field(default_factory=set)
    """Statements of the rings of which one lacks a link that its companion has."""
    too_few_parts: set[str] = field(default_factory=set)
    short: dict[str, int] = field(default_factory=dict)
    """How many of a kind the kit lacks."""
    unused: set[str] = field(default_factory=set)
    """Kinds in the kit that nothing takes."""
    slips: list[str] = field(default_factory=list)


def made(piece: PieceWeave) -> Made:
    """Carries out the motions in order."""
    found = Made()
    motions = piece.motions
    there: set[int] = set()
    brought = defaultdict(list)
    for node, motion in enumerate(piece.born):
        brought[motion].append(node)
    for motion, verb in enumerate(motions.verb):
        actor = motions.actor[motion]
        path = motions.path_node[motions.path_start[motion] : motions.path_start[motion + 1]]
        load = motions.load_node[motions.load_start[motion] : motions.load_start[motion + 1]]
        if verb == Verb.REOPEN and actor not in there:
            found.slips.append(f"motion {motion} opens {actor}, which is not there")
        found.slips += [
            f"motion {motion} goes through {node}, not there" for node in path if node not in there
        ]
        found.slips += [f"motion {motion} carries {node}, there already" for node in load if node in there]
        there.update(brought[motion])
        if actor not in there:
            found.slips.append(f"motion {motion} is made by {actor}, which is not there")
        for node in [*path, *load]:
            found.links.setdefault(frozenset((actor, node)), motion)
    if len(there) != len(piece):
        found.slips.append("some rings never come in")
    return found


def judged(weave: Weave) -> Judged:
    """All pieces of a weave that are whole, and the kit."""
    found = Judged()
    for piece in weave.pieces:
        if not piece.broken:
            _piece(weave, piece, found)
    if weave.kit and not any(piece.broken for piece in weave.pieces):
        _kit(weave, found)
    return found


def _piece(weave: Weave, piece: PieceWeave, found: Judged) -> None:
    work = made(piece)
    found.slips += work.slips
    columns = {frozenset(pair) for pair in zip(piece.link_a, piece.link_b, strict=True)}
    if set(work.links) != columns:
        found.slips.append("the links are not those of the motions")

    def place(motion: int) -> Place:
        return weave.sites[piece.motions.site[motion]].place

    near: dict[int, set[int]] = {node: set() for node in range(len(piece))}
    for pair in work.links:
        a, b = sorted(pair)
        near[a].add(b)
        near[b].add(a)
    gaps = [*_gaps(piece, near)]
    for lacking, having, missed in gaps:
        motion = work.links[frozenset((having, missed))]
        found.lone.add(place(max(motion, piece.born[lacking])))

    whole = networkx.Graph()
    whole.add_nodes_from(near)
    whole.add_edges_from(tuple(pair) for pair in work.links)
    for relation in piece.relations:
        if relation.kind in HELD_BY:
            whole.add_edges_from((relation.node, other) for other in relation.others)
    for use in piece.findings:
        whole.add_edges_from((use.eyes[0], eye) for eye in use.eyes)

    def size(part: set[int]) -> int:
        """Rings and findings; an eye is no thing of its own."""
        eyes = {eye for use in piece.findings for eye in use.eyes[1:]}
        return len(part - eyes)

    parts = sorted(networkx.connected_components(whole), key=lambda part: (-size(part), min(part)))
    if len(parts) and len(parts) < piece.parts:
        found.too_few_parts.add(piece.name)
    for part in parts[piece.parts :]:
        found.loose.add(place(piece.born[min(part)]))


def _gaps(piece: PieceWeave, near: dict[int, set[int]]) -> list[tuple[int, int, int]]:
    """For each companion and each strand near another of them: who lacks what another has, (lacking, having, ring).

    One that is nested in a ring of another pass is asked for the strands that that one meets, and the other way round.
    """
    companions: dict[int, list[int]] = defaultdict(list)
    for node, kind in enumerate(piece.kind):
        if kind >= 0:
            companions[piece.strand[node]].append(node)
    found = []
    for together in companions.values():
        into = {node: Counter(piece.strand[other] for other in near[node]) for node in together}
        for lacking in together:
            for having in together:
                for strand, count in into[having].items():
                    if into[lacking][strand] < count:
                        found += [
                            (lacking, having, ring)
                            for ring in near[having] - near[lacking]
                            if piece.strand[ring] == strand
                        ]
    for nested, around in piece.followers.items():
        for lacking, having in ((nested, around), (around, nested)):
            met = {piece.strand[ring] for ring in near[lacking]}
            found += [(lacking, having, ring) for ring in near[having] if piece.strand[ring] not in met]
    return found


def _kit(weave: Weave, found: Judged) -> None:
    need: Counter[str] = Counter()
    for piece in weave.pieces:
        for kind in piece.kind:
            if kind >= 0:
                need[weave.ring_kinds[kind].name] += piece.times
        for use in piece.findings:
            need[weave.finding_kinds[use.kind].name] += piece.times
    has: Counter[str] = Counter()
    for entry in weave.kit or ():
        has[entry.kind] += entry.count
    found.short = {kind: need[kind] - has[kind] for kind in need if need[kind] > has[kind]}
    found.unused = {kind for kind in has if not need[kind]} if weave.complete else set()


def disagreements(weave: Weave, told: tuple[Diagnostic, ...]) -> list[str]:
    """In what the diagnostics of `compiler.check` differ from what is found here; empty where in nothing."""
    slow = judged(weave)
    by_rule: dict[str, list[Diagnostic]] = defaultdict(list)
    for each in told:
        by_rule[each.rule].append(each)
    found = list(slow.slips)

    def places(rule: str) -> set[Place]:
        return {each.place for each in by_rule[rule]}

    if not places("loose-part") <= slow.loose:
        found.append("told as loose, and it is not")
    # A companion that alone hangs on nothing is told as the one that misses links.
    if not slow.loose <= places("loose-part") | slow.lone:
        found.append("loose, and not told")
    if not places("lone-twin") <= slow.lone or bool(slow.lone) != bool(places("lone-twin")):
        found.append("companions that differ are told otherwise")
    if slow.too_few_parts != {dict(each.arguments)["piece"] for each in by_rule["too-few-parts"]}:
        found.append("the number of parts is told otherwise")
    short = {
        dict(each.arguments)["kind"]: dict(each.arguments)["short"]
        for rule in ("over-budget", "not-in-kit")
        for each in by_rule[rule]
    }
    if short != slow.short:
        found.append(f"the kit lacks {slow.short}, told is {short}")
    if {dict(each.arguments)["kind"] for each in by_rule["unused-in-kit"]} != slow.unused:
        found.append("what nothing takes of the kit is told otherwise")
    return found
