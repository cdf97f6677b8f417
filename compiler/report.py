"""Diagnostics to text for a terminal, or to JSON for a machine; the only place where messages are put together.

In: diagnostics and the sources they speak of. Out: one string. The words come from `notation.rules.table`, last
of all, so that another language is another table. Text from a pattern is shown with its control characters and
invisible marks written out, so that no file can move the cursor or hide a part of a line.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct, json

from notation.diagnostic import Diagnostic, Frame, Label, Place, Severity, Value, sort_key
from notation.limits import MOST_DIAGNOSTICS
from notation.rules.model import Rule, Wording
from notation.source import Position, Source

JSON_FORMAT = "annulet-diagnostics"
JSON_VERSION = 1

_LONGEST_SHOWN = 150
"""Characters of a source line that are shown; a longer one is shown around the mistake."""
_SHOWN_BEFORE = 50
"""Of a longer line, how many characters before the mistake."""
_WRITTEN_OUT = frozenset({"Cc", "Cf", "Zl", "Zp", "Cs", "Co", "Cn"})
"""Unicode categories that have no shape of their own or change the direction of what follows."""

_NOT_ASCII = re.compile(r"[^ -~\n]")
_RESET = "\x1b[0m"
_BOLD = "\x1b[1m"
_FAINT = "\x1b[2m"
_BLUE = "\x1b[34m"
_COLOURS = {Severity.ERROR: "\x1b[31m", Severity.WARNING: "\x1b[33m", Severity.ADVICE: "\x1b[36m"}


class Tally(Struct, frozen=True, kw_only=True):
    """How many diagnostics of each severity."""

    errors: int
    warnings: int
    advice: int


def tally(diagnostics: Iterable[Diagnostic]) -> Tally:
    """The diagnostics counted by severity."""
    found = [severity(diagnostic) for diagnostic in diagnostics]
    return Tally(
        errors=found.count(Severity.ERROR),
        warnings=found.count(Severity.WARNING),
        advice=found.count(Severity.ADVICE),
    )


def severity(diagnostic: Diagnostic) -> Severity:
    """How bad it is: a matter of the rule."""
    return _rule(diagnostic).severity


def message(diagnostic: Diagnostic) -> str:
    """What is wrong, one sentence without a full stop."""
    return _fill(_wording(diagnostic).says, diagnostic.arguments)


def hint(diagnostic: Diagnostic) -> str:
    """What to do, or nothing."""
    return _fill(_wording(diagnostic).hint, diagnostic.arguments)


# The texts of all rules are long; they are imported when there is something to tell, so that a clean check waits for
# none of them.


def _rule(diagnostic: Diagnostic) -> Rule:
    from notation.rules.table import RULES

    return RULES[diagnostic.rule]


def _wording(diagnostic: Diagnostic) -> Wording:
    return _rule(diagnostic).wordings[diagnostic.variant]


def _note(there: Label | Frame) -> str:
    """What is said of a further place."""
    from notation.rules.table import NOTES

    return _fill(NOTES[there.note], there.arguments)


def ordered(diagnostics: Iterable[Diagnostic]) -> list[Diagnostic]:
    """The diagnostics as a report has them: by file, then by place, each thing said once."""
    return sorted(dict.fromkeys(diagnostics), key=sort_key)


def as_text(
    diagnostics: Iterable[Diagnostic],
    sources: Mapping[str, Source],
    *,
    short: bool = False,
    colour: bool = False,
) -> str:
    """The report for people, a block for each diagnostic, or with `short` a line; empty if there is none."""
    found = ordered(diagnostics)
    writer = _Writer(sources, colour)
    for index, diagnostic in enumerate(found[:MOST_DIAGNOSTICS]):
        if index and not short:
            writer.line("")
        writer.headline(diagnostic)
        if not short:
            writer.body(diagnostic)
    more = len(found) - MOST_DIAGNOSTICS
    if more > 0:
        writer.line(f"... and {more} more")
    return writer.text()


def summary(diagnostics: Iterable[Diagnostic], names: Sequence[str]) -> str:
    """The last line of a report: `2 errors, 1 warning in lyra.annulet`."""
    counts = tally(dict.fromkeys(diagnostics))
    parts = [
        f"{count} {word if count == 1 else plural}"
        for count, word, plural in (
            (counts.errors, "error", "errors"),
            (counts.warnings, "warning", "warnings"),
            (counts.advice, "piece of advice", "pieces of advice"),
        )
        if count
    ]
    where = printable(names[0]) if len(names) == 1 else f"{len(names)} files"
    return f"{', '.join(parts) if parts else 'nothing to put right'} in {where}"


def as_json(diagnostics: Iterable[Diagnostic], sources: Mapping[str, Source], names: Sequence[str]) -> str:
    """The report for machines; `notation/diagnostics.md` describes it."""
    found = ordered(diagnostics)
    counts = tally(found)
    report = {
        "format": JSON_FORMAT,
        "version": JSON_VERSION,
        "files": list(names),
        "errors": counts.errors,
        "warnings": counts.warnings,
        "advice": counts.advice,
        "diagnostics": [_json_of(diagnostic, sources) for diagnostic in found],
    }
    return json.format(json.encode(report), indent=2).decode() + "\n"


def printable(text: str) -> str:
    """The text with what would not show, or would move the cursor, written out as an escape."""
    return "".join(map(_shown, text))


def harmless(text: str) -> str:
    """Lines of text with what would not show, or would move the cursor, written out as an escape."""
    return (
        text if text.isascii() and text.replace("\n", "").isprintable() else _NOT_ASCII.sub(_as_shown, text)
    )


def harmless_json(text: str) -> str:
    """JSON text that says the same, with those characters written as JSON writes them."""
    return text if text.isascii() and "\x7f" not in text else _NOT_ASCII.sub(_as_json_has_it, text)


def _as_shown(found: re.Match[str]) -> str:
    return _shown(found[0]) if found[0] != "\t" else "\t"


def _as_json_has_it(found: re.Match[str]) -> str:
    if unicodedata.category(found[0]) not in _WRITTEN_OUT:
        return found[0]
    units = found[0].encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{units[at : at + 4]}" for at in range(0, len(units), 4))


def _fill(template: str, arguments: tuple[tuple[str, Value], ...]) -> str:
    return template.format_map(dict(arguments))


def _json_of(diagnostic: Diagnostic, sources: Mapping[str, Source]) -> dict[str, object]:
    return {
        "rule": diagnostic.rule,
        "severity": severity(diagnostic).value,
        "message": message(diagnostic),
        "hint": hint(diagnostic) or None,
        **_json_place(diagnostic.place, sources),
        "arguments": dict(diagnostic.arguments),
        "labels": [
            {"note": _note(label), **_json_place(label.place, sources)} for label in diagnostic.labels
        ],
        "trace": [{"note": _note(frame), **_json_place(frame.place, sources)} for frame in diagnostic.trace],
        "edits": [
            {"replacement": edit.replacement, **_json_place(edit.place, sources)} for edit in diagnostic.edits
        ],
    }


def _json_place(place: Place, sources: Mapping[str, Source]) -> dict[str, object]:
    source = sources[place.source]
    ends = {}
    for name, offset in (("start", place.span.start), ("end", place.span.end)):
        position = source.position(offset)
        ends[name] = {"offset": offset, "line": position.line, "column": position.column}
    return {"file": place.source, **ends}


def _shown(character: str) -> str:
    if character == "\t":
        return "    "
    if unicodedata.category(character) not in _WRITTEN_OUT:
        return character
    code = ord(character)
    return f"\\x{code:02x}" if code < 256 else f"\\u{code:04x}" if code < 65536 else f"\\U{code:08x}"


def _width(shown: str) -> int:
    """Columns that a text takes on a terminal: wide East Asian characters two, combining marks none."""
    return sum(
        0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in shown
    )


class _Writer:
    """Puts the blocks of a report together."""

    def __init__(self, sources: Mapping[str, Source], colour: bool) -> None:
        self._sources = sources
        self._colour = colour
        self._lines: list[str] = []

    def text(self) -> str:
        return "".join(f"{line}\n" for line in self._lines)

    def line(self, text: str) -> None:
        self._lines.append(text)

    def headline(self, diagnostic: Diagnostic) -> None:
        """`lyra.annulet:14:9: error[lone-twin]: the twin of ...`."""
        level = severity(diagnostic)
        kind = self._painted(f"{level.value}[{diagnostic.rule}]", _BOLD + _COLOURS[level])
        says = self._painted(printable(message(diagnostic)), _BOLD)
        self.line(f"{self._address(diagnostic.place)}: {kind}: {says}")

    def body(self, diagnostic: Diagnostic) -> None:
        """The source lines with their marks, what to do, and the way there."""
        places = [diagnostic.place, *(label.place for label in diagnostic.labels)]
        gutter = max(len(str(self._position(place).line)) for place in places) + 2
        self._excerpt(diagnostic.place, gutter, "^", _COLOURS[severity(diagnostic)], "")
        for label in diagnostic.labels:
            note = printable(_note(label))
            if label.place.source != diagnostic.place.source:
                self.line(self._painted(f"{'':{gutter}} in {printable(label.place.source)}:", _FAINT))
            self._excerpt(label.place, gutter, "-", _BLUE, note)
        for frame in diagnostic.trace:
            note = printable(_note(frame))
            at = self._nearby(frame.place, diagnostic.place)
            self.line(self._painted(f"{'':{gutter}} {note}{at}", _FAINT))
        advice = hint(diagnostic)
        if advice:
            self.line(f"{'':{gutter}} {self._painted('=>', _BOLD)} {printable(advice)}")

    def _excerpt(self, place: Place, gutter: int, mark: str, colour: str, note: str) -> None:
        """The first line of a place with a mark under what is meant, and the note behind the mark."""
        source = self._sources[place.source]
        start, end = source.position(place.span.start), source.position(place.span.end)
        text = source.line_text(start.line)
        first = start.column - 1
        stop = end.column - 1 if end.line == start.line else len(text.rstrip())
        left, right = _window(len(text), first)
        before = ("…" if left else "") + printable(text[left:first])
        meant = printable(text[first : min(stop, right)])
        after = printable(text[max(first, min(stop, right)) : right]) + ("…" if right < len(text) else "")
        if end.line > start.line and end.column > 1:
            note = f"{note} (to line {end.line})" if note else f"to line {end.line}"
        number = self._painted(f"{start.line:>{gutter}} |", _FAINT)
        self.line(f"{number} {before}{meant}{after}".rstrip())
        marks = self._painted(mark * max(1, _width(meant)), colour)
        tail = f" {self._painted(note, colour)}" if note else ""
        bar = self._painted(f"{'':{gutter}} |", _FAINT)
        self.line(f"{bar} {' ' * _width(before)}{marks}{tail}")

    def _nearby(self, place: Place, here: Place) -> str:
        """Where another place is, as seen from here."""
        if place == here:
            return ""
        if place.source == here.source:
            return f" (line {self._position(place).line})"
        return f" ({self._address(place)})"

    def _address(self, place: Place) -> str:
        position = self._position(place)
        return f"{printable(place.source)}:{position.line}:{position.column}"

    def _position(self, place: Place) -> Position:
        return self._sources[place.source].position(place.span.start)

    def _painted(self, text: str, colour: str) -> str:
        return f"{colour}{text}{_RESET}" if self._colour else text


def _window(length: int, first: int) -> tuple[int, int]:
    """Which characters of a line are shown when the mistake begins at `first`."""
    if length <= _LONGEST_SHOWN:
        return 0, length
    left = max(0, min(first - _SHOWN_BEFORE, length - _LONGEST_SHOWN))
    return left, min(length, left + _LONGEST_SHOWN)
