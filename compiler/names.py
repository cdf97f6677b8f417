"""What the maker calls things: from nodes of a piece to typed noun phrases.

In: a `Weave`, one of its pieces, lists of nodes. Out: `KindName`, `Members`, `FindingPart` of `compiler.steps`.
Within a piece, no two groups get the same noun, owner and numbers: groups that would are numbered on.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence

from compiler.graph import Addresses, strand_members
from compiler.messages import FindingPart, GroupName, KindCount, KindName, Members, Range, Thing
from compiler.weave import PieceWeave, Weave
from notation.nodes import Relative
from notation.statements import FamilyKind


def ring_kind_names(weave: Weave) -> tuple[KindName, ...]:
    """By ring kind."""
    return tuple(
        KindName(key=kind.name, singular=kind.singular, plural=kind.plural, finding=False)
        for kind in weave.ring_kinds
    )


def finding_kind_names(weave: Weave) -> tuple[KindName, ...]:
    """By finding kind."""
    return tuple(
        KindName(key=kind.name, singular=kind.singular, plural=kind.plural, finding=True)
        for kind in weave.finding_kinds
    )


def counted(kinds: Sequence[KindName], counts: Sequence[int]) -> tuple[KindCount, ...]:
    """The kinds of which there are any, in the order of the pattern."""
    return tuple(
        KindCount(kind=kind, count=count) for kind, count in zip(kinds, counts, strict=True) if count
    )


def nameless(group: GroupName) -> bool:
    """Whether rings are called nothing but what their kind is called."""
    return group.strand == 1 and not group.rows and group.singular == group.kind.singular


class Names:
    """The nouns of one piece."""

    __slots__ = (
        "_addresses",
        "_groups",
        "_labels",
        "_lonely",
        "_place_shift",
        "_row_shift",
        "_weave",
        "findings",
        "piece",
        "rings",
        "strands",
    )

    def __init__(self, weave: Weave, piece: PieceWeave) -> None:
        self._weave = weave
        self.piece = piece
        self.rings = ring_kind_names(weave)
        self.findings = finding_kind_names(weave)
        self.strands = strand_members(piece)
        self._addresses = Addresses(piece)
        members = array("i", bytes(4 * len(piece.groups)))
        highest = array("i", members)
        for node, lead in enumerate(piece.strand):
            group = piece.group[node]
            if node == lead and group >= 0:
                members[group] += 1
                highest[group] = max(highest[group], piece.member[node])
        self._row_shift, self._place_shift, self._lonely = self._tell_apart(members, highest)
        self._labels = self._finding_labels()
        self._groups: dict[tuple[int, int, int], GroupName] = {}

    def _tell_apart(
        self, members: array[int], highest: array[int]
    ) -> tuple[array[int], array[int], list[bool]]:
        """Shifts of row and place numbers by group, and whether a group's only member needs no number."""
        row_shift = array("i", bytes(4 * len(members)))
        place_shift = array("i", bytes(4 * len(members)))
        taken: dict[tuple[str, str], tuple[int, int]] = {}
        sharing: dict[tuple[str, str], int] = {}
        for number, group in enumerate(self.piece.groups):
            name = (group.singular, group.owner)
            rows, places = taken.get(name, (0, 0))
            row_shift[number], place_shift[number] = rows, places
            rows += self._addresses.rows(number)
            taken[name] = (rows, places + highest[number])
            sharing[name] = sharing.get(name, 0) + 1
        lonely = [
            members[number] == 1 and sharing[(group.singular, group.owner)] == 1
            for number, group in enumerate(self.piece.groups)
        ]
        return row_shift, place_shift, lonely

    def _finding_labels(self) -> list[tuple[str, int]]:
        """Label and number of each finding; a number only where several have one label."""
        uses = self.piece.findings
        total: dict[str, int] = {}
        for use in uses:
            total[use.label] = total.get(use.label, 0) + 1
        seen: dict[str, int] = {}
        found = []
        for use in uses:
            seen[use.label] = seen.get(use.label, 0) + 1
            label, _, number = use.label.rpartition(" ")
            if total[use.label] > 1:
                found.append((use.label, seen[use.label]))
            elif label and number.isascii() and number.isdigit():
                found.append((label, int(number)))
            else:
                found.append((use.label, 0))
        return found

    # ------------------------------------------------------------ rings

    def kind_of(self, node: int) -> KindName:
        """The kind of a ring, or of the finding that an eye belongs to."""
        kind = self.piece.kind[node]
        return self.rings[kind] if kind >= 0 else self.findings[-1 - kind]

    def group_name(self, node: int) -> GroupName:
        """The noun of a ring's strand."""
        piece = self.piece
        number, kind, size = piece.group[node], piece.kind[node], self.strands.size(piece.strand[node])
        known = self._groups.get((number, kind, size))
        if known is not None:
            return known
        group = piece.groups[number]
        rows = self._addresses.rows(number) > 0
        name = GroupName(
            singular=group.singular,
            plural=group.plural,
            owner=group.owner,
            kind=self.rings[kind],
            strand=size,
            rows=rows,
            tube=group.shape is not None and group.shape.kind is FamilyKind.TUBE,
            alone=self._lonely[number],
            disc=group.shape is not None and group.shape.kind is FamilyKind.DISC,
        )
        self._groups[(number, kind, size)] = name
        return name

    def nameless(self, node: int) -> bool:
        """Whether the designer gave a ring no name."""
        return nameless(self.group_name(node))

    def spot(self, node: int) -> tuple[int, int]:
        """Row (0 where there are none) and place of a ring's strand, as the maker counts them."""
        address = self._addresses.of(node)
        if address.row:
            return address.row + self._row_shift[address.group], address.place
        return 0, address.place + self._place_shift[address.group]

    def in_row(self, node: int) -> tuple[int, int, int, int] | None:
        """Group, row as the weave counts it, row as the maker does, and the row's width; None without rows."""
        address = self._addresses.of(node)
        if not address.row:
            return None
        shift = self._row_shift[address.group]
        width = self._addresses.width(address.group, address.row)
        return address.group, address.row, address.row + shift, width

    def row_members(self, node: int, back: int = 0) -> Members:
        """All members of the row that a ring lies in, or of the row `back` rows before."""
        address = self._addresses.of(node)
        row = address.row - back
        width = self._addresses.width(address.group, row)
        number = row + self._row_shift[address.group]
        return Members(group=self.group_name(node), ranges=(Range(row=number, first=1, last=width),))

    def one(self, node: int) -> Members:
        """The strand of a ring as one member."""
        row, place = self.spot(node)
        return Members(group=self.group_name(node), ranges=(Range(row=row, first=place, last=place),))

    def family(self, node: int) -> Members:
        """The row of a ring where its group has rows, else its whole group."""
        if self.in_row(node) is not None:
            return self.row_members(node)
        address = self._addresses.of(node)
        shape = self.piece.groups[address.group].shape
        last = self._place_shift[address.group] + (shape.widths[0] if shape is not None else 1)
        first = self._place_shift[address.group] + 1
        return Members(group=self.group_name(node), ranges=(Range(row=0, first=first, last=last),))

    def companion(self, node: int) -> Members:
        """Just this ring of its strand; the member itself where it is alone in it."""
        whole = self.one(node)
        if whole.group.strand == 1:
            return whole
        return Members(group=whole.group, ranges=whole.ranges, companion=self.piece.companion[node])

    # ------------------------------------------------------------ eyes

    def eye(self, node: int) -> FindingPart:
        """A finding by one of its eyes; the eye is named where there are several."""
        piece = self.piece
        use = piece.findings[piece.member[node]]
        kind = self._weave.finding_kinds[use.kind]
        label, number = self._labels[piece.member[node]]
        return FindingPart(
            kind=self.findings[use.kind],
            label=label,
            number=number,
            eye=kind.eyes[piece.companion[node]].name if len(kind.eyes) > 1 else "",
        )

    def _carrier(self, lead: int) -> tuple[int, ...]:
        """The strand on which a connector has waited: what carried it, or the one strand it was passed through."""
        piece, motions = self.piece, self.piece.motions
        born = piece.born[lead]
        actor = motions.actor[born]
        if actor != lead:
            return (piece.strand[actor],) if piece.group[actor] >= 0 else ()
        path = motions.path_node[motions.path_start[born] : motions.path_start[born + 1]]
        met = dict.fromkeys(piece.strand[node] for node in path)
        return tuple(met) if len(met) == 1 and piece.group[path[0]] >= 0 else ()

    # ------------------------------------------------------------ lists

    def things(
        self, nodes: Iterable[int], relation: Relative | None = None, waiting: bool = False
    ) -> tuple[Thing, ...]:
        """Nodes as noun phrases: rings of one strand together, members next to one another as a range."""
        piece = self.piece
        strands: dict[int, list[int]] = {}
        for node in nodes:
            strands.setdefault(piece.strand[node], []).append(node)
        found: list[Thing] = []
        waits: list[int] = []
        for lead, rings in strands.items():
            if piece.group[lead] < 0:
                found.append(self.eye(lead))
            elif len(rings) == self.strands.size(lead):
                _append(found, self.one(lead))
            else:
                for ring in rings:
                    _append(found, self.companion(ring))
            if waiting and piece.group[lead] >= 0:
                waits.extend(self._carrier(lead))
        if len(found) != 1 or not isinstance(found[0], Members):
            return tuple(found)
        only = found[0]
        waits_on: tuple[Members, ...] = ()
        if len(waits) == only.count:
            carriers: list[Thing] = []
            for carrier in waits:
                _append(carriers, self.one(carrier))
            waits_on = tuple(each for each in carriers if isinstance(each, Members))
        shown = relation if relation is not None and only.count in _meant(relation) else None
        return (
            Members(
                group=only.group,
                ranges=only.ranges,
                companion=only.companion,
                relation=shown,
                waits_on=waits_on,
            ),
        )


