"""Data: what makes an edition differ from the pattern as written. Read and made by `compiler.overrides`."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from notation.lengths import Length

LENGTH = "length"
"""What sets the length of a piece, alone or behind the name of the piece."""


class Setting(Struct, frozen=True, kw_only=True):
    """Another value for a number of the left margin, or another default for one that a unit takes."""

    path: tuple[str, ...]
    """The number, or unit and parameter; before them the alias of a used file where they are from one."""
    value: int

    def __str__(self) -> str:
        """As it is typed."""
        return f"{self.name} = {self.value}"

    @property
    def name(self) -> str:
        """What is set."""
        return ".".join(self.path)


class LengthSetting(Struct, frozen=True, kw_only=True):
    """Another length for a piece that is made to one."""

    piece: str
    """Empty: the only piece that is made to a length."""
    wanted: Length

    def __str__(self) -> str:
        """As it is typed."""
        return f"{self.name} = {self.wanted}"

    @property
    def name(self) -> str:
        """What is set."""
        return f"{self.piece}.{LENGTH}" if self.piece else LENGTH


class RingChange(Struct, frozen=True, kw_only=True):
    """Another size, and another metal if one is given, for a kind of ring."""

    kind: str
    inner: Length
    wire: Length
    metal: str | None

    def __str__(self) -> str:
        """As it is typed."""
        metal = "" if self.metal is None else f", {self.metal}"
        return f"{self.kind} = {self.inner}/{self.wire}{metal}"


class Changes(Struct, frozen=True, kw_only=True):
    """All that makes an edition differ from the pattern as written."""

    variant: str = ""
    """One that the pattern names; empty for none."""
    settings: tuple[Setting, ...] = ()
    lengths: tuple[LengthSetting, ...] = ()
    rings: tuple[RingChange, ...] = ()

    def __bool__(self) -> bool:
        """Whether there is any."""
        return bool(self.variant or self.settings or self.lengths or self.rings)

    def __str__(self) -> str:
        """What the booklet says of its edition."""
        variant = [f"variant {self.variant}"] if self.variant else []
        return " · ".join((*variant, *(str(each) for each in (*self.settings, *self.lengths, *self.rings))))

    def without(self, setting: Setting) -> Changes:
        """The other changes."""
        return replace(self, settings=tuple(each for each in self.settings if each != setting))

    @property
    def only_variant(self) -> bool:
        """Whether a name in the pattern says all that is changed."""
        return bool(self.variant) and not (self.settings or self.lengths or self.rings)


NO_CHANGES = Changes()


class ToLength(Struct, frozen=True, kw_only=True):
    """How a piece that is made to a length comes to it."""

    piece: str
    wanted: Length
    varying: str
    """The number that varies."""
    repeats: int
    """What it comes to."""
    length_mm: float
    """How long the piece then is, lying flat: measured, or by the pitch from what was measured."""
    pitch_mm: float
    """What a repeat adds."""

    def __str__(self) -> str:
        """What the booklet says of it."""
        return f"{self.piece} made to {self.wanted} ({self.varying} = {self.repeats})"

    @property
    def in_full(self) -> str:
        """What is said on a terminal."""
        return f"{self}: {self.length_mm:.1f} mm long; one repeat more would add {self.pitch_mm:.1f} mm"


def edition_of(changes: Changes, lengths: Sequence[ToLength]) -> str:
    """What is other than in the text, with what was worked out for lengths."""
    return " · ".join(filter(None, (str(changes), *(str(each) for each in lengths))))
