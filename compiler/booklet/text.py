"""Setting of paragraphs; in: runs of text and a style, out: a measured `Block`.

Lines are broken for the whole paragraph at once, after D. E. Knuth and M. F. Plass, "Breaking paragraphs
into lines" (Software: Practice and Experience 11, 1981), simplified for text that is set ragged and never
hyphenated: of all ways with the fewest lines, the one with the least sum of squared room left over, and a
last line of one short word costs extra. A line may end at a space, after a dash, and after a hyphen between
letters; never at a no-break space nor at the space before a dash. A word wider than the line is broken
where it must be, so that nothing runs over the edge.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from compiler.booklet.fonts import metrics, missing_glyphs, text_width
from compiler.booklet.marks import INLINE
from compiler.booklet.page import Block, Color, Face, Group, Item, Role, Text
from compiler.booklet.style import TextStyle

_SPACES = " \t\n\r"
_DASHES = "–—"
_DASHED = frozenset(_DASHES)
_MAY_END = f"{_DASHES}-"
_LAST_WORD_ALONE = 0.5
"""Cost of a last line of one word, where a wholly empty line would cost 1."""
_SHORT = 0.25
"""A last word is short when it fills less than this share of the line."""


class Align(Enum):
    """To which edge the lines of a paragraph are set."""

    LEFT = 0.0
    CENTRE = 0.5
    RIGHT = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Characters set alike; what is not given is as in the style of the paragraph."""

    text: str
    face: Face | None = None
    color: Color | None = None


@dataclass(frozen=True, slots=True)
class _Char:
    """A character and how it is set."""

    char: str
    face: Face
    color: Color


@dataclass(frozen=True, slots=True)
class _Box:
    """Characters between two places where a line may end, and the space after them (none after a dash)."""

    chars: tuple[_Char, ...]
    width: float
    """With its kern to the character that follows without a space."""
    end_width: float
    """At the end of a line, where nothing follows."""
    space: tuple[_Char, ...]
    space_width: float


def plain(text: str) -> tuple[Run, ...]:
    """One run, set as the style says."""
    return (Run(text=text),)


def strong(text: str) -> Run:
    """A run in semibold."""
    return Run(text=text, face=Face.SEMIBOLD)


def emphasis(text: str) -> Run:
    """A run in italic."""
    return Run(text=text, face=Face.ITALIC)


def unprintable(text: str) -> tuple[str, ...]:
    """The characters that neither the fonts nor the drawn signs cover, each once.

    Spaces of any kind are fine.
    """
    return missing_glyphs("".join(char for char in text if char not in INLINE and char not in _SPACES))


def natural_width(runs: Sequence[Run], style: TextStyle) -> float:
    """Width in points of the runs set on one line."""
    boxes = _boxes(runs, style)
    return sum(box.width + box.space_width for box in boxes[:-1]) + sum(box.width for box in boxes[-1:])


def narrowest_width(runs: Sequence[Run], style: TextStyle) -> float:
    """Width in points of the widest piece that no line end may divide."""
    return max((box.width for box in _boxes(runs, style)), default=0.0)


def set_text(
    runs: Sequence[Run],
    style: TextStyle,
    width: float,
    *,
    align: Align = Align.LEFT,
    role: Role | None = Role.PARAGRAPH,
) -> Block:
    """The runs as lines of at most `width` points.

    No role leaves the items without a group, for use inside one.
    """
    boxes = [part for box in _boxes(runs, style) for part in _fitting(box, style, width)]
    cap = metrics(style.face).cap_height * style.size
    baseline = (style.leading + cap) / 2  # capitals stand in the middle of the line
    items: list[Item] = []
    ends = _breaks(boxes, width)
    for number, (start, end) in enumerate(zip([0, *ends], ends, strict=False)):
        line = boxes[start:end]
        chars = [char for box in line[:-1] for char in (*box.chars, *box.space)] + list(line[-1].chars)
        used = sum(box.width + box.space_width for box in line[:-1]) + line[-1].end_width
        x = (width - used) * align.value
        items.extend(_line_items(chars, x, baseline + number * style.leading, style))
    if role is not None and items:
        items = [Group(role=role, items=tuple(items))]
    height = len(ends) * style.leading
    return Block(width=width, height=height, items=tuple(items), baseline=baseline if ends else 0.0)


