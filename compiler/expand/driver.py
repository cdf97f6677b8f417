"""The stage itself: a pattern and the files it uses -> the weave and what was wrong.

    ring link: inner 5 mm, wire 1 mm, metal copper
    piece strap:
        sheet mesh of 2 rows of 3, staggered:
            pass 1 link through the two below

gives one piece of 6 rings with 5 links (the last ring of row 2 has one ring below it), in two steps.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import partial

from compiler.expand.columns import Columns
from compiler.expand.context import Context
from compiler.expand.declare import Library, declare, headings, words_for
from compiler.expand.handling import tell_helpers_left
from compiler.expand.live import Bound, Broken, FileNames, LiveGroup, Scope
from compiler.expand.sinks import ring_kind
from compiler.expand.statements import run_body
from compiler.expand.units import default_scope, labels_in
from compiler.expand.unused import tell_unused
from compiler.expand.usenames import named_uses
from compiler.expand.walk import names_made
from compiler.weave import FindingUse, KitEntry, PieceWeave, SiteKind, Weave
from notation.diagnostic import Diagnostic, Frame, Label, Place, sort_key
from notation.limits import MOST_MADE
from notation.margin import Heading, KitLine, Pattern, PieceBlock, UnitBlock
from notation.metals import METALS, Metal
from notation.nodes import Bundle
from notation.source import Span


def expand(
    pattern: Pattern, library: Library, metals: Mapping[str, Metal] = METALS
) -> tuple[Weave, tuple[Diagnostic, ...]]:
    """The weave of a pattern, as far as it can be made, and every diagnostic of this stage, sorted.

    A file without pieces makes each of its units once, with its defaults, so that a library of units can be
    checked and looked at by itself; a unit that has to be told a number is left to those who use it.
    """
    ctx = Context([], [])
    ctx.metals = metals
    ctx.run_body = partial(run_body, ctx)
    file = declare(ctx, pattern, library)
    texts = headings(pattern)
    kit = _kit(ctx, file)
    pieces = [statement for statement in pattern.statements if isinstance(statement, PieceBlock)]
    made = [_piece(ctx, file, piece) for piece in pieces]
    if not pieces:
        made = [_unit_alone(ctx, file, unit) for unit in file.units.values() if _stands_alone(unit)]
        if not file.units and not pattern.incomplete:
            ctx.report("no-piece", _beginning(pattern))
    if Heading.TITLE not in texts and not pattern.incomplete:
        ctx.report("no-title", _beginning(pattern))
    tell_unused(ctx, file)
    whole = [piece for piece in made if piece is not None]
    broken = ctx.stopped or any(piece.broken for piece in whole) or len(whole) < len(made)
    title = texts.get(Heading.TITLE, "")
    weave = Weave(
        source=pattern.source.name,
        title=title,
        by=texts.get(Heading.BY, ""),
        licence=texts.get(Heading.LICENCE, ""),
        version=texts.get(Heading.VERSION, ""),
        level=texts.get(Heading.LEVEL, ""),
        about=texts.get(Heading.ABOUT, ""),
        ring_kinds=tuple(ctx.ring_kinds),
        finding_kinds=tuple(ctx.finding_kinds),
        kit=kit,
        sites=tuple(ctx.sites),
        pieces=tuple(whole),
        complete=not pattern.incomplete and not broken,
        metals=metals,
    )
    return weave, tuple(sorted(ctx.diagnostics, key=sort_key))


def _beginning(pattern: Pattern) -> Place:
    """Where the first statement begins: what a pattern lacks as a whole is told there."""
    start = pattern.statements[0].span.start if pattern.statements else 0
    return pattern.place(Span(start, start))


# ---------------------------------------------------------------- the kit


def _kit(ctx: Context, file: FileNames) -> tuple[KitEntry, ...] | None:
    lines = [statement for statement in file.pattern.statements if isinstance(statement, KitLine)]
    if not lines:
        return None
    for again in lines[1:]:
        label = Label(place=file.place(lines[0].span), note="first-made-here")
        ctx.fail("kit-again", file.place(again.span), "line", labels=(label,))
    scope = Scope(file=file, parent=None, key="", owner="", unit=None)
    entries: list[KitEntry] = []
    for quantity in lines[0].entries:
        place = file.place(quantity.span)
        name = quantity.kind.text
        count = ctx.count(scope, quantity.count)
        if name not in file.finding_numbers and ring_kind(ctx, scope, quantity) is None:
            continue
        if any(entry.kind == name for entry in entries):
            ctx.fail("kit-again", place, name=name)
            continue
        if count is not None:
            each = {Bundle.PAIRS: 2, Bundle.TRIPLES: 3}.get(quantity.bundle, 1)
            entries.append(KitEntry(kind=name, count=count * each, place=place))
    return tuple(entries)


# ---------------------------------------------------------------- pieces


def _piece(ctx: Context, file: FileNames, piece: PieceBlock) -> PieceWeave | None:
    scope = Scope(
        file=file,
        parent=None,
        key="",
        owner="",
        unit=None,
        upcoming=names_made(piece.body),
        labels=labels_in(ctx, file, piece.body),
    )
    times = 1 if piece.times is None else ctx.count(scope, piece.times)
    parts = 1 if piece.parts is None else ctx.count(scope, piece.parts)
    if times is not None and times > MOST_MADE:
        ctx.fail("made-too-often", file.place(piece.span), count=times, limit=MOST_MADE)
        times = None
    if times is None or parts is None:
        times, parts, broken = times or 1, parts or 1, True
    else:
        broken = False
    return _carry_out(ctx, scope, piece, times, parts, broken)


def _stands_alone(unit: UnitBlock) -> bool:
    """Whether all its numbers have a value to go by."""
    return all(parameter.is_port or parameter.default is not None for parameter in unit.parameters)


def _unit_alone(ctx: Context, file: FileNames, unit: UnitBlock) -> PieceWeave | None:
    ctx.columns = Columns(len(ctx.ring_kinds))
    scope = default_scope(ctx, file, unit)
    if scope is None:
        return None
    ctx.calls.append(f"{file.name}:{unit.name.text}")
    made = _carry_out(ctx, scope, unit, 1, 1, broken=False)
    ctx.calls.pop()
    return made


def _carry_out(
    ctx: Context, scope: Scope, block: PieceBlock | UnitBlock, times: int, parts: int, broken: bool
) -> PieceWeave:
    ctx.columns = Columns(len(ctx.ring_kinds))
    ctx.columns.broken = broken
    ctx.hands, ctx.helpers = {}, []
    ctx.both_hands = isinstance(block, PieceBlock) and block.both_hands
    scope.start_counts = (0,) * len(ctx.ring_kinds)
    place = scope.file.place(block.name.span)
    ctx.site = -1
    site = ctx.site = ctx.add_site(SiteKind.PIECE, place, block.name.text)
    ctx.frames.append(Frame(place=place, note="in-piece", arguments=(("name", block.name.text),)))
    run_body(ctx, block.body, scope)
    ctx.frames.pop()
    if not ctx.columns.broken and not ctx.stopped:
        _tell_left_over(ctx, scope)
        tell_helpers_left(ctx)
    if ctx.stopped:
        ctx.columns.broken = True
    _number_findings(ctx)
    singular = words_for(scope.file, block.name.text)[0]
    uses = named_uses(ctx.sites, site)
    for number, use in uses.items():
        ctx.sites[number] = use
    return ctx.columns.finish(block.name.text, singular, times, parts, place, site, uses)


def _number_findings(ctx: Context) -> None:
    """Findings of which a piece has several are told apart by number."""
    columns = ctx.columns
    total: dict[int, int] = {}
    for use in columns.findings:
        total[use.kind] = total.get(use.kind, 0) + 1
    seen: dict[int, int] = {}
    numbered: list[FindingUse] = []
    for use in columns.findings:
        seen[use.kind] = seen.get(use.kind, 0) + 1
        several = total[use.kind] > 1
        numbered.append(
            FindingUse(
                kind=use.kind,
                key=f"{use.key}[{seen[use.kind]}]" if several else use.key,
                label=f"{use.label} {seen[use.kind]}" if several else use.label,
                eyes=use.eyes,
                motion=use.motion,
            )
        )
    columns.findings = numbered


def _tell_left_over(ctx: Context, scope: Scope) -> None:
    """Groups that `next` or `along` did not come to the end of."""
    groups: Iterable[LiveGroup] = [draft.live for draft in ctx.columns.groups]
    for group in groups:
        _left_over(ctx, group.name, group, len(group.members))
        for row, bound in group.rows.items():
            _left_over(ctx, f"{group.name}[{row + 1}]", bound, len(bound.things))
    for name, entity in scope.names.items():
        if isinstance(entity, Bound):
            _left_over(ctx, name, entity, len(entity.things))
        elif isinstance(entity, Broken):
            return


def _left_over(ctx: Context, name: str, holder: LiveGroup | Bound, total: int) -> None:
    cursor = holder.cursor
    if cursor.taken_at is not None and cursor.taken < total:
        left = total - cursor.taken
        ctx.report("left-over", cursor.taken_at, "" if left > 1 else "one", name=name, left=left, total=total)
    if cursor.window_at is not None and cursor.reach < total:
        left = total - cursor.reach
        ctx.report(
            "left-over",
            cursor.window_at,
            "along" if left > 1 else "along-one",
            name=name,
            left=left,
            total=total,
        )
