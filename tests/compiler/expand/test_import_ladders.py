"""Files that use files twice over: as many ways through them as the pattern likes, yet each is entered once."""

import pytest

from compiler.expand import declare
from compiler.expand.driver import expand
from grammar.parse import parse
from notation.limits import DEEPEST_IMPORTS
from notation.margin import Pattern
from notation.source import Source

KINDS = 6


def ladder(*, swapped: bool) -> tuple[Pattern, dict[tuple[str, str], Pattern]]:
    """A pattern at the top of 16 files, each of which uses the next one twice.

    With `swapped` the second use exchanges two of the kinds, another two in each file.
    """
    rings = "".join(f"ring k{i}: inner {5 + i} mm, wire 1 mm, metal copper\n" for i in range(KINDS))
    patterns = []
    for depth in range(DEEPEST_IMPORTS + 1):
        one, other = f"k{depth % KINDS}", f"k{(depth + 1 + depth // KINDS) % KINDS}"
        exchange = f" with {one} = {other}, {other} = {one}" if swapped else ""
        text = rings
        if depth < DEEPEST_IMPORTS:
            text += f'use "f{depth + 1}" as a\nuse "f{depth + 1}" as b{exchange}\n'
        if depth == 0:
            text += 'title "Draco"\npiece tail:\n    make arm of a\n    make arm of b\n'
        elif depth < DEEPEST_IMPORTS:
            text += (
                "unit arm:\n    make arm of a\n    make arm of b\n"
                if depth > 12
                else "unit arm:\n    make arm of b\n"
            )
        else:
            text += "unit arm:\n    take 1 k0\n"
        pattern, told = parse(Source(name=f"f{depth}", text=text))
        assert told == ()
        patterns.append(pattern)
    return patterns[0], {(f"f{n}", f"f{n + 1}"): patterns[n + 1] for n in range(DEEPEST_IMPORTS)}


def test_a_ladder_of_files_is_entered_a_file_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    entered: list[str] = []
    names_of = declare._names_of

    def counted(ctx, pattern):  # type: ignore[no-untyped-def]
        entered.append(pattern.source.name)
        return names_of(ctx, pattern)

    monkeypatch.setattr(declare, "_names_of", counted)
    weave, _ = expand(*ladder(swapped=False))
    assert sorted(entered) == sorted(f"f{n}" for n in range(DEEPEST_IMPORTS + 1))
    assert weave.complete
    assert len(weave.pieces[0]) == 2 * 2 ** (DEEPEST_IMPORTS - 13)


def test_each_use_keeps_its_own_meaning_of_the_kinds() -> None:
    """By hand: each way down is the product of the exchanges on it; the ring at its end is what k0 has become."""
    weave, told = expand(*ladder(swapped=True))
    assert weave.complete, told

    def exchanged(depth: int, kind: int) -> int:
        one, other = depth % KINDS, (depth + 1 + depth // KINDS) % KINDS
        return {one: other, other: one}.get(kind, kind)

    def ends(depth: int) -> list[list[int]]:
        """For every way from this file down, in order of making, the depths whose use was the second one."""
        if depth == DEEPEST_IMPORTS:
            return [[]]
        below = ends(depth + 1)
        second = [[depth, *way] for way in below]
        return below + second if depth == 0 or depth > 12 else second

    expected = []
    for way in ends(0):
        kind = 0
        for depth in reversed(way):
            kind = exchanged(depth, kind)
        expected.append(kind)
    piece = weave.pieces[0]
    assert [weave.ring_kinds[number].name for number in piece.kind] == [f"k{kind}" for kind in expected]


def test_more_meanings_than_the_limit_are_told_and_not_gone_through(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(declare, "MOST_MEANINGS", 50)
    weave, told = expand(*ladder(swapped=True))
    assert not weave.complete
    assert {(each.rule, each.variant) for each in told if each.rule == "too-many-imports"} == {
        ("too-many-imports", "meanings")
    }
