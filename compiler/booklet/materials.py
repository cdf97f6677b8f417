"""The materials: rings, findings, metal and wire.

In: a booklet's material, out: tables in the flow. Every count is one of `compiler.kit`, none is made here.
"""

from collections.abc import Sequence

from compiler.booklet.blocks import Notice, notice
from compiler.booklet.flow import Flow, Part
from compiler.booklet.setting import (
    LONGEST_LABEL,
    Material,
    measure,
    page_title,
    remark,
    section_title,
    short,
    unbroken,
)
from compiler.booklet.style import SMALL, SPACE_2, SPACE_3, SPACE_4, Paper
from compiler.booklet.tables import Cell, Column, set_table
from compiler.booklet.text import Align, Run, plain, strong
from compiler.catalogue import booklet_english as say
from compiler.catalogue.nouns import capital, typed
from compiler.kit import FindingRow, RingRow
from compiler.weave import FindingKind, Weave
from notation.lengths import NearestGauge, in_mm, rounded
from notation.lengths import plain as digits
from notation.metals import Metal

MOST_PIECE_COLUMNS = 2
"""Pieces that have a column each in the table of rings; of more pieces the counts stand in a table of their own."""
_RIGHT = Align.RIGHT


def materials(flow: Flow, material: Material) -> None:
    """The section of materials."""
    page_title(flow, say.MATERIALS, "materials")
    rings = [row for row in material.quantities.rings if row.needed or row.packed]
    findings = [row for row in material.quantities.findings if row.needed or row.packed]
    gauges = [gauge for row in rings for gauge in (row.awg, row.swg) if gauge is not None]
    if rings:
        section_title(flow, say.RINGS, SPACE_3)
        note = say.ratio_note(bool(gauges), _rounded(rings))
        if material.paper is Paper.LETTER:
            named = [(row.kind.plural, row.kind.inner_mm, row.kind.wire_mm) for row in rings]
            note = f"{note} {say.rings_in_inches(named)}"
        _rings(flow, material, rings, remark(flow, note))
    spare = [row.spare or 0 for row in rings] + [row.spare or 0 for row in findings]
    kit = say.NO_KIT_NOTE if material.weave.kit is None else say.kit_note(max(spare, default=0) > 0)
    if findings:
        section_title(flow, say.FINDINGS)
        _findings(flow, material, findings, remark(flow, kit))
    else:
        flow.put(remark(flow, kit))
    if gauges:
        text = plain(say.gauge_trap(gauges[0]))
        box = notice(Notice.CAUTION, say.GAUGE_TRAP, [text], flow.frame.width, SMALL)
        flow.put(Part(block=box, gap=SPACE_4))
    if len(material.weave.pieces) > MOST_PIECE_COLUMNS:
        section_title(flow, say.BY_PIECE)
        _by_piece(flow, material, rings, findings)
    if rings:
        section_title(flow, say.METAL)
        _metal(flow, rings)


def _rounded(rows: Sequence[RingRow]) -> bool:
    """Whether a size has more than two decimals."""
    sizes = [size for row in rows for size in (row.kind.inner_mm, row.kind.wire_mm)]
    return any(rounded(size, 2) != size for size in sizes)


def ring_name(row: RingRow) -> str:
    """The plural of a kind of ring, as the head of its row."""
    return short(capital(typed(row.kind.plural)), LONGEST_LABEL)


def metal_title(name: str, metal: Metal | None) -> str:
    """A metal as it is printed."""
    return metal.title if metal is not None else short(typed(name), LONGEST_LABEL)


def gauge_title(gauge: NearestGauge | None) -> str:
    """A gauge's number, a dash where no gauge is near."""
    return say.NOT_KNOWN if gauge is None else say.gauge(gauge)


def _rings(flow: Flow, material: Material, rows: Sequence[RingRow], note: Part) -> None:
    columns = [
        Column(title=say.RING, grows=True),
        Column(title=say.INNER, align=_RIGHT),
        Column(title=say.WIRE, align=_RIGHT),
        Column(title=say.AWG, align=_RIGHT),
        Column(title=say.SWG, align=_RIGHT),
        Column(title=say.RATIO, align=_RIGHT),
        Column(title=say.METAL_NAME),
        *_count_columns(material.weave),
    ]
    cells: list[tuple[Cell, ...]] = []
    for row in rows:
        head: list[Cell] = [
            (strong(ring_name(row)),),
            plain(unbroken(say.mm(row.kind.inner_mm))),
            plain(unbroken(say.mm(row.kind.wire_mm))),
            plain(gauge_title(row.awg)),
            plain(gauge_title(row.swg)),
            plain(f"{row.aspect_ratio:f}"),
            plain(metal_title(row.kind.metal, row.metal)),
        ]
        cells.append((*head, *_count_cells(material.weave, row)))
    flow.table(set_table(columns, cells, flow.frame.width, gap=SPACE_3), SPACE_2, note)


