"""Actions for what stands at the left margin: headings, uses, kinds of ring, findings, the kit; and for lengths."""

from __future__ import annotations

from decimal import Context, Decimal, Inexact
from typing import NamedTuple

from grammar.actions.base import Parts, end_of, start_of
from grammar.actions.picks import PickActions
from grammar.tokens import Token
from notation.lengths import GAUGES, Length, LengthProblem, LengthUnit, gauge_confusion, length_problem, plain
from notation.margin import Eye, FindingLine, Heading, HeadingLine, KitLine, LengthChange, RingLine, Use
from notation.nodes import Bundle, Name, Number, Quantity
from notation.source import Span
from notation.statements import Broken

_UNITS = {unit.name: unit for unit in LengthUnit} | {"IN": LengthUnit.INCH}
_BY_WORD = {unit.value: unit for unit in LengthUnit}
_BUNDLINGS = {"SINGLE": Bundle.SINGLE, "DOUBLED": Bundle.PAIRS, "TRIPLED": Bundle.TRIPLES}
_GAUGE_WORDS = ("g", "ga", "gauge", "gage")
_EXACT = Context(prec=40, traps=[Inexact])

UNIT_WORDS = {
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "inch": "in",
    "inches": "in",
}
"""Words for units that are understood, told, and to be replaced."""


class Part(NamedTuple):
    """A part of a ring or finding."""

    word: str
    """Type of its first word; of `single`, `doubled` and `tripled` it is BUNDLE."""
    value: Length | Name | Bundle | None
    span: Span


class Measured(NamedTuple):
    """A length, None if it could not be read, and where it stands."""

    length: Length | None
    span: Span


