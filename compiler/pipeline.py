"""The stages up to the checked weave, in order.

    file -> Pattern -> Weave
        load       expand  |-> check -> diagnostics

What comes after, from the weave to the page, is in `compiler.build`: it needs geometry and fonts, which `check`
and `format` must not wait for.
"""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from compiler.check.run import check
from compiler.expand.driver import expand
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


def checked(name: str, root: Path | None, timings: Timings) -> Checked:
    """A pattern file (or `-`) taken through every stage that needs no geometry. Raises InputError."""
    with timings.stage("load"):
        loaded = load(name, root)
    if not loaded.readable:
        return Checked(loaded=loaded, weave=None, diagnostics=loaded.diagnostics)
    with timings.stage("expand"):
        weave, in_expansion = expand(loaded.pattern, loaded.library)
    with timings.stage("check"):
        in_check = check(weave)
    return Checked(loaded=loaded, weave=weave, diagnostics=(*loaded.diagnostics, *in_expansion, *in_check))