def _boxes(runs: Sequence[Run], style: TextStyle) -> list[_Box]:
    chars: list[_Char] = []
    for run in runs:
        face, color = run.face or style.face, run.color or style.color
        alike = {
            char: _Char(" " if char in _SPACES else char, face, color) for char in dict.fromkeys(run.text)
        }
        chars.extend(map(alike.__getitem__, run.text))
    chars = [
        char
        for index, char in enumerate(chars)
        if char.char != " " or not index or chars[index - 1].char != " "
    ]
    text = "".join([char.char for char in chars])
    boxes: list[_Box] = []
    start = 0
    while start < len(chars):
        if text[start] == " ":
            start += 1
            continue
        end = start
        while end < len(chars) and (text[end] != " " or text[end + 1 : end + 2] in _DASHED):
            end += 1
            if text[end - 1] in _MAY_END and _may_end_after(text, end - 1):
                break
        space = tuple(chars[end : end + 1]) if text[end : end + 1] == " " else ()
        word = tuple(chars[start:end])
        width = end_width = _width(word, style)
        if not space and end < len(chars):  # kerned to the word if they share the line
            joined = tuple(chars[end : end + 1])
            width = _width((*word, *joined), style) - _width(joined, style)
        boxes.append(_Box(word, width, end_width, space, _width(space, style)))
        start = end
    return boxes


def _may_end_after(text: str, index: int) -> bool:
    """Whether a line may end after this dash or hyphen though no space follows."""
    if not 0 < index < len(text) - 1:
        return False
    if text[index] in _DASHES:
        return not text[index + 1].isdigit()
    return text[index - 1].isalpha() and text[index + 1].isalpha()


def _fitting(box: _Box, style: TextStyle, width: float) -> Iterator[_Box]:
    """The box, or if it is wider than the line, pieces of it that fit; one character is never divided."""
    if max(box.width, box.end_width) <= width:
        yield box
        return
    piece: tuple[_Char, ...] = ()
    for char in box.chars:
        if piece and _width((*piece, char), style) > width:
            wide = _width(piece, style)
            yield _Box(piece, wide, wide, (), 0.0)
            piece = ()
        piece = (*piece, char)
    wide = _width(piece, style)
    yield replace(box, chars=piece, width=wide + box.width - box.end_width, end_width=wide)


def _breaks(boxes: Sequence[_Box], room: float) -> list[int]:
    """The index after the last box of each line: fewest lines first, then least cost."""
    count = len(boxes)
    best: list[tuple[int, float]] = [(0, 0.0)]
    came_from = [0]
    for end in range(1, count + 1):
        choices: list[tuple[int, float, int]] = []
        used = boxes[end - 1].end_width
        for start in range(end - 1, -1, -1):
            if start < end - 1:
                used += boxes[start].width + boxes[start].space_width
            if used > room + 1e-6 and start < end - 1:
                break
            lines, cost = best[start]
            left = max(0.0, 1 - used / room)
            alone = end == count and start == end - 1 and start > 0 and left > 1 - _SHORT
            line_cost = _LAST_WORD_ALONE * alone if end == count else left * left
            choices.append((lines + 1, cost + line_cost, start))
        lines, cost, start = min(choices)
        best.append((lines, cost))
        came_from.append(start)
    ends: list[int] = []
    end = count
    while end > 0:
        ends.append(end)
        end = came_from[end]
    return ends[::-1]


def _line_items(chars: list[_Char], x: float, y: float, style: TextStyle) -> Iterator[Item]:
    """The items of one line: neighbours that are set alike in one run, signs drawn in place."""
    for first, string in _pieces(chars):
        if first.char in INLINE:
            sign = INLINE[first.char]
            yield Group(role=Role.SPAN, alt=first.char, items=sign.draw(x, y, style.size, first.color))
        else:
            yield Text(
                x=x,
                y=y,
                string=string,
                face=first.face,
                size=style.size,
                color=first.color,
                tracking=style.tracking,
            )
        x += _piece_width(first, string, style)


def _width(chars: tuple[_Char, ...], style: TextStyle) -> float:
    return sum(_piece_width(first, string, style) for first, string in _pieces(chars))


def _pieces(chars: Sequence[_Char]) -> Iterator[tuple[_Char, str]]:
    """What is drawn as one: each sign, and the longest runs that are set alike, by their first character."""
    start = 0
    while start < len(chars):
        first, end = chars[start], start + 1
        if first.char not in INLINE:
            face, color = first.face, first.color
            while end < len(chars):
                char = chars[end]
                if char.face is not face or char.color != color or char.char in INLINE:
                    break
                end += 1
        yield first, "".join([char.char for char in chars[start:end]])
        start = end


def _piece_width(first: _Char, string: str, style: TextStyle) -> float:
    if first.char in INLINE:
        return INLINE[first.char].advance * style.size
    return text_width(string, first.face, style.size, style.tracking)
