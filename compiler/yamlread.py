"""Strict YAML: a text to nodes that know their place, and typed values taken out of them.

In: a `Source` in a small part of YAML 1.1: one document of mappings, sequences and scalars. Out: nodes, or
problems with their places. It is no stage of its own: it serves the files beside a pattern (metals of one's
own, lists of words).

PyYAML does the scanning, event by event, and never builds an object: no tags, anchors, aliases or directives,
no guessing of types (`no`, `012`, `12:30` and `1e3` stay text until a caller asks for a type), no repeated
key, no recursion whatever the nesting. Bad input is a problem, never an exception.

    "a: [1, 2]"         ->  (mapping of `a` to a sequence of two scalars, no problem)
    "a: 1" above "a: 2" ->  (None, a problem at 2:1: `a` is given twice; it is first given in line 1)
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from difflib import get_close_matches
from typing import NamedTuple

import yaml
from yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    DocumentStartEvent,
    Event,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
    SequenceStartEvent,
)
from yaml.reader import ReaderError

from notation.source import Source, Span, decode

MOST_CHARACTERS = 200_000
"""Longest text that is read. The scanner is plain Python; a longer file is a mistake or an attack."""
DEEPEST_NESTING = 20
"""Most mappings and sequences inside each other."""
MOST_DIGITS = 30
"""Most digits of a number, so that no number is slow to read or to print."""

_INTEGER = re.compile(r"-?(?:0|[1-9][0-9]*)")
_DECIMAL = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
_BOOLEANS = {"true": True, "false": False}


@dataclass(frozen=True, slots=True, kw_only=True)
class YamlProblem:
    """What is wrong in a YAML text, and where. Problems of one text sort by place."""

    line: int
    """From 1."""
    column: int
    """From 1, in characters."""
    span: Span
    """The place in the text of the source."""
    message: str
    """One sentence for the writer of the file, without a full stop at its end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YamlScalar:
    """A single value as text."""

    text: str
    """The value with quotes and escapes resolved."""
    is_plain: bool
    """Written without quotes and not as a block, so it may stand for a number or a truth value."""
    span: Span = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class YamlSequence:
    """A list of values."""

    items: tuple["YamlNode", ...]
    span: Span = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class YamlEntry:
    """A key of a mapping with its value."""

    key: YamlScalar
    value: "YamlNode"


@dataclass(frozen=True, slots=True, kw_only=True)
class YamlMapping:
    """Keys with values in the order written; no key twice."""

    entries: tuple[YamlEntry, ...]
    span: Span = field(compare=False, repr=False)


YamlNode = YamlScalar | YamlSequence | YamlMapping


class _Open(NamedTuple):
    """A mapping or sequence whose end has not come yet; of a mapping the parts are key, value, key, value."""

    is_mapping: bool
    is_flow: bool
    start: int
    parts: list[YamlNode]


