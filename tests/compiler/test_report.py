"""The report: what a person sees, and what a machine reads."""

import json

import pytest

from compiler.report import as_json, as_text, message, printable, summary, tally
from notation.diagnostic import Diagnostic, Edit, Frame, Label, Place
from notation.limits import MOST_DIAGNOSTICS
from notation.source import Source, Span

TEXT = """\
kit: 30 small
piece earring made 2 times:
    pass 2 small as spoke
    take 3 small as
        loose
"""
SOURCES = {
    "lyra.annulet": Source(name="lyra.annulet", text=TEXT),
    "units/arm.annulet": Source(name="units/arm.annulet", text="\n\nunit arm:\n    pass 1 small\n"),
}


def at(found: str, source: str = "lyra.annulet") -> Place:
    """The place of a text in a source."""
    start = SOURCES[source].text.index(found)
    return Place(source=source, span=Span(start, start + len(found)))


def loose(place: Place, name: str = "spoke 3", **more: object) -> Diagnostic:
    return Diagnostic(
        rule="loose-part",
        variant="strand",
        place=place,
        arguments=(("name", name), ("rings", 2), ("piece", "earring")),
        **more,  # type: ignore[arg-type]
    )


def test_a_block_has_address_rule_message_line_mark_and_hint() -> None:
    assert as_text([loose(at("pass 2 small"))], SOURCES) == (
        "lyra.annulet:3:5: error[loose-part]: spoke 3 (2 rings) hangs on nothing\n"
        "  3 |     pass 2 small as spoke\n"
        "    |     ^^^^^^^^^^^^\n"
        "    => Pass it through a ring of the work, or leave it out.\n"
    )


def test_labels_and_trace_name_their_places() -> None:
    diagnostic = loose(
        at("pass 2 small"),
        labels=(
            Label(place=at("30 small"), note="kit-has", arguments=(("count", 30), ("kind", "small"))),
            Label(place=at("unit arm", "units/arm.annulet"), note="kit-begins"),
        ),
        trace=(
            Frame(place=at("piece earring"), note="round-named", arguments=(("name", "k"), ("number", 3))),
            Frame(place=at("pass 2 small"), note="more-places", arguments=(("count", 4),)),
        ),
    )
    assert as_text([diagnostic], SOURCES) == (
        "lyra.annulet:3:5: error[loose-part]: spoke 3 (2 rings) hangs on nothing\n"
        "  3 |     pass 2 small as spoke\n"
        "    |     ^^^^^^^^^^^^\n"
        "  1 | kit: 30 small\n"
        "    |      -------- the kit has 30 small\n"
        "    in units/arm.annulet:\n"
        "  3 | unit arm:\n"
        "    | -------- the kit\n"
        "    where k = 3 (line 2)\n"
        "    and 4 more times at this place, in other rounds or uses\n"
        "    => Pass it through a ring of the work, or leave it out.\n"
    )


def test_short_form_is_a_line_each() -> None:
    report = as_text([loose(at("take 3")), loose(at("pass 2"))], SOURCES, short=True)
    assert report.splitlines() == [
        "lyra.annulet:3:5: error[loose-part]: spoke 3 (2 rings) hangs on nothing",
        "lyra.annulet:4:5: error[loose-part]: spoke 3 (2 rings) hangs on nothing",
    ]


def test_a_place_of_several_lines_shows_the_first_and_names_the_last() -> None:
    report = as_text([loose(at("take 3 small as\n        loose"))], SOURCES)
    assert "    |     ^^^^^^^^^^^^^^^ to line 5\n" in report


def test_the_end_of_the_text_can_be_marked() -> None:
    end = len(SOURCES["lyra.annulet"].text)
    report = as_text([loose(Place(source="lyra.annulet", span=Span(end, end)))], SOURCES)
    assert report.splitlines()[1:3] == ["  6 |", "    | ^"]


def test_colour_is_only_there_when_asked_for() -> None:
    diagnostics = [loose(at("pass 2 small"))]
    plain, painted = as_text(diagnostics, SOURCES), as_text(diagnostics, SOURCES, colour=True)
    assert "\x1b" not in plain
    assert "\x1b[1m\x1b[31merror[loose-part]\x1b[0m" in painted
    stripped = painted
    for code in ("0", "1", "2", "31", "33", "34", "36"):
        stripped = stripped.replace(f"\x1b[{code}m", "")
    assert stripped == plain


