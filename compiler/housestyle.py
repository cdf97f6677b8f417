"""The house style file: reads how a publisher's booklets look and what is in them.

In: YAML as `notation/house-style.md` describes it, and the folder it lies in. Out: a `HouseStyle`, or problems with
their places, and warnings (which stop nothing) of colours that cannot be told apart. Read once, before a pattern.

    publisher: The evening class
    page: letter
    colours:
      accent: "#6B2D5C"
"""

from __future__ import annotations

import os
import re
from dataclasses import dataclass, replace
from itertools import combinations
from pathlib import Path, PureWindowsPath

from compiler.booklet.fonts import choose, font_family, font_problem
from compiler.booklet.house import House, Logo, Palette, Section
from compiler.booklet.page import Color, Face
from compiler.booklet.pictures import pixel_size, unpacks
from compiler.booklet.style import PAPER
from compiler.booklet.text import unprintable
from compiler.infile import ReadError, read_bytes
from compiler.kit import USUAL_RATES, Rates
from compiler.measures import shown
from compiler.style import PAPERS, HouseStyle
from compiler.yamlread import YamlNode, YamlProblem, YamlScalar, YamlTaker, read_yaml
from notation.source import Source

MOST_PIXELS = 2_000_000
"""Of a logo: more than 1200 dots per inch at the largest that it is printed."""
MOST_LOGO_BYTES = 2_000_000
MOST_FONT_BYTES = 5_000_000
LONGEST_SECONDS = 3600
"""Most seconds for one thing that is done."""
LEAST_CONTRAST = 1.5
"""Of any two colours that a figure must tell apart in grey print (as in `compiler.booklet.style`)."""
LEAST_TEXT_CONTRAST = 4.5
"""Of text and paper: WCAG 2.1, criterion 1.4.3."""
_LONGEST_TEXT = 200

