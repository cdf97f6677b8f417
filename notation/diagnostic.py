"""What can be wrong with a pattern, as data: a rule, its typed arguments, and the places concerned.

A diagnostic holds no sentences. `notation.rules` has the texts and `compiler.report` renders them last, so that
another language is a matter of another catalogue. Comes from every stage, goes to the report.
"""

from __future__ import annotations

from enum import Enum

from msgspec import Struct

from notation.source import Span

Value = str | int
"""What a message may be filled with: a word or a whole number. Lengths arrive already printed."""


class Severity(Enum):
    """How bad it is: an error stops the booklet, a warning does not, advice is only told."""

    ERROR = "error"
    WARNING = "warning"
    ADVICE = "advice"


class Place(Struct, frozen=True, kw_only=True):
    """A stretch of one source text."""

    source: str
    """Name of the source, as in `Source.name`."""
    span: Span
    """Where in it, in characters."""


class Label(Struct, frozen=True, kw_only=True):
    """A further place that explains the mistake, such as where a name was first used."""

    place: Place
    note: str
    """Key of the note in the catalogue, for example `first-made-here`."""
    arguments: tuple[tuple[str, Value], ...] = ()


class Edit(Struct, frozen=True, kw_only=True):
    """A replacement that a machine can apply."""

    place: Place
    replacement: str


class Frame(Struct, frozen=True, kw_only=True):
    """One line of the trace into expanded text: which use of a unit, which round of a loop, which place."""

    place: Place
    note: str
    """Key of the note: `in-use`, `in-round`, `at-place`, `in-import`."""
    arguments: tuple[tuple[str, Value], ...] = ()


class Diagnostic(Struct, frozen=True, kw_only=True):
    """One mistake or doubt about a pattern."""

    rule: str
    """Stable kebab-case name from `notation.rules`."""
    place: Place
    variant: str = ""
    """Which of the rule's messages, where it has several."""
    arguments: tuple[tuple[str, Value], ...] = ()
    labels: tuple[Label, ...] = ()
    edits: tuple[Edit, ...] = ()
    trace: tuple[Frame, ...] = ()
    """From the innermost use or round outwards."""


def diagnosed(
    rule: str,
    place: Place,
    variant: str = "",
    labels: tuple[Label, ...] = (),
    edits: tuple[Edit, ...] = (),
    **arguments: Value,
) -> Diagnostic:
    """A diagnostic of a rule; `arguments` are what its message says."""
    return Diagnostic(
        rule=rule,
        variant=variant,
        place=place,
        arguments=tuple(arguments.items()),
        labels=labels,
        edits=edits,
    )


def sort_key(diagnostic: Diagnostic) -> tuple[str, int, int, str, str]:
    """Order of a report: by file, then by place, then by rule."""
    place = diagnostic.place
    return (place.source, place.span.start, place.span.end, diagnostic.rule, diagnostic.variant)
