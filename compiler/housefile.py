"""A house style by the name of its file; in: the name, out: the style, its warnings told, or one clear error."""

from __future__ import annotations

from pathlib import Path

from compiler.booklet.fonts import choose
from compiler.console import say
from compiler.report import printable
from compiler.style import HouseStyle


def house_style(name: str | None) -> HouseStyle:
    """The style of a file, the usual one where no file is named; its fonts hold from here on. Raises InputError."""
    if name is None:
        choose({})
        return HouseStyle()
    from compiler.housestyle import load_house_style  # YAML: only where there is a file to read
    from compiler.ownfiles import own_source, refuse

    read = load_house_style(own_source(name), Path(name).parent)
    for warning in read.warnings:
        say(printable(f"{name}:{warning.line}:{warning.column}: warning: {warning.message}"))
    refuse(name, read.problems)
    assert read.style is not None
    return read.style
