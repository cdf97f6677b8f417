"""Patterns made up by Hypothesis: node trees of every shape that text can have, all their spans empty."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from notation.expectations import (
    ExpectCompanions,
    ExpectFace,
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
from notation.nodes import (
    THOSE,
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
from notation.source import Span
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


def node(kind: type, /, **fields: Strategy) -> Strategy:
    # Not `st.builds`: its representation holds those of all its parts, tens of thousands of characters.
    @st.composite
    def drawn(draw: st.DrawFn) -> Any:
        return kind(span=NOWHERE, **{name: draw(strategy) for name, strategy in fields.items()})

    return drawn()


def some(strategy: Strategy, least: int = 1, most: int = 3) -> Strategy:
    return st.lists(strategy, min_size=least, max_size=most).map(tuple)


def maybe(strategy: Strategy) -> Strategy:
    return st.none() | strategy


names = node(Name, text=st.sampled_from(NAMES))
_short = st.text(st.characters(exclude_characters="\n\r", exclude_categories=("Cs",)), max_size=12)
_long = st.sampled_from(("turn it, and again, " * 7, '"so", # they said, ' * 6, "\\, " * 40))
texts = node(Text, value=_short | _long)
numbers = node(Number, value=st.integers(0, 999))
variables = node(Variable, name=names)
booleans = st.booleans()

sums = st.recursive(
    numbers | variables,
    lambda inner: (
        node(Sum, operator=st.sampled_from(Operator), left=inner, right=inner) | node(Negative, value=inner)
    ),
    max_leaves=4,
)
conditions = st.recursive(
    node(Compare, comparison=st.sampled_from(Comparison), left=sums, right=sums)
    | node(IsGiven, name=names)
    | node(IsParity, value=sums, even=booleans)
    | node(IsPlace, which=st.sampled_from((Which.FIRST, Which.LAST))),
    lambda inner: node(Both, left=inner, right=inner, either=booleans) | node(Not, condition=inner),
    max_leaves=4,
)
quantities = node(Quantity, count=sums, bundle=st.sampled_from(Bundle), kind=names)

# ---------------------------------------------------------------- picks and items

indices = some(sums | node(IndexRange, first=sums, last=sums, down=booleans), 0, 2)
named = node(Named, name=names, index=indices)
_directions = st.sampled_from(Direction)
relatives = (
    node(Relative, count=st.integers(1, 6), direction=_directions)
    | node(Relative, count=st.integers(2, 6), direction=_directions, only=st.sampled_from(Hand))
    | node(Relative, count=st.just(THOSE), direction=st.sampled_from((Direction.BELOW, Direction.ABOVE)))
)
_bundles = st.sampled_from((Bundle.AS_KIND, Bundle.PAIRS, Bundle.TRIPLES))
groups = st.recursive(
    named | relatives,
    lambda inner: (
        node(PartOf, part=named, whole=inner)
        | node(
            Select,
            which=st.sampled_from((Which.FIRST, Which.LAST, Which.NEXT)),
            count=maybe(sums),
            bundle=_bundles,
            group=inner,
        )
    ),
    max_leaves=3,
)
_along = st.just(Which.ALONG)
windows = node(Select, which=_along, count=sums, bundle=_bundles, group=groups, step=maybe(sums)) | node(
    Select,
    which=_along,
    count=st.none(),
    bundle=st.sampled_from((Bundle.PAIRS, Bundle.TRIPLES)),
    group=groups,
    step=maybe(sums),
)
picks = groups | windows
_sides = st.sampled_from(Side)
_plain_items = node(Item, picks=some(picks, 1, 1), side=_sides, if_there=booleans)
_eye_items = node(Item, picks=some(picks, 2, 2), side=_sides, eye=st.just(True), if_there=booleans)
_gaps = st.tuples(picks, picks)
items = (
    _plain_items | _eye_items | node(Item, picks=some(picks, 1, 1), side=_sides, if_there=booleans, gap=_gaps)
)
lying_items = node(Item, picks=some(picks, 1, 1), if_there=booleans)
around_items = _plain_items | _eye_items | node(Item, picks=some(picks, 2, 2), side=_sides, if_there=booleans)
targets = node(Target, name=names, index=some(sums, 0, 2)) | node(Target, name=names, grows=st.just(True))
carries = node(Carry, quantity=quantities, eye=maybe(names), target=maybe(targets))
joins = node(Join, neighbours=some(relatives, 0), quantity=quantities, target=maybe(targets))

# ---------------------------------------------------------------- statements

_paths = some(items, 0)
twins = node(Twin, through=_paths, gathering=_paths)
passes = node(
    Pass,
    quantity=quantities,
    target=maybe(targets),
    through=_paths,
    gathering=_paths,
    carrying=some(carries, 0),
    join=maybe(joins),
    around=some(around_items, 0),
    between=maybe(picks),
    inside=maybe(picks),
    over=some(lying_items, 0),
    under=some(lying_items, 0),
    companions=st.sampled_from(Companions),
    twin=maybe(twins),
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
remarks = node(Remark, kind=st.sampled_from(RemarkKind), text=texts)
handles = (
    node(Handle, motion=st.just(HandMotion.LAY_FLAT), pick=maybe(picks))
    | node(Handle, motion=st.sampled_from((HandMotion.TURN_OVER, HandMotion.TURN_ROUND)))
    | node(Handle, motion=st.just(HandMotion.HOLD), pick=picks, until=maybe(names))
    | node(Handle, motion=st.just(HandMotion.LET_GO), pick=picks)
    | node(Handle, motion=st.just(HandMotion.FOLD_BACK), pick=picks, onto=maybe(picks))
    | node(Handle, motion=st.just(HandMotion.SPREAD), pick=picks)
    | node(Handle, motion=st.just(HandMotion.LEAN), pick=picks, hand=st.sampled_from(Hand))
    | node(Handle, motion=st.just(HandMotion.TURN), pick=picks, degrees=sums)
)
labels = node(LabelLine, name=names, singular=texts, plural=maybe(texts))
simple = st.one_of(
    passes,
    node(
        Take,
        quantity=quantities,
        target=maybe(targets),
        inside=maybe(picks),
        companions=st.sampled_from(Companions),
    ),
    node(Reopen, pick=picks, through=_paths, carrying=some(carries, 0)),
    node(
        Hang,
        finding=names,
        index=some(sums, 0, 2),
        eye=maybe(names),
        items=some(items),
        target=maybe(targets),
    ),
    node(
        Make,
        unit=names,
        alias=maybe(names),
        mirrored=booleans,
        arguments=some(arguments, 0),
        target=maybe(targets),
    ),
    node(Let, name=names, value=sums),
    node(Port, name=names, picks=some(picks)),
    remarks,
    handles,
    labels,
    node(ExpectUsed, quantities=some(quantities)),
    node(ExpectTotal, count=sums, links=booleans),
    node(ExpectHolds, pick=picks, count=sums, kind=maybe(names)),
    node(ExpectLies, pick=picks, lies=st.sampled_from(Lies), other=picks, denied=booleans),
    node(ExpectCompanions, pick=picks, companions=st.sampled_from(Companions)),
    node(ExpectLeans, pick=picks, hand=st.sampled_from(Hand)),
    node(ExpectTurned, pick=picks, degrees=sums),
    node(ExpectLoop, picks=some(picks), crossed=booleans),
    node(ExpectTurns, name=names, half_turns=sums, anticlockwise=booleans),
    node(ExpectFace, name=names, front_inside=booleans),
    node(WorkDirection, clockwise=booleans),
    node(Helper, text=texts, items=some(items), target=node(Target, name=names)),
    node(Remove, name=names),
)

_row_of = node(RowOf, width=sums)
widths = st.recursive(
    _row_of | node(RowsOf, rows=sums, width=sums) | node(RowsFromTo, first=sums, last=sums, down=booleans),
    lambda inner: node(RowsTimes, times=sums, rows=some(inner)),
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
    "anticlockwise": st.just(False),
    "front_inside": st.just(False),
}


def _blocks(inner: Strategy) -> Strategy:
    body = some(inner)

    def family(kind: FamilyKind, widths: Strategy, **options: Strategy) -> Strategy:
        return node(Family, kind=st.just(kind), widths=widths, body=body, **_no_options | options)

    return st.one_of(
        family(FamilyKind.LINE, st.tuples(_row_of)),
        family(FamilyKind.ROUND, st.tuples(_row_of), half_turns=maybe(sums), front_inside=booleans),
        family(FamilyKind.SHEET, some(widths), stagger=st.sampled_from(Stagger), downward=booleans),
        family(
            FamilyKind.TUBE,
            some(widths),
            stagger=st.sampled_from(Stagger),
            downward=booleans,
            half_turns=sums,
            anticlockwise=booleans,
            front_inside=booleans,
        ),
        family(
            FamilyKind.DISC,
            some(widths),
            stagger=st.sampled_from((Stagger.ALIGNED, Stagger.STAGGERED)),
        ),
        node(For, counter=names, first=sums, last=sums, down=booleans, body=body),
        node(ForEach, name=names, picks=some(picks), body=body),
        node(Repeat, times=sums, body=body),
        node(If, condition=conditions, body=body, otherwise=some(inner, 0)),
    )


inside_steps = st.recursive(simple, _blocks, max_leaves=5)
statements = st.recursive(
    simple | node(Step, title=texts, body=some(inside_steps, 1, 2)), _blocks, max_leaves=5
)

# ---------------------------------------------------------------- at the left margin