@pytest.mark.parametrize(
    ("raw", "shown"),
    [
        ("\x1b[2J", "\\x1b[2J"),
        ("a\u202eb", "a\\u202eb"),
        ("\x9b", "\\x9b"),
        ("a\tb", "a    b"),
        ("\u2028", "\\u2028"),
        ("\U000e0041", "\\U000e0041"),
        ("Ærø 銅", "Ærø 銅"),
    ],
)
def test_what_would_not_show_is_written_out(raw: str, shown: str) -> None:
    assert printable(raw) == shown


def test_no_control_character_of_a_pattern_reaches_the_terminal() -> None:
    source = Source(name="bad\x1b.annulet", text="take\x1b[2J 1 \x07")
    place = Place(source=source.name, span=Span(4, 8))
    report = as_text([loose(place, name="a\x1bb")], {source.name: source})
    assert not any(ord(c) < 32 and c != "\n" for c in report)


def test_marks_stand_under_wide_and_combining_characters() -> None:
    text = "銅e\u0301 = x"
    source = Source(name="w", text=text)
    place = Place(source="w", span=Span(text.index("x"), text.index("x") + 1))
    lines = as_text([loose(place)], {"w": source}).splitlines()
    assert lines[2] == "    | " + " " * 6 + "^"  # two columns, one, none, and " = "


def test_a_long_line_is_shown_around_the_mistake() -> None:
    source = Source(name="w", text="a" * 5000 + "MISTAKE" + "b" * 5000)
    report = as_text([loose(Place(source="w", span=Span(5000, 5007)))], {"w": source})
    shown, marks = report.splitlines()[1:3]
    assert len(shown) < 200
    assert shown[marks.index("^") : marks.rindex("^") + 1] == "MISTAKE"


def test_the_same_thing_is_said_once_and_in_the_order_of_the_text() -> None:
    first, second = loose(at("pass 2")), loose(at("take 3"))
    report = as_text([second, first, second], SOURCES, short=True)
    assert [line.split(":")[1] for line in report.splitlines()] == ["3", "4"]


def test_beyond_the_limit_the_rest_is_counted() -> None:
    many = [loose(at("pass 2"), name=f"spoke {n}") for n in range(MOST_DIAGNOSTICS + 5)]
    lines = as_text(many, SOURCES, short=True).splitlines()
    assert len(lines) == MOST_DIAGNOSTICS + 1
    assert lines[-1] == "... and 5 more"


def test_summary_counts_by_severity() -> None:
    spare = Diagnostic(rule="spare-in-kit", place=at("kit"), arguments=(("spare", "2 small"),))
    unused = Diagnostic(rule="unused-in-kit", place=at("kit"), arguments=(("kind", "small"),))
    two = [loose(at("pass 2")), loose(at("take 3")), unused, spare]
    assert summary(two, ["lyra.annulet"]) == "2 errors, 1 warning, 1 piece of advice in lyra.annulet"
    assert summary([], ["lyra.annulet"]) == "nothing to put right in lyra.annulet"
    assert summary([unused], ["a", "b"]) == "1 warning in 2 files"
    assert tally(two).errors == 2


def test_a_value_with_braces_is_no_template() -> None:
    assert message(loose(at("kit"), name="{rings}")) == "{rings} (2 rings) hangs on nothing"


def test_json_has_places_as_people_count_and_as_offsets() -> None:
    diagnostic = loose(at("30 small"), edits=(Edit(place=at("30"), replacement="32"),))
    report = json.loads(as_json([diagnostic], SOURCES, ["lyra.annulet"]))
    assert (report["format"], report["version"], report["errors"]) == ("annulet-diagnostics", 1, 1)
    (found,) = report["diagnostics"]
    assert found["rule"] == "loose-part"
    assert found["start"] == {"offset": 5, "line": 1, "column": 6}
    assert found["end"] == {"offset": 13, "line": 1, "column": 14}
    assert found["edits"][0]["replacement"] == "32"
    assert found["arguments"] == {"name": "spoke 3", "rings": 2, "piece": "earring"}
