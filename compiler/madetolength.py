"""Pieces made to a length: how many repeats that takes, from a layout that is kept or from a search.

In: a parsed pattern with lines such as `length 185 mm varying repeats`, the file of kept layouts beside it, and, where
searching is allowed, a way to measure a piece. Out: the pattern with the numbers worked out in place of those of its
margin, what was found of each piece, and diagnostics. The stage before the expansion proper; it expands editions of
the pattern itself, because what a repeat adds is known only from them.

The pitch is what a repeat adds to the length. In a kept layout it is read from the rings: of the groups whose members
become more with a repeat, the way from a member to the one a repeat later, along the piece, in the median. The number
is the nearest one, and that of the kept layout where it is as near as a tenth of a pitch.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from statistics import median

from msgspec import Struct

from compiler.changes import ToLength
from compiler.expand.driver import expand
from compiler.geometry import dot
from compiler.kept import kept_sizes, read_kept
from compiler.layout import Layout, Vector
from compiler.overrides import with_number
from compiler.problem import problem_of
from compiler.size import length_of, lengthwise
from compiler.tolength import LEAST_PITCH_MM, MOST_REPEATS, NoLengthError, repeats_for
from compiler.weave import PieceWeave, Weave
from notation.diagnostic import Diagnostic, Edit, Label, diagnosed
from notation.lengths import Length
from notation.margin import Pattern, PieceBlock
from notation.metals import METALS, Metal
from notation.nodes import Name, Number
from notation.source import Span
from notation.statements import FamilyKind, Let, MadeToLength

Library = Mapping[tuple[str, str], Pattern]
Measure = Callable[[Weave, int], float]
"""Length in mm of a piece by index, lying flat, by a search; raises NoLengthError."""

_NEARLY = 0.6
"""Pitches by which the kept layout may miss the length and stay: more than half, so that it is not given up for another
that is as near."""
_FIRST_SAMPLE = 6
"""Repeats of the first layout that is searched for, at most: enough for a pitch, and quick."""


class _Line(Struct, frozen=True, kw_only=True):
    piece: PieceBlock
    line: MadeToLength
    wanted: Length
    start: int
    """What the text says of the number that may vary."""


class _Kept(Struct, frozen=True, kw_only=True):
    repeats: int
    length_mm: float
    pitch_mm: float


# ---------------------------------------------------------------- the lines as written


def length_lines(pattern: Pattern) -> Iterator[tuple[PieceBlock, MadeToLength]]:
    """Every line of a length, with its piece."""
    for piece in pattern.statements:
        if isinstance(piece, PieceBlock):
            for line in piece.body:
                if isinstance(line, MadeToLength):
                    yield piece, line


def problems(pattern: Pattern) -> tuple[Diagnostic, ...]:
    """Lengths that name no number that may vary, and those of which there are two."""
    told: list[Diagnostic] = []
    numbers = _numbers(pattern)
    pieces: dict[str, Span] = {}
    varied: dict[str, Span] = {}
    for piece, line in length_lines(pattern):
        name = line.varying.text
        if piece.name.text in pieces:
            told.append(_again(pattern, line.span, pieces[piece.name.text], "", piece=piece.name.text))
            continue
        pieces[piece.name.text] = line.span
        if name in varied:
            told.append(_again(pattern, line.varying.span, varied[name], "number", name=name))
        elif name not in numbers:
            if not pattern.incomplete:
                told.append(_unknown(pattern, line.varying, numbers))
        elif not isinstance(numbers[name].value, Number):
            label = Label(place=pattern.place(numbers[name].span), note="first-made-here")
            told.append(
                diagnosed("varying-sum", pattern.place(line.varying.span), labels=(label,), name=name)
            )
        varied.setdefault(name, line.varying.span)
    return tuple(told)


def _numbers(pattern: Pattern) -> dict[str, Let]:
    found: dict[str, Let] = {}
    for statement in pattern.statements:
        if isinstance(statement, Let):
            found.setdefault(statement.name.text, statement)
    return found


def _again(pattern: Pattern, span: Span, first: Span, variant: str, **arguments: str) -> Diagnostic:
    label = Label(place=pattern.place(first), note="first-made-here")
    return diagnosed("length-again", pattern.place(span), variant, (label,), (), **arguments)


def _unknown(pattern: Pattern, name: Name, numbers: Mapping[str, Let]) -> Diagnostic:
    from difflib import get_close_matches  # seldom wanted

    close = get_close_matches(name.text, list(numbers), n=1, cutoff=0.6)
    if not close:
        return diagnosed("unknown-varying", pattern.place(name.span), name=name.text)
    edit = Edit(place=pattern.place(name.span), replacement=close[0])
    return diagnosed(
        "unknown-varying",
        pattern.place(name.span),
        "close",
        edits=(edit,),
        name=name.text,
        close=close[0],
    )


# ---------------------------------------------------------------- how many repeats


def to_length(
    pattern: Pattern,
    library: Library,
    fixed: frozenset[str],
    kept: Path | None,
    search: Measure | None,
    metals: Mapping[str, Metal] = METALS,
) -> tuple[Pattern, tuple[ToLength, ...], tuple[Diagnostic, ...]]:
    """The pattern with its numbers worked out, for each piece that is made to a length.

    `fixed` are the numbers that somebody has set, and which stay; `kept` is the file of layouts; without `search`
    nothing is laid out anew, and a length of which nothing is kept is told.
    """
    found: list[ToLength] = []
    told: list[Diagnostic] = []
    wrong = bool(problems(pattern))
    for line in () if wrong else _readable(pattern, fixed):
        result = _one(pattern, library, line, kept, search, metals)
        if isinstance(result, Diagnostic):
            told.append(result)
        elif result is not None:
            found.append(result)
            pattern = with_number(pattern, result.varying, result.repeats)
    return pattern, tuple(found), tuple(told)


def _readable(pattern: Pattern, fixed: frozenset[str]) -> list[_Line]:
    numbers = _numbers(pattern)
    out = []
    for piece, line in length_lines(pattern):
        number = numbers.get(line.varying.text)  # of a pattern with slips its line may not have been read
        value = None if number is None else number.value
        if line.wanted is None or line.varying.text in fixed or not isinstance(value, Number):
            continue
        out.append(_Line(piece=piece, line=line, wanted=line.wanted, start=max(1, value.value)))
    return out


def _one(
    pattern: Pattern,
    library: Library,
    line: _Line,
    kept: Path | None,
    search: Measure | None,
    metals: Mapping[str, Metal],
) -> ToLength | Diagnostic | None:
    """What is found for a piece; None where it cannot be made at all, which others tell."""
    varying, wanted = line.line.varying.text, float(line.wanted.mm)

    def made(repeats: int) -> tuple[Weave, int] | None:
        weave, _ = expand(with_number(pattern, varying, repeats), library, metals)
        for index, piece in enumerate(weave.pieces):
            if piece.name == line.piece.name.text and not piece.broken and len(piece):
                return weave, index
        return None

    def measured(repeats: int) -> float:
        there = made(repeats)
        assert search is not None
        if there is None:
            raise NoLengthError(f"it cannot be made with {varying} = {repeats}")
        return search(*there)

    if made(line.start) is None:
        return None
    near = None if kept is None else _kept(made, line, kept)
    if near is not None:
        gap = (wanted - near.length_mm) / near.pitch_mm
        repeats = near.repeats if abs(gap) <= _NEARLY else max(1, near.repeats + round(gap))
        if repeats > MOST_REPEATS:
            return _not_made(pattern, line, f"that takes more than {MOST_REPEATS} repeats")
        length = near.length_mm + (repeats - near.repeats) * near.pitch_mm
        return _found(line, repeats, length, near.pitch_mm)
    if search is None:
        name = line.piece.name.text
        return diagnosed(
            "length-not-known",
            pattern.place(line.line.span), piece=name, wanted=str(line.wanted), name=varying,
            repeats=line.start,
        )  # fmt: skip
    try:
        between = repeats_for(measured, min(line.start, _FIRST_SAMPLE), wanted)
    except NoLengthError as error:
        return _not_made(pattern, line, error.message)
    nearest = between.nearest(wanted)
    return _found(line, nearest.repeats, nearest.length_mm, between.pitch_mm)


def _found(line: _Line, repeats: int, length_mm: float, pitch_mm: float) -> ToLength:
    return ToLength(
        piece=line.piece.name.text,
        wanted=line.wanted,
        varying=line.line.varying.text,
        repeats=repeats,
        length_mm=length_mm,
        pitch_mm=pitch_mm,
    )


def _not_made(pattern: Pattern, line: _Line, reason: str) -> Diagnostic:
    return diagnosed(
        "length-not-made",
        pattern.place(line.line.span), piece=line.piece.name.text, wanted=str(line.wanted),
        name=line.line.varying.text, repeats=line.start, reason=reason,
    )  # fmt: skip


# ---------------------------------------------------------------- from a kept layout


def _kept(made: Callable[[int], tuple[Weave, int] | None], line: _Line, path: Path) -> _Kept | None:
    """What the kept layout tells, of whatever number of repeats it is; None where it tells nothing."""
    count = kept_sizes(path).get(line.piece.name.text)
    first, second = made(line.start), made(line.start + 1)
    if count is None or first is None or second is None:
        return None
    rings = len(first[0].pieces[first[1]])
    more = len(second[0].pieces[second[1]]) - rings
    if more < 1 or (count - rings) % more:
        return None
    repeats = line.start + (count - rings) // more
    if not 1 <= repeats <= MOST_REPEATS:
        return None
    there, after = made(repeats), made(repeats + 1)
    if there is None or after is None:
        return None
    weave, index = there
    piece = weave.pieces[index]
    layout = read_kept(path, {piece.name: problem_of(weave, index)})[piece.name]
    if not isinstance(layout, Layout):
        return None
    pitch = pitch_of(piece, after[0].pieces[after[1]], layout)
    if pitch is None or pitch < LEAST_PITCH_MM:
        return None
    return _Kept(repeats=repeats, length_mm=length_of(piece, layout.circles), pitch_mm=pitch)


def pitch_of(piece: PieceWeave, longer: PieceWeave, layout: Layout) -> float | None:
    """What a repeat adds to the length of a piece, mm, by its layout; `longer` has one repeat more.

    None where no group has more members there, or too few to tell, or where they run round.
    """
    along = lengthwise(layout.circles)
    strands, more = _strands(piece), _strands(longer)
    best: list[int] = []
    lag = 0
    for name, nodes in strands.items():
        grows = len(more.get(name, ())) - len(nodes)
        if 0 < grows < len(nodes) and len(nodes) > len(best) and not _runs_round(piece, nodes[0]):
            best, lag = nodes, grows
    if not best:
        return None
    places = [_middle(piece, layout, node, along) for node in best]
    return abs(median(there - here for here, there in zip(places, places[lag:], strict=False)))


def _strands(piece: PieceWeave) -> dict[str, list[int]]:
    """The first nodes of the strands of all groups of a name, in order of making."""
    found: dict[str, list[int]] = {}
    for node, group in enumerate(piece.group):
        if group >= 0 and piece.strand[node] == node:
            found.setdefault(piece.groups[group].name, []).append(node)
    return found


def _runs_round(piece: PieceWeave, node: int) -> bool:
    shape = piece.groups[piece.group[node]].shape
    return shape is not None and shape.kind is FamilyKind.ROUND


def _middle(piece: PieceWeave, layout: Layout, first: int, along: Vector) -> float:
    """Where a strand lies along the piece, mm."""
    nodes = [first]
    while nodes[-1] + 1 < len(piece) and piece.strand[nodes[-1] + 1] == first:
        nodes.append(nodes[-1] + 1)
    return sum(dot(layout.circles[node].centre, along) for node in nodes) / len(nodes)
