"""The booklet's words in English about the making, but for the sentences of steps: tools, print check, preparing,
parts of a step, captions, finishing.

In: numbers and names. Out: text, ready to print. What is told here of tools and of handling rings is common practice
in our own words.
"""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from decimal import Decimal

from compiler.booklet.figuretypes import Figure, Mark
from compiler.catalogue.nouns import article, capital, kind_noun
from compiler.messages import KindCount
from compiler.steps import Term
from notation.lengths import plain, rounded

# ---------------------------------------------------------------- headings

TOOLS = "Tools"
TRUE_SIZE = "True size"
BEFORE = "Before you start"
HOW_TO_OPEN = "How to open and close a ring"
HOW_TO_READ = "How to read the steps"
FIGURE_KEY = "In the figures:"
FINISHING = "Finishing"

# ---------------------------------------------------------------- tools

TOOL_LIST: tuple[tuple[str, str], ...] = (
    ("Two pairs of pliers", "with short flat jaws, smooth inside. Serrated or round jaws mark the rings."),
    ("Two small dishes", "to keep open and closed rings apart."),
    ("A soft mat", "in one colour, on which rings neither roll nor hide."),
    ("Good light", "from the side, and a magnifier where the rings are small."),
    ("Eye protection", "for cutting, opening and closing wire."),
)
"""A tool and what to look for. Common practice."""
THIN_TOOL = (
    "Pliers with slim jaws",
    "for the small rings: the jaws must hold a ring without hiding its ends.",
)
WIRE_TOOL = (
    "A piece of thin wire or a twist tie",
    "to hold work together where a step asks you to hold it.",
)
HELPER_TOOL = "to hold things in place; the steps say when it goes in and when it comes out."
SMALL_INNER_MM = Decimal("3.5")
"""Rings of this inner diameter or less want slim jaws. Common practice."""


# ---------------------------------------------------------------- true size

TRUE_SIZE_LEAD = "Lay a ring on its outline: it should cover it, and the hole should match."
TRUE_SIZE_PIECES = "The finished work"
TRUE_SIZE_PRINT = (
    "Print this page at 100 %, “actual size”, never “fit to page”. Then lay a ruler on the two bars. If one of "
    "them does not match, nothing on this page has its true size."
)
PRINT_CHECK = "Check the print"
PRINT_HEAD = "Print without scaling"
FIFTY_MM = "50 mm"
TWO_INCHES = "2 in"
TOO_LARGE = "Too large for the page, so not drawn:"


def ring_sizes(inner: str, wire: str, outer: str) -> tuple[str, ...]:
    """The sizes under a ring's outline, a line each."""
    return (f"⌀ {inner} inside", f"⌀ {outer} outside", f"wire {wire}")


def ring_alt(name: str, inner: str, wire: str) -> str:
    """What a reader who hears the page is told of an outline."""
    return f"Outline of {article(name)} in true size: inside diameter {inner}, wire {wire}, flat and from the edge."


MM_BAR_ALT = "A bar 50 millimetres long, with a mark at each millimetre."
INCH_BAR_ALT = "A bar 2 inches long, with a mark at each sixteenth of an inch."


# ---------------------------------------------------------------- before you start

OPEN_HEAD, CLOSE_HEAD = "Open", "Close"
BEFORE_LEAD = "Open or close every ring first, and keep the two apart."
HOW_TO_OPEN_TEXT: tuple[str, ...] = (
    "Hold the ring with both pliers, its cut on top between the jaws.",
    "To open it, turn one hand towards you and the other away, until the gap lets two wires pass. Never pull the "
    "ends apart sideways: the ring would not become round again.",
    "To close it, turn back a little past the middle and then to it, with a light push inwards. The ends must "
    "meet without a step and without a gap. You often feel or hear a click.",
)
"""Common practice."""
HOW_TO_READ_TEXT = (
    "The rings needed are listed beside each step. Below it stands what the work then has: count "
    "before you go on."
)
ONE_SIDE = "Put every open ring through from the same side: the side of the work that faces you."
"""Where no step says from which side."""


LAY_OUT_HEAD = "Lay out"
DO, WITH = "What to do", "With"

MARKS: dict[Mark, str] = {
    Mark.NEW: "the open ring of this step",
    Mark.CARRIED: "closed rings that come in",
    Mark.PASSED: "what the open ring goes through",
    Mark.PLACED: "in the work already",
    Mark.PATH: "two short lines: where the ring is open; arrow: the way that its end goes",
    Mark.TAG: "number on a ring: its number, where its name has no room",
    Mark.BEHIND: "×2: two rings, one straight behind the other",
    Mark.WHERE: "the piece, small; frame: the part that is drawn large",
}
_MORE_MARKS = {
    (Mark.NEW, Term.TWIN): "the open ring of this step, and its twin",
    (Mark.CARRIED, Term.FINDING): "closed rings and findings that come in",
}


