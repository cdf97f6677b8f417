"""The LALR automaton that Lark works out from the grammar, and a run of it; the scanner, from the same.

In: `table.json`, which `grammar.build` makes. Out: `automaton()`, made once and changed by nothing, and `Run`, the
stacks of one text. Lark itself is not needed to read a pattern, only to make the table: importing it would take
longer than all that `check` does.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from msgspec import Struct
from msgspec.json import decode

from grammar.tokens import NAME, NUMBER, TEXT, Scanner, Token, scanner

START = "start"
"""The rule the parser starts with."""
END = "$END"
"""Lark's name for the end of all tokens."""
TABLE = Path(__file__).with_name("table.json")


class Production(Struct, frozen=True, array_like=True):
    """A rule of the grammar, as far as a parser needs it."""

    origin: str
    """The symbol that its parts make up."""
    size: int
    """Number of its parts."""
    action: str
    """Name of the method that builds the value."""
    hands_on: bool
    """The value is the only part's."""


class Table(Struct, frozen=True):
    """What `table.json` holds."""

    terminals: tuple[tuple[str, str, bool], ...]
    """Each its name, its text or regular expression, and whether it is the latter."""
    productions: tuple[Production, ...]
    start: int
    """The state at the beginning of a text."""
    states: tuple[dict[str, int], ...]
    """For each state what to do at a symbol: go on to state n, or, where n < 0, reduce production -1 - n."""


class Automaton:
    """The parser's table, and the scanner that goes with it."""

    def __init__(self, table: Table) -> None:
        self.terminals = table.terminals
        self.productions = table.productions
        self.states = table.states
        self.start = table.start
        self.scanner: Scanner = scanner(table.terminals)
        self.values: dict[str, str] = {name: text for name, text, is_re in table.terminals if not is_re}
        """The text of each terminal that is always written alike."""
        self.starters = self.due([table.start])
        """The terminals a statement can begin with."""

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
            if action >= 0:
                return True
            production = self.productions[-1 - action]
            from_above = min(production.size, len(above))
            del above[len(above) - from_above :]
            below -= production.size - from_above
            above.append(states[above[-1] if above else stack[below - 1]][production.origin])

    def due(self, stack: list[int]) -> frozenset[str]:
        """All terminals the parser takes now."""
        row = self.states[stack[-1]]
        return frozenset(
            symbol for symbol in row if symbol.isupper() and symbol != END and self.is_due(symbol, stack)
        )


class Run:
    """The automaton at work on one text: its two stacks, and what it calls to build the values."""

    def __init__(self, machine: Automaton, actions: Any) -> None:
        self.stack = [machine.start]
        """States, from the beginning of the text to here."""
        self.values: list[Any] = []
        """The value of what led to each state but the first."""
        self._states = machine.states
        self._terminals: dict[str, Callable[[Token], Any]] = {
            name: getattr(actions, name) for name in (NAME, NUMBER, TEXT)
        }
        self._productions: list[tuple[int, str, Callable[[list[Any]], Any]]] = [
            (each.size, each.origin, actions.same if each.hands_on else getattr(actions, each.action))
            for each in machine.productions
        ]

    def feed(self, token: Token) -> bool:
        """Takes a token, after every reduction that it brings about; False where it cannot stand here."""
        states, stack, values = self._states, self.stack, self.values
        terminal = token.type
        while True:
            action = states[stack[-1]].get(terminal)
            if action is None:
                return False
            if action >= 0:
                stack.append(action)
                build = self._terminals.get(terminal)
                values.append(token if build is None else build(token))
                return True
            size, origin, call = self._productions[-1 - action]
            parts: list[Any] = []
            if size:
                parts = values[-size:]
                del stack[-size:]
                del values[-size:]
            stack.append(states[stack[-1]][origin])
            values.append(call(parts))

    def next_line(self) -> None:
        """Back to where a line begins: two states are left, the start and the lines read so far."""
        del self.stack[2:]
        del self.values[1:]


@cache
def automaton() -> Automaton:
    """The one automaton."""
    return Automaton(decode(TABLE.read_bytes(), type=Table))
