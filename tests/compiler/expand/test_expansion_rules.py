"""Every rule and variant that the expansion tells is worded, with just the arguments that it passes.

The code of the stage is read with `ast`; a variant that is chosen by a condition counts with each choice.
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

from notation.diagnostic import Severity
from notation.rules import table
from notation.rules.expansion import family
from notation.rules.table import NOTES, RULES

STAGE = Path(__file__).parents[3] / "compiler" / "expand"
NOT_IN_A_MESSAGE = {"labels", "edits"}


def calls() -> Iterator[tuple[str, ast.Call, ast.FunctionDef]]:
    """Every call that tells something: `fail`, `report` or `unknown`, with the function that it stands in."""
    for path in sorted(STAGE.glob("*.py")):
        for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(function, ast.FunctionDef) or function.name in ("report", "fail", "unknown"):
                continue
            for node in ast.walk(function):
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                    word = node.func.attr
                    if word in ("fail", "report", "unknown"):
                        yield word, node, function


def texts_of(node: ast.expr, function: ast.FunctionDef) -> list[str]:
    """The texts that an expression can come to."""
    match node:
        case ast.Constant(value=str() as text):
            return [text]
        case ast.IfExp():
            return [*texts_of(node.body, function), *texts_of(node.orelse, function)]
        case ast.Name():
            given = [
                inner.value
                for inner in ast.walk(function)
                if isinstance(inner, ast.Assign) and ast.unparse(inner.targets[0]) == node.id
            ]
            if given:
                return [text for value in given for text in texts_of(value, function)]
    raise AssertionError(f"line {node.lineno}: cannot tell what {ast.unparse(node)} comes to")


def told() -> Iterator[tuple[str, str, str, frozenset[str]]]:
    """What the stage tells: by which call, rule, variant, names of the arguments."""
    for word, call, function in calls():
        names = frozenset(
            keyword.arg for keyword in call.keywords if keyword.arg and keyword.arg not in NOT_IN_A_MESSAGE
        )
        assert not any(keyword.arg is None for keyword in call.keywords)
        for rule in texts_of(call.args[0], function):
            if word == "unknown":
                yield word, rule, "", names | {"name"}
                yield word, rule, "close", names | {"name", "close"}
                continue
            variants = texts_of(call.args[2], function) if len(call.args) > 2 else [""]
            for variant in variants:
                yield word, rule, variant, names


def fields(rule: str, variant: str) -> frozenset[str]:
    """The fields of a wording."""
    wording = RULES[rule].wordings[variant]
    return frozenset(
        field for _, field, _, _ in Formatter().parse(wording.says + wording.hint) if field is not None
    )


def test_every_rule_and_variant_told_is_worded() -> None:
    missing = sorted({(r, v) for _, r, v, _ in told() if r not in RULES or v not in RULES[r].wordings})
    assert not missing


def test_nothing_is_worded_that_is_never_told() -> None:
    used = {(rule, variant) for _, rule, variant, _ in told()}
    worded = {(rule.name, variant) for rule in family.RULES for variant in rule.wordings}
    assert not worded - used


def test_a_wording_has_no_field_that_is_not_passed() -> None:
    for _, rule, variant, names in told():
        assert fields(rule, variant) <= names, (rule, variant)


def test_no_argument_is_passed_for_nothing() -> None:
    """Taken over all variants of a rule: one of them may say less than another."""
    for _, rule, variant, names in told():
        unsaid = names - frozenset().union(*(fields(rule, other) for other in RULES[rule].wordings))
        assert not unsaid, (rule, variant)


def test_what_fails_a_statement_is_an_error() -> None:
    for word, rule, _, _ in told():
        if word != "report":
            assert RULES[rule].severity is Severity.ERROR, rule


def test_no_name_of_a_rule_or_note_occurs_twice() -> None:
    families = table.FAMILIES
    names = [rule.name for one in families for rule in one.RULES]
    assert len(names) == len(set(names))
    notes = [key for one in families for key in one.NOTES]
    assert len(notes) == len(set(notes))


def notes_in(function: ast.FunctionDef) -> Iterator[tuple[str, frozenset[str]]]:
    """The notes on places that a function makes, each with the names of its arguments."""
    for node in ast.walk(function):
        if not isinstance(node, ast.Call) or ast.unparse(node.func) not in ("Label", "Frame"):
            continue
        passed = {keyword.arg: keyword.value for keyword in node.keywords}
        arguments = passed.get("arguments", ast.Tuple(elts=[]))
        if isinstance(arguments, ast.Name):
            arguments = next(
                inner.value
                for inner in ast.walk(function)
                if isinstance(inner, ast.Assign) and ast.unparse(inner.targets[0]) == arguments.id
            )
        note = passed["note"]
        assert isinstance(note, ast.Constant) and isinstance(arguments, ast.Tuple)
        pairs = [pair for pair in arguments.elts if isinstance(pair, ast.Tuple)]
        yield (
            str(note.value),
            frozenset(str(pair.elts[0].value) for pair in pairs if isinstance(pair.elts[0], ast.Constant)),
        )


def test_every_note_of_the_stage_is_worded_with_what_it_passes() -> None:
    found: dict[str, set[frozenset[str]]] = {}
    for path in sorted(STAGE.glob("*.py")):
        for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            for note, names in notes_in(function) if isinstance(function, ast.FunctionDef) else ():
                found.setdefault(note, set()).add(names)
    assert found.keys() == family.NOTES.keys()
    for note, passes in found.items():
        said = frozenset(field for _, field, _, _ in Formatter().parse(NOTES[note]) if field is not None)
        assert passes == {said}, note


def test_texts_are_whole_and_of_one_manner() -> None:
    for rule in family.RULES:
        assert rule.title[:1].islower() and not rule.title.endswith("."), rule.name
        assert rule.page.endswith("\n") and "What to do:" in rule.page, rule.name
        assert all(len(line) <= 110 for line in rule.page.splitlines()), rule.name
        for wording in rule.wordings.values():
            assert not wording.says.endswith("."), rule.name
            assert wording.hint.endswith((".", "?")), rule.name
