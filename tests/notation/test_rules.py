"""The catalogue of rules: complete, each rule once, and every message can be filled."""

import ast
import re
import string
from collections import Counter
from pathlib import Path

import pytest

import notation
from notation.rules.table import FAMILIES, NOTES, RULES

ROOT = Path(notation.__file__).parent.parent
CODE = [path for folder in ("grammar", "compiler") for path in sorted((ROOT / folder).rglob("*.py"))]


def test_no_two_families_have_a_rule_or_a_note_of_one_name() -> None:
    names = Counter(rule.name for family in FAMILIES for rule in family.RULES)
    assert [name for name, count in names.items() if count > 1] == []
    keys = Counter(key for family in FAMILIES for key in family.NOTES)
    assert [key for key, count in keys.items() if count > 1] == []
    assert (len(RULES), len(NOTES)) == (len(names), len(keys))


@pytest.mark.parametrize("name", sorted(RULES))
def test_a_rule_says_what_it_is_and_what_to_do(name: str) -> None:
    rule = RULES[name]
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name)
    assert rule.name == name
    assert rule.title
    assert rule.wordings
    assert len(rule.page) > 80
    for wording in rule.wordings.values():
        assert wording.says
        assert not wording.says.endswith(".")
        assert wording.hint == "" or wording.hint.endswith((".", "?"))


@pytest.mark.parametrize("name", sorted(RULES))
def test_fields_of_a_wording_are_plain_names(name: str) -> None:
    for wording in RULES[name].wordings.values():
        for text in (wording.says, wording.hint):
            for _, field, spec, conversion in string.Formatter().parse(text):
                assert field is None or field.isidentifier(), (name, field)
                assert not spec
                assert not conversion


def test_every_rule_is_told_somewhere() -> None:
    texts = {
        node.value
        for path in CODE
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert sorted(set(RULES) - texts) == []


def test_every_note_is_used_somewhere() -> None:
    texts = "".join(path.read_text("utf-8") for path in CODE)
    assert [key for key in NOTES if f'"{key}"' not in texts] == []
