"""Every example of the language reference is a pattern that checks clean and is in canonical form."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from compiler.expand.driver import expand
from grammar.format import format_pattern
from grammar.parse import parse
from notation.source import Source

REFERENCE = Path(__file__).parent.parent / "notation" / "reference.md"
EXAMPLES = re.findall(
    r"^```annulet\n(.*?)^```$", REFERENCE.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL
)


def title_of(text: str) -> str:
    match = re.search(r"^(?:piece|unit) (\S+?)[:( ]", text, re.MULTILINE)
    return match.group(1) if match else "example"


def test_the_reference_has_examples() -> None:
    assert len(EXAMPLES) >= 12


@pytest.mark.parametrize("text", EXAMPLES, ids=[title_of(text) for text in EXAMPLES])
def test_example_checks_clean_and_is_canonical(text: str) -> None:
    pattern, slips = parse(Source(name="example", text=text))
    assert slips == ()
    weave, told = expand(pattern, {})
    assert [
        diagnostic.rule for diagnostic in told if diagnostic.rule not in ("no-title", "unused-kind")
    ] == []
    assert weave.complete
    assert all(len(piece) > 0 for piece in weave.pieces)
    assert format_pattern(pattern) == text


FIRST_CHAPTERS = REFERENCE.read_text(encoding="utf-8").partition("\n## 4. ")[0]
LATER = (
    "behind|front|over|under|between|inside|around|eye of|joint|fold|spread|lean|turn|mirrored|nested|helper|hand|"
    "plain|crossed|clockwise|anticlockwise|closed|side"
)
"""Words of chapters 8 to 11, which tell weaves apart that have the same links."""


def test_nothing_that_tells_look_alikes_apart_is_needed_in_the_first_three_chapters() -> None:
    code = re.findall(r"^```annulet\n(.*?)^```$", FIRST_CHAPTERS, re.MULTILINE | re.DOTALL)
    code += re.findall(r"`([^`\n]+)`", re.sub(r"```.*?```", "", FIRST_CHAPTERS, flags=re.DOTALL))
    assert len(code) > 40
    assert [text for text in code if re.search(rf"\b(?:{LATER})\b", text)] == []
