"""Text to `Pattern` and diagnostics: lines, tokens, the LALR automaton that Lark makes of the grammar, blocks.

In: `Source`. Out: the pattern as far as it could be read, and what is wrong with the rest. Never raises.

    Source(name="lyra.annulet", text='title "Lyra"\\nring small: inner 3 mm, wire 0.7 mm, metal copper\\n')

gives

    Pattern(statements=(
        HeadingLine(heading=Heading.TITLE, text=Text(value="Lyra")),
        RingLine(name=Name(text="small"), inner=Length(value=Decimal("3"), unit=LengthUnit.MM),
                 wire=Length(value=Decimal("0.7"), unit=LengthUnit.MM), metal=Name(text="copper"),
                 bundle=Bundle.AS_KIND),
    )), ()

The parser builds the nodes as it goes (`grammar.actions`), so that no tree is kept. On a slip its stacks are cut
back to where the line began and the tokens up to the next NEWLINE are passed over: the next line starts afresh.
"""

from __future__ import annotations

from typing import Any

from grammar.actions.statements import StatementActions
from grammar.automaton import Run, automaton
from grammar.blocks import assemble
from grammar.broken import broken_line
from grammar.lines import Lines, split
from grammar.slip import Slip
from grammar.tokens import ALSO_NAMES, NAME, NEWLINE, Token
from notation import limits
from notation.diagnostic import Diagnostic, sort_key
from notation.margin import Pattern, TopStatement
from notation.nodes import Both, Negative, Node, Not, PartOf, Select, Sum
from notation.source import Source, Span
from notation.statements import Broken, RowsTimes

_NESTING = (Sum, Negative, Both, Not, PartOf, Select, RowsTimes)
"""Nodes that can hold others of their kind."""
# A sum so deep has at least so many characters: shorter lines need not be looked at.
_LONG_LINE = 2 * limits.DEEPEST_SUMS


def parse(source: Source) -> tuple[Pattern, tuple[Diagnostic, ...]]:
    """The pattern of a text and the diagnostics, in order of their places."""
    actions = _LineActions(source.name)
    if len(source.text) > limits.LONGEST_FILE:
        span = Span(limits.LONGEST_FILE, len(source.text))
        actions.tell("over-limit", span, "file", most=limits.LONGEST_FILE, found=len(source.text))
        lines = split(Source(name=source.name, text=""))
    else:
        lines = split(source)
    for tab in lines.tabs:
        actions.tell("tab-indent", tab)
    statements: tuple[TopStatement, ...] = ()
    if _read(lines, source, actions):
        statements = assemble(lines.lines, actions.values, lines.masked, actions.tell)
    problems = sorted(actions.problems, key=sort_key)
    if len(problems) > limits.MOST_DIAGNOSTICS:
        # The last that is told of says that there are more.
        problems = problems[: limits.MOST_DIAGNOSTICS - 1]
        last = problems[-1].place.span
        actions.tell("over-limit", last, "diagnostics", most=limits.MOST_DIAGNOSTICS)
        problems.append(actions.problems[-1])
    pattern = Pattern(
        source=source,
        statements=statements,
        comments=lines.comments,
        blank_before=lines.blank_before,
        incomplete=bool(problems),
    )
    return pattern, tuple(problems)


class _LineActions(StatementActions):
    """The actions, and the values of the lines read so far."""

    def __init__(self, source_name: str) -> None:
        super().__init__(source_name)
        self.values: list[Any] = []

    def add(self, value: Any) -> None:
        """Takes what a line says."""
        span = value.span
        if span.end - span.start > _LONG_LINE and _depth(value) > limits.DEEPEST_SUMS:
            self.tell("over-limit", span, "sum", most=limits.DEEPEST_SUMS)
            value = Broken(word="", names=(), span=span)
        self.values.append(value)


def _read(lines: Lines, source: Source, actions: _LineActions) -> bool:
    """Reads all lines into `actions.values`; whether there was no need to give up."""
    machine = automaton()
    run = Run(machine, actions)
    feed, stack, values = run.feed, run.stack, run.values
    tokens: list[Token] = []
    slip_at = -1
    told_before = 0
    expected: frozenset[str] = frozenset()
    for token in machine.scanner.tokens(lines.masked):
        type_ = token.type
        tokens.append(token)
        if slip_at < 0:
            if type_ in ALSO_NAMES and not machine.is_due(type_, stack):
                token.type = NAME
            if not feed(token):
                slip_at = len(tokens) - 1
                expected = machine.due(stack)
        if type_ == NEWLINE:
            if slip_at < 0:
                actions.add(values[1])
            else:
                from grammar.explain import explain  # not needed for a pattern without slips

                line = lines.lines[len(actions.values)]
                explain(
                    Slip(
                        text=source.text,
                        line=line,
                        tokens=tuple(tokens),
                        at=slip_at,
                        expected=expected,
                        words=machine.scanner.words,
                        values=machine.values,
                        starters=machine.starters,
                        tell=actions.tell,
                    )
                )
                _forget_within_last(actions.problems, told_before)
                actions.values.append(broken_line(line, tokens))
                slip_at = -1
                if len(actions.problems) > limits.MOST_DIAGNOSTICS:
                    return False
            tokens.clear()
            told_before = len(actions.problems)
            run.next_line()
    return True


def _forget_within_last(problems: list[Diagnostic], start: int) -> None:
    """Leaves out what was told, from `start` on, about a part of what the last one is about."""
    whole = problems[-1].place.span
    kept = [
        problem
        for problem in problems[start:-1]
        if not (whole.start <= problem.place.span.start and problem.place.span.end <= whole.end)
    ]
    problems[start:-1] = kept


def _depth(node: Any) -> int:
    """How deep sums, conditions and picks of a statement lie within one another."""
    deepest = 0
    pending = [(node, 0)]
    while pending:
        part, depth = pending.pop()
        deepest = max(deepest, depth)
        if isinstance(part, tuple):
            pending.extend((inner, depth) for inner in part)
        elif hasattr(part, "make"):
            pending.extend((inner, depth) for inner in part.make.keywords.values())
        elif isinstance(part, Node):
            deeper = depth + isinstance(part, _NESTING)
            pending.extend((getattr(part, name), deeper) for name in part.__struct_fields__)
    return deepest
