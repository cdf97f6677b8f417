"""Diagnostics as data: how they are made and in which order they are told."""

from __future__ import annotations

from notation.diagnostic import Diagnostic, Edit, Label, Place, Severity, diagnosed, sort_key
from notation.source import Span


def at(start: int, end: int, source: str = "lyra") -> Place:
    return Place(source=source, span=Span(start, end))


def test_a_diagnostic_keeps_what_its_message_says_in_the_order_given() -> None:
    label = Label(place=at(0, 1), note="first-made-here")
    edit = Edit(place=at(4, 6), replacement="")
    made = diagnosed("too-few", at(4, 6), "several", (label,), (edit,), there=3, name="arm")
    assert made == Diagnostic(
        rule="too-few",
        place=at(4, 6),
        variant="several",
        arguments=(("there", 3), ("name", "arm")),
        labels=(label,),
        edits=(edit,),
        trace=(),
    )


def test_a_diagnostic_of_a_rule_alone_says_nothing_more() -> None:
    made = diagnosed("too-few", at(4, 6))
    assert made == Diagnostic(rule="too-few", place=at(4, 6))
    assert (made.variant, made.arguments, made.labels, made.edits, made.trace) == ("", (), (), (), ())


def test_a_report_goes_by_file_then_place_then_rule_then_wording() -> None:
    ordered = [
        diagnosed("b", at(9, 9, "corvus")),
        diagnosed("c", at(1, 2)),
        diagnosed("a", at(1, 3)),
        diagnosed("b", at(1, 3)),
        diagnosed("b", at(1, 3), "many"),
        diagnosed("a", at(2, 3)),
    ]
    shuffled = [*ordered[3:], *ordered[:3]]
    assert sorted(shuffled, key=sort_key) == ordered


def test_how_bad_it_is_is_one_of_three_words() -> None:
    assert [severity.value for severity in Severity] == ["error", "warning", "advice"]
