"""Weave, words and figures to the pages of a booklet; in: those, out: a `Document` for `typeset`.

The order of the sections is decided here; what a section looks like, in its own file (`cover`, `glance`,
`materials`, `truesize`, `before`, `steppages`, `closing`). The pages are poured first; page numbers, the foot of
each page and, in a booklet of more than 8 pages, the contents list follow when their count is known.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from compiler.booklet.before import before
from compiler.booklet.closing import caution_pages, edition, finishing, glossary
from compiler.booklet.contents import contents, contents_pages, short_contents
from compiler.booklet.cover import cover
from compiler.booklet.figuretypes import FigureSource
from compiler.booklet.flow import Flow
from compiler.booklet.glance import glance
from compiler.booklet.house import House, Section
from compiler.booklet.materials import materials
from compiler.booklet.page import Document, Group, Item, Page, Role
from compiler.booklet.recolour import recoloured
from compiler.booklet.setting import Material, short
from compiler.booklet.steppages import step_pages
from compiler.booklet.style import FOOTER, FOOTER_BASELINE, SPACE_4, Frame, Paper, frame
from compiler.booklet.text import Align, plain, set_text
from compiler.booklet.truesize import true_size
from compiler.catalogue import booklet_english as say
from compiler.catalogue.nouns import typed
from compiler.kit import USUAL_RATES, Rates, quantities
from compiler.steps import Words
from compiler.weave import Weave

CONTENTS_FROM = 9
"""Pages from which on a booklet has a contents list, the list itself not counted."""
_LONGEST_FOOT = 70
_COVER_PAGES = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """What does not come from the pattern."""

    paper: Paper = Paper.A4
    edition: str = ""
    """Printed beside the pattern's version, for example a commit of its text."""
    changes: str = ""
    """What is other than in the pattern as written; printed on the cover and beside the edition."""
    lengths: tuple[str, ...] = ()
    """What was worked out for pieces made to a length; printed beside the edition."""
    house: House = House()
    rates: Rates = USUAL_RATES
    created: int | None = None
    """Seconds since 1970-01-01 UTC, for the file's metadata; None leaves the date out."""


def _making(flow: Flow, material: Material) -> None:
    """What is done before the steps, and the steps, which are set first: what is explained is what they have."""
    steps = Flow(material.paper)
    more = step_pages(steps, material)
    before(flow, material, more)
    flow.join(steps)


_SECTIONS: tuple[tuple[Section | None, Callable[[Flow, Material], None]], ...] = (
    (None, cover),
    (Section.GLANCE, glance),
    (None, materials),
    (Section.TRUE_SIZE, true_size),
    (None, _making),
    (Section.FINISHING, finishing),
    (None, caution_pages),
    (Section.GLOSSARY, glossary),
    (None, edition),
)
"""The sections in order, each with what a house leaves it out by."""


def compose(weave: Weave, words: Words, figures: FigureSource, options: Options) -> Document:
    """The booklet of a pattern without errors.

    Characters that the fonts lack must have been told before (`compiler.booklet.glyphs`).
    """
    material = Material(
        weave=weave,
        words=words,
        quantities=quantities(weave, options.rates),
        figures=figures,
        paper=options.paper,
        metals=weave.metals,
        edition=options.edition,
        changes=options.changes,
        lengths=options.lengths,
        rates=options.rates,
        house=options.house,
    )
    flow = Flow(options.paper)
    left_out = options.house.left_out
    glanced: tuple[int, float] | None = None
    for section, put in _SECTIONS:
        if section not in left_out:
            put(flow, material)
        if section is Section.GLANCE and section not in left_out:
            glanced = len(flow.pages) - 1, flow.y + SPACE_4
    pages = flow.pages
    if len(pages) >= CONTENTS_FROM and Section.CONTENTS not in left_out:
        listed = [each for each in flow.entries if each.listed]
        brief = short_contents(listed, options.paper)
        if glanced is not None and glanced[1] + brief.height <= flow.frame.bottom:
            pages[glanced[0]].extend(brief.at(flow.frame.x, glanced[1]))
        else:
            shift = contents_pages(listed, options.paper)
            pages = [*pages[:_COVER_PAGES], *contents(listed, shift, options.paper), *pages[_COVER_PAGES:]]
    title = typed(words.title)
    return Document(
        title=title,
        author=typed(words.by),
        subject=say.SUBJECT,
        language=say.LANGUAGE,
        keywords=say.KEYWORDS,
        created=options.created,
        pages=_finished(pages, title, options),
    )


def _finished(pages: Sequence[list[Item]], title: str, options: Options) -> tuple[Page, ...]:
    """The pages with their feet, in the colours of the house; the cover has no foot."""
    paper, palette = options.paper, options.house.palette
    area = frame(paper)
    finished: list[Page] = []
    for number, items in enumerate(pages, start=1):
        foot = _foot(title, number, len(pages), area, paper) if number > _COVER_PAGES else ()
        painted = recoloured((*items, *foot), palette)
        finished.append(Page(width=paper.width, height=paper.height, label=str(number), items=painted))
    return tuple(finished)


def _foot(title: str, number: int, count: int, area: Frame, paper: Paper) -> tuple[Item, ...]:
    """Title on the left, page number on the right; no part of the text to a reader who hears the page."""
    folio = set_text(plain(say.folio(number, count)), FOOTER, area.width, align=Align.RIGHT, role=None)
    left = set_text(plain(short(title, _LONGEST_FOOT)), FOOTER, 0.75 * area.width, role=None)
    y = paper.height - FOOTER_BASELINE - folio.baseline
    return (Group(role=Role.DECORATION, items=(*left.at(area.x, y), *folio.at(area.x, y))),)
