"""The parser's table as Lark wants it, from `grammar.table`; the scanner, from the same.

In: the generated tuples. Out: `automaton()`, made once and changed by nothing. `grammar.parse` runs it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from lark.grammar import NonTerminal
from lark.parsers.lalr_analysis import IntParseTable, Reduce, Shift
from lark.parsers.lalr_parser_state import ParseConf

from grammar import table
from grammar.tokens import NAME, NUMBER, TEXT, Scanner, scanner

START = "start"
"""The rule the parser starts with."""

END = "$END"
"""Lark's name for the end of all tokens."""

Row = dict[str, tuple[Any, Any]]
"""What to do in a state for each symbol: shift to a state, or reduce a production."""


class Production:
    """A rule of the grammar as Lark's parser needs it. Not `lark.grammar.Rule`, whose hash is worked out in Python."""

    __slots__ = ("action", "expansion", "hands_on", "origin")

    def __init__(self, origin: str, size: int, action: str, hands_on: bool) -> None:
        self.origin = NonTerminal(origin)
        self.expansion = (None,) * size
        """Only its length matters here."""
        self.action = action
        """Name of the method that builds the value."""
        self.hands_on = hands_on
        """The value is the only child's."""


class Automaton:
    """The parser's table, and the scanner that goes with it."""

    def __init__(self) -> None:
        self.scanner: Scanner = scanner(table.TERMINALS)
        self.productions = [Production(*production) for production in table.PRODUCTIONS]
        reductions = [(Reduce, production) for production in self.productions]
        symbols = table.SYMBOLS
        self.states: dict[int, Row] = {
            number: {
                symbols[row[at]]: (Shift, row[at + 1]) if row[at + 1] >= 0 else reductions[-1 - row[at + 1]]
                for at in range(0, len(row), 2)
            }
            for number, row in enumerate(table.ROWS)
        }
        make_table: Any = IntParseTable
        self._table: Any = make_table(self.states, {START: table.START_STATE}, {START: table.END_STATE})

        self.values: dict[str, str] = {name: text for name, text, is_re in table.TERMINALS if not is_re}
        """The text of each terminal that is always written alike."""
        self.starters = self.due([table.START_STATE])
        """The terminals a statement can begin with."""

    def configured(self, actions: Any) -> ParseConf[int]:
        """Lark's settings for one run: the table, and which method of `actions` to call for what."""
        hand_on = actions.same
        calls: dict[Any, Callable[..., Any]] = {
            production: hand_on if production.hands_on else getattr(actions, production.action)
            for production in self.productions
        }
        calls |= {name: getattr(actions, name) for name in (NAME, NUMBER, TEXT)}
        return ParseConf(self._table, calls, START)

    def is_due(self, terminal: str, stack: list[int]) -> bool:
        """Whether the parser takes a terminal now: reductions tried out, then a shift.

        The row of one state does not tell: in LALR it also holds what may follow elsewhere.
        """
        states = self.states
        below = len(stack)
        above: list[int] = []
        while True:
            action = states[above[-1] if above else stack[below - 1]].get(terminal)
            if action is None:
                return False
            kind, production = action
            if kind is Shift:
                return True
            from_above = min(len(production.expansion), len(above))
            del above[len(above) - from_above :]
            below -= len(production.expansion) - from_above
            above.append(states[above[-1] if above else stack[below - 1]][production.origin.name][1])

    def due(self, stack: list[int]) -> frozenset[str]:
        """All terminals the parser takes now."""
        row = self.states[stack[-1]]
        return frozenset(
            symbol for symbol in row if symbol.isupper() and symbol != END and self.is_due(symbol, stack)
        )


@cache
def automaton() -> Automaton:
    """The one automaton."""
    return Automaton()