def mark(looks: Mark, terms: Container[object]) -> str:
    """What a look of rings in the figures means in a booklet that uses these terms."""
    return next(
        (text for (of, term), text in _MORE_MARKS.items() if of is looks and term in terms), MARKS[looks]
    )


# ---------------------------------------------------------------- steps

NEEDS = "Take"
NEEDS_IN_ALL = "Take, for all of them"
SO_FAR = "In the work now:"
LAID_OUT = "Laid out, not joined yet:"
"""The same where no ring is joined to another yet."""
CHECK = "Check"
NOTE = "Note"
TIP = "Tip"
CAUTION = "Caution"
TICK = "Tick each step when it is done. Beside the boxes stands how many rings are then in the work."


def needs(entry: KindCount, *, opened: bool) -> str:
    """A line of a step's parts: `6 large rings, open`."""
    noun = kind_noun(entry.kind, entry.count)
    if entry.kind.finding:
        return f"{entry.count} {noun}"
    return f"{entry.count} {noun}, {'open' if opened else 'closed'}"


def in_work(entry: KindCount) -> str:
    """A line of the tally."""
    return f"{entry.count} {kind_noun(entry.kind, entry.count)}"


def tally(parts: str) -> str:
    """What is in the work."""
    return f"{parts}."


def rings(count: int) -> str:
    """A count beside boxes to tick."""
    return f"{count}\N{NO-BREAK SPACE}{'ring' if count == 1 else 'rings'}"


def shown(step: int) -> str:
    """Which step of a repeat its figure shows."""
    return f"Shown: step\N{NO-BREAK SPACE}{step}."


_NUMBERED_ROW = re.compile(r"(Row|Round) (\d+)(.*)")


def rows_title(titles: Sequence[str]) -> str:
    """`Rows 7 to 46 of the strap` for steps that make one row each, in order; empty for others."""
    found = [_NUMBERED_ROW.fullmatch(title) for title in titles]
    told = [each.groups() for each in found if each is not None]
    if not told or len(told) < len(titles) or len({(word, tail) for word, _, tail in told}) > 1:
        return ""
    first = int(told[0][1])
    if [int(row) for _, row, _ in told] != list(range(first, first + len(told))):
        return ""
    word, _, tail = told[0]
    return f"{word}s\N{NO-BREAK SPACE}{first}\N{NO-BREAK SPACE}to\N{NO-BREAK SPACE}{told[-1][1]}{tail}"


def again(first: int, last: int) -> str:
    """The title of steps that are like others before."""
    if first == last:
        return f"As step\N{NO-BREAK SPACE}{first}, again"
    return f"As steps\N{NO-BREAK SPACE}{first} to\N{NO-BREAK SPACE}{last}, again"


def continued(title: str) -> str:
    """The head of a step that goes on from the page before."""
    return f"{title} (continued)"


def step_name(number: int, title: str) -> str:
    """A step in the contents list and the outline."""
    return f"{number}. {title}"


def steps_name(first: int, last: int, title: str) -> str:
    """Folded steps in the contents list and the outline."""
    return f"{first}–{last}. {title}" if last > first else step_name(first, title)


def piece_lead(steps: int, rings: int, times: int) -> str:
    """What stands under the title of a piece."""
    stages = f"{steps} {'step' if steps == 1 else 'steps'}"
    text = f"{capital(stages)}, {rings} {'ring' if rings == 1 else 'rings'}"
    if times == 1:
        return f"{text}."
    again = "a second time" if times == 2 else f"until you have {times}"
    return f"{text} in each. Work all the steps once, then all of them again, {again}."


def figure_scale(figure: Figure) -> str:
    """What is said of a figure's scale."""
    if figure.schematic:
        return "Schematic, not to scale."
    if figure.scale is None:
        return ""
    factor = Decimal(repr(figure.scale))
    if rounded(factor, 2) == 1:
        return "Drawn in true size."
    if factor > 1:
        return f"Drawn {plain(factor, 2)} times as large as the work."
    return f"Drawn at {plain(factor * 100, 0)} % of true size."


TURNED = "Seen from behind."
TURN_OVER_ALT = "Turn the work over."


# ---------------------------------------------------------------- finishing

FINISHING_TEXT: tuple[str, ...] = (
    "Draw the piece through your fingers. Where something scratches or catches a thread, close that ring again.",
    "Hold it against the light: no ring may show a gap.",
    "Pull gently along the whole length. No ring may open or slip out.",
)
"""Common practice."""


def left_over(what: str, *, single: bool) -> str:
    """What remains of the kit; `single`: one ring or finding in all."""
    return f"Of the kit, {what} should be left over. Keep {'it' if single else 'them'} for repairs."


NOTHING_LEFT = "Nothing of the kit should be left over."


def final_count(what: str, *, pieces: int) -> str:
    """The whole count, over so many pieces as are made."""
    return f"The finished {'piece has' if pieces == 1 else 'pieces together have'} {what}."
