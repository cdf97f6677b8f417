"""Blocks: what is told of indentation, once and with the place of the header, and how deep blocks may be."""

from __future__ import annotations

import pytest

from grammar.parse import parse
from notation import limits
from notation.diagnostic import Diagnostic
from notation.margin import PieceBlock
from notation.source import Source, Span

HEAD = 'title "Corvus"\nring link: inner 5 mm, wire 0.9 mm, metal copper\n'


def read(text: str) -> tuple[PieceBlock, tuple[Diagnostic, ...]]:
    pattern, told = parse(Source(name="corvus.annulet", text=HEAD + text))
    return pattern.statements[-1], told


def told(text: str) -> list[str]:
    """The rules with their variants and the text of their place."""
    source = HEAD + text
    return [
        f"{one.rule}/{one.variant}: {source[slice(*one.place.span)]}".replace("/:", ":")
        for one in read(text)[1]
    ]


def test_lines_between_two_blocks_are_told_once_in_a_row_and_read() -> None:
    text = """\
piece arm:
    repeat 2 times:
        take 1 link
      take 2 link
      take 3 link
        take 4 link
    take 5 link
"""
    piece, diagnostics = read(text)
    assert told(text) == ["uneven-indent: take 2 link"]
    assert dict(diagnostics[0].arguments) == {"found": 6, "inner": 8}
    (label,) = diagnostics[0].labels
    assert (HEAD + text)[slice(*label.place.span)].startswith("repeat 2 times:")
    assert label.note == "block-here"
    assert [len(piece.body), len(piece.body[0].body)] == [2, 4]


def test_of_two_blocks_each_tells_its_own_uneven_line() -> None:
    block = "    repeat 2 times:\n        take 1 link\n      take 2 link\n"
    assert told(f"piece arm:\n{block}{block}") == ["uneven-indent: take 2 link"] * 2


def test_an_indented_line_without_a_header_is_told_and_read_as_if_it_stood_further_out() -> None:
    text = "piece arm:\n    take 1 link\n        take 2 link\n        take 3 link\n    take 4 link\n"
    piece, _ = read(text)
    assert told(text) == ["unexpected-indent: take 2 link"]
    assert len(piece.body) == 4
    first = '    title "Corvus"\n'
    pattern, diagnostics = parse(Source(name="corvus.annulet", text=first))
    assert [(one.rule, one.variant, one.place.span) for one in diagnostics] == [
        ("unexpected-indent", "first", Span(4, 18))
    ]
    assert len(pattern.statements) == 1


@pytest.mark.parametrize(
    ("body", "rules"),
    [
        ("    else:\n        take 1 link\n", ["else-without-if: else:"]),
        (
            "    if 1 < 2:\n        take 1 link\n    take 1 link\n    else:\n        take 1 link\n",
            ["else-without-if: else:"],
        ),
        (
            "    if 1 < 2:\n        take 1 link\n    else:\n        take 1 link\n    else:\n        take 1 link\n",
            ["else-without-if/after-else: else:"],
        ),
        (
            "    if 1 < 2:\n        take 1 link\n    else:\n        take 1 link\n"
            "    else if 1 < 2:\n        take 1 link\n",
            ["else-without-if/after-else: else if 1 < 2:"],
        ),
        (
            "    if 1 < 2:\n        take 1 link\n    else if 2 < 1:\n        take 1 link\n"
            "    else:\n        take 1 link\n",
            [],
        ),
    ],
)
def test_else_stands_under_its_if_and_once(body: str, rules: list[str]) -> None:
    assert told(f"piece arm:\n{body}") == rules


def test_what_goes_on_from_an_if_that_could_not_be_read_is_not_told_again() -> None:
    body = "    if 1 <:\n        take 1 link\n    else if 2 < 3:\n        take 1 link\n    else:\n        take 1 link\n"
    assert len(told(f"piece arm:\n{body}")) == 1
    branches = ("if 1 < 2", "else if 1 <", "else")
    broken = "".join(f"    {branch}:\n        take 1 link\n" for branch in branches)
    assert len(told(f"piece arm:\n{broken}")) == 1
    behind = f"{body}    take 1 link\n    else:\n        take 1 link\n"
    assert [rule for rule in told(f"piece arm:\n{behind}") if rule.startswith("else")] == [
        "else-without-if: else:"
    ]