def _meant(relation: Relative) -> tuple[int]:
    """How many members a relative means when all of them are there."""
    return (1,) if relation.only is not None else (relation.count,)


def _append(found: list[Thing], more: Members) -> None:
    """Adds members to a list of things, growing the last one where they go on from it."""
    last = found[-1] if found else None
    if not isinstance(last, Members) or last.group != more.group or last.companion != more.companion:
        found.append(more)
        return
    end, start = last.ranges[-1], more.ranges[0]
    if end.row == start.row and end.last + 1 == start.first:
        ranges = (*last.ranges[:-1], Range(row=end.row, first=end.first, last=start.last))
    else:
        ranges = (*last.ranges, start)
    found[-1] = Members(group=last.group, ranges=ranges, companion=last.companion)


def join_things(parts: Iterable[Thing]) -> tuple[Thing, ...]:
    """Things in order, neighbours of one group that wait or not alike told together."""
    found: list[Thing] = []
    for part in parts:
        last = found[-1] if found else None
        if (
            isinstance(last, Members)
            and isinstance(part, Members)
            and last.group == part.group
            and last.companion == part.companion
            and last.relation is None
            and part.relation is None
            and bool(last.waits_on) == bool(part.waits_on)
        ):
            found[-1] = Members(
                group=last.group,
                ranges=_join_ranges(last.ranges, part.ranges),
                companion=last.companion,
                waits_on=_join_waits(last.waits_on, part.waits_on),
            )
        else:
            found.append(part)
    return tuple(found)


def _join_ranges(first: tuple[Range, ...], second: tuple[Range, ...]) -> tuple[Range, ...]:
    end, start = first[-1], second[0]
    if end.row == start.row and end.last + 1 == start.first:
        return (*first[:-1], Range(row=end.row, first=end.first, last=start.last), *second[1:])
    return first + second


def _join_waits(first: tuple[Members, ...], second: tuple[Members, ...]) -> tuple[Members, ...]:
    if not first or not second:
        return first + second
    end, start = first[-1], second[0]
    if end.group != start.group:
        return first + second
    both = Members(group=end.group, ranges=_join_ranges(end.ranges, start.ranges))
    return (*first[:-1], both, *second[1:])
