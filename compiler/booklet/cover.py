"""The cover: title, designer, the finished piece, what it is.

In: a booklet's material, out: the first page of the flow. Without a figure a band of rings of the pattern's own
proportions stands in its place, as an ornament.
"""

import math

from compiler.booklet.blocks import stack
from compiler.booklet.flow import Flow
from compiler.booklet.house import House
from compiler.booklet.page import Block, Cap, Circle, Group, Item, Picture, Role, Stroke
from compiler.booklet.paths import Pen
from compiler.booklet.setting import Material, short
from compiler.booklet.style import (
    ACCENT,
    CAPTION,
    COVER_TITLE,
    LABEL,
    LEAD,
    MUTED,
    PAGE_TITLE,
    PAPER,
    SECTION_TITLE,
    SMALL,
    SPACE_2,
    SPACE_4,
    SPACE_5,
    SPACE_6,
)
from compiler.booklet.text import Align, Run, natural_width, plain, set_text
from compiler.catalogue import booklet_english as say
from compiler.catalogue import making_english as making

LONGEST_ABOUT = 5
"""Lines of the text about the piece that the cover takes; a longer one stands on the next page."""
_TITLE_SHARE = 0.34
"""Share of the page's height that the title may take."""
_TITLES = (COVER_TITLE, PAGE_TITLE, SECTION_TITLE, SMALL)
_LONGEST_TITLE = 900
_LONGEST_LINE = 240
_ORNAMENT_RINGS = 7
_LOGO_WIDTH, _LOGO_HEIGHT = 110.0, 40.0
"""Points that a logo takes at most."""
_LONGEST_PUBLISHER = 60
_OUTLINE = 1.1
"""Points of line on both sides of an ornament's wire."""


def about_on_cover(material: Material, width: float) -> Block | None:
    """The text about the piece, where it is there and short enough."""
    if not material.words.about:
        return None
    block = set_text(plain(material.words.about), LEAD, width)
    return block if block.height <= LONGEST_ABOUT * LEAD.leading else None


def cover(flow: Flow, material: Material) -> None:
    """The first page."""
    frame, words = flow.frame, material.words
    wide = frame.column(0, 10)[1]
    flow.mark("cover", say.COVER, 0, listed=False)
    title = _title(words.title, frame.width, _TITLE_SHARE * frame.height)
    top = [title]
    if words.by:
        runs = (Run(text=say.by(short(words.by, _LONGEST_LINE)), color=MUTED),)
        top.append(set_text(runs, LEAD, wide))
    head = stack(top, SPACE_2)
    edition = _edition_line(material)
    foot = _foot(material, wide, edition)
    _house(flow, material.house)
    flow.draw(head, frame.x, frame.y + SPACE_5)
    upper = frame.y + SPACE_5 + head.height + SPACE_5
    lower = frame.bottom - foot.height - SPACE_5
    caption = _picture(flow, material, upper, lower - upper)
    flow.draw(foot, frame.x, frame.bottom - foot.height)
    if caption:
        line = set_text(plain(caption), CAPTION, frame.width, align=Align.RIGHT, role=Role.CAPTION)
        beside = natural_width(edition, CAPTION) + SPACE_4 + natural_width(plain(caption), CAPTION)
        # beside the edition where there is room, else between the figure and the foot
        bottom = frame.bottom if beside <= frame.width else frame.bottom - foot.height - SPACE_2
        flow.draw(line, frame.x, bottom - line.height)
    flow.page_break()


def _house(flow: Flow, house: House) -> None:
    """The publisher's name on the left and the logo on the right, above everything else."""
    frame, logo = flow.frame, house.logo
    width = frame.width
    if logo is not None:
        scale = min(_LOGO_WIDTH / logo.columns, _LOGO_HEIGHT / logo.rows)
        wide, high = scale * logo.columns, scale * logo.rows
        picture = Picture(x=0.0, y=0.0, width=wide, height=high, data=logo.data)
        block = Block(
            width=wide, height=high, items=(Group(role=Role.FIGURE, alt=logo.says, items=(picture,)),)
        )
        flow.draw(block, frame.x + frame.width - wide, frame.y + LABEL.leading - high)
        width -= _LOGO_WIDTH + SPACE_4
    if house.publisher:
        name = set_text(plain(short(house.publisher, _LONGEST_PUBLISHER)), LABEL, width)
        flow.draw(name, frame.x, frame.y)


