"""At a glance: the figures of the piece, what it is about, and the tools.

In: a booklet's material, out: parts of the flow.
"""

from collections.abc import Sequence

from compiler.booklet.blocks import fact
from compiler.booklet.cover import about_on_cover
from compiler.booklet.flow import Flow, Part
from compiler.booklet.page import Block, Group, Item, Line, Role, Stroke
from compiler.booklet.setting import (
    LONGEST_LABEL,
    Material,
    bullets,
    measure,
    named,
    page_title,
    paragraphs,
    remark,
    section_title,
    short,
    unbroken,
)
from compiler.booklet.style import HAIRLINE, RULE, SPACE_2, SPACE_3, SPACE_4, Paper
from compiler.booklet.tables import Cell, Column, set_table
from compiler.booklet.text import Align, plain
from compiler.catalogue import booklet_english as say
from compiler.catalogue import making_english as making
from compiler.catalogue.nouns import capital, typed
from compiler.weave import EventKind
from notation.handling import HandMotion

_ACROSS = 3
"""Facts side by side."""
_LONGEST_FACT = 40


def glance(flow: Flow, material: Material) -> None:
    """The page of figures."""
    page_title(flow, say.AT_A_GLANCE, "glance")
    if material.words.about and about_on_cover(material, flow.frame.column(0, 10)[1]) is None:
        paragraphs(flow, [material.words.about])
    flow.put(Part(block=_grid(facts(material), flow.frame.width), gap=SPACE_4))
    findings = bool(material.quantities.findings)
    notes = [say.time_note(material.rates, findings=findings)]
    if findings:
        notes.append(say.MASS_NOTE)
    if _sizes(material):
        notes.append(say.size_note(findings=findings))
        notes += [say.size_by_pitch(name, rings) for name, rings in _by_pitch(material)]
        if material.paper is Paper.LETTER:
            notes.append(say.sizes_in_inches(_measures(material)))
    flow.put(remark(flow, " ".join(notes)))
    pieces = material.weave.pieces
    if len(pieces) > 1 or any(piece.times > 1 for piece in pieces):
        section_title(flow, say.BY_PIECE)
        _pieces(flow, material)
    section_title(flow, making.TOOLS)
    bullets(flow, [named(head, text) for head, text in _tools(material)], first=SPACE_2)


def facts(material: Material) -> tuple[tuple[str, str], ...]:
    """Label and value of each figure, those left out that are not known."""
    quantities, words = material.quantities, material.words
    found = [(say.RINGS_FACT, str(quantities.ring_count))]
    if quantities.mass_g is not None:
        found.append((say.MASS_FACT, say.grams(quantities.mass_g)))
    found.append((say.STEPS_FACT, str(sum(len(piece.steps) for piece in words.pieces))))
    sizes = _sizes(material)
    if len(material.weave.pieces) == 1 and sizes:
        found.append((say.SIZE_FACT, sizes[0][1]))
        extent = material.figures.extent(0)
        pitch = None if extent is None else say.pitch(extent.along_mm, extent.rows_mm)
        found += [] if pitch is None else [pitch]
    if words.level:
        found.append((say.LEVEL_FACT, short(say.level(words.level), _LONGEST_FACT)))
    found.append((say.TIME_FACT, say.time(quantities.time)))
    return tuple(found)


def _sizes(material: Material) -> list[tuple[int, str]]:
    """The pieces whose size is known."""
    found = []
    for index in range(len(material.weave.pieces)):
        extent = material.figures.extent(index)
        if extent is not None:
            about = extent.of_first is not None
            size = say.size(extent.length_mm, extent.width_mm, extent.thickness_mm, about=about)
            found.append((index, size))
    return found


def _by_pitch(material: Material) -> list[tuple[str, int]]:
    """The pieces of which only so many first rings are placed, and their sizes follow from that."""
    found = []
    for index, piece in enumerate(material.weave.pieces):
        extent = material.figures.extent(index)
        if extent is not None and extent.of_first is not None:
            found.append((piece.singular, extent.of_first))
    return found


def _measures(material: Material) -> list[tuple[str, tuple[float, float, float]]]:
    """Length, width and thickness in mm by the name of each piece whose size is known."""
    found = []
    for index, piece in enumerate(material.weave.pieces):
        extent = material.figures.extent(index)
        if extent is not None:
            found.append((piece.singular, (extent.length_mm, extent.width_mm, extent.thickness_mm)))
    return found


def _grid(values: Sequence[tuple[str, str]], width: float) -> Block:
    """Facts in rows of three, a hairline above each row."""
    cell = (width - (_ACROSS - 1) * SPACE_4) / _ACROSS
    items: list[Item] = []
    rules: list[Item] = []
    y = 0.0
    for start in range(0, len(values), _ACROSS):
        row = [fact(label, value, cell) for label, value in values[start : start + _ACROSS]]
        rules.append(Line(x1=0.0, y1=y, x2=width, y2=y, stroke=Stroke(color=RULE, width=HAIRLINE)))
        for place, block in enumerate(row):
            items.extend(block.at(place * (cell + SPACE_4), y + SPACE_2))
        y += max(block.height for block in row) + 2 * SPACE_3
    rules.append(Line(x1=0.0, y1=y, x2=width, y2=y, stroke=Stroke(color=RULE, width=HAIRLINE)))
    return Block(width=width, height=y, items=(Group(role=Role.DECORATION, items=tuple(rules)), *items))


def _pieces(flow: Flow, material: Material) -> None:
    sizes = dict(_sizes(material))
    columns = [
        Column(title=say.PIECE, grows=True),
        Column(title=say.MADE, align=Align.RIGHT),
        Column(title=say.RINGS, align=Align.RIGHT),
        Column(title=say.CONNECTIONS, align=Align.RIGHT),
        Column(title=say.STEPS, align=Align.RIGHT),
        Column(title=say.MASS, align=Align.RIGHT),
    ]
    if sizes:
        columns.append(Column(title=say.SIZE, align=Align.RIGHT))
    rows: list[tuple[Cell, ...]] = []
    for index, (piece, words, sums) in enumerate(
        zip(material.weave.pieces, material.words.pieces, material.quantities.pieces, strict=True)
    ):
        cells = [
            short(capital(typed(piece.singular)), LONGEST_LABEL),
            say.made(piece.times),
            str(sums.rings),
            str(sums.links),
            str(len(words.steps)),
            say.NOT_KNOWN if sums.mass_g is None else say.grams(sums.mass_g),
        ]
        if sizes:
            cells.append(sizes.get(index, say.NOT_KNOWN))
        rows.append((plain(cells[0]), *(plain(unbroken(cell)) for cell in cells[1:])))
    flow.table(set_table(columns, rows, measure(flow) if not sizes else flow.frame.width), SPACE_2)


def _tools(material: Material) -> list[tuple[str, str]]:
    tools = list(making.TOOL_LIST)
    tools += [
        (short(capital(typed(helper)), LONGEST_LABEL), making.HELPER_TOOL)
        for helper in material.words.helpers
    ]
    if any(row.needed and row.kind.inner_mm <= making.SMALL_INNER_MM for row in material.quantities.rings):
        tools.insert(1, making.THIN_TOOL)
    held = any(
        event.kind is EventKind.HANDLE and event.handle is HandMotion.HOLD
        for piece in material.weave.pieces
        for step in piece.steps
        for event in step.events
    )
    return [*tools, making.WIRE_TOOL] if held else tools
