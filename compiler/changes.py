"""Data: what makes an edition differ from the pattern as written. Read and made by `compiler.overrides`."""

from __future__ import annotations

from msgspec import Struct

from notation.lengths import Length


class Setting(Struct, frozen=True, kw_only=True):
    """Another default for a number that a unit takes."""

    path: tuple[str, ...]
    """Unit and parameter, before them the alias of a used file where the unit is from one."""
    value: int

    def __str__(self) -> str:
        """As it is typed."""
        return f"{self.name} = {self.value}"

    @property
    def name(self) -> str:
        """What is set."""
        return ".".join(self.path)


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

    settings: tuple[Setting, ...] = ()
    rings: tuple[RingChange, ...] = ()

    def __bool__(self) -> bool:
        """Whether there is any."""
        return bool(self.settings or self.rings)

    def __str__(self) -> str:
        """What the booklet says of its edition."""
        return " · ".join(str(each) for each in (*self.settings, *self.rings))

    def without(self, setting: Setting) -> Changes:
        """The other changes."""
        return Changes(settings=tuple(each for each in self.settings if each != setting), rings=self.rings)


NO_CHANGES = Changes()
