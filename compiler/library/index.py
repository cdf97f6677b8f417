"""The index of a library as Markdown, and its figures as small SVG pictures; in: entries, out: texts by file name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from compiler.booklet.figuretypes import Figure
from compiler.catalogue import library_english as say
from compiler.catalogue.nouns import capital
from compiler.figure.small_svg import small_svg
from compiler.library.entries import Entry, PieceEntry

INDEX = "README.md"
FIGURES = "figures"
"""The folder of the figures, beside the index."""
_WIDTH, _HEIGHT = 150.0, 160.0
"""Points that a figure takes at most."""
SHOWN = re.compile(rf"\]\(({FIGURES}/[^()/\s]+\.svg)\)")
"""A figure that a row of an index shows."""
_SPECIAL = re.compile(r"([\\`*_\[\]<>|])")


def index_files(entries: Sequence[Entry]) -> dict[str, str]:
    """The index and its figures, by path from the folder of the library; every file that belongs to it."""
    patterns = [entry for entry in entries if not entry.is_family]
    families = [entry for entry in entries if entry.is_family]
    files: dict[str, str] = {}
    lines = [f"# {say.TITLE}", "", say.WRITTEN_BY, ""]
    weaves = sum(len(entry.pieces) for entry in families)
    lines += [say.counted(len(patterns), weaves, len(families)), "", say.HOW_TO_READ, ""]
    if patterns:
        lines += [f"## {say.PATTERNS}", "", *_head(say.HEADS)]
        for entry in patterns:
            lines += _rows(entry, files)
        lines.append("")
    if families:
        lines += [f"## {say.FAMILIES}", "", say.FAMILIES_LEAD, ""]
    for entry in families:
        lines += [f"### {_linked(entry)}", "", _text(entry.about), "", _facts(entry), ""]
        lines += [*_head(say.WEAVE_HEADS), *_rows(entry, files), ""]
    files[INDEX] = "\n".join(lines).rstrip("\n") + "\n"
    return files


def figure_of(entry: Entry, piece: PieceEntry) -> Figure | None:
    """The finished piece as the index has it."""
    return entry.figures.finished(piece.index, _WIDTH, _HEIGHT)


def _head(titles: Sequence[str]) -> list[str]:
    # counts and ratios of several kinds stand one below the other, so that all columns are set left
    return [f"| {' | '.join(titles)} |", f"|{' --- |' * len(titles)}"]


def _rows(entry: Entry, files: dict[str, str]) -> Iterator[str]:
    """A row for each piece; the first of a pattern has what is said of the whole."""
    for place, piece in enumerate(entry.pieces):
        figure = figure_of(entry, piece)
        picture = ""
        if figure is not None:
            name = f"{FIGURES}/{entry.stem}-{piece.name}.svg"
            files[name] = small_svg(figure.items, figure.width, figure.height, figure.alt)
            picture = f"![{_text(figure.alt)}]({name})"
        said = []
        if entry.is_family:
            said.append(f"`{piece.name}`")
        else:
            if not place:
                said += [f"**{_linked(entry)}**", _text(entry.about), _facts(entry)]
            if len(entry.pieces) > 1 or piece.times > 1:
                said.append(_text(capital(say.made(piece.label, piece.times))))
        if not piece.proved:
            said.append(f"({say.SCHEMATIC})")
        counts = [
            f"{_text(say.of_kind(ring.count, ring.label))}, {say.size(ring.inner_mm, ring.wire_mm)}"
            for ring in piece.rings
        ]
        cells = (
            picture,
            "<br>".join(said),
            "<br>".join(counts),
            "<br>".join(say.ratio(ring.aspect_ratio) for ring in piece.rings),
            "<br>".join(say.ratio(ring.tightest) for ring in piece.rings),
            say.slack(piece.slack),
        )
        yield f"| {' | '.join(cells)} |"


def _linked(entry: Entry) -> str:
    return f"[{_text(entry.title)}]({entry.path})"


def _facts(entry: Entry) -> str:
    return _text(say.facts(entry.level, entry.by, entry.version, entry.licence))


def _text(text: str) -> str:
    """A designer's text with nothing in it that Markdown would take for its own."""
    return _SPECIAL.sub(r"\\\1", " ".join(text.split()))