@pytest.mark.parametrize(
    "header", ["repeat 2 times:", "for k from 1 to 2:", "for each k in arm:", "line a of 2:"]
)
def test_a_header_without_a_block_is_told_and_the_next_line_is_not_held_against_it(header: str) -> None:
    assert told(f"piece arm:\n    {header}\n    take 1 link\n") == [f"missing-block: {header}"]
    assert told(f"piece arm:\n    {header}\n") == [f"missing-block: {header}"]


def blocks(depth: int) -> str:
    """A piece and so many blocks within it, the last with a ring."""
    lines = [f"{'    ' * (level + 1)}repeat 1 times:\n" for level in range(depth - 1)]
    return "piece arm:\n" + "".join(lines) + "    " * depth + "take 1 link\n"


def test_blocks_may_be_as_deep_as_the_limit_and_no_deeper() -> None:
    assert told(blocks(limits.DEEPEST_BLOCKS)) == []
    (one,) = read(blocks(limits.DEEPEST_BLOCKS + 1))[1]
    assert (one.rule, one.variant, dict(one.arguments)) == (
        "over-limit",
        "blocks",
        {"most": limits.DEEPEST_BLOCKS},
    )


def chain(count: int) -> str:
    """A piece with an `if` and so many that go on from it."""
    branch = "    else if 1 < 2:\n        take 1 link\n"
    return f"piece arm:\n    if 1 < 2:\n        take 1 link\n{branch * count}"


def test_each_else_if_lies_in_the_one_before() -> None:
    assert told(chain(limits.DEEPEST_BLOCKS - 2)) == []
    assert [rule.partition(":")[0] for rule in told(chain(limits.DEEPEST_BLOCKS - 1))] == [
        "over-limit/blocks"
    ]


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("take 1 link\n", "misplaced/at-margin: take 1 link"),
        ('piece arm:\n    title "Vela"\n    take 1 link\n', 'misplaced/margin-only: title "Vela"'),
        (
            'piece arm:\n    step "a":\n        step "b":\n            take 1 link\n',
            'misplaced/step-in-step: step "b":',
        ),
        ("piece arm:\n    twin through a\n    take 1 link\n", "misplaced/twin: twin through a"),
        ("piece arm:\n    pass 2 link:\n        take 1 link\n", "misplaced/not-a-twin: take 1 link"),
        (
            "piece arm:\n    pass 2 link:\n        twin through a\n        twin through b\n",
            "misplaced/second-twin: twin through b",
        ),
        ("variant heavy:\n    piece arm:\n        take 1 link\n", "misplaced/not-of-a-variant: piece arm:"),
        ("unit arm:\n    length 100 mm varying n\n", "misplaced/length-of-a-piece: length 100 mm varying n"),
        ("length 100 mm\n", "misplaced/length: length 100 mm"),
    ],
)
def test_what_stands_where_it_may_not_is_told(text: str, rule: str) -> None:
    assert told(text) == [rule]


def test_of_several_misplaced_lines_in_a_row_the_first_is_told() -> None:
    assert told("take 1 link\ntake 2 link\nlet n = 1\ntake 3 link\n") == [
        "misplaced/at-margin: take 1 link",
        "misplaced/at-margin: take 3 link",
    ]


def test_a_heading_comes_once() -> None:
    text = 'by "A"\nby "B"\nby "C"\n'
    assert told(text) == ['duplicate-heading: by "B"', 'duplicate-heading: by "C"']
    assert [dict(one.arguments) for one in read(text)[1]] == [{"word": "by"}] * 2
    for one in read(text)[1]:
        assert [(HEAD + text)[slice(*label.place.span)] for label in one.labels] == ['by "A"']
