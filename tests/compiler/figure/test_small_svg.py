"""The small SVG pictures of an index: the same curves as on the page, to a tenth of a point."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree

from woven import CHAIN, RHOMBUS, weave_of

from compiler.booklet.page import Path, Verb
from compiler.figure.small_svg import small_svg
from compiler.figure.source import Figures
from compiler.figure.svg import svg

_TOKEN = re.compile(r"[A-Za-z]|-?\d+")
_TAKES = {"M": 2, "l": 2, "c": 6, "s": 4, "L": 2, "h": 1, "v": 1}


def ends(data: str) -> list[tuple[int, int]]:
    """The ends of the segments of path data, in its own unit."""
    found: list[tuple[int, int]] = []
    letter, numbers, x, y = "", [], 0, 0
    for token in _TOKEN.findall(data):
        if token.isalpha():
            letter, numbers = token, []
            continue
        numbers.append(int(token))
        if len(numbers) == _TAKES[letter]:
            x, y = (numbers[-2], numbers[-1]) if letter == "M" else (x + numbers[-2], y + numbers[-1])
            found.append((x, y))
            numbers = []
    return found


def path_ends(path: Path) -> list[tuple[float, float]]:
    out, at = [], 0
    for verb in path.verbs:
        at += verb.coordinates
        if verb is not Verb.CLOSE:
            out.append((path.points[at - 2], path.points[at - 1]))
    return out


def test_segments_end_where_they_do_on_the_page() -> None:
    figure = Figures(weave_of(RHOMBUS)).finished(0, 400.0, 400.0)
    assert figure is not None
    drawn = [item for item in figure.items if isinstance(item, Path)]
    root = ElementTree.fromstring(small_svg(figure.items, figure.width, figure.height, figure.alt))
    paths = [each.get("d", "") for each in root.iter("{http://www.w3.org/2000/svg}path")][1:]
    wide = [path for path in drawn if path.stroke is None or path.stroke.width >= 0.5]
    assert len(paths) == len(wide) > 100
    for data, path in zip(paths, wide, strict=True):
        for (x, y), (at_x, at_y) in zip(ends(data), path_ends(path), strict=True):
            assert abs(x / 10 - at_x) <= 0.0501
            assert abs(y / 10 - at_y) <= 0.0501


def test_it_is_less_than_half_as_long_and_says_what_it_shows() -> None:
    figure = Figures(weave_of(CHAIN)).finished(0, 150.0, 150.0)
    assert figure is not None
    small = small_svg(figure.items, figure.width, figure.height, "A < B")
    assert len(small) < len(svg(figure.items, figure.width, figure.height, "A < B")) / 2
    title = ElementTree.fromstring(small).find("{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert title.text == "A < B"
