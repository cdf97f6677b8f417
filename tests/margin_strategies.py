"""Whole patterns made up by Hypothesis: what stands at the left margin. See `strategies`."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from hypothesis import strategies as st
from strategies import booleans, labels, maybe, names, node, quantities, some, statements, sums, texts

from notation.lengths import Length, LengthUnit
from notation.margin import (
    Eye,
    FindingLine,
    Heading,
    HeadingLine,
    KitLine,
    LengthChange,
    Parameter,
    Pattern,
    PieceBlock,
    RingLine,
    UnitBlock,
    Use,
    VariantBlock,
)
from notation.nodes import Bundle
from notation.source import Source
from notation.statements import Let, MadeToLength

_decimals = st.integers(1, 9_999).map(lambda value: Decimal(value) / 1000)
lengths = st.builds(
    Length,
    value=_decimals,
    unit=st.sampled_from((LengthUnit.MM, LengthUnit.CM, LengthUnit.INCH)),
) | st.builds(
    Length,
    value=st.integers(12, 30).map(Decimal),
    unit=st.sampled_from((LengthUnit.AWG, LengthUnit.SWG)),
)
_eyes = node(Eye, name=maybe(names), inner=lengths, opens=booleans, free=booleans)
parameters = node(Parameter, name=names, is_port=st.just(True)) | node(
    Parameter, name=names, default=maybe(sums)
)
ring_lines = node(
    RingLine,
    name=names,
    inner=lengths,
    wire=lengths,
    metal=names,
    bundle=st.sampled_from(
        (
            Bundle.AS_KIND,
            Bundle.SINGLE,
            Bundle.PAIRS,
            Bundle.TRIPLES,
        )
    ),
)
finding_lines = node(
    FindingLine,
    name=names,
    type=names,
    eyes=some(_eyes, 0),
    wire=maybe(lengths),
    length=maybe(lengths),
    metal=maybe(names),
)
kit_lines = node(KitLine, entries=some(quantities))
lets = node(Let, name=names, value=sums)
length_changes = node(LengthChange, piece=maybe(names), wanted=lengths)
made_to_length = node(MadeToLength, wanted=lengths, varying=names)
margin = st.one_of(
    node(Use, path=texts, alias=names, kinds=some(st.tuples(names, names), 0)),
    ring_lines,
    finding_lines,
    kit_lines,
    lets,
    labels,
    node(UnitBlock, name=names, parameters=some(parameters, 0), body=some(statements)),
    node(
        PieceBlock,
        name=names,
        times=maybe(sums),
        parts=maybe(sums),
        both_hands=booleans,
        body=some(statements | made_to_length),
    ),
    node(VariantBlock, name=names, body=some(ring_lines | finding_lines | kit_lines | lets | length_changes)),
)
headings = st.lists(st.sampled_from(Heading), unique=True, max_size=3).flatmap(
    lambda words: st.tuples(*(node(HeadingLine, heading=st.just(word), text=texts) for word in words))
)


def _pattern(heads: tuple[Any, ...], rest: tuple[Any, ...]) -> Pattern:
    return Pattern(
        source=Source(name="made up", text=""), statements=heads + rest, comments=(), blank_before=frozenset()
    )


patterns = st.builds(_pattern, headings, some(margin, 0, 3))
