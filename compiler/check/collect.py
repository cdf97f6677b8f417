"""Gathers what the checks find: each place of the text is told once, however often a repeat expands it.

In: a rule, the site where it was broken, its arguments. Out: diagnostics with the trace that leads there
(which use, which round, which place) and, where a repeat broke the rule again, how many more times.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from compiler.graph import Addresses
from compiler.weave import PieceWeave, SiteKind, Weave
from notation.diagnostic import Diagnostic, Frame, Label, Place, Value
from notation.limits import MOST_FRAMES_SHOWN

Arguments = tuple[tuple[str, Value], ...]

# The note for a level of the expansion, where it has a name and where it has none (`repeat`, an unnamed use).
_NOTES = {
    SiteKind.UNIT: ("use-named", "use-unnamed"),
    SiteKind.ROUND: ("round-named", "round-unnamed"),
    SiteKind.PLACE: ("place-named", "place-named"),
}


def trace(weave: Weave, site: int) -> tuple[Frame, ...]:
    """The uses, rounds and places around a site, innermost first and no more than a report shows."""
    frames: list[Frame] = []
    while site >= 0 and len(frames) < MOST_FRAMES_SHOWN:
        at = weave.sites[site]
        if at.kind in _NOTES:
            named, unnamed = _NOTES[at.kind]
            arguments: Arguments = (("name", at.name), ("number", at.number))
            frames.append(Frame(place=at.place, note=named if at.name else unnamed, arguments=arguments))
        site = at.parent
    return tuple(frames)


class _Told(Struct):
    diagnostic: Diagnostic
    again: int = 0


class Collector:
    """Diagnostics in the making, first of each place kept, the others counted."""

    def __init__(self, weave: Weave) -> None:
        """For the diagnostics of one weave."""
        self._weave = weave
        self._told: dict[tuple[str, str, Place, str], _Told] = {}

    def again(self, rule: str, variant: str, place: Place, about: str = "") -> bool:
        """Whether this place was told already; if so it is counted, and no words need be made for it."""
        told = self._told.get((rule, variant, place, about))
        if told is None:
            return False
        told.again += 1
        return True

    def tell(
        self,
        rule: str,
        place: Place,
        *,
        variant: str = "",
        arguments: Arguments = (),
        labels: tuple[Label, ...] = (),
        site: int = -1,
        about: str = "",
    ) -> None:
        """Keep a diagnostic; `site` gives it a trace. A place told already, about the same, is counted."""
        if self.again(rule, variant, place, about):
            return
        self._told[rule, variant, place, about] = _Told(
            Diagnostic(
                rule=rule,
                place=place,
                variant=variant,
                arguments=arguments,
                labels=labels,
                trace=trace(self._weave, site),
            )
        )

    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """All that was told, in order of telling."""
        return tuple(_with_count(told) for told in self._told.values())


def _with_count(told: _Told) -> Diagnostic:
    if not told.again:
        return told.diagnostic
    note = "once-more" if told.again == 1 else "more-places"
    more = Frame(place=told.diagnostic.place, note=note, arguments=(("count", told.again),))
    return replace(told.diagnostic, trace=(*told.diagnostic.trace, more))


class Names:
    """What nodes of a piece are called, in the designer's names: `spoke 3`, `point[2, 1]`, `heart`."""

    def __init__(self, weave: Weave, piece: PieceWeave) -> None:
        """For the nodes of one piece."""
        self._weave = weave
        self._piece = piece
        self._addresses = Addresses(piece)
        self._lonely: list[bool] | None = None

    def strand(self, node: int) -> str:
        """The strand of a node: `spoke 3`, `spoke 3 of lozenge 2`; a group of one member has no number."""
        piece = self._piece
        if piece.kind[node] < 0:
            return self._eye(node)
        group = piece.groups[piece.group[node]]
        address = self._addresses.of(node)
        if address.row:
            number = f"[{address.row}, {address.place}]"
        else:
            number = "" if self._is_lonely(piece.group[node]) else f" {piece.member[node]}"
        owner = f" of {group.owner}" if group.owner else ""
        return f"{group.name}{number}{owner}"

    def finding(self, node: int) -> str:
        """The finding that an eye belongs to."""
        return self._piece.findings[self._piece.member[node]].label

    def site(self, node: int) -> int:
        """The site of the statement that brought a node in."""
        return self._piece.motions.site[self._piece.born[node]]

    def _eye(self, node: int) -> str:
        kind = self._weave.finding_kinds[-1 - self._piece.kind[node]]
        if len(kind.eyes) == 1:
            return self.finding(node)
        return f"{kind.eyes[self._piece.companion[node]].name} of {self.finding(node)}"

    def _is_lonely(self, group: int) -> bool:
        if self._lonely is None:
            lonely = [True] * len(self._piece.groups)
            for index, member in zip(self._piece.group, self._piece.member, strict=True):
                if index >= 0 and member > 1:
                    lonely[index] = False
            self._lonely = lonely
        return self._lonely[group]