def _findings(flow: Flow, material: Material, rows: Sequence[FindingRow], note: Part) -> None:
    columns = [
        Column(title=say.FINDING),
        Column(title=say.SIZES, grows=True),
        Column(title=say.METAL_NAME),
        *_count_columns(material.weave),
    ]
    cells: list[tuple[Cell, ...]] = []
    for row in rows:
        kind = material.weave.finding_kinds[row.kind]
        metal = say.NOT_KNOWN if kind.metal is None else metal_title(kind.metal, material.metal(kind.metal))
        name = short(capital(typed(kind.plural if row.needed != 1 else kind.singular)), LONGEST_LABEL)
        head: list[Cell] = [(strong(name),), plain(finding_sizes(kind)), plain(metal)]
        cells.append((*head, *_count_cells(material.weave, row)))
    flow.table(set_table(columns, cells, flow.frame.width, gap=SPACE_3), SPACE_2, note)


def finding_sizes(kind: FindingKind) -> str:
    """What is known of a finding's sizes."""
    parts = [
        say.eyes(len(kind.eyes), short(eye.name, LONGEST_LABEL), say.mm(eye.inner_mm), eye.opens)
        for eye in kind.eyes
    ]
    if kind.wire_mm is not None:
        parts.append(f"{say.WIRE.lower()} {say.mm(kind.wire_mm)}")
    if kind.length_mm is not None:
        parts.append(say.long(say.mm(kind.length_mm)))
    return ", ".join(parts) or say.NOT_KNOWN


def _count_columns(weave: Weave) -> list[Column]:
    columns: list[Column] = []
    if _per_piece(weave):
        columns += [
            Column(title=say.in_one(short(piece.singular, 20)), align=_RIGHT) for piece in weave.pieces
        ]
    columns.append(Column(title=say.IN_ALL, align=_RIGHT))
    if weave.kit is not None:
        columns += [Column(title=say.IN_KIT, align=_RIGHT), Column(title=say.SPARE, align=_RIGHT)]
    return columns


def _count_cells(weave: Weave, row: RingRow | FindingRow) -> tuple[Cell, ...]:
    cells: list[tuple[Run, ...]] = []
    if _per_piece(weave):
        cells += [plain(str(count)) for count in row.per_piece]
    cells.append((strong(str(row.needed)),))
    if weave.kit is not None:
        cells += [
            plain(say.NOT_KNOWN if row.packed is None else str(row.packed)),
            plain(say.NOT_KNOWN if row.spare is None else str(row.spare)),
        ]
    return tuple(cells)


def _per_piece(weave: Weave) -> bool:
    """Whether a column for each piece says more than the sum."""
    several = len(weave.pieces) > 1 or any(piece.times > 1 for piece in weave.pieces)
    return several and len(weave.pieces) <= MOST_PIECE_COLUMNS


def _by_piece(
    flow: Flow, material: Material, rings: Sequence[RingRow], findings: Sequence[FindingRow]
) -> None:
    """How many of each kind are in one of each piece, where there are too many pieces for columns."""
    columns = [
        Column(title=say.PIECE),
        Column(title=say.RING, grows=True),
        Column(title=say.IN_ONE, align=_RIGHT),
    ]
    rows: list[tuple[Cell, ...]] = []
    for index, piece in enumerate(material.weave.pieces):
        name: Cell = (strong(short(capital(typed(piece.singular)), LONGEST_LABEL)),)
        for ring in rings:
            if ring.per_piece[index]:
                rows.append((name, plain(ring_name(ring)), plain(str(ring.per_piece[index]))))
                name = plain("")
        for finding in findings:
            if finding.per_piece[index]:
                kind = material.weave.finding_kinds[finding.kind]
                title = short(capital(typed(kind.plural)), LONGEST_LABEL)
                rows.append((name, plain(title), plain(str(finding.per_piece[index]))))
                name = plain("")
    flow.table(set_table(columns, rows, measure(flow)), SPACE_2)


def _metal(flow: Flow, rows: Sequence[RingRow]) -> None:
    """Density, mass and wire of each kind."""
    columns = [
        Column(title=say.RING, grows=True),
        Column(title=say.DENSITY, align=_RIGHT),
        Column(title=say.MASS_EACH, align=_RIGHT),
        Column(title=say.MASS_ALL, align=_RIGHT),
        Column(title=say.WIRE_EACH, align=_RIGHT),
        Column(title=say.WIRE_ALL, align=_RIGHT),
    ]
    cells: list[tuple[Cell, ...]] = []
    for row in rows:
        metal, each, whole = row.metal, row.mass_g, row.total_mass_g
        texts = [
            say.NOT_KNOWN if metal is None else say.density(digits(metal.density)),
            say.NOT_KNOWN if each is None else say.small_grams(each),
            say.NOT_KNOWN if whole is None else say.grams(whole),
            in_mm(row.wire_mm, 1),
            say.metres(row.total_wire_mm),
        ]
        cells.append(((strong(ring_name(row)),), *(plain(unbroken(text)) for text in texts)))
    known = [row.metal for row in rows if row.metal is not None]
    notes = [say.mass_note(max(metal.tolerance for metal in known))] if known else []
    if len(known) < len(rows):
        notes.append(say.UNKNOWN_METAL_NOTE)
    note = remark(flow, " ".join(notes))
    flow.table(set_table(columns, cells, flow.frame.width, gap=SPACE_3), SPACE_2, note)
