"""Pouring of blocks into pages; in: measured blocks in reading order, out: pages as lists of items.

A `Flow` has a current page and a height on it. Headings are held back until what they head is known, so that
none is left alone at the foot of a page. What does not fit goes to the next page; only what is taller than a
whole page is broken, between its parts.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from compiler.booklet.page import Anchor, Block, Item
from compiler.booklet.style import Frame, Paper, frame
from compiler.booklet.tables import SetTable

ROWS_TOGETHER = 2
"""Rows of a table that stay with its head, and with one another at its end."""
WORTH_STARTING = 0.35
"""Share of a page that must be free for something taller than a page to begin on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A block in the flow."""

    block: Block
    gap: float = 0.0
    """Space above it in points; none at the top of a page."""
    keep: bool = False
    """Whether it stays with the part after it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A place that the contents list and the outline lead to."""

    anchor: str
    title: str
    level: int
    """0 for a section, 1 for what is in it."""
    page: int
    """Index of the page, from 0."""
    listed: bool
    """Whether the printed contents list has it, too; the outline has all."""


class Flow:
    """The pages in the making."""

    def __init__(self, paper: Paper) -> None:
        """With one empty page."""
        self.frame: Frame = frame(paper)
        self.pages: list[list[Item]] = [[]]
        self.entries: list[Entry] = []
        self._held: list[Part] = []
        self._pending: list[tuple[str, str, int, bool]] = []
        self.y = self.frame.y

    # ------------------------------------------------------------ where we are

    @property
    def at_top(self) -> bool:
        """Whether nothing stands on the page yet."""
        return not self.pages[-1]

    @property
    def room(self) -> float:
        """Height left on the page."""
        return self.frame.bottom - self.y

    @property
    def held(self) -> float:
        """Height of the headings that are held back, with what they need above them."""
        return self._first_gap(self._held) + sum(part.block.height for part in self._held)

    def page_break(self) -> None:
        """Go on at the top of a new page, unless this one is empty. What is held back comes along."""
        if not self.at_top:
            self.pages.append([])
            self.y = self.frame.y

    def join(self, others: "Flow") -> None:
        """Go on with the pages of another flow after this one, on pages of their own."""
        self.page_break()
        first = len(self.pages) - 1
        self.pages[first:] = others.pages
        self.entries += [replace(each, page=each.page + first) for each in others.entries]
        self.y = others.y

    def mark(self, anchor: str, title: str, level: int, *, listed: bool = True) -> None:
        """Make the place of the next block an entry of the outline."""
        self._pending.append((anchor, title, level, listed))

    # ------------------------------------------------------------ blocks

    def hold(self, part: Part) -> None:
        """A heading: it will stand above the next part, on the same page."""
        self._held.append(part)

    def put(self, part: Part) -> None:
        """A part, with what was held back for it, on this page or else on the next."""
        self.together([part])

    def together(self, parts: Sequence[Part]) -> None:
        """Parts that stay on one page if a page can hold them."""
        parts = [*self._held, *parts]
        self._held.clear()
        need = height(parts)
        if need > self.room - self._first_gap(parts) and need <= self.frame.height:
            self.page_break()
        if need <= self.room - self._first_gap(parts):
            for part in parts:
                self._place(part)
            return
        if self.room < WORTH_STARTING * self.frame.height:
            self.page_break()
        for kept in runs_kept(parts):
            if height(kept) > self.room - self._first_gap(kept):
                self.page_break()
            for part in kept:
                self._place(part)

    def table(self, table: SetTable, gap: float, note: Part | None = None) -> None:
        """A table, continued under the same head on as many pages as it needs; its note stays with its end."""
        first, count = 0, len(table.rows)
        after = 0.0 if note is None else note.gap + note.block.height
        while True:
            above = self._above(gap)
            last = table.fitting(first, self.room - above)
            whole = table.head.height + sum(row.height for row in table.rows[first:]) + after
            if last >= count and above + whole > self.room:
                last = max(first, count - ROWS_TOGETHER)
            if count - ROWS_TOGETHER < last < count:
                last = count - ROWS_TOGETHER
            if last - first < min(ROWS_TOGETHER, count - first) and not self.at_top:
                self.page_break()
                continue
            last = min(count, max(last, first + 1))
            part = Part(block=table.part(first, last), gap=gap, keep=last >= count and note is not None)
            self.together([part] if note is None or last < count else [part, note])
            first = last
            if first >= count:
                return
            self.page_break()

    def _above(self, gap: float) -> float:
        """Height of what is held back, with the gaps around it."""
        if not self._held:
            return self._gap(gap)
        return self._first_gap(self._held) + height(self._held) + gap

    def draw(self, block: Block, x: float, y: float) -> None:
        """A block at a place of the page, without moving on; anchors that wait are set there."""
        for anchor, title, level, listed in self._pending:
            self.pages[-1].append(Anchor(name=anchor, x=x, y=max(0.0, y - 8.0), title=title, level=level))
            page = len(self.pages) - 1
            self.entries.append(Entry(anchor=anchor, title=title, level=level, page=page, listed=listed))
        self._pending.clear()
        self.pages[-1].extend(block.at(x, y))

    def _place(self, part: Part) -> None:
        y = self.y + self._gap(part.gap)
        self.draw(part.block, self.frame.x, y)
        self.y = y + part.block.height

    def _gap(self, gap: float) -> float:
        return 0.0 if self.at_top else gap

    def _first_gap(self, parts: Sequence[Part]) -> float:
        return self._gap(parts[0].gap) if parts else 0.0


def height(parts: Sequence[Part]) -> float:
    """Height of parts one below the other, without the gap above the first."""
    return sum(part.block.height for part in parts) + sum(part.gap for part in parts[1:])


def runs_kept(parts: Sequence[Part]) -> list[list[Part]]:
    """The parts in runs between which a page may end."""
    runs: list[list[Part]] = []
    together = False
    for part in parts:
        if together:
            runs[-1].append(part)
        else:
            runs.append([part])
        together = part.keep
    return runs
