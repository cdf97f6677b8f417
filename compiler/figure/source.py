"""The figures of a pattern: `FigureSource` for the booklet.

In: a weave, proved layouts of its pieces where there are any, words. Out: figures of a given size. One view and one
scale serve the steps of a piece, and its rows lie level in it; a step in which the view changes, because the text turns
the work over or because other rows are worked on, has a sign. The finished piece is shown as it is worn.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import ceil, dist

from compiler.booklet.figuretypes import BESIDE_RINGS, Estimate, Extent, Figure, Mark, MarkSample
from compiler.booklet.page import MM, Color, Item, moved
from compiler.booklet.style import FIGURE_LABEL, INK, NEW, PASSED
from compiler.figure.drawing import drawn, sample
from compiler.figure.folded import FOLD_HEIGHT, fold_in, with_fold
from compiler.figure.footer import BAR_HEIGHT, scale_bar
from compiler.figure.labels import half_size
from compiler.figure.level import row_families, turns
from compiler.figure.look import blend
from compiler.figure.notes import Note
from compiler.figure.panels import SIGN_ROOM, Named, View, lined, step_items, window_of
from compiler.figure.picture import Box, Picture, box_of, standing, turned_by, turned_over
from compiler.figure.plan import Plan, plan_step, ways_of
from compiler.figure.roles import Roles, roles_at, steps_looked_at, turned_at
from compiler.figure.scale import fitting, piece_scale
from compiler.figure.schematic import schematic
from compiler.figure.true_view import true_view
from compiler.figure.words import EnglishWords, FigureWords, leads
from compiler.layout import Layout
from compiler.weave import PieceWeave, Weave

_SEEN_TURN = 0.2
"""Radians from which on it is said that a figure is turned against the way the piece is worn."""
_EDGE = 2.0
"""Points left free round a finished piece."""
_THICKEST = 8.5
"""Points: the wire of a finished piece, in the median, is drawn no thicker."""
_MOST_NAMES = {Mark.NEW: 16, Mark.CARRIED: 16, Mark.PASSED: 8}
"""Of more rings with one mark only the first and the last are named, and those between that a reader counts by."""
_COUNTED, _MOST_COUNTED = 5, 12
"""Every fifth is; of very many every tenth, fifteenth and so on, so that they are no more than the second."""
_HIDDEN = 0.6
"""Rings of a strand that are seen less than so many radii of their wire apart hide one another."""


class Figures:
    """Draws the figures of a weave when they are asked for."""

    def __init__(
        self,
        weave: Weave,
        layouts: Mapping[int, Layout] | None = None,
        words: FigureWords | None = None,
        extents: Mapping[int, Extent] | None = None,
    ) -> None:
        """Layouts and sizes by piece; a layout that is not proved is not drawn, its piece gets a schematic."""
        self._weave = weave
        self._layouts = {number: each for number, each in (layouts or {}).items() if each.verdict.proved}
        self._words: FigureWords = EnglishWords(weave) if words is None else words
        self._extents = dict(extents or {})
        self._pictures: dict[int, Picture] = {}
        self._flats: dict[int, Picture] = {}
        self._angles: dict[int, tuple[float, ...]] = {}
        self._turned: dict[tuple[int, float, bool], Picture] = {}
        self._scales: dict[int, float] = {}
        self._views: dict[tuple[int, int], View | None] = {}
        self._plans: dict[tuple[int, int, float, float], Plan] = {}
        self._steps: dict[tuple[int, int, Plan, tuple[float, float] | None], Figure] = {}
        """By what is drawn: a booklet asks for many sizes while it looks for its page ends."""

    # ------------------------------------------------------------ what the booklet asks for

    def finished(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece, in tones by kind."""
        if not len(self._weave.pieces[piece]):
            return None
        picture = standing(self.picture(piece))
        box = box_of(picture, range(len(picture.loops)))
        bar = 0.0 if picture.schematic else BAR_HEIGHT
        scale = fitting(picture, box, width - 2 * _EDGE, height - 2 * _EDGE - bar, _THICKEST)
        return self._finished(piece, picture, box, scale)

    def actual(self, piece: int, width: float, height: float) -> Figure | None:
        """The finished piece in its true size; None where it is a schematic or too large.

        Nor is there one where a finding with several eyes, such as a chain, holds it together: its length is not drawn.
        """
        if piece not in self._layouts or any(len(use.eyes) > 1 for use in self._weave.pieces[piece].findings):
            return None
        picture = standing(self.picture(piece))
        box = box_of(picture, range(len(picture.loops)))
        figure = self._finished(piece, picture, box, MM)
        return figure if figure.width <= width and figure.height <= height else None

    def _finished(self, piece: int, picture: Picture, box: Box, scale: float) -> Figure:
        weave = self._weave.pieces[piece]
        nodes = tuple(range(len(weave)))
        bar = 0.0 if picture.schematic else BAR_HEIGHT
        window, size = window_of(box, scale, _EDGE, _EDGE)
        items = drawn(picture, weave, nodes, None, window)
        if not picture.schematic:
            ruler, long = scale_bar(scale)
            items, size = (*items, *moved(ruler, _EDGE, size[1])), (max(size[0], long + 4.0), size[1] + bar)
        return self._figure(picture, items, size, self._words.finished(piece), scale, picture.notes)

    def step(self, piece: int, step: int, width: float, height: float) -> Figure | None:
        """The work at the end of a step."""
        view = self._view(piece, step)
        if view is None:
            return None
        plan = self._plan(view, piece, step, width, height)
        key = piece, step, plan, (width, height) if plan.way.enlarged else None
        if key not in self._steps:
            self._steps[key] = self._drawn(view, plan, piece, step, (width, height))
        return self._steps[key]

    def estimate(self, piece: int, step: int, width: float, height: float) -> Estimate | None:
        """How clear the figure of a step is and how much it takes, by its plan alone."""
        view = self._view(piece, step)
        if view is None:
            return None
        plan = self._plan(view, piece, step, width, height)
        tall = plan.tall(view.bar) + (FOLD_HEIGHT if view.fold is not None else 0.0)
        return Estimate(clear=plan.way.clear, height=min(height, tall))

    def _plan(self, view: View, piece: int, step: int, width: float, height: float) -> Plan:
        asked = (piece, step, width, height)
        if asked not in self._plans:
            free = width - SIGN_ROOM if view.signs else width
            tall = height - FOLD_HEIGHT if view.fold is not None else height
            self._plans[asked] = plan_step(view.picture, view.ways, view.longest, free, tall, view.bar)
        return self._plans[asked]

    # ------------------------------------------------------------ the views of a piece

    def _view(self, piece: int, step: int) -> View | None:
        if (piece, step) not in self._views:
            self._views[piece, step] = self._viewed(piece, step)
        return self._views[piece, step]

    def _viewed(self, piece: int, step: int) -> View | None:
        weave = self._weave.pieces[piece]
        if not 1 <= step <= len(weave.steps):
            return None
        roles = roles_at(weave, step)
        if not roles.marks:
            return None
        angles = self._turns(piece)
        picture, changed = self._seen(piece, step, roles), step == 1 or angles[step - 1] != angles[step - 2]
        notes = self.picture(piece).notes
        if changed and step > 1:
            notes = (*notes, Note.ROUND)
        elif changed and abs(picture.stand) > _SEEN_TURN:
            notes = (*notes, Note.LEVEL)
        before = step > 1 and turned_at(weave, step - 1)
        named = tuple(self._named(piece, step, roles, picture))
        longest = max((2 * half_size(each.text, FIGURE_LABEL.size)[0] for each in named), default=0.0)
        return View(
            picture=picture,
            roles=roles,
            notes=notes,
            named=named,
            longest=longest,
            ways=ways_of(picture, roles, self._scale(piece)),
            over=roles.turned is not before,
            round=step > 1 and changed,
            fold=None if picture.schematic else fold_in(weave, step),
        )

    def _flat(self, piece: int) -> Picture:
        """The schematic of a piece that is shown true elsewhere."""
        if piece not in self._flats:
            self._flats[piece] = schematic(self._weave, piece)
        return self._flats[piece]

    def _turns(self, piece: int) -> tuple[float, ...]:
        """By step: the angle by which the picture of the piece is turned."""
        if piece not in self._angles:
            weave = self._weave.pieces[piece]
            self._angles[piece] = turns(weave, self.picture(piece), row_families(weave))
        return self._angles[piece]

    def _seen(self, piece: int, step: int, roles: Roles) -> Picture:
        """The picture of a piece as a step sees it: turned in its plane, and from behind."""
        key = piece, self._turns(piece)[step - 1], roles.turned
        if key not in self._turned:
            picture = turned_by(self.picture(piece), key[1])
            self._turned[key] = turned_over(picture) if roles.turned else picture
        return self._turned[key]

    def _scale(self, piece: int) -> float:
        """The scale of all steps of a piece, points per mm."""
        if piece not in self._scales:
            weave = self._weave.pieces[piece]
            told = [(step, roles_at(weave, step)) for step in steps_looked_at(len(weave.steps))]
            told = [(step, roles) for step, roles in told if roles.marks]
            views = [(self._seen(piece, step, roles), roles) for step, roles in told]
            lines = [self._words.lines(piece, step) for step, _ in told]
            bar = 0.0 if self.picture(piece).schematic else BAR_HEIGHT
            self._scales[piece] = piece_scale(views, lines, bar)
        return self._scales[piece]

    def _drawn(self, view: View, plan: Plan, piece: int, step: int, most: tuple[float, float]) -> Figure:
        parts = plan.way.parts
        shown = {node for part in parts for node in part.nodes}
        notes = view.notes
        if not any(sign.node in shown for sign in view.picture.signs):
            notes = tuple(note for note in notes if note is not Note.SIGNS)
        notes = (*notes, Note.INSET) if any(part.inset for part in parts) else notes
        new = view.roles.of(Mark.NEW) or view.roles.of(Mark.CARRIED)
        seen = sum(node in shown for node in new)
        items, size, more = step_items(self._weave.pieces[piece], view, plan, most)
        if view.fold is not None:
            flat = self._flat(piece)
            items, size = with_fold(
                (items, size), self._weave.pieces[piece], view.fold, flat, view.roles, self._words.fold()
            )
        alt = self._words.step(piece, step, view.roles)
        figure = self._figure(view.picture, items, size, alt, plan.scale, notes, turned=view.roles.turned)
        part = self._words.shown(seen, len(new)) if seen < len(new) else ""
        return replace(figure, more=more, caption=f"{part} {figure.caption}".strip())

    def extent(self, piece: int) -> Extent | None:
        """The size of the finished piece, where it was given one."""
        return self._extents.get(piece)

    def key(self) -> tuple[MarkSample, ...]:
        """A sample of each mark that the steps of the pieces use, and of those that belong to no ring."""
        used: dict[Mark, None] = {}
        for piece in self._weave.pieces:
            for step in range(1, len(piece.steps) + 1):
                roles = roles_at(piece, step)
                used.update(dict.fromkeys(roles.marks.values()))
                if roles.actor >= 0:
                    used[Mark.PATH] = None
                if len(used) == len(Mark) - len(BESIDE_RINGS):
                    break
        used.update(dict.fromkeys(BESIDE_RINGS if used else ()))
        return tuple(MarkSample(mark=mark, sample=sample(mark)) for mark in Mark if mark in used)

    # ------------------------------------------------------------ how

    def picture(self, piece: int) -> Picture:
        """The piece as it is seen while its rows are woven."""
        if piece not in self._pictures:
            layout = self._layouts.get(piece)
            true = None if layout is None else true_view(self._weave, piece, layout)
            # what would show rings the other way over each other than the words say is no figure of the piece
            shown = true if true is not None and not true.wrong_over else schematic(self._weave, piece)
            self._pictures[piece] = shown
        return self._pictures[piece]

    def _figure(
        self,
        picture: Picture,
        items: tuple[Item, ...],
        size: tuple[float, float],
        alt: str,
        scale: float,
        notes: Sequence[Note],
        *,
        turned: bool = False,
    ) -> Figure:
        return Figure(
            width=size[0],
            height=size[1],
            items=items,
            alt=alt,
            schematic=picture.schematic,
            scale=None if picture.schematic else scale / MM,
            turned=turned,
            caption=" ".join(self._words.note(note) for note in notes),
        )

    def _named(self, piece: int, step: int, roles: Roles, picture: Picture) -> list[Named]:
        """What is named in the figure of a step: what is new, what comes in with it, what it goes through.

        Of rings that lie straight behind one another it is said how many they are.
        """
        weave = self._weave.pieces[piece]
        colors = {Mark.NEW: NEW, Mark.CARRIED: blend(NEW, INK, 0.3), Mark.PASSED: blend(PASSED, INK, 0.5)}
        chosen: list[tuple[int, Color, bool]] = []
        for mark, color in colors.items():
            found = list(dict.fromkeys(leads(weave, roles.of(mark))))
            if len(found) > _MOST_NAMES[mark]:
                every = _COUNTED * ceil(len(found) / (_COUNTED * _MOST_COUNTED))
                found = [*dict.fromkeys((found[0], *found[every - 1 : -2 : every], found[-1]))]
            chosen += [
                (lead, color, mark is not Mark.PASSED or not place) for place, lead in enumerate(found)
            ]
        names = self._words.names(piece, step, [lead for lead, _, _ in chosen])
        behind = _behind(weave, picture, roles)
        return [
            Named(
                node=node,
                text=lined(self._words.behind(text, behind[node]) if node in behind else text),
                short=self._words.short(text),
                color=color,
                needed=needed,
            )
            for (node, color, needed), text in zip(chosen, names, strict=True)
        ]


def _behind(weave: PieceWeave, picture: Picture, roles: Roles) -> dict[int, int]:
    """By first ring of a strand whose rings hide one another: how many they are."""
    strands: dict[int, list[int]] = {}
    for node, lead in enumerate(weave.strand):
        if weave.kind[node] >= 0 and node in roles.marks:
            strands.setdefault(lead, []).append(node)
    found = {}
    for lead, nodes in strands.items():
        first, last = picture.loops[lead], picture.loops[nodes[-1]]
        apart = max(abs(a - b) for a, b in zip(first.reach, last.reach, strict=True))
        if len(nodes) > 1 and max(apart, dist(first.centre[:2], last.centre[:2])) < _HIDDEN * first.tube:
            found[lead] = len(nodes)
    return found
