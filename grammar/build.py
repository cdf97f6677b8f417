"""Makes `grammar/table.py`, the parser's table, from `grammar/annulet.lark`: `python -m grammar.build`.

Building the table takes some 0.1 s, loading it a few ms; so it is made ahead and kept in the repository. It is plain
Python, as Lark's own cache is a pickle: no file is ever run that a stranger could have put there.
"""

from __future__ import annotations

from pathlib import Path

from lark import Lark
from lark.grammar import Rule
from lark.lexer import TerminalDef

FOLDER = Path(__file__).parent
GRAMMAR = FOLDER / "annulet.lark"
TABLE = FOLDER / "table.py"


def lark_of(grammar: str) -> Lark:
    """Lark's parser for a grammar, every token kept and no tree built out of lists."""
    return Lark(grammar, parser="lalr", lexer="basic", keep_all_tokens=True, maybe_placeholders=False)


def table_of(grammar: str) -> str:
    """The text of `table.py` for the text of a grammar."""
    data, memo = lark_of(grammar).memo_serialize([TerminalDef, Rule])
    return f'''"""The parser's table, made from `annulet.lark` by `python -m grammar.build`. Not written by hand."""

# ruff: noqa
# fmt: off
from typing import Any

DATA: Any = {data!r}

MEMO: Any = {memo!r}
'''


if __name__ == "__main__":
    TABLE.write_text(table_of(GRAMMAR.read_text(encoding="utf-8")), encoding="utf-8")
