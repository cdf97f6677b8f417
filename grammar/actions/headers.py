"""Actions for the headers of blocks. Each gives an `Opening`; `grammar.blocks` adds the statements."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

from grammar.actions.base import Parts
from grammar.actions.margin import MarginActions
from grammar.actions.picks import HalfTurns
from grammar.opening import Opening
from grammar.tokens import Token
from notation.margin import Parameter, PieceBlock, UnitBlock, VariantBlock
from notation.nodes import Expression, Name, Which
from notation.source import Span
from notation.statements import (
    Family,
    FamilyKind,
    For,
    ForEach,
    If,
    Repeat,
    RowOf,
    RowsFromTo,
    RowsOf,
    RowsTimes,
    Stagger,
    Step,
    Widths,
)

_STAGGERS = {
    "ALIGNED": Stagger.ALIGNED,
    "STAGGERED": Stagger.STAGGERED,
    "CENTRED": Stagger.CENTRED,
    "LEFT": Stagger.LEANING_LEFT,
    "RIGHT": Stagger.LEANING_RIGHT,
}


class _Option(NamedTuple):
    """An option of a family, with the first word it is written with."""

    what: str
    """`rows`, `downward`, `first`, `last`, `closed` or `front inside`: each may be said once."""
    stagger: Stagger
    """ALIGNED where `what` is not `rows`."""
    group: Name | None
    """What `first` or `last` is."""
    half_turns: HalfTurns | None
    """How often the work is turned where it is `closed`."""
    span: Span


class _Count(NamedTuple):
    """What a header says of its piece."""

    what: str
    """`made`, `in parts` or `in both hands`: each may be said once."""
    value: Expression | None
    span: Span


class HeaderActions(MarginActions):
    """Headers of blocks."""

    def unit_header(self, c: Parts) -> Opening:
        span = _line(c)
        parameters = tuple(c[3]) if len(c) == 6 else ()
        make = partial(UnitBlock, name=c[1], parameters=parameters, span=span)
        return Opening(word="unit", make=make, span=span)

    def parameter(self, c: Parts) -> Parameter:
        name = c[0]
        default = c[2] if len(c) == 3 else None
        span = Span(name.span.start, (default or name).span.end)
        return Parameter(name=name, default=default, span=span)

    def port_parameter(self, c: Parts) -> Parameter:
        return Parameter(name=c[1], is_port=True, span=Span(c[0].start_pos, c[1].span.end))

    def piece_header(self, c: Parts) -> Opening:
        span = _line(c)
        said: dict[str, _Count] = {}
        for count in c[2] if len(c) == 4 else ():
            if count.what in said:
                first = said[count.what].span
                self.tell("duplicate-clause", count.span, clause=count.what, first=first)
            else:
                said[count.what] = count
        made, parts = said.get("made"), said.get("in parts")
        make = partial(
            PieceBlock,
            name=c[1],
            times=made and made.value,
            parts=parts and parts.value,
            both_hands="in both hands" in said,
            span=span,
        )
        return Opening(word="piece", make=make, span=span)

    def variant_header(self, c: Parts) -> Opening:
        span = _line(c)
        return Opening(word="variant", make=partial(VariantBlock, name=c[1], span=span), span=span)

    def made(self, c: Parts) -> _Count:
        return _Count("made", c[1], Span(c[0].start_pos, c[2].end_pos))

    def in_parts(self, c: Parts) -> _Count:
        return _Count("in parts", c[1], Span(c[0].start_pos, c[2].end_pos))

    def in_both_hands(self, c: Parts) -> _Count:
        return _Count("in both hands", None, Span(c[0].start_pos, c[2].end_pos))

    # ------------------------------------------------------------ families

    def strip(self, c: Parts) -> Opening:
        word, name, _, size, options, _ = c
        row = RowOf(width=size, span=size.span)
        return self._family(word, name, (row,), options, _line(c))

    def sheet(self, c: Parts) -> Opening:
        return self._family(c[0], c[1], tuple(c[3]), c[5] if len(c) == 7 else [], _line(c))

    def _family(
        self, word: Token, name: Name, widths: tuple[Widths, ...], options: list[_Option], span: Span
    ) -> Opening:
        said: dict[str, _Option] = {}
        for option in options:
            if option.what in said:
                variant = "rows" if option.what == "rows" else ""
                first = said[option.what].span
                self.tell("duplicate-clause", option.span, variant, clause=option.what, first=first)
            else:
                said[option.what] = option
        kind = FamilyKind(word.value)
        for option in said.values():
            self._option_fits(kind, option)
        stagger = said["rows"].stagger if "rows" in said else Stagger.ALIGNED
        handed = tuple(
            (which, group)
            for which in (Which.FIRST, Which.LAST)
            if which.value in said and (group := said[which.value].group) is not None
        )
        turns = said["closed"].half_turns if "closed" in said else None
        make = partial(
            Family,
            kind=kind,
            name=name,
            widths=widths,
            stagger=stagger,
            downward="downward" in said,
            handed=handed,
            half_turns=turns.half_turns if turns else None,
            anticlockwise=turns is not None and turns.anticlockwise,
            front_inside="front inside" in said,
            span=span,
        )
        return Opening(word=word.value, make=make, span=span)

    def _option_fits(self, kind: FamilyKind, option: _Option) -> None:
        """Tells of an option that means nothing in a family of this kind."""
        if option.what in ("closed", "front inside") and kind not in (FamilyKind.ROUND, FamilyKind.TUBE):
            self.tell("family-option", option.span, "closed", family=kind.value)
        elif kind is not FamilyKind.DISC:
            return
        elif option.what == "downward":
            self.tell("family-option", option.span, "downward")
        elif option.stagger not in (Stagger.ALIGNED, Stagger.STAGGERED):
            self.tell("family-option", option.span, "rows", found=option.stagger.value)

    def hand_over(self, c: Parts) -> _Option:
        return _Option(c[0].value, Stagger.ALIGNED, c[2], None, Span(c[0].start_pos, c[2].span.end))

    def closed_with_turns(self, c: Parts) -> _Option:
        return _Option("closed", Stagger.ALIGNED, None, c[2], Span(c[0].start_pos, c[2].end))

    def closed_front_inside(self, c: Parts) -> _Option:
        return _Option("front inside", Stagger.ALIGNED, None, None, Span(c[0].start_pos, c[3].end_pos))

    def stagger(self, c: Parts) -> _Option:
        return _Option("rows", _STAGGERS[c[-1].type], None, None, Span(c[0].start_pos, c[-1].end_pos))

    def downward(self, c: Parts) -> _Option:
        return _Option("downward", Stagger.ALIGNED, None, None, Span(c[0].start_pos, c[0].end_pos))

    def row_of(self, c: Parts) -> RowOf:
        return RowOf(width=c[0], span=c[0].span)

    def rows_of(self, c: Parts) -> RowsOf:
        return RowsOf(rows=c[0], width=c[3], span=Span(c[0].span.start, c[3].span.end))

    def rows_from_to(self, c: Parts) -> RowsFromTo:
        first, last = c[0], c[-1]
        span = Span(first.span.start, last.span.end)
        return RowsFromTo(first=first, last=last, down=len(c) == 4, span=span)

    def rows_times(self, c: Parts) -> RowsTimes:
        return RowsTimes(times=c[0], rows=tuple(c[3]), span=Span(c[0].span.start, c[4].end_pos))

    # ------------------------------------------------------------ the order of statements

    def step(self, c: Parts) -> Opening:
        span = _line(c)
        return Opening(word="step", make=partial(Step, title=c[1], span=span), span=span)

    def for_count(self, c: Parts) -> Opening:
        span = _line(c)
        make = partial(For, counter=c[1], first=c[3], last=c[-2], down=len(c) == 8, span=span)
        return Opening(word="for", make=make, span=span)

    def for_each(self, c: Parts) -> Opening:
        span = _line(c)
        return Opening(word="for", make=partial(ForEach, name=c[2], picks=tuple(c[4]), span=span), span=span)

    def repeat(self, c: Parts) -> Opening:
        span = _line(c)
        return Opening(word="repeat", make=partial(Repeat, times=c[1], span=span), span=span)

    def if_header(self, c: Parts) -> Opening:
        span = _line(c)
        make = partial(If, condition=c[1], span=span)
        return Opening(word="if", make=make, span=span)

    def else_if_header(self, c: Parts) -> Opening:
        span = _line(c)
        make = partial(If, condition=c[2], span=span)
        return Opening(word="else if", make=make, span=span)

    def else_header(self, c: Parts) -> Opening:
        return Opening(word="else", make=tuple, span=_line(c))


def _line(c: Parts) -> Span:
    """From the first word of a header to its colon."""
    return Span(c[0].start_pos, c[-1].end_pos)