_COLOURS = ("ink", "accent", "passed", "placed", "caution")
_IN_FIGURES = ("ink", "accent", "passed", "placed")
_IN_TEXT = ("ink", "accent", "caution")
_RATES = ("prepare", "weave", "finding")
_SAYS = {
    "missing": "there is no such file",
    "folder": "it is a folder",
    "special": "it is not an ordinary file",
    "too-large": "it is too large",
}
_COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")
_SECONDS = re.compile(r"([0-9]{1,4})(?: to ([0-9]{1,4}))?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """A style file as read."""

    style: HouseStyle | None
    """None where there are problems."""
    problems: tuple[YamlProblem, ...]
    warnings: tuple[YamlProblem, ...]


def load_house_style(source: Source, folder: Path) -> Read:
    """The style of a file that lies in that folder: a logo is looked for in it and below it alone."""
    root, problems = read_yaml(source)
    if problems:
        return Read(style=None, problems=problems, warnings=())
    taker, advice = YamlTaker(source), YamlTaker(source)
    style = _Reader(taker, advice, folder).style(root)
    if taker.problems:
        return Read(style=None, problems=taker.problems, warnings=advice.problems)
    return Read(style=style, problems=(), warnings=advice.problems)


class _Reader:
    """One file being read; what is wrong goes to one taker, what is doubtful to the other."""

    def __init__(self, taker: YamlTaker, advice: YamlTaker, folder: Path) -> None:
        self._taker = taker
        self._advice = advice
        self._folder = folder

    def style(self, root: YamlNode | None) -> HouseStyle:
        keys = ("publisher", "contact", "page", "logo", "logo-says", "colours", "fonts", "leave-out", "time")
        parts = self._taker.mapping(root, (), keys) or {}
        page = self._taker.choice(parts.get("page"), PAPERS)
        fonts = self._fonts(parts.get("fonts"))
        choose(fonts)  # before the texts, whose letters they must have
        if "logo-says" in parts and "logo" not in parts:
            self._taker.problem(parts["logo-says"], "there is no `logo` that this could be said of")
        publisher = self._text(parts.get("publisher"))
        house = House(
            publisher=publisher,
            contact=self._text(parts.get("contact")),
            palette=self._palette(parts.get("colours")),
            fonts=tuple(fonts.items()),
            families=tuple(dict.fromkeys(filter(None, map(font_family, fonts.values())))),
            left_out=self._left_out(parts.get("leave-out")),
            logo=self._logo(parts.get("logo"), self._text(parts.get("logo-says")) or publisher or "Logo"),
        )
        paper = None if page is None else PAPERS[page]
        return HouseStyle(house=house, paper=paper, rates=self._rates(parts.get("time")))

    def _text(self, node: YamlNode | None) -> str:
        text = self._taker.text(node)
        if node is None or text is None:
            return ""
        if not text.strip() or "\n" in text or "\t" in text or len(text) > _LONGEST_TEXT:
            message = f"a text of one line is expected here, of at most {_LONGEST_TEXT} characters"
            self._taker.problem(node, message)
            return ""
        missing = [f"U+{ord(character):04X}" for character in unprintable(text)]
        if missing:
            self._taker.problem(node, f"the fonts have no {', '.join(missing)}")
            return ""
        return text

    # ------------------------------------------------------------ colours

    def _palette(self, node: YamlNode | None) -> Palette:
        parts = self._taker.mapping(node, (), _COLOURS) or {}
        found = {name: self._colour(each) for name, each in parts.items()}
        palette = replace(Palette(), **{name: colour for name, colour in found.items() if colour is not None})
        self._doubt(palette, parts)
        return palette

    def _colour(self, node: YamlNode) -> Color | None:
        if isinstance(node, YamlScalar) and node.is_plain and not node.text:
            message = 'a colour is expected here; put it in quotes, for `#` begins a comment: `"#0B5460"`'
            self._taker.problem(node, message)
            return None
        text = self._taker.text(node)
        if text is None:
            return None
        if not _COLOUR.fullmatch(text):
            message = (
                f'`{shown(text)}` is no colour; write `#` and six hexadecimal digits in quotes: `"#0B5460"`'
            )
            self._taker.problem(node, message)
            return None
        return Color(int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16))

    def _doubt(self, palette: Palette, parts: dict[str, YamlNode]) -> None:
        """Warns at a colour that the file gives, once for each thing it is too close to."""
        colours: dict[str, Color] = {name: getattr(palette, name) for name in _COLOURS}
        for first, second in combinations((*_IN_FIGURES, "paper"), 2):
            node = parts.get(second) or parts.get(first)
            contrast = colours[first].contrast(colours.get(second, PAPER))
            if node is not None and contrast < LEAST_CONTRAST:
                message = f"`{first}` and {_named(second)} can hardly be told apart in grey print"
                self._advice.problem(node, f"{message} (contrast {contrast:.1f}, wanted {LEAST_CONTRAST})")
        for name in _IN_TEXT:
            contrast = colours[name].contrast(PAPER)
            if name in parts and LEAST_CONTRAST <= contrast < LEAST_TEXT_CONTRAST:
                message = f"text in `{name}` is hard to read on paper"
                wanted = f"(contrast {contrast:.1f}, wanted {LEAST_TEXT_CONTRAST})"
                self._advice.problem(parts[name], f"{message} {wanted}")

    # ------------------------------------------------------------ parts, rates

    def _left_out(self, node: YamlNode | None) -> tuple[Section, ...]:
        items = self._taker.sequence(node) or ()
        words = [self._taker.choice(item, (section.value for section in Section)) for item in items]
        found: dict[Section, None] = {}
        for item, word in zip(items, words, strict=True):
            if word is None:
                continue
            if Section(word) in found:
                self._taker.problem(item, f"`{word}` is in the list already")
            found[Section(word)] = None
        return tuple(found)

    def _rates(self, node: YamlNode | None) -> Rates:
        parts = self._taker.mapping(node, (), _RATES) or {}
        found = {name: self._seconds(each) for name, each in parts.items()}
        return replace(USUAL_RATES, **{name: pair for name, pair in found.items() if pair is not None})

    def _seconds(self, node: YamlNode) -> tuple[int, int] | None:
        text = self._taker.text(node)
        if text is None:
            return None
        match = _SECONDS.fullmatch(text)
        if match is None:
            self._taker.problem(node, f"`{shown(text)}` are no seconds; write them as in `25 to 75`, or `40`")
            return None
        least, most = int(match[1]), int(match[2] or match[1])
        if not 0 <= least <= most <= LONGEST_SECONDS:
            self._taker.problem(node, f"seconds go from 0 to {LONGEST_SECONDS}, the smaller number first")
            return None
        return least, most

    # ------------------------------------------------------------ fonts and logo

    def _fonts(self, node: YamlNode | None) -> dict[Face, bytes]:
        parts = self._taker.mapping(node, (), [face.value for face in Face]) or {}
        found: dict[Face, bytes] = {}
        for word, each in parts.items():
            name = self._taker.text(each)
            if name is None:
                continue
            try:
                data = self._file(name, "a font", MOST_FONT_BYTES)
            except ReadError as error:
                why = _SAYS.get(error.variant, error.reason)
                self._taker.problem(each, f"the font `{shown(name)}` cannot be read: {why}")
                continue
            problem = font_problem(data)
            if problem:
                self._taker.problem(each, f"the font `{shown(name)}` {problem}")
            else:
                found[Face(word)] = data
        return found

    def _logo(self, node: YamlNode | None, says: str) -> Logo | None:
        name = self._taker.text(node)
        if node is None or name is None:
            return None
        try:
            data = self._file(name, "a logo", MOST_LOGO_BYTES)
        except ReadError as error:
            why = _SAYS.get(error.variant, error.reason)
            self._taker.problem(node, f"the logo `{shown(name)}` cannot be read: {why}")
            return None
        size = pixel_size(data)
        if size is None:
            self._taker.problem(node, f"the logo `{shown(name)}` is neither a PNG nor a JPEG file")
            return None
        columns, rows = size
        if not 0 < columns * rows <= MOST_PIXELS:
            message = f"the logo is {columns} by {rows} pixels large; at most {MOST_PIXELS} pixels are taken"
            self._taker.problem(node, message)
            return None
        if not unpacks(data):
            self._taker.problem(node, f"the logo `{shown(name)}` is broken: its pixels cannot be read")
            return None
        return Logo(data=data, columns=columns, rows=rows, says=says)

    def _file(self, name: str, what: str, most: int) -> bytes:
        """The bytes of a file inside the folder, links followed. Raises ReadError."""
        windows = PureWindowsPath(name)
        if name.startswith("/") or windows.drive or windows.root or "\0" in name:
            raise ReadError("outside", f"{what} is named from the folder of the style file")
        root = Path(os.path.realpath(self._folder))
        real = Path(os.path.realpath(root / name))
        if not real.is_relative_to(root):
            raise ReadError("outside", "it lies outside the folder of the style file")
        data = read_bytes(real)
        if len(data) > most:
            raise ReadError("too-large")
        return data


def _named(colour: str) -> str:
    return "the paper" if colour == "paper" else f"`{colour}`"