def _title(text: str, width: float, most: float) -> Block:
    """The title, as large as it can be within a height."""
    for style in _TITLES[:-1]:
        block = set_text(plain(text), style, width, role=Role.HEADING_1)
        if block.height <= most:
            return block
    return set_text(plain(short(text, _LONGEST_TITLE)), _TITLES[-1], width, role=Role.HEADING_1)


def _edition_line(material: Material) -> tuple[Run, ...]:
    words = material.words
    line = [say.level(short(words.level, _LONGEST_LINE))] if words.level else []
    line += [say.edition_line(short(words.version, _LONGEST_LINE))] if words.version else []
    line += [say.with_changes(short(material.changes, _LONGEST_LINE))] if material.changes else []
    return plain("  ·  ".join(line)) if line else ()


def _foot(material: Material, width: float, edition: tuple[Run, ...]) -> Block:
    parts: list[Block] = []
    about = about_on_cover(material, width)
    if about is not None:
        parts.append(about)
    if edition:
        parts.append(set_text(edition, CAPTION, width))
    return stack(parts, SPACE_4)


def _picture(flow: Flow, material: Material, top: float, height: float) -> str:
    """The finished piece, or the ornament, in the middle of a height; what is to be said of its scale."""
    frame = flow.frame
    if height < SPACE_6:
        return ""
    figure = material.figures.finished(0, frame.width, height) if material.weave.pieces else None
    if figure is None:
        band = _ornament(material, frame.width)
        if band.height <= height:
            flow.draw(band, frame.x, top + (height - band.height) / 2)
        return ""
    group: Item = Group(role=Role.FIGURE, alt=figure.alt, items=figure.items)
    block = Block(width=figure.width, height=figure.height, items=(group,))
    flow.draw(block, frame.x + (frame.width - figure.width) / 2, top + (height - figure.height) / 2)
    return " ".join(each for each in (making.figure_scale(figure), figure.caption) if each)


def _ornament(material: Material, width: float) -> Block:
    """A chain of flat rings, each over one neighbour's wire and under it again."""
    kinds = material.weave.ring_kinds
    share = 0.2
    if kinds:
        share = float(kinds[0].wire_mm / (kinds[0].inner_mm + kinds[0].wire_mm))
    share = min(0.34, max(0.1, share))
    radius = width / (2 + 1.42 * (_ORNAMENT_RINGS - 1) + 2 * share)
    wire = 2 * radius * share
    step = 1.42 * radius
    middle = radius + wire / 2
    centres = [middle + index * step for index in range(_ORNAMENT_RINGS)]
    items: list[Item] = []
    for index, x in enumerate(centres):
        items += _ring(x, middle, radius, wire, None)
        if index:
            # the ring before comes up again over the upper crossing
            angle = -math.degrees(math.acos(step / 2 / radius))
            items += _ring(centres[index - 1], middle, radius, wire, (angle - 24.0, 48.0))
    return Block(width=width, height=2 * middle, items=(Group(role=Role.DECORATION, items=tuple(items)),))


def _ring(x: float, y: float, radius: float, wire: float, arc: tuple[float, float] | None) -> list[Item]:
    """A ring or an arc of one: drawn as a tube in outline, so that it lies over what is there."""
    casing = Stroke(color=ACCENT, width=wire, cap=Cap.BUTT)
    body = Stroke(color=PAPER, width=wire - 2 * _OUTLINE, cap=Cap.BUTT)
    if arc is None:
        return [
            Circle(x=x, y=y, radius=radius, stroke=casing),
            Circle(x=x, y=y, radius=radius, stroke=body),
        ]
    start, sweep = arc
    return [
        Pen().arc(x, y, radius, start, sweep).path(stroke=casing),
        Pen().arc(x, y, radius, start - 1.0, sweep + 2.0).path(stroke=body),
    ]
