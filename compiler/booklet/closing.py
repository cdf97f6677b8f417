"""The last pages: finishing, cautions, the words used, the edition.

In: a booklet's material, out: parts of the flow.
"""

from collections.abc import Iterator, Sequence

from compiler.booklet.flow import Flow, Part
from compiler.booklet.page import Block, Face
from compiler.booklet.setting import (
    Material,
    bullets,
    divided,
    measure,
    page_title,
    paragraphs,
    section_title,
)
from compiler.booklet.style import BODY, MUTED, SMALL, SPACE_1, SPACE_2, SPACE_4
from compiler.booklet.text import Run, plain, set_text, strong
from compiler.catalogue import booklet_english as say
from compiler.catalogue import cautions_english as cautions
from compiler.catalogue import english
from compiler.catalogue import making_english as making
from compiler.catalogue.nouns import counts, typed
from compiler.messages import KindCount, KindName
from notation.metals import Caution

EAR_TYPES = frozenset({"ear-wire", "ear-post", "ear-clip", "earring"})
"""Findings that are worn in or on the ear, by their type in the pattern."""
_HEAD_COLUMNS = 3


def finishing(flow: Flow, material: Material) -> None:
    """What to look at when the last ring is closed, and what is left of the kit."""
    page_title(flow, making.FINISHING, "finishing")
    bullets(flow, [plain(text) for text in making.FINISHING_TEXT], first=0.0)
    kinds = _kinds(material)
    whole = [KindCount(kind=kind, count=needed) for kind, needed, _ in kinds if needed]
    pieces = sum(piece.times for piece in material.words.pieces)
    texts = [making.final_count(counts(whole), pieces=pieces)] if whole else []
    if material.weave.kit is not None:
        left = [KindCount(kind=kind, count=spare) for kind, _, spare in kinds if spare and spare > 0]
        texts.append(
            making.left_over(counts(left), single=sum(each.count for each in left) == 1)
            if left
            else making.NOTHING_LEFT
        )
    paragraphs(flow, texts, first=SPACE_4)


def _kinds(material: Material) -> list[tuple[KindName, int, int | None]]:
    """Every kind of ring and finding with what is needed and what is left over."""
    quantities = material.quantities
    found = [
        (
            KindName(key=row.kind.name, singular=row.kind.singular, plural=row.kind.plural, finding=False),
            row.needed,
            row.spare,
        )
        for row in quantities.rings
    ]
    for row in quantities.findings:
        kind = material.weave.finding_kinds[row.kind]
        name = KindName(key=kind.name, singular=kind.singular, plural=kind.plural, finding=True)
        found.append((name, row.needed, row.spare))
    return found


def caution_pages(flow: Flow, material: Material) -> None:
    """The cautions, those of metals by what the pattern uses."""
    section_page(flow, cautions.CAUTIONS, "cautions")
    entries = list(cautions.GENERAL_CAUTIONS)
    if any(
        row.needed and material.weave.finding_kinds[row.kind].type in EAR_TYPES
        for row in material.quantities.findings
    ):
        entries.append(cautions.EAR_CAUTION)
    for caution, metals in metal_cautions(material):
        entries.append(cautions.metal_caution(caution, metals))
    entries.append(cautions.LAW)
    _definitions(flow, entries)


def metal_cautions(material: Material) -> list[tuple[Caution, tuple[str, ...]]]:
    """Each caution that a metal in use calls for, with the printed names of those metals."""
    used = [row.metal for row in material.quantities.rings if row.needed]
    for row in material.quantities.findings:
        name = material.weave.finding_kinds[row.kind].metal
        if row.needed and name is not None:
            used.append(material.metal(name))
    metals = {metal.name: metal for metal in used if metal is not None}
    found = []
    for caution in Caution:
        titles = tuple(metal.title for metal in metals.values() if caution in metal.cautions)
        if titles:
            found.append((caution, titles))
    return found


def glossary(flow: Flow, material: Material) -> None:
    """The words of the craft that the steps use."""
    terms = material.words.terms
    if terms:
        section_page(flow, say.GLOSSARY, "glossary")
        _definitions(flow, [english.glossary_entry(term, terms) for term in terms])


def edition(flow: Flow, material: Material) -> None:
    """Whose pattern this is, which edition, and under which terms."""
    words, weave, house = material.words, material.weave, material.house
    flow.mark("edition", say.EDITION, 0)
    section_title(flow, say.EDITION)
    version = " · ".join(part for part in (typed(words.version), material.edition) if part)
    rows = [
        (say.TITLE_ROW, typed(words.title)),
        (say.DESIGNER_ROW, typed(words.by)),
        (say.EDITION_ROW, version),
        (say.CHANGES_ROW, material.changes),
        (say.LENGTHS_ROW, say.made_to_length(material.lengths)),
        (say.PUBLISHER_ROW, typed(material.house.publisher)),
        (say.CONTACT_ROW, typed(material.house.contact)),
        (say.LICENCE_ROW, say.licence(weave.licence) if weave.licence else say.NO_LICENCE),
    ]
    parts = list(_defined(flow, [row for row in rows if row[1]]))
    colophon = divided((Run(text=say.colophon(house.families, len(house.fonts) == len(Face)), color=MUTED),))
    parts += [Part(block=set_text(piece, SMALL, measure(flow)), gap=SPACE_4) for piece in colophon]
    flow.together(parts)


def section_page(flow: Flow, title: str, anchor: str) -> None:
    """A section that goes on where a third of a page is free for it, else begins a page."""
    if flow.room < flow.frame.height / 3:
        flow.page_break()
    flow.mark(anchor, title, 0)
    section_title(flow, title)


def _definitions(flow: Flow, entries: Sequence[tuple[str, str]]) -> None:
    for part in _defined(flow, entries):
        flow.put(part)


def _defined(flow: Flow, entries: Sequence[tuple[str, str]]) -> Iterator[Part]:
    """Heads in a narrow column, their texts beside them."""
    head_width = flow.frame.column(0, _HEAD_COLUMNS)[1]
    x, width = flow.frame.column(_HEAD_COLUMNS, 12 - _HEAD_COLUMNS)
    for index, (head, text) in enumerate(entries):
        name = set_text((strong(head),), BODY, head_width)
        for piece in divided(plain(text)):
            words = set_text(piece, BODY, width)
            items = (*name.items, *words.at(x - flow.frame.x, 0.0))
            block = Block(width=flow.frame.width, height=max(name.height, words.height), items=items)
            yield Part(block=block, gap=SPACE_2 if index else SPACE_1)
            name = Block(width=head_width, height=0.0, items=())
