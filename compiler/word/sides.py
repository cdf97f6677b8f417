"""Which side is which: front and behind, left and right, over and under, as the maker sees them.

In: a piece and the sites of its weave; told in order, so that it is known whether the work is turned over. Out:
entries and places in the maker's view. A weave speaks of the front throughout; a maker speaks of what faces them.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.messages import Entry, Turning, TwinPlace
from compiler.weave import Companionship, EventKind, PieceWeave, PoseKind, Site, SiteKind
from notation.diagnostic import Place
from notation.handling import HandMotion
from notation.nodes import Direction, Hand, Relative

_HANG_ON_SIDES = frozenset({"plain", "crossed", "over"})
_OTHER_HAND = {Hand.LEFT: Hand.RIGHT, Hand.RIGHT: Hand.LEFT}


class Sides:
    """The sides of one piece."""

    def __init__(self, sites: tuple[Site, ...], piece: PieceWeave) -> None:
        self.sites = sites
        self.turned = False
        """The front of the work faces away from the maker."""
        self.direction: Turning | None = None
        """The direction of work seen from the front, once it has been stated."""
        self.piece = piece
        self._behind: frozenset[tuple[int, int]] = frozenset()
        if -1 in piece.link_sign:
            pairs = zip(piece.link_a, piece.link_b, piece.link_sign, strict=True)
            self._behind = frozenset((a, b) for a, b, sign in pairs if sign < 0)
        self.said = bool(self._behind) or any(
            event.handle is HandMotion.TURN_OVER
            or (event.kind is EventKind.CHECKPOINT and event.text in _HANG_ON_SIDES)
            for step in piece.steps
            for event in step.events
        )
        """Sides are said in the piece: not everything is entered from the front, the work is turned over, or
        something is to be looked for that comes of the sides."""
        self._mirrors = any(site.mirrored for site in sites)
        self._units: dict[int, int] = {}
        self._plain: dict[Place | None, int] | None = None
        """By unit: the site of its first plain use."""

    # ------------------------------------------------------------ front and behind

    def load_behind(self, actor: int, node: int) -> int:
        """1 where what an open ring carries is entered from behind."""
        return int((actor, node) in self._behind)

    def entry(self, side: int) -> Entry:
        """From which side, for 1 (behind) or 0."""
        if self.turned:
            return Entry.BEHIND_TURNED if side else Entry.FRONT_TURNED
        return Entry.BEHIND if side else Entry.FRONT

    def twin_place(self, way: Companionship | None) -> TwinPlace:
        """Where a twin lies."""
        if way is Companionship.NESTED:
            return TwinPlace.INSIDE
        if way is Companionship.FRONT_AND_BACK:
            return TwinPlace.BEFORE if self.turned else TwinPlace.BEHIND
        return TwinPlace.BESIDE

    # ------------------------------------------------------------ left and right

    def hand(self, kind: PoseKind) -> Hand:
        """To which side something leans as the maker sees it; LEAN_LEFT or LEAN_RIGHT is seen from the front."""
        right = (kind is PoseKind.LEAN_RIGHT) is not self.turned
        return Hand.RIGHT if right else Hand.LEFT

    def turning(self, kind: PoseKind) -> Turning:
        """A direction of work, seen from the front."""
        return Turning.CLOCKWISE if kind is PoseKind.CLOCKWISE else Turning.ANTICLOCKWISE

    def turning_seen(self) -> Turning | None:
        """The direction of work as the maker sees it now; None where none was stated."""
        if self.direction is None or not self.turned:
            return self.direction
        return Turning.ANTICLOCKWISE if self.direction is Turning.CLOCKWISE else Turning.CLOCKWISE

    def from_right(self, motion: int) -> bool:
        """Whether a row made by this motion runs from right to left as the maker sees it."""
        return self.mirrored(motion) is not self.turned

    def seen(self, relative: Relative, motion: int, *, disc: bool) -> Relative:
        """A relative as the maker sees it; of a disc, the left one is the first in the direction of work."""
        if relative.only is None:
            return relative
        round_centre = disc and relative.direction in (Direction.BELOW, Direction.ABOVE)
        flips = self.mirrored(motion) is not (self.turned and not round_centre)
        return replace_only(relative) if flips else relative

    # ------------------------------------------------------------ mirror images

    def mirrored(self, motion: int) -> bool:
        """Whether a motion is made in a mirrored use."""
        if not self._mirrors:
            return False
        unit = self.unit(self.piece.motions.site[motion])
        return unit >= 0 and self.sites[unit].mirrored

    def unit(self, site: int) -> int:
        """The site of the unit use around a site; -1 in the piece itself."""
        passed = []
        found = site
        while found >= 0 and self.sites[found].kind not in (SiteKind.UNIT, SiteKind.PIECE):
            if found in self._units:
                found = self._units[found]
                break
            passed.append(found)
            found = self.sites[found].parent
        if found >= 0 and self.sites[found].kind is SiteKind.PIECE:
            found = -1
        self._units.update(dict.fromkeys(passed, found))
        return found

    def mirror_images(self, motion: int) -> Iterable[tuple[int, str, str]]:
        """Uses around a motion that are mirror images of a plain use made before: site, its name, the other's."""
        if not self._mirrors:
            return
        unit = self.unit(self.piece.motions.site[motion])
        while unit >= 0:
            outer = self.unit(self.sites[unit].parent)
            turned = self.sites[unit].mirrored is not (outer >= 0 and self.sites[outer].mirrored)
            if turned and self.sites[unit].mirrored:
                like = self._plain_before(unit)
                if like:
                    yield unit, self.sites[unit].name, like
            unit = outer

    def _plain_before(self, unit: int) -> str:
        """The name of the first plain use of the unit that a mirrored use makes; empty where none came before it."""
        if self._plain is None:
            self._plain = {}
            for site in range(self.piece.site, len(self.sites)):
                if self.sites[site].kind is SiteKind.PIECE and site > self.piece.site:
                    break
                if self.sites[site].kind is SiteKind.UNIT and not self.sites[site].mirrored:
                    self._plain.setdefault(self._made(site), site)
        made = self._made(unit)
        first = self._plain.get(made, unit)
        return self.sites[first].name if made is not None and first < unit else ""

    def _made(self, unit: int) -> Place | None:
        """Which unit a use makes: uses of one unit begin with the same statement; None for a use that makes nothing."""
        first = unit + 1
        if first < len(self.sites) and self.sites[first].parent == unit:
            return self.sites[first].place
        return None


def replace_only(relative: Relative) -> Relative:
    """The same with left and right exchanged."""
    only = None if relative.only is None else _OTHER_HAND[relative.only]
    return Relative(count=relative.count, direction=relative.direction, only=only, span=relative.span)
