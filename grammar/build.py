"""Makes `grammar/table.json`, the parser's table, from `grammar/annulet.lark`: `python -m grammar.build`.

Working the table out takes Lark some 0.1 s and importing Lark half as long; reading the table takes half a
millisecond. So it is made ahead and kept in the repository. (Lark's own cache is a pickle in a shared folder.)
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from lark import Lark
from msgspec.json import encode

from grammar.automaton import START, TABLE

FOLDER = Path(__file__).parent
GRAMMAR = FOLDER / "annulet.lark"


def lark_of(grammar: str) -> Lark:
    """Lark's parser for a grammar, every token kept."""
    return Lark(
        grammar, parser="lalr", lexer="basic", start=START, keep_all_tokens=True, maybe_placeholders=False
    )


def table_of(grammar: str) -> str:
    """The text of `table.json` for the text of a grammar."""
    lark = lark_of(grammar)
    parser: Any = lark.parser.parser
    table = parser._parse_table
    terminals = [
        (terminal.name, terminal.pattern.value, terminal.pattern.type == "re")
        for terminal in sorted(lark.terminals, key=lambda terminal: terminal.name)
    ]
    rules = sorted(lark.rules, key=lambda rule: (rule.origin.name, rule.order, str(rule)))
    number_of = {rule: number for number, rule in enumerate(rules)}
    state_of = _in_order_of_reaching(table)
    states = [
        {
            symbol: state_of[target] if action.name == "Shift" else -1 - number_of[target]
            for symbol, (action, target) in sorted(table.states[state].items())
        }
        for state in state_of
    ]
    productions = [
        (
            str(rule.origin.name),
            len(rule.expansion),
            rule.alias or str(rule.origin.name),
            bool(rule.options.expand1 and not rule.alias and len(rule.expansion) == 1),
        )
        for rule in rules
    ]
    parts: dict[str, Sequence[object]] = {
        "terminals": terminals,
        "productions": productions,
        "states": states,
    }
    lists = [f'"{name}": [\n{_one_a_line(values)}\n]' for name, values in parts.items()]
    return "{" + ",\n".join([*lists, f'"start": {state_of[table.start_states[START]]}']) + "}\n"


def _one_a_line(values: Sequence[object]) -> str:
    """Values of a JSON list, one a line, so that a change of the grammar shows as changed lines."""
    return ",\n".join(encode(value).decode() for value in values)


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
