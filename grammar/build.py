"""Makes `grammar/table.py`, the parser's table, from `grammar/annulet.lark`: `python -m grammar.build`.

Working the table out takes Lark some 0.1 s, loading it 2 ms; so it is made ahead and kept in the repository. It is
plain Python made of tuples, which compile to one constant. (Lark's own cache is a pickle in a shared folder, and
what it saves is dictionaries, which take longer to build up again than all the rest of the import.)
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lark import Lark

from grammar.automaton import START

FOLDER = Path(__file__).parent
GRAMMAR = FOLDER / "annulet.lark"
TABLE = FOLDER / "table.py"


def lark_of(grammar: str) -> Lark:
    """Lark's parser for a grammar, every token kept."""
    return Lark(
        grammar, parser="lalr", lexer="basic", start=START, keep_all_tokens=True, maybe_placeholders=False
    )


def table_of(grammar: str) -> str:
    """The text of `table.py` for the text of a grammar."""
    lark = lark_of(grammar)
    parser: Any = lark.parser.parser
    table = parser._parse_table
    terminals = [
        (terminal.name, terminal.pattern.value, terminal.pattern.type == "re")
        for terminal in sorted(lark.terminals, key=lambda terminal: terminal.name)
    ]
    rules = sorted(lark.rules, key=lambda rule: (rule.origin.name, rule.order, str(rule)))
    number_of = {rule: number for number, rule in enumerate(rules)}
    symbols = sorted({symbol for row in table.states.values() for symbol in row})
    symbol_of = {symbol: number for number, symbol in enumerate(symbols)}
    state_of = _in_order_of_reaching(table)
    rows = []
    for state in state_of:
        row: list[int] = []
        for symbol, (action, target) in sorted(table.states[state].items()):
            to_state = action.name == "Shift"
            row += (symbol_of[symbol], state_of[target] if to_state else -1 - number_of[target])
        rows.append(tuple(row))
    productions = [
        (
            str(rule.origin.name),
            len(rule.expansion),
            rule.alias or str(rule.origin.name),
            bool(rule.options.expand1 and not rule.alias and len(rule.expansion) == 1),
        )
        for rule in rules
    ]
    parts = {
        "TERMINALS": ("tuple[tuple[str, str, bool], ...]", terminals),
        "SYMBOLS": ("tuple[str, ...]", symbols),
        "PRODUCTIONS": ("tuple[tuple[str, int, str, bool], ...]", productions),
        "ROWS": ("tuple[tuple[int, ...], ...]", rows),
    }
    text = '"""The parser\'s table, made from `annulet.lark` by `python -m grammar.build`. Not written by hand.\n\n'
    text += "`grammar.automaton` tells what the parts are.\n"
    text += '"""\n\n# ruff: noqa\n# fmt: off\n'
    for name, (type_, values) in parts.items():
        lines = "".join(f"    {value!r},\n" for value in values)
        text += f"\n{name}: {type_} = (\n{lines})\n"
    text += f"\nSTART_STATE = {state_of[table.start_states[START]]}\n"
    return text + f"END_STATE = {state_of[table.end_states[START]]}\n"


def _in_order_of_reaching(table: Any) -> dict[int, int]:
    """A new number for each state, in the order a walk from the start meets them: Lark's own order varies."""
    found = {table.start_states[START]: 0}
    pending = [table.start_states[START]]
    for state in pending:
        for _, (action, target) in sorted(table.states[state].items()):
            if action.name == "Shift" and target not in found:
                found[target] = len(found)
                pending.append(target)
    return found


if __name__ == "__main__":
    TABLE.write_text(table_of(GRAMMAR.read_text(encoding="utf-8")), encoding="utf-8")