class MarginActions(PickActions):
    """Statements at the left margin, but for blocks."""

    def heading(self, c: Parts) -> HeadingLine:
        word, text = c
        return HeadingLine(heading=Heading(word.value), text=text, span=Span(word.start_pos, text.span.end))

    def use(self, c: Parts) -> Use:
        kinds = tuple(c[5]) if len(c) > 4 else ()
        end = kinds[-1][1].span.end if kinds else c[3].span.end
        return Use(path=c[1], alias=c[3], kinds=kinds, span=Span(c[0].start_pos, end))

    def rename(self, c: Parts) -> tuple[Name, Name]:
        return c[0], c[2]

    # ------------------------------------------------------------ kinds of ring

    def ring(self, c: Parts) -> RingLine:
        word, name, _, parts = c
        span = Span(word.start_pos, parts[-1].span.end)
        found = self._each_once(parts)
        for needed in ("INNER", "WIRE", "METAL"):
            if needed not in found:
                self.tell("missing-part", name.span, needed.lower(), name=name.text)
        bundle = found.get("BUNDLE")
        return RingLine(
            name=name,
            inner=_length(found.get("INNER")),
            wire=_length(found.get("WIRE")),
            metal=_name(found.get("METAL")),
            bundle=bundle if isinstance(bundle, Bundle) else Bundle.AS_KIND,
            span=span,
        )

    def measure(self, c: Parts) -> Part:
        word, (length, span) = c
        return Part(word.type, length, Span(word.start_pos, span.end))

    def metal(self, c: Parts) -> Part:
        return Part("METAL", c[1], Span(c[0].start_pos, c[1].span.end))

    def bundling(self, c: Parts) -> Part:
        return Part("BUNDLE", _BUNDLINGS[c[0].type], Span(c[0].start_pos, c[0].end_pos))

    def _each_once(self, parts: list[Part]) -> dict[str, Length | Name | Bundle | None]:
        """The parts by their word; one that comes twice is told and the first counts."""
        places: dict[str, Span] = {}
        found: dict[str, Length | Name | Bundle | None] = {}
        for word, value, span in parts:
            if word in places:
                variant = "bundle" if word == "BUNDLE" else ""
                self.tell("duplicate-clause", span, variant, clause=word.lower(), first=places[word])
            else:
                places[word] = span
                found[word] = value
        return found

    # ------------------------------------------------------------ findings

    def finding(self, c: Parts) -> FindingLine | Broken:
        word, name, _, type_, parts = c
        span = Span(word.start_pos, (parts[-1] if parts else type_).span.end)
        eyes = tuple(part for part in parts if isinstance(part, Eye))
        found = self._each_once([part for part in parts if isinstance(part, Part) and part.word != "EYE"])
        if any(isinstance(part, Part) and part.word == "EYE" for part in parts):
            return Broken(word=word.value, names=(name,), span=span)
        return FindingLine(
            name=name,
            type=type_,
            eyes=eyes,
            wire=_length(found.get("WIRE")),
            length=_length(found.get("LENGTH")),
            metal=_name(found.get("METAL")),
            span=span,
        )

    def eye(self, c: Parts) -> Eye | Part:
        word, manner = c[0], c[-1]
        inner: Measured = c[-2]
        span = Span(word.start_pos, manner[-1].end_pos if manner else inner.span.end)
        if inner.length is None:
            return Part("EYE", None, span)
        words = [token.type for token in manner]
        return Eye(
            name=c[1] if len(c) == 4 else None,
            inner=inner.length,
            opens="OPENS" in words,
            free="FREE" in words,
            span=span,
        )

    def kit(self, c: Parts) -> KitLine:
        entries: list[Quantity] = c[2]
        return KitLine(entries=tuple(entries), span=Span(c[0].start_pos, entries[-1].span.end))

    def length_change(self, c: Parts) -> LengthChange:
        wanted: Measured = c[-1]
        piece = c[2] if len(c) == 4 else None
        return LengthChange(piece=piece, wanted=wanted.length, span=Span(c[0].start_pos, wanted.span.end))

    # ------------------------------------------------------------ lengths

    def length(self, c: Parts) -> Measured:
        number, unit = c
        span = Span(start_of(number), unit.end_pos)
        return Measured(self._checked(_decimal(number), _UNITS[unit.type], span), span)

    def fraction(self, c: Parts) -> Measured:
        above, _, below, unit = c
        span = Span(above.span.start, unit.end_pos)
        if unit.type != "IN":
            self.tell("bad-length", span, "fraction-unit", unit=unit.value)
            return Measured(None, span)
        try:
            value = _EXACT.divide(Decimal(above.value), Decimal(below.value)) if below.value else Decimal(0)
        except Inexact:
            self.tell("bad-length", span, "too-many-decimals")
            return Measured(None, span)
        return Measured(self._checked(value, LengthUnit.INCH, span), span)

    def odd_unit(self, c: Parts) -> Measured:
        number, word = c
        span = Span(start_of(number), word.span.end)
        spelt = word.text.lower()
        if spelt in _GAUGE_WORDS:
            self._bare_gauge(number, span)
            return Measured(None, span)
        meant = UNIT_WORDS.get(spelt, spelt)
        if meant in _BY_WORD:
            self.tell(
                "unknown-length-unit", word.span, "spelling", found=word.text, meant=meant, replacement=meant
            )
            return Measured(self._checked(_decimal(number), _BY_WORD[meant], span), span)
        self.tell("unknown-length-unit", word.span, found=word.text)
        return Measured(None, span)

    def no_unit(self, c: Parts) -> Measured:
        span = Span(start_of(c[0]), end_of(c[0]))
        self.tell("no-unit", span, number=plain(_decimal(c[0])))
        return Measured(None, span)

    def odd_fraction(self, c: Parts) -> Measured:
        span = Span(start_of(c[0]), end_of(c[-1]))
        self.tell("bad-length", span, "fraction-unit", unit=c[3].text if len(c) == 4 else "nothing")
        return Measured(None, span)

    def _bare_gauge(self, number: Token | Number, span: Span) -> None:
        value = _decimal(number)
        both = gauge_confusion(int(value)) if value == value.to_integral_value() else None
        if both is None:
            self.tell("bare-gauge", span, "outside", number=plain(value))
        else:
            awg, swg = plain(both.awg_mm), plain(both.swg_mm)
            self.tell("bare-gauge", span, number=plain(value), awg=awg, swg=swg)

    def _checked(self, value: Decimal, unit: LengthUnit, span: Span) -> Length | None:
        """The length, or None when there is no such length, which is then told."""
        problem = length_problem(value, unit)
        if problem is None:
            return Length(value=value, unit=unit)
        if problem is LengthProblem.GAUGE_OUT_OF_TABLE:
            numbers = GAUGES[unit]
            self.tell("bad-length", span, problem.value, lowest=min(numbers), highest=max(numbers))
        else:
            self.tell("bad-length", span, problem.value)
        return None


def _decimal(number: Token | Number) -> Decimal:
    return Decimal(number.value)


def _length(value: Length | Name | Bundle | None) -> Length | None:
    return value if isinstance(value, Length) else None


def _name(value: Length | Name | Bundle | None) -> Name | None:
    return value if isinstance(value, Name) else None
