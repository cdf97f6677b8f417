"""Patterns made up by Hypothesis: node trees of every shape that text can have, all their spans empty."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from notation.expectations import (
    ExpectCompanions,
    ExpectHolds,
    ExpectLeans,
    ExpectLies,
    ExpectLoop,
    ExpectTotal,
    ExpectTurned,
    ExpectTurns,
    ExpectUsed,
    Lies,
)
from notation.handling import Handle, HandMotion, Helper, LabelLine, Remark, RemarkKind, Remove, WorkDirection
from notation.lengths import Length, LengthUnit
from notation.margin import (
    Eye,
    FindingLine,
    Heading,
    HeadingLine,
    KitLine,
    Parameter,
    Pattern,
    PieceBlock,
    RingLine,
    UnitBlock,
    Use,
)
from notation.nodes import (
    Both,
    Bundle,
    Carry,
    Companions,
    Compare,
    Comparison,
    Direction,
    Hand,
    IndexRange,
    IsGiven,
    IsParity,
    IsPlace,
    Item,
    Join,
    Name,
    Named,
    Negative,
    Not,
    Number,
    Operator,
    PartOf,
    Quantity,
    Relative,
    Select,
    Side,
    Sum,
    Target,
    Text,
    Variable,
    Which,
)
from notation.source import Source, Span
from notation.statements import (
    Argument,
    Family,
    FamilyKind,
    For,
    ForEach,
    Hang,
    If,
    Let,
    Make,
    Pass,
    Port,
    Reopen,
    Repeat,
    RowOf,
    RowsFromTo,
    RowsOf,
    RowsTimes,
    Stagger,
    Step,
    Take,
    Twin,
)

Strategy = st.SearchStrategy[Any]

NOWHERE = Span(0, 0)

# Words that may also be names are among them on purpose.
NAMES = (
    *("arm", "spoke", "k", "ear-wire", "étoile", "x_1", "ringlet", "Ω", "passage"),
    *("a", "tip", "pair", "triple", "down", "left", "right", "back", "eye", "joint", "part", "wire", "level"),
    *("loop", "front", "nested", "side", "half", "both", "hands", "plain", "mirrored", "degrees", "turns"),
)


def _node(kind: type, /, **fields: Strategy) -> Strategy:
    # Not `st.builds`: its representation holds those of all its parts, tens of thousands of characters.
    @st.composite
    def drawn(draw: st.DrawFn) -> Any:
        return kind(span=NOWHERE, **{name: draw(strategy) for name, strategy in fields.items()})

    return drawn()


def _some(strategy: Strategy, least: int = 1, most: int = 3) -> Strategy:
    return st.lists(strategy, min_size=least, max_size=most).map(tuple)


def _maybe(strategy: Strategy) -> Strategy:
    return st.none() | strategy


names = _node(Name, text=st.sampled_from(NAMES))
_short = st.text(st.characters(exclude_characters="\n\r", exclude_categories=("Cs",)), max_size=12)
_long = st.sampled_from(("turn it, and again, " * 7, '"so", # they said, ' * 6, "\\, " * 40))
texts = _node(Text, value=_short | _long)
numbers = _node(Number, value=st.integers(0, 999))
variables = _node(Variable, name=names)
booleans = st.booleans()

sums = st.recursive(
    numbers | variables,
    lambda inner: (
        _node(Sum, operator=st.sampled_from(Operator), left=inner, right=inner) | _node(Negative, value=inner)
    ),
    max_leaves=4,
)
conditions = st.recursive(
    _node(Compare, comparison=st.sampled_from(Comparison), left=sums, right=sums)
    | _node(IsGiven, name=names)
    | _node(IsParity, value=sums, even=booleans)
    | _node(IsPlace, which=st.sampled_from((Which.FIRST, Which.LAST))),
    lambda inner: _node(Both, left=inner, right=inner, either=booleans) | _node(Not, condition=inner),
    max_leaves=4,
)
quantities = _node(Quantity, count=sums, bundle=st.sampled_from(Bundle), kind=names)

# ---------------------------------------------------------------- picks and items

indices = _some(sums | _node(IndexRange, first=sums, last=sums, down=booleans), 0, 2)
named = _node(Named, name=names, index=indices)
_directions = st.sampled_from(Direction)
relatives = _node(Relative, count=st.integers(1, 6), direction=_directions) | _node(
    Relative, count=st.integers(2, 6), direction=_directions, only=st.sampled_from(Hand)
)
_bundles = st.sampled_from((Bundle.AS_KIND, Bundle.PAIRS, Bundle.TRIPLES))
groups = st.recursive(
    named | relatives,
    lambda inner: (
        _node(PartOf, part=named, whole=inner)
        | _node(
            Select,
            which=st.sampled_from((Which.FIRST, Which.LAST, Which.NEXT)),
            count=_maybe(sums),
            bundle=_bundles,
            group=inner,
        )
    ),
    max_leaves=3,
)
_along = st.just(Which.ALONG)
windows = _node(Select, which=_along, count=sums, bundle=_bundles, group=groups, step=_maybe(sums)) | _node(
    Select,
    which=_along,
    count=st.none(),
    bundle=st.sampled_from((Bundle.PAIRS, Bundle.TRIPLES)),
    group=groups,
    step=_maybe(sums),
)
picks = groups | windows
_sides = st.sampled_from(Side)
_plain_items = _node(Item, picks=_some(picks, 1, 1), side=_sides, if_there=booleans)
_eye_items = _node(Item, picks=_some(picks, 2, 2), side=_sides, eye=st.just(True), if_there=booleans)
_gaps = st.tuples(picks, picks)
items = (
    _plain_items
    | _eye_items
    | _node(Item, picks=_some(picks, 1, 1), side=_sides, if_there=booleans, gap=_gaps)
)
lying_items = _node(Item, picks=_some(picks, 1, 1), if_there=booleans)
around_items = (
    _plain_items | _eye_items | _node(Item, picks=_some(picks, 2, 2), side=_sides, if_there=booleans)
)
targets = _node(Target, name=names, index=_some(sums, 0, 2)) | _node(Target, name=names, grows=st.just(True))
carries = _node(Carry, quantity=quantities, eye=_maybe(names), target=_maybe(targets))
joins = _node(Join, neighbours=_some(relatives, 0), quantity=quantities, target=_maybe(targets))

# ---------------------------------------------------------------- statements

_paths = _some(items, 0)
twins = _node(Twin, through=_paths, gathering=_paths)
passes = _node(
    Pass,
    quantity=quantities,
    target=_maybe(targets),
    through=_paths,
    gathering=_paths,
    carrying=_some(carries, 0),
    join=_maybe(joins),
    around=_some(around_items, 0),
    between=_maybe(picks),
    inside=_maybe(picks),
    over=_some(lying_items, 0),
    under=_some(lying_items, 0),
    companions=st.sampled_from(Companions),
    twin=_maybe(twins),
)


def _argument(name: Name, value: Any) -> Argument:
    if isinstance(value, Variable):
        return Argument(name=name, number=value, pick=Named(name=value.name, span=NOWHERE), span=NOWHERE)
    if isinstance(value, (Number, Sum, Negative)):
        return Argument(name=name, number=value, pick=None, span=NOWHERE)
    if isinstance(value, Named) and not value.index:
        return _argument(name, Variable(name=value.name, span=NOWHERE))
    return Argument(name=name, number=None, pick=value, span=NOWHERE)


arguments = st.builds(_argument, names, sums | picks)
remarks = _node(Remark, kind=st.sampled_from(RemarkKind), text=texts)
handles = (
    _node(Handle, motion=st.just(HandMotion.LAY_FLAT), pick=_maybe(picks))
    | _node(Handle, motion=st.sampled_from((HandMotion.TURN_OVER, HandMotion.TURN_ROUND)))
    | _node(Handle, motion=st.just(HandMotion.HOLD), pick=picks, until=_maybe(names))
    | _node(Handle, motion=st.just(HandMotion.LET_GO), pick=picks)
    | _node(Handle, motion=st.just(HandMotion.FOLD_BACK), pick=picks, onto=_maybe(picks))
    | _node(Handle, motion=st.just(HandMotion.SPREAD), pick=picks)
    | _node(Handle, motion=st.just(HandMotion.LEAN), pick=picks, hand=st.sampled_from(Hand))
    | _node(Handle, motion=st.just(HandMotion.TURN), pick=picks, degrees=sums)
)
labels = _node(LabelLine, name=names, singular=texts, plural=_maybe(texts))
simple = st.one_of(
    passes,
    _node(
        Take,
        quantity=quantities,
        target=_maybe(targets),
        inside=_maybe(picks),
        companions=st.sampled_from(Companions),
    ),
    _node(Reopen, pick=picks, through=_paths, carrying=_some(carries, 0)),
    _node(
        Hang,
        finding=names,
        index=_some(sums, 0, 2),
        eye=_maybe(names),
        items=_some(items),
        target=_maybe(targets),
    ),
    _node(
        Make,
        unit=names,
        alias=_maybe(names),
        mirrored=booleans,
        arguments=_some(arguments, 0),
        target=_maybe(targets),
    ),
    _node(Let, name=names, value=sums),
    _node(Port, name=names, picks=_some(picks)),
    remarks,
    handles,
    labels,
    _node(ExpectUsed, quantities=_some(quantities)),
    _node(ExpectTotal, count=sums, links=booleans),
    _node(ExpectHolds, pick=picks, count=sums, kind=_maybe(names)),
    _node(ExpectLies, pick=picks, lies=st.sampled_from(Lies), other=picks, denied=booleans),
    _node(ExpectCompanions, pick=picks, companions=st.sampled_from(Companions)),
    _node(ExpectLeans, pick=picks, hand=st.sampled_from(Hand)),
    _node(ExpectTurned, pick=picks, degrees=sums),
    _node(ExpectLoop, picks=_some(picks), crossed=booleans),
    _node(ExpectTurns, name=names, half_turns=sums),
    _node(WorkDirection, clockwise=booleans),
    _node(Helper, text=texts, items=_some(items), target=_node(Target, name=names)),
    _node(Remove, name=names),
)

_row_of = _node(RowOf, width=sums)
widths = st.recursive(
    _row_of | _node(RowsOf, rows=sums, width=sums) | _node(RowsFromTo, first=sums, last=sums, down=booleans),
    lambda inner: _node(RowsTimes, times=sums, rows=_some(inner)),
    max_leaves=3,
)
_handed = st.sampled_from(((), (Which.FIRST,), (Which.LAST,), (Which.FIRST, Which.LAST))).flatmap(
    lambda which: st.tuples(*(st.tuples(st.just(one), names) for one in which))
)

_no_options = {
    "name": names,
    "stagger": st.just(Stagger.ALIGNED),
    "downward": st.just(False),
    "handed": _handed,
    "half_turns": st.none(),
}


def _blocks(inner: Strategy) -> Strategy:
    body = _some(inner)

    def family(kind: FamilyKind, widths: Strategy, **options: Strategy) -> Strategy:
        return _node(Family, kind=st.just(kind), widths=widths, body=body, **_no_options | options)

    return st.one_of(
        family(FamilyKind.LINE, st.tuples(_row_of)),
        family(FamilyKind.ROUND, st.tuples(_row_of), half_turns=_maybe(sums)),
        family(FamilyKind.SHEET, _some(widths), stagger=st.sampled_from(Stagger), downward=booleans),
        family(
            FamilyKind.TUBE,
            _some(widths),
            stagger=st.sampled_from(Stagger),
            downward=booleans,
            half_turns=_maybe(sums),
        ),
        family(
            FamilyKind.DISC,
            _some(widths),
            stagger=st.sampled_from((Stagger.ALIGNED, Stagger.STAGGERED)),
        ),
        _node(For, counter=names, first=sums, last=sums, down=booleans, body=body),
        _node(ForEach, name=names, picks=_some(picks), body=body),
        _node(Repeat, times=sums, body=body),
        _node(If, condition=conditions, body=body, otherwise=_some(inner, 0)),
    )


inside_steps = st.recursive(simple, _blocks, max_leaves=5)
statements = st.recursive(
    simple | _node(Step, title=texts, body=_some(inside_steps, 1, 2)), _blocks, max_leaves=5
)

# ---------------------------------------------------------------- at the left margin

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
_eyes = _node(Eye, name=_maybe(names), inner=lengths, opens=booleans, free=booleans)
parameters = _node(Parameter, name=names, is_port=st.just(True)) | _node(
    Parameter, name=names, default=_maybe(sums)
)
margin = st.one_of(
    _node(Use, path=texts, alias=names, kinds=_some(st.tuples(names, names), 0)),
    _node(
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
    ),
    _node(
        FindingLine,
        name=names,
        type=names,
        eyes=_some(_eyes, 0),
        wire=_maybe(lengths),
        length=_maybe(lengths),
        metal=_maybe(names),
    ),
    _node(KitLine, entries=_some(quantities)),
    labels,
    _node(UnitBlock, name=names, parameters=_some(parameters, 0), body=_some(statements)),
    _node(
        PieceBlock,
        name=names,
        times=_maybe(sums),
        parts=_maybe(sums),
        both_hands=booleans,
        body=_some(statements),
    ),
)
headings = st.lists(st.sampled_from(Heading), unique=True, max_size=3).flatmap(
    lambda words: st.tuples(*(_node(HeadingLine, heading=st.just(word), text=texts) for word in words))
)


def _pattern(heads: tuple[Any, ...], rest: tuple[Any, ...]) -> Pattern:
    return Pattern(
        source=Source(name="made up", text=""), statements=heads + rest, comments=(), blank_before=frozenset()
    )


patterns = st.builds(_pattern, headings, _some(margin, 0, 3))
