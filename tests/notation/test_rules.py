"""The catalogue of rules: complete, each rule once, and every message can be filled."""

import ast
import re
import string
from collections import Counter
from pathlib import Path

import pytest

import notation
from notation.diagnostic import Severity
from notation.lengths import LengthProblem
from notation.rules.model import Wording
from notation.rules.syntax import error
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
    assert " " in rule.title
    assert "\n" not in rule.title
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


@pytest.fixture(scope="module")
def texts() -> frozenset[str]:
    """Every string that stands in the code of the stages."""
    return frozenset(
        node.value
        for path in CODE
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def test_every_rule_is_told_somewhere(texts: frozenset[str]) -> None:
    assert sorted(set(RULES) - texts) == []


def test_every_wording_of_a_rule_is_told_somewhere(texts: frozenset[str]) -> None:
    told = texts | {problem.value for problem in LengthProblem}
    variants = [(name, variant) for name, rule in RULES.items() for variant in rule.wordings]
    assert len(variants) > 300
    assert [
        (name, variant)
        for name, variant in variants
        if variant
        and variant not in told
        # "first-several" is told as "first" and what is put behind it.
        and not (variant.partition("-")[0] in told and f"-{variant.partition('-')[2]}" in told)
    ] == []


def test_variants_and_notes_have_names_like_rules() -> None:
    keys = [*NOTES, *(variant for rule in RULES.values() for variant in rule.wordings if variant)]
    assert [key for key in keys if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", key)] == []


def test_every_note_is_used_somewhere(texts: frozenset[str]) -> None:
    assert [key for key in NOTES if key not in texts] == []


def test_an_error_of_writing_is_named_with_hyphens_where_its_wordings_have_them() -> None:
    rule = error("a-rule", "a title", "a page", plain=Wording(says="a"), two_words=Wording(says="b"))
    assert (rule.name, rule.title, rule.page, rule.severity) == (
        *("a-rule", "a title", "a page"),
        Severity.ERROR,
    )
    assert dict(rule.wordings) == {"": Wording(says="a"), "two-words": Wording(says="b")}