class _Builder:
    """Events of one text in, its root node and problems out. The stack is a list: nesting is no recursion."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self._open: list[_Open] = []
        self._documents = 0
        self.root: YamlNode | None = None
        self.problems: list[YamlProblem] = []
        self.reached = 0

    def problem(self, span: Span, message: str) -> None:
        self.problems.append(_problem_at(self._source, span, message))

    def take(self, event: Event) -> bool:
        """Adds one event; False when reading on makes no sense."""
        span = _span(event)
        self.reached = span.end
        if isinstance(event, DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                self.problem(span, "a second document begins here; a file holds one")
                return False
            if event.version or event.tags:
                self.problem(span, "directives (`%YAML`, `%TAG`) are not taken here")
        elif isinstance(event, NodeEvent):
            return self._take_node(event, span)
        elif isinstance(event, CollectionEndEvent):
            self._close(span.end)
        return True

    def _take_node(self, event: NodeEvent, span: Span) -> bool:
        if isinstance(event, AliasEvent):
            self.problem(span, f"`*{event.anchor}` repeats another part; write it out here")
            self._add(YamlScalar(text="", is_plain=False, span=span))
            return True
        if event.anchor is not None:
            self.problem(span, f"the anchor `&{event.anchor}` is not taken here; leave it out")
        if getattr(event, "tag", None) is not None:
            self.problem(span, "tags (`!...`) are not taken here; leave it out")
        if isinstance(event, ScalarEvent):
            self._check_characters(event.value, span)
            self._add(YamlScalar(text=event.value, is_plain=event.style is None, span=span))
        elif isinstance(event, MappingStartEvent | SequenceStartEvent):
            if len(self._open) == DEEPEST_NESTING:
                self.problem(span, f"nested more than {DEEPEST_NESTING} deep")
                return False
            is_mapping = isinstance(event, MappingStartEvent)
            self._open.append(_Open(is_mapping, bool(event.flow_style), span.start, []))
        return True

    def _check_characters(self, text: str, span: Span) -> None:
        # An escape can name what the text must not hold: a lone surrogate would break the first output.
        for character in text:
            if unicodedata.category(character) in ("Cc", "Cs") and character not in "\n\t":
                self.problem(span, f"the character U+{ord(character):04X} is not taken in a value")
                return

    def _add(self, node: YamlNode) -> None:
        if self._open:
            self._open[-1].parts.append(node)
        else:
            self.root = node

    def _close(self, end_mark: int) -> None:
        opened = self._open.pop()
        # The scanner places the end of an indented block at the next token, lines below its last value.
        in_brackets = opened.is_flow or not opened.parts
        span = Span(opened.start, end_mark if in_brackets else opened.parts[-1].span.end)
        if opened.is_mapping:
            self._add(YamlMapping(entries=self._entries(opened.parts), span=span))
        else:
            self._add(YamlSequence(items=tuple(opened.parts), span=span))

    def _entries(self, parts: list[YamlNode]) -> tuple[YamlEntry, ...]:
        entries: list[YamlEntry] = []
        first: dict[str, YamlScalar] = {}
        for key, value in zip(parts[::2], parts[1::2], strict=True):
            if not isinstance(key, YamlScalar):
                self.problem(key.span, "a key is a single word or text, not a list or a mapping")
            elif key.text in first:
                line = self._source.position(first[key.text].span.start).line
                self.problem(key.span, f"`{key.text}` is given twice; it is first given in line {line}")
            else:
                first[key.text] = key
                entries.append(YamlEntry(key=key, value=value))
        return tuple(entries)


def _span(event: Event) -> Span:
    """The place of an event of the pure Python scanner, which always marks both ends."""
    assert event.start_mark is not None
    assert event.end_mark is not None
    return Span(event.start_mark.index, event.end_mark.index)


def _problem_at(source: Source, span: Span, message: str) -> YamlProblem:
    line, column = source.position(span.start)
    return YamlProblem(line=line, column=column, span=span, message=message)


def read_yaml(source: Source) -> tuple[YamlNode | None, tuple[YamlProblem, ...]]:
    """The root node of the text and no problem, or None and the problems in order of place."""
    if len(source.text) > MOST_CHARACTERS:
        message = f"the file is longer than {MOST_CHARACTERS} characters"
        return None, (_problem_at(source, Span(0, 0), message),)
    builder = _Builder(source)
    _feed(builder, source)
    if builder.root is None and not builder.problems:
        builder.problem(Span(0, 0), "there is nothing in the file")
    problems = tuple(sorted(builder.problems, key=lambda problem: problem.span))
    return (None, problems) if problems else (builder.root, ())


def _feed(builder: _Builder, source: Source) -> None:
    """Runs the scanner over the text into the builder; what the scanner refuses becomes a problem."""
    end = len(source.text)
    try:
        for event in yaml.parse(source.text, Loader=yaml.SafeLoader):
            if not builder.take(event):
                break
    except ReaderError as error:
        character = f"U+{ord(source.text[error.position]):04X}"
        span = Span(error.position, error.position + 1)
        builder.problem(span, f"the character {character} is not taken in a YAML text")
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        start = end if mark is None else min(mark.index, end)
        if source.text[start : start + 1] == "\t":
            message = "a tab cannot stand here; indent with spaces"
        else:
            message = f"this cannot be read as YAML: {error.problem or error.context}"
        builder.problem(Span(start, min(start + 1, end)), message)
    except (ValueError, OverflowError):
        # PyYAML lets these through for `\U` escapes beyond Unicode and for endless version numbers.
        start = min(builder.reached, end)
        message = "what follows here cannot be read as YAML: it holds a number too large"
        builder.problem(Span(start, min(start + 1, end)), message)


def read_yaml_bytes(name: str, data: bytes) -> tuple[Source, YamlNode | None, tuple[YamlProblem, ...]]:
    """The source made of the bytes, with what `read_yaml` gives; bytes that are no UTF-8 are a problem."""
    text, bad = decode(data)
    source = Source(name=name, text=text)
    if bad is not None:
        message = f"the byte 0x{bad.byte:02X} is not UTF-8 text; save the file as UTF-8"
        return source, None, (_problem_at(source, bad.span, message),)
    return source, *read_yaml(source)


class YamlTaker:
    """Takes typed values out of nodes; each method gives the value, or None after noting a problem.

    A None node (a key that is not there) gives None without a problem, so that one mistake is told once.
    """

    def __init__(self, source: Source) -> None:
        self._source = source
        self._problems: list[YamlProblem] = []

    @property
    def problems(self) -> tuple[YamlProblem, ...]:
        """The problems noted so far, in order of place."""
        return tuple(sorted(self._problems, key=lambda problem: problem.span))

    @property
    def problem_count(self) -> int:
        """Number of problems noted so far."""
        return len(self._problems)

    def problem(self, node: YamlNode, message: str) -> None:
        """Notes a problem of the caller's own at a node."""
        self._problems.append(_problem_at(self._source, node.span, message))

    def entries(self, node: YamlNode | None) -> tuple[YamlEntry, ...] | None:
        """Keys and values of a mapping whose keys are free."""
        if isinstance(node, YamlMapping):
            return node.entries
        if node is not None:
            self.problem(node, "a mapping is expected here: `key: value`")
        return None

    def mapping(
        self, node: YamlNode | None, required: Iterable[str], optional: Iterable[str] = ()
    ) -> dict[str, YamlNode] | None:
        """Values by key. A required key that is missing and a key that is not known are problems; the known
        keys that are there are given all the same."""
        entries = self.entries(node)
        if node is None or entries is None:
            return None
        required = tuple(required)
        known = (*required, *optional)
        found = {entry.key.text: entry.value for entry in entries}
        for entry in entries:
            if entry.key.text not in known:
                hint = did_you_mean(entry.key.text, known)
                self.problem(entry.key, f"`{entry.key.text}` is not known here{hint}")
        for key in required:
            if key not in found:
                self.problem(node, f"`{key}` is missing here")
        return {key: found[key] for key in known if key in found}

    def sequence(self, node: YamlNode | None) -> tuple[YamlNode, ...] | None:
        """Items of a list."""
        if isinstance(node, YamlSequence):
            return node.items
        if node is not None:
            self.problem(node, "a list is expected here: `[one, two]`")
        return None

    def text(self, node: YamlNode | None) -> str | None:
        """The text of a scalar, quoted or not; no value is a problem, an empty text in quotes is not."""
        if isinstance(node, YamlScalar) and not (node.is_plain and not node.text):
            return node.text
        if node is not None:
            self.problem(node, "a text is expected here")
        return None

    def choice(self, node: YamlNode | None, choices: Iterable[str]) -> str | None:
        """One of the words of a fixed list."""
        text = self.text(node)
        if node is None or text is None:
            return None
        choices = tuple(choices)
        if text in choices:
            return text
        hint = did_you_mean(text, choices) or f"; it is one of {', '.join(choices)}"
        self.problem(node, f"`{text}` is not known here{hint}")
        return None

    def integer(self, node: YamlNode | None) -> int | None:
        """A whole number in plain digits: no quotes, leading zeros, plus sign or other bases."""
        text = self._number(node, _INTEGER, "a whole number in plain digits is expected here, as in `12`")
        return None if text is None else int(text)

    def decimal(self, node: YamlNode | None) -> Decimal | None:
        """A number in plain digits with at most a decimal point, exactly as written."""
        text = self._number(node, _DECIMAL, "a number in plain digits is expected here, as in `8.96`")
        return None if text is None else Decimal(text)

    def boolean(self, node: YamlNode | None) -> bool | None:
        """`true` or `false`; `yes`, `no`, `on` and `off` are texts."""
        if isinstance(node, YamlScalar) and node.is_plain and node.text in _BOOLEANS:
            return _BOOLEANS[node.text]
        if node is not None:
            self.problem(node, "`true` or `false` is expected here")
        return None

    def _number(self, node: YamlNode | None, shape: re.Pattern[str], message: str) -> str | None:
        if isinstance(node, YamlScalar) and node.is_plain and shape.fullmatch(node.text):
            if len(node.text) <= MOST_DIGITS:
                return node.text
            message = f"the number has more than {MOST_DIGITS} digits"
        if node is not None:
            self.problem(node, message)
        return None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """`; did you mean ...?` with the nearest known word, or an empty text when none is near."""
    near = get_close_matches(word, sorted(known), n=1)
    return f"; did you mean `{near[0]}`?" if near else ""
