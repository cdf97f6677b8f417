"""The weave as JSON, for other programs; in: a weave and the texts of its steps, out: one string.

The format is fixed by `export-schema.json` beside this file. Ids are whole numbers, the same for the same text;
keys (`body/point[2,1]#2`) name a ring by where it stands in the pattern and stay when something else is changed.
Lengths are millimetres, exact as written or from the gauge table.
"""

from __future__ import annotations

import json
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from compiler.beginning import Outline, cut_off
from compiler.counts import counts_of
from compiler.facts import companion_rows, cycle_rows, pose_rows, relation_rows
from compiler.graph import Addresses
from compiler.layout import Layout
from compiler.size import Size, finished_size, pitches
from compiler.weave import PieceWeave, Weave

FORMAT = "annulet-weave"
VERSION = 1
_SIZE_DECIMALS = 3
"""What is measured on a layout is given to 0.001 mm: its places are kept to a tenth of that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepText:
    """A step in words."""

    title: str
    text: str
    """Its paragraphs, with an empty line between them."""


def export(
    weave: Weave,
    texts: Sequence[Sequence[StepText]],
    layouts: Mapping[int, Layout] | None = None,
    changes: str = "",
    outlines: Mapping[int, tuple[Outline, Layout]] | None = None,
) -> Iterator[str]:
    """The weave as JSON text, piece by piece of it; `texts` has for each piece the words of each of its steps.

    `layouts`, by index of the piece, are those that are known, proved or not; a size is given where one is proved.
    Of a piece that is too large for one, `outlines` have the whole in outline and the layout of its first rings.
    `changes` says what is other than in the pattern as written.
    A ring, link or step stands in a line of its own: a difference can be read, and a large sheet is never held
    in memory a second time.
    """
    yield f'{{"format": {_json(FORMAT)}, "version": {VERSION}, "title": {_json(weave.title)},\n'
    yield f'"changes": {_json(changes)},\n"pieces": ['
    for index, (piece, steps) in enumerate(zip(weave.pieces, texts, strict=True)):
        yield ",\n" if index else "\n"
        yield from _piece(weave, piece, steps, (layouts or {}).get(index))
        if outlines and index in outlines:
            outline, begun = outlines[index]
            told = _measures(outline.size, cut_off(piece, outline.begun), begun)
            yield f',\n "size": {_json({**told, "of_first": outline.begun})}'
        yield "}"
    yield '],\n"materials": ['
    yield from _rows(_materials(weave))
    yield "}\n"


def _piece(
    weave: Weave, piece: PieceWeave, texts: Sequence[StepText], layout: Layout | None
) -> Iterator[str]:
    steps = _Steps(piece)
    yield f' {{"name": {_json(piece.name)}, "makes": {piece.times}'
    parts: tuple[tuple[str, Iterable[object] | None], ...] = (
        ("rings", _rings(weave, piece, steps)),
        ("links", zip(piece.link_a, piece.link_b, strict=True)),
        ("signs", piece.link_sign),
        ("relations", relation_rows(piece)),
        ("cycles", cycle_rows(piece)),
        ("poses", pose_rows(piece)),
        ("companions", companion_rows(piece)),
        ("findings", _findings(weave, piece, steps)),
        ("steps", _step_rows(weave, piece, steps, texts)),
    )
    for name, rows in parts:
        if rows is None:
            yield f',\n "{name}": null'
            continue
        yield f',\n "{name}": ['
        yield from _rows(rows)
    if layout is not None:
        yield from _geometry(piece, layout)


def _geometry(piece: PieceWeave, layout: Layout) -> Iterator[str]:
    verdict = layout.verdict
    size = finished_size(piece, layout.circles) if verdict.proved else None
    if size is not None:
        yield f',\n "size": {_json(_measures(size, piece, layout))}'
    yield f',\n "geometry": {{"proved": {_json(verdict.proved)}, "clearance": {_json(verdict.clearance)}, "circles": ['
    yield from _rows(
        {
            "id": node,
            "centre": list(circle.centre),
            "normal": list(circle.normal),
            "core_radius": circle.core_radius,
            "tube_radius": circle.tube_radius,
        }
        for node, circle in enumerate(layout.circles)
    )
    yield "}"


def _measures(size: Size, piece: PieceWeave, layout: Layout) -> dict[str, object]:
    return {
        "length_mm": round(size.length, _SIZE_DECIMALS),
        "width_mm": round(size.width, _SIZE_DECIMALS),
        "thickness_mm": round(size.thickness, _SIZE_DECIMALS),
        "pitches": [
            {
                "group": piece.groups[pitch.group].key,
                "along_mm": None if pitch.along is None else round(pitch.along, _SIZE_DECIMALS),
                "rows_mm": None if pitch.rows is None else round(pitch.rows, _SIZE_DECIMALS),
            }
            for pitch in pitches(piece, layout.circles)
        ],
    }


def _rows(rows: Iterable[object]) -> Iterator[str]:
    """The rest of a list that has been opened, an entry a line."""
    between = "\n  "
    for row in rows:
        yield between + _json(row)
        between = ",\n  "
    yield "]"


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


class _Steps:
    """Which step a motion belongs to."""

    def __init__(self, piece: PieceWeave) -> None:
        self._firsts = [step.first for step in piece.steps]

    def of(self, motion: int) -> int:
        """The number of the step, from 1."""
        return bisect_right(self._firsts, motion)


def _rings(weave: Weave, piece: PieceWeave, steps: _Steps) -> Iterator[dict[str, object]]:
    addresses = Addresses(piece)
    for node, number in enumerate(piece.kind):
        if number < 0:
            continue
        kind = weave.ring_kinds[number]
        address = addresses.of(node)
        group = piece.groups[address.group]
        index = f"{address.row},{address.place}" if address.row else f"{address.place}"
        companion = piece.companion[node]
        yield {
            "id": node,
            "key": f"{group.key}[{index}]" + (f"#{companion + 1}" if companion else ""),
            "kind": kind.name,
            "inner_mm": _mm(kind.inner_mm),
            "wire_mm": _mm(kind.wire_mm),
            "metal": kind.metal,
            "label": kind.singular,
            "step": steps.of(piece.born[node]),
            "strand": piece.strand[node],
        }


def _findings(weave: Weave, piece: PieceWeave, steps: _Steps) -> Iterator[dict[str, object]]:
    for use in piece.findings:
        kind = weave.finding_kinds[use.kind]
        yield {
            "key": use.key,
            "kind": kind.name,
            "type": kind.type,
            "label": use.label,
            "metal": kind.metal,
            "wire_mm": _mm(kind.wire_mm),
            "length_mm": _mm(kind.length_mm),
            "step": steps.of(use.motion),
            "eyes": [
                {"id": node, "name": eye.name, "inner_mm": _mm(eye.inner_mm), "opens": eye.opens}
                for eye, node in zip(kind.eyes, use.eyes, strict=True)
            ],
        }


def _step_rows(
    weave: Weave, piece: PieceWeave, steps: _Steps, texts: Sequence[StepText]
) -> list[dict[str, object]]:
    adds: list[dict[str, int]] = [{} for _ in piece.steps]
    links: list[list[list[int]]] = [[] for _ in piece.steps]
    for number, born in zip(piece.kind, piece.born, strict=True):
        if number >= 0:
            name = weave.ring_kinds[number].name
            counts = adds[steps.of(born) - 1]
            counts[name] = counts.get(name, 0) + 1
    for use in piece.findings:
        name = weave.finding_kinds[use.kind].name
        counts = adds[steps.of(use.motion) - 1]
        counts[name] = counts.get(name, 0) + 1
    for a, b, motion in zip(piece.link_a, piece.link_b, piece.link_motion, strict=True):
        links[steps.of(motion) - 1].append([a, b])
    return [
        {
            "number": index + 1,
            "key": step.key,
            "title": text.title,
            "text": text.text,
            "adds": adds[index],
            "links": links[index],
        }
        for index, (step, text) in enumerate(zip(piece.steps, texts, strict=True))
    ]


def _materials(weave: Weave) -> list[dict[str, object]]:
    each = [counts_of(weave, piece) for piece in weave.pieces]
    kit = None if weave.kit is None else {entry.kind: entry.count for entry in weave.kit}
    sizes: list[tuple[str, Decimal | None, Decimal | None, str | None]] = [
        *((kind.name, kind.inner_mm, kind.wire_mm, kind.metal) for kind in weave.ring_kinds),
        *((kind.name, None, kind.wire_mm, kind.metal) for kind in weave.finding_kinds),
    ]
    rows: list[dict[str, object]] = []
    for name, inner, wire, metal in sizes:
        total = sum(
            counts.get(name, 0) * piece.times for counts, piece in zip(each, weave.pieces, strict=True)
        )
        packed = None if kit is None else kit.get(name, 0)
        rows.append(
            {
                "kind": name,
                "inner_mm": _mm(inner),
                "wire_mm": _mm(wire),
                "metal": metal,
                "each": {
                    piece.name: counts.get(name, 0) for counts, piece in zip(each, weave.pieces, strict=True)
                },
                "total": total,
                "kit": packed,
                "spare": None if packed is None else packed - total,
            }
        )
    return rows


def _mm(length: Decimal | None) -> float | None:
    """A length as a JSON number: at most ten metres with six decimals, which a double prints as written."""
    return None if length is None else float(length)
