"""Whole booklets against approved dumps of their pages, in `cases/pages`: `NAME.annulet` beside `NAME.txt`.

The dump shows every item with its place, so that a difference can be read. ANNULET_REWRITE=1 writes the dumps anew;
the difference is read like code. Figures are left out: they have tests of their own.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from compiler.booklet.compose import Options, compose
from compiler.booklet.dump import dump
from compiler.booklet.figuretypes import NO_FIGURES
from compiler.expand.driver import expand
from compiler.word.words import word
from grammar.parse import parse
from notation.source import Source

CASES = Path(__file__).parents[2] / "cases" / "pages"
PATTERNS = sorted(CASES.glob("*.annulet"))


def dumped(path: Path) -> str:
    pattern, told = parse(Source(name=path.name, text=path.read_text("utf-8")))
    weave, more = expand(pattern, {})
    assert (told, more) == ((), ())
    document = compose(weave, word(weave), NO_FIGURES, Options(edition="abc1234"))
    return "\n".join(dump(page) for page in document.pages)


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_the_pages_are_as_they_were_approved(path: Path) -> None:
    found, approved = dumped(path), path.with_suffix(".txt")
    if os.environ.get("ANNULET_REWRITE"):
        approved.write_text(found, "utf-8")
    assert found == approved.read_text("utf-8")


def test_every_dump_has_its_pattern() -> None:
    assert PATTERNS
    assert sorted(path.stem for path in CASES.glob("*.txt")) == [path.stem for path in PATTERNS]
