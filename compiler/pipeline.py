"""The stages up to the checked weave, in order.

    file -> Pattern -> Weave
        load       expand  |-> check -> diagnostics

What comes after, from the weave to the page, is in `compiler.build`: it needs geometry and fonts, which `check`
and `format` must not wait for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from compiler.changes import NO_CHANGES, Changes, ToLength
from compiler.check.run import check
from compiler.expand.driver import expand
from compiler.infile import InputError
from compiler.layout import kept_beside
from compiler.loader import Loaded, load
from compiler.report import tally
from compiler.timings import Timings
from compiler.weave import Weave
from notation.diagnostic import Diagnostic, Frame
from notation.margin import Pattern, PieceBlock, VariantBlock
from notation.metals import METALS, Metal
from notation.statements import MadeToLength

Measure = Callable[[Weave, int], float]
"""Length in mm of a piece by index, by a search (`compiler.settling.searched_length`)."""


class Checked(Struct, frozen=True, kw_only=True):
    """A pattern, expanded and checked."""

    loaded: Loaded
    weave: Weave | None
    """None when the pattern is not even text."""
    diagnostics: tuple[Diagnostic, ...]
    """Of all stages."""
    lengths: tuple[ToLength, ...] = ()
    """What was worked out for each piece that is made to a length."""

    @property
    def has_errors(self) -> bool:
        """Whether something must be put right before anything can be printed."""
        return tally(self.diagnostics).errors > 0


def checked(
    name: str,
    root: Path | None,
    timings: Timings,
    changes: Changes = NO_CHANGES,
    search: Measure | None = None,
    metals: Mapping[str, Metal] = METALS,
) -> Checked:
    """A pattern file (or `-`), changed, taken through every stage that needs no geometry. Raises InputError.

    Where a piece is made to a length, the repeats are worked out from a layout that is kept beside the pattern, else
    by `search`; without it they are those that the text has, and that is told. `metals` are those that can be named.
    """
    with timings.stage("load"):
        loaded = load(name, root)
    if not loaded.readable:
        return Checked(loaded=loaded, weave=None, diagnostics=loaded.diagnostics)
    result = _edition(loaded, name, timings, changes, search, metals)
    return replace(
        result, diagnostics=(*loaded.diagnostics, *_as_written(loaded.pattern), *result.diagnostics)
    )


def every_variant(
    result: Checked,
    name: str,
    timings: Timings,
    search: Measure | None = None,
    metals: Mapping[str, Metal] = METALS,
) -> tuple[Diagnostic, ...]:
    """What is wrong in each variant of a pattern that was checked as written, and was not told of that."""
    found: list[Diagnostic] = []
    known = {_said(each) for each in result.diagnostics}
    for variant in result.loaded.pattern.statements if result.weave is not None else ():
        if not isinstance(variant, VariantBlock):
            continue
        place = result.loaded.pattern.place(variant.name.span)
        frame = Frame(place=place, note="in-variant", arguments=(("name", variant.name.text),))
        of_it = _edition(result.loaded, name, timings, Changes(variant=variant.name.text), search, metals)
        new = [each for each in of_it.diagnostics if _said(each) not in known]
        known.update(_said(each) for each in new)
        found.extend(replace(each, trace=(*each.trace, frame)) for each in new)
    return tuple(found)


def _said(diagnostic: Diagnostic) -> tuple[object, ...]:
    """What a reader would take for the same: the rule, the place and the words."""
    return diagnostic.rule, diagnostic.variant, diagnostic.place, diagnostic.arguments


def _as_written(pattern: Pattern) -> tuple[Diagnostic, ...]:
    """What is wrong with the variants and lengths of the text, whichever is asked for."""
    told: tuple[Diagnostic, ...] = ()
    if any(isinstance(each, VariantBlock) for each in pattern.statements):
        from compiler.variants import problems as of_variants  # seldom wanted

        told += of_variants(pattern)
    if _to_length(pattern):
        from compiler.madetolength import problems as of_lengths  # seldom wanted

        told += of_lengths(pattern)
    return told


def _to_length(pattern: Pattern) -> bool:
    """Whether some piece is made to a length."""
    return any(
        isinstance(line, MadeToLength)
        for piece in pattern.statements
        if isinstance(piece, PieceBlock)
        for line in piece.body
    )


def _edition(
    loaded: Loaded,
    name: str,
    timings: Timings,
    changes: Changes,
    search: Measure | None,
    metals: Mapping[str, Metal],
) -> Checked:
    """One edition of a pattern; of its diagnostics those from the lengths on."""
    pattern, library = loaded.pattern, loaded.library
    if changes:
        from compiler.overrides import changed  # not needed for a pattern as written

        pattern, library = changed(pattern, library, changes)
    lengths: tuple[ToLength, ...] = ()
    told: tuple[Diagnostic, ...] = ()
    if _to_length(pattern):
        from compiler.madetolength import to_length  # needed for no other pattern

        fixed = frozenset(each.name for each in changes.settings)
        with timings.stage("length"):
            kept = kept_beside(name, changes.variant)
            pattern, lengths, told = to_length(pattern, library, fixed, kept, search, metals)
    with timings.stage("expand"):
        weave, in_expansion = expand(pattern, library, metals)
    if weave.complete and tally(in_expansion).errors == 0:
        _refuse_idle(loaded, changes, metals)
    with timings.stage("check"):
        in_check = check(weave)
    return Checked(loaded=loaded, weave=weave, diagnostics=(*told, *in_expansion, *in_check), lengths=lengths)


def _refuse_idle(loaded: Loaded, changes: Changes, metals: Mapping[str, Metal]) -> None:
    """A setting without effect must not pass for an edition. Raises InputError."""
    if not changes.settings:
        return
    from compiler.overrides import changed

    for setting in changes.settings:
        with_it = changed(loaded.pattern, loaded.library, changes)
        without = changed(loaded.pattern, loaded.library, changes.without(setting))
        if with_it == without or _counted(expand(*without, metals)[0]) != _counted(
            expand(*with_it, metals)[0]
        ):
            continue
        if len(setting.path) == 1:
            raise InputError(f"--set {setting} changes nothing: no unit or piece depends on it.")
        raise InputError(f"--set {setting} changes nothing: every use of the unit gives a number of its own.")


def _counted(weave: Weave) -> list[tuple[object, ...]]:
    """What tells one weave from another here: rings, links and findings of each piece, and how often it is made."""
    return [
        (piece.times, piece.kind, piece.link_a, piece.link_b, len(piece.findings), len(piece.motions.verb))
        for piece in weave.pieces
    ]
