"""The stages up to the checked weave, in order.

    file -> Pattern -> Weave
        load       expand  |-> check -> diagnostics

What comes after, from the weave to the page, is in `compiler.build`: it needs geometry and fonts, which `check`
and `format` must not wait for.
"""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from compiler.changes import NO_CHANGES, Changes
from compiler.check.run import check
from compiler.expand.driver import expand
from compiler.infile import InputError
from compiler.loader import Loaded, load
from compiler.report import tally
from compiler.timings import Timings
from compiler.weave import Weave
from notation.diagnostic import Diagnostic


class Checked(Struct, frozen=True, kw_only=True):
    """A pattern, expanded and checked."""

    loaded: Loaded
    weave: Weave | None
    """None when the pattern is not even text."""
    diagnostics: tuple[Diagnostic, ...]
    """Of all stages."""

    @property
    def has_errors(self) -> bool:
        """Whether something must be put right before anything can be printed."""
        return tally(self.diagnostics).errors > 0


def checked(name: str, root: Path | None, timings: Timings, changes: Changes = NO_CHANGES) -> Checked:
    """A pattern file (or `-`), changed, taken through every stage that needs no geometry. Raises InputError."""
    with timings.stage("load"):
        loaded = load(name, root)
    if not loaded.readable:
        return Checked(loaded=loaded, weave=None, diagnostics=loaded.diagnostics)
    pattern, library = loaded.pattern, loaded.library
    if changes:
        from compiler.overrides import changed  # not needed for a pattern as written

        pattern, library = changed(pattern, library, changes)
    with timings.stage("expand"):
        weave, in_expansion = expand(pattern, library)
    if weave.complete and tally(in_expansion).errors == 0:
        _refuse_idle(loaded, changes, weave)
    with timings.stage("check"):
        in_check = check(weave)
    return Checked(loaded=loaded, weave=weave, diagnostics=(*loaded.diagnostics, *in_expansion, *in_check))


def _refuse_idle(loaded: Loaded, changes: Changes, weave: Weave) -> None:
    """A setting without effect must not pass for an edition. Raises InputError."""
    if not changes.settings:
        return
    from compiler.overrides import changed

    for setting in changes.settings:
        with_it = changed(loaded.pattern, loaded.library, changes)
        without = changed(loaded.pattern, loaded.library, changes.without(setting))
        if with_it != without and _counted(expand(*without)[0]) == _counted(weave):
            raise InputError(
                f"--set {setting} changes nothing: every use of the unit gives a number of its own."
            )


def _counted(weave: Weave) -> list[tuple[object, ...]]:
    """What tells one weave from another here: rings, links and findings of each piece, and how often it is made."""
    return [
        (piece.times, piece.kind, piece.link_a, piece.link_b, len(piece.findings), len(piece.motions.verb))
        for piece in weave.pieces
    ]
