"""The YAML files beside a pattern: a stock, a house style; in: their names, out: what is in them, or one clear error.

What is wrong with such a file is told line by line, and then nothing else is done.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from compiler.console import say
from compiler.infile import InputError, ReadError, read_bytes
from compiler.report import printable
from compiler.yamlread import YamlProblem, read_yaml_bytes
from notation.source import Source

_SAYS = {
    "missing": "there is no such file",
    "folder": "it is a folder",
    "special": "it is not an ordinary file",
    "too-large": "it is too long",
}


def own_source(name: str) -> Source:
    """The text of a file. Raises InputError where it cannot be read or is no text."""
    try:
        data = read_bytes(Path(name))
    except ReadError as error:
        reason = _SAYS.get(error.variant, error.reason)
        raise InputError(f"Cannot read {printable(name)}: {reason}.") from error
    source, _, problems = read_yaml_bytes(name, data)
    refuse(name, problems)
    return source


def refuse(name: str, problems: Sequence[YamlProblem]) -> None:
    """Tells every problem in a line of its own. Raises InputError where there is one."""
    for problem in problems:
        say(printable(f"{name}:{problem.line}:{problem.column}: {problem.message}"))
    if problems:
        count = f"{len(problems)} {'mistake' if len(problems) == 1 else 'mistakes'}"
        raise InputError(f"{printable(name)} has {count}, and nothing is done.")
